"""Plants hurt by something that came from outside."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kailyard.garden.fields import Share


@dataclass(frozen=True, slots=True)
class Hurt:
    """Both parts are of the plants that stood there before."""

    cause: Literal["frost", "hail", "drift", "animals", "wind", "other"]
    share: Share
    """Part of the plants hurt."""
    killed: Share = 0.0
    """Part of the plants killed."""


NAME = "hurt"
VERSION = 1
HELP = "Plants hurt: by what, what part of them, what part killed"
TARGET = ("planting",)
PAYLOAD = Hurt
QUANTITY = None
