"""Weather odds of Milwaukee and De Bilt against their own records: no worse than the past as it was."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from tools.validation._data import records
from tools.validation._scores import Judged, summed
from tools.validation.weather_odds import PLACES, WAYS, _came_about, judged_years, odds_of

KINDS = ("sum", "freeze")


@pytest.fixture(scope="module")
def found(shared: Path) -> dict[tuple[str, str], tuple[list[Judged], ...]]:
    """Baseline, engine without and with its trend, by place and kind."""
    return {
        (place, kind): tuple(
            judged_years(records(shared / "data" / file)[""], kind, use_trend=use, traces=n) for _, use, n in WAYS
        )
        for place, file in PLACES.items()
        for kind in KINDS
    }


def test_engine_is_no_worse_than_the_previous_thirty_years(
    found: dict[tuple[str, str], tuple[list[Judged], ...]],
) -> None:
    for pair, (before, _, engine) in found.items():
        assert len(engine) == len(before) == 30
        # Tolerance: 30 years tell a difference only to so much; two standard errors of the yearly differences.
        gap = np.array([e.crps_days - b.crps_days for e, b in zip(engine, before, strict=True)])
        assert gap.mean() <= 2 * gap.std(ddof=1) / np.sqrt(len(gap)), pair
    # Over the four together none is allowed.
    means = np.array([[summed(each).crps_days for each in ways] for ways in found.values()]).mean(axis=0)
    assert means[2] <= means[0]


def test_trend_takes_most_of_the_lateness_of_warmth_away(
    found: dict[tuple[str, str], tuple[list[Judged], ...]],
) -> None:
    for place in PLACES:
        _, off, on = (summed(each) for each in found[place, "sum"])
        assert abs(on.mean_error_days) < abs(off.mean_error_days)
        assert abs(on.mean_place - 0.5) < abs(off.mean_place - 0.5)


def test_bands_hold_about_eight_in_ten(found: dict[tuple[str, str], tuple[list[Judged], ...]]) -> None:
    # 30 years, four kinds of odds: 120 bands. Binomial standard error is 3.7 in 100; whole days hold a bit more.
    held = np.mean([j.covered for _, _, on in found.values() for j in on])
    assert 0.8 - 2 * 0.037 <= held <= 0.8 + 3 * 0.037


def test_years_themselves_are_read_as_published(shared: Path) -> None:
    # Latest last freeze at Milwaukee in 1991-2020, day and month: 16 May 1997 (the reference folder's datasets.md,
    # from the station's own record in whole °F); a freeze at 32 °F stands in the file as 0.0 °C.
    record = records(shared / "data" / PLACES["Milwaukee"])[""]
    days = [int(odds_of("freeze", _came_about(record, year), year)[0, 0]) for year in range(1991, 2021)]
    since_new_year = [date.fromordinal(d).timetuple().tm_yday for d in days]
    assert date.fromordinal(days[since_new_year.index(max(since_new_year))]) == date(1997, 5, 16)
