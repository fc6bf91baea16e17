"""From hours to what the disease models ask for: spells of wet or humid hours, and days of them.

Hours lie along the last axis. 1 is wet (or humid, or light), 0 is not; a missing hour counts as not, so that whoever
asks must look at `days_unknown` as well.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from kailyard.science.checks import FloatArray, InputError

BoolArray = NDArray[np.bool_]
DAY = 24


class Spell(NamedTuple):
    """A spell as it stands at each hour, or where it ends."""

    hours: FloatArray
    """Hours counted; 0 where there is none. [h]"""
    mean_c: FloatArray
    """Mean temperature of the hours counted; 0 where there is none. [°C]"""


def _after(on: BoolArray) -> NDArray[np.int32]:
    """For each hour the number (from 1) of the last hour up to it that is on; 0 where there was none."""
    numbers = np.arange(1, on.shape[-1] + 1, dtype=np.int32)
    return np.maximum.accumulate(np.where(on, numbers, np.int32(0)), axis=-1)


def _since(total: FloatArray, at: NDArray[np.int32]) -> FloatArray:
    """Running total since just before the hour numbered `at`."""
    before = np.concatenate([np.zeros((*total.shape[:-1], 1)), total], axis=-1)
    return np.asarray(total - np.take_along_axis(before, np.maximum(at - 1, 0), axis=-1))


def spell_so_far(
    temp_c: FloatArray, wet: FloatArray, *, parted_by_h: int = 1, daylight: FloatArray | None = None
) -> Spell:
    """The wet spell that each wet hour belongs to, as far as it has come.

    Parameters
    ----------
    temp_c, wet : ndarray, (..., hours)
        Temperature [°C]; 1 where leaves are wet [1].
    parted_by_h : int
        So many dry hours part two spells; fewer are bridged and not counted. [h]
    daylight : ndarray, optional
        1 where it is light: then hours of a spell that begins in the dark count from its first light hour on.

    Returns
    -------
    Spell
        0 at dry hours.

    References
    ----------
    .. [1] The joining and the daylight rule: MacHardy and Gadoury 1989 (8 h, sunrise).
    """
    on = wet > 0
    last = _after(on)
    before = np.concatenate([np.zeros((*on.shape[:-1], 1), dtype=np.int32), last[..., :-1]], axis=-1)
    gap = np.arange(on.shape[-1], dtype=np.int32) - before
    begins = on & ((before == 0) | (gap >= parted_by_h))
    began = _after(begins)
    counted = on
    if daylight is not None:
        counted = on & (_after(daylight > 0) >= began)
    hours = _since(np.cumsum(counted, axis=-1, dtype=np.float64), began)
    warmth = _since(np.cumsum(np.where(counted, temp_c, 0.0), axis=-1), began)
    hours = np.where(on, hours, 0.0)
    return Spell(hours, np.where(hours > 0, warmth / np.maximum(hours, 1), 0.0))


def with_spell_before(temp_c: FloatArray, wet: FloatArray, *, bridged_h: int) -> Spell:
    """The wet spell of each wet hour together with the one before it, where the dry break between is short enough.

    One break is bridged and no more: a row of dewy nights is not one long spell.

    Parameters
    ----------
    temp_c, wet : ndarray, (..., hours)
        Temperature [°C]; 1 where leaves are wet [1].
    bridged_h : int
        The longest dry break that is bridged. [h]

    Returns
    -------
    Spell
        0 at dry hours.
    """
    now = spell_so_far(temp_c, wet)
    on = wet > 0
    last = _after(on)
    before = np.concatenate([np.zeros((*on.shape[:-1], 1), dtype=np.int32), last[..., :-1]], axis=-1)
    began = _after(on & (before < np.arange(on.shape[-1], dtype=np.int32)) | (on & (before == 0)))
    ended = np.take_along_axis(before, np.maximum(began - 1, 0), axis=-1)
    joins = on & (ended > 0) & (began - 1 - ended <= bridged_h)
    at = np.maximum(ended - 1, 0)
    hours = np.where(joins, np.take_along_axis(now.hours, at, axis=-1), 0.0)
    mean = np.take_along_axis(now.mean_c, at, axis=-1)
    total = now.hours + hours
    return Spell(total, np.where(on, (now.hours * now.mean_c + hours * mean) / np.maximum(total, 1), 0.0))


def spells_ending(temp_c: FloatArray, humid: NDArray[Any], *, most_h: int) -> Spell:
    """Spells of hours in a row, told at the hour at which each ends.

    One that lasts longer than `most_h` is told there and counted anew, so that a wet week is not counted as one night.

    Parameters
    ----------
    temp_c, humid : ndarray, (..., hours)
        Temperature [°C]; 1 where the hour belongs to a spell [1].
    most_h : int
        The longest that the table in question tells of. [h]

    Returns
    -------
    Spell
        0 at hours at which no spell ends.
    """
    on = humid > 0
    numbers = np.arange(1, on.shape[-1] + 1, dtype=np.int32)
    run = np.where(on, numbers - _after(~on), 0)
    part = np.where(on, (run - 1) % most_h + 1, 0)
    next_on = np.concatenate([on[..., 1:], np.zeros((*on.shape[:-1], 1), dtype=bool)], axis=-1)
    ends = on & (~next_on | (part == most_h))
    warmth = _since(np.cumsum(np.where(on, temp_c, 0.0), axis=-1), (numbers - part + 1).astype(np.int32))
    hours = np.where(ends, part, 0).astype(np.float64)
    return Spell(hours, np.where(ends, warmth / np.maximum(part, 1), 0.0))


def by_days(hours: NDArray[Any]) -> FloatArray:
    """The same, one row of 24 hours a day: (..., days, 24).

    Raises
    ------
    InputError
        If the hours are no whole days.
    """
    if hours.ndim == 0 or hours.shape[-1] % DAY:
        raise InputError("hours: whole days of 24 hours are needed along the last axis.")
    return hours.reshape(*hours.shape[:-1], -1, DAY)


def wet_days(temp_c: FloatArray, wet: FloatArray) -> Spell:
    """Wet hours of each 24 hours, and the mean temperature of them.

    Parameters
    ----------
    temp_c, wet : ndarray, (..., days × 24)
        Temperature [°C]; 1 where leaves are wet [1].

    Returns
    -------
    Spell
        One value a day.
    """
    on = by_days(wet) > 0
    hours = on.sum(axis=-1).astype(np.float64)
    warmth = np.where(on, by_days(temp_c), 0.0).sum(axis=-1)
    return Spell(hours, np.where(hours > 0, warmth / np.maximum(hours, 1), 0.0))


def longest_run(on: NDArray[Any]) -> FloatArray:
    """Most hours in a row within each 24 hours. [h]"""
    days = by_days(on)
    run = np.zeros(days.shape[:-1])
    most = run.copy()
    for hour in range(DAY):
        run = np.where(days[..., hour] > 0, run + 1, 0.0)
        np.maximum(most, run, out=most)
    return most


def days_unknown(*columns: FloatArray) -> BoolArray:
    """Days of which nothing may be said: an hour of any column is missing in them, or the last of the day before.

    A missing hour just before a day may hide the beginning of a spell that runs into it.
    """
    missing = np.isnan(columns[0])
    for each in columns[1:]:
        missing = missing | np.isnan(each)
    days = missing.reshape(*missing.shape[:-1], -1, DAY)
    late = np.concatenate([np.zeros((*days.shape[:-2], 1), dtype=bool), days[..., :-1, -1]], axis=-1)
    return np.asarray(days.any(axis=-1) | late)
