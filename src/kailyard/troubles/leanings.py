"""What speaks for a cause before any sign is looked at: how common it is, the host, the plant's age, the weather of the
last days, this garden's past and what was counted. Each leans a range of weight, none shuts a cause out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from kailyard.handbook.diseases import diseases
from kailyard.handbook.signs import how_often
from kailyard.handbook.troubles import LISTED, HowCommon, Trouble, fit, host_weight, troubles
from kailyard.troubles.likelihood import DESIGN, OTHER, design, rows

FloatArray = NDArray[np.float64]
Range = tuple[float, float]
PlantStage = Literal["", "seedling", "growing", "flower", "fruit", "ripe"]

COMMON: Mapping[HowCommon, Range] = MappingProxyType(
    {"common": (0.6, 1.4), "now and then": (0.2, 0.5), "seldom": (0.06, 0.18), "rare": (0.01, 0.05)}
)
"""Weight of a cause by how often a kitchen garden meets it."""

OTHER_WEIGHS = (0.2, 1.0)
"""Weight of 'none of the table'."""

HOST_SPREAD = 1.5
"""The weight of a host that is no whole one may be so many times smaller or greater."""

STAGE_APART: Mapping[int, Range] = MappingProxyType({1: (0.3, 0.9), 2: (0.08, 0.4), 3: (0.02, 0.2)})
"""Weight of a cause that belongs to another age of the plant, by how many steps lie between."""

STAGE_UNKNOWN = (0.3, 0.7)
"""Weight of a cause of seedlings where the plant's age is not known: about the mean over the five ages."""

WEATHER_FITS = (1.0, 1.6)
"""Weight of a cause that follows such weather as there was."""

WEATHER_LACKS = (0.25, 0.8)
"""Weight of a cause that follows weather of which there was none."""

BEFORE_SETTLED = (1.5, 4.0)
"""Weight of what was found in this garden before and settled."""

BEFORE_LIKELY = (1.1, 2.0)
"""Weight of what was taken for likely here before."""

WARMTH_FITS = (1.0, 1.3)
"""Weight of a disease whose best range of temperature, some degrees more at either end, holds the last days' mean."""

WARMTH_LACKS = (0.3, 0.9)
"""The same where the last days were colder or warmer by far."""

NEAR_C, FAR_C = 3.0, 6.0
"""So many degrees beyond its best range count as within it; from so many on as far outside."""

NOT_YET = (0.1, 0.5)
"""Weight of an animal that the warmth of this year has hardly brought out yet."""

COUNTED = (2.0, 6.0)
"""Weight of what was counted on these plants in the last three weeks."""

NONE_COUNTED = (0.3, 0.8)
"""Weight of what was looked for on these plants in the last week and not found."""

COUNTED_DAYS = 21
NONE_COUNTED_DAYS = 7

_AGES = MappingProxyType({"seedling": 0, "growing": 2, "flower": 3, "fruit": 4, "ripe": 5})
"""Steps of age: the seedling stands two from the growing plant, since what fells the one hardly hurts the other."""
_FOLLOWS = ("after_wet", "hot_dry", "after_cold")


@dataclass(frozen=True, slots=True)
class Before:
    """One trouble found in this garden before."""

    trouble: str
    settled: bool


@dataclass(frozen=True, slots=True)
class Counted:
    """One count of a trouble on these plants."""

    trouble: str
    total: float
    days_ago: int


@dataclass(frozen=True, slots=True)
class Setting:
    """What is known before any sign."""

    crop: str
    """Key of the handbook, or a plain name."""
    stage: PlantStage = ""
    """'' where it is not known."""
    weather: Mapping[str, bool] = field(default_factory=dict)
    """'after_wet', 'hot_dry', 'after_cold': whether the record has such weather in the last days; absent: unknown."""
    mean_c: float | None = None
    """Mean air temperature of the last days; None where it is not known. [°C]"""
    not_yet: frozenset[str] = frozenset()
    """Causes whose animals the warmth of this year has hardly brought out yet."""
    before: tuple[Before, ...] = ()
    counts: tuple[Counted, ...] = ()


@dataclass(frozen=True, slots=True)
class Leaning:
    """One thing that leans towards a cause or away from it."""

    says: str
    low: float
    high: float

    @property
    def towards(self) -> bool:
        """Whether it speaks for the cause rather than against it."""
        return self.low + self.high > 2.0


def leanings(cause: Trouble, setting: Setting, answered: Sequence[str] = ()) -> tuple[Leaning, ...]:
    """All that leans, how common it is first. Weather that was answered for as a sign is not weighed twice."""
    common = COMMON[cause.how_common]
    return (Leaning(f"{cause.how_common} in kitchen gardens", *common), *_leanings(cause, setting, answered))


def _leanings(cause: Trouble, setting: Setting, answered: Sequence[str]) -> Iterator[Leaning]:
    weight = fit(cause.id, setting.crop)
    if weight < 1.0:
        says = "others are hit more" if weight > 0.5 else "kin of its hosts" if weight > 0.1 else "not among its hosts"
        yield Leaning(says, weight / HOST_SPREAD, min(weight * HOST_SPREAD, 1.0))
    if cause.stage == "seedling" and not setting.stage:
        yield Leaning("met on seedlings only; the plant's age is not known", *STAGE_UNKNOWN)
    elif setting.stage and cause.stage:
        apart = abs(_AGES[setting.stage] - _AGES[cause.stage])
        if apart:
            yield Leaning(f"met at another age of the plant ({cause.stage})", *STAGE_APART[min(apart, 3)])
    for sign in _FOLLOWS:
        if sign in setting.weather and sign not in answered and how_often(cause.id, sign) in ("always", "often"):
            there, words = setting.weather[sign], _WEATHER_WORDS[sign]
            yield Leaning(
                f"follows {words}: {'there was such' if there else 'there was none'}",
                *(WEATHER_FITS if there else WEATHER_LACKS),
            )
    yield from _warmth(cause, setting)
    if cause.id in setting.not_yet:
        yield Leaning("this year's warmth has hardly brought it out yet", *NOT_YET)
    before = [b for b in setting.before if _means(b.trouble, cause)]
    if before:
        settled = any(b.settled for b in before)
        says = "settled in this garden before" if settled else "taken for likely in this garden before"
        yield Leaning(says, *(BEFORE_SETTLED if settled else BEFORE_LIKELY))
    counts = sorted((c for c in setting.counts if _means(c.trouble, cause)), key=lambda c: c.days_ago)
    if any(c.total > 0 and c.days_ago <= COUNTED_DAYS for c in counts):
        yield Leaning("counted on these plants lately", *COUNTED)
    elif counts and counts[0].days_ago <= NONE_COUNTED_DAYS:
        yield Leaning("looked for on these plants lately and not found", *NONE_COUNTED)


_WEATHER_WORDS = MappingProxyType(
    {"after_wet": "wet weather", "hot_dry": "hot dry weather", "after_cold": "a cold night"}
)


def _warmth(cause: Trouble, setting: Setting) -> Iterator[Leaning]:
    """Whether the last days were as warm as the disease likes it, by the best range of its finer names on this crop."""
    span = _best_c(cause.id, setting.crop)
    if span is None or setting.mean_c is None:
        return
    below, above = span[0] - setting.mean_c, setting.mean_c - span[1]
    if max(below, above) <= NEAR_C:
        yield Leaning("the last days were as warm as it likes", *WARMTH_FITS)
    elif max(below, above) >= FAR_C:
        yield Leaning(f"the last days were {'colder' if below > 0 else 'warmer'} than it likes", *WARMTH_LACKS)


@cache
def _best_c(cause: str, crop: str) -> Range | None:
    """Best range of a cause on a crop: that of its finer names with this host, else of all of them. [°C]"""
    known = [(one, trouble) for id_, one in diseases().items() if (trouble := troubles()[id_]).cause == cause]
    ranged = [(one, trouble) for one, trouble in known if one.temp_best_low_c is not None]
    mine = [one for one, trouble in ranged if host_weight(trouble, crop) >= LISTED] or [one for one, _ in ranged]
    ends = [(one.temp_best_low_c, one.temp_best_high_c) for one in mine]
    lows, highs = [low for low, _ in ends if low is not None], [high for _, high in ends if high is not None]
    return (min(lows), max(highs)) if lows and highs else None


def _means(name: str, cause: Trouble) -> bool:
    known = troubles().get(name.replace("-", "_"))
    return known is not None and known.cause == cause.id


def weights(setting: Setting, answered: Sequence[str] = ()) -> tuple[FloatArray, FloatArray]:
    """Weight of every row before any sign: at the middle of all ranges (rows,), and over the design (DESIGN, rows)."""
    known = troubles()
    best = np.ones(len(rows()))
    walk = np.ones((DESIGN, len(rows())))
    for n, id_ in enumerate(rows()):
        ranges: list[Range]
        if id_ == OTHER:
            ranges = [OTHER_WEIGHS]
        else:
            ranges = [(one.low, one.high) for one in leanings(known[id_], setting, answered)]
        parts = design(len(ranges), 200_000 + n)
        for k, (low, high) in enumerate(ranges):
            best[n] *= (low + high) / 2
            walk[:, n] *= low + (high - low) * parts[:, k]
    return best / best.sum(), walk / walk.sum(axis=1, keepdims=True)
