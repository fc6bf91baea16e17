"""The register of pages, and what every page's file holds."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from types import ModuleType
from typing import Any

from kailyard import discover
from kailyard.desk.people import Visitor

PAGES = "kailyard.web.pages"
MOST_BYTES = 1_000_000
"""A form that is sent may be this long, unless its page says otherwise. [bytes]"""


@dataclass(frozen=True, slots=True)
class Moved:
    """Where a visitor goes after a form was taken, and what is said there, once."""

    to: str
    """A path of this door: '/daybook'."""
    message: str = ""
    token: str | None = None
    """Of a session that has begun; '' where it has ended."""


@dataclass(frozen=True, slots=True)
class NoQuery:
    """The query of a page that asks nothing."""


@dataclass(frozen=True, slots=True)
class Upload:
    """A file sent with a form. Its name is the visitor's word and is never used as a path."""

    name: str
    content: bytes


@dataclass(frozen=True, slots=True)
class Page:
    """One page, as its file says. A file has `page`, `post` or both."""

    name: str
    path: str
    """`PATH`: '/planting/{planting}'. What stands in braces comes into QUERY and FORM as fields of that name."""
    title: str
    """`TITLE`: one or two words, as the menu says it."""
    menu: tuple[int, int] | None
    """`MENU`: row of the menu (1 today, 2 the garden, 3 what is known, 4 troubles) and place in it; None: not in it.
    A row must go into 360 px."""
    query: type[Any]
    """`QUERY`: frozen dataclass; the address is read into it by its types, strings turned to numbers and days."""
    page: Callable[..., Any] | None
    """`page(desk, query, person) -> frozen dataclass`, handed to the template as `page`; or Moved, where what is asked
    for stands on another page."""
    template: str
    """`TEMPLATE`: file of `templates/`."""
    form: type[Any] | None
    """`FORM`: frozen dataclass of what is sent. A field typed `Upload | None` takes a file."""
    post: Callable[..., Moved] | None
    """`post(desk, form, person) -> Moved`. A KailyardError that it raises is shown on the page, what was typed kept."""
    open: bool
    """`OPEN`: strangers may see it too. Only the way in is open."""
    keeps: bool
    """`KEEPS`: a device of whoever is in may keep a copy, to be read without signal."""
    waits: bool
    """`WAITS`: what is typed into its form may wait on a device for signal. FORM then has a field `id`, made with the
    form; what is sent twice under it is kept once, and what differs is a Conflict."""
    foresees: bool
    """`FORESEES`: it rests on the season foreseen. While that is made anew it may be shown as it was a moment ago, and
    says so; never to whoever changed the garden since."""
    most_bytes: int
    """`MOST_BYTES`: how long what is sent may be."""
    module: ModuleType


@cache
def pages() -> tuple[Page, ...]:
    """Every page, sorted by file name."""
    return tuple(_page(name, discover.module(PAGES, name)) for name in discover.names(PAGES))


@cache
def menu() -> tuple[tuple[Page, ...], ...]:
    """The rows of the menu, each with its pages in order."""
    rows: dict[int, list[Page]] = {}
    placed = sorted(((p.menu, p.name, p) for p in pages() if p.menu is not None), key=lambda one: one[:2])
    for (row, _), _, page in placed:
        rows.setdefault(row, []).append(page)
    return tuple(map(tuple, rows.values()))


def _page(name: str, m: ModuleType) -> Page:
    return Page(
        name=name,
        path=m.PATH,
        title=m.TITLE,
        menu=m.MENU,
        query=getattr(m, "QUERY", NoQuery),
        page=getattr(m, "page", None),
        template=getattr(m, "TEMPLATE", ""),
        form=getattr(m, "FORM", None),
        post=getattr(m, "post", None),
        open=getattr(m, "OPEN", False),
        keeps=getattr(m, "KEEPS", False),
        waits=getattr(m, "WAITS", False),
        foresees=getattr(m, "FORESEES", False),
        most_bytes=getattr(m, "MOST_BYTES", MOST_BYTES),
        module=m,
    )


__all__ = ["Moved", "NoQuery", "Page", "Upload", "Visitor", "menu", "pages"]
