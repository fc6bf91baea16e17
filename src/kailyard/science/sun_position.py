"""Where the sun stands, when it rises and sets, by a short astronomical series.

Within 0.004° of the NREL solar position algorithm (docs/validation.md has the differences) with a twentieth of its
terms. Angles in degrees, azimuth clockwise from north, east longitude positive (FAO papers count west positive), clock
time by its offset from UTC: with summer time in force add its hour to the offset.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Quantity, reckoner
from kailyard.science.sun import DAY_OF_YEAR, LATITUDE_DEG

LONGITUDE_DEG = Quantity("°", -180, 180)
YEAR = Quantity("a", 1950, 2099)
"""Every fourth year in it is a leap year."""
CLOCK_H = Quantity("h", 0, 24)
OFFSET_H = Quantity("h", -14, 14)
ELEVATION_DEG = Quantity("°", -90, 90)
AZIMUTH_DEG = Quantity("°", 0, 360)
SLOPE_DEG = Quantity("°", 0, 90)
PRESSURE_KPA = Quantity("kPa", 40, 110)
AIR_C = Quantity("°C", -60, 60)

_SOURCE = "Meeus 1988, Astronomical Formulae for Calculators, 4th ed., ch. 7, 18 (series from memory)"
_RISING_DEG = -0.8333
"""Of the sun's centre at sunrise: 0.5667 of refraction and 0.2667 of radius, as in Reda and Andreas 2004."""
_DELTA_T_DAYS = 69 / 86400
"""Between the clock of the planets and that of the turning Earth, in our decades."""
_DEG = np.pi / 180

_GARDEN = {"latitude_deg": 40, "longitude_deg": -75, "year": 2026, "day_of_year": 172, "utc_offset_h": -5}


class SunPosition(NamedTuple):
    """Where the sun's centre stands."""

    elevation: FloatArray
    """Above a level horizon, without air. [°]"""
    apparent_elevation: FloatArray
    """As seen, lifted by refraction. [°]"""
    azimuth: FloatArray
    """Clockwise from north. [°]"""


class SunTimes(NamedTuple):
    """Clock times of a day; NaN where the sun does not rise or does not set."""

    sunrise: FloatArray
    sunset: FloatArray
    noon: FloatArray
    """When the sun stands highest. [h]"""
    day_length: FloatArray
    """0 and 24 in polar night and day. [h]"""


def _days_from_2000(year: FloatArray, day_of_year: FloatArray) -> FloatArray:
    """Days from noon UT of 1 January 2000 to 0 h UT of the day."""
    return np.asarray(365 * (year - 2000) + np.floor((year - 1997) / 4) + day_of_year - 1.5)


def _sun(n: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Apparent right ascension, declination and sidereal time at Greenwich, of UT days from 2000. [rad]"""
    century = (n + _DELTA_T_DAYS) / 36525
    T = century + 1  # this series counts from 1900
    L = 279.69668 + T * (36000.76892 + T * 0.0003025)
    M = (358.47583 + T * (35999.04975 - T * 0.000150)) * _DEG
    longitude = (
        L
        + (1.919460 - T * (0.004789 + T * 0.000014)) * np.sin(M)
        + (0.020094 - T * 0.000100) * np.sin(2 * M)
        + 0.000293 * np.sin(3 * M)
        # Venus, Jupiter, the Moon, and a wave of centuries
        + 0.00134 * np.cos((153.23 + 22518.7541 * T) * _DEG)
        + 0.00154 * np.cos((216.57 + 45037.5082 * T) * _DEG)
        + 0.00200 * np.cos((312.69 + 32964.3577 * T) * _DEG)
        + 0.00179 * np.sin((350.74 + 445267.1142 * T) * _DEG)
        + 0.00178 * np.sin((231.19 + 20.20 * T) * _DEG)
    )
    omega = (125.04 - 1934.136 * century) * _DEG
    nutation = -0.00478 * np.sin(omega) - 0.00037 * np.sin(2 * L * _DEG)
    longitude = (longitude + nutation - 0.00569) * _DEG
    obliquity = (23.4392911 - 0.0130042 * century + 0.00256 * np.cos(omega)) * _DEG
    right_ascension = np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude))
    declination = np.arcsin(np.sin(obliquity) * np.sin(longitude))
    sidereal = (280.46061837 + 360.98564736629 * n + nutation * np.cos(obliquity)) * _DEG
    return right_ascension, declination, sidereal


def _hour_angle(n: FloatArray, longitude: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Local hour angle, -pi to pi, west positive, and declination. [rad]"""
    right_ascension, declination, sidereal = _sun(n)
    angle = sidereal + longitude * _DEG - right_ascension
    return np.asarray((angle + np.pi) % (2 * np.pi) - np.pi), declination


@reckoner(
    gives={"elevation": "°", "apparent_elevation": "°", "azimuth": "°"},
    source=f"{_SOURCE}; refraction as in Reda and Andreas 2004, Sol. Energy 76:577-589, eq. 42",
    status="published",
    example={**_GARDEN, "clock_h": 9},
)
def sun_position(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    longitude_deg: Annotated[ArrayLike, LONGITUDE_DEG],
    *,
    year: Annotated[ArrayLike, YEAR],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    clock_h: Annotated[ArrayLike, CLOCK_H],
    utc_offset_h: Annotated[ArrayLike, OFFSET_H] = 0.0,
    pressure_kpa: Annotated[ArrayLike, PRESSURE_KPA] = 101.325,
    temp_c: Annotated[ArrayLike, AIR_C] = 12.0,
) -> SunPosition:
    """Height and direction of the sun at a moment.

    Parameters
    ----------
    latitude_deg, longitude_deg : array_like
        North and east positive. [°]
    year, day_of_year : array_like
        On the calendar of the place; 1950 to 2099, 1 to 366. [a, d]
    clock_h : array_like
        Hour of the clock, minutes as decimals, 0 to 24. [h]
    utc_offset_h : array_like
        What the clock is ahead of UTC; an hour more in summer time. [h]
    pressure_kpa, temp_c : array_like
        Of the air, for the refraction alone. [kPa, °C]

    Returns
    -------
    SunPosition
        Each of the shape all inputs broadcast to; NaN stays NaN. [°]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    sin e = sin φ sin δ + cos φ cos δ cos H;  tan A = sin H / (cos H sin φ − tan δ cos φ),  A counted from south
    apparent elevation: e + (P/101) [283/(273 + T)] 1.02 / (60 tan(e + 10.3/(e + 5.11))) in degrees
    with φ = latitude_deg. δ and the hour angle H come from the sun's place on the ecliptic by a series in time: mean
        longitude, equation of the centre, five disturbances, nutation, obliquity, sidereal time (below).
    (from memory; published values are met)

    References
    ----------
    .. [1] J. Meeus, "Astronomical Formulae for Calculators", 4th ed., 1988, ch. 7, 18 (from memory; the series
       checked against [2]).
    .. [2] I. Reda and A. Andreas, "Solar position algorithm", Sol. Energy 76, 2004, pp. 577-589 (refraction).
    """
    phi = LATITUDE_DEG.see("latitude_deg", latitude_deg) * _DEG
    east = LONGITUDE_DEG.see("longitude_deg", longitude_deg)
    day = _days_from_2000(YEAR.see("year", year), DAY_OF_YEAR.see("day_of_year", day_of_year))
    hours = CLOCK_H.see("clock_h", clock_h) - OFFSET_H.see("utc_offset_h", utc_offset_h)
    H, delta = _hour_angle(day + hours / 24, east)
    sine = np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.cos(H)
    geocentric = np.arcsin(np.clip(sine, -1, 1))
    # The observer stands on the ground, not at the Earth's centre: parallax of 8.8 seconds of arc at the horizon.
    elevation = (geocentric - 8.794 / 3600 * _DEG * np.cos(geocentric)) / _DEG
    P, t = PRESSURE_KPA.see("pressure_kpa", pressure_kpa), AIR_C.see("temp_c", temp_c)
    seen = elevation >= _RISING_DEG
    e = np.where(seen, elevation, 0.0)
    lift = P / 101.0 * 283 / (273 + t) * 1.02 / (60 * np.tan((e + 10.3 / (e + 5.11)) * _DEG))
    azimuth = np.arctan2(np.sin(H), np.cos(H) * np.sin(phi) - np.tan(delta) * np.cos(phi)) / _DEG + 180
    elevation, lift, azimuth = np.broadcast_arrays(elevation, np.where(seen, lift, 0.0), azimuth % 360)
    return SunPosition(np.array(elevation), np.asarray(elevation + lift), np.array(azimuth))


@reckoner(
    gives={"sunrise": "h", "sunset": "h", "noon": "h", "day_length": "h"},
    source=f"{_SOURCE}; sunrise with the sun's centre at -0.8333°",
    status="published",
    example=_GARDEN,
)
def sun_times(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    longitude_deg: Annotated[ArrayLike, LONGITUDE_DEG],
    *,
    year: Annotated[ArrayLike, YEAR],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    utc_offset_h: Annotated[ArrayLike, OFFSET_H] = 0.0,
) -> SunTimes:
    """Sunrise, sunset and solar noon by the clock, over a level horizon at sea level.

    Parameters
    ----------
    latitude_deg, longitude_deg : array_like
        North and east positive. [°]
    year, day_of_year : array_like
        1950 to 2099, 1 to 366. [a, d]
    utc_offset_h : array_like
        What the clock is ahead of UTC; an hour more in summer time. [h]

    Returns
    -------
    SunTimes
        Clock hours of the rise before and the set after the noon that lies nearest to 12 h by mean local time; below 0
        or above 24 where the clock is far from the sun. [h]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    noon: where the hour angle H = 0; rise and set: where cos H = (sin h₀ − sin φ sin δ) / (cos φ cos δ), h₀ = −0.8333°
    Each is found by steps: the hour angle and δ at the time found last move it by what H is still off.
    (from memory; published values are met)

    References
    ----------
    .. [1] J. Meeus, "Astronomical Formulae for Calculators", 4th ed., 1988, ch. 18 (from memory).
    """
    phi = LATITUDE_DEG.see("latitude_deg", latitude_deg) * _DEG
    east = LONGITUDE_DEG.see("longitude_deg", longitude_deg)
    day = _days_from_2000(YEAR.see("year", year), DAY_OF_YEAR.see("day_of_year", day_of_year))
    ahead = OFFSET_H.see("utc_offset_h", utc_offset_h)
    full_turn_h = 12 / np.pi
    noon = 12 - east / 15 + 0 * (day + phi)
    for _ in range(2):
        noon = noon - _hour_angle(day + noon / 24, east)[0] * full_turn_h
    times = []
    polar: FloatArray = np.asarray(np.nan)
    for side in (-1, 1):
        at = noon
        for _ in range(4):
            H, delta = _hour_angle(day + at / 24, east)
            cosine = (np.sin(_RISING_DEG * _DEG) - np.sin(phi) * np.sin(delta)) / (np.cos(phi) * np.cos(delta))
            polar = np.where(cosine >= 1, 0.0, np.where(cosine <= -1, 24.0, np.nan))
            wanted = side * np.arccos(np.clip(cosine, -1, 1))
            at = at + (wanted - H) * full_turn_h
        times.append(np.where(np.isnan(polar), at, np.nan))
    length = np.where(np.isnan(polar), times[1] - times[0], polar)
    length = np.where(np.isnan(noon), np.nan, length)
    rise, fall = times
    return SunTimes(
        np.asarray(rise + ahead), np.asarray(fall + ahead), np.asarray(noon + ahead), np.asarray(length + 0 * ahead)
    )
