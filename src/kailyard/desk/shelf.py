"""The handbook as this garden has it."""

from __future__ import annotations

from kailyard.desk.desk import Desk
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Handbook


def handbook(desk: Desk) -> Handbook:
    """The handbook with the garden's own facts on top."""
    return desk.kept("handbook", lambda: load_handbook(desk.own_facts()))
