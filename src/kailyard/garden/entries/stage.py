"""A stage of a planting's life, seen or looked for and not yet seen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kailyard.garden.fields import Share
from kailyard.garden.identifiers import kind_problem


@dataclass(frozen=True, slots=True)
class Stage:
    """`stage` as the handbook names it: emerged, first-flower, bulb-start, tops-down, ..."""

    stage: str
    state: Literal["seen", "not yet"] = "seen"
    share: Share | None = None
    """Part of the plants that show it; None: not said."""

    def __post_init__(self) -> None:
        if problem := kind_problem(self.stage, what="stage"):
            raise ValueError(problem)


NAME = "stage"
VERSION = 1
HELP = "A stage seen, or looked for and not yet seen"
TARGET = ("planting",)
PAYLOAD = Stage
QUANTITY = None
