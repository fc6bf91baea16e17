"""On which days of the week water may be given: a rule of the place, or of the household."""

from __future__ import annotations

from dataclasses import dataclass

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


@dataclass(frozen=True, slots=True)
class WaterDays:
    """`days`: 'Monday, Thursday', 'any'. A later entry takes its place."""

    days: str

    def __post_init__(self) -> None:
        allowed(self.days)


def allowed(days: str) -> tuple[int, ...]:
    """Weekdays, Monday is 0; ValueError naming a word that is none."""
    said = [word for word in days.lower().replace(",", " ").replace(" and ", " ").split() if word]
    if said in (["any"], ["all"]):
        return tuple(range(7))
    found = set()
    for word in said:
        match = [n for n, name in enumerate(WEEKDAYS) if len(word) >= 2 and name.startswith(word)]
        if len(match) != 1:
            raise ValueError(f"days: {word[:20]!a} is no day of the week. Write them like 'Monday, Thursday', or 'any'")
        found.add(match[0])
    if not found:
        raise ValueError("days: name at least one day of the week, or 'any'")
    return tuple(sorted(found))


NAME = "water-days"
VERSION = 1
HELP = "Days of the week on which water may be given ('Monday, Thursday'; 'any' lifts the rule)"
TARGET = ("garden",)
PAYLOAD = WaterDays
QUANTITY = None
