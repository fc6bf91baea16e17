"""What a crop is botanically, and what it crosses with: the species decides, not the name in the trade."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from kailyard.handbook.types import Fact, Handbook

_NEEDED = ("botanical_name", "common_name", "habit")
"""What every crop of the package must say of itself."""
_NEEDED_OF = {"Allium cepa": "day_length_class"}
"""What a species must say besides."""
_TOMATO_HABITS = ("determinate", "indeterminate")
_SPECIES = re.compile(r"([A-Z][a-z]+) (x )?([a-z-]+)")


@dataclass(frozen=True, slots=True)
class Crossing:
    """What may cross with a crop, and what of it matters."""

    species: str
    with_crops: tuple[str, ...]
    """Keys of other crops of the handbook, sorted."""
    says: tuple[str, ...]
    facts: tuple[Fact, ...]


def species(crop: str, handbook: Handbook) -> str:
    """Genus and species of a crop: 'Cucurbita pepo'; its whole botanical name where that names no species."""
    name = handbook.text(crop, "botanical_name")
    found = _SPECIES.match(name)
    if found is None or found[3] in ("subgenus", "sect"):
        return name
    return f"{found[1]} {found[2] or ''}{found[3]}"


def crosses_with(crop: str, handbook: Handbook) -> Crossing:
    """Crops that cross with this one: those of its species, and those that the handbook names beyond it."""
    mine = species(crop, handbook)
    beyond = _beyond(handbook)
    others = {c for c, s in _by_species(handbook) if s == mine and mine and c != crop}
    others |= {b for a, b in beyond if a == crop} | {a for a, b in beyond if b == crop}
    names = ("botanical_name", "pollinated_by", "seed_how", "isolation_m_min", "cross_note")
    facts = tuple(f for n in names if (f := handbook.get(crop, n)) is not None)
    return Crossing(mine, tuple(sorted(others)), tuple(_says(crop, mine, sorted(others), handbook)), facts)


def sold_as(name: str, handbook: Handbook) -> tuple[str, ...]:
    """Crops that the trade sells under `name`, whatever it calls them, sorted."""
    asked = _plain(name)
    return tuple(
        crop
        for crop in handbook.crops
        if any(_plain(part) == asked for part in handbook.text(crop, "also_sold_as").split("; ") if part)
    )


def name_problems(handbook: Handbook) -> tuple[str, ...]:
    """Crops of the package whose name says too little, one line each: what lacks, and where to write it."""
    return tuple(_name_problems(handbook))


def _name_problems(handbook: Handbook) -> Iterator[str]:
    for crop in handbook.crops:
        facts = handbook.facts[crop]
        if crop in handbook.plants or all(fact.status == "yours" for fact in facts.values()):
            continue
        of = species(crop, handbook)
        needed = [*_NEEDED, *([_NEEDED_OF[of]] if of in _NEEDED_OF else [])]
        for quantity in needed:
            if quantity not in facts:
                yield f"crops/{crop}.csv: no '{quantity}'. The name of a crop must say what it is; add the row."
        if of == "Solanum lycopersicum" and handbook.text(crop, "habit") not in _TOMATO_HABITS:
            yield f"crops/{crop}.csv: a tomato's habit is one of: {', '.join(_TOMATO_HABITS)}."


def _says(crop: str, mine: str, others: list[str], handbook: Handbook) -> Iterator[str]:
    own = handbook.text(crop, "plain_name")

    def named(keys: list[str]) -> str:
        words = ((key, handbook.text(key, "plain_name") or key) for key in keys)
        return _listing(list(dict.fromkeys(f"other {name}" if name == own else name for _, name in words)))

    alike = [key for key in others if species(key, handbook) == mine]
    apart = [key for key in others if key not in alike]
    if alike:
        yield f"{mine}: it crosses with {named(alike)}, of the same species."
    if apart:
        yield f"It crosses with {named(apart)}, of another species."
    if mine and not others:
        yield f"{mine}: no other crop of the handbook crosses with it."
    carried = handbook.text(crop, "pollinated_by")
    if handbook.text(crop, "seed_how") == "not from seed":
        yield "It is not kept by seed, so crossing does not matter."
    elif carried == "self":
        yield "It mostly pollinates itself and seldom crosses."
    elif (apart_m := handbook.number(crop, "isolation_m_min")) is not None:
        yield f"For seed of your own keep it {apart_m:g} m from what crosses, or bag and pollinate by hand."
    if note := handbook.text(crop, "cross_note"):
        yield note


@lru_cache(maxsize=4)  # every crop is opened for it
def _by_species(handbook: Handbook) -> tuple[tuple[str, str], ...]:
    return tuple((crop, species(crop, handbook)) for crop in handbook.crops)


@lru_cache(maxsize=4)
def _beyond(handbook: Handbook) -> tuple[tuple[str, str], ...]:
    return tuple(
        (crop, other) for crop in handbook.crops for other in handbook.text(crop, "crosses_beyond").split("; ") if other
    )


def _plain(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split()).removesuffix("s")


def _listing(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
