"""Possible seasons from a short record: half-years of different years laid end to end, and a slow shift of warmth.

Why this and no fitted generator: docs/decisions/0020-short-records-are-shuffled-by-half-years.md.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from kailyard.weather.days import year_month_slot
from kailyard.weather.record import FloatArray, IntArray

BLOCK_DAYS = 182
"""Length of the stretches that stay whole: what lasts from month to month within a season stays in (ours, measured)."""


@dataclass(frozen=True, slots=True)
class Fit:
    """How far possible seasons made from few years differ as those years do: mean warmth of the half-year ahead."""

    years: int
    made_c: float
    """Standard deviation between the possible seasons made. [°C]"""
    seen_c: float
    """Standard deviation between the years. [°C]"""

    def __str__(self) -> str:
        share = f"{self.made_c / self.seen_c:.2f}" if self.seen_c > 0 else "any number"
        return (
            f"Made from {self.years} years: half-years of different years laid end to end, and a slow shift of warmth. "
            f"Their between-season spread is {share} of the years' own (mean warmth of the half-year ahead)."
        )


def shuffled(runs: int, traces: int, *, first: int, length: int) -> IntArray:
    """Which run each possible season takes each day from. (traces, length)

    Stretches end on the same days whatever day it is asked on, so that odds do not jump from one day to the next; in
    each stretch the runs are shared out as evenly as they can be.

    Parameters
    ----------
    runs, traces : int
        Number of usable runs, and of possible seasons to make.
    first : int
        Ordinal of the first day ahead.
    length : int
        Days ahead.
    """
    phase = (np.arange(traces) * BLOCK_DAYS) // traces
    block = (first + np.arange(length)[None, :] + phase[:, None]) // BLOCK_DAYS
    low, high = int(block.min()), int(block.max())
    shared = np.arange(traces) % runs
    rows = np.stack([_dice(b).permutation(shared) for b in range(low, high + 1)], axis=1)
    return np.asarray(np.take_along_axis(rows, block - low, axis=1))


def half_years(first: int, length: int) -> tuple[IntArray, IntArray]:
    """Number of the half-year, April to September or October to March, of each day ahead; and which there are."""
    years, months, _ = year_month_slot(first + np.arange(length))
    half = (12 * years + months - 3) // 6
    return half, np.unique(half)


def lengthened(ahead: list[FloatArray], traces: int, *, first: int) -> tuple[list[FloatArray], tuple[int, ...], Fit]:
    """Runs of few years made into `traces` possible seasons.

    Laying half-years of different years end to end loses some of the spread between seasons, and a mean of few years
    is itself uncertain. So each summer half-year's warmth, and each winter one's, is shifted, alike by night and day,
    by a normal draw whose variance is what lacks: `s²·(1 + 1/n) - b²`, not below 0, where `s²` is the variance of the
    half-year's mean between the `n` runs and `b²` that between the possible seasons.

    Parameters
    ----------
    ahead : list of ndarray
        tmin, tmax, rain of the runs, (runs, length), two runs or more. [°C, mm]
    traces : int
        How many to make, not fewer than the runs.
    first : int
        Ordinal of the first day ahead.

    Returns
    -------
    list of ndarray
        The same, (traces, length).
    tuple of int
        Row of the run from which each goes on today.
    Fit
        Spread made and seen.
    """
    runs, length = ahead[0].shape
    rows = shuffled(runs, traces, first=first, length=length)
    days = np.arange(length)[None, :]
    made = [values[rows, days] for values in ahead]
    seen_mean, made_mean = (ahead[0] + ahead[1]) / 2, (made[0] + made[1]) / 2
    scores = normal_scores(traces)
    half, there = half_years(first, length)
    for each in there.tolist():
        part = half == each
        seen = float(seen_mean[:, part].mean(axis=1).var(ddof=1))
        lacks = seen * (1 + 1 / runs) - float(made_mean[:, part].mean(axis=1).var(ddof=1))
        shift = np.sqrt(max(lacks, 0.0)) * _dice(-1 - each).permutation(scores)[:, None]
        made[0][:, part] += shift
        made[1][:, part] += shift
    ahead_half = slice(0, min(BLOCK_DAYS, length))
    spread = [float(((a[0] + a[1]) / 2)[:, ahead_half].mean(axis=1).std(ddof=1)) for a in (made, ahead)]
    return made, tuple(rows[:, 0].tolist()), Fit(runs, spread[0], spread[1])


def normal_scores(traces: int) -> FloatArray:
    """Standard normal draws as evenly spread as so many can be, rising. (traces,)"""
    return np.array([NormalDist().inv_cdf((k + 0.5) / traces) for k in range(traces)])


def _dice(stretch: int) -> np.random.Generator:
    """The same draws for the same stretch on every day and machine."""
    return np.random.Generator(np.random.PCG64([7, stretch % 2**32]))
