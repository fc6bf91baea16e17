"""Shadows of upright things, and how squarely the sun meets a sloping bed. Endless near the horizon: stop at 2°."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Quantity, reckoner
from kailyard.science.sun_position import AZIMUTH_DEG, ELEVATION_DEG, SLOPE_DEG

HEIGHT_M = Quantity("m", 0, 200)
RISE = Quantity("m/m", -2, 2)
LENGTH_M = Quantity("m", 0, 100_000)

_GEOMETRY = "geometry of a plane; definition"


@reckoner(
    gives={"length": "m"},
    source=_GEOMETRY,
    status="common practice",
    example={"height_m": 2, "elevation_deg": 60},
)
def shadow_length_m(
    height_m: Annotated[ArrayLike, HEIGHT_M],
    elevation_deg: Annotated[ArrayLike, ELEVATION_DEG],
    *,
    rise: Annotated[ArrayLike, RISE] = 0.0,
) -> FloatArray:
    """Length of the shadow of an upright thing, measured on the level.

    Parameters
    ----------
    height_m : array_like
        Of the thing that throws it, 0 to 200. [m]
    elevation_deg : array_like
        Height of the sun above the horizon. [°]
    rise : array_like
        Of the ground in the direction of the shadow, rise over run; negative where it falls. [m/m]

    Returns
    -------
    ndarray
        NaN where the sun is down (there is no shadow), infinite where falling ground never meets the ray. [m]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    length = h / (tan e + r)
    with h = height_m, e = elevation_deg, r = rise of the ground along the shadow.
    """
    h = HEIGHT_M.see("height_m", height_m)
    e = ELEVATION_DEG.see("elevation_deg", elevation_deg)
    down = np.tan(np.deg2rad(np.where(e > 0, e, 45.0))) + RISE.see("rise", rise)
    meets = down > 0
    length = np.where(meets, h / np.where(meets, down, 1.0), np.inf)
    return np.asarray(np.where(e > 0, length, np.nan))


@reckoner(gives={"direction": "°"}, source=_GEOMETRY, status="common practice", example={"azimuth_deg": 121})
def shadow_direction_deg(azimuth_deg: Annotated[ArrayLike, AZIMUTH_DEG]) -> FloatArray:
    """Direction in which a shadow points, clockwise from north.

    Parameters
    ----------
    azimuth_deg : array_like
        Direction of the sun, clockwise from north, 0 to 360. [°]

    Returns
    -------
    ndarray
        0 to below 360. [°]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    direction = (A + 180°) mod 360°
    with A = azimuth_deg.
    """
    return np.asarray((AZIMUTH_DEG.see("azimuth_deg", azimuth_deg) + 180) % 360)


@reckoner(
    gives={"north": "m", "east": "m"},
    source=_GEOMETRY,
    status="common practice",
    example={"length_m": 3.87, "azimuth_deg": 71.4},
)
def shadow_reach_m(
    length_m: Annotated[ArrayLike, LENGTH_M], azimuth_deg: Annotated[ArrayLike, AZIMUTH_DEG]
) -> tuple[FloatArray, FloatArray]:
    """How far a shadow reaches north (south negative) and east (west negative).

    Parameters
    ----------
    length_m : array_like
        Length of the shadow, 0 to 100000. [m]
    azimuth_deg : array_like
        Direction of the sun, clockwise from north, 0 to 360. [°]

    Returns
    -------
    north, east : ndarray
        Of the shape the inputs broadcast to. [m, m]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    north = −L cos A;  east = −L sin A
    with L = length_m, A = azimuth_deg.
    """
    length = LENGTH_M.see("length_m", length_m)
    a = np.deg2rad(AZIMUTH_DEG.see("azimuth_deg", azimuth_deg))
    return np.asarray(-length * np.cos(a)), np.asarray(-length * np.sin(a))


@reckoner(
    gives={"incidence": "°"},
    source="Reda and Andreas 2004, Sol. Energy 76:577-589, eq. 47",
    status="published",
    example={"elevation_deg": 39.89, "azimuth_deg": 194.34, "slope_deg": 30, "facing_deg": 170},
)
def incidence_deg(
    elevation_deg: Annotated[ArrayLike, ELEVATION_DEG],
    azimuth_deg: Annotated[ArrayLike, AZIMUTH_DEG],
    *,
    slope_deg: Annotated[ArrayLike, SLOPE_DEG],
    facing_deg: Annotated[ArrayLike, AZIMUTH_DEG],
) -> FloatArray:
    """Angle between the sun's rays and the upright of a sloping surface: 0 square on, over 90 from behind.

    Parameters
    ----------
    elevation_deg, azimuth_deg : array_like
        Of the sun. [°]
    slope_deg : array_like
        Slope of the surface, 0 level to 90. [°]
    facing_deg : array_like
        Direction in which it falls, clockwise from north. [°]

    Returns
    -------
    ndarray
        0 to 180. [°]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    I = arccos[cos θ cos ω + sin ω sin θ cos(Γ − γ)]
    with θ = 90° − elevation_deg, ω = slope_deg, Γ = azimuth_deg, γ = facing_deg.
    (from memory; published values are met)

    References
    ----------
    .. [1] I. Reda and A. Andreas, Sol. Energy 76, 2004, eq. 47 (its azimuths are counted from south).
    """
    z = np.deg2rad(90 - ELEVATION_DEG.see("elevation_deg", elevation_deg))
    turn = np.deg2rad(AZIMUTH_DEG.see("azimuth_deg", azimuth_deg) - AZIMUTH_DEG.see("facing_deg", facing_deg))
    w = np.deg2rad(SLOPE_DEG.see("slope_deg", slope_deg))
    cosine = np.cos(z) * np.cos(w) + np.sin(w) * np.sin(z) * np.cos(turn)
    return np.asarray(np.rad2deg(np.arccos(np.clip(cosine, -1, 1))))
