"""The days a drawing spans, in ink or in characters: one axis, so that every drawing on a page can be read across."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from kailyard.documents._parts import DayOdds
from kailyard.publish.words import MONTHS, short_day

LONGEST_DAYS = 550
"""No drawing spans more: the possible seasons reach no further."""


@dataclass(frozen=True, slots=True)
class Axis:
    """`days` days from the ordinal `start` on; `anchor` is the day that weekly ticks count from."""

    start: int
    days: int
    anchor: int

    @property
    def first(self) -> date:
        """First day."""
        return date.fromordinal(self.start)

    @property
    def last(self) -> date:
        """Last day."""
        return date.fromordinal(self.start + self.days - 1)

    def at(self, day: date) -> int | None:
        """Days from the start, or None where `day` lies outside."""
        place = day.toordinal() - self.start
        return place if 0 <= place < self.days else None

    def chances(self, odds: DayOdds) -> tuple[float, ...]:
        """Chance of every day of the axis; 0 where the odds say nothing."""
        shift = self.start - odds.first.toordinal()
        n = len(odds.chances)
        return tuple(odds.chances[i + shift] if 0 <= i + shift < n else 0.0 for i in range(self.days))

    def ticks(self) -> tuple[tuple[int, str], ...]:
        """(day of the axis, label): weeks on short axes, months on long ones. A month is named where it changes."""
        if self.days <= 50:
            places = range((self.anchor - self.start) % 7, self.days, 7)
            month, ticks = 0, []
            for place in places:
                day = date.fromordinal(self.start + place)
                ticks.append((place, str(day.day) if day.month == month else short_day(day)))
                month = day.month
            return tuple(ticks)
        firsts = [i for i in range(self.days) if date.fromordinal(self.start + i).day == 1]
        step = 1 + len(firsts) // 13
        return tuple((i, _month(date.fromordinal(self.start + i))) for i in firsts[::step])


def _month(day: date) -> str:
    name = MONTHS[day.month - 1][:3]
    return f"{name} {day.year}" if day.month == 1 else name


def axis_from(first: date, *, days: int, today: date | None = None) -> Axis:
    """An axis of `days` days from `first` on."""
    start = first.toordinal()
    room = date.max.toordinal() - start + 1
    return Axis(start, max(1, min(days, room)), (today or first).toordinal())


def axis_over(today: date, odds: Iterable[DayOdds], seen: Iterable[date] = (), *, at_least: int = 28) -> Axis:
    """An axis that holds today, every day seen and every stage's likely span, in whole weeks."""
    days = [today.toordinal(), *(day.toordinal() for day in seen)]
    for one in odds:
        days += [day.toordinal() for day in (one.low, one.middle, one.high) if day]
        if one.chances and not (one.low and one.high):
            days += [one.first.toordinal(), one.first.toordinal() + len(one.chances) - 1]
    now = today.toordinal()
    near = [day for day in days if abs(day - now) < LONGEST_DAYS]
    start = max(date.min.toordinal(), min(near) - 3)
    wanted = max(at_least, max(near) + 6 - start)
    return axis_from(date.fromordinal(start), days=min(LONGEST_DAYS, -(-wanted // 7) * 7), today=today)
