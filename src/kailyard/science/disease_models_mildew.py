"""Powdery mildews by the weather. They need no free water, and free water hinders them.

No method here for powdery mildew takes leaf wetness, but for the rain-borne first infection of grape.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science._disease_tables import DAYS_H, RAIN_MM, WET_H, known
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Quantity, reckoner

INDEX = Quantity("", 0, 100)

GRAPE_GOOD_C = (21.0, 30.0)
"""Hours between these favour powdery mildew of grape (70 to 85 °F as first printed)."""
GRAPE_HOT_C = 35.0
"""A quarter of an hour at this sets it back (95 °F)."""
CUCURBIT_LATENT_DAYS = (3, 7)
"""Days from infection to the first white spots on squash, cucumber and melon. (Cornell gallery)"""


@reckoner(
    gives={"index": ""},
    source="Thomas, Gubler and Leavitt 1994; Gubler et al. 1999, American Phytopathological Society",
    status="published",
    example={"good_hours": [7, 8, 6, 9, 4], "hot_hours": [0, 0, 0, 0, 0]},
)
def grape_mildew_index(
    good_hours: Annotated[ArrayLike, DAYS_H],
    hot_hours: Annotated[ArrayLike, DAYS_H],
    *,
    index_before: Annotated[float | None, INDEX] = None,
) -> FloatArray:
    """Index of powdery mildew of grape, 0 to 100, day by day from the first infection on.

    Parameters
    ----------
    good_hours : array_like, (..., days)
        The longest run of hours at 21 to 30 °C in each day, 0 to 24. [h]
    hot_hours : array_like, (..., days)
        Hours of each day at 35 °C and more, 0 to 24. [h]
    index_before : float, optional
        Index of the day before the run, 0 to 100, where it has begun to count; else it begins within the run. [1]

    Returns
    -------
    ndarray
        Index at the end of each day. A day that is missing leaves that day and all after it missing. [1]

    Raises
    ------
    InputError
        If a value is out of range or the runs differ in length.

    Formula
    -------
    to begin: three days in a row with 6 good hours: 20, 40, 60; a day without them before the third: back to 0
    then each day: +20 with 6 good hours, else −10; where 0.25 h or more were hot: +10 with 6 good hours, else −10
    held between 0 and 100

    References
    ----------
    .. [1] C. S. Thomas, W. D. Gubler and G. Leavitt, 1994.
    .. [2] W. D. Gubler et al., "Control of powdery mildew using the UC Davis powdery mildew risk index", 1999.
    """
    good, hot = DAYS_H.see("good_hours", good_hours), DAYS_H.see("hot_hours", hot_hours)
    if good.ndim == 0 or good.shape != hot.shape:
        raise InputError("good_hours and hot_hours: runs of days of the same length are needed.")
    begun = index_before is not None
    first = INDEX.hold_number("index_before", index_before) if index_before is not None else 0.0
    fits = good >= 6
    step = known(np.where(fits, np.where(hot >= 0.25, 10.0, 20.0), -10.0), good, hot)
    index = np.full(good.shape[:-1], first)
    counting = np.full(good.shape[:-1], begun)
    out = np.empty(good.shape)
    for day in range(good.shape[-1]):
        climbed = np.where(fits[..., day], index + 20, 0.0 * step[..., day])
        index = np.where(counting, np.clip(index + step[..., day], 0, 100), climbed + 0.0 * step[..., day])
        counting = counting | (index >= 60)
        out[..., day] = index
    return out


@reckoner(
    gives={"infection": ""},
    source="Thomas et al. 1994; Weber, Gubler and Derr 1996, as summaries cite them",
    status="published",
    example={"temp_c": 13, "wet_h": 9, "rain_mm": 4},
)
def grape_mildew_first_infection(
    temp_c: Annotated[ArrayLike, AIR_C],
    *,
    wet_h: Annotated[ArrayLike, WET_H],
    rain_mm: Annotated[ArrayLike, RAIN_MM],
) -> FloatArray:
    """Whether rain lets the first powdery mildew of the year out on grape: after it the index is counted.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60. [°C]
    wet_h : array_like
        Hours of leaf wetness that the rain left, 0 to 100000. [h]
    rain_mm : array_like
        That rain, 0 to 2000. [mm]

    Returns
    -------
    ndarray
        1 or 0, by the shorter of the hours printed (8 to 12); NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    infection: rain ≥ 2.5 mm, then ≥ 8 h of wet leaves at 10 to 15 °C
    """
    t, w, r = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h), RAIN_MM.see("rain_mm", rain_mm)
    return known(1.0 * ((r >= 2.5) & (w >= 8) & (t >= 10) & (t <= 15)), t, w, r)


@reckoner(
    gives={"infects": ""},
    source="Cornell University, Long Island research center gallery, cucurbit powdery mildew",
    status="published",
    example={"temp_c": 24},
)
def cucurbit_powdery_mildew_warmth(temp_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """How warmth suits powdery mildew of squash, cucumber and melon: 0 not at all, 1 it can infect, 2 best.

    No weather index is published for it in gardens, and this is none. Dry air does not rule it out, it needs no free
    water, and free water hinders it: neither is asked for. A laboratory saw spores germinate from 15 to 30 °C only, and
    best at 25 °C; the wider range holds here.

    Parameters
    ----------
    temp_c : array_like
        Temperature of the hour or the day, -60 to 60. [°C]

    Returns
    -------
    ndarray
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    0: below 10 or above 32 °C;  1: 10 to 32 °C;  2: 20 to 27 °C
    """
    t = AIR_C.see("temp_c", temp_c)
    return known(1.0 * ((t >= 10) & (t <= 32)) + 1.0 * ((t >= 20) & (t <= 27)), t)


@reckoner(
    gives={"halted": ""},
    source="Cornell University, Long Island research center gallery, cucurbit powdery mildew",
    status="published",
    example={"tmax_c": 39},
)
def cucurbit_powdery_mildew_halted(tmax_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """Whether the day's heat halts powdery mildew of squash, cucumber and melon in the field.

    Parameters
    ----------
    tmax_c : array_like
        The day's highest air temperature, -60 to 60. [°C]

    Returns
    -------
    ndarray
        1 or 0; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    halted at 38 °C and more
    """
    t = AIR_C.see("tmax_c", tmax_c)
    return known(1.0 * (t >= 38), t)
