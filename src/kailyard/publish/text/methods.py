"""What can be reckoned, for a terminal."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from kailyard.documents.methods import Method, Methods
from kailyard.publish import plain, reckoned
from kailyard.publish.words import clean

_SPELT = str.maketrans(
    {"α": "alpha", "β": "beta", "γ": "gamma", "Γ": "Gamma", "δ": "delta", "Δ": "Delta", "ε": "epsilon", "θ": "theta",
     "κ": "kappa", "λ": "lambda", "ξ": "xi", "π": "pi", "σ": "sigma", "Σ": "sum ", "φ": "phi", "ω": "omega",
     "√": "sqrt ", "⌊": "floor(", "⌈": "ceil(", "⌋": ")", "⌉": ")", "⁻": "^-", "⁸": "8", "⁹": "9", "⁵": "5", "¹": "1",
     "⁰": "0", "²": "^2", "⁴": "^4"}
)  # fmt: skip
"""Signs of an equation where the terminal has none of them. A power of ten with a minus carries the ^ already."""


def render(document: Methods, *, width: int = 80, ascii_only: bool = False) -> str:
    """Every method by subject, shortly; one alone with all that is known of it."""
    if len(document.methods) == 1:
        (one,) = document.methods
        rows = _opened(replace(one, formula=one.formula.translate(_SPELT)) if ascii_only else one, width)
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
        rows += ["", *plain.table(("input", "takes", ""), cells, width), ""]
    for each in method.inputs:
        rows += plain.block(f"{clean(each.name)}: {clean(each.means)}", width, rest="  ")
    rows += [""]
    for line in method.formula.replace("\n    ", " ").splitlines():
        rows += plain.block(clean(line), width, first="  ", rest="    ")
    rows += ["", *plain.block(f"Gives {clean(reckoned.gives(method))}.", width)]
    rows += plain.block(f"{method.status.capitalize()}: {clean(method.source)}.", width)
    return [*rows, *plain.block(f"Try: {clean(reckoned.tried(method))}", width)]
