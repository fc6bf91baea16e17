"""Downy mildews by the weather: they get in through wet leaves, and make their spores in humid nights."""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science._disease_tables import HUMID_H, RAIN_MM, WET_H, YES_NO, known
from kailyard.science.checks import FloatArray
from kailyard.science.humidity import HUMIDITY_PCT
from kailyard.science.reckon import Quantity, reckoner

HOURS_OF_DAY = Quantity("h", 0, 24)

CUCURBIT_DOWNY_LATENT_DAYS = (4, 12)
"""Days from infection to the first spots. (compendium of 1996)"""
ONION_DOWNY_LATENT_DAYS = (10, 16)
"""Days from infection to the first sign. (Hildebrand and Sutton 1982)"""
COHEN = ((2.0, 20.0, 20.0, 20.0, 20.0), (6.0, 15.0, 10.0, 15.0, 20.0), (12.0, 10.0, 5.0, 10.0, 20.0))
"""Cohen 1977: hours wet; lowest °C that infects, and with many spores; best range. Beyond 24 h the best is 5 to 20."""


@reckoner(
    gives={"infects": ""},
    source="Cohen 1977, Can. J. Bot. (abstract); Arauz et al. 2010, Phytopathology 100:959-967 (abstract)",
    status="published",
    example={"temp_c": 20, "wet_h": 6},
)
def cucurbit_downy_mildew_infection(
    temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]
) -> FloatArray:
    """Downy mildew of cucumber and its kin: 0 none, 1 with many spores or barely, 2 infection, 3 in its best range.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60. [°C]
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000. [h]

    Returns
    -------
    ndarray
        By the row of the table whose hours are reached; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    hours wet   lowest °C (with many spores)   best °C
    2           20                             20
    6           15 (10)                        15 to 20
    12          10 (5)                         10 to 20
    24          as for 12                      5 to 20
    highest 25 °C; up to 28 °C once

    References
    ----------
    .. [1] Y. Cohen, Can. J. Bot., 1977: temperature, leaf wetness and inoculum on downy mildew of cucumber.
    .. [2] L. F. Arauz, K. N. Neufeld, A. L. Lloyd and P. S. Ojiambo, Phytopathology 100, 2010, pp. 959-967: best
       19.5 to 21.7 °C, little at 5 or 30 °C.
    """
    t, w = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h)
    value = np.zeros(np.broadcast_shapes(t.shape, w.shape))
    for hours, lowest, with_many, best_low, best_high in COHEN:
        here = 1.0 * ((t >= with_many) & (t <= 28))
        here = np.where((t >= lowest) & (t <= 25), 2.0, here)
        here = np.where((t >= best_low) & (t <= best_high), 3.0, here)
        value = np.where(w >= hours, np.maximum(value, here), value)
    value = np.where((w >= 24) & (t >= 5) & (t <= 20), 3.0, value)
    return known(value, t, w)


@reckoner(
    gives={"spores": ""},
    source="American Phytopathological Society, compendium of 1996, as two advisory pages quote it",
    status="published",
    example={"temp_c": 18, "humid_h": 7},
)
def cucurbit_downy_mildew_spores(
    temp_c: Annotated[ArrayLike, AIR_C], humid_h: Annotated[ArrayLike, HUMID_H]
) -> FloatArray:
    """Whether downy mildew of cucumber and its kin makes spores in a night.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature of the humid hours, -60 to 60. [°C]
    humid_h : array_like
        Hours in a row of saturated air, 0 to 100000. [h]

    Returns
    -------
    ndarray
        1 or 0; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    spores: ≥ 6 h at a relative humidity of 100 %, 15 to 30 °C
    """
    t, h = AIR_C.see("temp_c", temp_c), HUMID_H.see("humid_h", humid_h)
    return known(1.0 * ((h >= 6) & (t >= 15) & (t <= 30)), t, h)


class OnionNight(NamedTuple):
    """What a night and its morning are to onion downy mildew."""

    spores: FloatArray
    """1 where spores are made. [1]"""
    infection: FloatArray
    """0 none, 1 outside the best range, 2 in it. [1]"""


@reckoner(
    gives={"spores": "", "infection": ""},
    source="Hildebrand and Sutton 1982, Phytopathology 72:219-224 (abstract); NIBIO, onion downy mildew; Gilles et al.",
    status="published",
    example={
        "day_max_c": 22,
        "night_rh_pct": 96,
        "night_c": 12,
        "night_rain_mm": 0,
        "film": 0,
        "morning_c": 10,
        "morning_wet_h": 3,
    },
)
def onion_downy_mildew(
    *,
    day_max_c: Annotated[ArrayLike, AIR_C],
    night_rh_pct: Annotated[ArrayLike, HUMIDITY_PCT],
    night_c: Annotated[ArrayLike, AIR_C],
    night_rain_mm: Annotated[ArrayLike, RAIN_MM],
    film: Annotated[ArrayLike, YES_NO],
    morning_c: Annotated[ArrayLike, AIR_C],
    morning_wet_h: Annotated[ArrayLike, HOURS_OF_DAY],
) -> OnionNight:
    """Downy mildew of onion: whether a night makes spores, and whether they infect the next morning.

    Spores live through cloudy wet days and die in sunny dry ones. Rules of this kind called 111 of 119 nights rightly
    (Jesperson and Sutton 1987).

    Parameters
    ----------
    day_max_c : array_like
        Highest temperature on the day before, -60 to 60. [°C]
    night_rh_pct : array_like
        Lowest relative humidity from two in the night to dawn, 0 to 100. [%]
    night_c : array_like
        Mean temperature of those hours, -60 to 60. [°C]
    night_rain_mm : array_like
        Rain from midnight to six, 0 to 2000. [mm]
    film : array_like
        1 where leaves stand under a film of water all those hours, else 0. [1]
    morning_c : array_like
        Mean temperature of the wet hours of the morning, -60 to 60. [°C]
    morning_wet_h : array_like
        Hours of leaf wetness after dawn, 0 to 24. [h]

    Returns
    -------
    OnionNight
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    spores: day before < 23.5 °C, RH ≥ 95 % from 02:00 to dawn at 4 to 24 °C, no rain from 00:00 to 06:00, no film
    infection: spores, then ≥ 2 h of wet leaves; best at 6 to 16 °C

    References
    ----------
    .. [1] P. D. Hildebrand and J. C. Sutton, Phytopathology 72, 1982, pp. 219-224 (23 to 24 °C; humid till dawn).
    .. [2] T. Gilles et al., Warwick HRI (4 to 24 °C at night); NIBIO, Norway (rain; wetness of the morning).
    """
    day, rh = AIR_C.see("day_max_c", day_max_c), HUMIDITY_PCT.see("night_rh_pct", night_rh_pct)
    night, rain = AIR_C.see("night_c", night_c), RAIN_MM.see("night_rain_mm", night_rain_mm)
    water = YES_NO.see("film", film)
    morning = AIR_C.see("morning_c", morning_c)
    wet = HOURS_OF_DAY.see("morning_wet_h", morning_wet_h)
    made = (day < 23.5) & (rh >= 95) & (night >= 4) & (night <= 24) & (rain == 0) & (water == 0)
    spores = known(1.0 * made, day, rh, night, rain, water)
    best = (morning >= 6) & (morning <= 16)
    infection = known(1.0 * (wet >= 2) * (1 + best), wet, morning) * spores
    return OnionNight(spores, infection)


@reckoner(
    gives={"stopped": ""},
    source="Gilles et al., sporulation model of onion downy mildew (Warwick HRI), introduction",
    status="published",
    example={"above_27_h": 9, "above_28_h": 5, "above_29_h": 3, "above_30_h": 1},
)
def onion_downy_mildew_stopped_by_heat(
    *,
    above_27_h: Annotated[ArrayLike, HOURS_OF_DAY],
    above_28_h: Annotated[ArrayLike, HOURS_OF_DAY],
    above_29_h: Annotated[ArrayLike, HOURS_OF_DAY],
    above_30_h: Annotated[ArrayLike, HOURS_OF_DAY],
) -> FloatArray:
    """Whether a hot day keeps onion downy mildew from making spores in the night after it, by the hours of heat.

    A looser rule than the 23.5 °C of `onion_downy_mildew`: where the two differ, that one is silent sooner.

    Parameters
    ----------
    above_27_h : array_like
        Hours of the day above 27 °C, 0 to 24. [h]
    above_28_h : array_like
        Hours of the day above 28 °C, 0 to 24. [h]
    above_29_h : array_like
        Hours of the day above 29 °C, 0 to 24. [h]
    above_30_h : array_like
        Hours of the day above 30 °C, 0 to 24. [h]

    Returns
    -------
    ndarray
        1 or 0; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    stopped: more than 8, 6, 4 or 2 h above 27, 28, 29 or 30 °C
    """
    h27, h28 = HOURS_OF_DAY.see("above_27_h", above_27_h), HOURS_OF_DAY.see("above_28_h", above_28_h)
    h29, h30 = HOURS_OF_DAY.see("above_29_h", above_29_h), HOURS_OF_DAY.see("above_30_h", above_30_h)
    return known(1.0 * ((h27 > 8) | (h28 > 6) | (h29 > 4) | (h30 > 2)), h27, h28, h29, h30)
