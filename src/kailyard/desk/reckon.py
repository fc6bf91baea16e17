"""One formula of the science at a time: listed, described, computed, with its source."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

import numpy as np

from kailyard.desk.typed import quantity, shown
from kailyard.documents.table import Table
from kailyard.errors import NotFound, UsageError
from kailyard.science.checks import InputError
from kailyard.science.reckon import Choice, Input, Quantity, Reckoner, reckoners

MISSING = ("nan", "-", "none")
"""Typed in a run of values where one is missing."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One input of a formula as a form asks for it."""

    name: str
    takes: str
    """Its range and unit, in words."""
    choices: tuple[str, ...]
    series: bool
    needed: bool
    example: str
    otherwise: str
    """What holds where it is left blank."""


@dataclass(frozen=True, slots=True)
class Method:
    """One formula as a page shows it."""

    name: str
    about: str
    """The part of the science it belongs to."""
    summary: str
    gives: str
    source: str
    status: str
    asked: tuple[Asked, ...]


def described() -> tuple[Method, ...]:
    """Every formula, by the part of the science it belongs to."""
    return tuple(_described(each) for each in reckoners())


def describe(name: str) -> Method:
    """One formula by its name; NotFound names those spelt nearly alike."""
    return _described(_named(name))


def _described(found: Reckoner) -> Method:
    asked = tuple(
        Asked(
            name=each.name,
            takes=_range(each),
            choices=each.kind.words if isinstance(each.kind, Choice) else (),
            series=isinstance(each.kind, Quantity) and each.kind.series,
            needed=each.required,
            example=_words(found.example[each.name]) if each.name in found.example else "",
            otherwise="" if each.required else _default(each),
        )
        for each in found.inputs
    )
    gives = ", ".join(f"{key} [{unit}]" if unit else key for key, unit in found.gives.items())
    about = found.module.replace("_", " ")
    return Method(found.name, about, found.summary, gives, found.source, found.status, asked)


def methods() -> Table:
    """Every formula that can be asked."""
    rows = tuple((r.name, ", ".join(i.name for i in r.inputs if i.required), r.summary) for r in reckoners())
    note = "`kailyard reckon METHOD` tells units and ranges; `kailyard reckon METHOD name=value ...` computes."
    return Table("What can be reckoned", ("method", "needs", "what it is"), rows, (note,))


def method(name: str) -> Table:
    """One formula: its inputs with unit, range and default, what it gives, its source, and an example."""
    found = _named(name)
    rows = tuple((i.name, _range(i), "" if i.required else _default(i)) for i in found.inputs)
    gives = ", ".join(f"{key} [{unit}]" if unit else key for key, unit in found.gives.items())
    example = " ".join(f"{key}={_words(value)}" for key, value in found.example.items())
    notes = (
        f"Gives {gives}.",
        f"{found.status.capitalize()}: {found.source}.",
        f"Try: `kailyard reckon {found.name} {example}`.",
    )
    return Table(found.summary, ("input", "takes", "else"), rows, notes)


def reckon(name: str, words: Sequence[str]) -> Table:
    """Compute one formula from `name=value` words; UsageError names an input that is bad or missing, with its range."""
    found = _named(name)
    given = _given(found, words)
    try:
        result = found.function(**given)
    except InputError as err:
        raise UsageError(str(err)) from err
    values = result if isinstance(result, tuple) else (result,)
    rows = [("gives", key, _result(v), unit) for (key, unit), v in zip(found.gives.items(), values, strict=True)]
    for each in found.inputs:
        unit = each.kind.unit if isinstance(each.kind, Quantity) else ""
        value = given.get(each.name, each.default)
        how = "from" if each.name in given else "taken"
        if value is not None:
            rows.append((how, each.name, _words(value), unit))
    rows += [("source", "", found.source, ""), ("status", "", found.status, "")]
    return Table(found.summary, ("", "name", "value", "unit"), tuple(rows))


def _named(name: str) -> Reckoner:
    every = {r.name: r for r in reckoners()}
    key = name.replace("-", "_")
    if key not in every:
        near = get_close_matches(key, every, n=2)
        hint = f"Did you mean {' or '.join(near)}?" if near else "`kailyard reckon` lists them."
        raise NotFound(f"There is no method {shown(name)}. {hint}")
    return every[key]


def _given(found: Reckoner, words: Sequence[str]) -> dict[str, Any]:
    inputs = {each.name: each for each in found.inputs}
    given: dict[str, Any] = {}
    for word in words:
        name, equals, text = word.partition("=")
        if not equals or name not in inputs:
            near = get_close_matches(name, inputs, n=1)
            hint = f"Did you mean {near[0]}=?" if near else f"It takes {', '.join(inputs)}."
            raise UsageError(f"{found.name}: {shown(word)} is no input of it. Write name=value. {hint}")
        if name in given:
            raise UsageError(f"{found.name}: {name} is given twice.")
        given[name] = _read(inputs[name], text)
    lacking = [f"{each.name} ({_range(each)})" for each in found.inputs if each.required and each.name not in given]
    if lacking:
        raise UsageError(f"{found.name} needs {', '.join(lacking)}.")
    return given


def _read(each: Input, text: str) -> Any:
    if isinstance(each.kind, Choice):
        return text
    takes = f"{each.name} takes {_range(each)}"
    if each.kind.series:
        return [
            math.nan if part.strip().lower() in MISSING else _number(part, each.kind, takes) for part in text.split(",")
        ]
    return _number(text, each.kind, takes)


def _number(text: str, kind: Quantity, takes: str) -> float:
    try:
        return float(text) if "e" in text.lower() and "°" not in text else quantity(text, kind.unit, "metric", "value")
    except (UsageError, ValueError):
        raise UsageError(f"{takes}; {shown(text)} is none.") from None


def _range(each: Input) -> str:
    if isinstance(each.kind, Choice):
        return f"one of {', '.join(each.kind.words)}"
    span = f"{each.kind.low:g} to {each.kind.high:g} {each.kind.unit}".rstrip()
    return f"values from {span}, commas between" if each.kind.series else span


def _default(each: Input) -> str:
    return "left out" if each.default is None else _words(each.default)


def _result(value: Any) -> str:
    return ", ".join(f"{x:.6g}" for x in np.atleast_1d(np.asarray(value, dtype=np.float64)).ravel())


def _words(value: Any) -> str:
    if isinstance(value, str):
        return value
    return ",".join(f"{x:.10g}" for x in np.atleast_1d(np.asarray(value, dtype=np.float64)).ravel())
