"""The trend of the months and its shrinking, on series whose truth is known."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from weather_files import invented_record

from kailyard.weather.days import SLOTS, same_day, year_month_slot
from kailyard.weather.trend import month_means, month_slopes, slope_by_slot, smooth_by_slot


def test_every_day_has_its_calendar_slot_in_leap_and_common_years() -> None:
    days = [date(1896, 1, 1) + timedelta(days=i) for i in range(366 * 12)]
    years, months, slots = year_month_slot(np.array([d.toordinal() for d in days]))
    leap = [date(2000, d.month, d.day).timetuple().tm_yday - 1 for d in days]
    assert years.tolist() == [d.year for d in days]
    assert months.tolist() == [d.month - 1 for d in days]
    assert slots.tolist() == leap


def test_the_29th_of_february_goes_on_from_the_28th_where_there_is_none() -> None:
    assert same_day(date(2024, 2, 29), 2023) == date(2023, 2, 28)
    assert same_day(date(2024, 2, 29), 2020) == date(2020, 2, 29)


def means_of(slopes: np.ndarray, noise_c: float, n: int = 40, seed: int = 3) -> tuple[np.ndarray, np.ndarray]:
    years = np.arange(1980.0, 1980 + n)
    rng = np.random.default_rng(seed)
    return years, 10 + slopes * (years[:, None] - 2000) + rng.normal(0, noise_c, (n, 12))


def test_raw_slopes_are_those_of_least_squares() -> None:
    years, means = means_of(np.linspace(-0.05, 0.08, 12), 1.5)
    means[5:9, 3] = np.nan
    raw, _ = month_slopes(years, means)
    for month in range(12):  # numpy's own straight-line fit
        there = ~np.isnan(means[:, month])
        assert raw[month] == pytest.approx(np.polyfit(years[there], means[there, month], 1)[0], abs=1e-12)


def test_a_trend_without_noise_is_found_exactly_month_by_month() -> None:
    slopes = np.linspace(0.01, 0.08, 12)
    raw, shrunk = month_slopes(*means_of(slopes, 0.0))
    np.testing.assert_allclose(raw, slopes, atol=1e-12)
    np.testing.assert_allclose(shrunk, slopes, atol=1e-6)


def test_months_that_do_not_truly_differ_are_drawn_together() -> None:
    raw, shrunk = month_slopes(*means_of(np.full(12, 0.04), 1.5))
    assert np.ptp(shrunk) < np.ptp(raw) / 3
    assert np.mean(shrunk) == pytest.approx(0.04, abs=0.015)


def test_shrinking_comes_nearer_the_truth_than_raw_slopes_over_many_records() -> None:
    rng = np.random.default_rng(11)
    raw_error = shrunk_error = 0.0
    for seed in range(200):
        truth = 0.03 + rng.normal(0, 0.01, 12)
        raw, shrunk = month_slopes(*means_of(truth, 1.8, seed=seed))
        raw_error += float(np.sum((raw - truth) ** 2))
        shrunk_error += float(np.sum((shrunk - truth) ** 2))
    assert shrunk_error < raw_error / 2


def test_where_nothing_moved_hardly_anything_is_applied() -> None:
    applied = [np.abs(month_slopes(*means_of(np.zeros(12), 1.8, seed=s))[1]).mean() for s in range(100)]
    raw = [np.abs(month_slopes(*means_of(np.zeros(12), 1.8, seed=s))[0]).mean() for s in range(100)]
    assert np.mean(applied) < np.mean(raw) / 3
    # None at all where the common slope is within its error (about 0.68 of cases) and the months' spread within theirs
    # (chi-square of 11 below 11: 0.56).
    assert np.mean(np.array(applied) == 0) == pytest.approx(0.68 * 0.56, abs=0.15)


def test_warm_years_count_once_and_not_twelvefold() -> None:
    # All months of a year share its departure: the common slope is as uncertain as one series is.
    years = np.arange(1980.0, 2020)
    rng = np.random.default_rng(5)
    kept = []
    for _ in range(100):
        year = rng.normal(0, 1.0, 40)[:, None]
        kept.append(np.abs(month_slopes(years, 10 + year + rng.normal(0, 0.05, (40, 12)))[1]).mean() > 0)
    assert np.mean(kept) < 0.5


def test_under_ten_years_there_is_no_slope() -> None:
    raw, shrunk = month_slopes(*means_of(np.full(12, 0.5), 0.1, n=9))
    assert not raw.any()
    assert not shrunk.any()


def test_a_month_counts_with_25_days_and_not_with_24() -> None:
    days = np.arange(date(2021, 1, 1).toordinal(), date(2021, 2, 28).toordinal() + 1)
    years, months, _ = year_month_slot(days)
    values = np.ones(len(days))
    values[:7] = np.nan  # January keeps 24
    values[31:34] = np.nan  # February keeps 25
    _, means = month_means(values, years, months)
    assert np.isnan(means[0, 0])
    assert means[0, 1] == 1.0
    assert np.isnan(means[0, 2:]).all()


def test_slopes_are_drawn_straight_between_month_middles_and_round_the_year() -> None:
    slopes = np.arange(12.0)
    by_slot = slope_by_slot(slopes)
    assert by_slot.shape == (SLOTS,)
    # 1 January lies half way between the middles of December and January, both months of 31 days.
    assert by_slot[0] == pytest.approx(5.5, abs=0.2)
    assert by_slot[15] == pytest.approx(0.0, abs=1e-9)
    assert by_slot[SLOTS - 16] == pytest.approx(11.0, abs=1e-9)


def test_the_smooth_climate_finds_a_wave_again_through_gaps() -> None:
    record = invented_record(date(1990, 1, 1), date(2019, 12, 31), spread_c=2.0)
    _, _, slots = year_month_slot(record.first.toordinal() + np.arange(len(record)))
    mean = (record.tmin_c + record.tmax_c) / 2
    mean[5000:5400] = np.nan
    smooth = smooth_by_slot(mean, slots)
    truth = 10 - 10 * np.cos(2 * np.pi * (np.arange(SLOTS) - 14) / SLOTS)
    assert np.abs(smooth - truth).max() < 0.6


def test_no_value_at_all_has_no_climate() -> None:
    assert np.isnan(smooth_by_slot(np.full(400, np.nan), np.arange(400) % SLOTS)).all()
