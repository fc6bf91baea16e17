"""Crops sown or set out on real dates, in weather that was measured: when does the handbook have them up and ripe?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np

from kailyard.garden.model import Bed, Cultivar, Entry, Garden, HowStarted, Planting, Site
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Handbook
from kailyard.season.odds import DayArray, Odds
from kailyard.season.view import foresee
from kailyard.weather.ensemble import Ensemble
from kailyard.weather.record import DailyRecord, read_only
from kailyard.weather.trend import Trend
from tools.validation._data import aligned, records, rows
from tools.validation._scores import Judged, judged, summed

TITLE = """\
Sowing to harvest, hindcast: real dates of field trials (public crop-trial records) and of one garden of 2020, with the
weather measured there known throughout, so that only what the crop needs is unknown. Foreseen from the day after sowing
(setting out, planting) by the handbook alone: no packet, nothing entered later. One weather, 400 draws. Printed days:
middle and range of the handbook's printed days from the same beginning, where they are given. Errors in days: foreseen
less seen. Weather ends some days after each trial: later days are given the mean of its last fortnight."""

STAGES = (("emerged", "emerged"), ("flowered", "first-flower"), ("first_harvest", "harvest"))
"""Columns of the table and the stages they are."""

UPPER_LIMITS = ("date chosen by grower", "dug", "first dug", "bulk cut", "last sampling", "end of trial", "storage")
"""Kinds of harvest whose date a person chose: ripe by then, perhaps long before. Not scored."""

STARTS: Mapping[str, tuple[HowStarted, str]] = {
    "sown outdoors": ("sown", "sow"),
    "not said": ("sown", "sow"),
    "set out": ("raised", "set-out"),
    "planted (tubers)": ("planted", "plant"),
    "planted (cloves)": ("planted", "plant"),
}
DRAWS = 400
AFTER_DAYS = 250
EARLY = datetime(1900, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Case:
    """One row of the table with its weather."""

    id: str
    crop: str
    set: str
    start: HowStarted
    kind: str
    """Kind of the entry that begins it."""
    begun: date
    plant_age_days: float | None
    latitude: float
    weather: DailyRecord
    seen: Mapping[str, date]
    """By stage of the engine."""
    upper: bool
    """The harvest's date is an upper limit."""


def cases(shared: Path, handbook: Handbook) -> Iterator[Case]:
    """Rows whose crop the handbook knows, whose weather is there and whose beginning is dated."""
    folder = shared / "data"
    for row in rows(folder / "checks" / "sowing_to_harvest.csv"):
        if not row["weather"] or row["crop"] not in handbook.crops or row["how"] not in STARTS:
            continue
        file, _, site = row["weather"].partition("#")
        start, kind = STARTS[row["how"]]
        begun = date.fromisoformat(row["set_out"] if start == "raised" else row["sown"])
        seen = {stage: date.fromisoformat(row[column]) for column, stage in STAGES if row[column]}
        if row["harvest_kind"].startswith("tops dead"):  # garlic: the leaves' end is what the engine calls ripe
            seen["harvest"] = date.fromisoformat(row["matured"])
        if seen:
            yield Case(
                row["id"],
                row["crop"],
                row["set"],
                start,
                kind,
                begun,
                float(row["plant_age_d"]) if row["plant_age_d"] else None,
                float(row["lat"]),
                records(folder / "weather" / file, "site" if site else "")[site],
                seen,
                any(words in row["harvest_kind"] for words in UPPER_LIMITS),
            )


def _weather(case: Case) -> Ensemble:
    """The measured weather as the one possible season, today being the day after the beginning."""
    first, start = case.weather.first, max(case.weather.first, case.begun - timedelta(days=60))
    a, b = (start - first).days, (case.begun - first).days + AFTER_DAYS + 30
    columns = []
    for values in (case.weather.tmin_c, case.weather.tmax_c):
        cut = values[a:b]
        there = np.flatnonzero(~np.isnan(cut))
        cut = np.interp(np.arange(len(cut)), there, cut[there])
        columns.append(np.concatenate([cut, np.full(max(0, b - a - len(cut)), cut[-14:].mean())])[None, :])
    none = np.zeros(12)
    days = columns[0].shape[1]
    return Ensemble(
        first=start,
        today_index=(case.begun - start).days + 1,
        tmin_c=read_only(columns[0]),
        tmax_c=read_only(columns[1]),
        rain_mm=read_only(np.zeros((1, days))),
        years=(case.begun.year,),
        forecast_days=0,
        filled=np.zeros(days, dtype=np.bool_),
        trend=Trend(none, none, none, none, applied=False),
        usual_tmin_c=columns[0][0],
        usual_tmax_c=columns[1][0],
        source=case.weather.source,
    )


def _entry(id_: str, kind: str, day: date) -> Entry:
    return Entry(id_, kind, 1, day, EARLY, target="it")


def stages_of(case: Case, handbook: Handbook) -> Mapping[str, DayArray]:
    """Days of the engine's stages, (1, draws), the harvest under 'harvest', foreseen from the beginning alone."""
    planting = Planting("it", case.crop, "bed", case.start)
    entries = [_entry("1", case.kind, case.begun)]
    if case.start == "raised" and case.plant_age_days is not None:
        entries.insert(0, _entry("0", "sow", case.begun - timedelta(days=case.plant_age_days)))
    garden = Garden(
        case.id,
        Site(case.latitude, 0.0),
        "metric",
        {"bed": Bed("bed", "bed", 5.0, 1.2)},
        dict[tuple[str, str], Cultivar](),
        {"it": planting},
        tuple(entries),
    )
    life = foresee(garden, _weather(case), handbook, draws=DRAWS).lives["it"]
    if life.timeline is None:
        return {}
    out = {name: odds.days for name, odds in life.stages.items()}
    return out | {"harvest": out[life.timeline.harvest]}


def printed_days(case: Case, stage: str, handbook: Handbook) -> tuple[float, float] | None:
    """Printed days from this beginning to the harvest or to coming up: low and high."""
    if stage == "harvest":
        event = {"sown": "sowing", "raised": "transplant", "planted": "planting"}[case.start]
        low = handbook.number(case.crop, "days_to_first_harvest_min")
        high = handbook.number(case.crop, "days_to_first_harvest_max")
        if low is None or high is None or handbook.text(case.crop, "start_event") != event:
            return None
        return low, high
    begins = "planted" if case.start == "planted" else "sown"
    for leg in handbook.legs.get(case.crop, ()):
        if (leg.from_stage, leg.to_stage) == (begins, stage) and leg.days is not None:
            return leg.days
    return None


@dataclass(frozen=True, slots=True)
class Compared:
    """One stage of one case."""

    case: Case
    stage: str
    engine: Judged
    printed_error_days: float | None
    printed_holds: bool | None
    killed: float
    """Chance that the engine has them dead before; where that is most of it, the row is told and not averaged."""


def compared(shared: Path) -> list[Compared]:
    """Every stage that was seen and that the engine foresees."""
    handbook = load_handbook()
    out = []
    for case in cases(shared, handbook):
        foreseen = stages_of(case, handbook)
        for stage, seen in case.seen.items():
            if stage not in foreseen:
                continue
            latest = case.begun.toordinal() + AFTER_DAYS
            days = printed_days(case, stage, handbook)
            took = (seen - case.begun).days
            out.append(
                Compared(
                    case,
                    stage,
                    judged(foreseen[stage], seen.toordinal(), latest=latest),
                    sum(days) / 2 - took if days else None,
                    days[0] <= took <= days[1] if days else None,
                    Odds(foreseen[stage]).never,
                )
            )
    return out


def scored(found: Iterable[Compared]) -> list[Compared]:
    """Those whose date is the plant's and not the grower's, and that the engine does not have killed first."""
    return [c for c in found if c.killed < 0.5 and not (c.stage == "harvest" and c.case.upper)]


def _row(name: list[str], group: list[Compared]) -> list[str]:
    s = summed([c.engine for c in group])
    printed = [c.printed_error_days for c in group if c.printed_error_days is not None]
    holds = [c.printed_holds for c in group if c.printed_holds is not None]
    places = len({(c.case.weather.source, c.case.begun) for c in group})
    against = (
        [f"{np.mean(printed):+.1f}", f"{np.abs(printed).mean():.1f}", f"{np.mean(holds):.0%}", str(len(printed))]
        if printed
        else ["", "", "", ""]
    )
    cells = [f"{s.mean_error_days:+.1f}", f"{s.mae_days:.1f}", f"{s.rmse_days:.1f}", f"{s.covered:.0%}"]
    return [*name, str(s.n), str(places), *cells, f"{s.crps_days:.1f}", f"{s.mean_place:.2f}", *against]


def _groups(found: list[Compared]) -> Mapping[tuple[str, str, str], list[Compared]]:
    groups: dict[tuple[str, str, str], list[Compared]] = {}
    for c in found:
        groups.setdefault((c.stage, c.case.crop, c.case.set), []).append(c)
    return dict(sorted(groups.items()))


HEAD = [
    *("stage", "crop", "set", "rows", "settings", "error", "MAE", "RMSE", "80 % band", "CRPS", "PIT mean"),
    *("printed: error", "MAE", "in range", "rows"),
]


def lines(shared: Path) -> Iterable[str]:
    """The table by stage and crop, then the rows that are upper limits."""
    found = compared(shared)
    kept = scored(found)
    each = [_row(list(name), group) for name, group in _groups(kept).items()]
    stages = dict.fromkeys(c.stage for c in kept)
    over_all = [_row([stage, "all", ""], [c for c in kept if c.stage == stage]) for stage in stages]
    yield from aligned([HEAD, *each, *over_all], left=3)
    yield ""
    for c in found:
        if c.killed >= 0.5:
            night = float(np.nanmin(c.case.weather.tmin_c[(c.case.begun - c.case.weather.first).days :]))
            yield f"Not averaged: {c.case.id}, {c.stage}: by the handbook frost had killed it (coldest {night:g} °C)."
    limits = [c for c in found if c.stage == "harvest" and c.case.upper]
    yield ""
    yield f"Not scored: {len(limits)} harvests whose date the grower chose. Share that the engine has ripe by then:"
    yield ""
    by_crop: dict[str, list[float]] = {}
    for c in limits:
        by_crop.setdefault(c.case.crop, []).append(c.engine.place)
    yield from aligned(
        [["crop", "rows", "mean chance"], *([k, str(len(v)), f"{np.mean(v):.2f}"] for k, v in sorted(by_crop.items()))]
    )
