"""The plantings and how they stand, changed in place or pasted."""

from __future__ import annotations

from kailyard.desk.desk import Desk
from kailyard.desk.grids import planting_doubts, planting_grid, planting_may_go
from kailyard.desk.people import Visitor
from kailyard.web import grids
from kailyard.web.register import Moved

PATH = "/plantings"
TITLE = "Plantings"
MENU = (2, 1)
TEMPLATE = grids.TEMPLATE
MOST_BYTES = grids.MOST_BYTES
QUERY = grids.Query
FORM = grids.Form


def page(desk: Desk, query: grids.Query, person: Visitor) -> grids.Page:
    """The table."""
    under = "One crop put into one bed at one time. What was done and seen of it is entered, not typed here."
    doubts = planting_doubts(desk, query.change)
    grid = planting_grid(desk)
    return grids.page(desk, query, grid, title=TITLE, path=PATH, under=under, doubts=doubts, link="/planting/")


def post(desk: Desk, form: grids.Form, person: Visitor) -> Moved:
    """One change, of a row or of many."""
    return grids.post(desk, form, planting_grid(desk), path=PATH, may_go=planting_may_go(desk))
