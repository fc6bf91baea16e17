"""HTML and SVG from function calls: text is escaped always, markup passes only as `Markup`. Well-formed as XML too."""

from __future__ import annotations

import re
from html import escape

from kailyard.publish.words import MONTHS, clean


class Markup(str):
    """Text that is markup already."""

    __slots__ = ()


Attribute = str | int | float | bool | None
_VOID = frozenset({"br", "hr", "meta", "line", "path", "link", "img", "input", "circle", "col"})


_TOGETHER = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(MONTHS)}|°[CF]|mm|cm|in 10|min|h|days?)\b)"
    r"|(?<=\bbed) (?=\d)|(?<=\bbeds) (?=\d)|(?<=BBCH) (?=\d)"
)
"""The blanks between a figure and what it counts, a bed and its number: no line ends there."""


def text(said: str) -> Markup:
    """`said` made harmless: control signs dropped, everything that means something to HTML escaped."""
    return said if isinstance(said, Markup) else Markup(_TOGETHER.sub("\u00a0", escape(clean(said))))


def together(*parts: str) -> Markup:
    """Parts one after the other; plain text among them is escaped."""
    return Markup("".join(text(part) for part in parts))


def spaced(*parts: str) -> Markup:
    """Parts that hold something, with a blank between."""
    return Markup(" ".join(text(part) for part in parts if part))


def el(name: str, /, *children: str, **attributes: Attribute) -> Markup:
    """One element. In an attribute's name `_` stands for '-', at its end for nothing; None and False leave it out."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{"" if value is True else _value(value)}"'
        for key, value in attributes.items()
        if value is not None and value is not False
    )
    if name in _VOID and not children:
        return Markup(f"<{name}{written}/>")
    return Markup(f"<{name}{written}>{together(*children)}</{name}>")


def _value(value: Attribute) -> str:
    if isinstance(value, float):
        return f"{value:.2f}".rstrip("0").rstrip(".")
    return escape(clean(str(value)))
