"""Soil temperature from air temperature, for places without a soil thermometer.

`katterer_andren_soil_c` with a depth of 2 to 5 cm and no leaves is the one for seed in a bare bed: against the 5 cm
sensors of eight stations it is off by 1.8 °C day by day from April to October and hardly warm or cold on the whole,
where `exponential_mean_soil_c` is off by 2.2 °C and 1.6 °C too cool (docs/validation.md has the table; nothing was
fitted to it). A soil thermometer in the bed beats every one of these. Raised beds, black cover and fleece are warmer
than any of them says. Call a least temperature for sowing met only with a margin of 2 °C, or by measurement.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Quantity, reckoner

MEANS_C = Quantity("°C", -60, 60, series=True)
SOIL_C = Quantity("°C", -40, 60)
WEIGHT = Quantity("", 0.01, 1)
DEPTH_CM = Quantity("cm", 0, 100)
DEPTH_M = Quantity("m", 0, 20)
GREEN_AREA_INDEX = Quantity("m²/m²", 0, 10)
WINDOW_DAYS = Quantity("d", 1, 366)
DAY = Quantity("d", -3660, 3660)
AMPLITUDE_C = Quantity("°C", 0, 40)
DIFFUSIVITY_M2_S = Quantity("m²/s", 1e-8, 5e-6)
PERIOD_DAYS = Quantity("d", 0.5, 400)

_WEEK = {"tmean_c": [10, 12, 8, -3, 0, 5, 15]}


def _days_first(tmean_c: ArrayLike) -> FloatArray:
    """Days as the first axis, so that one step in time is one stretch of memory."""
    air = MEANS_C.hold("tmean_c", tmean_c)
    if air.ndim == 0 or air.shape[-1] == 0:
        raise InputError("tmean_c: a run of days is needed, along the last axis.")
    return np.ascontiguousarray(np.moveaxis(air, -1, 0))


def _follow(towards: FloatArray, weight: float, start_c: ArrayLike | None) -> FloatArray:
    """Soil that each day goes `weight` of the way towards `towards` (days first), from `start_c`.

    Without a start it begins at the first day that is there. A missing day is NaN on that day and leaves the soil as
    it was. A loop over days, each step for all runs at once.
    """
    soil = np.empty_like(towards)
    missing = np.asarray(np.isnan(towards))
    gaps = np.asarray(missing.any(axis=tuple(range(1, towards.ndim))))
    now = np.take_along_axis(towards, np.argmin(missing, axis=0)[np.newaxis], axis=0)[0]
    if start_c is not None:
        start = np.broadcast_to(SOIL_C.hold("start_c", start_c), now.shape)
        now = np.where(np.isnan(start), now, start)
    for day in range(len(towards)):
        if gaps[day]:
            now = np.where(missing[day], now, now + weight * (towards[day] - now))
        else:
            now = now + weight * (towards[day] - now)
        soil[day] = now
    soil[missing] = np.nan
    return np.asarray(np.moveaxis(soil, 0, -1))


@reckoner(
    gives={"soil": "°C"},
    source="exponentially weighted mean of daily air temperature; weight 0.15 tried on USCRN stations, 2020",
    status="common practice",
    example=_WEEK,
)
def exponential_mean_soil_c(
    tmean_c: Annotated[ArrayLike, MEANS_C],
    *,
    weight: Annotated[float, WEIGHT] = 0.15,
    start_c: Annotated[ArrayLike | None, SOIL_C] = None,
) -> FloatArray:
    """Daily mean soil temperature near the surface, as a fading memory of the air.

    Each day the soil goes `weight` of the way from where it was to the day's air. About 2 °C off at 5 and 10 cm from
    April to October, most of that from being too cool (1.6 and 1.3 °C), and far too cold in frozen or snow-covered
    ground. For seed depth take `katterer_andren_soil_c`; this one stays as the plain measure to beat.

    Parameters
    ----------
    tmean_c : array_like, (..., days)
        Daily mean air temperature, days along the last axis, -60 to 60. A missing day is missing in the answer and
        leaves the soil as it was. [°C]
    weight : float
        Share of the way gone in a day, 0.01 to 1. [1]
    start_c : array_like, optional
        Soil on the day before the first, shape (...), -40 to 60; without it the first day's air, so that the first
        three weeks are provisional. [°C]

    Returns
    -------
    ndarray
        Shape of `tmean_c`. [°C]

    Raises
    ------
    InputError
        If a value is out of range, or `tmean_c` is a single number.

    Formula
    -------
    soil(today) = soil(yesterday) + weight × [air(today) − soil(yesterday)]

    References
    ----------
    .. [1] Common practice; checked here against NOAA U.S. Climate Reference Network daily soil temperature, 2020.
    """
    air = _days_first(tmean_c)
    share = WEIGHT.hold_number("weight", weight)
    return _follow(air, share, start_c)


@reckoner(
    gives={"soil": "°C"},
    source="Kätterer and Andrén 2009, Acta Agric. Scand. B 59:77-86",
    status="published",
    example={**_WEEK, "depth_cm": 10, "green_area_index": 0, "start_c": 5},
)
def katterer_andren_soil_c(
    tmean_c: Annotated[ArrayLike, MEANS_C],
    *,
    depth_cm: Annotated[float, DEPTH_CM],
    green_area_index: Annotated[float, GREEN_AREA_INDEX] = 0.0,
    start_c: Annotated[ArrayLike | None, SOIL_C] = None,
) -> FloatArray:
    """Daily mean soil temperature at a depth, bare or under leaves: the one to use for seed depth.

    With `depth_cm` 2 to 5 and no leaves about 1.8 °C off day by day from April to October (eight stations, 5 cm
    sensors). From Swedish trials: below 0 °C the surface takes a fifth of the air's cold, which stands for Swedish
    snow, and a raised bed without snow cools further. Leaf area index is taken as 0.8 of green area index.

    Parameters
    ----------
    tmean_c : array_like, (..., days)
        Daily mean air temperature, days along the last axis, -60 to 60. A missing day is missing in the answer and
        leaves the soil as it was. [°C]
    depth_cm : float
        Middle of the layer, 0 to 100. [cm]
    green_area_index : float
        Area of leaves and stems over that of the ground: 0 for bare soil, to 10. [m²/m²]
    start_c : array_like, optional
        Soil on the day before the first, shape (...); without it the first day's surface. [°C]

    Returns
    -------
    ndarray
        Shape of `tmean_c`. [°C]

    Raises
    ------
    InputError
        If a value is out of range, or `tmean_c` is a single number.

    Formula
    -------
    surface: Ts = 0.20 Ta where Ta < 0, else Ts = Ta [0.95 + 0.05 exp(−0.4 (LAI − 3))],  LAI = 0.8 GAI
    T(today) = T(yesterday) + [Ts − T(yesterday)] 0.24 exp(−0.017 Z) exp(−0.15 GAI)
    with Ta = tmean_c, Z = depth_cm, GAI = green_area_index.

    References
    ----------
    .. [1] T. Kätterer and O. Andrén, "Predicting daily soil temperature profiles in arable soils in cold temperate
       regions from air temperature and leaf area index", Acta Agric. Scand. B 59, 2009, pp. 77-86.
    """
    air = _days_first(tmean_c)
    z = DEPTH_CM.hold_number("depth_cm", depth_cm)
    gai = GREEN_AREA_INDEX.hold_number("green_area_index", green_area_index)
    surface = np.where(air < 0, 0.20 * air, air * (0.95 + 0.05 * np.exp(-0.4 * (0.8 * gai - 3))))
    share = float(0.24 * np.exp(-0.017 * z) * np.exp(-0.15 * gai))
    return _follow(surface, share, start_c)


@reckoner(
    gives={"soil": "°C"},
    source="Zheng, Hunt and Running 1993, Clim. Res. 2:183-191 (11-day mean; their regression left out)",
    status="published",
    example=_WEEK,
)
def running_mean_soil_c(
    tmean_c: Annotated[ArrayLike, MEANS_C], *, window_days: Annotated[float, WINDOW_DAYS] = 11
) -> FloatArray:
    """Daily mean soil temperature at 10 cm as the mean air of the last eleven days.

    Stand-in for a published regression whose coefficients were not seen: intercept 0 and slope 1 are from memory. It
    lags about five days. The first ten days use what there is and are provisional.

    Parameters
    ----------
    tmean_c : array_like, (..., days)
        Daily mean air temperature, days along the last axis, -60 to 60. A missing day is missing in the answer and
        left out of the means. [°C]
    window_days : float
        Days in the mean, today included, whole number, 1 to 366. [d]

    Returns
    -------
    ndarray
        Shape of `tmean_c`. [°C]

    Raises
    ------
    InputError
        If a value is out of range, the window no whole number, or `tmean_c` a single number.

    Formula
    -------
    soil(today) = mean of the air of the last window_days days, today's included
    (the paper then turns it by a regression whose coefficients were not seen: 0 and 1 stand in, from memory)

    References
    ----------
    .. [1] D. Zheng, E. R. Hunt and S. W. Running, "A daily soil temperature model based on air temperature and
       precipitation for continental applications", Clim. Res. 2, 1993, pp. 183-191.
    """
    air = _days_first(tmean_c)
    n = WINDOW_DAYS.hold_number("window_days", window_days)
    if n != int(n):
        raise InputError(f"window_days: {n:g} is no whole number of days.")
    there = ~np.isnan(air)

    def trailing(x: FloatArray) -> FloatArray:
        total = np.cumsum(x, axis=0)
        total[int(n) :] -= total[: -int(n)].copy()
        return total

    present = trailing(there.astype(np.float64))
    mean = trailing(np.where(there, air, 0.0)) / np.maximum(present, 1)
    return np.asarray(np.moveaxis(np.where(there, mean, np.nan), 0, -1))


@reckoner(
    gives={"soil": "°C"},
    source="heat conduction in a uniform half space: Carslaw and Jaeger 1959, ch. 2 (citation from memory)",
    status="published",
    example={
        "day": 220,
        "depth_m": 0.5,
        "mean_c": 11,
        "amplitude_c": 10,
        "peak_day": 200,
        "diffusivity_m2_s": 5e-7,
        "period_days": 365,
    },
)
def damped_wave_soil_c(
    day: Annotated[ArrayLike, DAY],
    *,
    depth_m: Annotated[ArrayLike, DEPTH_M],
    mean_c: Annotated[ArrayLike, SOIL_C],
    amplitude_c: Annotated[ArrayLike, AMPLITUDE_C],
    peak_day: Annotated[ArrayLike, DAY],
    diffusivity_m2_s: Annotated[ArrayLike, DIFFUSIVITY_M2_S] = 5e-7,
    period_days: Annotated[ArrayLike, PERIOD_DAYS] = 365.25,
) -> FloatArray:
    """Soil temperature at a depth from one wave at the surface, damped and late with depth.

    For the yearly course deep down; it says nothing of one warm week. Typical diffusivity, from memory: near 2e-7 in
    dry or organic soil, 5e-7 to 8e-7 in moist mineral soil.

    Parameters
    ----------
    day : array_like
        Day that is asked about, on the same count as `peak_day`. [d]
    depth_m : array_like
        0 to 20. [m]
    mean_c, amplitude_c : array_like
        Yearly mean, and half the swing at the surface. [°C]
    peak_day : array_like
        Day on which the surface is warmest. [d]
    diffusivity_m2_s : array_like
        Thermal diffusivity of the soil, 1e-8 to 5e-6. [m²/s]
    period_days : array_like
        Length of the wave: 365.25 for the yearly one, 1 for the daily. [d]

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; NaN stays NaN. [°C]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    T(z, t) = Tmean + A exp(−z/d) cos[ω (t − t_peak) − z/d];  d = √(2κ/ω);  ω = 2π / period
    with z = depth_m, A = amplitude_c, κ = diffusivity_m2_s, t = day, t_peak = peak_day.

    References
    ----------
    .. [1] H. S. Carslaw and J. C. Jaeger, "Conduction of heat in solids", 2nd ed., Oxford, 1959, ch. 2 (from memory).
    """
    t = DAY.hold("day", day)
    z = DEPTH_M.hold("depth_m", depth_m)
    mean, amplitude = SOIL_C.hold("mean_c", mean_c), AMPLITUDE_C.hold("amplitude_c", amplitude_c)
    peak = DAY.hold("peak_day", peak_day)
    k = DIFFUSIVITY_M2_S.hold("diffusivity_m2_s", diffusivity_m2_s)
    w = 2 * np.pi / PERIOD_DAYS.hold("period_days", period_days)
    d = np.sqrt(2 * k / (w / 86400))
    return np.asarray(mean + amplitude * np.exp(-z / d) * np.cos(w * (t - peak) - z / d))
