"""What can be reckoned, for a terminal."""

from __future__ import annotations

from itertools import groupby

from kailyard.documents.methods import Method, Methods
from kailyard.publish import plain, reckoned
from kailyard.publish.words import clean


def render(document: Methods, *, width: int = 80, ascii_only: bool = False) -> str:
    """Every method by subject, shortly; one alone with all that is known of it."""
    if len(document.methods) == 1:
        rows = _opened(document.methods[0], width)
    else:
        rows = plain.block("What can be reckoned", width)
        for subject, methods in groupby(document.methods, key=lambda m: m.subject):
            rows += ["", "", *plain.block(clean(subject).upper(), width)]
            for method in methods:
                rows += ["", *_short(method, width)]
        rows += ["", *plain.block("`kailyard reckon METHOD name=value ...` computes.", width)]
    return plain.finish(rows, ascii_only=ascii_only)


def _short(method: Method, width: int) -> list[str]:
    rows = plain.block(clean(method.name), width)
    said = [clean(method.says)]
    said += [f"{clean(i.name)}: {clean(reckoned.takes(i))}; {clean(reckoned.otherwise(i))}" for i in method.inputs]
    said += [f"gives {clean(reckoned.gives(method))}", f"{method.status.capitalize()}: {clean(method.source)}."]
    for line in said:
        rows += plain.block(line, width, first="  ", rest="    ")
    return rows


def _opened(method: Method, width: int) -> list[str]:
    rows = plain.block(clean(method.name), width)
    if method.short:
        rows += plain.block(f"or shorter: {', '.join(clean(name) for name in method.short)}", width)
    rows += ["", *plain.block(clean(method.says), width)]
    cells = [(clean(i.name), clean(reckoned.takes(i)), clean(reckoned.otherwise(i))) for i in method.inputs]
    if cells:
        rows += ["", *plain.table(("input", "takes", ""), cells, width)]
    rows += ["", *plain.block(f"Gives {clean(reckoned.gives(method))}.", width)]
    rows += plain.block(f"{method.status.capitalize()}: {clean(method.source)}.", width)
    return [*rows, *plain.block(f"Try: {clean(method.example)}", width)]
