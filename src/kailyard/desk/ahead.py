"""Forecasts as they were issued, typed or fetched, and how right they have been."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import numpy as np

from kailyard.desk.desk import Desk, end_of_day
from kailyard.desk.station_record import station_record, with_own_rain
from kailyard.desk.weather_aside import SHORT, ByHand, by_hand
from kailyard.documents.table import Table
from kailyard.errors import DataError
from kailyard.garden.model import Entry, Garden
from kailyard.publish.units import figure
from kailyard.weather.forecast import SKILL_BY_LEAD, STATED, Belief, ForecastDay, latest_by_day
from kailyard.weather.record import FloatArray
from kailyard.weather.skill import FEWEST_MET, PRIOR_MET, Learnt, learn, spread_ahead_c

SHOWN_ISSUES = 12
"""So many of the forecasts kept a page names, the latest first."""
_TYPED = "typed"


TEACHING_DAYS = 400
"""Fetched forecasts issued longer ago teach nothing more: services change their ways (ours)."""


def known_forecasts(desk: Desk, garden: Garden, as_known: date | None, today: date) -> tuple[ForecastDay, ...]:
    """Every day of the forecasts known by then that still count on `today`, in the order of issue; typed ones last.

    What is set aside is left out.
    """
    since = datetime.combine(today - timedelta(days=TEACHING_DAYS), time(), UTC)
    cut = None if as_known is None else end_of_day(as_known, garden.site.timezone)
    aside = by_hand(garden.entries)
    kept = (each for each in desk.store.forecasts(cut, since=since) if each.id not in aside)
    fetched = tuple(day for each in kept for day in each.forecast.days())
    return (*fetched, *typed_forecasts(garden.entries))


def typed_forecasts(entries: Iterable[Entry]) -> tuple[ForecastDay, ...]:
    """Forecast days as entered, each with its day of issue."""

    def number(value: object) -> float:
        return float("nan") if value is None else float(str(value))

    return tuple(
        ForecastDay(
            issued=e.happened,
            day=date.fromisoformat(str(e.payload["day"])),
            tmin_c=number(e.payload.get("tmin_c")),
            tmax_c=number(e.payload.get("tmax_c")),
            rain_mm=number(e.payload.get("rain_mm")),
        )
        for e in entries
        if e.kind == "forecast"
    )


def learnt_skill(desk: Desk) -> Mapping[str, Learnt]:
    """What the forecasts kept have shown of themselves, by source; empty where there is no record yet."""
    garden = desk.garden()
    today = desk.today(garden)
    try:
        record, _ = station_record(desk, garden, None)
    except DataError:
        return {}
    record, _ = with_own_rain(record, garden.entries, today)
    return learn(known_forecasts(desk, garden, None, today), record, today=today)


BELIEVED_COLUMNS = ("days ahead", "low", "high", "rain", "rests on")


def belief(desk: Desk) -> tuple[Table, ...]:
    """How far a forecast is believed today, by lead: one table for each source whose own error counts, one of what is
    stated for the others."""
    garden = desk.garden()
    today = desk.today(garden)
    try:
        record, _ = station_record(desk, garden, None)
    except DataError:
        return ()
    open_c = spread_ahead_c(record, today)
    leads = range(1, len(SKILL_BY_LEAD) + 1)
    learning = [e for e in learnt_skill(desk).values() if any(e.learning(q, n) for q in (0, 1) for n in leads)]
    issued_by = {d.source for d in known_forecasts(desk, garden, None, today)}
    others = [name or _TYPED for name in sorted(issued_by - {e.source for e in learning})]
    tables = [
        Table(
            f"Learnt here: {each.source or _TYPED}",
            BELIEVED_COLUMNS,
            tuple(_belief_row(each.belief, n, open_c, garden, each) for n in leads),
        )
        for each in learning
    ]
    if others or not learning:
        whose = ", ".join(others) or "any forecast"
        rows = tuple(_belief_row(STATED, n, open_c, garden, None) for n in leads)
        tables.append(Table(f"Stated, not learnt: {whose}", BELIEVED_COLUMNS, rows))
    return tuple(tables)


BELIEF_WORDS = (
    "Low and high: of how far the forecast lies from the usual so much is believed, and ± is what stays open (standard "
    "deviation, at this time of year). Rain: in so many of the possible seasons it comes as it is said.",
    f"What is stated stands for a source and lead until {FEWEST_MET} of its forecasts were met by a day on record; "
    f"then its own error counts, more with each, beside what is stated, which weighs as much as {PRIOR_MET:.0f}.",
)


def _belief_row(
    belief: Belief, lead: int, open_c: FloatArray, garden: Garden, learnt: Learnt | None
) -> tuple[str, ...]:
    n = lead - 1
    cells = [str(lead)]
    for q in (0, 1):
        left_c = float(belief.left[q, n] * open_c[q, n])
        stays = "" if np.isnan(left_c) else f", ± {figure(left_c, '°C difference', garden.units, 1)}"
        shift = float(belief.bias_c[q, n])
        taken = figure(abs(shift), "°C difference", garden.units, 1)
        moved = "" if abs(shift) < 0.05 else f", {'less' if shift > 0 else 'plus'} {taken}"
        cells.append(f"{belief.skill[q, n]:.0%}{moved}{stays}")
    wet, dry = float(belief.said_wet[n]), float(belief.said_dry[n])
    cells.append(f"{wet:.0%}" if abs(wet - dry) < 0.005 else f"{wet:.0%}; dry {dry:.0%}")
    own = learnt is not None and (learnt.learning(0, lead) or learnt.learning(1, lead))
    met = 0 if learnt is None else int(learnt.met[:, n].max())
    cells.append(f"{met} met here" if own else f"stated; {met} met so far" if met else "stated")
    return tuple(cells)


SKILL_COLUMNS = (
    "source",
    "days ahead",
    "met",
    "low off by",
    "low misses by",
    "high off by",
    "high misses by",
    "rain said",
    "dry said",
    "counts",
)


def skill(desk: Desk) -> Table:
    """How right forecasts have been here, by source and lead."""
    garden = desk.garden()
    found = learnt_skill(desk)
    leads = range(1, len(SKILL_BY_LEAD) + 1)
    rows = tuple(_skill_row(each, n, garden) for each in found.values() for n in leads if each.met[:, n - 1].any())
    if not rows:
        note = (
            f"No source has {FEWEST_MET} forecasts yet that were met by a day on record: what is stated of forecasts "
            "in general stands. Fetch or enter them day by day, and keep the station's record fresh."
        )
        return Table("How right forecasts have been here", SKILL_COLUMNS, (), (note,))
    notes = (
        "Off by: forecast less what came, on average. Misses by: how far a forecast usually lies off beside that. Rain "
        "said, dry said: on how many of those days it rained (1 mm or more).",
        f"From {FEWEST_MET} met forecasts of a lead on, its own error counts beside what is stated of forecasts in "
        f"general, which weighs as much as {PRIOR_MET:.0f}. The day of issue counts as 1 day ahead.",
    )
    return Table("How right forecasts have been here", SKILL_COLUMNS, rows, notes)


def _skill_row(each: Learnt, lead: int, garden: Garden) -> tuple[str, ...]:
    n = lead - 1
    hit, false, right, missed = (int(c) for c in each.rain[:, n])
    cells = [each.source or _TYPED, str(lead), f"{each.met[:, n].max():.0f}"]
    for q in (0, 1):
        cells += [_degrees(each.off_c[q, n], garden), _degrees(each.miss_c[q, n], garden)]
    counts = "yes" if each.learning(0, lead) or each.learning(1, lead) else "not yet"
    return (*cells, f"{hit} of {hit + false}", f"{missed} of {right + missed}", counts)


def _degrees(value: float, garden: Garden) -> str:
    return "" if np.isnan(value) else figure(float(value), "°C difference", garden.units)


@dataclass(frozen=True, slots=True)
class ShownIssue:
    """A forecast as a page names it."""

    source: str
    id: str
    issued: str
    """Day and time in UTC."""
    first: date
    last: date
    days: tuple[tuple[str, ...], ...]
    """Day, low, high, rain."""
    credit: str
    aside: ByHand | None
    """How it was set aside, where it was: it is kept and not used."""


def issues(desk: Desk) -> tuple[tuple[ShownIssue, ...], int]:
    """The latest forecasts as they were issued, and how many are kept."""
    garden = desk.garden()
    kept, aside = desk.store.forecasts(), by_hand(garden.entries)
    shown = []
    for each in reversed(kept[-SHOWN_ISSUES:]):
        forecast, days = each.forecast, each.forecast.days()
        rows = tuple((str(d.day), *forecast_cells(d, garden)) for d in days)
        issued = f"{forecast.issued:%Y-%m-%d %H:%M}"
        by = aside.get(each.id, (None,))[0]
        shown.append(ShownIssue(forecast.source, each.id, issued, days[0].day, days[-1].day, rows, forecast.credit, by))
    return tuple(shown), len(kept)


def issue_lines(desk: Desk, most: int) -> list[str]:
    """The latest of the forecasts fetched, each with what it is called at the keyboard."""
    shown, kept = issues(desk)
    lines = [
        f"{each.id[:SHORT]}: {each.source}, issued {each.issued} UTC{', set aside' if each.aside else ''}."
        for each in shown[:most]
    ]
    if lines:
        lines.append(
            f"{kept} fetched in all. One that is plainly wrong: `kailyard forecast --aside FORECAST`; it stays kept."
        )
    return lines


def forecast_cells(day: ForecastDay, garden: Garden) -> tuple[str, str, str]:
    """Low, high and rain of a forecast day in the garden's units; '' where it says nothing."""
    low, high, rain = (
        "" if np.isnan(v) else figure(v, u, garden.units)
        for v, u in ((day.tmin_c, "°C"), (day.tmax_c, "°C"), (day.rain_mm, "mm"))
    )
    return low, high, rain


def believed(desk: Desk) -> tuple[ForecastDay, ...]:
    """For each day from today on the forecast to believe, whoever issued it."""
    garden = desk.garden()
    today = desk.today(garden)
    return latest_by_day(known_forecasts(desk, garden, None, today), today)
