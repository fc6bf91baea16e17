"""A step against a trouble that cannot be taken here; a later entry may say that it can after all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from kailyard.garden.identifiers import require_thing_id
from kailyard.garden.model import Entry
from kailyard.garden.trouble_named import trouble_problem


@dataclass(frozen=True, slots=True)
class Step:
    """`step` as the options name it: 'row_cover', 'take-out'. `here`: whether it is possible."""

    trouble: str
    """As in the handbook: 'powdery-mildew-cucurbit'."""
    step: str
    here: Literal["not possible", "possible"]

    def __post_init__(self) -> None:
        require_thing_id("trouble", self.trouble)
        require_thing_id("step", self.step.replace("_", "-"))


NAME = "step"
VERSION = 1
HELP = "A step against a trouble: not possible here, or possible after all"
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Step
QUANTITY = None


def problem(entry: Entry, payload: Any) -> str:
    """The trouble is one of the handbook's."""
    return trouble_problem(payload.trouble)
