"""The kernels. Needs numba; imported only when one is called.

Written without branches and calls, so that the compiler works on several values at a time. A comparison is turned so
that a missing value (NaN) falls through it unchanged; for that reason `fastmath` leaves out 'nnan'. Each kernel also
counts what is out of range or out of order, so that checking costs no pass of its own.
"""

from __future__ import annotations

import math

from numba import njit

from kailyard.science.checks import FloatArray
from kailyard.science.fast._polynomials import CAP, SATURATION, SLOPE, SPAN_C

_LOOSE = {"contract", "reassoc", "nsz", "arcp"}
_fast = njit(nogil=True, cache=True, fastmath=_LOOSE, error_model="numpy")
_inner = njit(inline="always", fastmath=_LOOSE, error_model="numpy")

_STILL = 1e-9
"""A smaller swing of a day is no swing, as in the plain path."""


@_inner
def _degree_8(x: float, c: tuple[float, ...]) -> float:
    """By pairs: half as long a chain of sums as one after the other."""
    x2 = x * x
    x4 = x2 * x2
    low = (c[0] + c[1] * x) + (c[2] + c[3] * x) * x2
    high = (c[4] + c[5] * x) + (c[6] + c[7] * x) * x2
    return low + x4 * (high + x4 * c[8])


@_inner
def _degree_12(x: float, c: tuple[float, ...]) -> float:
    x2 = x * x
    x4 = x2 * x2
    low = (c[0] + c[1] * x) + (c[2] + c[3] * x) * x2
    middle = (c[4] + c[5] * x) + (c[6] + c[7] * x) * x2
    high = (c[8] + c[9] * x) + (c[10] + c[11] * x) * x2
    return low + x4 * (middle + x4 * (high + x4 * c[12]))


@_inner
def _outside(x: float, low: float, high: float) -> float:
    """Above 0 where `x` lies outside; a missing value is not outside. Sums of these count along with the rest."""
    return (1.0 if x < low else 0.0) + (1.0 if x > high else 0.0)


@_inner
def _wrong_day(mean: float, amplitude: float, bound: float) -> float:
    """Above 0 where an extreme lies beyond `bound` or the two are in the wrong order.

    The sum may round up to the bound from below, which costs a pass of the plain path and no more.
    """
    far = math.fabs(mean) + math.fabs(amplitude)
    return (1.0 if far > bound else 0.0) + (1.0 if amplitude < 0.0 else 0.0)


@_inner
def _positive(x: float) -> float:
    return 0.0 if x < 0.0 else x


@_inner
def _cap(distance: float, per_amplitude: float) -> float:
    """Mean over a sine day of what rises above a threshold that far over the day's mean, as a share of the amplitude.

    A threshold under the mean has the same cap upside down, and the rectangle between the two besides, which the caller
    adds: so one polynomial on 0 to 1 does for the whole, and a threshold out of reach needs no case of its own.
    """
    x = math.fabs(distance) * per_amplitude
    rest = 1.0 - (1.0 if x > 1.0 else x)
    return rest * math.sqrt(rest) * _degree_8(1.0 - rest, CAP)


@_fast
def single_sine(low: FloatArray, high: FloatArray, lower: float, upper: float, out: FloatArray, bound: float) -> float:
    """Degree-days under a sine between two thresholds, horizontal cut-off. Answers 0 where none is wrong."""
    wrong = 0.0
    for i in range(out.size):
        a, b = low[i], high[i]
        mean, amplitude = (a + b) * 0.5, (b - a) * 0.5
        wrong += _wrong_day(mean, amplitude, bound)
        swing = _STILL if amplitude < _STILL else amplitude
        per = 1.0 / swing
        over, under = mean - lower, mean - upper
        out[i] = amplitude * (_cap(over, per) - _cap(under, per)) + (_positive(over) - _positive(under))
    return wrong


@_fast
def per_clear_sky(mean: FloatArray, swing: FloatArray, least: float) -> None:
    """One over the clear-sky radiation, `least` or more, written over `mean`.

    The sine of the sun's height is itself a sine through the day (FAO-56 eq. 21), and what counts of it is above 0.
    """
    for i in range(mean.size):
        amplitude = _STILL if swing[i] < _STILL else swing[i]
        sky = amplitude * _cap(mean[i], 1.0 / amplitude) + _positive(mean[i])
        mean[i] = 1.0 / (least if sky < least else sky)


@_fast
def fao_et(
    low: FloatArray,
    high: FloatArray,
    ea: FloatArray,
    Rs: FloatArray,
    u2: FloatArray,
    per_clear_sky: FloatArray,
    gamma: FloatArray,
    G: FloatArray | None,
    out: FloatArray,
    constants: tuple[float, float, float, float, float, float, float],
) -> float:
    """FAO-56 eq. 6 with 11-13, 38-40. Answers 0 where none is wrong.

    Weather is (outer, days, places), what repeats from year to year (days, places), `gamma` (places,).

    Numerator and denominator are both multiplied by T + 273, so that one division is enough.
    """
    sigma, kelvin, latent, air_bound, ea_bound, Rs_bound, wind_bound = constants
    wrong = 0.0
    for j in range(out.shape[0]):
        for k in range(out.shape[1]):
            for i in range(out.shape[2]):
                a, b, e, R, u = low[j, k, i], high[j, k, i], ea[j, k, i], Rs[j, k, i], u2[j, k, i]
                T = (a + b) * 0.5
                wrong += _wrong_day(T, (b - a) * 0.5, air_bound)
                wrong += _outside(e, 0.0, ea_bound) + _outside(R, 0.0, Rs_bound) + _outside(u, 0.0, wind_bound)
                es = (_degree_12(a / SPAN_C, SATURATION) + _degree_12(b / SPAN_C, SATURATION)) * 0.5
                slope = _degree_12(T / SPAN_C, SLOPE)
                share = R * per_clear_sky[k, i]
                share = 1.0 if share > 1.0 else share
                warm, cold = (b + kelvin) * (b + kelvin), (a + kelvin) * (a + kelvin)
                Rnl = sigma * 0.5 * (warm * warm + cold * cold) * (0.34 - 0.14 * math.sqrt(e)) * (1.35 * share - 0.35)
                Rn = 0.77 * R - Rnl
                T273 = T + 273.0
                if G is not None:  # decided when it is compiled: an array less to read where there is none
                    Rn -= G[k, i]
                g = gamma[i]
                above = latent * slope * Rn * T273 + g * 900.0 * u * (es - e)
                out[j, k, i] = above / ((slope + g * (1.0 + 0.34 * u)) * T273)
    return wrong


@_fast
def root_zone(
    et0: FloatArray,
    rain: FloatArray,
    kc: FloatArray,
    whole: FloatArray,
    per_rest: FloatArray,
    start: FloatArray,
    out: FloatArray,
    bounds: tuple[float, float, float],
) -> int:
    """FAO-56 eq. 84, 85, 88: depletion at each day's end; days are the middle axis. Answers 0 where none is wrong.

    Arrays are (outer, days, beds); `kc`, `whole`, `per_rest` and `start` are (beds,). `per_rest` is 1 over the water
    that is not easy, 0 where there is none. Whole numbers count sooner here, sums of floats in the kernels above.
    """
    et_low, et_high, rain_high = bounds
    wrong = 0
    for j in range(out.shape[0]):
        for day in range(out.shape[1]):
            for i in range(out.shape[2]):
                demand, into = et0[j, day, i], rain[j, day, i]
                wrong += int(demand < et_low) | int(demand > et_high) | int(into < 0.0) | int(into > rain_high)
                demand = 0.0 if demand < 0.0 else demand
                before = start[i] if day == 0 else out[j, day - 1, i]
                wetted = before - into
                wetted = 0.0 if wetted < 0.0 else wetted
                room = whole[i] - wetted
                room = 0.0 if room < 0.0 else room
                stress = room * per_rest[i]
                stress = 1.0 if stress > 1.0 else stress
                et = stress * kc[i] * demand
                et = room if et > room else et
                after = before - into + et
                out[j, day, i] = 0.0 if after < 0.0 else after
    return wrong
