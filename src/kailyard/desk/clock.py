"""Another day than today, for trying a garden out: it begins on a day, runs on by itself, and can be moved on."""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from threading import Lock

from kailyard.desk.desk import Desk, zone
from kailyard.errors import UsageError

MOST_DAYS = 31


class PretendedClock:
    """A clock that was set. May be read from any thread."""

    def __init__(self, start: datetime, *, running: Callable[[], float] = time.monotonic) -> None:
        self._lock = Lock()
        self._running = running
        self._start = start
        self._since = running()

    def __call__(self) -> datetime:
        """This moment as pretended, UTC."""
        with self._lock:
            return self._start + timedelta(seconds=self._running() - self._since)

    def move_on(self, days: int) -> None:
        """Let days pass."""
        with self._lock:
            self._start += timedelta(days=days)


def pretend(desk: Desk, day: date) -> PretendedClock:
    """A clock set to the morning of `day` where the garden is, or of the daybook's last day if that is later.

    Where there is no garden yet: to the morning of `day` in UTC.
    """
    if not desk.is_there():
        return PretendedClock(datetime(day.year, day.month, day.day, 8, tzinfo=UTC))
    garden = desk.garden()
    day = max([day, *(e.happened for e in garden.entries)])
    return PretendedClock(datetime(day.year, day.month, day.day, 8, tzinfo=zone(garden.site.timezone)).astimezone(UTC))


def move_on(desk: Desk, days: int) -> date:
    """Let days pass on a pretended clock; the day it is then. UsageError where the clock is the real one."""
    clock = desk.clock
    if not isinstance(clock, PretendedClock):
        raise UsageError("The day is today's; only a pretended one can be moved on.")
    if not 1 <= days <= MOST_DAYS:
        raise UsageError(f"days {days}: 1 to {MOST_DAYS} at a time.")
    clock.move_on(days)
    return desk.today(desk.garden())


def pretended_day(desk: Desk) -> date | None:
    """The pretended day; None where the clock is the real one."""
    return desk.today(desk.garden()) if isinstance(desk.clock, PretendedClock) else None


def ahead_s(desk: Desk) -> int:
    """How far the desk's clock is ahead of the real one; 0 where it is that. [s]"""
    if not isinstance(desk.clock, PretendedClock):
        return 0
    return round((desk.now() - desk.really_now()).total_seconds())
