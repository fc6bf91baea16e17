"""Diseases of fruit trees, vines and strawberries by the hours that leaves or flowers stay wet.

What the first papers print is held to; tables and coefficients that were only recalled say so and are no ground for
treating anything.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science._disease_tables import WET_H, hours_by_f, known
from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Choice, reckoner

SPORES = Choice(("ascospores", "conidia"))

SCAB = (
    *((34, 41), (36, 35), (37, 30), (39, 28), (41, 21), (43, 18), (45, 15), (46, 13), (48, 12), (50, 11)),
    *((52, 9), (54, 8), (55, 8), (57, 7), (59, 7), (61, 6), (75, 6), (77, 8), (79, 11)),
)
"""MacHardy and Gadoury 1989 with the low temperatures of Gadoury et al. 1998: whole °F, least hours."""
MILLS = (
    *((42, 30, 40, 60), (43, 25, 34, 51), (44, 22, 30, 45), (45, 20, 27, 41), (46, 19, 25, 38), (47, 17, 23, 35)),
    *((48, 15, 20, 30), (49, 14.5, 20, 30), (50, 14, 19, 29), (51, 13, 18, 27), (52, 12, 18, 26), (53, 12, 17, 25)),
    *((54, 11.5, 16, 24), (55, 11, 16, 24), (56, 11, 15, 22), (57, 10, 14, 22), (58, 10, 14, 21), (59, 10, 13, 21)),
    *((60, 9.5, 13, 20), (61, 9, 13, 20), (62, 9, 12, 19), (63, 9, 12, 18), (75, 9, 12, 18)),
    *((76, 9.5, 12, 19), (77, 11, 14, 21), (78, 13, 17, 26)),
)
"""Mills and Laplante 1951 as revised by Jones 1980: whole °F, hours of light, moderate, heavy. (memory)"""
MILLS_DAYS = (
    *((48, 17), (49, 17), (50, 16), (51, 16), (52, 15), (53, 15), (54, 14), (55, 14), (56, 13), (57, 13)),
    *((58, 12), (59, 12), (60, 11), (61, 10), (62, 10), (63, 9), (75, 9)),
)
"""The same: whole °F, days from infection to spots. (memory)"""
RUST_LIGHT = (
    *((36, 24), (39, 12), (43, 8), (46, 6), (50, 5), (54, 4), (57, 3), (61, 3), (64, 3), (68, 3), (72, 2), (75, 2)),
)
RUST_SEVERE = ((39, 24), (43, 10), (46, 7), (50, 6), (54, 5), (57, 5), (61, 4), (64, 4), (68, 4), (72, 4), (75, 4))
"""Aldwinckle, Pearson and Seem 1980: whole °F, hours. The anchors are published, the rows between from memory."""
BLACK_ROT = ((50, 24), (55, 12), (60, 9), (65, 8), (70, 7), (75, 7), (80, 6), (85, 9), (90, 12))
"""Spotts 1977: whole °F, hours. (memory)"""


def _reached(temp_c: FloatArray, wet_h: FloatArray, needed: FloatArray) -> FloatArray:
    return known(1.0 * (wet_h >= needed), temp_c, wet_h)


@reckoner(
    gives={"needed": "h"},
    source="MacHardy and Gadoury 1989, Phytopathology 79:304-310; Gadoury, Seem, Stensvand and Falk 1998",
    status="published",
    example={"temp_c": 10},
)
def apple_scab_hours(
    temp_c: Annotated[ArrayLike, AIR_C], *, spores: Annotated[str, SPORES] = "ascospores"
) -> FloatArray:
    """Hours of wet leaves that apple scab needs.

    Where rain begins at night count from sunrise, but from the rain on where scab was heavy last year (common
    practice); add wet spells up unless 8 dry hours part them.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; looked up in whole °F as printed. [°C]
    spores : str
        Those of spring from old leaves (ascospores), or those of summer from spots (conidia).

    Returns
    -------
    ndarray
        Infinite below 34 and above 79 °F, of which the table says nothing; NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    °F   34  36  37  39  41  43  45  46  48  50  52  54  55  57  59  61-75  77  79
    h    41  35  30  28  21  18  15  13  12  11   9   8   8   7   7      6   8  11
    straight lines between; conidia 2.5 h more

    References
    ----------
    .. [1] W. E. MacHardy and D. M. Gadoury, "A revision of Mills's criteria for predicting apple scab infection
       periods", Phytopathology 79, 1989, pp. 304-310.
    .. [2] The table as West Virginia University and Penn State Extension print it.
    """
    t = AIR_C.see("temp_c", temp_c)
    more = 2.5 if SPORES.hold("spores", spores) == "conidia" else 0.0
    return known(hours_by_f(t, SCAB) + more, t)


@reckoner(
    gives={"infection": ""},
    source="Mills and Laplante 1951 as revised by Jones 1980 (recalled)",
    status="memory",
    example={"temp_c": 10, "wet_h": 20},
)
def mills_scab_infection(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Infection by apple scab on the older scale: 0 none, 1 light, 2 moderate, 3 heavy.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; looked up in whole °F. [°C]
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000. [h]

    Returns
    -------
    ndarray
        0 below 42 and above 78 °F, of which nothing was recalled; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    °F         42 43 44 45 46 47 48 49   50 51 52 53 54   55 56 57 58 59 60  61 62 63-75 76  77 78
    light      30 25 22 20 19 17 15 14.5 14 13 12 12 11.5 11 11 10 10 10 9.5 9  9  9     9.5 11 13
    moderate   40 34 30 27 25 23 20 20   19 18 18 17 16   16 15 14 14 13 13  13 12 12    12  14 17
    heavy      60 51 45 41 38 35 30 30   29 27 26 25 24   24 22 22 21 21 20  20 19 18    19  21 26
    (from memory)
    """
    t, w = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h)
    total = np.zeros(np.broadcast_shapes(t.shape, w.shape))
    for grade in (1, 2, 3):
        total = total + (w >= hours_by_f(t, [(row[0], row[grade]) for row in MILLS]))
    return known(total, t, w)


@reckoner(
    gives={"days": "d"},
    source="Mills and Laplante 1951 as revised by Jones 1980 (recalled)",
    status="memory",
    example={"temp_c": 10},
)
def mills_scab_incubation_d(temp_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """Days from infection until spots of apple scab are seen.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature, -60 to 60; looked up in whole °F. [°C]

    Returns
    -------
    ndarray
        Infinite outside 48 to 75 °F, of which the table says nothing; NaN stays NaN. [d]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    °F     48 49 50 51 52 53 54 55 56 57 58 59 60 61 62 63-75
    days   17 17 16 16 15 15 14 14 13 13 12 12 11 10 10 9
    (from memory)
    """
    t = AIR_C.see("temp_c", temp_c)
    return known(hours_by_f(t, MILLS_DAYS), t)


@reckoner(
    gives={"infection": ""},
    source="Aldwinckle, Pearson and Seem 1980, Phytopathology 70:1070-1073 (anchors; rows between recalled)",
    status="memory",
    example={"temp_c": 10, "wet_h": 5},
)
def cedar_apple_rust_infection(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Infection of apple by cedar-apple rust where galls stand near: 0 none, 1 light, 2 severe.

    Galls shed spores about 4 h after they are wetted, from pink bud to a few weeks after bloom; spots in about 10 days.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; looked up in whole °F. [°C]
    wet_h : array_like
        Hours of leaf wetness, spores being there, 0 to 100000. [h]

    Returns
    -------
    ndarray
        0 below 36 °F and above 24 °C; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    °F       36  39  43  46  50  54  57  61  64  68  72  75
    light    24  12  8   6   5   4   3   3   3   3   2   2
    severe   -   24  10  7   6   5   5   4   4   4   4   4
    published: 2 °C 24 h and 24 °C 2 h light; 10 to 24 °C 2 to 5 h light, 4 to 6 h severe; the rest from memory

    References
    ----------
    .. [1] H. S. Aldwinckle, R. C. Pearson and R. C. Seem, Phytopathology 70, 1980, pp. 1070-1073.
    """
    t, w = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h)
    return known(_reached(t, w, hours_by_f(t, RUST_LIGHT)) + _reached(t, w, hours_by_f(t, RUST_SEVERE)), t, w)


def _logistic(logit: FloatArray) -> FloatArray:
    return np.asarray(1 / (1 + np.exp(-np.clip(logit, -500, 500))))


@reckoner(
    gives={"share": ""},
    source="Bulger, Ellis and Madden 1987, Phytopathology 77:1225-1230 (coefficients recalled)",
    status="memory",
    example={"temp_c": 20, "wet_h": 12},
)
def strawberry_botrytis_share(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Share of open strawberry flowers that grey mould infects; of fruit from them fewer rot.

    The abstract has all flowers infected at 20 °C and 24 h, and about 60 % of the fruit at 32 h. A working rule: more
    than 12 h wet, worst at 16 to 20 °C.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while flowers are wet, -60 to 60; tried from 5 to 30, held to that. [°C]
    wet_h : array_like
        Hours that flowers are wet, 0 to 100000; tried up to 32, held to that. [h]

    Returns
    -------
    ndarray
        0 to 1; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    logit(p) = −4.268 − 0.0901 W + 0.0294 W T − 0.0000235 W T³ (coefficients from memory)
    with T = temp_c, W = wet_h.
    """
    T = np.clip(AIR_C.see("temp_c", temp_c), 5, 30)
    W = np.minimum(WET_H.see("wet_h", wet_h), 32)
    return _logistic(-4.268 - 0.0901 * W + 0.0294 * W * T - 0.0000235 * W * T**3)


@reckoner(
    gives={"share": ""},
    source="Wilson, Madden and Ellis 1990, Phytopathology 80:111-116 (coefficients recalled: not to use)",
    status="memory",
    example={"temp_c": 25, "wet_h": 13},
)
def strawberry_anthracnose_share(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Share of strawberry fruit that anthracnose infects. Do not act on it: the coefficients do not fit the abstract.

    The abstract has over 80 % of fruit infected after 13 h at 25 to 30 °C; this gives 39 to 49 %. It stands here so
    that it can be compared with the paper. A later paper acts at 15 %, and more strongly at 50 %.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while fruit is wet, -60 to 60; 0 below 10 and from 35 on. [°C]
    wet_h : array_like
        Hours that fruit is wet, 0 to 100000; tried up to 51, held to that. [h]

    Returns
    -------
    ndarray
        0 to 1; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    logit(p) = −3.70 + 0.33 W − 0.069 W T + 0.005 W T² − 0.000093 W T³ (coefficients from memory)
    with T = temp_c, W = wet_h.

    References
    ----------
    .. [1] L. L. Wilson, L. V. Madden and M. A. Ellis, Phytopathology 80, 1990, pp. 111-116.
    .. [2] S. J. MacKenzie and N. A. Peres, Plant Dis. 96, 2012, pp. 522-528.
    """
    t = AIR_C.see("temp_c", temp_c)
    T, W = np.clip(t, 10, 35), np.minimum(WET_H.see("wet_h", wet_h), 51)
    p = _logistic(-3.70 + 0.33 * W - 0.069 * W * T + 0.005 * W * T**2 - 0.000093 * W * T**3)
    return known(np.where((t < 10) | (t >= 35), 0.0, p), t, W)


@reckoner(
    gives={"infection": ""},
    source="Grove et al. 1985, Phytopathology 75:165-169 (abstract)",
    status="published",
    example={"temp_c": 21, "wet_h": 2},
)
def leather_rot_infection(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Whether leather rot infects most strawberry fruit (over 80 %), spores being splashed on it.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while fruit is wet, -60 to 60; tried from 6 to 30, best 21. [°C]
    wet_h : array_like
        Hours that fruit is wet, 0 to 100000; tried up to 5. [h]

    Returns
    -------
    ndarray
        1 or 0; 0 does not rule out less infection; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    infection: more than 1 h wet at 17 to 25 °C
    """
    t, w = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h)
    return known(1.0 * ((w > 1) & (t >= 17) & (t <= 25)), t, w)


@reckoner(
    gives={"infection": ""},
    source="Spotts 1977, Phytopathology 67:1378-1381 (recalled)",
    status="memory",
    example={"temp_c": 21.1, "wet_h": 7},
)
def grape_black_rot_infection(temp_c: Annotated[ArrayLike, AIR_C], wet_h: Annotated[ArrayLike, WET_H]) -> FloatArray:
    """Whether black rot infects grape leaves.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature while leaves are wet, -60 to 60; looked up in whole °F. [°C]
    wet_h : array_like
        Hours of leaf wetness, 0 to 100000. [h]

    Returns
    -------
    ndarray
        1 or 0; 0 below 50 and above 90 °F; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    °F   50  55  60  65  70  75  80  85  90
    h    24  12  9   8   7   7   6   9   12
    straight lines between (hours from memory)
    """
    t, w = AIR_C.see("temp_c", temp_c), WET_H.see("wet_h", wet_h)
    return _reached(t, w, hours_by_f(t, BLACK_ROT))
