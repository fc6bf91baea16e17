"""Small invented gardens with made-up weather, and ways to put entries into them. Seeded: the same every time."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import cache
from typing import Any

import numpy as np

from kailyard.garden.model import Bed, Cultivar, Entry, Garden, Planting, Site
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Handbook
from kailyard.season.view import SeasonView, foresee
from kailyard.weather.ensemble import Ensemble, build_ensemble
from kailyard.weather.record import DailyRecord, read_only


@dataclass(frozen=True)
class Climate:
    """A place's weather as a sine through the year with lasting warm and cold spells on it."""

    mean_c: float = 9.0
    swing_c: float = 13.0
    """Warmest month's mean less the year's mean; negative south of the equator."""
    spells_c: float = 3.0
    """Standard deviation of a day about its usual mean."""
    seed: int = 5


MIDLAND = Climate()
"""Frost from October to May, July 22 °C."""
MILD = Climate(mean_c=12.0, swing_c=7.0)
"""Little frost, cool summers."""
BLEAK = Climate(mean_c=3.0, swing_c=8.0)
"""So cold that the soil hardly warms."""
HOT = Climate(mean_c=24.0, swing_c=6.0)
"""No frost at all."""
SOUTHERN = Climate(swing_c=-13.0)
"""As MIDLAND, half a year off."""

FIRST = date(1996, 1, 1)
YEARS = 31


@cache
def record(climate: Climate = MIDLAND) -> DailyRecord:
    """Daily weather from 1996 to 2026, made up."""
    rng = np.random.default_rng(climate.seed)
    n = YEARS * 366
    yearday = np.array([(FIRST + timedelta(days=i)).timetuple().tm_yday for i in range(n)])
    usual = climate.mean_c - climate.swing_c * np.cos(2 * np.pi * (yearday - 20) / 365.25)
    spell = np.zeros(n)
    steps = rng.normal(0.0, climate.spells_c * np.sqrt(1 - 0.7**2), n)
    for i in range(1, n):
        spell[i] = 0.7 * spell[i - 1] + steps[i]
    half = rng.uniform(3.0, 7.0, n)
    rain = np.where(rng.random(n) < 0.3, rng.gamma(0.8, 6.0, n), 0.0)
    return DailyRecord(
        FIRST, read_only(usual + spell - half), read_only(usual + spell + half), read_only(rain), "made up"
    )


@cache
def seasons(today: date, climate: Climate = MIDLAND, traces: int = 20) -> Ensemble:
    """The possible seasons of a made-up place."""
    return build_ensemble(
        record(climate), today=today, start=today - timedelta(days=420), most_traces=traces, use_trend=False
    )


@cache
def handbook() -> Handbook:
    """The handbook as it ships."""
    return load_handbook()


def steady(tmin_c: float, tmax_c: float, *, today: date, days: int = 300, traces: int = 3) -> Ensemble:
    """Possible seasons that are all the same steady weather, thirty days of it observed."""
    base = seasons(date(2026, 5, 1))
    n = days + 30

    def rows(value: float) -> Any:
        return read_only(np.full((traces, n), value))

    return replace(
        base,
        first=today - timedelta(days=30),
        today_index=30,
        tmin_c=rows(tmin_c),
        tmax_c=rows(tmax_c),
        rain_mm=rows(0.0),
        years=tuple(range(2000, 2000 + traces)),
        filled=np.zeros(n, dtype=np.bool_),
        usual_tmin_c=read_only(np.full(n, tmin_c)),
        usual_tmax_c=read_only(np.full(n, tmax_c)),
    )


def entry(kind: str, target: str, day: date, *, hour: int = 18, **payload: Any) -> Entry:
    """An entry of the daybook, named for what it says, so that the same one has the same name."""
    more = {k: payload.pop(k) for k in ("quantity", "unit", "text", "supersedes") if k in payload}
    tail = "-".join(str(v) for v in payload.values())
    name = "".join(c if c.isalnum() or c in ".-" else "_" for c in f"{kind}-{target}-{day}-{tail}")
    return Entry(
        id=name[:64],
        kind=kind,
        version=1,
        happened=day,
        written=datetime(day.year, day.month, day.day, hour, tzinfo=UTC),
        target=target,
        payload=payload,
        **more,
    )


def plot(
    *plantings: Planting,
    entries: tuple[Entry, ...] = (),
    cultivars: tuple[Cultivar, ...] = (),
    latitude: float = 45.0,
    cover: str = "none",
    name: str = "Nether Wold",
) -> Garden:
    """A garden of a bed for every planting's."""
    beds = sorted({p.bed for p in plantings})
    return Garden(
        name=name,
        site=Site(latitude, 9.0),
        units="metric",
        beds={b: Bed(b, b.replace("-", " "), 6.0, 1.2, cover=cover) for b in beds},  # type: ignore[arg-type]
        cultivars={(c.crop, c.name): c for c in cultivars},
        plantings={p.id: p for p in plantings},
        entries=tuple(sorted(entries, key=lambda e: (e.happened, e.written, e.id))),
    )


def look_ahead(
    garden: Garden, today: date, *, climate: Climate = MIDLAND, draws: int = 30, ensemble: Ensemble | None = None
) -> SeasonView:
    """The season of a garden as foreseen on a day."""
    return foresee(garden, ensemble or seasons(today, climate), handbook(), draws=draws)


def beans(id_: str = "bean-1", **changes: Any) -> Planting:
    """Snap beans sown where they stay."""
    return replace(Planting(id=id_, crop="bean-bush", bed="bed-1", start="sown", count=60, spacing_cm=8), **changes)


def tomatoes(id_: str = "tomato-1", **changes: Any) -> Planting:
    """Tomatoes raised under cover."""
    return replace(Planting(id=id_, crop="tomato-indeterminate", bed="bed-2", start="raised", count=12), **changes)


def peas(id_: str = "pea-1", **changes: Any) -> Planting:
    """Peas sown where they stay."""
    return replace(Planting(id=id_, crop="pea", bed="bed-3", start="sown", count=100), **changes)


def asparagus(id_: str = "asparagus-1", since: date = date(2024, 4, 20), **changes: Any) -> Planting:
    """A bed of asparagus crowns."""
    return replace(Planting(id=id_, crop="asparagus", bed="bed-9", start="planted", since=since, count=20), **changes)
