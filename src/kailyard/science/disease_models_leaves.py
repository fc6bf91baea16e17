"""Leaf spots, blights and rots of the kitchen garden by the weather: hours of wet leaves, and warmth.

A rule says when weather favours a disease where its spores or bacteria are about; it says nothing of whether they are.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science._disease_tables import RAIN_MM, WET_H, Bands, banded, known, rounded
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.reckon import Quantity, reckoner

LOWEST_C = Quantity("°C", 10, 13)
LIMIT_C = Quantity("°C", -10, 60)
NEEDED_H = Quantity("h", 0.5, 500)
SOIL_C = Quantity("°C", -30, 60)

MADDEN: Bands = (
    (13, 17, (7, 16, 21)),
    (18, 20, (4, 9, 16, 23)),
    (21, 25, (3, 6, 13, 21)),
    (26, 29, (4, 9, 16, 23)),
)
"""Madden, Pennypacker and MacNab 1978: least wet hours of value 1, 2, 3, 4 by the mean temperature while wet."""


@reckoner(
    gives={"severity": ""},
    source="Madden, Pennypacker and MacNab 1978, Phytopathology 68:1354-1358 (severity table; range as NIBIO has it)",
    status="published",
    example={"temp_c": 22, "wet_h": 13},
)
def early_blight_severity(
    temp_c: Annotated[ArrayLike, AIR_C],
    wet_h: Annotated[ArrayLike, WET_H],
    *,
    lowest_c: Annotated[float, LOWEST_C] = 13.0,
) -> FloatArray:
    """Severity value of a day, 0 to 4, of early blight, Septoria leaf spot and rot of tomato fruit.

    Borrowed since for purple spot of asparagus and for leaf blights of carrot and celery, each with its own total.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; rounded to whole degrees as the table is. [°C]
    wet_h : array_like
        Hours of leaf wetness in the 24 hours, 0 to 100000; rounded. [h]
    lowest_c : float
        Lowest temperature of the first band: 13, or 10 as Danish potato trials had it, 10 to 13. [°C]

    Returns
    -------
    ndarray
        0 outside the bands; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    mean while wet   value 0   1      2       3       4
    13 to 17 °C      0-6 h     7-15   16-20   21-24   -
    18 to 20 °C      0-3 h     4-8    9-15    16-22   23-24
    21 to 25 °C      0-2 h     3-5    6-12    13-20   21-24
    26 to 29 °C      0-3 h     4-8    9-15    16-22   23-24

    References
    ----------
    .. [1] L. Madden, S. P. Pennypacker and A. A. MacNab, "FAST, a forecast system for Alternaria solani on tomato",
       Phytopathology 68, 1978, pp. 1354-1358.
    .. [2] I. K. Abuley and B. J. Nielsen, 2017, as described by NIBIO (the lower limit of 10 °C).
    """
    temp, wet = rounded(AIR_C.see("temp_c", temp_c)), rounded(WET_H.see("wet_h", wet_h))
    low = LOWEST_C.hold_number("lowest_c", lowest_c)
    return banded(temp, wet, ((low, MADDEN[0][1], MADDEN[0][2]), *MADDEN[1:]))


@reckoner(
    gives={"infection": ""},
    source="Suheri and Price 2000, Plant Pathology 49 (abstract)",
    status="published",
    example={"temp_c": 20, "wet_h": 8},
)
def purple_blotch_infection(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Purple blotch and Stemphylium leaf blight of onion and leek: 0 none, 1 infection, 2 most.

    A dry break of 4 to 24 h hardly matters: add the wet hours on both sides of it. One line of the abstract, 16 h at
    15 °C, does not sit with the rest and is left out. Scars of thrips make it worse.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60. [°C]
    wet_h : array_like
        Hours of leaf wetness, dry breaks left out, 0 to 100000. [h]

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
    infection: ≥ 8 h wet at 10 to 25 °C; more with every hour up to 24
    """
    t, w = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h)
    return banded(t, w, ((10, 25, (8, 24)),))


@reckoner(
    gives={"spots": ""},
    source="University of California Statewide IPM Program, garden page, Botrytis leaf spot of onion",
    status="published",
    example={"wet_h": 21},
)
def onion_leaf_spot_infection(wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Whether Botrytis makes leaf spots on onion: long wetness; spores sprout best at 15 °C.

    Parameters
    ----------
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000. [h]

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
    spots: ≥ 20 h wet
    """
    w = WET_H.see("wet_h", wet_h)
    return known(1.0 * (w >= 20), w)


@reckoner(
    gives={"infection": ""},
    source="help page of a maker of weather instruments (secondary; no paper found)",
    status="published",
    example={"temp_c": 20, "wet_h": 5, "rain_mm": 0},
)
def asparagus_rust_infection(
    temp_c: Annotated[ArrayLike, AIR_C],
    *,
    wet_h: Annotated[ArrayLike, WET_H],
    rain_mm: Annotated[ArrayLike, RAIN_MM],
) -> FloatArray:
    """Whether rust infects asparagus fern, by a weak rule: dew or light rain, not a downpour.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while the fern is wet, -60 to 60. [°C]
    wet_h : array_like
        Hours that the fern is wet, 0 to 100000. [h]
    rain_mm : array_like
        Rain of that wet spell, 0 to 2000; more than 10 washes spores off. [mm]

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
    infection: wet for 8 h at 10 °C falling to 3 h at 25 °C (straight line ours), rain ≤ 10 mm; 10 to 25 °C
    """
    t, w, r = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h), RAIN_MM.see("rain_mm", rain_mm)
    needed = 8 - (t - 10) / 3
    return known(1.0 * ((t >= 10) & (t <= 25) & (w >= needed) & (r <= 10)), t, w, r)


@reckoner(
    gives={"infection": ""},
    source="growers' societies and extension text (65 to 75 °F, 7 h); no infection table found",
    status="published",
    example={"temp_c": 20, "wet_h": 7},
)
def rose_black_spot_infection(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Whether black spot infects rose leaves; spots from 3 days on, new spores from 10.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60. [°C]
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000. [h]

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
    infection: ≥ 7 h wet at 18 to 24 °C
    """
    return banded(AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h), ((18, 24, (7,)),))


def _wetness_response(
    t: FloatArray, w: FloatArray, *, scale: float, low: float, high: float, rise: float, fall: float,
    top: float, start: float, speed: float,
) -> FloatArray:  # fmt: skip
    """scale (T − low)^rise (high − T)^fall × top / (1 + start exp(−speed W)), 0 outside the two temperatures."""
    inside = np.clip(t, low, high)
    warmth = scale * (inside - low) ** rise * (high - inside) ** fall
    return known(warmth * (top / (1 + start * np.exp(-speed * w))), t, w)


@reckoner(
    gives={"severity": ""},
    source="Marcuzzo et al., Summa Phytopathologica, tomato bacterial leaf spot (abstract)",
    status="published",
    example={"temp_c": 25, "wet_h": 24},
)
def bacterial_spot_severity(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Severity of bacterial spot of tomato as a share of the leaf, where its bacteria are there.

    Nights of 24 to 28 °C favour it and nights below 16 °C hold it down whatever the day (Alabama extension).

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; tried from 15 to 30. [°C]
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000; tried from 6 to 48, held to the upper. [h]

    Returns
    -------
    ndarray
        0 outside 8 to 32 °C; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    SE = 0.0001538 (T − 8)^2.4855647 (32 − T)^0.7091962 [0.64289 / (1 + 21.26122 exp(−0.12435 W))]
    with T = temp_c, W = wet_h.
    """
    t, w = AIR_C.see("temp_c", temp_c), np.minimum(WET_H.see("wet_h", wet_h), 48)
    return _wetness_response(
        t, w, scale=0.0001538, low=8, high=32, rise=2.4855647, fall=0.7091962, top=0.64289, start=21.26122,
        speed=0.12435,
    )  # fmt: skip


@reckoner(
    gives={"severity": ""},
    source="Marcuzzo and Tomasoni 2020, Summa Phytopathologica 45(4):413 (abstract); not tried in the field",
    status="published",
    example={"temp_c": 25, "wet_h": 24},
)
def carrot_leaf_blight_severity(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Severity of Alternaria leaf blight of carrot as a share of the leaf, where its spores are there.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; tried from 10 to 30. [°C]
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000; tried from 6 to 48, held to the upper. [h]

    Returns
    -------
    ndarray
        0 outside 8 to 36 °C; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    ES = 0.004993 (T − 8)^1.13125 (36 − T)^0.53212 [0.39219 / (1 + 25.93072 exp(−0.16704 W))]
    with T = temp_c, W = wet_h.
    """
    t, w = AIR_C.see("temp_c", temp_c), np.minimum(WET_H.see("wet_h", wet_h), 48)
    return _wetness_response(
        t, w, scale=0.004993, low=8, high=36, rise=1.13125, fall=0.53212, top=0.39219, start=25.93072, speed=0.16704
    )


@reckoner(
    gives={"needed": "h"},
    source="Magarey, Sutton and Thayer 2005, Phytopathology 95:92-100",
    status="published",
    example={"temp_c": 14, "low_c": 7, "best_c": 18, "high_c": 30, "least_h": 10, "most_h": 42},
)
def wet_hours_needed(
    temp_c: Annotated[ArrayLike, AIR_C],
    *,
    low_c: Annotated[ArrayLike, LIMIT_C],
    best_c: Annotated[ArrayLike, LIMIT_C],
    high_c: Annotated[ArrayLike, LIMIT_C],
    least_h: Annotated[ArrayLike, NEEDED_H],
    most_h: Annotated[ArrayLike, NEEDED_H],
) -> FloatArray:
    """Wet hours that a leaf disease needs, from the three temperatures and two hours that a paper gives for it.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60. [°C]
    low_c : array_like
        Lowest temperature that infects, -10 to 60. [°C]
    best_c : array_like
        Temperature at which the fewest hours do, -10 to 60, above `low_c`. [°C]
    high_c : array_like
        Highest temperature that infects, -10 to 60, above `best_c`. [°C]
    least_h : array_like
        Hours at the best temperature, for 20 % of plants hit or 5 % of the leaf, 0.5 to 500. [h]
    most_h : array_like
        So many hours at most: where more would be needed there is no infection, 0.5 to 500, not below `least_h`. [h]

    Returns
    -------
    ndarray
        Infinite where nothing infects; NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value is out of range or the limits are crossed.

    Formula
    -------
    W = Wmin / f(T), not above Wmax
    f(T) = [(Tmax − T) / (Tmax − Topt)] [(T − Tmin) / (Topt − Tmin)]^[(Topt − Tmin) / (Tmax − Topt)]

    References
    ----------
    .. [1] R. D. Magarey, T. B. Sutton and C. L. Thayer, "A simple generic infection model for foliar fungal plant
       pathogens", Phytopathology 95, 2005, pp. 92-100.
    """
    t = AIR_C.see("temp_c", temp_c)
    low, best, high = LIMIT_C.see("low_c", low_c), LIMIT_C.see("best_c", best_c), LIMIT_C.see("high_c", high_c)
    least, most = NEEDED_H.see("least_h", least_h), NEEDED_H.see("most_h", most_h)
    not_above("low_c", low, "best_c", best, equal=False)
    not_above("best_c", best, "high_c", high, equal=False)
    not_above("least_h", least, "most_h", most)
    inside = np.clip(t, low, high)
    share = (high - inside) / (high - best) * ((inside - low) / (best - low)) ** ((best - low) / (high - best))
    with np.errstate(divide="ignore"):
        hours = least / share
    return known(np.where(hours > most, np.inf, hours), t, low, best, high, least, most)
