"""What will be picked, and what was."""

from __future__ import annotations

from datetime import date

from kailyard.care.pickings import pickings
from kailyard.desk.desk import Desk
from kailyard.desk.shelf import handbook
from kailyard.desk.view import season_view
from kailyard.documents.picking import Picking


def picking(desk: Desk, *, crop: str = "", on: date | None = None) -> Picking:
    """The pickings ahead and the weights so far; of one crop where it is named.

    Raises
    ------
    NotFound
        If the handbook has no such crop.
    """
    garden = desk.garden()
    key = handbook(desk).crop(crop) if crop else ""

    def make() -> Picking:
        return pickings(season_view(desk, on=on), key)

    return desk.kept(("picking", key, on or desk.today(garden)), make)
