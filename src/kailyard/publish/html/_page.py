"""What every page is made of: the shell that stands alone, and reasons that unfold."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from kailyard.documents._parts import Reason
from kailyard.publish.markup import Markup, el, spaced, together
from kailyard.publish.say import ground, statement
from kailyard.publish.units import Units
from kailyard.publish.words import clean

Paper = Literal["A4", "Letter"]
_FACES = (("source-serif-4-latin-wght-normal.woff2", "normal"), ("source-serif-4-latin-wght-italic.woff2", "italic"))


@cache
def style() -> Markup:
    """The style with both faces of the type inside it, so that a page asks no host for anything."""
    folder = files("kailyard.publish")
    faces = [
        f'@font-face {{ font-family: "Source Serif 4 Kailyard"; font-style: {slant}; font-weight: 200 900; '
        f"src: url(data:font/woff2;base64,{b64encode((folder / 'fonts' / name).read_bytes()).decode()}) "
        'format("woff2"); }\n'
        for name, slant in _FACES
    ]
    return Markup("".join(faces) + (folder / "style.css").read_text("utf-8"))


@dataclass(frozen=True, slots=True)
class Body:
    """What a document puts on a page, whoever frames it: a file that stands alone, or a page among others."""

    title: str
    parts: tuple[str, ...]
    kind: str | None = None
    """Class of the page's body element, where the document asks for one."""

    @property
    def markup(self) -> Markup:
        """All parts as one."""
        return together(*self.parts)


def page(body: Body, *, paper: Paper | None = None) -> str:
    """A whole file that stands alone. `paper` fixes the size of the printed sheet."""
    size = Markup(f"\n@page {{ size: {paper}; }}") if paper else Markup()
    head = el(
        "head",
        el("meta", charset="utf-8"),
        el("meta", name="viewport", content="width=device-width, initial-scale=1"),
        el("meta", name="referrer", content="no-referrer"),
        el("title", body.title),
        el("style", style(), size),
    )
    whole = el("html", head, Markup("\n"), el("body", el("main", *body.parts), class_=body.kind), lang="en")
    return f"<!DOCTYPE html>\n{whole}\n"


def heading(kicker: str, title: str, under: str = "", *beside: str) -> Markup:
    """The head of a page: a quiet line, the title, a line under it, and what stands beside."""
    said = el("p", under, class_="under") if under else ""
    return el("header", el("div", el("p", kicker, class_="soft small"), el("h1", title), said), *beside)


def reason_tree(reasons: Sequence[Reason], units: Units, *, unfolded: int = 0) -> Markup:
    """The reasons as a list; each opens to what it follows from. The first `unfolded` levels stand open."""
    items = []
    for reason in reasons:
        said = [el("span", statement(reason, units), class_="said")]
        if reason.rests_on is not None:
            said.append(el("span", ground(reason.rests_on), class_="ground"))
        if reason.because:
            inner = reason_tree(reason.because, units, unfolded=unfolded - 1)
            said.append(Markup(" "))
            said.append(el("details", el("summary", "because"), inner, open=unfolded > 0))
        items.append(el("li", *said))
    return el("ol", *items, class_="reasons")


def why(reasons: Sequence[Reason], units: Units, *, name: str = "", word: str = "why") -> Markup:
    """'why', to be unfolded, with the line's name at its end. Nothing where there is neither."""
    if not reasons and not name:
        return Markup()
    parts = [reason_tree(reasons, units)] if reasons else []
    if name:
        parts.append(el("span", f"kailyard why {clean(name)}", class_="name"))
    return together(el("details", el("summary", word), *parts))


def table(
    columns: Sequence[str], rows: Sequence[Sequence[str]], *, numeric: Sequence[bool], fixed: bool = False
) -> Markup:
    """A table by alignment alone; it scrolls by itself where the page is narrower."""
    marks = ["number" if number else None for number in numeric]
    # A head without words heads nothing: it is a plain cell.
    heads = [
        el("th", name, class_=mark, scope="col") if name else el("td")
        for name, mark in zip(columns, marks, strict=True)
    ]
    body = [el("tr", *(el("td", cell, class_=mark) for cell, mark in zip(row, marks, strict=True))) for row in rows]
    made = el("table", el("thead", el("tr", *heads)), el("tbody", *body), class_="fixed" if fixed else None)
    return el("div", made, class_="wide", tabindex=0)


__all__ = ["Body", "Paper", "heading", "page", "reason_tree", "spaced", "style", "table", "together", "why"]
