"""Day of a warmth sum and last freeze, foreseen each year from what was known by 1 April."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.season.clock import Clocks, ResponseKey
from kailyard.season.odds import Odds
from kailyard.weather.ensemble import FEWEST_YEARS, Ensemble, build_ensemble
from kailyard.weather.record import DailyRecord
from tools.validation._data import DE_BILT, JMA, KMA, MILWAUKEE, TWIN_CITIES, aligned, records
from tools.validation._scores import Judged, judged, summed

TITLE = """\
Weather odds, rolling origin: issued on 1 April of each of the last 30 years from the days before, against the station's
own record (Milwaukee: NOAA GHCN-Daily; De Bilt: KNMI). Sum: day on which 600 °C·d above 10 °C is reached, of daily
(minimum + maximum) / 2 from 1 January. Freeze: last night of 0 °C or less, 1 April to 31 July; 31 March where there is
none. Baseline: the previous 30 years as they were (fewer where the record is shorter; under 20, seasons made of them);
the days from 1 January to the issue are known to all. 'fair': CRPS with the share that few members cost taken off
(Ferro 2014)."""

PLACES = {"Milwaukee": MILWAUKEE, "De Bilt": DE_BILT}
YEARS = 30
SUM_C_D = 600.0
ABOVE_10 = ResponseKey("linear", 10.0, None, None, None, soil=False)
FREEZE_C = 0.0
LEAST_SCORE_DAYS = 1.0


def sum_day(ensemble: Ensemble, start: date) -> Odds:
    """Day of reaching the sum counted from `start`, by the engine's clock."""
    clocks = Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)
    clock = clocks.clock(ABOVE_10)
    target = clock.reading(start.toordinal() - 1) + SUM_C_D
    return Odds(clock.reach(np.broadcast_to(target, (ensemble.traces, 1))))


def last_freeze(ensemble: Ensemble, first: date, last: date) -> Odds:
    """Last freeze between two days, by the engine's clocks; the day before `first` where there is none."""
    clocks = Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)
    return Odds(clocks.last_cold(FREEZE_C, first.toordinal(), last.toordinal()))


def odds_of(kind: str, ensemble: Ensemble, year: int) -> NDArray[np.int32]:
    """The sample of days for one kind of odds."""
    if kind == "sum":
        return sum_day(ensemble, date(year, 1, 1)).days
    return last_freeze(ensemble, date(year, 4, 1), date(year, 7, 31)).days


@cache
def _issued(record: DailyRecord, year: int, use_trend: bool, traces: int) -> Ensemble:
    return build_ensemble(
        record,
        today=date(year, 4, 1),
        start=date(year, 1, 1),
        use_trend=use_trend,
        most_traces=traces,
        horizon_days=300,
    )


def _came_about(record: DailyRecord, year: int) -> Ensemble:
    """The year itself as the only possible season: everything up to its end observed."""
    return build_ensemble(
        record, today=date(year, 10, 1), start=date(year, 1, 1), use_trend=False, most_traces=5, horizon_days=1
    )


def judged_years(record: DailyRecord, kind: str, *, use_trend: bool, traces: int = 40) -> list[Judged]:
    """Judgements of the last years of a record that reach into October, oldest first."""
    last = record.last.year if record.last.month >= 10 else record.last.year - 1
    out = []
    for year in range(max(last - YEARS + 1, record.first.year + FEWEST_YEARS + 2), last + 1):
        days = odds_of(kind, _issued(record, year, use_trend, traces), year)
        seen = int(odds_of(kind, _came_about(record, year), year)[0, 0])
        out.append(judged(days, seen, latest=date(year, 12, 31).toordinal()))
    return out


WAYS = (
    ("previous 30 years as they were", False, 30),
    ("engine, trend off", False, 40),
    ("engine, trend on", True, 40),
)


def _rows(shared: Path) -> Iterator[list[str]]:
    yield ["place", "odds", "way", "years", "PIT mean", "80 % band", "mean error", "CRPS", "fair"]
    for place_name, file in PLACES.items():
        record = records(shared / "data" / file)[""]
        for kind in ("sum", "freeze"):
            for words, use_trend, traces in WAYS:
                s = summed(judged_years(record, kind, use_trend=use_trend, traces=traces))
                yield [
                    place_name,
                    kind,
                    words,
                    str(s.n),
                    f"{s.mean_place:.3f}",
                    f"{s.covered:.0%}",
                    f"{s.mean_error_days:+.1f}",
                    f"{s.crps_days:.2f}",
                    f"{s.fair_days:.2f}",
                ]


def _elsewhere(shared: Path) -> Iterator[list[str]]:
    yield ["place", "odds", "years", "baseline fair", "trend off", "trend on"]
    data = shared / "data"
    places = {"Twin Cities": records(data / TWIN_CITIES)[""]}
    places |= {**records(data / JMA, "station"), **records(data / KMA, "station")}
    for name, record in places.items():
        for kind in ("sum", "freeze"):
            before, off, on = (summed(judged_years(record, kind, use_trend=use, traces=n)) for _, use, n in WAYS)
            if before.fair_days < LEAST_SCORE_DAYS:
                continue
            against = [f"{s.fair_days / before.fair_days - 1:+.0%}" for s in (off, on)]
            yield [name, kind, str(before.n), f"{before.fair_days:.2f}", *against]


def lines(shared: Path) -> Iterable[str]:
    """The table, then the same odds at twelve more stations: how far the score lies from the baseline's."""
    yield from aligned(list(_rows(shared)), left=3)
    yield ""
    yield "Is the trend any good? Twelve more stations (Minnesota DNR, JMA, KMA), fair CRPS against the baseline's:"
    yield f"less is better. Left out: freezes too rare after 1 April, baseline under {LEAST_SCORE_DAYS:g} day."
    yield ""
    yield from aligned(list(_elsewhere(shared)), left=2)
