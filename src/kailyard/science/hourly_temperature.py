"""Hours from days: the course of temperature between a day's minimum and maximum.

Sunrise and sunset in solar or standard time: summer time would shift the whole curve by its hour. Neither curve's mean
is half of minimum plus maximum, so sums of its hours are not degree-days of the plain mean.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, extremes
from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.reckon import Choice, Quantity, reckoner
from kailyard.science.sun import DAY_OF_YEAR, LATITUDE_DEG, day_length_h

CLOCK_H = Quantity("h", -24, 54)
"""Counted from midnight of the day; on past 24 through the night that follows."""
DAYS_C = Quantity("°C", -60, 60, series=True)
NIGHT = Choice(("from sunset", "an hour after sunset"))
SETTINGS = {
    "screen": (2.59, 1.55, 2.20),
    "denver 1.5 m": (1.86, -0.17, 2.20),
    "denver 0.1 m": (1.52, -0.18, 2.00),
    "denver surface": (0.50, 0.49, 1.81),
    "denver soil 0.1 m": (0.45, 1.83, 2.28),
}
"""Hours the maximum lags noon, hours the minimum lags sunrise, decay of the night."""
SETTING = Choice(tuple(SETTINGS))

_PARTON = (
    "Parton and Logan 1981, Agric. Meteorol. 23:205-216, in the form of Wann, Yen and Gold 1985 (seen in a library)"
)
_CASE = {"clock_h": 14, "tmin_c": 5, "tmax_c": 20, "sunrise_h": 6, "sunset_h": 18}


def _sun(sunrise_h: ArrayLike, sunset_h: ArrayLike) -> tuple[FloatArray, FloatArray]:
    rise, fall = CLOCK_H.see("sunrise_h", sunrise_h), CLOCK_H.see("sunset_h", sunset_h)
    not_above("sunrise_h", rise, "sunset_h", fall, equal=False)
    return rise, fall


@reckoner(
    gives={"temp": "°C"},
    source="Linvill 1990, HortScience 25:14-16 (paper not seen; night form as in a library's source)",
    status="published",
    example={**_CASE, "clock_h": 22, "tmin_next_c": 6, "sunrise_next_h": 30},
)
def linvill_temp_c(
    clock_h: Annotated[ArrayLike, CLOCK_H],
    *,
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    tmin_next_c: Annotated[ArrayLike, AIR_C],
    sunrise_h: Annotated[ArrayLike, CLOCK_H],
    sunset_h: Annotated[ArrayLike, CLOCK_H],
    sunrise_next_h: Annotated[ArrayLike, CLOCK_H],
    night: Annotated[str, NIGHT] = "from sunset",
) -> FloatArray:
    """Temperature at an hour between a sunrise and the next: a sine by day, a logarithm by night.

    Parameters
    ----------
    clock_h : array_like
        From this sunrise to the next, on past 24 after midnight. [h]
    tmin_c, tmax_c, tmin_next_c : array_like
        Lowest at this sunrise, highest, lowest at the next sunrise, -60 to 60. [°C]
    sunrise_h, sunset_h, sunrise_next_h : array_like
        On the same clock; the next sunrise some 24 h after the first. [h]
    night : {'from sunset', 'an hour after sunset'}
        How the night cools: by ln(1 + t)/ln(1 + night), which meets the day's curve at sunset; or by the form often
        quoted, ln(t)/ln(night), which meets it an hour later and is held to it until then (memory).

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; NaN outside the span, and for a NaN that bears on the hour. [°C]

    Raises
    ------
    InputError
        If a value is out of range, a minimum above the maximum, or the sun's times out of order.

    Formula
    -------
    by day: T(h) = Tmin + (Tmax − Tmin) sin[π (h − sunrise) / (DL + 4)],  DL = sunset − sunrise
    by night, t hours after sunset: T = Ts − (Ts − Tmin,next) ln(1 + t) / ln(1 + NL),  NL = sunrise next − sunset
    with Ts = T(sunset). 'an hour after sunset': ln(t) / ln(NL) in place of the last quotient (from memory).

    References
    ----------
    .. [1] D. E. Linvill, "Calculating chilling hours and chill units from daily maximum and minimum temperature
       observations", HortScience 25, 1990, pp. 14-16.
    """
    low, high = extremes(tmin_c, tmax_c)
    following = AIR_C.see("tmin_next_c", tmin_next_c)
    rise, fall = _sun(sunrise_h, sunset_h)
    again = CLOCK_H.see("sunrise_next_h", sunrise_next_h)
    not_above("sunset_h", fall, "sunrise_next_h", again, equal=False)
    h = CLOCK_H.see("clock_h", clock_h)
    plus = 1.0 if NIGHT.hold("night", night) == "from sunset" else 0.0
    day = low + (high - low) * np.sin(np.pi * (h - rise) / (fall - rise + 4))
    at_sunset = low + (high - low) * np.sin(np.pi * (fall - rise) / (fall - rise + 4))
    since = np.maximum(h - fall + plus, 1.0)
    dark = at_sunset - (at_sunset - following) * np.log(since) / np.log(again - fall + plus)
    return np.asarray(np.where((h >= rise) & (h <= again), np.where(h <= fall, day, dark), np.nan))


@reckoner(gives={"temp": "°C"}, source=_PARTON, status="published", example=_CASE)
def parton_logan_temp_c(
    clock_h: Annotated[ArrayLike, CLOCK_H],
    *,
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    sunrise_h: Annotated[ArrayLike, CLOCK_H],
    sunset_h: Annotated[ArrayLike, CLOCK_H],
    setting: Annotated[str, SETTING] = "screen",
) -> FloatArray:
    """Temperature at an hour of the clock from one day's extremes: a sine by day, a fading night on either side.

    The night does not come down to the minimum: a step of some 1.5 °C shows where the day's curve begins.

    Parameters
    ----------
    clock_h : array_like
        Hour of the clock, 0 to 24. [h]
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    sunrise_h, sunset_h : array_like
        On the same clock. [h]
    setting : {'screen', 'denver 1.5 m', 'denver 0.1 m', 'denver surface', 'denver soil 0.1 m'}
        Where the lags and the decay were fitted: Wann et al. 1985 in the screen, or Denver at a height or depth.

    Returns
    -------
    ndarray
        Of the shape all inputs broadcast to; NaN stays NaN. [°C]

    Raises
    ------
    InputError
        If a value is out of range, a minimum above the maximum, or sunrise not before sunset.

    Formula
    -------
    by day: T(h) = Tmin + (Tmax − Tmin) sin[π (h − sunrise − b) / (DL + 2 (a − b))],  DL = sunset − sunrise
    by night, t hours after sunset: T = Tmin + (Ts − Tmin) exp[−g t / (24 − DL + b)],  Ts = T(sunset)
    a, b, g by setting: screen 2.59, 1.55, 2.20; Denver 1.5 m 1.86, −0.17, 2.20; 0.1 m 1.52, −0.18, 2.00;
        surface 0.50, 0.49, 1.81; soil 0.1 m 0.45, 1.83, 2.28.

    References
    ----------
    .. [1] W. J. Parton and J. A. Logan, "A model for diurnal variation in soil and air temperature", Agric. Meteorol.
       23, 1981, pp. 205-216.
    .. [2] M. Wann, D. Yen and H. J. Gold, Agric. For. Meteorol. 34, 1985 (pages not checked).
    """
    low, high = extremes(tmin_c, tmax_c)
    rise, fall = _sun(sunrise_h, sunset_h)
    h = CLOCK_H.see("clock_h", clock_h)
    a, b, g = SETTINGS[SETTING.hold("setting", setting)]
    length = fall - rise
    wave = np.pi / (length + 2 * (a - b))
    day = low + (high - low) * np.sin((h - rise - b) * wave)
    at_sunset = low + (high - low) * np.sin((length - b) * wave)
    since = np.where(h > fall, h - fall, h + 24 - fall)
    dark = low + (at_sunset - low) * np.exp(-g * since / (24 - length + b))
    return np.asarray(np.where((h > rise + b) & (h <= fall), day, dark) + 0 * h)


@reckoner(
    gives={"temp": "°C"},
    source="Linvill 1990, HortScience 25:14-16, with sunrise and sunset in solar time (Spencer 1971)",
    status="published",
    example={"tmin_c": [5, 6, 4], "tmax_c": [20, 18, 15], "latitude_deg": 45, "day_of_year": [100, 101, 102]},
)
def hours_of_days_c(
    tmin_c: Annotated[ArrayLike, DAYS_C],
    tmax_c: Annotated[ArrayLike, DAYS_C],
    *,
    latitude_deg: Annotated[float, LATITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
) -> FloatArray:
    """The hours of a run of days, at each full hour of solar time, by Linvill's curves from sunrise to sunrise.

    The hours before the first sunrise follow from a day before like the first; those after the last sunset fall to the
    last day's own minimum: both are provisional.

    Parameters
    ----------
    tmin_c, tmax_c : array_like, (..., days)
        Day's lowest and highest in order of time, -60 to 60. [°C]
    latitude_deg : float
        North positive; where the sun rises and sets on every one of the days. [°]
    day_of_year : array_like, (days,)
        1 to 366. [d]

    Returns
    -------
    ndarray, (..., 24 x days)
        Hours 0 to 23 of each day; NaN where a day that bears on the hour is missing. [°C]

    Raises
    ------
    InputError
        If a value is out of range, a minimum above its maximum, or the sun does not rise or set.

    Formula
    -------
    For every day sunrise = 12 − N/2 and sunset = 12 + N/2 in solar time, N of day_length_h; then each full hour by
        linvill_temp_c from that sunrise to the next, with the minimum of the day after as the next one.
    """
    low, high = DAYS_C.see("tmin_c", tmin_c), DAYS_C.see("tmax_c", tmax_c)
    not_above("tmin_c", low, "tmax_c", high)
    low, high = np.broadcast_arrays(low, high)
    if low.ndim == 0 or low.shape[-1] == 0:
        raise InputError("tmin_c: a run of days is needed, along the last axis.")
    phi = LATITUDE_DEG.hold_number("latitude_deg", latitude_deg)
    length = np.broadcast_to(day_length_h(phi, DAY_OF_YEAR.see("day_of_year", day_of_year)), low.shape[-1:])
    if np.any((length < 1) | (length > 23)):
        raise InputError("latitude_deg: on some of these days the sun hardly rises or sets; the curves need both.")
    rise = 12 - length / 2
    # One day before the first: like the first, so that its night leads up to the first sunrise.
    length, rise = (np.concatenate([x[:1], x])[..., np.newaxis] for x in (length, rise))
    high = np.concatenate([high[..., :1], high], axis=-1)[..., np.newaxis]
    low = np.concatenate([low[..., :1], low], axis=-1)[..., np.newaxis]
    following = np.concatenate([low[..., 1:, :], low[..., -1:, :]], axis=-2)
    rise_next = np.concatenate([rise[1:], rise[-1:]])
    curve = linvill_temp_c(
        np.arange(48.0),
        tmin_c=low,
        tmax_c=high,
        tmin_next_c=following,
        sunrise_h=rise,
        sunset_h=rise + length,
        sunrise_next_h=rise_next + 24,
    )
    before_dawn = np.arange(24.0) < rise[1:]
    hours = np.where(before_dawn, curve[..., :-1, 24:], curve[..., 1:, :24])
    return np.asarray(hours.reshape(*hours.shape[:-2], -1))
