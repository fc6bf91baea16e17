"""What a check is asked about: label, planting, day and hour, the weather as it is known, what was done before."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from types import MappingProxyType

from kailyard.documents._parts import RestsOn, Status
from kailyard.garden.entries.rules import Rules
from kailyard.handbook.remedies import Remedy, Said, spray_rules
from kailyard.troubles.label import Label, Record, Treatment
from kailyard.troubles.verdict import Answer, Finding

QUESTIONS: Mapping[str, str] = MappingProxyType(
    {
        "wind-away": "Does a light steady wind blow away from plants easily hurt, from water, people and hives?",
        "no-inversion": "Is there no sign of still, layered air: no hanging smoke or dust, no dew, no clear calm sky?",
        "leaf-dry": "Are the leaves dry?",
        "well-watered": "Are the plants well watered, none of them wilted?",
        "no-open-flowers": "Is no flower open within reach of the spray, of the crop or of weeds?",
        "nobody-near": "Is nobody in or beside the bed, no child and no pet?",
        "gear": "Is all that the label asks to be worn put on, and clean water at hand?",
        "water-away": "Are ponds, ditches, drains and wells farther off than the label asks?",
    }
)
"""What only somebody on the spot can tell. 'Yes' is what is wanted; no answer is unknown."""
SEEN: Mapping[str, str] = MappingProxyType(
    {
        "wind-away": "A light steady wind blows away from what is easily hurt.",
        "no-inversion": "There is no sign of still, layered air.",
        "leaf-dry": "The leaves are dry.",
        "well-watered": "The plants are well watered, none of them wilted.",
        "no-open-flowers": "No flower is open within reach, of the crop or of weeds.",
        "nobody-near": "Nobody is in or beside the bed, no child and no pet.",
        "gear": "What the label asks to be worn is put on, and clean water is at hand.",
        "water-away": "Ponds, ditches, drains and wells are farther off than the label asks.",
    }
)
"""What a 'yes' says."""
SEEN_H = 2
"""What is seen on the spot tells of hours that begin so soon, and of none later: wind and flowers change. (ours)"""


@dataclass(frozen=True, slots=True)
class Hour:
    """One hour of weather. None where nobody observed or forecast it."""

    begins: datetime
    temp_c: float | None
    humidity_pct: float | None
    wind_m_s: float | None
    """As measured, at `Weather.wind_height_m`."""
    rain_mm: float | None
    """Over the hour."""
    state: str = "forecast"


@dataclass(frozen=True, slots=True)
class Sun:
    """Rising and setting."""

    rises: datetime
    sets: datetime


@dataclass(frozen=True, slots=True)
class Weather:
    """As well as it is known. A day or hour that is not there is unknown."""

    tmax_c: Mapping[date, float]
    tmin_c: Mapping[date, float]
    hours: Mapping[datetime, Hour]
    """By beginning."""
    sun: Mapping[date, Sun]
    wind_height_m: float = 10.0
    source: str = "weather record and forecast"

    def after(self, hour: datetime, hours: int) -> tuple[Hour | None, ...]:
        """The hour itself and those behind it."""
        return tuple(self.hours.get(_later(hour, n)) for n in range(hours))

    def before(self, hour: datetime, hours: int) -> tuple[tuple[datetime, Hour | None], ...]:
        """Those that went before it, the latest first."""
        those = (_later(hour, -n) for n in range(1, hours + 1))
        return tuple((h, self.hours.get(h)) for h in those)


def _later(hour: datetime, hours: int) -> datetime:
    """So many true hours on: a clock that is changed in the night makes none more and none less."""
    return (hour.astimezone(UTC) + timedelta(hours=hours)).astimezone(hour.tzinfo)


@dataclass(frozen=True, slots=True)
class Coming:
    """Somebody will be in the garden."""

    day: date
    what: str
    """'a class'; '' where it is nothing particular."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What is lost if nothing is picked in some days. `words` '' where it cannot be told."""

    words: str
    known: bool


def _no_cost(first: date, last: date) -> Cost:
    return Cost("", False)


@dataclass(frozen=True, slots=True)
class Case:
    """Everything that the checks may look at."""

    record: Record
    planting: str
    crop: str
    plants: str
    """As the sheet names them: 'zucchini'."""
    bed: str
    """As it is called."""
    day: date
    now: datetime
    """By the garden's clock, with its zone."""
    hour: datetime | None = None
    bed_id: str = ""
    crop_names: tuple[str, ...] = ()
    trouble: str = ""
    weather: Weather = field(default_factory=lambda: Weather({}, {}, {}, {}))
    treatments: tuple[Treatment, ...] = ()
    """Put on this planting, or on its bed."""
    beside: tuple[Treatment, ...] = ()
    """Put on other plantings of the same crop in the same bed, standing or gone."""
    elsewhere: tuple[Treatment, ...] = ()
    """Put on other plantings of the same crop in other beds: the same troubles grow used to it there."""
    in_bloom: bool | None = None
    """Whether the planting flowers about that day; None: it cannot be told."""
    flowers_in_bed: tuple[str, ...] = ()
    """What else may flower in the same bed about that day."""
    flowers_all_day: bool = False
    """Among those are some whose flowers are open at any hour."""
    flowers_near: tuple[str, ...] = ()
    """What may flower in other beds."""
    hosts_in_bed: tuple[str, ...] = ()
    """What else in the bed is grown for caterpillars to eat."""
    hosts_near: tuple[str, ...] = ()
    host_of_butterflies: bool = False
    """Milkweed or another plant that is grown for caterpillars to eat."""
    edible: bool | None = None
    """Whether anything of it is eaten; None: it cannot be told."""
    begun: bool = False
    """Somebody has entered that it was sown, planted or set out."""
    cleared: date | None = None
    settled: date | None = None
    """From when its plants have got over sprouting, or being set out; None: it cannot be told."""
    thirsty: bool | None = None
    """Whether the bed is short of water by the reckoning; None: it cannot be told."""
    wilted: date | None = None
    """The last day on which somebody wrote that it wilts, where nobody has watered since."""
    next_picking: date | None = None
    cost: Callable[[date, date], Cost] = _no_cost
    coming: tuple[Coming, ...] = ()
    rules: Rules = field(default_factory=Rules)
    spot: Mapping[str, bool] = field(default_factory=dict)
    """Answers to `QUESTIONS`, as seen about `now`."""
    planned: bool = False
    """The answers are those that a plan takes for granted, not what somebody has seen."""

    @property
    def label(self) -> Label:
        """The label asked about."""
        return self.record.label

    @property
    def remedy(self) -> Remedy | None:
        """What the handbook knows of its active ingredient."""
        return self.record.remedy

    @property
    def at(self) -> Hour | None:
        """The weather of the hour asked about."""
        return None if self.hour is None else self.weather.hours.get(self.hour)

    def all_uses(self) -> tuple[Treatment, ...]:
        """What was put on this planting and on its like in the same bed, each label once a day, in order of day."""
        return _once_a_day((*self.treatments, *(t for t in self.beside if t.day < self.day)))

    def all_of_the_crop(self) -> tuple[Treatment, ...]:
        """The same, of the whole garden."""
        other = (t for t in (*self.beside, *self.elsewhere) if t.day < self.day)
        return _once_a_day((*self.treatments, *other))

    def morning(self, day: date) -> datetime:
        """The beginning of a day by the garden's clock."""
        return datetime(day.year, day.month, day.day, tzinfo=self.now.tzinfo)

    def seen(self, key: str) -> bool | None:
        """What was seen on the spot, where it tells of the hour asked about; None: nobody has looked for that hour."""
        return self.spot.get(key) if self.planned or self.tells_of(self.begins()) else None

    def tells_of(self, hour: datetime) -> bool:
        """Whether what is seen now tells of that hour."""
        return hour < self.now + timedelta(hours=SEEN_H)

    def begins(self) -> datetime:
        """The hour asked about, or the day's beginning."""
        return self.hour if self.hour is not None else self.morning(self.day)


def _once_a_day(those: Iterable[Treatment]) -> tuple[Treatment, ...]:
    """Two plantings sprayed in one round are one use; what nobody named counts each time."""
    found: dict[tuple[date, str], Treatment] = {}
    for t in sorted(those, key=lambda t: t.day):
        found.setdefault((t.day, t.record.entry if t.record else t.entry), t)
    return tuple(found.values())


def typed(case: Case) -> RestsOn:
    """The label record as ground."""
    return RestsOn("yours", f"label record ‘{case.label.name}’", case.record.entry)


def by_label(record: Record) -> RestsOn:
    """Another label record as ground."""
    return RestsOn("yours", f"label record ‘{record.label.name}’", record.entry)


def by_rule(id_: str) -> RestsOn:
    """A rule of the handbook as ground."""
    rule = spray_rules()[id_]
    return RestsOn(_status(rule.status), rule.source, f"rules for spraying, {id_}")


def by_fact(said: Said | None, remedy: Remedy | None) -> RestsOn:
    """A value of the handbook as ground."""
    if said is None or remedy is None:
        return RestsOn("memory", "handbook", "")
    return RestsOn(_status(said.status), said.source, f"{remedy.id}, {said.field}".replace("_", " "))


def by_weather(case: Case) -> RestsOn:
    """The weather as ground."""
    return RestsOn("computed", case.weather.source, str(case.day))


def by_daybook(entry: str) -> RestsOn:
    """An entry as ground."""
    return RestsOn("observed", "daybook", entry)


ON_THE_SPOT = RestsOn("observed", "seen on the spot", "")
GARDEN_RULES = RestsOn("yours", "what this garden holds itself to", "`kailyard enter rules`")


def asked(case: Case, check: str, key: str, says: str) -> Finding:
    """What somebody on the spot has answered; without an answer it is unknown, and 'no' is not now."""
    seen = case.seen(key)
    answer: Answer = "may" if seen else "unknown" if seen is None else "not now"
    words = QUESTIONS[key] if seen is None else says if not seen else SEEN[key]
    return Finding(check, answer, words, ON_THE_SPOT, ask=key if seen is None else "")


def read_it(case: Case, check: str, what: str) -> Finding:
    """Nobody has typed it off the label."""
    return Finding(check, "unknown", f"Read the label for {what}; it is not typed yet.", typed(case))


def _status(text: str) -> Status:
    return "published" if text == "published" else "common practice" if text == "common practice" else "memory"
