"""Three methods for batches of millions of days: the same names and answers as the plain path, many times sooner.

Needs the extra `fast` (numba). The plain path stays the one that everything else calls; these are for those who ask::

    from kailyard.science import fast

    fast.single_sine_degree_days(tmin_c, tmax_c, lower_c=10, upper_c=30)

The kernels are imported at the first call that is worth it, which costs about a second (longer the first time ever,
when they are compiled): below `WORTH_LOADING` values, and where numba is absent, the plain path answers. Once they are
loaded, whatever is longer than `WORTH_CALLING` goes through them. `always=True` asks for them whatever the length.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from importlib import import_module
from importlib.util import find_spec
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science import degree_days, evapotranspiration, soil_water_balance
from kailyard.science._air import AIR_C
from kailyard.science._fao_sun import SOLAR_CONSTANT, orbit
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.humidity import ELEVATION_M, VAPOUR_KPA, atmospheric_pressure_kpa
from kailyard.science.net_radiation import KELVIN, LATENT_MM_PER_MJ, NET_MJ, SIGMA_DAY
from kailyard.science.radiation import RADIATION_MJ
from kailyard.science.soil_water import DEPTH_MM, FRACTION
from kailyard.science.sun import DAY_OF_YEAR, LATITUDE_DEG

WORTH_LOADING = 10_000_000
WORTH_CALLING = 20_000
_WORTH_A_ROW = 64
"""Shorter rows cost more to begin than an array less to read saves."""

_KERNELS = f"{__name__}._kernels"


def _there() -> bool:
    try:
        return find_spec("numba") is not None
    except ValueError:  # something else stands under its name
        return False


def _worth(size: int, always: bool) -> bool:
    if always:
        if not _there():
            raise ImportError("The kernels need numba. Install it with: pip install 'kailyard[fast]'")
        return True
    loaded = _KERNELS in sys.modules
    return size >= (WORTH_CALLING if loaded else WORTH_LOADING) and (loaded or _there())


def _compiled() -> Any:
    """The module of kernels: Any, for numba gives no types."""
    return import_module(_KERNELS)


def _shared_out(work: Callable[[slice], float], length: int, cores: int) -> float:
    """`work` on that many stretches at once; the sum of what it answers."""
    edges = np.linspace(0, length, max(1, min(cores, length)) + 1).astype(int)
    parts = [slice(int(a), int(b)) for a, b in pairwise(edges)]
    if len(parts) == 1:
        return work(parts[0])
    with ThreadPoolExecutor(len(parts)) as pool:
        return sum(pool.map(work, parts))


def _spread(values: FloatArray, shape: tuple[int, ...]) -> FloatArray:
    return np.ascontiguousarray(np.broadcast_to(values, shape))


def _place(shape: tuple[int, ...], out: FloatArray | None) -> FloatArray:
    if out is None:
        return np.empty(shape)
    if out.shape != shape or out.dtype != np.float64 or not out.flags.c_contiguous:
        raise ValueError(f"out: a contiguous float64 array of shape {shape} is needed.")
    return out


def single_sine_degree_days(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    *,
    lower_c: float,
    upper_c: float,
    always: bool = False,
    cores: int = 1,
    out: FloatArray | None = None,
) -> FloatArray:
    """Degree-days under one sine curve between two thresholds, horizontal cut-off.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    lower_c, upper_c : float
        Thresholds, one each for the whole batch. [°C]
    always : bool
        Ask for the kernel whatever the length.
    cores : int
        Threads that share the work.
    out : ndarray, optional
        Where the answer goes; saves the making of a new array.

    Returns
    -------
    ndarray
        Of the shape the temperatures broadcast to, within 1e-6 of `degree_days.single_sine_degree_days`; NaN stays
        NaN. [°C·d]

    Raises
    ------
    InputError
        As the plain path, of which this is the same formula.

    References
    ----------
    .. [1] As `degree_days.single_sine_degree_days`.
    """
    low, high = np.asarray(tmin_c), np.asarray(tmax_c)
    shape = np.broadcast_shapes(low.shape, high.shape)

    def plain() -> FloatArray:
        return degree_days.single_sine_degree_days(tmin_c, tmax_c, lower_c=lower_c, upper_c=upper_c)

    if not _worth(int(np.prod(shape)), always) or low.dtype != np.float64 or high.dtype != np.float64:
        return _into(out, plain())
    lower = degree_days.LOWER_C.hold_number("lower_c", lower_c)
    upper = degree_days.UPPER_C.hold_number("upper_c", upper_c)
    not_above("lower_c", np.asarray(lower), "upper_c", np.asarray(upper), equal=False)
    result = _place(shape, out)
    a, b, flat = _spread(low, shape).reshape(-1), _spread(high, shape).reshape(-1), result.reshape(-1)
    kernel = _compiled().single_sine
    wrong = _shared_out(lambda s: kernel(a[s], b[s], lower, upper, flat[s], AIR_C.high), flat.size, cores)
    return _into(out, plain()) if wrong else result


def fao_reference_et_mm(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    *,
    vapour_pressure_kpa: ArrayLike,
    radiation_mj_m2: ArrayLike,
    wind_2m_m_s: ArrayLike,
    latitude_deg: ArrayLike,
    day_of_year: ArrayLike,
    elevation_m: ArrayLike,
    soil_heat_mj_m2: ArrayLike = 0.0,
    always: bool = False,
    cores: int = 1,
    out: FloatArray | None = None,
) -> FloatArray:
    """FAO-56 Penman-Monteith reference evapotranspiration of days, from weather.

    Parameters
    ----------
    tmin_c, tmax_c, vapour_pressure_kpa, radiation_mj_m2, wind_2m_m_s, latitude_deg, day_of_year, elevation_m,
    soil_heat_mj_m2
        As `evapotranspiration.fao_reference_et_mm`. Fastest where what repeats from year to year (latitude, day of the
        year, elevation) has length 1 along the first axes: days (365, 1), sites (200,), weather (40, 365, 200).
    always, cores, out
        As `single_sine_degree_days`.

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to, within 1e-6 of the plain path; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        As the plain path.

    References
    ----------
    .. [1] As `evapotranspiration.fao_reference_et_mm`.
    """
    weather = [np.asarray(x) for x in (tmin_c, tmax_c, vapour_pressure_kpa, radiation_mj_m2, wind_2m_m_s)]
    fixed = [np.asarray(x) for x in (latitude_deg, day_of_year, elevation_m, soil_heat_mj_m2)]
    shape = np.broadcast_shapes(*(x.shape for x in (*weather, *fixed)))

    def plain() -> FloatArray:
        return evapotranspiration.fao_reference_et_mm(
            tmin_c,
            tmax_c,
            vapour_pressure_kpa=vapour_pressure_kpa,
            radiation_mj_m2=radiation_mj_m2,
            wind_2m_m_s=wind_2m_m_s,
            latitude_deg=latitude_deg,
            day_of_year=day_of_year,
            elevation_m=elevation_m,
            soil_heat_mj_m2=soil_heat_mj_m2,
        )

    if not _worth(int(np.prod(shape)), always) or any(x.dtype != np.float64 for x in weather):
        return _into(out, plain())
    phi = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg))
    J, z = DAY_OF_YEAR.see("day_of_year", day_of_year), ELEVATION_M.see("elevation_m", elevation_m)
    G = NET_MJ.see("soil_heat_mj_m2", soil_heat_mj_m2)
    sky, gamma = _per_clear_sky(phi, J, z), 0.665e-3 * atmospheric_pressure_kpa(z)
    yearly = [sky, gamma, G] if G.any() else [sky, gamma]
    outer, inner = _repeats(shape, yearly)
    _, places = _repeats(shape, [gamma])
    if np.prod(places) < _WORTH_A_ROW:
        places = inner
    width = int(np.prod(places))
    result = _place(shape, out)
    place = result.reshape(outer, -1, width)
    flat = [_spread(x, shape).reshape(place.shape) for x in weather]
    per_sky, *heat = (_trailing(x, inner).reshape(-1, width) for x in yearly if x is not gamma)
    per_place = _trailing(gamma, places).reshape(-1)
    kernel = _compiled().fao_et
    highs = (AIR_C.high, VAPOUR_KPA.high, RADIATION_MJ.high, evapotranspiration.WIND_M_S.high)
    constants = (SIGMA_DAY, KELVIN, LATENT_MM_PER_MJ, *highs)
    axis = 0 if outer >= cores else int(np.argmax(place.shape))

    def work(s: slice) -> float:
        at = tuple(s if k == axis else slice(None) for k in range(3))
        G_there = heat[0][at[1:]] if heat else None
        return float(kernel(*(x[at] for x in flat), per_sky[at[1:]], per_place[at[2]], G_there, place[at], constants))

    wrong = _shared_out(work, place.shape[axis], cores)
    return _into(out, plain()) if wrong else result


def _per_clear_sky(phi: FloatArray, J: FloatArray, z: FloatArray) -> FloatArray:
    """One over eq. 37 with 21; sines are taken of days and of places, not of each day at each place."""
    dr, delta = orbit(J)
    most, through = 24 * 60 * SOLAR_CONSTANT * dr, 0.75 + 2e-5 * z
    mean = (through * np.sin(phi)) * (most * np.sin(delta))
    swing = (through * np.cos(phi)) * (most * np.cos(delta))
    flat = np.ravel(mean)
    _compiled().per_clear_sky(flat, np.ravel(swing), 1e-9)
    return flat.reshape(mean.shape)


def root_zone_depletion_mm(
    et0_mm: ArrayLike,
    rain_mm: ArrayLike,
    *,
    kc: ArrayLike,
    total_available_mm: ArrayLike,
    easy_fraction: ArrayLike,
    start_mm: ArrayLike = 0.0,
    always: bool = False,
    cores: int = 1,
    out: FloatArray | None = None,
) -> FloatArray:
    """Depletion of the root zone at each day's end: one bucket, one coefficient, rain as it falls.

    What `soil_water_balance.root_zone_balance` gives as `depletion_mm` where coefficient and soil stay the same over
    the days. The days are the last axis but one and beds the last, for beds are worked on side by side.

    Parameters
    ----------
    et0_mm, rain_mm : array_like, (..., days, beds)
        Reference evapotranspiration, -5 to 30 (dew counts as 0), and rain, 0 to 2000. [mm]
    kc : array_like, (beds,) or one number
        Crop coefficient, 0 to 2. [1]
    total_available_mm, start_mm : array_like, (beds,) or one number
        Water the roots can draw, and depletion before the first day, 0 to 5000. [mm]
    easy_fraction : array_like, (beds,) or one number
        p, 0.05 to 0.9. [1]
    always, cores, out
        As `single_sine_degree_days`.

    Returns
    -------
    ndarray, (..., days, beds)
        Within 1e-6 of the plain path; a missing day is missing and so is every day after it. [mm]

    Raises
    ------
    InputError
        As the plain path; ValueError where there are not two axes.

    References
    ----------
    .. [1] As `soil_water_balance.root_zone_balance`.
    """
    et0, rain = np.asarray(et0_mm), np.asarray(rain_mm)
    shape = np.broadcast_shapes(et0.shape, rain.shape)
    if len(shape) < 2:
        raise ValueError("et0_mm: days and beds are needed, as the last two axes.")
    beds = shape[-1]
    coefficient = _beds(soil_water_balance.DAYS_KC.see("kc", kc), beds)
    whole = _beds(DEPTH_MM.see("total_available_mm", total_available_mm), beds)
    start = _beds(DEPTH_MM.see("start_mm", start_mm), beds)
    fraction = _beds(FRACTION.see("easy_fraction", easy_fraction), beds)

    def plain() -> FloatArray:
        days_last = soil_water_balance.root_zone_balance(
            np.swapaxes(np.broadcast_to(et0, shape), -1, -2),
            rain_mm=np.swapaxes(np.broadcast_to(rain, shape), -1, -2),
            kc=coefficient[:, None],
            total_available_mm=whole[:, None],
            easy_fraction=fraction[:, None],
            start_mm=start,
        )
        return np.ascontiguousarray(np.swapaxes(days_last.depletion_mm, -1, -2))

    if not _worth(int(np.prod(shape)), always) or et0.dtype != np.float64 or rain.dtype != np.float64:
        return _into(out, plain())
    rest = whole - fraction * whole
    per_rest = np.where(rest > 0, 1 / np.where(rest > 0, rest, 1.0), 0.0) + 0 * rest
    result = _place(shape, out)
    a, b, place = (x.reshape(-1, *shape[-2:]) for x in (_spread(et0, shape), _spread(rain, shape), result))
    kernel = _compiled().root_zone
    days = soil_water_balance.ET0_MM
    bounds = (days.low, days.high, soil_water_balance.DAYS_MM.high)

    def work(s: slice) -> float:
        return float(kernel(a[s], b[s], coefficient, whole, per_rest, start, place[s], bounds))

    wrong = _shared_out(work, len(place), cores)
    return _into(out, plain()) if wrong else result


def _trailing(values: FloatArray, shape: tuple[int, ...]) -> FloatArray:
    """Spread over the last axes alone; what stands before them has length 1."""
    return _spread(values.reshape(values.shape[max(0, values.ndim - len(shape)) :]), shape)


def _beds(values: FloatArray, beds: int) -> FloatArray:
    return _spread(values, (beds,))


def _into(out: FloatArray | None, answer: FloatArray) -> FloatArray:
    if out is None:
        return answer
    out[...] = answer
    return out


def _repeats(shape: tuple[int, ...], small: Sequence[FloatArray]) -> tuple[int, tuple[int, ...]]:
    """How many times the small arrays repeat along the first axes, and the shape of what repeats."""
    padded = [(1,) * (len(shape) - x.ndim) + x.shape for x in small]
    first = next((k for k in range(len(shape)) if any(p[k] != 1 for p in padded)), len(shape))
    return int(np.prod(shape[:first])), shape[first:]


__all__ = ["WORTH_CALLING", "WORTH_LOADING", "fao_reference_et_mm", "root_zone_depletion_mm", "single_sine_degree_days"]
