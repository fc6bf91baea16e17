"""First flowers of woody plants, and of one sown annual, foreseen each year from earlier years alone."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np

from kailyard.garden.model import Entry, Planting
from kailyard.season.clock import Clocks, ResponseKey
from kailyard.season.ladder import OWN_SPREAD, Requirement, Timeline
from kailyard.season.learning import Unknown, learn
from kailyard.season.life import likelihood, main_stages
from kailyard.season.odds import DayArray
from kailyard.season.sightings import Sightings, sight
from kailyard.weather.ensemble import Ensemble, build_ensemble
from kailyard.weather.record import DailyRecord
from kailyard.weather.runs import MOST_MISSING
from tools.validation._data import JMA, KMA, aligned, blueberry, records, stage_dates
from tools.validation._scores import Judged, Summed, judged, summed

TITLE = """\
Observed dates, rolling origin (Japan Meteorological Agency, Korea Meteorological Administration, Harvard Forest).
Woody plants prove the machinery (clocks, learning, possible seasons), not the vegetables of the handbook. Each year is
foreseen 30 days before the mean date of the earlier years, from earlier years' dates and weather and this year's
weather to the day before. A warmth sum above one of 0, 3, 5, 7, 10 °C from 1 February (blueberry: 1 January; cosmos:
from coming up, where that was seen) is learnt from the earlier years; the base is the one that would have missed them
least. Calendar: the last 30 earlier dates as they are. Both know that it has not happened yet; years in which it had
are left out. Errors in days: middle of the odds less the date seen. Gain: share of the calendar's CRPS taken away."""

BASES_C = (0.0, 3.0, 5.0, 7.0, 10.0)
STAGE = "first-flower"
PLANTING = Planting("it", "plant", "bed", "planted")
WRITTEN = datetime(1900, 1, 1, tzinfo=UTC)
LEAD_DAYS = 30
FEWEST_EARLIER = 10
FEWEST_BLUEBERRY = 5
FEWEST_SHOWN = 5
"""Years that can be foreseen; with fewer a plant and place is left out."""
HORIZON_DAYS = 200
DRAWS = 50
PRIOR_SPREAD = 0.30
"""What is thought of the sum before any year is seen: hardly anything."""
SHARED_SPREAD = 0.02
LEAST_YEARLY_SPREAD = 0.02

SPRING = (
    "cherry",
    "plum",
    "dandelion",
    "wisteria",
    "plum_mume",
    "forsythia",
    "azalea",
    "peach",
    "pear",
    "black_locust",
)


@dataclass(frozen=True, slots=True)
class Series:
    """One plant at one place: the day each year's count begins, and the date it led to."""

    place: str
    plant: str
    record: DailyRecord
    begun: Mapping[int, date]
    seen: Mapping[int, date]
    fewest: int = FEWEST_EARLIER

    @property
    def years(self) -> list[int]:
        """Years with a beginning, a date after it and weather from the one to the other."""
        return [y for y in sorted(self.seen) if y in self.begun and self._weather_known(self.begun[y], self.seen[y])]

    def _weather_known(self, begun: date, seen: date) -> bool:
        a, b = (begun - self.record.first).days, (seen - self.record.first).days
        if a < 0 or b <= a or b >= len(self.record):
            return False
        missing = np.isnan(self.record.tmin_c[a:b]) | np.isnan(self.record.tmax_c[a:b])
        return bool(missing.mean() <= MOST_MISSING)


def _observed(record: DailyRecord) -> Clocks:
    """Clocks over the whole record as observed, one trace. Only readings up to past days are asked of it."""
    ensemble = build_ensemble(
        record,
        today=record.last + timedelta(days=1),
        start=record.first,
        use_trend=False,
        most_traces=5,
        horizon_days=1,
    )
    return Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)


def _key(base_c: float) -> ResponseKey:
    return ResponseKey("linear", base_c, None, None, None, soil=False)


def _ordinals(days: list[date]) -> DayArray:
    return np.array([[d.toordinal() for d in days]], dtype=np.int32)


def learnt_from(past: Clocks, begun: list[date], seen: list[date]) -> tuple[float, float, float]:
    """Base, middle and yearly log-spread of the sum, from earlier years: the base that would have missed them least."""
    start, came = _ordinals(begun), _ordinals(seen)
    best = (math.inf, 0.0, 0.0, 0.0)
    for base_c in BASES_C:
        clock = past.clock(_key(base_c))
        sums = np.maximum(clock.reading(came) - clock.reading(start - 1), 0.5)
        middle = float(np.median(sums))
        missed = clock.reach(clock.reading(start - 1) + middle).astype(np.int64) - came
        rmse = float(np.sqrt((missed**2).mean()))
        if rmse < best[0]:
            best = (rmse, base_c, middle, float(np.log(sums).std(ddof=1)))
    return best[1:]


def _entries(begun: date, not_yet: date, seen: date | None) -> Iterator[Entry]:
    """A daybook of one season: begun, looked for in vain, seen."""
    yield Entry("a", "plant", 1, begun, WRITTEN, target="it")
    yield Entry("b", "stage", 1, not_yet, WRITTEN, target="it", payload={"stage": STAGE, "state": "not yet"})
    if seen is not None:
        yield Entry("c", "stage", 1, seen, WRITTEN, target="it", payload={"stage": STAGE, "state": "seen"})


def foreseen(past: Clocks, ensemble: Ensemble, begun: date, earlier: list[tuple[date, date]]) -> DayArray:
    """Days of the stage in the season of `ensemble`, (traces, draws), by the engine's learning and stages.

    Each earlier year is a planting of the same kind whose stage was seen on its date and not the day before; this
    year's is one that has not shown it by yesterday.
    """
    base_c, middle, yearly = learnt_from(past, [b for b, _ in earlier], [s for _, s in earlier])
    planting_spread = math.sqrt(max(yearly**2 - OWN_SPREAD**2, LEAST_YEARLY_SPREAD**2))
    need = Requirement(STAGE, middle, OWN_SPREAD)
    way = Timeline(
        "planted", None, None, _key(base_c), (need,), STAGE, 1, PRIOR_SPREAD, SHARED_SPREAD, planting_spread, (1.0, 1.0)
    )
    clocks = Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)

    def known(
        id_: str, where: Clocks, begun: date, not_yet: date, on: date | None
    ) -> tuple[Unknown, Sightings, DayArray]:
        seen = sight(PLANTING, _entries(begun, not_yet, on), on or ensemble.today)
        anchor = np.array([[begun.toordinal() - 1]], dtype=np.int32)
        told = likelihood(where, way, seen, anchor)
        spreads = way.crop_spread, way.cultivar_spread, way.planting_spread
        return Unknown(id_, "plant", "kind", *spreads, told), seen, anchor

    others = [
        known(str(day.year), past, begin, day - timedelta(days=1), day)[0] for begin, day in earlier if day > begin
    ]
    this, seen, anchor = known("now", clocks, begun, ensemble.today - timedelta(days=1), None)
    multiplier = learn([*others, this], DRAWS, "observed dates")["now"]
    anchors = np.broadcast_to(anchor, (ensemble.traces, DRAWS)).astype(np.int32)
    return main_stages(clocks, way, seen, anchors, multiplier, "now")[STAGE]


def _day_of_year(day: date, of: date) -> date:
    """The day as many days after 1 January in the year of `of`."""
    return date(of.year, 1, 1) + (day - date(day.year, 1, 1))


def pairs(series: Series) -> Iterator[tuple[Judged, Judged]]:
    """Engine and calendar judged in every year that can be foreseen."""
    past = _observed(series.record)
    years = series.years
    for i, year in enumerate(years):
        before = years[:i]
        if len(before) < series.fewest:
            continue
        seen = series.seen[year]
        calendar = [_day_of_year(series.seen[y], seen).toordinal() for y in sorted(series.seen) if y < year][-30:]
        today = date.fromordinal(round(float(np.mean(calendar)))) - timedelta(days=LEAD_DAYS)
        today = max(today, series.begun[year] + timedelta(days=1))
        later = np.array([day for day in calendar if day >= today.toordinal()], dtype=np.int32)
        if seen < today or len(later) < FEWEST_BLUEBERRY:
            continue
        ensemble = build_ensemble(series.record, today=today, start=series.begun[year], horizon_days=HORIZON_DAYS)
        days = foreseen(past, ensemble, series.begun[year], [(series.begun[y], series.seen[y]) for y in before])
        latest = today.toordinal() + HORIZON_DAYS
        yield judged(days, seen.toordinal(), latest=latest), judged(later, seen.toordinal(), latest=latest)


def all_series(shared: Path) -> Iterator[Series]:
    """Every plant and place that is checked."""
    folder = shared / "data"
    for weather, dates in (
        (JMA, "phenology/jma_phenology_6stations.csv"),
        (KMA, "phenology/kma_phenology_5stations.csv"),
    ):
        place_records = records(folder / weather, "station")
        by = stage_dates(folder / dates)
        for (plant, event, place), seen in sorted(by.items()):
            if event != "first_flower" or plant not in (*SPRING, "cosmos"):
                continue
            if plant == "cosmos":
                begun: Mapping[int, date] = by.get((plant, "bud_or_emergence", place), {})
            else:
                begun = {year: date(year, 2, 1) for year in seen}
            yield Series(place, plant, place_records[place], begun, seen)
    record, seen = blueberry(folder / "phenology")
    begun = {year: date(year, 1, 1) for year in seen}
    yield Series("Harvard Forest", "blueberry", record, begun, seen, FEWEST_BLUEBERRY)


def shuffled(series: Series, seed: int) -> Series:
    """The same dates set against the weather of other years: day of the year kept, year drawn without putting back."""
    years = series.years
    other = np.random.default_rng(seed).permutation(years).tolist()
    seen = {year: _day_of_year(series.seen[o], date(year, 1, 1)) for year, o in zip(years, other, strict=True)}
    return Series(series.place, series.plant, series.record, series.begun, seen, series.fewest)


def skill(found: list[tuple[Judged, Judged]]) -> float:
    """Share of the calendar's CRPS that the engine takes away; 0 none, 1 all."""
    engine, calendar = (np.mean([pair[i].crps_days for pair in found]) for i in (0, 1))
    return float(1 - engine / calendar)


def _row(name: list[str], engine: Summed, calendar: Summed) -> list[str]:
    def cells(s: Summed) -> list[str]:
        return [f"{s.mean_error_days:+.1f}", f"{s.mae_days:.1f}", f"{s.rmse_days:.1f}", f"{s.covered:.0%}"]

    gain = 1 - engine.crps_days / calendar.crps_days
    crps = [f"{engine.crps_days:.2f}", f"{calendar.crps_days:.2f}", f"{gain:+.0%}", f"{engine.mean_place:.2f}"]
    return [*name, str(engine.n), *cells(engine), *cells(calendar), *crps]


HEAD = ["years", "error", "MAE", "RMSE", "80 %", "error", "MAE", "RMSE", "80 %", "CRPS", "calendar", "gain", "PIT mean"]


def lines(shared: Path) -> Iterable[str]:
    """The table by plant and place, then by plant."""
    by_plant: dict[str, list[tuple[Judged, Judged]]] = {}
    table = [["", "", "", "", "engine", "", "", "", "calendar", "", "", "", "", "", ""], ["plant", "place", *HEAD]]
    table[0][3], table[0][4], table[0][7], table[0][8] = "engine", "", "calendar", ""
    for series in all_series(shared):
        if len(found := list(pairs(series))) >= FEWEST_SHOWN:
            by_plant.setdefault(series.plant, []).extend(found)
            table.append(_row([series.plant, series.place], *_two(found)))
    for plant, found in sorted(by_plant.items()):
        table.append(_row([plant, "all"], *_two(found)))
    every = [pair for plant, found in by_plant.items() if plant != "cosmos" for pair in found]
    table.append(_row(["woody and dandelion", "all"], *_two(every)))
    return aligned(table, left=2)


def _two(found: list[tuple[Judged, Judged]]) -> tuple[Summed, Summed]:
    return summed([e for e, _ in found]), summed([c for _, c in found])
