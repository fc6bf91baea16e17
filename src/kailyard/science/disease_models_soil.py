"""Diseases of wet and of cool soil, and of splashed bacteria: the conditions that are published, and no more."""

from __future__ import annotations

from typing import Annotated

from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science._disease_tables import YES_NO, known
from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Quantity, reckoner

SOIL_C = Quantity("°C", -30, 60)


@reckoner(
    gives={"favoured": ""},
    source="Babadoost, oomycete diseases of cucurbits (review); Penn State Extension, 1 July 2013",
    status="published",
    example={"temp_c": 27, "soaked": 1},
)
def phytophthora_blight_favoured(
    temp_c: Annotated[ArrayLike, AIR_C], soaked: Annotated[ArrayLike, YES_NO]
) -> FloatArray:
    """Phytophthora blight of squash and pepper: 0 not favoured, 1 can spread, 2 best for it.

    Spore cases form in soil at field capacity; swimming spores are freed where water stands. It lasts ten years.

    Parameters
    ----------
    temp_c : array_like
        Temperature, -60 to 60. [°C]
    soaked : array_like
        1 where the soil is full of water, else 0. [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    0: not soaked, or outside 10 to 36 °C;  1: soaked;  2: soaked and 24 to 33 °C
    """
    t, water = AIR_C.see("temp_c", temp_c), YES_NO.see("soaked", soaked)
    return known((water > 0) * (1.0 * ((t >= 10) & (t <= 36)) + 1.0 * ((t >= 24) & (t <= 33))), t, water)


@reckoner(
    gives={"favoured": ""},
    source="Crowe and Hall 1980, Phytopathology 70:70-74 (abstract); University of California pages",
    status="published",
    example={"soil_c": 17},
)
def white_rot_favoured(soil_c: Annotated[ArrayLike, SOIL_C]) -> FloatArray:
    """White rot of onion and garlic: 0 the soil is too cold or too warm, 1 it infects, 2 best for it.

    Parameters
    ----------
    soil_c : array_like
        Temperature of the soil at the roots, -30 to 60. [°C]

    Returns
    -------
    ndarray
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    1: 6 to 24 °C;  2: 16 to 18 °C
    """
    t = SOIL_C.see("soil_c", soil_c)
    return known(1.0 * ((t >= 6) & (t <= 24)) + 1.0 * ((t >= 16) & (t <= 18)), t)


@reckoner(
    gives={"favoured": ""},
    source="Pacific Northwest Plant Disease Management Handbook, black rot",
    status="published",
    example={"temp_c": 28, "wet": 1},
)
def black_rot_favoured(temp_c: Annotated[ArrayLike, AIR_C], wet: Annotated[ArrayLike, YES_NO]) -> FloatArray:
    """Black rot of the cabbage family: whether leaves are wet in the warmth that suits it best.

    Parameters
    ----------
    temp_c : array_like
        Temperature while leaves are wet, -60 to 60. [°C]
    wet : array_like
        1 where dew, rain or sprinkling wets leaves, else 0. [1]

    Returns
    -------
    ndarray
        1 or 0; 0 does not rule it out; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    favoured: wet at 26.7 to 30 °C
    """
    t, water = AIR_C.see("temp_c", temp_c), YES_NO.see("wet", wet)
    return known(1.0 * ((water > 0) & (t >= 26.7) & (t <= 30)), t, water)


@reckoner(
    gives={"favoured": ""},
    source="Alabama Cooperative Extension System, bacterial spot of tomato and pepper",
    status="published",
    example={"night_c": 25},
)
def bacterial_spot_nights(night_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """What nights are to bacterial spot of tomato and pepper: 0 they hold it down, 1 neither, 2 they favour it.

    Parameters
    ----------
    night_c : array_like
        Mean temperature of the night, -60 to 60. [°C]

    Returns
    -------
    ndarray
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    0: below 16 °C, whatever the day;  2: 24 to 28 °C
    """
    t = AIR_C.see("night_c", night_c)
    return known(1.0 * (t >= 16) + 1.0 * ((t >= 24) & (t <= 28)), t)
