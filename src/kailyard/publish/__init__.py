"""Documents as text, HTML and JSON.

`text/` and `html/` hold one file for each document, of the same name as in `kailyard.documents`, with a function
`render(document, **options) -> str`. Adding a document's rendering is adding a file. Those of `html/` have also
`body(document, **options)`: the same without the file around it, for a page among others.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal, cast

from kailyard import discover

if TYPE_CHECKING:
    from kailyard.publish.html._page import Body

Form = Literal["text", "html", "json"]


def render(document: Any, form: Form, **options: Any) -> str:
    """`document` in the form asked for.

    Options of text: `width` (columns, 80), `ascii_only` (False). Options of HTML: `paper` ('A4', 'Letter' or None for
    the printer's own).
    """
    if form == "json":
        from kailyard.publish.codec import to_json

        return to_json(document).decode()
    name = type(document).__module__.rpartition(".")[2]
    return cast("str", discover.module(f"kailyard.publish.{form}", name).render(document, **options))


def body(document: Any, **options: Any) -> Body:
    """`document` as HTML without a file around it. A sheet and the water take `beside`: what stands after each
    line or bed."""
    name = type(document).__module__.rpartition(".")[2]
    return cast("Body", discover.module("kailyard.publish.html", name).body(document, **options))
