"""What was made of a garden, kept for as long as nothing in it changes. Values in, values out; never stale."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from threading import Lock
from typing import Any, TypeVar

from kailyard.desk.desk import Desk
from kailyard.desk.serving import Served
from kailyard.errors import KailyardError
from kailyard.garden.model import Entry
from kailyard.store.watch import State, Watch

MOST = 96
"""So many values are kept; the one unused for longest goes first."""
MOST_LASTING = 2
"""So many values outlive a change of the garden: the weather of today's sheet, and of another day's."""
_Value = TypeVar("_Value")


class _Slot:
    """One value, made once however many ask for it at a time."""

    def __init__(self) -> None:
        self.lock = Lock()
        self.made = False
        self.value: Any = None

    def get(self, make: Callable[[], _Value]) -> _Value:
        """The value, made now where it is not yet."""
        with self.lock:
            if not self.made:
                self.value = make()
                self.made = True
            value: _Value = self.value
            return value


class _Ground:
    """The garden as it was at one time, and what was made of it."""

    def __init__(self, number: int, entries: tuple[Entry, ...], rest: Hashable) -> None:
        self.number = number
        """From 1 on, in the order in which changes were noticed."""
        self.entries = entries
        self.rest = rest
        self.slots: OrderedDict[Hashable, _Slot] = OrderedDict()


@dataclass(frozen=True, slots=True)
class Behind:
    """What is shown rests on the garden as it was a moment ago, while what came in since is being worked in."""

    entries: int
    """So many entries it rests on."""
    newer: int
    """So many came in since; 0 where the weather or own facts changed."""


class Keeper:
    """The values kept of one garden, shared by the desks of all threads.

    The state is read before the entries, so that what is kept under it may be newer than it, never older. A commit
    that left entries, weather and own facts as they were, such as keeping a sheet as issued, throws nothing away.
    """

    def __init__(self, folder: Path) -> None:
        self._watch = Watch(folder)
        self._lock = Lock()
        self._making = Lock()
        self._state: tuple[State, Hashable] | None = None
        self._present: _Ground | None = None
        self._done: _Ground | None = None
        self._lasting: OrderedDict[Hashable, _Slot] = OrderedDict()

    def lasting(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value that depends on `what` alone, made now where there is none."""
        with self._lock:
            slot = self._lasting.setdefault(what, _Slot())
            self._lasting.move_to_end(what)
            while len(self._lasting) > MOST_LASTING:
                self._lasting.popitem(last=False)
        return slot.get(make)

    def value(self, desk: Desk, what: Hashable, make: Callable[[], _Value], on: _Ground | None = None) -> _Value:
        """The value kept as `what`, made now where there is none. `on`: of the garden as it was then."""
        return self._slot(on or self.present(desk), what).get(make)

    def present(self, desk: Desk) -> _Ground:
        """The garden as it is."""
        with self._lock:
            state = (self._watch.state(), _facts_state(desk))
            present = self._present
            if present is None or state != self._state:
                entries = desk.store.entries()
                rest = (desk.store.weather_ids(), desk.store.weather_marks(), state[1])
                if present is None or entries != present.entries or rest != present.rest:
                    present = _Ground(present.number + 1 if present else 1, entries, rest)
                self._present, self._state = present, state
            return present

    def settled(self, desk: Desk, make: Callable[[_Ground], object], least: int) -> _Ground:
        """The latest ground that `make` is done with, numbered `least` or later.

        `make` runs once at a time. Who comes meanwhile gets the last one done where it is late enough, else waits, and
        the next one done then holds the changes of all who waited.
        """
        present, done = self.present(desk), self._done
        if done is present:
            return present
        enough = done if done is not None and done.number >= least else None
        if not self._making.acquire(blocking=enough is None):
            assert enough is not None
            return enough
        try:
            done = self._done
            if enough is None and done is not None and done.number >= least:
                return done
            present = self.present(desk)
            make(present)
            self._done = present
            return present
        finally:
            self._making.release()

    def behind(self, ground: _Ground) -> Behind | None:
        """How far `ground` lies behind the garden as it is known to be; None: not at all."""
        present = self._present
        if present is None or ground is present:
            return None
        return Behind(len(ground.entries), max(0, len(present.entries) - len(ground.entries)))

    def close(self) -> None:
        """Let go of the garden and of everything kept."""
        self._watch.close()
        with self._lock:
            self._state = self._present = self._done = None
            self._lasting.clear()

    def _slot(self, ground: _Ground, what: Hashable) -> _Slot:
        with self._lock:
            slot = ground.slots.setdefault(what, _Slot())
            ground.slots.move_to_end(what)
            while len(ground.slots) > MOST:
                ground.slots.popitem(last=False)
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
        self._ground: _Ground | None = None

    def kept(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value kept as `what`; made now where the garden has changed since, or none was kept."""
        return self._keeper.value(self, what, make, self._ground)

    def lasting(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """The value that depends on `what` alone; kept whatever becomes of the garden."""
        return self._keeper.lasting(what, make)

    def entries(self) -> tuple[Entry, ...]:
        """Every entry, superseded ones too."""
        return (self._ground or self._keeper.present(self)).entries

    def now_known(self) -> int:
        """A number that grows with every change of the garden."""
        return self._keeper.present(self).number

    @contextmanager
    def settled(self, make: Callable[[], object], least: int | None = None) -> Iterator[Behind | None]:
        """Within this the garden stands as it was when `make` was last done: for all who ask at a time, done once.

        `least`: what must be known, by `now_known`; None: all that is written now.
        """

        def made(ground: _Ground) -> None:
            self._ground = ground
            # Where nothing can be foreseen the page says why.
            with suppress(KailyardError):
                make()

        try:
            self._ground = self._keeper.settled(self, made, self.now_known() if least is None else least)
            yield self._keeper.behind(self._ground)
        finally:
            self._ground = None


def _facts_state(desk: Desk) -> Hashable:
    path = desk.own_facts()
    if path is None:
        return None
    found = path.stat()
    return (found.st_ino, found.st_mtime_ns, found.st_size)
