"""How fast a plant develops at a given warmth, counted in effective degrees: degrees above the base that count.

A response is the shape of rate against temperature. A day at the optimum counts optimum minus base, so that sums are
degree-days above the base whatever the shape.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.reckon import Choice, Quantity, reckoner

MEAN_C = Quantity("°C", -60, 60)
BASE_C = Quantity("°C", -20, 30)
OPTIMUM_C = Quantity("°C", -10, 50)
CEILING_C = Quantity("°C", 0, 60)
DAYS = Quantity("d", 0, 1500)
RESPONSES = ("linear", "capped", "trapezoid", "beta")
RESPONSE = Choice(RESPONSES)

_TOMATO = {"response": "trapezoid", "base_c": 7, "opt_low_c": 22, "opt_high_c": 28, "ceiling_c": 48}


def _wanted(name: str, value: ArrayLike | None, kind: Quantity, response: str) -> FloatArray:
    if value is None:
        raise InputError(f"{name}: the response '{response}' needs it.")
    return kind.hold(name, value)


@reckoner(
    gives={"effective_degrees": "°C·d"},
    source="linear, capped, trapezoid: definition (common practice); beta: Yan and Hunt 1999, Ann. Bot. 84:607-614",
    status="published",
    example={"tmean_c": 15, **_TOMATO},
)
def effective_degrees(
    tmean_c: Annotated[ArrayLike, MEAN_C],
    *,
    response: Annotated[str, RESPONSE],
    base_c: Annotated[ArrayLike, BASE_C],
    opt_low_c: Annotated[ArrayLike | None, OPTIMUM_C] = None,
    opt_high_c: Annotated[ArrayLike | None, OPTIMUM_C] = None,
    ceiling_c: Annotated[ArrayLike | None, CEILING_C] = None,
) -> FloatArray:
    """Degrees of one day that count towards the next stage.

    linear
        Mean less base, never below 0.
    capped
        The same, level above `opt_low_c`.
    trapezoid
        Rises from `base_c` to `opt_low_c`, level to `opt_high_c` (that of `opt_low_c` where not given), falls in a
        straight line to nothing at `ceiling_c`; without a ceiling it stays level.
    beta
        One smooth curve through base, optimum and ceiling (`opt_high_c`, where given, must equal `opt_low_c`).

    What a response has no use for it does not look at, so that a handbook row can be handed over whole.

    Parameters
    ----------
    tmean_c : array_like
        Daily mean of air, or of soil at seed depth until emergence, -60 to 60. [°C]
    response : {'linear', 'capped', 'trapezoid', 'beta'}
        Shape of the rate against temperature, as above.
    base_c : array_like
        At and below it nothing counts, -20 to 30. [°C]
    opt_low_c, opt_high_c : array_like, optional
        Bounds of the optimum, -10 to 50. [°C]
    ceiling_c : array_like, optional
        At and above it nothing counts, 0 to 60. [°C]

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; 0 to optimum minus base (no upper bound for 'linear'); NaN stays NaN.
        [°C·d]

    Raises
    ------
    InputError
        If a value is out of range, not base < optimum < ceiling, or the response needs one that is not given.

    Formula
    -------
    linear: T − Tb, not below 0;  capped: the same, not above To − Tb
    trapezoid: the lesser of T − Tb, To − Tb and (To − Tb) (Tc − T) / (Tc − Th), not below 0
    beta: (To − Tb) × [(Tc − T) / (Tc − To)] × [(T − Tb) / (To − Tb)]^((To − Tb)/(Tc − To))
    with T = tmean_c, Tb = base_c, To = opt_low_c, Th = opt_high_c, Tc = ceiling_c. (from memory)

    References
    ----------
    .. [1] W. Yan and L. A. Hunt, "An equation for modelling the temperature response of plants using only the cardinal
       temperatures", Ann. Bot. 84, 1999, pp. 607-614; with a base other than 0 °C in the same form.
    """
    t = MEAN_C.hold("tmean_c", tmean_c)
    RESPONSE.hold("response", response)
    base = BASE_C.hold("base_c", base_c)
    if response == "linear":
        return np.asarray(np.maximum(t - base, 0))
    low = _wanted("opt_low_c", opt_low_c, OPTIMUM_C, response)
    not_above("base_c", base, "opt_low_c", low, equal=False)
    if response == "capped":
        return np.asarray(np.clip(t - base, 0, low - base))
    high = low if opt_high_c is None else OPTIMUM_C.hold("opt_high_c", opt_high_c)
    not_above("opt_low_c", low, "opt_high_c", high)
    if response == "trapezoid":
        rise = np.clip(t - base, 0, low - base)
        if ceiling_c is None:
            return np.asarray(rise)
        ceiling = CEILING_C.hold("ceiling_c", ceiling_c)
        not_above("opt_high_c", high, "ceiling_c", ceiling, equal=False)
        fall = np.maximum((ceiling - t) / (ceiling - high), 0) * (low - base)
        return np.asarray(np.minimum(rise, fall))
    if np.any(high != low):
        raise InputError("opt_high_c: the response 'beta' has one optimum; give it as opt_low_c alone.")
    ceiling = _wanted("ceiling_c", ceiling_c, CEILING_C, response)
    not_above("opt_low_c", low, "ceiling_c", ceiling, equal=False)
    held = np.clip(t, base, ceiling)
    rate = (ceiling - held) / (ceiling - low) * ((held - base) / (low - base)) ** ((low - base) / (ceiling - low))
    return np.asarray(rate * (low - base))


@reckoner(
    gives={"effective_degrees": "°C·d"},
    source="Perry and Wehner 1996, HortTechnology 6:27-30 (cucumber: base 15.5, turn 32 °C)",
    status="published",
    example={"tmax_c": 34, "base_c": 15.5, "turn_c": 32},
)
def max_foldback_degrees(
    tmax_c: Annotated[ArrayLike, MEAN_C],
    *,
    base_c: Annotated[ArrayLike, BASE_C],
    turn_c: Annotated[ArrayLike, OPTIMUM_C],
) -> FloatArray:
    """Degrees that count from the daily MAXIMUM alone, with what passes `turn_c` taken off again.

    For cucumber sums published in this way; they are worth nothing with daily means.

    Parameters
    ----------
    tmax_c : array_like
        Day's highest, -60 to 60. [°C]
    base_c : array_like
        At and below it nothing counts, -20 to 30. [°C]
    turn_c : array_like
        A maximum above it counts as `turn_c` less the excess, -10 to 50. [°C]

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; 0 to turn minus base; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        If a value is out of range or `base_c` not below `turn_c`.

    Formula
    -------
    Tmax ≤ turn: Tmax − base;  Tmax > turn: turn − (Tmax − turn) − base;  never below 0. (from memory)

    References
    ----------
    .. [1] K. B. Perry and T. C. Wehner, "A heat unit accumulation method for predicting cucumber harvest date",
       HortTechnology 6, 1996, pp. 27-30.
    """
    t = MEAN_C.hold("tmax_c", tmax_c)
    base, turn = BASE_C.hold("base_c", base_c), OPTIMUM_C.hold("turn_c", turn_c)
    not_above("base_c", base, "turn_c", turn, equal=False)
    return np.asarray(np.maximum(turn - np.abs(t - turn) - base, 0))


@reckoner(
    gives={"requirement": "°C·d"},
    source="definition: days times the effective degrees of a day at the reference mean",
    status="common practice",
    example={"days": 70, "reference_mean_c": 20, **_TOMATO},
)
def requirement_from_days(
    days: Annotated[ArrayLike, DAYS],
    *,
    reference_mean_c: Annotated[ArrayLike, MEAN_C],
    response: Annotated[str, RESPONSE],
    base_c: Annotated[ArrayLike, BASE_C],
    opt_low_c: Annotated[ArrayLike | None, OPTIMUM_C] = None,
    opt_high_c: Annotated[ArrayLike | None, OPTIMUM_C] = None,
    ceiling_c: Annotated[ArrayLike | None, CEILING_C] = None,
) -> FloatArray:
    """Sum of effective degrees that so many days came to where they were counted.

    A packet's days hold in the climate where they were counted: that climate's mean is `reference_mean_c`, not the
    user's own. Means that swing about the reference count a little less near optimum or base than the reference itself.

    Parameters
    ----------
    days : array_like
        Days from stage to stage, 0 to 1500. [d]
    reference_mean_c : array_like
        Mean temperature at which the days hold, -60 to 60. [°C]
    response, base_c, opt_low_c, opt_high_c, ceiling_c
        As `effective_degrees`.

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; NaN stays NaN. [°C·d]

    Raises
    ------
    InputError
        As `effective_degrees`; also if the reference mean is one at which nothing develops.

    Formula
    -------
    requirement = days × effective_degrees(reference_mean_c)
    """
    n = DAYS.hold("days", days)
    reference = MEAN_C.hold("reference_mean_c", reference_mean_c)
    a_day = effective_degrees(
        reference,
        response=response,
        base_c=base_c,
        opt_low_c=opt_low_c,
        opt_high_c=opt_high_c,
        ceiling_c=ceiling_c,
    )
    if np.any(a_day <= 0):
        raise InputError("reference_mean_c: at this mean nothing develops, so days tell nothing.")
    return np.asarray(n * a_day)
