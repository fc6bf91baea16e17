"""docs/reference/methods: one page and one picture for each method, made from the functions themselves."""

from __future__ import annotations

import ast
import inspect
import re
import shlex
import textwrap
from collections.abc import Callable, Iterator
from functools import cache
from itertools import groupby, product
from typing import Any

import numpy as np

from kailyard.desk import reckon
from kailyard.documents.methods import Method
from kailyard.documents.reckoning import Reckoning
from kailyard.publish.draw_curve import curve
from kailyard.publish.reckoned import figure, gives, named, numbers, otherwise, takes
from kailyard.science.checks import InputError
from kailyard.science.reckon import Quantity, Reckoner, reckoners

FOLDER = "docs/reference/methods"
HEAD = """# Methods

Made from the functions by `make docs`; do not edit these pages. `kailyard reckon METHOD` says the same at the keyboard,
and what was checked against what stands in [what was checked](../../validation.md). A missing value stays missing in
every answer, unless the page says what becomes of it. Of a formula written down from memory the page says so; whether
printed or measured values are met by it, and how nearly, stands in what was checked.
"""
STEPS = 80
SPREAD = {"°C": 15.0, "%": 40.0, "MJ/m²": 12.0, "m/s": 4.0, "d": 180.0, "°": 40.0, "h": 6.0}
"""How far to either side of the example a picture looks; otherwise as far as the example is from 0."""
MACHINERY = {"_blocks", "checks", "reckon"}
"""Modules that hold no formula."""
GATES = {"extremes", "_limits", "_held", "_next", "_days_first"}
"""Functions that hold none either: they see that the input is in range and in order."""
LONGEST_LINE = 100
LEVEL = 1e-9
"""What moves less is level, and draws no picture."""


@cache
def pages() -> dict[str, str]:
    """Every page and picture by its name under the checkout."""
    made, index = {}, [HEAD]
    functions = {r.name: r for r in reckoners()}
    for subject, methods in groupby(reckon.methods().methods, key=lambda m: m.subject):
        index.append(f"## {subject.capitalize()}\n")
        for method in methods:
            index.append(f"- [{method.name}]({method.name}.md): {_escaped(method.says)}")
            picture = _picture(functions[method.name])
            if picture:
                made[f"{FOLDER}/{method.name}.svg"] = picture + "\n"
            made[f"{FOLDER}/{method.name}.md"] = _page(method, functions[method.name], drawn=bool(picture))
        index.append("")
    made[f"{FOLDER}/README.md"] = "\n".join(index).rstrip() + "\n"
    return made


def _page(method: Method, found: Reckoner, *, drawn: bool) -> str:
    doc = inspect.getdoc(found.function) or ""
    summary, _, rest = doc.partition("\n\n")
    about = rest.partition("\n\n")[0] if not re.match(r"\w[\w ]*\n-+", rest) else ""
    rows = [
        f"| `{i.name}` | {_escaped(takes(i))} | {_escaped(otherwise(i))} | {_escaped(i.means)} |" for i in method.inputs
    ]
    short = f"Or shorter: {', '.join(f'`{name}`' for name in method.short)}.\n" if method.short else ""
    parts = [
        f"# {method.name}\n",
        f"Made by `make docs` from `kailyard.science.{found.module}`.\n",
        f"{_escaped(' '.join(summary.split()))}\n",
        f"{_escaped(' '.join(about.split()))}\n" if about and not about.startswith("Parameters, returns") else "",
        short,
        "## Inputs\n",
        "| input | takes | if not given | what it is |\n| --- | --- | --- | --- |\n" + "\n".join(rows) + "\n",
        f"Gives {_escaped(gives(method))}. {_escaped(_returns(found))}".rstrip() + "\n",
        "## Formula\n",
        _formula(found),
        "## Example\n",
        _example(method),
        f"![{method.name}: the response]({method.name}.svg)\n" if drawn else "",
        "## Source\n",
        f"{method.status.capitalize()}: {_escaped(method.source)}.\n",
        _references(found),
    ]
    return "\n".join(part for part in parts if part).rstrip() + "\n"


def _returns(found: Reckoner) -> str:
    """What the docstring says of the answer, but for its unit, its shape, and that missing values stay missing."""
    said = " ".join(found.section("Returns").partition("\n")[2].split())
    said = re.sub(
        r"\s*\[[^\]]*\]$|[;.]? ?NaN stays NaN|[;,] (?:same shape|of the shape all inputs broadcast to)", "", said
    )
    said = re.sub(r"^(?:Each )?(?:Same shape|(?:[Oo]f the s|S)hape (?:of )?[^;.]*)[;.]? ?", "", said)
    said = said.replace("for a NaN", "where a missing value").replace("NaN", "missing").strip(" .")
    return f"{said[0].upper()}{said[1:]}." if said else ""


def _references(found: Reckoner) -> str:
    said = found.section("References")
    listed = re.findall(r"\.\. \[(\d+)\] (.*?)(?=\n\.\. \[|\Z)", said, re.S)
    return (
        "\n".join(f"{number}. {_escaped(' '.join(text.split()))}" for number, text in listed) + "\n" if listed else ""
    )


def _formula(found: Reckoner) -> str:
    code = [_body(found.function), *(inspect.getsource(f).rstrip() for f in _helpers(found.function))]
    head = ["```text", found.formula, "```", "", "As computed:", "", "```python"]
    return "\n".join([*head, "\n\n\n".join(code), "```", ""])


def _body(function: Callable[..., Any]) -> str:
    """The function's lines below its docstring."""
    source = textwrap.dedent(inspect.getsource(function))
    (tree,) = ast.parse(source).body
    assert isinstance(tree, ast.FunctionDef)
    below = tree.body[1] if ast.get_docstring(tree) else tree.body[0]
    return textwrap.dedent("\n".join(source.splitlines()[below.lineno - 1 :]))


def _helpers(function: Callable[..., Any]) -> list[Callable[..., Any]]:
    """Private functions that hold parts of the formula, in the order in which they are met."""
    found: dict[str, Callable[..., Any]] = {}
    waiting = [function]
    while waiting:
        one = waiting.pop(0)
        tree = ast.parse(textwrap.dedent(inspect.getsource(one)))
        for node in ast.walk(tree):
            thing = one.__globals__.get(node.id) if isinstance(node, ast.Name) else None
            if not inspect.isfunction(thing) or thing.__qualname__ in found:
                continue
            module = thing.__module__.rpartition(".")[2]
            ours = thing.__module__.startswith("kailyard.science") and module not in MACHINERY
            if ours and thing.__name__ not in GATES and (thing.__name__.startswith("_") or module.startswith("_")):
                found[thing.__qualname__] = thing
                waiting.append(thing)
    return list(found.values())


def _example(method: Method) -> str:
    words = shlex.split(method.example)[3:]
    answer = reckon.reckon(method.name, words)
    shown = [""]
    for word in re.findall(r"[\w.-]+='[^']*'|\S+", method.example):
        if len(shown[-1]) + len(word) > LONGEST_LINE:
            shown.append("   ")
        shown[-1] = f"{shown[-1]} {word}".removeprefix(" " if len(shown) == 1 else "")
    command = " \\\n".join(shown)
    return f"```sh\n{command}\n```\n\n{_answer(answer)}"


def _answer(answer: Reckoning) -> str:
    lines = []
    for each in answer.results:
        values = [figure(None if v is None or isinstance(v, str) else float(f"{v:.5g}")) for v in numbers(each.value)]
        shown = ", ".join(values[:12]) + (f" and {len(values) - 12} more" if len(values) > 12 else "")
        lines.append(f"- {each.name}: {shown} {each.unit}".rstrip())
    return "\n".join(lines) + "\n"


def _picture(found: Reckoner) -> str:
    """The first result over the first number of the example that moves it, or a run's answer day by day.

    Where neither moves, over the first value of a run.
    """
    single = [(name, kind, value, [value]) for name, kind, value in _numbers(found) if not isinstance(value, list)]
    runs = [(name, kind, value[0], value) for name, kind, value in _numbers(found) if isinstance(value, list)]
    drawn = (over for each in single for over in [_over(found, *each, of="")] if over)
    runs_drawn = (over for each in runs for over in [_over(found, *each, of="the first value of ")] if over)
    return next(drawn, "") or _along(found) or next(runs_drawn, "")


def _numbers(found: Reckoner) -> Iterator[tuple[str, Quantity, Any]]:
    for each in found.inputs:
        value = found.example.get(each.name)
        if isinstance(each.kind, Quantity) and value is not None and each.kind.series == isinstance(value, list):
            yield each.name, each.kind, value


def _over(found: Reckoner, name: str, kind: Quantity, value: float, given: list[float], *, of: str) -> str:
    """A picture of the first result that moves with one number; '' where all stay level or are seldom known."""
    wide = SPREAD.get(kind.unit) or abs(value) or (kind.high - kind.low) / 4
    for spread, (at, (result, unit)) in product((wide, abs(value)), enumerate(found.gives.items())):
        along = np.linspace(max(kind.low, value - spread), min(kind.high, value + spread), STEPS + 1)
        moved = ([float(x), *given[1:]] if of else float(x) for x in along)
        up = [_one(found, {**found.example, name: x}, at) for x in moved]
        known = [u for u in up if u is not None]
        if len(known) > STEPS / 4 and max(known) - min(known) > LEVEL:
            words = {"along_words": named(name, kind.unit), "up_words": named(result, unit)}
            label = f"{result} over {of}{name}, the rest as in the example"
            return str(curve(along.tolist(), up, **words, label=label, at=float(value), alone=True))
    return ""


def _along(found: Reckoner) -> str:
    for (name, of), values in zip(found.gives.items(), _results(found, dict(found.example)), strict=True):
        run = np.atleast_1d(np.asarray(values, dtype=np.float64)).ravel()
        if run.size > 2 and np.ptp(run) > LEVEL:
            places = [float(i) for i in range(1, run.size + 1)]
            label = f"{name} of the example, one after the other"
            return str(
                curve(places, run.tolist(), along_words="place", up_words=named(name, of), label=label, alone=True)
            )
    return ""


def _results(found: Reckoner, given: dict[str, Any]) -> tuple[Any, ...]:
    result = found.function(**given)
    return result if isinstance(result, tuple) else (result,)


def _one(found: Reckoner, given: dict[str, Any], at: int) -> float | None:
    """One result where it is one number; None where the formula refuses or has no answer."""
    try:
        value = np.asarray(_results(found, given)[at], dtype=np.float64)
    except InputError:
        return None
    return float(value) if value.ndim == 0 and np.isfinite(value) else None


def _escaped(said: str) -> str:
    return said.replace("|", "\\|").replace("<", "&lt;")
