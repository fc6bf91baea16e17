"""A crop's facts for a page, and the gardener's own written beside them: checked first, then whole or not at all."""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from threading import Lock
from uuid import uuid4

from kailyard.desk.desk import FACTS_FILE, Desk
from kailyard.desk.shelf import handbook
from kailyard.desk.typed import quantity as typed_quantity
from kailyard.desk.typed import shown
from kailyard.errors import Conflict, FactError, NotFound, UsageError
from kailyard.garden.identifiers import tidy_name
from kailyard.handbook.load import load_handbook
from kailyard.handbook.names import crosses_with
from kailyard.handbook.quantities import Quantity, quantities
from kailyard.handbook.rows import LEG_COLUMNS, read_rows
from kailyard.handbook.types import Citation, Fact, Handbook, Leg
from kailyard.publish.units import number
from kailyard.store.base import StoreError
from kailyard.store.files import sync_folder, write_file

_OPTIONAL = {"from_stage": "", "to_stage": "", "order": "1", "status": "", "source": "", "locator": "", "note": ""}
_PLACE = re.compile(r"^facts\.csv:\d+: ")
_writing = Lock()


@dataclass(frozen=True, slots=True)
class FactRow:
    """One value of a crop as a page shows it."""

    key: str
    """'frost_killed_c', or of a stretch 'sown>emerged>1>base_c'."""
    quantity: str
    value: str
    """With its unit."""
    typed: str
    """As it would be typed."""
    unit: str
    status: str
    sources: tuple[str, ...]
    locator: str
    note: str
    meaning: str
    choices: tuple[str, ...]
    yours: bool
    instead_of: str
    """The handbook's own value where this one is the gardener's; '' where it has none."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Facts that belong together: the crop's own, or those of its way from one stage to another."""

    title: str
    rows: tuple[FactRow, ...]
    yours: bool


@dataclass(frozen=True, slots=True)
class CropFacts:
    """All that is known of one crop."""

    crop: str
    name: str
    stretches: tuple[Stretch, ...]
    sources: tuple[Citation, ...]
    crosses: tuple[str, ...]
    """What it crosses with, in sentences."""
    more: tuple[tuple[str, str, str], ...]
    """Quantities that could be added: name, unit, meaning."""


def crop_facts(desk: Desk, crop: str) -> CropFacts:
    """All that is known of `crop`. NotFound where the handbook has none of that name."""
    book, base = handbook(desk), load_handbook()
    _known(book, crop)
    own = [_row(book, base, fact, name, name) for name, fact in sorted(book.facts[crop].items())]
    stretches = [Stretch("The crop", tuple(own), any(row.yours for row in own))]
    for leg in book.legs.get(crop, ()):
        rows = [_row(book, base, fact, _leg_key(leg, name), name) for name, fact in leg.facts.items()]
        rank = f", choice {leg.order}" if leg.order > 1 else ""
        title = f"{_said(leg.from_stage).capitalize()} to {_said(leg.to_stage)}{rank}"
        stretches.append(Stretch(title, tuple(rows), any(row.yours for row in rows)))
    cited = dict.fromkeys(id_ for stretch in stretches for row in stretch.rows for id_ in row.sources)
    sources = tuple(book.citations[id_] for id_ in cited if id_ in book.citations)
    more = tuple(
        (name, declared.unit, declared.meaning)
        for name, declared in sorted(quantities()["crops"].items())
        if name not in book.facts[crop]
    )
    return CropFacts(
        crop, book.text(crop, "common_name") or crop, tuple(stretches), sources, crosses_with(crop, book).says, more
    )


def set_own_fact(desk: Desk, crop: str, key: str, value: str, *, note: str = "", was: str) -> str:
    """Write the gardener's own value of one fact; a sentence that says so. `was`: the value that the page showed.

    Of a stretch the other values come along with their sources, since own ones take the place of the whole stretch.
    Raises FactError where the value breaks a rule of the handbook, Conflict where it was changed meanwhile.
    """
    with _writing:
        book = handbook(desk)
        _known(book, crop)
        now = _fact(book, crop, key)
        if (_value(now) if now else "") != was:
            raise Conflict("That value was changed meanwhile. Look at it anew; nothing was changed.")
        from_stage, to_stage, order, name = _parts(key)
        text = _read(_declared(key, name), value.strip(), name)
        mine = [crop, from_stage, to_stage, order, name, text, _declared(key, name).unit, "", "", "", tidy_name(note)]
        rows = _own_rows(desk)
        if from_stage:
            rows = [r for r in rows if (r[0], r[1], r[2]) != (crop, from_stage, to_stage)]
            rows += [r for r in _stretch_rows(book, crop, from_stage, to_stage) if (r[3], r[4]) != (order, name)]
        else:
            rows = [r for r in rows if (r[0], r[1], r[4]) != (crop, "", name)]
        _write(desk, [*rows, mine])
    before = f" in place of {_value(now)}" if now else ""
    return (
        f"{_said(name)} of {crop}: yours, {text} {mine[6]}".rstrip() + f"{before}. Yours wins everywhere from now on."
    )


def drop_own_fact(desk: Desk, crop: str, key: str) -> str:
    """Take an own value back, of a stretch all of them; what the handbook says holds again."""
    with _writing:
        from_stage, to_stage, _, name = _parts(key)
        rows = _own_rows(desk)
        kept = [
            r
            for r in rows
            if not (r[0] == crop and r[1] == from_stage and r[2] == to_stage and (from_stage or r[4] == name))
        ]
        if len(kept) == len(rows):
            raise Conflict("There is no value of yours any more. Nothing was changed.")
        _write(desk, kept)
    return f"Yours is taken back: {_said(name)} of {crop} is as the handbook has it."


def _known(book: Handbook, crop: str) -> None:
    if crop not in book.crops:
        near = [c for c in book.crops if crop and c.startswith(crop[:3])]
        hint = f" Did you mean {', '.join(near)}?" if near else ""
        raise NotFound(f"The handbook has no crop {shown(crop)}.{hint}")


def _fact(book: Handbook, crop: str, key: str) -> Fact | None:
    from_stage, to_stage, order, name = _parts(key)
    if not from_stage:
        return book.get(crop, name)
    for leg in book.legs.get(crop, ()):
        if (leg.from_stage, leg.to_stage, f"{leg.order}") == (from_stage, to_stage, order):
            return leg.facts.get(name)
    raise NotFound(f"The handbook knows no way from {_said(from_stage)} to {_said(to_stage)} of {crop}.")


def _row(book: Handbook, base: Handbook, fact: Fact, key: str, name: str) -> FactRow:
    declared = _declared(key, name)
    yours = fact.status == "yours"
    try:
        other = _fact(base, fact.subject, key) if yours else None
    except NotFound:
        other = None
    return FactRow(
        key=key,
        quantity=_said(name),
        value=_value(fact),
        typed=fact.value if isinstance(fact.value, str) else number(fact.value, 6),
        unit=fact.unit,
        status=fact.status,
        sources=tuple(filter(None, (part.strip() for part in fact.source.split(";")))),
        locator=fact.locator,
        note=fact.note,
        meaning=declared.meaning,
        choices=declared.words if declared.kind == "choice" else (),
        yours=yours,
        instead_of=_value(other) if other else "",
    )


def _declared(key: str, name: str) -> Quantity:
    table = quantities()["development" if ">" in key else "crops"]
    if name not in table:
        raise NotFound(f"The handbook has no quantity {shown(name)}.")
    return table[name]


def _read(declared: Quantity, value: str, name: str) -> str:
    """The value as the file has it; a unit may be typed behind a number and is turned into the quantity's own."""
    if not value:
        raise UsageError(f"{_said(name)}: type a value.")
    if declared.kind != "number" or value in declared.words:
        return tidy_name(value)
    bare = value.removesuffix(declared.unit).strip() if declared.unit else value
    found = typed_quantity(bare, declared.unit, "metric", _said(name))
    return f"{found:.6f}".rstrip("0").rstrip(".")


def _own_rows(desk: Desk) -> list[list[str]]:
    """The rows of the gardener's file, in LEG_COLUMNS; FactError where it cannot be read."""
    path = desk.own_facts()
    if path is None:
        return []
    load_handbook(path)
    problems: list[str] = []
    text = path.read_text(encoding="utf-8")
    found = [
        cells
        for _, cells in read_rows(text, file=FACTS_FILE, columns=LEG_COLUMNS, problems=problems, optional=_OPTIONAL)
    ]
    if problems:
        raise FactError(problems)
    return found


def _stretch_rows(book: Handbook, crop: str, from_stage: str, to_stage: str) -> Iterator[list[str]]:
    for leg in book.legs.get(crop, ()):
        if (leg.from_stage, leg.to_stage) != (from_stage, to_stage):
            continue
        for name, f in leg.facts.items():
            value = f.value if isinstance(f.value, str) else f"{f.value:.6f}".rstrip("0").rstrip(".")
            yield [crop, from_stage, to_stage, f"{leg.order}", name, value, f.unit, "", f.source, f.locator, f.note]


def _write(desk: Desk, rows: list[list[str]]) -> None:
    """Put `rows` in the place of the file, after the whole of it has been judged."""
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\n")
    write.writerow(LEG_COLUMNS)
    ordered = sorted(rows, key=lambda row: row[:5])
    write.writerows(ordered)
    try:
        load_handbook(out.getvalue())
    except FactError as err:
        raise FactError([*(_PLACE.sub("", line) for line in err.problems), "Nothing was changed."]) from None
    path = desk.folder / FACTS_FILE
    part = path.with_name(f".{path.name}.{uuid4().hex}")
    try:
        write_file(part, out.getvalue().encode())
        os.replace(part, path)
        sync_folder(path.parent)
    except OSError as err:
        raise StoreError(f"{FACTS_FILE} cannot be written: {err.strerror}. Nothing was changed.") from err
    finally:
        part.unlink(missing_ok=True)


def _leg_key(leg: Leg, name: str) -> str:
    return f"{leg.from_stage}>{leg.to_stage}>{leg.order}>{name}"


def _parts(key: str) -> tuple[str, str, str, str]:
    """From stage, to stage, order and quantity; stages blank for a fact of the crop itself."""
    parts = key.split(">")
    if len(parts) == 4:
        return parts[0], parts[1], parts[2], parts[3]
    return "", "", "1", key


def _value(fact: Fact) -> str:
    return fact.value if isinstance(fact.value, str) else f"{number(fact.value, 4)} {fact.unit}".rstrip()


def _said(name: str) -> str:
    return name.replace("_", " ").replace("-", " ")
