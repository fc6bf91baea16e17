"""Length of the day. Two definitions, two functions; in the north they differ by 7 to 36 minutes up to 60 degrees."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Quantity, reckoner

LATITUDE_DEG = Quantity("°", -90, 90)
DAY_OF_YEAR = Quantity("d", 1, 366)

_SUNRISE_ALTITUDE_RAD = np.deg2rad(-50 / 60)
"""Of the sun's centre when its upper edge touches the horizon: 34 minutes of arc of refraction, 16 of its width."""


@reckoner(
    gives={"day_length": "h"},
    source="Spencer 1971, Search 2(5):172 (declination); sun's centre at -50 minutes of arc at sunrise and sunset",
    status="published",
    example={"latitude_deg": 45, "day_of_year": 172},
)
def day_length_h(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG], day_of_year: Annotated[ArrayLike, DAY_OF_YEAR]
) -> FloatArray:
    """Sunrise to sunset as a person sees them: with refraction and the sun's width.

    For onion day-length classes and what is said to people. Not for evapotranspiration: see `fao_day_length_h`.

    Parameters
    ----------
    latitude_deg : array_like
        North positive, -90 to 90. [°]
    day_of_year : array_like
        1 January is 1; to 366; broadcasts with `latitude_deg`. [d]

    Returns
    -------
    ndarray
        0 in the polar night, 24 under the midnight sun; NaN stays NaN. Against a full solar position under a minute
        off at the solstices; near the equinoxes up to 5 minutes to 40°, 7 to 50° and 11 to 60° over the years
        1990-2039 and all longitudes, which is the length two days later or earlier: the calendar drifts by most of a
        day between leap years. `sun_times` knows year and place. [h]

    Raises
    ------
    InputError
        If a value lies outside its range.

    Formula
    -------
    N = "(from memory)"
    δ = 0.006918 − 0.399912 cos Γ + 0.070257 sin Γ − 0.006758 cos 2Γ + 0.000907 sin 2Γ − 0.002697 cos 3Γ
        + 0.00148 sin 3Γ,  Γ = 2π (J − 1) / 365
    with φ = latitude_deg in radians, J = day_of_year. (from memory; published values are met)

    References
    ----------
    .. [1] J. W. Spencer, "Fourier series representation of the position of the sun", Search 2(5), 1971, p. 172.
    """
    phi = np.deg2rad(LATITUDE_DEG.hold("latitude_deg", latitude_deg))
    g = 2 * np.pi * (DAY_OF_YEAR.hold("day_of_year", day_of_year) - 1) / 365
    delta = (
        0.006918
        - 0.399912 * np.cos(g)
        + 0.070257 * np.sin(g)
        - 0.006758 * np.cos(2 * g)
        + 0.000907 * np.sin(2 * g)
        - 0.002697 * np.cos(3 * g)
        + 0.00148 * np.sin(3 * g)
    )
    cosine = (np.sin(_SUNRISE_ALTITUDE_RAD) - np.sin(phi) * np.sin(delta)) / (np.cos(phi) * np.cos(delta))
    return np.asarray(24 / np.pi * np.arccos(np.clip(cosine, -1, 1)))


@reckoner(
    gives={"day_length": "h"},
    source="Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56, eq. 24, 25, 34",
    status="published",
    example={"latitude_deg": -20, "day_of_year": 246},
)
def fao_day_length_h(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG], day_of_year: Annotated[ArrayLike, DAY_OF_YEAR]
) -> FloatArray:
    """Daylight hours N of FAO-56: the sun's centre on a horizon without air.

    Belongs inside the evapotranspiration equations, whose coefficients were fitted to it. Shorter than what a person
    sees: see `day_length_h`.

    Parameters
    ----------
    latitude_deg : array_like
        North positive, -90 to 90. [°]
    day_of_year : array_like
        1 January is 1; to 366; broadcasts with `latitude_deg`. [d]

    Returns
    -------
    ndarray
        0 in the polar night, 24 under the midnight sun; NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value lies outside its range.

    Formula
    -------
    N = "(from memory)"
    with φ = latitude_deg in radians, J = day_of_year. (from memory; published values are met)

    References
    ----------
    .. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, "Crop evapotranspiration", FAO Irrig. Drain. Paper 56,
       1998, eq. 24 (declination), 25 (sunset hour angle), 34.
    """
    phi = np.deg2rad(LATITUDE_DEG.hold("latitude_deg", latitude_deg))
    J = DAY_OF_YEAR.hold("day_of_year", day_of_year)
    delta = 0.409 * np.sin(2 * np.pi * J / 365 - 1.39)
    sunset_angle = np.arccos(np.clip(-np.tan(phi) * np.tan(delta), -1, 1))
    return np.asarray(24 / np.pi * sunset_angle)
