"""The practitioner's own sums: what a battery mower does on a charge, how many packs, how long at the charger.

Energy for mowing spans a factor of three with grass and wetness: show a range, and let one's own log replace it. Charge
at 0 to 40 °C only (US Fire Administration), with the charger made for the pack.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._whole import up
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.garden_sums import ARITHMETIC
from kailyard.science.mowing_sums import CUT_M, EFFICIENCY, LAWN_M2, SPEED_M_S
from kailyard.science.reckon import Quantity, reckoner

VOLTAGE_V = Quantity("V", 1, 200)
CHARGE_AH = Quantity("Ah", 0.1, 200)
PACK_WH = Quantity("Wh", 1, 20_000)
USABLE = Quantity("", 0.1, 1)
POWER_W = Quantity("W", 10, 20_000)
MOWING_WH_M2 = Quantity("Wh/m²", 0.01, 100)
LEVEL_PCT = Quantity("%", 0, 100)

_FLUCK = "Fluck and Busey 1988, Trans. ASAE 31:1304-1308: 1.38 to 3.90 Wh/m² with mains mowers"


@reckoner(
    gives={"pack": "Wh"},
    source=ARITHMETIC,
    status="common practice",
    example={"voltage_v": 40, "charge_ah": 5},
)
def pack_energy_wh(
    voltage_v: Annotated[ArrayLike, VOLTAGE_V], charge_ah: Annotated[ArrayLike, CHARGE_AH]
) -> FloatArray:
    """Energy in a battery pack. Take the nominal voltage: a pack sold by its peak has about a ninth less.

    Parameters
    ----------
    voltage_v : array_like
        Nominal, 3.6 or 3.7 V a cell (a peak of 40 V is 36 V nominal, memory), 1 to 200. [V]
    charge_ah : array_like
        Charge that the pack holds, as it says, 0.1 to 200. [Ah]

    Returns
    -------
    ndarray
        NaN stays NaN. [Wh]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Wh = V × Ah

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(VOLTAGE_V.see("voltage_v", voltage_v) * CHARGE_AH.see("charge_ah", charge_ah))


@reckoner(
    gives={"energy": "Wh/m²"},
    source=ARITHMETIC,
    status="common practice",
    example={"power_w": 800, "cut_m": 0.46, "speed_m_s": 1, "efficiency": 0.75},
)
def mowing_energy_wh_m2(
    power_w: Annotated[ArrayLike, POWER_W],
    *,
    cut_m: Annotated[ArrayLike, CUT_M],
    speed_m_s: Annotated[ArrayLike, SPEED_M_S],
    efficiency: Annotated[ArrayLike, EFFICIENCY],
) -> FloatArray:
    """Energy that mowing takes on a square metre, from the power that the mower draws.

    Parameters
    ----------
    power_w : array_like
        Drawn while mowing, not the motor's most: 800 to 1500 W on half a metre (memory), 10 to 20000. [W]
    cut_m : array_like
        Cutting width of the mower, 0.1 to 10. [m]
    speed_m_s : array_like
        Pace while mowing, 0.1 to 10. [m/s]
    efficiency : array_like
        Share of width and pace kept, as `mowing_minutes`, 0.1 to 1. [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [Wh/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    energy = P / (w s e)
    with P = power_w, w = cut_m, s = speed_m_s, e = efficiency.

    References
    ----------
    .. [1] Definition; measured: R. C. Fluck and P. Busey, "Energy for mowing turfgrass", Trans. ASAE 31, 1988,
       pp. 1304-1308.
    """
    pace = CUT_M.see("cut_m", cut_m) * SPEED_M_S.see("speed_m_s", speed_m_s) * EFFICIENCY.see("efficiency", efficiency)
    return np.asarray(POWER_W.see("power_w", power_w) / (pace * 3600))


@reckoner(
    gives={"minutes": "min"},
    source=ARITHMETIC,
    status="common practice",
    example={"pack_wh": 200, "power_w": 800},
)
def battery_minutes(
    pack_wh: Annotated[ArrayLike, PACK_WH],
    power_w: Annotated[ArrayLike, POWER_W],
    *,
    usable: Annotated[ArrayLike, USABLE] = 0.9,
) -> FloatArray:
    """Minutes that a full pack runs a mower.

    Parameters
    ----------
    pack_wh : array_like
        Energy of the pack, of `pack_energy_wh`, 1 to 20000. [Wh]
    power_w : array_like
        Drawn while mowing, 10 to 20000. [W]
    usable : array_like
        Share of the pack that can be drawn, 0.1 to 1: 0.80 to 0.95 (common practice), less when cold or old. [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [min]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    minutes = 60 × Wh × usable / W

    References
    ----------
    .. [1] Definition.
    """
    drawn = PACK_WH.see("pack_wh", pack_wh) * USABLE.see("usable", usable)
    return np.asarray(60 * drawn / POWER_W.see("power_w", power_w))


@reckoner(
    gives={"area": "m²"},
    source=f"{ARITHMETIC}; {_FLUCK}",
    status="common practice",
    example={"pack_wh": 280, "mowing_wh_m2": 1.38},
)
def area_of_a_charge_m2(
    pack_wh: Annotated[ArrayLike, PACK_WH],
    mowing_wh_m2: Annotated[ArrayLike, MOWING_WH_M2],
    *,
    usable: Annotated[ArrayLike, USABLE] = 0.9,
) -> FloatArray:
    """Lawn that a full pack mows.

    Parameters
    ----------
    pack_wh : array_like
        Energy of the pack, of `pack_energy_wh`, 1 to 20000. [Wh]
    mowing_wh_m2 : array_like
        Energy for a square metre, 0.01 to 100: 1.38 to 3.90 measured in 1988, or of `mowing_energy_wh_m2`. [Wh/m²]
    usable : array_like
        Share of the pack that can be drawn, 0.1 to 1: 0.80 to 0.95 (common practice). [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    area = Wh × usable / energy on a square metre

    References
    ----------
    .. [1] Definition; R. C. Fluck and P. Busey, Trans. ASAE 31, 1988, pp. 1304-1308, for measured energies.
    """
    drawn = PACK_WH.see("pack_wh", pack_wh) * USABLE.see("usable", usable)
    return np.asarray(drawn / MOWING_WH_M2.see("mowing_wh_m2", mowing_wh_m2))


@reckoner(
    gives={"packs": ""},
    source=f"{ARITHMETIC}; {_FLUCK}",
    status="common practice",
    example={"area_m2": 600, "mowing_wh_m2": 0.6441, "pack_wh": 200},
)
def packs_for_a_lawn(
    area_m2: Annotated[ArrayLike, LAWN_M2],
    *,
    mowing_wh_m2: Annotated[ArrayLike, MOWING_WH_M2],
    pack_wh: Annotated[ArrayLike, PACK_WH],
    usable: Annotated[ArrayLike, USABLE] = 0.9,
) -> FloatArray:
    """Full packs that a lawn takes, mown in one go.

    Parameters
    ----------
    area_m2 : array_like
        Of the lawn, 0 to 10000000. [m²]
    mowing_wh_m2 : array_like
        Energy for a square metre, 0.01 to 100: 1.38 to 3.90 measured in 1988, or of `mowing_energy_wh_m2`. [Wh/m²]
    pack_wh : array_like
        Energy of one pack, 1 to 20000. [Wh]
    usable : array_like
        Share of a pack that can be drawn, 0.1 to 1: 0.80 to 0.95 (common practice). [1]

    Returns
    -------
    ndarray
        Whole packs; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    packs = ⌈area × energy on a square metre / (Wh × usable)⌉

    References
    ----------
    .. [1] Definition.
    """
    return up(np.asarray(LAWN_M2.see("area_m2", area_m2) / area_of_a_charge_m2(pack_wh, mowing_wh_m2, usable=usable)))


@reckoner(
    gives={"hours": "h"},
    source=f"{ARITHMETIC}; charger and cells together about 0.85 (memory)",
    status="common practice",
    example={"pack_wh": 200, "charger_w": 100},
)
def charging_hours(
    pack_wh: Annotated[ArrayLike, PACK_WH],
    charger_w: Annotated[ArrayLike, POWER_W],
    *,
    from_pct: Annotated[ArrayLike, LEVEL_PCT] = 0.0,
    to_pct: Annotated[ArrayLike, LEVEL_PCT] = 100.0,
    efficiency: Annotated[ArrayLike, EFFICIENCY] = 0.85,
) -> FloatArray:
    """Hours at the charger; longer near full, and never below 0 or above 40 °C.

    Parameters
    ----------
    pack_wh : array_like
        Energy of the pack, 1 to 20000. [Wh]
    charger_w : array_like
        Power of the charger, 10 to 20000. [W]
    from_pct : array_like
        Level at the start, 0 to 100. [%]
    to_pct : array_like
        Level at the end, not below the start, 0 to 100; half full for a long rest. [%]
    efficiency : array_like
        Share of what is drawn that ends in the cells, 0.1 to 1: 0.80 to 0.92 (memory). [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value is out of range, or the end lies below the start.

    Formula
    -------
    t = Wh × (level at the end − level at the start) / (W × efficiency), levels as shares of 1

    References
    ----------
    .. [1] Definition; US Fire Administration, "Battery fire safety", for the temperatures.
    """
    start, end = LEVEL_PCT.see("from_pct", from_pct), LEVEL_PCT.see("to_pct", to_pct)
    not_above("from_pct", start, "to_pct", end)
    drawn = POWER_W.see("charger_w", charger_w) * EFFICIENCY.see("efficiency", efficiency)
    return np.asarray(PACK_WH.see("pack_wh", pack_wh) * (end - start) / 100 / drawn)


@reckoner(
    gives={"energy": "kWh"},
    source=f"{ARITHMETIC}; {_FLUCK}",
    status="common practice",
    example={"area_m2": 400, "mowing_wh_m2": 1.38},
)
def mains_energy_kwh(
    area_m2: Annotated[ArrayLike, LAWN_M2],
    mowing_wh_m2: Annotated[ArrayLike, MOWING_WH_M2],
    *,
    efficiency: Annotated[ArrayLike, EFFICIENCY] = 0.85,
) -> FloatArray:
    """Electricity from the wall for one mowing with a battery mower.

    Parameters
    ----------
    area_m2 : array_like
        Of the lawn, 0 to 10000000. [m²]
    mowing_wh_m2 : array_like
        Energy for a square metre, 0.01 to 100: 1.38 to 3.90 measured in 1988, or of `mowing_energy_wh_m2`. [Wh/m²]
    efficiency : array_like
        Share of what is drawn that ends in the cells, 0.1 to 1: 0.80 to 0.92 (memory), 1 for a mower on a cable. [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [kWh]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    energy = area × energy on a square metre / efficiency

    References
    ----------
    .. [1] Definition.
    """
    need = LAWN_M2.see("area_m2", area_m2) * MOWING_WH_M2.see("mowing_wh_m2", mowing_wh_m2) / 1000
    return np.asarray(need / EFFICIENCY.see("efficiency", efficiency))
