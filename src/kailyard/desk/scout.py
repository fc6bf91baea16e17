"""One round through the beds: what to look for, and what was counted."""

from __future__ import annotations

from datetime import date

from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.documents.scout import Scout
from kailyard.troubles.scouting import scout


def round_of(desk: Desk, *, on: date | None = None) -> Scout:
    """The round in walking order as of a day; else today."""
    garden = desk.garden()
    return desk.kept(("scout", on or desk.today(garden)), lambda: scout(season_view(desk, on=on)))
