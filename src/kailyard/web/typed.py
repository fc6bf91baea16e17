"""From the strings of an address or a form to one typed, frozen object; what does not fit is one clear line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import MISSING, Field, fields
from datetime import date
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, get_args, get_origin, get_type_hints

import msgspec

from kailyard.errors import UsageError
from kailyard.web.register import Upload

_Typed = TypeVar("_Typed")
_LONGEST_SHOWN = 40
_EXPECTED: Mapping[Any, str] = {
    int: "a whole number",
    float: "a number",
    date: "a day like 2026-06-12",
    bool: "1 for yes or 0 for no",
    str: "text",
    Upload: "a file",
}


def read(kind: type[_Typed], said: Iterable[tuple[str, Any]]) -> _Typed:
    """`said`, name and value pairs, as `kind`, a frozen dataclass.

    Of a name said twice the last counts, unless the field takes several. A blank value leaves a field at its default.
    A field typed `Mapping[str, str]` takes what is named after it, blanks too: 'cells.length' goes into `cells`.
    Names that `kind` does not have are passed over.

    Raises
    ------
    UsageError
        If a value does not fit its field or a needed one is missing; the line names the field.
    """
    hints = get_type_hints(kind)
    known: dict[str, Field[Any]] = {f.name: f for f in fields(kind)}  # type: ignore[arg-type]  # a dataclass
    values: dict[str, Any] = {}
    for name, value in said:
        field, dot, key = name.partition(".")
        if dot and field in known and _takes_named(hints[field]) and isinstance(value, str):
            values.setdefault(field, {})[key] = value
            continue
        if name not in known or (value == "" and _has_default(known[name])):
            continue
        if _takes_several(hints[name]):
            values.setdefault(name, []).append(value)
        elif isinstance(value, Upload):
            values[name] = {"name": value.name, "content": value.content}
        else:
            values[name] = value
    try:
        return msgspec.convert(values, kind, strict=False)
    except msgspec.ValidationError as err:
        raise UsageError(_told(str(err), values, hints)) from None


def _has_default(field: Field[Any]) -> bool:
    return field.default is not MISSING or field.default_factory is not MISSING


def _takes_named(hint: Any) -> bool:
    return get_origin(hint) is Mapping


def _takes_several(hint: Any) -> bool:
    return get_origin(hint) in (tuple, list)


def _told(complaint: str, values: Mapping[str, Any], hints: Mapping[str, Any]) -> str:
    """msgspec's complaint as a person can mend it."""
    if missing := re.search(r"missing required field `(\w+)`", complaint):
        return f"'{missing[1]}' is missing. Go back and fill it in."
    at = re.search(r"at `\$\.(\w+)", complaint)
    if at is None or at[1] not in hints:
        return f"{complaint}."
    name = at[1]
    shown = str(values.get(name, ""))
    shown = f"{shown[:_LONGEST_SHOWN]}…" if len(shown) > _LONGEST_SHOWN else shown
    shown = f"'{shown}'" if shown.isprintable() else ascii(shown)
    reason = complaint.split(" - at ")[0]
    expected = f"Expected {_words(hints[name])}" if reason.startswith(("Expected `", "Invalid")) else reason
    return f"{name}: {shown} does not fit. {expected}."


def _words(hint: Any) -> str:
    """'a whole number', 'one of done, not yet'."""
    if get_origin(hint) is Literal:
        return f"one of {', '.join(map(str, get_args(hint)))}"
    if get_origin(hint) in (Union, UnionType):
        return " or ".join(_words(part) for part in get_args(hint) if part is not NoneType)
    if _takes_several(hint):
        return _words(get_args(hint)[0])
    if hasattr(hint, "__metadata__"):
        return _words(hint.__origin__)
    return _EXPECTED.get(hint, getattr(hint, "__name__", "something else"))
