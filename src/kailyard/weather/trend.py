"""How the months have moved, shrunk to what the record can bear out, and the smooth climate of each calendar day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kailyard.weather.days import SLOTS
from kailyard.weather.record import FloatArray, IntArray

LEAST_YEARS_FOR_TREND = 10
"""Under this many values of a month its slope is not reckoned and counts as none (ours)."""
HARMONICS = 3
"""Waves a year in the smooth climate: the yearly one, the half and the third of it (common practice)."""

_DAYS_PRESENT = 25
"""Days of a month that must be there for its mean to count: some four in five."""
# Slot of each month's first day and of its middle; slots count 29 February always, see `days`.
_STARTS = np.array([0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366])
_MIDDLES = (_STARTS[:-1] + _STARTS[1:]) / 2


@dataclass(frozen=True, slots=True, eq=False)
class Trend:
    """How the months have moved over the years used, shrunk towards their common mean and towards none.

    `tmin_c_year`, `tmax_c_year`: 12 slopes, January first [°C a year]; `*_raw` before shrinking. A month with too few
    years has slope 0 in both.
    """

    tmin_c_year: FloatArray
    tmax_c_year: FloatArray
    tmin_raw: FloatArray
    tmax_raw: FloatArray
    applied: bool


def month_means(values: FloatArray, years: IntArray, months: IntArray) -> tuple[FloatArray, FloatArray]:
    """Mean of each month of each year.

    Parameters
    ----------
    values, years, months : ndarray
        One a day; NaN is missing; January is month 0.

    Returns
    -------
    ndarray
        (years,) the years from first to last.
    ndarray
        (years, 12) means; NaN where fewer than 25 days are there.
    """
    first = int(years.min())
    n = int(years.max()) - first + 1
    at = (years - first) * 12 + months
    good = ~np.isnan(values)
    count = np.bincount(at[good], minlength=n * 12)
    total = np.bincount(at[good], weights=values[good], minlength=n * 12)
    means = np.where(count >= _DAYS_PRESENT, total / np.maximum(count, 1), np.nan)
    return np.arange(first, first + n, dtype=np.float64), means.reshape(n, 12)


def month_slopes(years: FloatArray, means: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Least-squares slope of each month over the years, raw and shrunk. (12,) each. [per year]

    The shrinking is empirical Bayes. Months share a common slope; the spread of the months about it beyond their own
    standard errors is estimated by the method of moments [1]_, and each month keeps the share of its departure that
    this spread bears out. The common slope is then shrunk towards none by the share `1 - se²/slope²`, not below 0,
    where `se` comes from the departures of whole years, so that warm months of one warm year do not count twelvefold.

    References
    ----------
    .. [1] R. DerSimonian and N. Laird, "Meta-analysis in clinical trials", Controlled Clinical Trials 7, 1986,
       177-188 (from memory).
    """
    there = ~np.isnan(means)
    n = np.count_nonzero(there, axis=0)
    use = n >= LEAST_YEARS_FOR_TREND
    raw = np.zeros(12)
    if not use.any():
        return raw, raw.copy()
    x = np.where(there, years[:, None], 0.0)
    x_mean = x.sum(axis=0) / np.maximum(n, 1)
    dx = np.where(there, years[:, None] - x_mean, 0.0)
    y_mean = np.where(there, means, 0.0).sum(axis=0) / np.maximum(n, 1)
    dy = np.where(there, means - y_mean, 0.0)
    sxx = np.where(use, (dx * dx).sum(axis=0), 1.0)
    raw = np.where(use, (dx * dy).sum(axis=0) / sxx, 0.0)
    residual = dy - raw * dx
    variance = np.maximum((residual * residual).sum(axis=0) / np.maximum(n - 2, 1), 1e-12) / sxx

    weight = np.where(use, 1 / variance, 0.0)
    common = float((weight * raw).sum() / weight.sum())
    months = int(np.count_nonzero(use))
    spread = 0.0
    if months > 1:
        q = float((weight * (raw - common) ** 2).sum())
        spread = max(0.0, (q - (months - 1)) / float(weight.sum() - (weight**2).sum() / weight.sum()))
    month_share = spread / (spread + variance)

    in_year = there & use
    whole = np.count_nonzero(in_year, axis=1)
    kept = whole > 0
    yearly = (residual * in_year).sum(axis=1)[kept] / whole[kept]
    year = years[kept] - years[kept].mean()
    se2 = max(float((yearly**2).sum()) / max(len(year) - 2, 1), 1e-12) / float((year**2).sum())
    common_share = max(0.0, 1 - se2 / common**2) if common else 0.0
    shrunk = np.where(use, common_share * common + month_share * (raw - common), 0.0)
    return raw, shrunk


def slope_by_slot(slopes: FloatArray) -> FloatArray:
    """Slopes of the twelve months drawn straight from month middle to month middle, one a calendar slot. (366,)"""
    return np.asarray(np.interp(np.arange(SLOTS) + 0.5, _MIDDLES, slopes, period=SLOTS))


def smooth_by_slot(values: FloatArray, slots: IntArray) -> FloatArray:
    """Smooth yearly course of daily values: a mean and three waves fitted by least squares. (366,)

    NaN in `values` is left out. With no value at all the course is NaN.
    """
    good = ~np.isnan(values)
    count = np.bincount(slots[good], minlength=SLOTS).astype(np.float64)
    if not count.any():
        return np.full(SLOTS, np.nan)
    total = np.bincount(slots[good], weights=values[good], minlength=SLOTS)
    root = np.sqrt(count)
    mean = total / np.maximum(count, 1)
    waves = _waves()
    solved, *_ = np.linalg.lstsq(waves * root[:, None], mean * root, rcond=None)
    return np.asarray(waves @ solved)


def _waves() -> FloatArray:
    phase = 2 * np.pi * (np.arange(SLOTS) + 0.5) / SLOTS
    columns = [np.ones(SLOTS)]
    for k in range(1, HARMONICS + 1):
        columns += [np.cos(k * phase), np.sin(k * phase)]
    return np.stack(columns, axis=1)
