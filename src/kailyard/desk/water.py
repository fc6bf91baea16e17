"""The garden's water: when each bed wants it next, how much, and what was used."""

from __future__ import annotations

from datetime import date

from kailyard.care.water_document import water_document
from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.documents.water import Water


def water(desk: Desk, *, on: date | None = None, as_known: date | None = None) -> Water:
    """The water as reckoned and foreseen on a day, from what was known at the end of `as_known`."""
    today = on or as_known or desk.today(desk.garden())
    return desk.kept(("water", today, as_known), lambda: water_document(season_view(desk, on=today, as_known=as_known)))
