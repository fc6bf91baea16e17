"""What the garden holds itself to: organic rules, whose registrations count here, children in it, what lies near."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Rules:
    """A later one replaces the whole. None: not said."""

    organic: bool | None = None
    registered_in: str = ""
    """State or country whose registrations of products count where the garden lies."""
    children: bool | None = None
    near: str = ""
    """What lies near that a spray would hurt, and on which side: 'hives to the east, a pond to the north'."""

    def __post_init__(self) -> None:
        require_name("registered_in", self.registered_in, empty=True)
        require_name("near", self.near, empty=True)


NAME = "rules"
VERSION = 1
HELP = "What this garden holds to: organic rules or not, whose product registrations count, children, what lies near"
TARGET = ("garden",)
PAYLOAD = Rules
QUANTITY = None
