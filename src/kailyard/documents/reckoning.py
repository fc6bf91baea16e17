"""One formula, computed: what came out, from what, and who says so."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, Literal

from kailyard.documents._parts import Status


@dataclass(frozen=True, slots=True)
class Computed:
    """One result of a method."""

    name: str
    value: float | tuple[float | None, ...] | None
    """A number, or all numbers in the order of `shape`, the last axis running fastest. None: missing,
    or without end, as a shadow at sunset."""
    unit: str
    shape: tuple[int, ...]
    """() for one number; (days,), (years, days) and the like; in a teaching table one axis for each grid."""


@dataclass(frozen=True, slots=True)
class Taken:
    """One input as the method had it."""

    name: str
    value: float | str | tuple[float | None, ...] | None
    unit: str
    how: Literal["given", "grid", "default"]
    """`grid`: the values of one axis of a teaching table; `default`: nothing was given."""


@dataclass(frozen=True, slots=True)
class Reckoning:
    """`kailyard.reckoning/1`"""

    schema: ClassVar[str] = "kailyard.reckoning/1"

    method: str
    says: str
    """What the method is, in a sentence."""
    value: float | tuple[float | None, ...] | None
    """The first of `results`, which for most methods is the only one."""
    unit: str
    inputs: tuple[Taken, ...]
    source: str
    status: Status
    results: tuple[Computed, ...]
    """Every result, the first included."""


DOCUMENT = Reckoning
