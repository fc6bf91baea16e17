"""What was made of a garden, kept for as long as nothing in it changes. Values in, values out; never stale."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import Any, TypeVar

from kailyard.desk.desk import Desk
from kailyard.desk.serving import Served
from kailyard.store.watch import State, Watch

MOST = 96
"""So many values are kept; the one unused for longest goes first."""
_Value = TypeVar("_Value")


class _Slot:
    """One value, made once however many ask for it at a time."""

    def __init__(self) -> None:
        self.lock = Lock()
        self.made = False
        self.value: Any = None


class Keeper:
    """The values kept of one garden, shared by the desks of all threads.

    The state is read before the entries, so that what is kept under it may be newer than it, never older. A commit
    that left entries, weather and own facts as they were, such as keeping a sheet as issued, throws nothing away.
    """

    def __init__(self, folder: Path) -> None:
        self._watch = Watch(folder)
        self._lock = Lock()
        self._state: tuple[State, Hashable] | None = None
        self._ground: Any = None
        self._slots: OrderedDict[Hashable, _Slot] = OrderedDict()

    def value(self, desk: Desk, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value kept as `what`, made now where there is none."""
        slot = self._slot(desk, what)
        with slot.lock:
            if not slot.made:
                slot.value = make()
                slot.made = True
            value: _Value = slot.value
            return value

    def close(self) -> None:
        """Let go of the garden and of everything kept."""
        self._watch.close()
        with self._lock:
            self._state = self._ground = None
            self._slots.clear()

    def _slot(self, desk: Desk, what: Hashable) -> _Slot:
        with self._lock:
            state = (self._watch.state(), _facts_state(desk))
            if state != self._state:
                ground = (desk.store.entries(), tuple(kept.id for kept in desk.store.kept_weather()), state[1])
                if ground != self._ground:
                    self._ground = ground
                    self._slots.clear()
                self._state = state
            slot = self._slots.setdefault(what, _Slot())
            self._slots.move_to_end(what)
            while len(self._slots) > MOST:
                self._slots.popitem(last=False)
            return slot


class WarmDesk(Desk):
    """A desk in a program that stays open: what it makes of the garden is kept in `keeper`."""

    def __init__(
        self,
        folder: Path,
        *,
        keeper: Keeper,
        clock: Callable[[], datetime] | None = None,
        who: str | None = None,
        served: Served | None = None,
    ) -> None:
        super().__init__(folder, clock=clock, who=who)
        self.served = served
        """How other machines reach the garden; None: they do not."""
        self._keeper = keeper

    def kept(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value kept as `what`; made now where the garden has changed since, or none was kept."""
        return self._keeper.value(self, what, make)


def _facts_state(desk: Desk) -> Hashable:
    path = desk.own_facts()
    if path is None:
        return None
    found = path.stat()
    return (found.st_ino, found.st_mtime_ns, found.st_size)
