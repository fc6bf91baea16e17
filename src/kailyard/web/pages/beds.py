"""The beds by their measures, changed in place or pasted."""

from __future__ import annotations

from kailyard.desk.desk import Desk
from kailyard.desk.grids import bed_grid, bed_may_go
from kailyard.desk.people import Visitor
from kailyard.web import grids
from kailyard.web.register import Moved

PATH = "/beds"
TITLE = "Beds"
MENU = (2, 2)
TEMPLATE = grids.TEMPLATE
MOST_BYTES = grids.MOST_BYTES
QUERY = grids.Query
FORM = grids.Form


def page(desk: Desk, query: grids.Query, person: Visitor) -> grids.Page:
    """The table."""
    under = "The middle of each is east and north of the garden's own origin."
    return grids.page(desk, query, bed_grid(desk), title=TITLE, path=PATH, under=under)


def post(desk: Desk, form: grids.Form, person: Visitor) -> Moved:
    """One change, of a row or of many."""
    return grids.post(desk, form, bed_grid(desk), path=PATH, may_go=bed_may_go(desk))
