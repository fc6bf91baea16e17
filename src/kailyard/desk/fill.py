"""Words typed behind a kind of entry, put into its fields: by name, or each into the first field that takes it."""

from __future__ import annotations

import types
from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date
from difflib import get_close_matches
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from kailyard.desk import typed
from kailyard.errors import UsageError
from kailyard.garden.kinds import Kind
from kailyard.units import Units, shown_unit, unit_typed

COUNTED = {
    "seeds": ("seed", "seeds"),
    "cells": ("cell", "cells", "modules"),
    "plants": ("plant", "plants"),
    "pieces": ("piece", "pieces", "sets", "cloves", "tubers", "crowns", "slips"),
    "count": (
        "count", "head", "heads", "fruit", "fruits", "pod", "pods", "ear", "ears", "cob", "cobs", "spear", "spears",
        "bulb", "bulbs", "root", "roots", "bunch", "bunches", "leaf", "leaves", "piece", "pieces",
    ),
}  # fmt: skip
"""What is counted, by the unit under which it is kept."""

FIELD_UNITS = {"_c": "°C", "_mm": "mm", "_cm": "cm", "_m": "m"}


@dataclass(frozen=True, slots=True)
class Field:
    """One field of a kind's payload, as somebody types it."""

    name: str
    takes: Literal["text", "number", "count", "share", "yes or no", "day", "word"]
    unit: str
    words: tuple[str, ...]
    needed: bool
    otherwise: str = ""
    """The word that holds where nothing is said."""

    def read(self, text: str, units: Units, today: date) -> Any:
        """`text` as the field's value; UsageError where it is none."""
        if self.takes == "number":
            return typed.quantity(text, self.unit, units, self.name)
        if self.takes == "count":
            return typed.count(text, self.name)
        if self.takes == "share":
            return typed.share(text, self.name)
        if self.takes == "yes or no":
            return typed.yes_or_no(text, self.name)
        if self.takes == "day":
            return typed.day(text, today, self.name)
        if self.takes == "word":
            plain = text.lower().replace("-", " ").replace("_", " ")
            for word in self.words:
                if plain == word.replace("-", " "):
                    return word
            raise UsageError(f"{self.name}: {typed.shown(text)} is none of {', '.join(self.words)}.")
        return text

    def says(self, units: Units) -> str:
        """What to type: 'share (70% or 0.7)'."""
        takes = {
            "text": "a word or words in quotes" if self.name != "stage" else "first-flower, emerged, ...",
            "number": f"a number of {shown_unit(self.unit, units)}" if self.unit else "a number",
            "count": "a whole number",
            "share": "70% or 0.7",
            "yes or no": "yes or no",
            "day": "2026-06-12",
            "word": ", ".join(word for word in self.words if word),
        }[self.takes]
        return f"{self.name.replace('_', '-')}{'' if self.needed else '?'} ({takes})"


@dataclass(frozen=True, slots=True)
class Filled:
    """What the words came to."""

    payload: dict[str, Any]
    quantity: float | None
    unit: str
    counted: str
    """'12 heads': what was counted, where the unit alone does not say it."""


@cache
def fields_of(kind: Kind) -> tuple[Field, ...]:
    """The fields of a kind's payload, in order."""
    hints = get_type_hints(kind.payload, include_extras=True)
    made = [(f, _field(f.name, hints[f.name], f.default is f.default_factory)) for f in fields(kind.payload)]
    return tuple(
        replace(m, otherwise=f.default) if m.takes == "word" and isinstance(f.default, str) else m for f, m in made
    )


def fill(kind: Kind, words: Sequence[str], *, units: Units, today: date) -> Filled:
    """The payload and quantity that `words` say.

    `name=value` fills the field of that name. Any other word is the quantity where the kind has one and the word is a
    number fit for it; the name of a yes-or-no field says yes; else the first field still open that takes it
    gets it, one for free text last.

    Raises
    ------
    UsageError
        Naming the word and what is still open, where none takes it, and where a needed field gets none.
    """
    open_ = {field.name: field for field in fields_of(kind)}
    found: dict[str, Any] = {}
    amount: tuple[float, str, str] | None = None
    waiting = list(words)
    while waiting:
        word = waiting.pop(0)
        name = _named(kind, word)
        value = word.partition("=")[2]
        if name in found or (name == "quantity" and amount is not None):
            raise UsageError(f"enter {kind.name}: '{name}' is given twice.")
        if name == "quantity":
            amount = _needed_amount(kind, value, units)
        elif name:
            found[name] = open_.pop(name).read(value, units, today)
        elif amount is None and (taken := _amount(kind, word, waiting, units)) is not None:
            amount = taken
        else:
            name, read = _first_taker(kind, open_, word, units, today)
            found[name] = read
            del open_[name]
    lacking = [field for field in open_.values() if field.needed]
    if lacking:
        raise UsageError(f"enter {kind.name}: say {'; '.join(field.says(units) for field in lacking)}.")
    if amount is None and kind.quantity is not None and kind.quantity.needed:
        raise UsageError(f"enter {kind.name}: say how much, a number of {_amount_says(kind, units)}.")
    quantity, unit, counted = amount or (None, "", "")
    return Filled(found, quantity, unit, counted)


def kind_says(kind: Kind, units: Units) -> str:
    """What to type behind a kind's name and target."""
    parts = [field.says(units) for field in fields_of(kind)]
    if kind.quantity is not None:
        parts.insert(0, f"how much{'' if kind.quantity.needed else '?'} ({_amount_says(kind, units)})")
    return "; ".join(parts)


def _named(kind: Kind, word: str) -> str:
    """The field (or 'quantity') that `name=value` names; '' where the word names none."""
    name, equals, _ = word.partition("=")
    name = name.replace("-", "_")
    known = [field.name for field in fields_of(kind)] + ["quantity"] * (kind.quantity is not None)
    if not equals or name in known:
        return name if equals else ""
    if near := get_close_matches(name, known, n=1):
        hint = near[0].replace("_", "-")
        raise UsageError(f"enter {kind.name}: there is no field {typed.shown(name)}. Did you mean {hint}=?")
    return ""


def _first_taker(kind: Kind, open_: dict[str, Field], word: str, units: Units, today: date) -> tuple[str, Any]:
    """The field that a bare word goes to, and its value there."""
    plain = word.lower().replace("-", "_")
    for name, says in ((plain, True), (plain.removeprefix("not_"), False)):
        if name in open_ and open_[name].takes == "yes or no":
            return name, says
    refused = []
    for field in sorted(open_.values(), key=lambda field: field.takes == "text"):
        try:
            return field.name, field.read(word, units, today)
        except UsageError as err:
            refused.append(str(err))
    if not refused:
        takes = kind_says(kind, units) or "nothing but its target"
        raise UsageError(f"enter {kind.name}: {typed.shown(word)} is a word too many; it takes {takes}.")
    if len({field.takes for field in open_.values()}) == 1:
        raise UsageError(f"enter {kind.name}: {refused[0]}")
    still = "; ".join(field.says(units) for field in open_.values())
    raise UsageError(f"enter {kind.name}: {typed.shown(word)} fits nothing that is still open: {still}.")


def _amount(kind: Kind, word: str, waiting: list[str], units: Units) -> tuple[float, str, str] | None:
    """The quantity that `word` says, or None; the word after it is taken from `waiting` where that is its unit."""
    parts = typed.split_number(word)
    if parts is None or kind.quantity is None:
        return None
    if not parts[1] and waiting and _unit_for(kind, waiting[0], units) is not None:
        return _needed_amount(kind, f"{word} {waiting.pop(0)}", units)
    if parts[1] and _unit_for(kind, parts[1], units) is None:
        return None
    return _needed_amount(kind, word, units)


def _needed_amount(kind: Kind, text: str, units: Units) -> tuple[float, str, str]:
    assert kind.quantity is not None
    parts = typed.split_number(text)
    if parts is None:
        raise UsageError(f"quantity: {typed.shown(text)} is no amount. Write it like {_amount_says(kind, units)}.")
    number, word = parts
    if not word:
        measured = [unit for unit in kind.quantity.units if unit not in COUNTED]
        if measured and len(kind.quantity.units) > 1:
            raise UsageError(f"enter {kind.name}: {typed.shown(text)} of what? Write {_amount_says(kind, units)}.")
        unit = kind.quantity.units[0]
        return (typed.quantity(text, unit, units, "quantity") if measured else number), unit, ""
    unit_for = _unit_for(kind, word, units)
    if unit_for is None:
        raise UsageError(f"quantity: {typed.shown(text)} is no amount. Write it like {_amount_says(kind, units)}.")
    if unit_for in COUNTED:
        counted = f"{number:g} {word}" if unit_for == "count" and word != "count" else ""
        return number, unit_for, counted
    return typed.quantity(text, unit_for, units, "quantity"), unit_for, ""


def _unit_for(kind: Kind, word: str, units: Units) -> str | None:
    """The unit of the kind's quantity that `word` names or can be turned into."""
    assert kind.quantity is not None
    for unit in kind.quantity.units:
        if word.lower() in COUNTED.get(unit, ()):
            return unit
        if unit not in COUNTED and unit_typed(word) is not None:
            try:
                typed.quantity(f"0 {word}", unit, units, "quantity")
            except UsageError:
                continue
            return unit
    return None


def _amount_says(kind: Kind, units: Units) -> str:
    assert kind.quantity is not None
    like = {"kg": "1.2kg", "count": "12 heads", "mm": "7mm", "°C": "14C"}
    if units == "us":
        like = {"kg": "2.5lb", "count": "12 heads", "mm": "0.3in", "°C": "57F"}
    return " or ".join(like.get(unit, f"12 {unit}") for unit in kind.quantity.units)


def _field(name: str, hint: Any, needed: bool) -> Field:
    """A field from its annotation: `Annotated[float, Meta(ge=0, le=1)] | None` is a share."""
    marks: list[Any] = []
    while True:
        if get_origin(hint) is Annotated:
            hint, *more = get_args(hint)
            marks += more
        elif get_origin(hint) in (Union, types.UnionType):
            hint = next(arg for arg in get_args(hint) if arg is not type(None))
        else:
            break
    if get_origin(hint) is Literal:
        return Field(name, "word", "", tuple(map(str, get_args(hint))), needed)
    if hint is float:
        if any((getattr(mark, "ge", None), getattr(mark, "le", None)) == (0.0, 1.0) for mark in marks):
            return Field(name, "share", "", (), needed)
        unit = next((unit for ending, unit in FIELD_UNITS.items() if name.endswith(ending)), "")
        return Field(name, "number", unit, (), needed)
    takes: dict[Any, Literal["yes or no", "count", "day", "text"]] = {bool: "yes or no", int: "count", date: "day"}
    return Field(name, takes.get(hint, "text"), "", (), needed)
