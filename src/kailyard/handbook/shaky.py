"""Which of the facts in use are most worth finding: on the weakest ground, most leaned on, told most widely."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from kailyard.handbook.types import Fact, FactStatus

WEAKNESS: Mapping[FactStatus, float] = MappingProxyType(
    {"memory": 1.0, "common practice": 0.5, "published": 0.15, "yours": 0.05}
)
"""How much of a value's spread a better source could take away: a judgement of ours, in order of the ground."""
UNTOLD_SPREAD = 0.3
"""Spread taken for a single number: that no range is told does not make it sure."""
WORDS_SPREAD = 0.1
"""Spread taken for a text: words shift no day."""
_ENDS = (("_min", "_max"), ("_low", "_high"))


@dataclass(frozen=True, slots=True)
class Shaky:
    """One fact in use, with the upper end of its range where both are in use."""

    fact: Fact
    upper: Fact | None
    status: FactStatus
    """The weaker of the two."""
    width: float
    """(upper - lower) / their mean; what is taken for a single number or a text. [1]"""
    lines: int
    """Lines of sheets that lean on it."""

    @property
    def worth(self) -> float:
        """How much it is worth to find a better value: weakness of the ground times lines times spread."""
        return WEAKNESS[self.status] * self.lines * self.width


def shakiest(leaning: Mapping[Fact, int]) -> tuple[Shaky, ...]:
    """Facts in use, the most worth finding first; `leaning` says how many lines of sheets lean on each.

    The two ends of a range count as one, with the lines of the end that more lean on. Facts alike in worth stand by
    subject, quantity and place.
    """
    used = {(fact.file, fact.line): fact for fact in leaning}
    uppers: dict[tuple[str, int], Fact] = {}
    for place, fact in used.items():
        upper = _upper(fact, used.values())
        if upper is not None:
            uppers[place] = upper
    ends = {(fact.file, fact.line) for fact in uppers.values()}
    found = [_shaky(fact, uppers.get(place), leaning) for place, fact in used.items() if place not in ends]
    return tuple(
        sorted(found, key=lambda s: (-s.worth, s.fact.subject, s.fact.quantity, s.fact.file, s.fact.line)),
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


def _shaky(fact: Fact, upper: Fact | None, leaning: Mapping[Fact, int]) -> Shaky:
    if upper is None:
        width = WORDS_SPREAD if isinstance(fact.value, str) else UNTOLD_SPREAD
        return Shaky(fact, None, fact.status, width, leaning[fact])
    mean = (abs(fact.number) + abs(upper.number)) / 2
    told = 0.0 if mean == 0 else abs(upper.number - fact.number) / mean
    return Shaky(
        fact,
        upper,
        max(fact.status, upper.status, key=WEAKNESS.__getitem__),
        told or UNTOLD_SPREAD,
        max(leaning[fact], leaning[upper]),
    )
