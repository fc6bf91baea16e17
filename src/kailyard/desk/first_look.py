"""The demo garden as a newcomer meets it: its sheet, the page beside it, and what to try next."""

from __future__ import annotations

from datetime import timedelta

from kailyard.demo import DEMO_DATE
from kailyard.desk.demo import write_demo
from kailyard.desk.desk import Desk
from kailyard.documents.sheet import Sheet
from kailyard.documents.table import Table
from kailyard.publish import render
from kailyard.store.base import StoreError

PAGE = "sheet.html"


def first_look(desk: Desk) -> tuple[Sheet, Table]:
    """Write the demo garden into the desk's folder, never over one that exists, with its sheet as a page beside it."""
    sheet = write_demo(desk)
    page = desk.folder / PAGE
    try:
        page.write_text(render(sheet, "html"), encoding="utf-8")
    except OSError as err:
        raise StoreError(f"{page} cannot be written: {err.strerror}.") from err
    # A short name of the first few: a command that breaks into two lines cannot be copied.
    line = min((w.name for w in sheet.work[:3]), key=len, default="protect/frost")
    rows = (
        (f"export KAILYARD_GARDEN={desk.folder}", "speak of this garden from now on"),
        (f"kailyard why {line} --on {DEMO_DATE}", "why this line stands there"),
        (f"kailyard sheet --on {DEMO_DATE + timedelta(days=7)}", "the week after"),
        (f"kailyard climate --on {DEMO_DATE}", "frost and season against the years"),
        ("kailyard daybook --since 2026-06-01", "what was done and seen"),
        ("kailyard new --help", "a garden of your own"),
    )
    note = f"The garden lies in {desk.folder}, and this sheet as a page in {page}."
    return sheet, Table("What to try next", ("command", "what for"), rows, (note,))
