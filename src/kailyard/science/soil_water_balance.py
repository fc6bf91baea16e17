"""Water of a bed day by day: the drying surface, and the root zone with one coefficient or with two (FAO-56).

Depletion counts from field capacity down. Every balance closes: what comes in less what goes out is the change in
depletion, to rounding. A day whose weather is missing is unknown and so is every day after it: fill gaps first.

Rain and watering are taken to come early in the day, so that stress and drying are judged with the ground as wetted.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._water import HEIGHT_M, WIND_M_S, climate_term, shortfall
from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.crop_coefficients import KC
from kailyard.science.humidity import HUMIDITY_PCT
from kailyard.science.reckon import Choice, Quantity, reckoner
from kailyard.science.soil_water import DEPTH_MM, FRACTION

DAYS_MM = Quantity("mm", 0, 2000, series=True)
ET0_MM = Quantity("mm", -5, 30, series=True)
DAYS_KC = Quantity("", 0, 2, series=True)
DAYS_SHARE = Quantity("", 0, 1, series=True)
DAYS_WETTED = Quantity("", 0.01, 1, series=True)
DRAINAGE = Choice(("after use", "before use"))

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_WEEK = {"et0_mm": [4.5, 5, 3.9, 4.2], "rain_mm": [0, 0, 6, 0], "irrigation_mm": [40, 0, 0, 0]}


class SurfaceLayer(NamedTuple):
    """The surface of a bed, day by day."""

    reduction: FloatArray
    """Kr: 1 while the surface is wet."""
    coefficient: FloatArray
    """Ke: evaporation over reference evapotranspiration."""
    evaporation_mm: FloatArray
    """Over the whole bed."""
    percolation_mm: FloatArray
    """Out of the wetted part of the layer into the root zone below."""
    depletion_mm: FloatArray
    """Of the wetted part, at the day's end."""


class RootZone(NamedTuple):
    """The root zone of a bed, day by day."""

    stress: FloatArray
    """Ks: 1 while easy water lasts."""
    et_mm: FloatArray
    """What crop and surface took."""
    percolation_mm: FloatArray
    """Lost below the roots."""
    depletion_mm: FloatArray
    """At the day's end; more than the whole available water only where the roots' share shrank."""


@reckoner(
    gives={"kc_max": ""},
    source=f"{_FAO}, eq. 72",
    status="published",
    example={"kcb": 0.9, "wind_2m_m_s": 3, "humidity_min_pct": 20, "height_m": 1},
)
def kc_max(
    kcb: Annotated[ArrayLike, KC],
    *,
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    humidity_min_pct: Annotated[ArrayLike, HUMIDITY_PCT],
    height_m: Annotated[ArrayLike, HEIGHT_M],
) -> FloatArray:
    """The most that crop and wet ground together can take, over reference evapotranspiration.

    Parameters
    ----------
    kcb : array_like
        Basal coefficient of the day, 0 to 2. [1]
    wind_2m_m_s, humidity_min_pct, height_m : array_like
        As `adjusted_kc_mid`. [m/s, %, m]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Kc max = the greater of 1.2 + [0.04 (u₂ − 2) − 0.004 (RHmin − 45)] (h/3)^0.3 and Kcb + 0.05
    with u₂ held between 1 and 6 m/s, RHmin between 20 and 80 %, h = height_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 72.
    """
    most = 1.2 + climate_term(wind_2m_m_s, humidity_min_pct, height_m)
    return np.asarray(np.maximum(most, KC.see("kcb", kcb) + 0.05))


def _days_first(kinds: dict[str, tuple[Quantity, ArrayLike]], *beds: FloatArray) -> dict[str, FloatArray]:
    """Every series in range, spread to one shape (that of the beds' own values too), days as the first axis."""
    seen = {name: kind.see(name, values) for name, (kind, values) in kinds.items()}
    shape = np.broadcast_shapes(*(x.shape for x in seen.values()), *((*x.shape, 1) for x in beds if x.ndim))
    if not shape or shape[-1] == 0:
        raise InputError(f"{next(iter(kinds))}: a run of days is needed, along the last axis.")
    return {name: np.moveaxis(np.broadcast_to(x, shape), -1, 0) for name, x in seen.items()}


@reckoner(
    gives={"reduction": "", "coefficient": "", "evaporation_mm": "mm", "percolation_mm": "mm", "depletion_mm": "mm"},
    source=f"{_FAO}, eq. 71, 74, 77, 79",
    status="published",
    example={
        **_WEEK,
        "kcb": 0.3,
        "kc_max": 1.21,
        "exposed_share": 0.8,
        "wetted_share": 0.8,
        "evaporable_mm": 18,
        "readily_evaporable_mm": 8,
        "start_mm": 18,
    },
)
def surface_balance(
    et0_mm: Annotated[ArrayLike, ET0_MM],
    *,
    rain_mm: Annotated[ArrayLike, DAYS_MM],
    irrigation_mm: Annotated[ArrayLike, DAYS_MM] = 0.0,
    runoff_mm: Annotated[ArrayLike, DAYS_MM] = 0.0,
    kcb: Annotated[ArrayLike, DAYS_KC],
    kc_max: Annotated[ArrayLike, DAYS_KC],
    exposed_share: Annotated[ArrayLike, DAYS_SHARE],
    wetted_share: Annotated[ArrayLike, DAYS_WETTED] = 1.0,
    evaporable_mm: Annotated[ArrayLike, DEPTH_MM],
    readily_evaporable_mm: Annotated[ArrayLike, DEPTH_MM],
    start_mm: Annotated[ArrayLike, DEPTH_MM] = 0.0,
) -> SurfaceLayer:
    """Evaporation from the bare, wetted part of a bed, day by day.

    Parameters
    ----------
    et0_mm : array_like, (..., days)
        Reference evapotranspiration in order of time, -5 to 30; dew counts as 0. [mm]
    rain_mm, irrigation_mm, runoff_mm : array_like, (..., days)
        Over the whole bed; runoff not above rain. [mm]
    kcb, kc_max : array_like, (..., days)
        Basal coefficient and the most there can be. [1]
    exposed_share : array_like, (..., days)
        Ground both bare and wetted, of `exposed_wetted_share`. [1]
    wetted_share : array_like, (..., days)
        Ground that the day's watering wets. [1]
    evaporable_mm, readily_evaporable_mm : array_like, (...)
        TEW and REW of the soil; the second not above the first. [mm]
    start_mm : array_like, (...)
        Depletion before the first day, not above TEW: 0 after a soaking, TEW when dry. [mm]

    Returns
    -------
    SurfaceLayer
        Each of the shape the series spread to. [1, 1, mm, mm, mm]

    Raises
    ------
    InputError
        If a value is out of range, a pair out of order, or there is no run of days.

    Formula
    -------
    Ke = min[Kr (Kc max − Kcb), few Kc max];  E = Ke ET₀
    Kr = (TEW − De) / (TEW − REW) where De > REW, else 1
    De(end) = De(start) − (P − RO) − I/fw + E/few + Tew + DP,  Tew = 0 here
    DP = (P − RO) + I/fw − De(start), not below 0
    with few = exposed_share, fw = wetted_share, TEW = evaporable_mm, REW = readily_evaporable_mm.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 71, 74, 77-79, Box 17, Example 35.
    """
    TEW, REW = (
        DEPTH_MM.see("evaporable_mm", evaporable_mm),
        DEPTH_MM.see("readily_evaporable_mm", readily_evaporable_mm),
    )
    not_above("readily_evaporable_mm", REW, "evaporable_mm", TEW)
    De: FloatArray = DEPTH_MM.see("start_mm", start_mm)
    not_above("start_mm", De, "evaporable_mm", TEW)
    days = _days_first(
        {
            "et0_mm": (ET0_MM, et0_mm),
            "rain_mm": (DAYS_MM, rain_mm),
            "irrigation_mm": (DAYS_MM, irrigation_mm),
            "runoff_mm": (DAYS_MM, runoff_mm),
            "kcb": (DAYS_KC, kcb),
            "kc_max": (DAYS_KC, kc_max),
            "exposed_share": (DAYS_SHARE, exposed_share),
            "wetted_share": (DAYS_WETTED, wetted_share),
        },
        TEW,
        REW,
        De,
    )
    not_above("runoff_mm", days["runoff_mm"], "rain_mm", days["rain_mm"])
    ET0 = np.maximum(days["et0_mm"], 0)
    into = days["rain_mm"] - days["runoff_mm"] + days["irrigation_mm"] / days["wetted_share"]
    free, few = np.maximum(days["kc_max"] - days["kcb"], 0), days["exposed_share"]
    bare = few > 0
    thick = np.where(bare, few, 1.0)
    out = [np.empty_like(into) for _ in range(5)]
    for i in range(len(into)):
        wetted = np.maximum(De - into[i], 0)
        percolation = np.maximum(into[i] - De, 0)
        Kr = shortfall(wetted, TEW, REW)
        Ke = np.minimum(Kr * free[i], few[i] * days["kc_max"][i])
        # Never more than the layer still holds: the line of Kr alone could step beyond it on a hot day.
        loss = np.minimum(Ke * ET0[i] / thick[i], TEW - wetted) * bare[i]
        De = wetted + loss
        E = loss * few[i]
        Ke = np.where(ET0[i] > 0, E / np.where(ET0[i] > 0, ET0[i], 1.0), Ke)
        for place, value in zip(out, (Kr, Ke, E, percolation, De), strict=True):
            place[i] = value
    return SurfaceLayer(*(np.moveaxis(x, 0, -1) for x in out))


@reckoner(
    gives={"stress": "", "et_mm": "mm", "percolation_mm": "mm", "depletion_mm": "mm"},
    source=f"{_FAO}, eq. 80, 81, 84, 85, 88",
    status="published",
    example={**_WEEK, "kc": 1.2, "total_available_mm": 160, "easy_fraction": 0.4, "start_mm": 55},
)
def root_zone_balance(
    et0_mm: Annotated[ArrayLike, ET0_MM],
    *,
    rain_mm: Annotated[ArrayLike, DAYS_MM],
    irrigation_mm: Annotated[ArrayLike, DAYS_MM] = 0.0,
    runoff_mm: Annotated[ArrayLike, DAYS_MM] = 0.0,
    kc: Annotated[ArrayLike, DAYS_KC],
    evaporation_coefficient: Annotated[ArrayLike, DAYS_KC] = 0.0,
    total_available_mm: Annotated[ArrayLike, Quantity("mm", 0, 5000, series=True)],
    easy_fraction: Annotated[ArrayLike, FRACTION],
    start_mm: Annotated[ArrayLike, DEPTH_MM] = 0.0,
    drainage: Annotated[str, DRAINAGE] = "after use",
) -> RootZone:
    """Depletion of the root zone day by day, with one coefficient, or with two where the surface is kept apart.

    New depth that growing roots reach is taken to stand at field capacity.

    Parameters
    ----------
    et0_mm : array_like, (..., days)
        Reference evapotranspiration in order of time, -5 to 30; dew counts as 0. [mm]
    rain_mm, irrigation_mm, runoff_mm : array_like, (..., days)
        Over the whole bed; runoff not above rain. [mm]
    kc : array_like, (..., days)
        Single coefficient; with `evaporation_coefficient` the basal one. [1]
    evaporation_coefficient : array_like, (..., days)
        Ke of `surface_balance`, 0 for the single coefficient. [1]
    total_available_mm : array_like, (..., days)
        Water that roots can draw, with their depth of each day. [mm]
    easy_fraction : array_like, (..., days)
        Share p of the available water that is easy, tabled or adjusted to the day, 0.05 to 0.9. [1]
    start_mm : array_like, (...)
        Water gone from the root zone before the first day. [mm]
    drainage : {'after use', 'before use'}
        Whether surplus water drains after the day's use is met (eq. 88 as written) or before, as Example 38 has it.

    Returns
    -------
    RootZone
        Each of the shape the series spread to. [1, mm, mm, mm]

    Raises
    ------
    InputError
        If a value is out of range, runoff above rain, or there is no run of days.

    Formula
    -------
    ETc = (Ks Kcb + Ke) ET₀, with one coefficient Ks Kc ET₀;  Ks = (TAW − Dr) / (TAW − RAW) where Dr > RAW, else 1
    Dr(end) = Dr(start) − (P − RO) − I − CR + ETc + DP,  CR = 0 here
    DP = (P − RO) + I − ETc − Dr(start), not below 0
    with TAW = total_available_mm, RAW = easy_fraction × TAW, Ke = evaporation_coefficient.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 80, 81, 84, 85, 88, Examples 37, 38.
    """
    Dr: FloatArray = DEPTH_MM.see("start_mm", start_mm)
    days = _days_first(
        {
            "et0_mm": (ET0_MM, et0_mm),
            "rain_mm": (DAYS_MM, rain_mm),
            "irrigation_mm": (DAYS_MM, irrigation_mm),
            "runoff_mm": (DAYS_MM, runoff_mm),
            "kc": (DAYS_KC, kc),
            "evaporation_coefficient": (DAYS_KC, evaporation_coefficient),
            "total_available_mm": (DEPTH_MM, total_available_mm),
            "easy_fraction": (FRACTION, easy_fraction),
        },
        Dr,
    )
    not_above("runoff_mm", days["runoff_mm"], "rain_mm", days["rain_mm"])
    first = DRAINAGE.hold("drainage", drainage) == "before use"
    ET0 = np.maximum(days["et0_mm"], 0)
    into = days["rain_mm"] - days["runoff_mm"] + days["irrigation_mm"]
    TAW = days["total_available_mm"]
    RAW = days["easy_fraction"] * TAW
    out = [np.empty_like(into) for _ in range(4)]
    for i in range(len(into)):
        wetted = np.maximum(Dr - into[i], 0)
        Ks = shortfall(wetted, TAW[i], RAW[i])
        wish = (Ks * days["kc"][i] + days["evaporation_coefficient"][i]) * ET0[i]
        ET = np.minimum(wish, np.maximum(TAW[i] - wetted, 0))
        surplus = into[i] - Dr if first else into[i] - Dr - ET
        percolation = np.maximum(surplus, 0)
        Dr = Dr - into[i] + ET + percolation
        for place, value in zip(out, (Ks, ET, percolation, Dr), strict=True):
            place[i] = value
    return RootZone(*(np.moveaxis(x, 0, -1) for x in out))
