"""One record of two stations: continued, filled, averaged."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from weather_files import changed, invented_record

from kailyard.errors import DataError
from kailyard.weather.record import DailyRecord, read_only
from kailyard.weather.stations import MARKS, averaged, completed, differs, from_the_neighbour

WHOLE = invented_record(date(2000, 1, 1), date(2009, 12, 31))
MONTH = np.array([(WHOLE.first + timedelta(days=i)).month - 1 for i in range(len(WHOLE))])
COLDER = np.linspace(-2.0, 1.0, 12)
"""Station less neighbour, by month."""


def cut(record: DailyRecord, first: int, last: int) -> DailyRecord:
    columns = (read_only(c[first:last]) for c in (record.tmin_c, record.tmax_c, record.rain_mm))
    return DailyRecord(record.first + timedelta(days=first), *columns, source="home")


NEIGHBOUR = replace(
    changed(WHOLE, tmin_c=WHOLE.tmin_c - COLDER[MONTH], tmax_c=WHOLE.tmax_c - 1.0, rain_mm=WHOLE.rain_mm * 2),
    source="away",
)


def test_one_station_goes_on_with_the_other_shifted_by_month() -> None:
    made = completed(cut(WHOLE, 1500, len(WHOLE)), NEIGHBOUR)
    # The neighbour differs by just that: what is hidden comes back as it was.
    np.testing.assert_allclose(made.tmin_offset_c, COLDER, atol=1e-9)
    np.testing.assert_allclose(made.record.tmin_c, WHOLE.tmin_c, atol=1e-9)
    np.testing.assert_allclose(made.record.tmax_c, WHOLE.tmax_c, atol=1e-9)
    np.testing.assert_allclose(made.record.rain_mm, WHOLE.rain_mm, atol=1e-9)
    assert made.rain_factor == pytest.approx(0.5)
    assert made.left_c == pytest.approx(0, abs=1e-9)
    assert made.filled == 1500
    (mark,) = from_the_neighbour(made.record)
    assert (mark.day, mark.file) == (WHOLE.first, "away")
    assert mark.value == "minimum and maximum and rain, 1500 days"
    assert made.record.source == "home; missing days from away"


def test_how_the_two_differ_is_kept_with_the_record_and_only_that_of_the_last_making() -> None:
    own = cut(WHOLE, 1500, len(WHOLE))
    assert differs(own) is None
    made = completed(own, NEIGHBOUR)
    kept = differs(made.record)
    assert kept is not None
    np.testing.assert_allclose(kept.low_c, COLDER, atol=0.005)
    np.testing.assert_allclose(kept.high_c, np.ones(12), atol=0.005)
    assert (kept.rain_factor, kept.left_c, kept.neighbour) == (0.5, 0.0, "away")
    warmer = replace(changed(WHOLE, tmin_c=WHOLE.tmin_c + 3.0), source="farther")
    again = averaged(made.record, warmer, weight=0.5).record
    kept = differs(again)
    assert kept is not None
    assert kept.neighbour == "farther"
    np.testing.assert_allclose(kept.low_c, np.full(12, -3.0), atol=0.005)
    assert {a.rule for a in again.set_aside} <= set(MARKS)


def test_missing_days_between_are_filled_and_marked_and_the_own_ones_untouched() -> None:
    low = WHOLE.tmin_c.copy()
    low[700:703] = np.nan
    made = completed(changed(WHOLE, tmin_c=low), NEIGHBOUR)
    np.testing.assert_allclose(made.record.tmin_c[700:703], WHOLE.tmin_c[700:703], atol=1e-9)
    assert np.array_equal(np.delete(made.record.tmin_c, [700, 701, 702]), np.delete(WHOLE.tmin_c, [700, 701, 702]))
    (mark,) = from_the_neighbour(made.record)
    assert mark.value == "minimum, 3 days"


def test_the_mean_of_two_has_no_step_where_one_falls_silent() -> None:
    made = averaged(cut(WHOLE, 1500, len(WHOLE)), NEIGHBOUR, weight=0.25)
    wanted = 0.25 * WHOLE.tmin_c + 0.75 * NEIGHBOUR.tmin_c
    np.testing.assert_allclose(made.record.tmin_c, wanted, atol=1e-9)
    np.testing.assert_allclose(made.record.rain_mm, 0.25 * WHOLE.rain_mm + 0.75 * NEIGHBOUR.rain_mm, atol=1e-9)
    other_way = averaged(NEIGHBOUR, cut(WHOLE, 1500, len(WHOLE)), weight=0.75)
    np.testing.assert_allclose(other_way.record.tmin_c, wanted, atol=1e-9)


def test_too_little_in_common_and_too_unlike_is_refused_in_a_line() -> None:
    with pytest.raises(DataError, match="share 0 days"):
        completed(cut(WHOLE, 0, 1000), cut(NEIGHBOUR, 1000, 2000))
    with pytest.raises(DataError, match="differ by"):
        completed(WHOLE, changed(WHOLE, tmin_c=WHOLE.tmin_c - 30, tmax_c=WHOLE.tmax_c - 30))
    with pytest.raises(DataError, match=r"weight of 1 is no share"):
        averaged(WHOLE, NEIGHBOUR, weight=1.0)


@pytest.mark.shared
def test_ten_years_of_seoul_continued_by_suwon(shared: Path) -> None:
    # KMA: thirty kilometres apart. All but the last ten years of Seoul are hidden and come back through Suwon.
    from tools.validation.judging import clean  # read once for all tests of a run

    seoul, suwon = (clean(shared / "data")[name] for name in ("Seoul", "Suwon"))
    made = completed(cut(seoul, len(seoul) - 3650, len(seoul)), suwon)
    at = (seoul.first - made.record.first).days
    for got, wanted, bare in (
        (made.record.tmin_c, seoul.tmin_c, suwon.tmin_c),
        (made.record.tmax_c, seoul.tmax_c, suwon.tmax_c),
    ):
        hidden = slice(0, len(seoul) - 3650)
        off = got[at : at + len(seoul)][hidden] - wanted[hidden]
        assert abs(np.nanmean(off)) < 0.5
        assert np.nanstd(off) < 1.6
        assert not np.array_equal(got[:100], bare[:100])
