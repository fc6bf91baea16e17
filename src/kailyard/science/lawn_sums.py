"""The practitioner's own sums: how a lawn grows, when it wants mowing, what it drinks, what ears bear."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science.checks import FloatArray
from kailyard.science.mowing_sums import LAWN_M2
from kailyard.science.reckon import Choice, Quantity, reckoner

HEIGHT_MM = Quantity("mm", 5, 300)
GROWTH_MM_WEEK = Quantity("mm/week", 0.1, 200)
TAKEN = Quantity("", 0.05, 0.6)
ET_MM = Quantity("mm", 0, 30)
DAYS = Quantity("d", 1, 366)
KC = Quantity("", 0, 2)
RAIN_MM = Quantity("mm", 0, 2000)
SOUND_DBA = Quantity("dBA", 80, 140)
GRASS = Choice(("cool-season", "warm-season", "warm-season as first printed"))

_GROWTH = {"cool-season": (20.0, 5.5), "warm-season": (31.0, 7.0), "warm-season as first printed": (31.0, 7.0)}
"""Optimum (Woods 2014, published) and spread (from memory) of mean air temperature. [°C, °C]"""


@reckoner(
    gives={"potential": ""},
    source="Gelernter and Stowell 2005; Woods 2014 (optima published; equation and spreads from memory)",
    status="memory",
    example={"tmean_c": 15, "grass": "cool-season"},
)
def growth_potential(tmean_c: Annotated[ArrayLike, AIR_C], *, grass: Annotated[str, GRASS]) -> FloatArray:
    """Share of its best growth that a lawn has at a mean temperature, water and feed not wanting.

    Parameters
    ----------
    tmean_c : array_like
        Mean AIR temperature of the day or the month, -60 to 60. [°C]
    grass : {'cool-season', 'warm-season', 'warm-season as first printed'}
        Fescues, bluegrass and ryegrass, or bermudagrass and its like, which is held at 1 above its optimum; as first
        printed it fell there.

    Returns
    -------
    ndarray
        0 to 1; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range or `grass` none of its words.

    Formula
    -------
    GP = exp[−½ ((T − Topt) / spread)²] (from memory)
    cool-season: Topt = 20, spread = 5.5 °C;  warm-season: Topt = 31, spread = 7 °C, and GP = 1 above Topt.

    References
    ----------
    .. [1] W. Gelernter and L. Stowell, "Predicting turf performance", Grounds Maintenance magazine, 2005.
    .. [2] M. Woods, "Growth potential and optimum temperatures", 2014.
    """
    optimum, spread = _GROWTH[GRASS.hold("grass", grass)]
    T = AIR_C.see("tmean_c", tmean_c)
    held = np.minimum(T, optimum) if grass == "warm-season" else T
    return np.asarray(np.exp(-0.5 * ((held - optimum) / spread) ** 2))


@reckoner(
    gives={"days": "d", "mow_at": "mm"},
    source="Univ. of Nebraska Turf iNfo, Manage to a growth rate, 2019; Condlin, NC State Extension, 2015 (one third)",
    status="published",
    example={"set_height_mm": 76.2, "growth_mm_week": 38.1},
)
def mowing_interval_d(
    set_height_mm: Annotated[ArrayLike, HEIGHT_MM],
    growth_mm_week: Annotated[ArrayLike, GROWTH_MM_WEEK],
    *,
    taken_share: Annotated[ArrayLike, TAKEN] = 1 / 3,
) -> tuple[FloatArray, FloatArray]:
    """Days from one mowing to the next by the one-third rule, and the height at which to mow.

    Printed intervals are rounded down: 4.67 days stand as 4. Best growth times `growth_potential` is the weather's.

    Parameters
    ----------
    set_height_mm : array_like
        Height to which the mower is set, 5 to 300. [mm]
    growth_mm_week : array_like
        Growth in height in a week, 0.1 to 200: a healthy lawn of tall fescue or bluegrass aims at 38. [mm/week]
    taken_share : array_like
        Most of the leaf's height that one mowing takes, 0.05 to 0.6. [1]

    Returns
    -------
    days, mow_at : ndarray
        Not rounded; NaN stays NaN. [d, mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    mow at 1.5 H;  days = 0.5 H / (growth in a week / 7)
    with H = set_height_mm; for another share taken than a third 0.5 becomes share / (1 − share).

    References
    ----------
    .. [1] Univ. of Nebraska-Lincoln, Turf iNfo, "Manage to a growth rate", reprinted October 2019.
    .. [2] S. Condlin, "Lawn care essentials", NC State Extension Lee County, 2015.
    """
    H = HEIGHT_MM.see("set_height_mm", set_height_mm)
    share = TAKEN.see("taken_share", taken_share)
    over = H * share / (1 - share)
    growth = GROWTH_MM_WEEK.see("growth_mm_week", growth_mm_week)
    return np.asarray(over / (growth / 7)), np.asarray(H + over + 0 * growth)


@reckoner(
    gives={"water": "L", "depth": "mm"},
    source="Univ. of California, Center for Landscape and Urban Horticulture, Table 1 (Meyer et al. 1985)",
    status="published",
    example={"area_m2": 400, "et0_mm": 5, "kc": 0.94, "rain_mm": 10, "days": 7},
)
def lawn_water_l(
    area_m2: Annotated[ArrayLike, LAWN_M2],
    *,
    et0_mm: Annotated[ArrayLike, ET_MM],
    kc: Annotated[ArrayLike, KC],
    rain_mm: Annotated[ArrayLike, RAIN_MM] = 0.0,
    days: Annotated[ArrayLike, DAYS] = 7.0,
) -> tuple[FloatArray, FloatArray]:
    """Water that a lawn takes beyond the rain, over some days: for a first idea, without the soil's store.

    Parameters
    ----------
    area_m2 : array_like
        Of the lawn, 0 to 10000000. [m²]
    et0_mm : array_like
        Reference evapotranspiration of a mean day, 0 to 30. [mm]
    kc : array_like
        Crop coefficient of the lawn in that month, 0 to 2. [1]
    rain_mm : array_like
        Rain of all the days together that stays with the roots, 0 to 2000. [mm]
    days : array_like
        How many, 1 to 366. [d]

    Returns
    -------
    water, depth : ndarray
        Never below 0; a millimetre on a square metre is a litre; NaN stays NaN. [L, mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    depth = days × ET₀ × Kc − rain;  water = depth × area

    References
    ----------
    .. [1] Univ. of California, Center for Landscape and Urban Horticulture, Table 1, after Meyer et al., Proc. 5th Int.
       Turfgrass Res. Conf., 1985, pp. 357-364.
    """
    use = DAYS.see("days", days) * ET_MM.see("et0_mm", et0_mm) * KC.see("kc", kc)
    depth = np.maximum(use - RAIN_MM.see("rain_mm", rain_mm), 0)
    area = LAWN_M2.see("area_m2", area_m2)
    return np.asarray(depth * area), np.asarray(depth + 0 * area)


@reckoner(
    gives={"hours": "h"},
    source="NIOSH, Criteria for a recommended standard: occupational noise exposure, Publication 98-126, 1998",
    status="published",
    example={"level_dba": 91},
)
def hours_at_a_sound_h(level_dba: Annotated[ArrayLike, SOUND_DBA]) -> FloatArray:
    """Hours a day that unguarded ears bear at a level of sound. Wear hearing protection long before.

    Parameters
    ----------
    level_dba : array_like
        At the ear, 80 to 140: petrol mowers some 91, battery mowers 75 to 85. [dBA]

    Returns
    -------
    ndarray
        For a worker's every day; NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    T = 8 / 2^((L − 85)/3)
    with L = level_dba.

    References
    ----------
    .. [1] NIOSH Publication 98-126, 1998 (85 dBA for 8 hours, every 3 dB halves the time).
    """
    return np.asarray(8 / 2 ** ((SOUND_DBA.see("level_dba", level_dba) - 85) / 3))
