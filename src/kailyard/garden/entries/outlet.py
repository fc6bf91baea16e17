"""What a bed, or the whole garden, is watered with, and how much comes out of it as it was measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kailyard.garden.fields import Quantity
from kailyard.garden.model import Entry

MOST = {"L/min": 200.0, "mm/h": 200.0, "L": 100.0}
MEASURED_IN = {
    "drip": ("L/min",),
    "soaker": ("L/min",),
    "hose": ("L/min",),
    "sprinkler": ("mm/h", "L/min"),
    "can": ("L",),
}


@dataclass(frozen=True, slots=True)
class Outlet:
    """A later one of the same target takes its place."""

    what: Literal["drip", "soaker", "sprinkler", "hose", "can"]


NAME = "outlet"
VERSION = 1
HELP = "What is watered with, as measured: drip, soaker, hose (a minute), sprinkler (an hour, in tins), can (it holds)"
TARGET = ("bed", "garden")
PAYLOAD = Outlet
QUANTITY = Quantity(("L/min", "mm/h", "L"), 0.01, 200.0, needed=True)


def problem(entry: Entry, payload: Outlet) -> str:
    """Each outlet is measured in its own way."""
    fit = MEASURED_IN[payload.what]
    if entry.unit not in fit:
        return f"a {payload.what} is measured in {' or '.join(fit)}, not in {entry.unit}"
    if entry.quantity is not None and entry.quantity > MOST[entry.unit]:
        return f"{entry.quantity:g} {entry.unit} is outside 0 to {MOST[entry.unit]:g} {entry.unit}"
    return ""
