"""What a look found: how many plants were looked at, how many bear the trouble, how many of it were counted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, Literal

from msgspec import Meta

from kailyard.garden.identifiers import require_thing_id, text_problem
from kailyard.garden.model import Entry
from kailyard.garden.trouble_named import trouble_problem

Plants = Annotated[int, Meta(ge=0, le=100_000)]


@dataclass(frozen=True, slots=True)
class Count:
    """`trouble`: what was looked for. `found_on` 0, or `total` 0: none found, which counts as much as any number."""

    trouble: str
    """As in the handbook: 'squash-bug'."""
    looked_at: Annotated[int, Meta(ge=1, le=100_000)]
    """Plants (or leaves, ears, traps: what `per` says) that were looked at."""
    of: Plants | None = None
    """How many stand there; None: as many as the planting has, or nobody knows."""
    found_on: Plants | None = None
    """On how many of them it was found."""
    total: Annotated[float, Meta(ge=0.0, le=1_000_000.0)] | None = None
    """How many of `what` were counted on all that were looked at; for leaf loss the mean percentage."""
    what: Annotated[str, Meta(max_length=60)] = ""
    """What was counted: 'egg masses', 'nymphs', 'beetles', 'percent of leaf lost'."""
    per: Literal["plant", "leaf", "stem", "ear", "cluster", "trap", "bud"] = "plant"
    enemies: Annotated[str, Meta(max_length=200)] = ""
    """Natural enemies seen: 'lady beetles, mummies'."""

    def __post_init__(self) -> None:
        require_thing_id("trouble", self.trouble)
        for name in ("what", "enemies"):
            if problem := text_problem(getattr(self, name)):
                raise ValueError(f"{name} {problem}")


NAME = "count"
VERSION = 1
HELP = "What a look found: plants looked at, on how many, how many; none found counts too"
TARGET = ("planting", "bed")
PAYLOAD = Count
QUANTITY = None


def problem(entry: Entry, payload: Any) -> str:
    """Figures agree with each other, and the trouble is one of the handbook's."""
    if unknown := trouble_problem(payload.trouble):
        return unknown
    if payload.found_on is None and payload.total is None:
        return "say on how many it was found, or how many were counted; 0 where none was found"
    if payload.found_on is not None and payload.found_on > payload.looked_at:
        return f"found on {payload.found_on} of {payload.looked_at} looked at: it cannot be found on more than that"
    if payload.of is not None and payload.of < payload.looked_at:
        return f"{payload.looked_at} looked at where {payload.of} stand: say how many stand there"
    if payload.total and payload.found_on == 0:
        return f"{payload.total:g} counted, but found on none: one of the two is wrong"
    if payload.found_on and payload.total == 0:
        return f"found on {payload.found_on}, but none counted: one of the two is wrong"
    return ""
