"""When a step of an insect's life comes, from a sum of warmth: each sum in its own way, from its own start.

Sums of different bases, starts or methods are never added: each function takes one base and one start.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.degree_days import (
    LOWER_C,
    UPPER_C,
    simple_degree_days,
    single_sine_degree_days,
)
from kailyard.science.reckon import Choice, Quantity, reckoner

WAY = Choice(("simple", "sine", "sine intermediate"))
DAYS_C = Quantity("°C", -60, 60, series=True)
DAY_INDEX = Quantity("d", 0, 5000)
SUM = Quantity("°C·d", 0, 20000)
DEGREE_DAYS = Quantity("°C·d", -200, 100, series=True)


@reckoner(
    gives={"degree_days": "°C·d"},
    source="simple average: McMaster and Wilhelm 1997; single sine: Baskerville and Emin 1969, Zalom et al. 1983",
    status="published",
    example={"tmin_days_c": [8, 9, 12], "tmax_days_c": [19, 24, 27], "lower_c": 10},
)
def insect_degree_days(
    tmin_days_c: Annotated[ArrayLike, DAYS_C],
    tmax_days_c: Annotated[ArrayLike, DAYS_C],
    *,
    lower_c: Annotated[float, LOWER_C],
    upper_c: Annotated[float | None, UPPER_C] = None,
    way: Annotated[str, WAY] = "simple",
) -> FloatArray:
    """Warmth of each day that an insect makes use of, counted as the paper of its sum counted.

    Parameters
    ----------
    tmin_days_c : array_like, (..., days)
        The day's lowest temperature, -60 to 60; for insects in the soil the soil's. [°C]
    tmax_days_c : array_like, (..., days)
        The day's highest temperature, -60 to 60. [°C]
    lower_c : float
        Threshold below which nothing counts, -20 to 50. [°C]
    upper_c : float, optional
        Threshold above which no more counts, -10 to 60. [°C]
    way : str
        The simple average of the day; a sine with a horizontal cutoff; a sine with the intermediate cutoff as it is
        printed.

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        If a value is out of range, a minimum above its maximum, or the thresholds crossed.

    Formula
    -------
    simple: simple_degree_days;  sine: single_sine_degree_days, cutoff horizontal
    sine intermediate: single_sine_degree_days, cutoff intermediate
    """
    low, high = DAYS_C.see("tmin_days_c", tmin_days_c), DAYS_C.see("tmax_days_c", tmax_days_c)
    not_above("tmin_days_c", low, "tmax_days_c", high)
    base = LOWER_C.hold_number("lower_c", lower_c)
    top = None if upper_c is None else UPPER_C.hold_number("upper_c", upper_c)
    if WAY.hold("way", way) == "simple":
        return simple_degree_days(low, high, lower_c=base, upper_c=top)
    cutoff = "intermediate" if way == "sine intermediate" else "horizontal"
    if top is None:
        return single_sine_degree_days(low, high, lower_c=base)
    return single_sine_degree_days(low, high, lower_c=base, upper_c=top, cutoff=cutoff)


@reckoner(
    gives={"day": "d"},
    source="first day at whose end the sum is reached (definition)",
    status="common practice",
    example={"degree_days": [4, 5, 6, 7], "first_day": 1, "total": 10},
)
def day_of_total(
    degree_days: Annotated[ArrayLike, DEGREE_DAYS],
    *,
    first_day: Annotated[ArrayLike, DAY_INDEX],
    total: Annotated[ArrayLike, SUM],
) -> FloatArray:
    """Index of the first day at whose end a sum of warmth, begun on a day, has reached what a step of life asks for.

    Parameters
    ----------
    degree_days : array_like, (..., days)
        Of each day, as `insect_degree_days` gives them, -200 to 100. [°C·d]
    first_day : array_like, (...)
        Index of the first day that counts, 0 to 5000: of what was seen on a day the next one. [d]
    total : array_like, (...)
        What is asked for, 0 to 20000. [°C·d]

    Returns
    -------
    ndarray, (...)
        NaN where the run ends before, or begins after its end. A missing day leaves missing what comes after it. [d]

    Raises
    ------
    InputError
        If a value is out of range or `degree_days` a single number.

    Formula
    -------
    the first d ≥ first_day with Σ degree_days(first_day..d) ≥ total
    """
    warmth = DEGREE_DAYS.see("degree_days", degree_days)
    start, asked = DAY_INDEX.see("first_day", first_day), SUM.see("total", total)
    if warmth.ndim == 0:
        raise InputError("degree_days: a run of days is needed, along the last axis.")
    days = np.arange(warmth.shape[-1])
    counted = np.cumsum(np.where(days < start[..., np.newaxis], 0.0, warmth), axis=-1)
    # The intermediate cutoff takes away on hot days: what is reached stays reached.
    there = (np.maximum.accumulate(counted, axis=-1) >= asked[..., np.newaxis]) & (days >= start[..., np.newaxis])
    return np.asarray(np.where(there.any(axis=-1), np.argmax(there, axis=-1), np.nan))
