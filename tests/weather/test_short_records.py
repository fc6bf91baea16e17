"""Possible seasons made from few years."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import numpy as np
import pytest
from weather_files import invented_record

from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.short import BLOCK_DAYS, half_years, lengthened, shuffled

TODAY = date(2026, 4, 1)
TEN = invented_record(date(2016, 1, 1), date(2026, 8, 31))


def test_every_stretch_is_whole_and_every_run_is_shared_out_evenly() -> None:
    rows = shuffled(7, 40, first=TODAY.toordinal(), length=550)
    total = Counter(rows.ravel().tolist())
    assert max(total.values()) < 1.5 * min(total.values())
    assert set(Counter(rows[:, 0].tolist())) == set(range(7))
    changes = np.count_nonzero(np.diff(rows, axis=1), axis=1)
    assert (changes <= 550 // BLOCK_DAYS + 1).all()
    assert changes.any()


def test_one_day_later_the_same_seasons_go_on() -> None:
    rows = shuffled(9, 40, first=TODAY.toordinal(), length=550)
    later = shuffled(9, 40, first=TODAY.toordinal() + 1, length=550)
    assert np.array_equal(rows[:, 1:], later[:, :-1])


def test_each_day_made_is_that_day_of_one_of_the_years_but_for_the_shift() -> None:
    rng = np.random.default_rng(2)
    low = rng.normal(5, 4, (8, 400))
    ahead = [low, low + rng.uniform(2, 9, (8, 400)), rng.exponential(2, (8, 400))]
    made, years, fit = lengthened(ahead, 40, first=TODAY.toordinal())
    assert all(m.shape == (40, 400) for m in made)
    assert all((np.abs(made[2][:, d, None] - ahead[2][None, :, d]).min(axis=1) == 0).all() for d in range(400))
    # Night and day are shifted alike: the span between them is one that was.
    span, spans = made[1] - made[0], ahead[1] - ahead[0]
    assert all(np.abs(span[:, d, None] - spans[None, :, d]).min(axis=1).max() < 1e-9 for d in range(400))
    assert set(years) <= set(range(8))
    assert fit.years == 8


def test_half_years_begin_with_april_and_october() -> None:
    half, there = half_years(date(2026, 3, 31).toordinal(), 185)
    assert len(there) == 3
    assert half[0] != half[1]  # 31 March, 1 April
    assert (half[1:184] == half[1]).all()  # to 30 September
    assert half[184] != half[183]


def test_the_shift_gives_back_the_spread_between_seasons_and_the_error_of_few_years() -> None:
    # Ten years that differ by a whole-year shift only, of variance s²; the mean of ten has the error s²/10.
    level = np.linspace(-1.5, 1.5, 10)[:, None]
    low = np.tile(level, (1, 364))
    made, _, fit = lengthened([low, low + 10, low * 0], 200, first=TODAY.toordinal())
    wanted = float(level.std(ddof=1)) * np.sqrt(1.1)
    assert fit.seen_c == pytest.approx(float(level.std(ddof=1)))
    # The draws are even, not independent of the shuffle: their chance covariance may take a tenth.
    assert fit.made_c == pytest.approx(wanted, rel=0.1)
    assert float(made[0][:, :182].mean(axis=1).std(ddof=1)) == pytest.approx(fit.made_c)


def test_a_short_record_gives_forty_seasons_the_same_each_time_and_says_its_fit() -> None:
    one, two = (build_ensemble(TEN, today=TODAY, start=TODAY - timedelta(days=30)) for _ in range(2))
    assert np.array_equal(one.tmin_c, two.tmin_c)
    assert np.array_equal(one.rain_mm, two.rain_mm)
    assert one.traces == 40
    assert one.fit is not None
    assert one.fit.years == 10
    assert any("Made from 10 years" in n and "between-season spread is" in n for n in one.notes)
    assert len({tuple(row) for row in one.tmin_c[:, 30:60].tolist()}) > 20


def test_twenty_years_are_taken_as_they_were() -> None:
    whole = build_ensemble(invented_record(date(2006, 1, 1), date(2026, 8, 31)), today=TODAY, start=TODAY)
    assert whole.fit is None
    assert whole.traces == 20
