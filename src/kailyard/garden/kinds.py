"""The register of kinds of entry, and the check that every entry passes before it is kept.

A kind is a module of `kailyard.garden.entries`, its name that of the kind with '-' as '_'. It has

- `NAME`, `VERSION` (1 is the first), `HELP` (one line);
- `TARGET`: which of 'planting', 'bed', 'garden' it may be said of ('garden' is the empty target);
- `PAYLOAD`: a frozen dataclass; its defaults hold where an entry says nothing;
- `QUANTITY`: a `Quantity`, or None where there is none;
- if VERSION is above 1, `upgrade(version, payload) -> payload`: a payload of an older version as one of VERSION;
- if a rule needs the whole entry, `problem(entry, payload) -> str`: '' or what is wrong;
- if its payload speaks of more beds and plantings than its target, `named(payload) -> tuple[str, ...]`: which.

An entry of an unknown kind, from a newer program, is checked for shape only and carried untouched.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta
from difflib import get_close_matches
from functools import cache
from types import ModuleType
from typing import Any

import msgspec

from kailyard import discover
from kailyard.errors import DataError, NotFound
from kailyard.garden.fields import Quantity
from kailyard.garden.identifiers import (
    TEXT_LENGTH,
    entry_id_problem,
    kind_problem,
    name_problem,
    text_problem,
    thing_id_problem,
)
from kailyard.garden.model import Entry

REGISTER = "kailyard.garden.entries"
FIRST_DAY, LAST_DAY = date(1800, 1, 1), date(2199, 12, 31)
"""An entry that says it happened outside of these is taken for a slip of the pen."""
_PAYLOAD_BYTES = 64_000
_PAYLOAD_DEPTH = 8
_WHOLE = 2**53
"""Beyond this a whole number does not survive every JSON reader (RFC 8259, section 6)."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of entry, as its module says."""

    name: str
    version: int
    help: str
    target: tuple[str, ...]
    payload: type[Any]
    quantity: Quantity | None
    module: ModuleType


@cache
def names() -> tuple[str, ...]:
    """Names of all kinds, sorted."""
    return tuple(sorted(name.replace("_", "-") for name in discover.names(REGISTER)))


def is_known(name: str) -> bool:
    """Whether this program knows the kind."""
    return name in names()


@cache
def kind(name: str) -> Kind:
    """The kind called `name`; NotFound names the ones spelt nearly alike."""
    if not is_known(name):
        near = get_close_matches(name, names(), n=3)
        hint = f"Did you mean {' or '.join(near)}?" if near else f"There are: {', '.join(names())}."
        raise NotFound(f"There is no kind of entry '{name}'. {hint}")
    m = discover.module(REGISTER, name.replace("-", "_"))
    return Kind(m.NAME, m.VERSION, m.HELP, m.TARGET, m.PAYLOAD, m.QUANTITY, m)


def make_payload(name: str, /, **values: Any) -> dict[str, Any]:
    """The payload of an entry of kind `name`, checked, as plain JSON values; what is left out has its default.

    Dates may be given as `date`. Raises DataError naming the field.
    """
    known = kind(name)
    try:
        plain = msgspec.json.decode(msgspec.json.encode(values))
    except UnicodeEncodeError:
        raise DataError(
            f"An entry of kind '{name}': its text holds characters that no file can hold; retype it"
        ) from None
    whole = msgspec.json.decode(msgspec.json.encode(_convert(known, plain, f"An entry of kind '{name}'")))
    return {key: value for key, value in whole.items() if key in plain}


def read_payload(entry: Entry) -> Any:
    """The payload of an entry of a known kind as its dataclass, brought up from an older version, defaults filled in.

    Raises DataError where it breaks its kind's rules or a newer program wrote it.
    """
    known = kind(entry.kind)
    return _convert(known, upgraded(known, entry).payload, _where(entry))


def upgraded(known: Kind, entry: Entry) -> Entry:
    """The entry as this program's version of its kind; itself where it is one already."""
    if entry.version == known.version:
        return entry
    if not 1 <= entry.version < known.version:
        raise DataError(
            f"{_where(entry)}: version {entry.version} of '{entry.kind}' is not known here (1 to {known.version}). "
            "It may come from a newer Kailyard: use that one."
        )
    upgrade: Callable[[int, Mapping[str, Any]], Mapping[str, Any]] = known.module.upgrade
    return replace(entry, version=known.version, payload=upgrade(entry.version, entry.payload))


def check_entry(entry: Entry, *, where: str = "") -> None:
    """DataError, one clear line a fault, where the entry is not fit to be kept. `where` begins each line; else its own
    identifier, kind and day do, for one that lies in a store already."""
    problems = _shape_problems(entry)
    if not problems and is_known(entry.kind):
        problems = _kind_problems(kind(entry.kind), entry)
    if problems:
        where = where or _where(entry)
        raise DataError([f"{where}: {problem}" for problem in problems])


def check_target(entry: Entry, *, beds: Collection[str], plantings: Collection[str]) -> None:
    """NotFound where the entry speaks of a bed or planting that is not there, naming those spelt nearly alike.

    Entries that make or change a bed or planting are their own ground and always pass.
    """
    more = getattr(kind(entry.kind).module, "named", None) if is_known(entry.kind) else None
    for name in more(entry.payload) if more else ():
        if name not in beds and name not in plantings:
            near = get_close_matches(name, [*beds, *plantings], n=3)
            hint = f" Did you mean {' or '.join(near)}?" if near else ""
            raise NotFound(f"There is no bed or planting '{name}'.{hint}")
    if not entry.target or entry.kind in ("bed", "planting") or entry.target in beds or entry.target in plantings:
        return
    wanted = kind(entry.kind).target if is_known(entry.kind) else ("planting", "bed")
    there = [*(plantings if "planting" in wanted else ()), *(beds if "bed" in wanted else ())]
    near = get_close_matches(entry.target, there, n=3)
    hint = f" Did you mean {' or '.join(near)}?" if near else ""
    what = " or ".join(word for word in wanted if word != "garden")
    raise NotFound(f"There is no {what} '{entry.target}'.{hint}")


def _where(entry: Entry) -> str:
    short = ascii(entry.id[:40]) if entry_id_problem(entry.id) else entry.id
    return f"Entry {short}" if kind_problem(entry.kind) else f"Entry {short} ({entry.kind}, {entry.happened})"


def _shape_problems(entry: Entry) -> list[str]:
    """What any entry must keep to, of whatever kind."""
    found = [
        entry_id_problem(entry.id),
        kind_problem(entry.kind),
        entry.supersedes and entry_id_problem(entry.supersedes),
        entry.target and thing_id_problem(entry.target),
    ]
    if entry.supersedes == entry.id:
        found.append("it cannot supersede itself")
    if entry.version < 1:
        found.append(f"version {entry.version} is below 1")
    if not FIRST_DAY <= entry.happened <= LAST_DAY:
        found.append(f"happened {entry.happened} lies outside {FIRST_DAY} to {LAST_DAY}")
    if entry.written.utcoffset() != timedelta(0) or entry.written.microsecond:
        found.append(f"written {entry.written.isoformat()} must be in UTC and to the second")
    if entry.quantity is not None and not math.isfinite(entry.quantity):
        found.append("the quantity is not a finite number")
    if entry.quantity is None and entry.unit:
        found.append(f"a unit ({entry.unit!r}) without a quantity")
    for field, text in (("who", entry.who), ("unit", entry.unit)):
        if text and (problem := name_problem(text)):
            found.append(f"{field} {problem}")
    if problem := text_problem(entry.text):
        found.append(f"text {problem}")
    found.append(_json_problem("payload", entry.payload, 0))
    found = [problem for problem in found if problem]
    if not found and len(msgspec.json.encode(entry.payload)) > _PAYLOAD_BYTES:
        found.append(f"the payload is longer than {_PAYLOAD_BYTES} bytes")
    return found


def _json_problem(path: str, value: object, depth: int) -> str:
    """What keeps `value` from coming back out of JSON exactly as it went in."""
    if depth > _PAYLOAD_DEPTH:
        return f"{path} is nested deeper than {_PAYLOAD_DEPTH}"
    if value is None or isinstance(value, bool):
        return ""
    if isinstance(value, str):
        problem = text_problem(value, length=TEXT_LENGTH)
        return problem and f"{path} {problem}"
    if isinstance(value, int):
        return "" if abs(value) <= _WHOLE else f"{path}: whole number beyond ±2^53"
    if isinstance(value, float):
        return "" if math.isfinite(value) else f"{path} is not a finite number"
    if isinstance(value, list):
        return next((p for i, v in enumerate(value) if (p := _json_problem(f"{path}[{i}]", v, depth + 1))), "")
    if isinstance(value, dict):
        for key, item in value.items():
            if not isinstance(key, str) or text_problem(key, length=200):
                return f"{path} has a key that is no plain text: {ascii(key)[:40]}"
            if problem := _json_problem(f"{path}.{key}", item, depth + 1):
                return problem
        return ""
    return f"{path} holds a {type(value).__name__}; only JSON values are kept (a date as '2026-05-03')"


def _kind_problems(known: Kind, entry: Entry) -> list[str]:
    """What the entry's own kind asks of it."""
    found = []
    if not entry.target and "garden" not in known.target:
        found.append(f"it must name the {' or '.join(known.target)} it speaks of")
    if entry.target and known.target == ("garden",):
        found.append(f"it speaks of the whole garden and names no target; '{entry.target}' is given")
    if known.quantity is None:
        if entry.quantity is not None:
            found.append("this kind has no quantity")
    elif entry.quantity is None:
        if known.quantity.needed:
            found.append(f"a quantity in {' or '.join(known.quantity.units)} is needed")
    elif entry.unit not in known.quantity.units:
        found.append(f"the unit {entry.unit!r} is not {' or '.join(known.quantity.units)}")
    elif not known.quantity.low <= entry.quantity <= known.quantity.high:
        span = f"{known.quantity.low:g} to {known.quantity.high:g} {entry.unit}"
        found.append(f"the quantity {entry.quantity:g} lies outside {span}")
    payload = read_payload(entry)
    if (rule := getattr(known.module, "problem", None)) and (problem := rule(entry, payload)):
        found.append(problem)
    return found


def _convert(known: Kind, payload: Mapping[str, Any], where: str) -> Any:
    own = [f.name for f in fields(known.payload)]
    if strange := sorted(set(payload) - set(own)):
        expected = f"it has {', '.join(own)}" if own else "it has none"
        raise DataError(f"{where}: '{known.name}' has no field {', '.join(map(ascii, strange))}; {expected}")
    try:
        return msgspec.convert(dict(payload), known.payload, strict=True)
    except msgspec.ValidationError as err:
        said, _, path = str(err).partition(" - at `$.")
        says = said.replace("`", "").replace("Object missing required field", "missing field")
        raise DataError(f"{where}: {path.rstrip('`') + ': ' if path else ''}{says}") from None
