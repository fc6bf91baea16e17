"""What a bed is watered with: how long, in how many goes, on which day."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from kailyard.garden.entries.water_days import allowed
from kailyard.garden.model import Entry, Garden
from kailyard.handbook.types import Fact, Handbook

PONDS_MM = 6.0
"""So much water may stand in the hollows of level ground before it runs off."""
HAND_REST_MINUTES = 10.0
"""With a can or hose one is back at the same plant no sooner."""
MOST_GOES = 6
"""In more goes nobody waters: then slower is the answer."""
USUAL_L_MIN = 10.0
"""A hose that nobody has measured is taken to give so much."""
USUAL_OUTLET = "hose"


@dataclass(frozen=True, slots=True)
class Outlet:
    """An outlet as measured, or the usual hose."""

    what: str
    l_min: float | None
    mm_h: float | None
    """Caught in straight-sided tins."""
    can_l: float | None
    wets: float
    """Share of the ground wetted."""
    arrives: float
    """Share of its water that comes to the roots' ground."""
    wets_leaves: bool
    words: str
    entry: Entry | None
    """None: nobody has measured one, the usual hose stands in."""
    facts: tuple[Fact, ...]

    @property
    def by_hand(self) -> bool:
        """Led over the bed by somebody."""
        return self.what in ("hose", "can")

    def litres(self, mm: float, area_m2: float) -> float:
        """What must be given for `mm` over the ground. [L]"""
        return mm * area_m2 / self.arrives

    def minutes(self, litres: float, area_m2: float) -> float | None:
        """How long it runs; None for a can."""
        if self.l_min:
            return litres / self.l_min
        return None if not self.mm_h else 60 * litres * self.arrives / area_m2 / self.mm_h

    def given_mm(self, minutes: float | None, cans: float | None, area_m2: float) -> float | None:
        """What minutes or cans came to over the ground; None where the outlet is not measured for that. [mm]"""
        if cans is not None and self.can_l:
            return cans * self.can_l * self.arrives / area_m2
        if minutes is None:
            return None
        if self.mm_h:
            return minutes * self.mm_h / 60
        return minutes * self.l_min * self.arrives / area_m2 if self.l_min else None


@dataclass(frozen=True, slots=True)
class Goes:
    """How one watering is given."""

    litres: float
    minutes: float | None
    """All goes together; None for a can."""
    cans: int | None
    goes: int
    rest_minutes: float
    """Between two goes."""


def outlet_entries(garden: Garden) -> tuple[Entry, ...]:
    """Every outlet that was measured: to be found once for many questions."""
    return tuple(e for e in garden.entries if e.kind == "outlet")


def outlet_of(measured: tuple[Entry, ...], bed: str, handbook: Handbook, *, on: date, what: str = "") -> Outlet:
    """Of those `measured` the last for a bed, else for the garden; else a usual hose (or `what`, unmeasured)."""
    fitting = [
        e
        for e in measured
        if e.happened <= on and e.target in (bed, "") and (not what or e.payload.get("what") == what)
    ]
    entry = max(fitting, key=lambda e: (e.target == bed, e.happened, e.written), default=None)
    name = str(entry.payload["what"]) if entry else what or USUAL_OUTLET
    subject = f"outlet-{name}"
    amounts = {entry.unit: entry.quantity} if entry else {}
    quantities = ("wets_share", "arrives_share")
    wets, arrives = (handbook.number(subject, q, 1.0) or 1.0 for q in quantities)
    flow = amounts.get("L/min")
    return Outlet(
        what=name,
        l_min=USUAL_L_MIN if entry is None and not what else flow,
        mm_h=amounts.get("mm/h"),
        can_l=amounts.get("L"),
        wets=wets,
        arrives=arrives,
        wets_leaves=handbook.text(subject, "wets_leaves") == "yes",
        words=handbook.text(subject, "outlet_words"),
        entry=entry,
        facts=tuple(f for q in quantities if (f := handbook.get(subject, q)) is not None),
    )


def goes_of(outlet: Outlet, mm: float, area_m2: float, takes_mm_h: float) -> Goes:
    """How long, and in how many goes where the ground cannot take it at once."""
    litres = outlet.litres(mm, area_m2)
    minutes = None if outlet.can_l else outlet.minutes(litres, area_m2)
    cans = math.ceil(litres / outlet.can_l - 1e-9) if outlet.can_l else None
    on_spot = mm / outlet.wets
    if outlet.by_hand or not minutes:  # each spot is wetted for a moment only: all but nothing soaks in meanwhile
        over, least = on_spot, HAND_REST_MINUTES
        each = PONDS_MM + takes_mm_h * HAND_REST_MINUTES / 60
    else:
        over, least = max(on_spot - takes_mm_h * minutes / 60, 0.0), 0.0
        each = PONDS_MM
    goes = min(max(math.ceil(over / each - 1e-9), 1), MOST_GOES)
    rest = max(60 * over / goes / takes_mm_h, least) if goes > 1 else 0.0
    return Goes(litres, minutes, cans, goes, rest)


def water_days(garden: Garden, on: date) -> tuple[tuple[int, ...], Entry | None]:
    """Weekdays on which water may be given, and the entry that says so."""
    rules = [e for e in garden.entries if e.kind == "water-days" and e.happened <= on]
    return (allowed(str(rules[-1].payload["days"])), rules[-1]) if rules else (tuple(range(7)), None)


def day_to_water(opens: date, due: date | None, today: date, weekdays: tuple[int, ...]) -> date:
    """The first allowed day from `opens` on; the last one before it where the first comes after `due`."""
    start = max(opens, today)
    ahead = next(d for n in range(7) if (d := start + timedelta(days=n)).weekday() in weekdays)
    if due is None or ahead <= max(due, today):
        return ahead
    before = [d for n in range(1, 7) if (d := start - timedelta(days=n)).weekday() in weekdays and d >= today]
    return before[0] if before else ahead
