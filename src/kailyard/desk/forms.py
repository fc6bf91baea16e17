"""What a form for an entry shows: an empty one of a kind, or one filled from an entry that is to be put right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, get_args

from kailyard.desk.desk import Desk
from kailyard.desk.entry_words import counted
from kailyard.desk.fill import Field, fields_of
from kailyard.desk.form_field import FormField
from kailyard.desk.record import COMMAND_OF, MORE_STAGES
from kailyard.desk.shelf import handbook
from kailyard.desk.uses import with_uses
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.garden.entries.moisture import Feel
from kailyard.garden.kinds import Kind, is_known, kind, names
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.check import STAGES
from kailyard.handbook.types import Handbook
from kailyard.season.stage_words import words
from kailyard.units import Units, convert, shown_unit


@dataclass(frozen=True, slots=True)
class EntryForm:
    """A form with what stands in it."""

    kind: str
    help: str
    targets: tuple[tuple[str, str], ...]
    """(identifier, name) of what it may be said of; () where it is always the garden."""
    target: str
    units: tuple[str, ...]
    """Units of the amount, the usual first; () where the kind has none."""
    amount: str
    unit: str
    amount_needed: bool
    fields: tuple[FormField, ...]
    text: str
    happened: date
    today: date
    puts_right: str = ""


_AMOUNTS: Mapping[str, tuple[str, ...]] = {"kg": ("kg", "g"), "count": ("pieces", "heads", "bunches")}
_AMOUNTS_US: Mapping[str, tuple[str, ...]] = {**_AMOUNTS, "kg": ("lb", "oz")}
_UNSAID = "not said"
_BLANK_WORDS = {"outlet": "what the bed is watered with"}
"""What a choice that is left blank comes to, where that says something."""
_LABELS = {
    "injury first_seen": "first seen on",
    "injury kinds": "kinds of plants hit, weeds too",
    "injury spared": "kinds beside them that are not, younger plants too",
    "injury beds": "other beds or plantings hit (bed-3, pea-2)",
    "injury edge": "where it is worst, and whether it fades from there",
    "injury amendments": "manure, hay, compost, clippings on them: whose, which lot, when",
    "injury sprayed": "sprayed near by or on the own lawn, as far as known: what, when",
    "injury wind": "the wind as it was felt here",
    "injury share": "part of the plants hit",
    "injury photographs": "photographs: their names",
    "injury reported": "reported on",
    "injury sample_sent": "samples sent on",
    "release by": "who says so",
    "release what": "what was found",
    "work lot": "of manure, hay, straw, compost: whose, which load",
    "found sure": "how sure",
    "found first_seen": "first seen on",
    "sound": "is it sound?",
    "last": "nothing more is to come",
    "hardened": "had they been hardened?",
    "under_cover": "under cover",
    "next_look": "look again on",
    "use": "picked for",
    "what": "what",
    "tmin_c": "lowest",
    "tmax_c": "highest",
    "depth_cm": "depth",
    "feel": "a squeezed handful",
    "outlet": "with",
    "killed": "part of the plants killed",
}


def kinds_to_enter() -> tuple[tuple[str, str], ...]:
    """(name, what it is) of every kind that has no page of its own."""
    return tuple((name, kind(name).help) for name in names() if name not in COMMAND_OF)


def empty_form(desk: Desk, kind_name: str, target: str = "", given: Mapping[str, str] | None = None) -> EntryForm:
    """A form of a kind, of `target` where it may be said of that; `given`: what stands in its fields."""
    if kind_name in COMMAND_OF:
        raise UsageError(f"Entries of kind '{kind_name}' are made on a page of their own.")
    known, garden, book = kind(kind_name), desk.garden(), handbook(desk)
    today = desk.today(garden)
    targets = _targets(known, garden, book)
    target = target if target in dict(targets) else ""
    units = amount_units(known, garden.units)
    made = (_field(known.name, f, garden.units, book, (given or {}).get(f.name, "")) for f in fields_of(known))
    fields = with_uses(tuple(made), garden, book, kind=known.name, target=target)
    needed = known.quantity is not None and known.quantity.needed
    usual = usual_unit(garden, target) if kind_name == "pick" else ""
    unit = usual if usual in units else next(iter(units), "")
    return EntryForm(known.name, known.help, targets, target, units, "", unit, needed, fields, "", today, today)


def filled_form(desk: Desk, entry_id: str) -> EntryForm:
    """A form filled from an entry, to put it right. NotFound, Conflict where that cannot be."""
    entry = desk.store.known([entry_id]).get(entry_id)
    if entry is None:
        raise NotFound("That entry is not in the daybook.")
    if not is_known(entry.kind) or entry.kind in COMMAND_OF:
        raise UsageError(f"An entry of kind '{entry.kind}' is put right where it was made, or withdrawn.")
    if any(e.supersedes == entry.id for e in desk.entries()):
        raise Conflict("That entry has been put right or withdrawn already.")
    garden = desk.garden()
    target = entry.target if entry.target in garden.plantings or entry.target in garden.beds else ""
    made = empty_form(desk, entry.kind, target)
    amount, unit, text = _amount(entry, garden.units)
    fields = tuple(
        replace(
            f, value=_value(f, entry.payload, garden.units), blank=f.blank or _UNSAID * (f.name not in entry.payload)
        )
        for f in made.fields
    )
    return replace(
        made,
        amount=amount,
        unit=unit or made.unit,
        units=made.units if not unit or unit in made.units else (*made.units, unit),
        fields=with_uses(fields, garden, handbook(desk), kind=entry.kind, target=target),
        text=text,
        happened=entry.happened,
        puts_right=entry.id,
    )


def field_names() -> tuple[str, ...]:
    """Every field that a kind of entry with a form has."""
    return tuple(dict.fromkeys(f.name for name, _ in kinds_to_enter() for f in fields_of(kind(name))))


def pick_units(desk: Desk) -> tuple[str, ...]:
    """Units in which a picking may be typed, the usual first."""
    return amount_units(kind("pick"), desk.garden().units)


def amount_units(known: Kind, units: Units) -> tuple[str, ...]:
    """Units in which the quantity of a kind may be typed, the usual first."""
    if known.quantity is None:
        return ()
    more = _AMOUNTS_US if units == "us" else _AMOUNTS
    return tuple(word for unit in known.quantity.units for word in more.get(unit, (shown_unit(unit, units),)))


def usual_unit(garden: Garden, target: str) -> str:
    """In which unit a planting was last picked; else another of its crop; '' where neither was."""
    crop = garden.plantings[target].crop if target in garden.plantings else ""
    alike = {p.id for p in garden.plantings.values() if p.crop == crop}
    picked = [e for e in garden.entries if e.kind == "pick" and e.quantity is not None and e.target in alike]
    picked = [e for e in picked if e.target == target] or picked
    return _amount(picked[-1], garden.units)[1] if picked else ""


def planting_name(planting: Planting, book: Handbook) -> str:
    """'Snap beans ‘Lantern’'."""
    name = book.text(planting.crop, "plain_name") or book.text(planting.crop, "common_name") or planting.crop
    name = name[:1].upper() + name[1:].lower()
    return f"{name} ‘{planting.cultivar}’" if planting.cultivar else name


def bed_name(garden: Garden, planting: Planting) -> str:
    """The bed's own name."""
    return garden.beds[planting.bed].name if planting.bed in garden.beds else planting.bed


def _targets(known: Kind, garden: Garden, book: Handbook) -> tuple[tuple[str, str], ...]:
    found: list[tuple[str, str]] = []
    if "planting" in known.target:
        found += [
            (p.id, f"{planting_name(p, book)}, {bed_name(garden, p)} ({p.id})") for p in garden.plantings.values()
        ]
    if "bed" in known.target:
        found += [(b.id, b.name) for b in garden.beds.values()]
    found.sort(key=lambda pair: pair[1])
    if found and "garden" in known.target:
        found.insert(0, ("", "the whole garden"))
    return tuple(found)


def feels(book: Handbook) -> tuple[tuple[str, str], ...]:
    """(word, how the handful holds) from dry to wet: what a squeezed handful may be found like."""
    return tuple((f, f"{f}: {book.text(f'feel-{f}', 'feel_words')}") for f in get_args(Feel))


def _field(of: str, known: Field, units: Units, book: Handbook, value: str) -> FormField:
    choices: tuple[tuple[str, str], ...] = ()
    takes: str = known.takes
    if known.name == "stage":
        choices, takes = tuple((s, words(s)) for s in (*STAGES, *MORE_STAGES)), "word"
    elif known.name == "feel":
        choices = feels(book)
    elif known.takes == "word":
        choices = tuple((word, word or _BLANK_WORDS.get(known.name, "")) for word in known.words)
    elif known.takes == "yes or no":
        choices = (("yes", "yes"), ("no", "no"))
    unit = "%" if known.takes == "share" else shown_unit(known.unit, units) if known.unit else ""
    plain = _LABELS.get(known.name, "part of the plants" if known.takes == "share" else known.name.replace("_", " "))
    label = _LABELS.get(f"{of} {known.name}", plain)
    blank = "" if known.otherwise in dict(choices) else "choose" if known.needed else _UNSAID
    return FormField(known.name, label, takes, unit, choices, value or known.otherwise, known.needed, blank)


def _amount(entry: Entry, units: Units) -> tuple[str, str, str]:
    """(number, unit, text) as they were typed: '12', 'heads', the rest of the text."""
    if entry.quantity is None:
        return "", "", entry.text
    if amount := counted(entry):
        return amount
    shown, unit = convert(entry.quantity, entry.unit, units)
    return f"{round(shown, 3):g}", unit, entry.text


def _value(known: FormField, payload: Mapping[str, Any], units: Units) -> str:
    value = payload.get(known.name)
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if known.takes == "share":
        return f"{round(float(value) * 100, 3):g}"
    if isinstance(value, float) and (si := {"_c": "°C", "_cm": "cm"}.get(known.name[known.name.rfind("_") :])):
        return f"{round(convert(value, si, units)[0], 3):g}"
    return str(value)
