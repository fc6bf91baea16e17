"""Degree-days of a day from its lowest and highest temperature. Each way of counting is a function of its own.

A published sum holds only for the way in which it was counted: never mix them.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, extremes
from kailyard.science._blocks import in_blocks
from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.reckon import Choice, Quantity, reckoner

LOWER_C = Quantity("°C", -20, 50)
UPPER_C = Quantity("°C", -10, 60)
CUTOFF = Choice(("horizontal", "intermediate", "floored", "vertical"))

_ZALOM = "cut-offs as Zalom et al. 1983, Univ. of California 21373"
_EXAMPLE = {"tmin_c": 8, "tmax_c": 24, "lower_c": 10, "upper_c": 30}


def _limits(lower_c: ArrayLike, upper_c: ArrayLike | None) -> tuple[FloatArray, FloatArray]:
    """Both limits; without an upper one it stands at infinity."""
    lower = LOWER_C.hold("lower_c", lower_c)
    if upper_c is None:
        return lower, np.array(np.inf)
    upper = UPPER_C.hold("upper_c", upper_c)
    not_above("lower_c", lower, "upper_c", upper, equal=False)
    return lower, upper


@reckoner(
    gives={"degree_days": "°C·d"},
    source="McMaster and Wilhelm 1997, Agric. For. Meteorol. 87:291-300, method 1",
    status="published",
    example=_EXAMPLE,
)
def simple_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike | None, UPPER_C] = None,
) -> FloatArray:
    """Degree-days from the daily mean: half of minimum plus maximum, held to the upper limit, less the lower.

    It is the MEAN that is held (to `upper_c` where given, and never counted below `lower_c`); the extremes are not
    touched. A warm afternoon after a cold night therefore counts for nothing here: `held_degree_days` counts it.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    lower_c : array_like
        Below it nothing counts, -20 to 50. [°C]
    upper_c : array_like, optional
        Above it no more counts, -10 to 60, above `lower_c`. [°C]

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; 0 or more; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        If a value is out of range, a minimum above its maximum, or `lower_c` not below `upper_c`.

    Formula
    -------
    DD = min[(Tmax + Tmin) / 2, Tupper] − Tlower, never below 0. (from memory; published values are met)

    References
    ----------
    .. [1] G. S. McMaster and W. W. Wilhelm, "Growing degree-days: one equation, two interpretations", Agric. For.
       Meteorol. 87, 1997, pp. 291-300, method 1.
    """
    low, high = extremes(tmin_c, tmax_c)
    lower, upper = _limits(lower_c, upper_c)
    mean = np.minimum((low + high) / 2, upper)
    return np.asarray(np.maximum(mean - lower, 0))


@reckoner(
    gives={"degree_days": "°C·d"},
    source="McMaster and Wilhelm 1997, Agric. For. Meteorol. 87:291-300, method 2; with 10 and 30 °C the 86/50 rule",
    status="published",
    example=_EXAMPLE,
)
def held_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike | None, UPPER_C] = None,
) -> FloatArray:
    """Degree-days with minimum and maximum each held to both limits before the mean is taken (the 86/50 way).

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    lower_c : array_like
        Lower limit, -20 to 50; for sweet corn 10. [°C]
    upper_c : array_like, optional
        Upper limit, -10 to 60, above `lower_c`; for sweet corn 30. [°C]

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; never less than `simple_degree_days` while no value passes the upper
        limit; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        As `simple_degree_days`.

    Formula
    -------
    DD = [held(Tmax) + held(Tmin)] / 2 − Tlower,  held(T) = T, but not below Tlower nor above Tupper.
    (from memory; published values are met)

    References
    ----------
    .. [1] G. S. McMaster and W. W. Wilhelm, Agric. For. Meteorol. 87, 1997, pp. 291-300, method 2.
    """
    low, high = extremes(tmin_c, tmax_c)
    lower, upper = _limits(lower_c, upper_c)
    return np.asarray((np.clip(low, lower, upper) + np.clip(high, lower, upper)) / 2 - lower)


@reckoner(
    gives={"degree_days": "°C·d"},
    source="Rule of the FAO crop model AquaCrop 6.1, as its 75 printed season totals show it",
    status="published",
    example=_EXAMPLE,
)
def fao_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike, UPPER_C],
) -> FloatArray:
    """Degree-days the FAO crop model's way: the minimum is held at the upper limit only, then the mean at the lower.

    For sums taken from FAO crop files ('GDD calendar'). A cold night counts against the day, as in
    `simple_degree_days`; a hot afternoon is held, as in `held_degree_days`.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    lower_c, upper_c : array_like
        Base and upper temperature, -20 to 50 and -10 to 60. [°C]

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; 0 or more; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        As `simple_degree_days`.

    Formula
    -------
    GDD = Tavg − Tbase;  Tavg = (Tx* + Tn*) / 2, not below Tbase
    with Tx* = tmax_c held between Tbase and Tupper, Tn* = tmin_c held at Tupper only.
    (from memory; published values are met)

    References
    ----------
    .. [1] D. Raes, P. Steduto, T. C. Hsiao and E. Fereres, "AquaCrop reference manual", FAO, Rome, 2018 (from memory;
       the rule was confirmed by the program's printed totals).
    """
    low, high = extremes(tmin_c, tmax_c)
    lower, upper = _limits(lower_c, upper_c)
    mean = (np.minimum(low, upper) + np.clip(high, lower, upper)) / 2
    return np.asarray(np.maximum(mean, lower) - lower)


def _sine_parts(threshold: FloatArray, low: FloatArray, high: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Mean over a sine day of what lies above the threshold, and the share of the day spent above it."""
    mean, amplitude = (high + low) / 2, (high - low) / 2
    still = np.where(threshold >= mean, 1.0, -1.0)
    moving = amplitude > 1e-9  # a smaller swing is no swing, and would overflow the quotient
    x = np.where(moving, np.clip((threshold - mean) / np.where(moving, amplitude, 1.0), -1, 1), still)
    half_span = np.arccos(x)
    return ((mean - threshold) * half_span + amplitude * np.sqrt(1 - x * x)) / np.pi, half_span / np.pi


def _triangle_parts(threshold: FloatArray, low: FloatArray, high: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The same under straight lines: temperature is spread evenly between the extremes."""
    moving = high - low > 1e-9
    share = np.clip((high - threshold) / np.where(moving, high - low, 1.0), 0, 1)
    share = np.where(moving, share, np.where(threshold < high, 1.0, 0.0))
    # Above the threshold the mean is half-way from it (or from the minimum, if that is higher) to the maximum.
    return share * ((high + np.maximum(low, np.minimum(threshold, high))) / 2 - threshold), share


def _under(
    parts: Callable[[FloatArray, FloatArray, FloatArray], tuple[FloatArray, FloatArray]],
    low: FloatArray,
    high: FloatArray,
    lower_c: ArrayLike,
    upper_c: ArrayLike | None,
    cutoff: str,
) -> FloatArray:
    """Degree-days under one curve through both extremes: the excess above the lower threshold, cut at the upper."""
    lower, upper = _limits(lower_c, upper_c)
    CUTOFF.hold("cutoff", cutoff)
    if upper_c is None:
        if cutoff != "horizontal":
            raise InputError(f"cutoff: '{cutoff}' needs upper_c.")
        return in_blocks(lambda low, high, lower: parts(lower, low, high)[0], low, high, lower)

    def cut(low: FloatArray, high: FloatArray, lower: FloatArray, upper: FloatArray) -> FloatArray:
        counted, (beyond, share) = parts(lower, low, high)[0], parts(upper, low, high)
        if cutoff == "horizontal":
            return counted - beyond
        if cutoff == "vertical":
            return np.asarray(counted - beyond - (upper - lower) * share)
        if cutoff == "intermediate":
            return np.asarray(counted - 2 * beyond)
        return np.asarray(counted - 2 * beyond + parts(2 * upper - lower, low, high)[0])

    return in_blocks(cut, low, high, lower, upper)


def _next(tmin_next_c: ArrayLike, high: FloatArray) -> FloatArray:
    following = AIR_C.hold("tmin_next_c", tmin_next_c)
    not_above("tmin_next_c", following, "tmax_c", high)
    return following


@reckoner(
    gives={"degree_days": "°C·d"},
    source=f"Baskerville and Emin 1969, Ecology 50:514-517; {_ZALOM}",
    status="published",
    example=_EXAMPLE,
)
def single_sine_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike | None, UPPER_C] = None,
    cutoff: Annotated[str, CUTOFF] = "horizontal",
) -> FloatArray:
    """Degree-days under one sine curve through the day's minimum and maximum, in closed form.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    lower_c : array_like
        Lower threshold, -20 to 50. [°C]
    upper_c : array_like, optional
        Upper threshold, -10 to 60, above `lower_c`. [°C]
    cutoff : {'horizontal', 'intermediate', 'floored', 'vertical'}
        What happens above `upper_c`. Horizontal: the rate stays level. Intermediate: it falls as fast as it rose, and
        is not stopped at zero, so that beyond twice the upper less the lower it counts against the day. Floored: the
        same, stopped at zero. Vertical: nothing counts.

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        As `simple_degree_days`; also if `cutoff` is none of the four, or needs an upper threshold that is not given.

    Formula
    -------
    DD(θ) = [(M − θ) (π/2 − x) + W cos x] / π,  x = arcsin[(θ − M) / W], held between −π/2 and π/2
    with M = (Tmax + Tmin) / 2, W = (Tmax − Tmin) / 2, θ a threshold.
    above Tupper: horizontal DD(Tlower) − DD(Tupper); intermediate DD(Tlower) − 2 DD(Tupper); floored adds
        DD(2 Tupper − Tlower); vertical DD(Tlower) − DD(Tupper) − (Tupper − Tlower) × share of the day above Tupper
    (the area under the curve, from its definition)

    References
    ----------
    .. [1] G. L. Baskerville and P. Emin, "Rapid estimation of heat accumulation from maximum and minimum
       temperatures", Ecology 50, 1969, pp. 514-517.
    .. [2] F. G. Zalom et al., "Degree-days: the calculation and use of heat units in pest management", Univ. of
       California DANR Leaflet 21373, 1983 (definition of the cut-offs; not seen in full).
    """
    low, high = extremes(tmin_c, tmax_c)
    return _under(_sine_parts, low, high, lower_c, upper_c, cutoff)


@reckoner(
    gives={"degree_days": "°C·d"},
    source=f"Allen 1976, Environ. Entomol. 5:388-396 (from memory); {_ZALOM}",
    status="published",
    example={**_EXAMPLE, "tmin_next_c": 10},
)
def double_sine_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    tmin_next_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike | None, UPPER_C] = None,
    cutoff: Annotated[str, CUTOFF] = "horizontal",
) -> FloatArray:
    """Degree-days under two half sines: up from the day's minimum, down to that of the next day.

    Parameters, returns, errors and reference [2] as `single_sine_degree_days`; `tmin_next_c` is the next day's lowest,
    not above today's highest. [°C]

    Formula
    -------
    DD = ½ DD(Tmin, Tmax) + ½ DD(Tmin,next, Tmax), each by single_sine_degree_days.

    References
    ----------
    .. [1] J. C. Allen, "A modified sine wave method for calculating degree days", Environ. Entomol. 5, 1976,
       pp. 388-396 (from memory).
    """
    low, high = extremes(tmin_c, tmax_c)
    rising = _under(_sine_parts, low, high, lower_c, upper_c, cutoff)
    return np.asarray((rising + _under(_sine_parts, _next(tmin_next_c, high), high, lower_c, upper_c, cutoff)) / 2)


@reckoner(
    gives={"degree_days": "°C·d"},
    source=f"definition: straight lines between the extremes; {_ZALOM}",
    status="published",
    example=_EXAMPLE,
)
def single_triangle_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike | None, UPPER_C] = None,
    cutoff: Annotated[str, CUTOFF] = "horizontal",
) -> FloatArray:
    """Degree-days under straight lines up to the day's maximum and back down to the same minimum.

    Parameters, returns, errors and reference [2] as `single_sine_degree_days`.

    Formula
    -------
    DD(θ) = s × (mean of what lies above θ): s = (Tmax − θ) / (Tmax − Tmin), held between 0 and 1, is the share of the
        day above θ, and that mean is half-way from the higher of θ and Tmin to Tmax, less θ.
    above Tupper: as single_sine_degree_days (from the definition)
    """
    low, high = extremes(tmin_c, tmax_c)
    return _under(_triangle_parts, low, high, lower_c, upper_c, cutoff)


@reckoner(
    gives={"degree_days": "°C·d"},
    source=f"definition: straight lines between the extremes; {_ZALOM}",
    status="published",
    example={**_EXAMPLE, "tmin_next_c": 10},
)
def double_triangle_degree_days(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    tmin_next_c: Annotated[ArrayLike, AIR_C],
    *,
    lower_c: Annotated[ArrayLike, LOWER_C],
    upper_c: Annotated[ArrayLike | None, UPPER_C] = None,
    cutoff: Annotated[str, CUTOFF] = "horizontal",
) -> FloatArray:
    """Degree-days under straight lines up to the day's maximum and down to the next day's minimum.

    Parameters, returns, errors and reference [2] as `single_sine_degree_days`; `tmin_next_c` is the next day's lowest,
    not above today's highest. [°C]

    Formula
    -------
    DD = ½ DD(Tmin, Tmax) + ½ DD(Tmin,next, Tmax), each by single_triangle_degree_days.
    """
    low, high = extremes(tmin_c, tmax_c)
    rising = _under(_triangle_parts, low, high, lower_c, upper_c, cutoff)
    return np.asarray((rising + _under(_triangle_parts, _next(tmin_next_c, high), high, lower_c, upper_c, cutoff)) / 2)
