"""Which of the facts in use stand on the weakest ground: what to measure or look up first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from kailyard.handbook.types import Fact, FactStatus

_RANK: Mapping[FactStatus, int] = MappingProxyType({"memory": 0, "common practice": 1, "published": 2, "yours": 3})
_ENDS = (("_min", "_max"), ("_low", "_high"))


@dataclass(frozen=True, slots=True)
class Shaky:
    """One fact in use, with the upper end of its range where both are in use."""

    fact: Fact
    upper: Fact | None
    status: FactStatus
    """The weaker of the two."""
    width: float
    """(upper - lower) / their mean; 0 for a single value. [1]"""


def shakiest(facts: Iterable[Fact]) -> tuple[Shaky, ...]:
    """Facts in use, the shakiest first: memory, common practice, published, yours; within these, wide ranges first.

    The two ends of a range count as one. A fact handed in twice counts once. Numbers come before texts.
    """
    used = {(fact.file, fact.line): fact for fact in facts}
    uppers: dict[tuple[str, int], Fact] = {}
    for place, fact in used.items():
        upper = _upper(fact, used.values())
        if upper is not None:
            uppers[place] = upper
    ends = {(fact.file, fact.line) for fact in uppers.values()}
    found = [_shaky(fact, uppers.get(place)) for place, fact in used.items() if place not in ends]
    return tuple(
        sorted(
            found,
            key=lambda s: (
                _RANK[s.status],
                isinstance(s.fact.value, str),
                -s.width,
                s.fact.subject,
                s.fact.quantity,
                s.fact.file,
                s.fact.line,
            ),
        )
    )


def _upper(fact: Fact, used: Iterable[Fact]) -> Fact | None:
    """The upper end that belongs to this lower end: in a file with several legs, the one on the nearest line."""
    for low, high in _ENDS:
        head, mark, tail = fact.quantity.rpartition(low)
        if mark and not isinstance(fact.value, str) and tail in {"", "_c"}:
            name = f"{head}{high}{tail}"
            ends = [
                f
                for f in used
                if (f.subject, f.quantity, f.file) == (fact.subject, name, fact.file) and not isinstance(f.value, str)
            ]
            return min(ends, key=lambda f: abs(f.line - fact.line), default=None)
    return None


def _shaky(fact: Fact, upper: Fact | None) -> Shaky:
    if upper is None:
        return Shaky(fact, None, fact.status, 0.0)
    mean = (abs(fact.number) + abs(upper.number)) / 2
    width = 0.0 if mean == 0 else abs(upper.number - fact.number) / mean
    return Shaky(fact, upper, min(fact.status, upper.status, key=_RANK.__getitem__), width)
