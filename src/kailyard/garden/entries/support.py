"""A support put up."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Support:
    """`what` in a word or two."""

    what: str = ""


NAME = "support"
VERSION = 1
HELP = "Support put up: stakes, trellis, netting"
TARGET = ("planting",)
PAYLOAD = Support
QUANTITY = None
