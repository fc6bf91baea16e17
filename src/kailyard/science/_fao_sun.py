"""Shared inside this folder: the sun of FAO-56 without checks."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from kailyard.science.checks import FloatArray

SOLAR_CONSTANT = 0.0820
"""MJ/m² a minute."""


class SunGeometry(NamedTuple):
    """The sun of FAO-56 on a day."""

    inverse_distance: FloatArray
    declination: FloatArray
    sunset_angle: FloatArray


def orbit(J: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Eq. 23, 24 without checks: inverse distance and declination, which are the same for every place."""
    angle = 2 * np.pi * J / 365
    return np.asarray(1 + 0.033 * np.cos(angle)), np.asarray(0.409 * np.sin(angle - 1.39))


def geometry(latitude_rad: FloatArray, J: FloatArray) -> SunGeometry:
    """Eq. 23, 24, 25 without checks."""
    dr, delta = orbit(J)
    return SunGeometry(dr, delta, np.asarray(np.arccos(np.clip(-np.tan(latitude_rad) * np.tan(delta), -1, 1))))


def above_the_air(latitude_rad: FloatArray, J: FloatArray) -> FloatArray:
    """Eq. 21 without checks. [MJ/m² a day]"""
    dr, delta, ws = geometry(latitude_rad, J)
    return np.asarray(
        24 * 60 / np.pi * SOLAR_CONSTANT * dr
        * (ws * np.sin(latitude_rad) * np.sin(delta) + np.cos(latitude_rad) * np.cos(delta) * np.sin(ws))
    )  # fmt: skip
