"""What a bed holds and what a planting takes, from the handbook; what stands in is said."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import lru_cache

from kailyard.garden.model import Bed
from kailyard.handbook.types import Fact, Handbook

RAISED_M = 0.2
"""A bed this high of which nothing is said is taken for a bought or mixed soil, not for field soil."""
USUAL_SOIL = "soil-loam"
IN_POTS = "soil-potting"
"""Lies in a vessel: roots go no deeper than it does."""
USUAL_POT_M = 0.3
"""Depth of a vessel that nobody has measured."""
USUAL_GROUP = "group-small-vegetables"
INITIAL_SHARE = 0.4
"""Share of the time to full cover that is the initial stage, where no stage lengths are printed."""
LATE_SHARE = 0.3
"""Share of the time from full cover to the end that is the late season, where no stage lengths are printed."""


@dataclass(frozen=True, slots=True)
class Soil:
    """A soil of the handbook, in the middle of its printed range."""

    name: str
    """'sandy loam'."""
    full: float
    """Field capacity. [m³/m³]"""
    dry: float
    """Wilting point. [m³/m³]"""
    readily_mm: float
    evaporable_mm: float
    takes_mm_h: float
    curve_number: float
    easy_times: float
    """Easy share beside that tabled: less in fine soils, more in coarse (FAO-56 p. 162)."""
    deep_m: float
    """How deep it goes: infinite in the ground."""
    stands_in: str
    """Why this soil, where the bed's own words do not name one; ''."""
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Taker:
    """How a crop takes water."""

    ini: float
    mid: float
    end: float
    """Basal coefficients; single ones where `dual` is false."""
    dual: bool
    height_m: float
    root_m: float
    easy: float
    """Share p of the available water that is easy at 5 mm a day."""
    initial_share: float
    late_share: float
    stands_in: str
    """Name of the group whose coefficients stand in; ''."""
    facts: tuple[Fact, ...]


def soil_of(bed: Bed | None, handbook: Handbook) -> Soil:
    """The soil that a bed's words name, the longest of them winning; else what is usual, and that is said."""
    return _soil(bed.soil.lower() if bed else "", bed.height_m if bed else 0.0, handbook)


@lru_cache(maxsize=256)
def _soil(words: str, height_m: float, handbook: Handbook) -> Soil:
    found: list[tuple[int, str]] = []
    for subject in handbook.facts:
        if subject.startswith("soil-"):
            names = handbook.text(subject, "soil_words").split("; ")
            found += [(len(n), subject) for n in names if re.search(rf"\b{re.escape(n)}\b", words)]
    if found:
        subject, why = max(found)[1], ""
    elif height_m >= RAISED_M:
        subject, why = "soil-raised-mix", "the bed stands high and nothing names its soil: a usual mix stands in"
    else:
        subject, why = USUAL_SOIL, "nothing names the bed's soil: a loam stands in"

    deep = math.inf
    if subject == IN_POTS:
        deep, why = (height_m, why) if height_m else (USUAL_POT_M, "how deep its vessel is nobody has said: 30 cm")

    def middle(quantity: str) -> float:
        low, high = (handbook.number(subject, f"{quantity}_{end}") for end in ("min", "max"))
        assert low is not None
        assert high is not None
        return (low + high) / 2

    takes, curve = handbook.number(subject, "soil_takes_mm_h"), handbook.number(subject, "soil_curve_number")
    assert takes is not None
    assert curve is not None
    quantities = ("soil_full_max", "soil_full_min", "soil_dry_max", "soil_dry_min", "soil_takes_mm_h")
    return Soil(
        name=subject.removeprefix("soil-").replace("-", " "),
        full=middle("soil_full"),
        dry=middle("soil_dry"),
        readily_mm=middle("soil_rew_mm"),
        evaporable_mm=middle("soil_tew_mm"),
        takes_mm_h=takes,
        curve_number=curve,
        easy_times=handbook.number(subject, "soil_easy_times", 1.0) or 1.0,
        deep_m=deep,
        stands_in=why,
        facts=tuple(f for q in quantities if (f := handbook.get(subject, q)) is not None),
    )


@lru_cache(maxsize=512)
def taker_of(crop: str, handbook: Handbook) -> Taker:
    """The crop's own coefficients; where FAO-56 has none those of its family's group, and that is said."""
    own = [handbook.get(crop, q) for q in ("kcb_ini", "kcb_mid", "kcb_end", "depletion_p", "root_depth_m_min")]
    early, rising, full, late = (handbook.number(crop, f"kc_{s}_days") for s in ("ini", "dev", "mid", "late"))
    to_cover = (early or 0.0) + (rising or 0.0)
    after = (full or 0.0) + (late or 0.0)
    initial_share = (early or 0.0) / to_cover if early and to_cover else INITIAL_SHARE
    late_share = (late or 0.0) / after if late and after else LATE_SHARE
    if all(own):
        facts = tuple(f for f in own if f is not None)
        ini, mid, end, easy, root = (f.number for f in facts)
        height = handbook.number(crop, "kc_height_m", 0.4) or 0.4
        return Taker(ini, mid, end, True, height, root, easy, initial_share, late_share, "", facts)
    family = (handbook.text(crop, "family") or "").split(" ")[0].lower()
    group = handbook.text(f"family-{family}", "water_group") if f"family-{family}" in handbook.facts else ""
    group = group or USUAL_GROUP
    dual = handbook.get(group, "group_kcb_mid") is not None
    lead = "group_kcb" if dual else "group_kc"
    held = [handbook.get(group, q) for q in (f"{lead}_ini", f"{lead}_mid", f"{lead}_end", "group_p", "group_root_m")]
    facts = tuple(f for f in held if f is not None)
    ini, mid, end, easy, root = (f.number for f in facts)
    own_easy, own_root = handbook.number(crop, "depletion_p"), handbook.number(crop, "root_depth_m_min")
    height = handbook.number(crop, "kc_height_m") or handbook.number(group, "group_height_m") or 0.4
    name = group.removeprefix("group-").replace("-", " ")
    return Taker(
        ini, mid, end, dual, height, own_root or root, own_easy or easy, initial_share, late_share, name, facts
    )
