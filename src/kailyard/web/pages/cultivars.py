"""The cultivars as their packets tell them, changed in place or pasted."""

from __future__ import annotations

from kailyard.desk.desk import Desk
from kailyard.desk.grids import cultivar_grid, cultivar_may_go
from kailyard.desk.people import Visitor
from kailyard.web import grids
from kailyard.web.register import Moved

PATH = "/cultivars"
TITLE = "Cultivars"
MENU = (2, 3)
TEMPLATE = grids.TEMPLATE
MOST_BYTES = grids.MOST_BYTES
QUERY = grids.Query
FORM = grids.Form


def page(desk: Desk, query: grids.Query, person: Visitor) -> grids.Page:
    """The table."""
    under = "Days to maturity as the packet has them, or as you counted them here: they give the odds of their own."
    return grids.page(desk, query, cultivar_grid(desk), title=TITLE, path=PATH, under=under)


def post(desk: Desk, form: grids.Form, person: Visitor) -> Moved:
    """One change, of a row or of many."""
    return grids.post(desk, form, cultivar_grid(desk), path=PATH, may_go=cultivar_may_go(desk))
