"""The one place that opens a garden and knows what day it is."""

from __future__ import annotations

import os
from collections.abc import Callable, Hashable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar
from uuid import uuid4
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from kailyard.errors import UsageError
from kailyard.garden.kinds import check_entry, check_target, kind, make_payload
from kailyard.garden.model import Entry, Garden
from kailyard.garden.project import project

if TYPE_CHECKING:
    from kailyard.store.base import Store

_Value = TypeVar("_Value")

FACTS_FILE = "facts.csv"
"""The gardener's own facts, in the garden's folder."""


def _clock() -> datetime:
    return datetime.now(UTC)


class Desk:
    """A garden's folder at hand. Nothing is opened before it is asked for."""

    def __init__(self, folder: Path, *, clock: Callable[[], datetime] | None = None, who: str | None = None) -> None:
        self.folder = folder
        self.clock = clock or _clock
        self.who = os.environ.get("KAILYARD_WHO", "") if who is None else who
        self._store: Store | None = None

    @property
    def store(self) -> Store:
        """The opened store; NotFound where the folder holds no garden."""
        if self._store is None:
            from kailyard.store.sqlite import open_store

            self._store = open_store(self.folder)
        return self._store

    def is_there(self) -> bool:
        """Whether the folder holds a garden."""
        from kailyard.store.files import DATABASE

        return (self.folder / DATABASE).is_file()

    def close(self) -> None:
        """Let go of the garden."""
        if self._store is not None:
            self._store.close()
            self._store = None

    def now(self) -> datetime:
        """This moment, UTC, to the second."""
        return self.clock().replace(microsecond=0)

    def really_now(self) -> datetime:
        """This moment, UTC, whatever clock the desk was given: for certificates, which browsers judge by theirs."""
        return _clock().replace(microsecond=0)

    def today(self, garden: Garden) -> date:
        """Today where the garden is."""
        return self.clock().astimezone(zone(garden.site.timezone)).date()

    def garden(self, *, as_known: date | None = None) -> Garden:
        """The garden, as its daybook had it at the end of the day `as_known`; None: all that is written."""
        return self.kept(("garden", as_known), lambda: self._garden(as_known))

    def kept(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """What `make` answers. A desk that stays open keeps it under `what` while the garden is unchanged."""
        return make()

    def entries(self) -> tuple[Entry, ...]:
        """Every entry, superseded ones too."""
        return self.store.entries()

    @contextmanager
    def settled(self, make: Callable[[], object], least: int | None = None) -> Iterator[Any]:
        """Nothing to share at a desk that keeps nothing. See `WarmDesk.settled`."""
        yield None

    def lasting(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """What `make` answers, which depends on `what` alone; a desk that stays open keeps it through changes."""
        return make()

    def _garden(self, as_known: date | None) -> Garden:
        entries = self.entries()
        garden = project(entries)
        if as_known is None:
            return garden
        return project(entries, as_known=end_of_day(as_known, garden.site.timezone))

    def entry(
        self,
        kind_name: str,
        *,
        happened: date,
        target: str = "",
        quantity: float | None = None,
        unit: str = "",
        text: str = "",
        supersedes: str = "",
        payload: dict[str, Any] | None = None,
        id_: str | None = None,
    ) -> Entry:
        """A checked entry, written now, not kept yet.

        Its identifier begins with the moment to the microsecond: of two written in one second the later sorts last.
        """
        made = Entry(
            id=id_ or f"{self.clock():%Y%m%d-%H%M%S-%f}{uuid4().hex[:16]}",
            kind=kind_name,
            version=kind(kind_name).version,
            happened=happened,
            written=self.now(),
            who=self.who,
            target=target,
            quantity=quantity,
            unit=unit,
            text=text,
            supersedes=supersedes,
            payload=make_payload(kind_name, **(payload or {})),
        )
        check_entry(made, where="" if id_ else f"{kind_name} on {happened.day} {happened:%B %Y}, not kept")
        return made

    def keep(self, entries: Sequence[Entry]) -> int:
        """Keep entries after checking that what they speak of is there; how many were new."""
        beds, plantings = set(self.store.beds()), set(self.store.plantings())
        for e in entries:
            if e.kind == "bed":
                beds.add(e.target)
            elif e.kind == "planting":
                plantings.add(e.target)
            check_target(e, beds=beds, plantings=plantings)
        return self.store.append(entries)

    def own_facts(self) -> Path | None:
        """The file of the gardener's own facts, where there is one."""
        path = self.folder / FACTS_FILE
        return path if path.is_file() else None


def zone(name: str) -> ZoneInfo:
    """A time zone by its name of the IANA database; UsageError where there is none."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError) as err:
        raise UsageError(f"There is no time zone '{name}'. Write it like Europe/Amsterdam or UTC.") from err


def end_of_day(day: date, timezone: str) -> datetime:
    """The last second of a day where the garden is, in UTC."""
    return datetime.combine(day + timedelta(days=1), time(), zone(timezone)).astimezone(UTC) - timedelta(seconds=1)
