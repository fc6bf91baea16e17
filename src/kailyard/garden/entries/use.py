"""What a planting is picked for from that day on: 'ripe', 'baby', 'gherkin'; a later one takes its place."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Use:
    """`use`: one of the crop's uses in the handbook, or the gardener's own word, which changes nothing foreseen."""

    use: str

    def __post_init__(self) -> None:
        require_name("use", self.use)


NAME = "use"
VERSION = 1
HELP = "What a planting is picked for: green or ripe, baby or full, gherkin or dill pickle"
TARGET = ("planting",)
PAYLOAD = Use
QUANTITY = None
