"""Seed put into the ground or into cells."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class Sow:
    """How it was sown."""

    under_cover: bool = False


NAME = "sow"
VERSION = 1
HELP = "Seed sown: how many seeds or cells, under cover or where it stays"
TARGET = ("planting",)
PAYLOAD = Sow
QUANTITY = Quantity(("seeds", "cells"), 1, 1_000_000)
