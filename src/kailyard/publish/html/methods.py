"""What can be reckoned, as a page."""

from __future__ import annotations

from itertools import groupby

from kailyard.documents.methods import Method, Methods
from kailyard.publish import reckoned
from kailyard.publish.html._page import Body, Paper, heading, page, table
from kailyard.publish.markup import Markup, el


def render(document: Methods, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Methods) -> Body:
    """Every method by subject, with its inputs and its source."""
    parts: list[Markup] = [heading("kailyard reckon", "What can be reckoned")]
    for subject, methods in groupby(document.methods, key=lambda m: m.subject):
        parts.append(el("h2", subject))
        parts.extend(_method(method) for method in methods)
    return Body("What can be reckoned", tuple(parts))


def _method(method: Method) -> Markup:
    cells = [(i.name, reckoned.takes(i), reckoned.otherwise(i), i.means) for i in method.inputs]
    formula = [part for line in method.formula.splitlines() for part in (line, el("br"))][:-1]
    short = f" (or {', '.join(method.short)})" if method.short else ""
    return el(
        "section",
        el("p", el("b", method.name), f"{short}: {method.says}"),
        table(("input", "takes", "", "what it is"), cells, numeric=[False] * 4) if cells else "",
        el("p", *formula) if formula else "",
        el("p", f"Gives {reckoned.gives(method)}. {method.status.capitalize()}: {method.source}.", class_="small"),
        el("p", reckoned.tried(method), class_="name"),
    )
