"""Steps of hand and eye against troubles, and flights past which something is begun: nothing that needs a label."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, partial
from types import MappingProxyType
from typing import cast

from kailyard.errors import DataError
from kailyard.handbook.remedies import FOLDER, Kind, words_of
from kailyard.handbook.whole_tables import read_table

_rows_of = partial(read_table, FOLDER)


@dataclass(frozen=True, slots=True)
class Practice:
    """A step of hand and eye against one trouble; nothing is put on that would need a label."""

    trouble: str
    crops: tuple[str, ...]
    """Words of the crops for which it holds; () for any."""
    step: str
    kind: Kind
    says: str
    how: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Flight:
    """When a pest flies in such numbers that young plants had better not stand there yet."""

    trouble: str
    crops: tuple[str, ...]
    """Words of the crops."""
    starts: tuple[str, ...]
    """How the planting is begun; () for any."""
    event: str
    """The step of its life that a sum of warmth tells: 'generation 1 flies'."""
    before_days: int
    """What is begun so long before that day, or longer, is big enough, or gone, when they come. [d]"""
    after_days: int
    """Days from that day until it is safe. [d]"""
    who: str
    status: str
    source: str


@cache
def asking() -> Mapping[str, str]:
    """What a practice asks of the gardener, by remedy: 'Mulch'."""
    return MappingProxyType({r[0]: r[1] for r in _rows_of("asked.csv", ("remedy", "says"))})


@cache
def _practices() -> Mapping[str, tuple[Practice, ...]]:
    found: dict[str, list[Practice]] = {}
    columns = ("trouble", "crops", "step", "kind", "says", "how", "status", "source")
    for trouble, crops, step, kind, says, how, status, source in _rows_of("practices.csv", columns):
        if kind not in ("prevention", "hand", "barrier"):
            raise DataError(f"remedies/practices.csv: {trouble}, {step}: kind '{kind}' is none of a practice's.")
        one = Practice(trouble, words_of(crops), step, cast(Kind, kind), says, how, status, source)
        found.setdefault(trouble, []).append(one)
    return MappingProxyType({t: tuple(those) for t, those in found.items()})


def practices_for(trouble: str, words: frozenset[str]) -> tuple[Practice, ...]:
    """Steps of hand and eye against a trouble, for a crop that goes by these words."""
    those = _practices().get(trouble.replace("-", "_"), ())
    return tuple(p for p in those if not p.crops or words & set(p.crops))


@cache
def flights() -> tuple[Flight, ...]:
    """Every flight past which something may be begun, in the table's order."""
    columns = ("trouble", "crops", "starts", "event", "before_days", "after_days", "who", "status", "source")
    return tuple(
        Flight(r[0], words_of(r[1]), words_of(r[2]), r[3], int(r[4]), int(r[5]), r[6], r[7], r[8])
        for r in _rows_of("flights.csv", columns)
    )
