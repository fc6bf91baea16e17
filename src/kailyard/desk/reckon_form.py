"""The reckoner as a form: what it asks for, and its answer in words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kailyard.desk.reckon import named, reckon, typed
from kailyard.desk.reckon_words import span
from kailyard.documents.table import Table
from kailyard.publish.reckoned import figure, numbers
from kailyard.science.reckon import Choice, Quantity, Reckoner, reckoners


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


def names() -> list[str]:
    """Every formula's name."""
    return [each.name for each in reckoners()]


def described() -> tuple[Method, ...]:
    """Every formula, by the part of the science it belongs to."""
    return tuple(_described(each) for each in reckoners())


def describe(name: str) -> Method:
    """One formula by its name; NotFound names those spelt nearly alike."""
    return _described(named(name))


def answered(name: str, words: Sequence[str]) -> Table:
    """What `reckon` answers, as rows of how ('gives', 'from', 'taken'), name, value and unit."""
    found = reckon(name, words)
    rows = [("gives", each.name, _words(each.value), each.unit) for each in found.results]
    rows += [
        ("taken" if each.how == "default" else "from", each.name, _words(each.value), each.unit)
        for each in found.inputs
        if each.value is not None
    ]
    return Table(found.says, ("", "name", "value", "unit"), tuple(rows))


def _words(value: float | str | tuple[float | None, ...] | None) -> str:
    return ", ".join(map(figure, numbers(value)))


def _described(found: Reckoner) -> Method:
    asked = tuple(
        Asked(
            name=each.name,
            takes=span(each),
            choices=each.kind.words if isinstance(each.kind, Choice) else (),
            series=isinstance(each.kind, Quantity) and each.kind.series,
            needed=each.required,
            example=typed(found.example[each.name]) if each.name in found.example else "",
            otherwise="" if each.required else "left out" if each.default is None else typed(each.default),
        )
        for each in found.inputs
    )
    gives = ", ".join(f"{key} [{unit}]" if unit else key for key, unit in found.gives.items())
    about = found.module.replace("_", " ")
    return Method(found.name, about, found.summary, gives, found.source, found.status, asked)
