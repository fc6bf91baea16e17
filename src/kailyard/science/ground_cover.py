"""Ground under leaves, ground bare and wet, and the coefficient of mixed and of thin stands: FAO-56."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._water import HEIGHT_M
from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.crop_coefficients import KC, SHARE, WETTED
from kailyard.science.reckon import Choice, Quantity, reckoner

AREA = Quantity("", 0, 1000)
WETTED_BY = Choice(("rain or sprinkler", "drip under leaves"))

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"


@reckoner(
    gives={"cover": ""},
    source=f"{_FAO}, eq. 76",
    status="published",
    example={"kcb": 0.9, "kc_max": 1.3, "height_m": 1},
)
def cover_share(
    kcb: Annotated[ArrayLike, KC],
    kc_max: Annotated[ArrayLike, KC],
    *,
    height_m: Annotated[ArrayLike, HEIGHT_M],
    kc_min: Annotated[ArrayLike, KC] = 0.15,
) -> FloatArray:
    """Share of the ground that leaves cover, guessed from the basal coefficient where nobody looked.

    Parameters
    ----------
    kcb, kc_max : array_like
        Of the day; `kc_max` above `kc_min`. [1]
    height_m : array_like
        Of the crop, 0 to 10. [m]
    kc_min : array_like
        Crop coefficient of dry bare soil, 0.15 to 0.20. [1]

    Returns
    -------
    ndarray
        0 to 0.99; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range or `kc_min` not below `kc_max`.

    Formula
    -------
    fc = [(Kcb − Kc min) / (Kc max − Kc min)]^(1 + 0.5 h), not above 0.99
    with h = height_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 76.
    """
    most, least = KC.see("kc_max", kc_max), KC.see("kc_min", kc_min)
    not_above("kc_min", least, "kc_max", most, equal=False)
    part = np.maximum(KC.see("kcb", kcb) - least, 0) / (most - least)
    return np.asarray(np.clip(part ** (1 + 0.5 * HEIGHT_M.see("height_m", height_m)), 0, 0.99))


@reckoner(
    gives={"share": ""},
    source=f"{_FAO}, eq. 75 and p. 149",
    status="published",
    example={"cover_share": 0.53, "wetted_share": 0.3},
)
def exposed_wetted_share(
    cover_share: Annotated[ArrayLike, SHARE],
    wetted_share: Annotated[ArrayLike, WETTED],
    *,
    wetted_by: Annotated[str, WETTED_BY] = "rain or sprinkler",
) -> FloatArray:
    """Share of the ground that is both bare to the sky and wetted: where evaporation takes place.

    Parameters
    ----------
    cover_share : array_like
        Ground under leaves, 0 to 1. [1]
    wetted_share : array_like
        Ground wetted by the last rain or watering, 0.01 to 1. [1]
    wetted_by : {'rain or sprinkler', 'drip under leaves'}
        What wetted it: drip under the leaves wets shaded ground first, and little of what is bare.

    Returns
    -------
    ndarray
        0.01 to 1; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    few = min(1 − fc, fw);  drip under leaves: few = min[1 − fc, (1 − 0.67 fc) fw];  not below 0.01
    with fc = cover_share, fw = wetted_share. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 75; p. 149 for drip.
    """
    cover, wet = SHARE.see("cover_share", cover_share), WETTED.see("wetted_share", wetted_share)
    if WETTED_BY.hold("wetted_by", wetted_by) == "drip under leaves":
        wet = (1 - 0.67 * cover) * wet
    return np.asarray(np.maximum(np.minimum(1 - cover, wet), 0.01))


@reckoner(
    gives={"kc": ""},
    source=f"{_FAO}, eq. 104",
    status="published",
    example={"kc": [1.2, 0.95], "area": [0.3, 0.7], "height_m": [2, 0.3]},
)
def mixed_bed_kc(
    kc: Annotated[ArrayLike, Quantity("", 0, 2, series=True)],
    *,
    area: Annotated[ArrayLike, Quantity("", 0, 1000, series=True)],
    height_m: Annotated[ArrayLike, Quantity("m", 0, 10, series=True)],
) -> FloatArray:
    """Coefficient of a bed in which crops of several heights grow side by side.

    Parameters
    ----------
    kc, area, height_m : array_like, (..., crops)
        Coefficient, area or share of the ground (any one unit), and height of each crop along the last axis. [1, -, m]

    Returns
    -------
    ndarray, (...)
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range, or areas times heights come to nothing.

    Formula
    -------
    Kc field = (f₁ h₁ Kc₁ + f₂ h₂ Kc₂ + ...) / (f₁ h₁ + f₂ h₂ + ...)
    with f = area, h = height_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 104.
    """
    weight = AREA.see("area", area) * HEIGHT_M.see("height_m", height_m)
    total = np.sum(weight, axis=-1)
    if np.any(total == 0):
        raise InputError("area: no crop of this bed has both area and height.")
    return np.asarray(np.sum(weight * KC.see("kc", kc), axis=-1) / total)


@reckoner(
    gives={"adjustment": ""},
    source=f"{_FAO}, eq. 96",
    status="published",
    example={"cover_share": 0.5, "dense_cover_share": 0.85},
)
def sparse_stand_adjustment(
    cover_share: Annotated[ArrayLike, SHARE], dense_cover_share: Annotated[ArrayLike, WETTED]
) -> FloatArray:
    """What is taken off the mid-season coefficient of a stand thinner than usual.

    Parameters
    ----------
    cover_share, dense_cover_share : array_like
        Ground covered by this stand and by a usual one, 0 to 1. [1]

    Returns
    -------
    ndarray
        0 for a stand as dense as usual or denser; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Acm = 1 − (fc / fc dense)^½
    with fc = cover_share, fc dense = dense_cover_share. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 96.
    """
    cover = SHARE.see("cover_share", cover_share) / WETTED.see("dense_cover_share", dense_cover_share)
    return np.asarray(1 - np.sqrt(np.minimum(cover, 1)))
