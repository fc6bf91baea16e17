"""Label records: what stands on the labels of products that the gardener owns, typed off them, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.handles import handles, undo
from kailyard.documents.table import Table
from kailyard.errors import NotFound, UsageError
from kailyard.garden.entries.label import MAY_BE_SILENT, Label
from kailyard.garden.identifiers import tidy_name
from kailyard.publish.units import figure
from kailyard.troubles.cautions import LABEL as CAUTIONS
from kailyard.troubles.checks.rotation import unread
from kailyard.troubles.label import Record, records
from kailyard.units import Units

COLUMNS = ("what", "on the label")
FIELDS: Mapping[str, tuple[str, str]] = {
    "active": ("active ingredient", "as printed: potassium bicarbonate"),
    "registered_in": ("registered in", "the state or country whose number it carries"),
    "number": ("registration number", "or exempt, where it says so"),
    "crops": ("crops", "commas between: zucchini, cucumber"),
    "sites": ("sites", "home garden, vegetable garden, lawn, ornamentals, farms"),
    "troubles": ("troubles", "commas between: powdery mildew, rust"),
    "rate": ("rate", "3 g/L, 20 mL/L, 2 fl oz/gal, 0.25 mL/m², or spray to wet"),
    "days": ("days to picking", "0 where it says 'up to the day'; by crop: tomato=0, lettuce=1"),
    "entry": ("going in again", "24 h, or until dry, or both with a comma"),
    "most_uses": ("most uses in a season", "none where it names none"),
    "interval": ("least days between uses", "none where it names none"),
    "temp_max": ("not above", "32C; none where it names none"),
    "temp_min": ("not below", "10C; none where it names none"),
    "rain_free": ("hours without rain", "none where it names none"),
    "wind_max": ("not in more wind than", "16 km/h; none where it names none"),
    "water": ("distance to water", "8m; none where it names none"),
    "gaps": ("days to other actives", "oil: after 30, before 30; captan: before 14; or none"),
    "bees": ("what it says of bees", "in its words; none where it says nothing"),
    "group": ("group", "FRAC M02, IRAC 11A, HRAC 4; none where it names none"),
    "photograph": ("photograph", "name of the picture of the label"),
    "organic": ("listed as organic", "yes or no"),
}
"""What is typed of a label: how it is called, and what to write."""
_SILENT = {
    "most_uses": "most_uses", "interval": "least_interval_days", "temp_max": "temp_max_c", "temp_min": "temp_min_c",
    "rain_free": "rain_free_hours", "wind_max": "wind_max_m_s", "water": "water_m", "gaps": "gaps", "bees": "bees",
    "group": "group",
}  # fmt: skip
_GAP = re.compile(r"(after|before)\s+(\d+)")
_GALLON_L, _FLOZ_ML, _OUNCE_G, _1000_FT2_M2 = 3.785411784, 29.5735295625, 28.349523125, 92.90304
"""US gallon, fluid ounce, ounce, and 1000 square feet, by definition."""
_RATE_UNITS: Mapping[str, tuple[str, float]] = {
    "ml/l": ("mL/L", 1.0),
    "g/l": ("g/L", 1.0),
    "ml/m²": ("mL/m²", 1.0),
    "g/m²": ("g/m²", 1.0),
    "floz/gal": ("mL/L", _FLOZ_ML / _GALLON_L),
    "tbsp/gal": ("mL/L", _FLOZ_ML / 2 / _GALLON_L),
    "tsp/gal": ("mL/L", _FLOZ_ML / 6 / _GALLON_L),
    "oz/gal": ("g/L", _OUNCE_G / _GALLON_L),
    "floz/1000sqft": ("mL/m²", _FLOZ_ML / _1000_FT2_M2),
    "oz/1000sqft": ("g/m²", _OUNCE_G / _1000_FT2_M2),
    "lb/1000sqft": ("g/m²", 16 * _OUNCE_G / _1000_FT2_M2),
}
"""As labels print rates, and what they come to. 'oz' is a weight: a fluid ounce is 'fl oz'."""
_HOTTEST_C, _WARMEST_FLOOR_C = 45.0, 30.0
"""No label's limits of temperature lie above these: such a figure was meant in °F. (ours)"""


def label(desk: Desk, name: str | None, given: Mapping[str, str], *, on: str | None = None) -> Table:
    """All label records, one of them, or one written anew where something of it is given."""
    if name is None:
        if given:
            raise UsageError("Which label? Name it first: `kailyard label Mealmute --days 0`.")
        return labels(desk)
    if given.get("remove"):
        return put_aside(desk, name)
    return set_label(desk, name, given, on=on) if given else one_label(desk, name)


def labels(desk: Desk) -> Table:
    """Every label record."""
    rows = tuple(
        (r.label.name, r.label.active, ", ".join(r.label.crops), _days(r.label), "; ".join(lacking(r.label)))
        for _, r in sorted(records(desk.garden().entries).items())
    )
    notes = ("Without a label record nothing is ever allowed: `kailyard label NAME --active ... --crops ...`.",)
    return Table("Labels", ("name", "active", "crops", "days to picking", "still to be read"), rows, notes)


def one_label(desk: Desk, name: str) -> Table:
    """One record, every fact of it, with what the handbook says of its active ingredient under it."""
    garden = desk.garden()
    record = known_label(records(garden.entries), name)
    shown = typed_of(record.label, garden.units)
    rows = tuple((FIELDS[key][0], shown[key] or "not read yet") for key in FIELDS)
    return Table(f"Label ‘{record.label.name}’", COLUMNS, rows, (*_beside(record), *CAUTIONS))


def known_label(found: Mapping[str, Record], name: str) -> Record:
    """The record of that name; NotFound says that nothing is allowed without one."""
    if name.casefold() in found:
        return found[name.casefold()]
    there = ", ".join(r.label.name for r in found.values()) or "none"
    raise NotFound(
        f"There is no label record {typed.shown(name)}, and without one nothing is allowed. There are: {there}. "
        "Read the label and type it: `kailyard label NAME --active ... --crops ... --days ...`."
    )


def set_label(
    desk: Desk, name: str, given: Mapping[str, str], *, on: str | None = None, id_: str | None = None
) -> Table:
    """Write a record, or change what is given of it; the old entry is superseded and stays in the daybook."""
    garden = desk.garden()
    happened = typed.past_day(on, desk.today(garden), "--on")
    name = tidy_name(name)
    old = records(garden.entries).get(name.casefold())
    payload = label_payload(old.label if old else None, name, given, garden.units)
    entry = desk.entry("label", happened=happened, payload=payload, supersedes=old.entry if old else "", id_=id_)
    desk.keep([entry])
    made = one_label(desk, name)
    still = lacking(records(desk.garden().entries)[name.casefold()].label)
    notes = (f"Still to be read off the label: {'; '.join(still)}.",) if still else ()
    return Table(
        made.title, made.columns, made.rows, (*notes, *made.notes, undo(handles(desk).of(entry), was=old is not None))
    )


@dataclass(frozen=True, slots=True)
class FieldOf:
    """One fact of a label in a form."""

    key: str
    called: str
    hint: str
    value: str


@dataclass(frozen=True, slots=True)
class LabelForm:
    """Every label, and the form of one."""

    name: str
    """'' for a new one."""
    rows: tuple[tuple[str, ...], ...]
    """Name, active ingredient, crops, days to picking, what is still to be read."""
    fields: tuple[FieldOf, ...]
    beside: tuple[str, ...]
    """What the handbook says of the active ingredient; it permits nothing."""
    cautions: tuple[str, ...]


def label_form(desk: Desk, name: str = "") -> LabelForm:
    """The form of a record, or of a new one; NotFound where there is none of that name."""
    garden = desk.garden()
    found = records(garden.entries)
    record = known_label(found, name) if name else None
    shown = typed_of(record.label, garden.units) if record else {}
    fields = tuple(FieldOf(key, called, hint, shown.get(key, "")) for key, (called, hint) in FIELDS.items())
    called = record.label.name if record else ""
    return LabelForm(called, labels(desk).rows, fields, _beside(record) if record else (), CAUTIONS)


def put_aside(desk: Desk, name: str) -> Table:
    """The product is gone; what was put on by it is still held by its label."""
    garden = desk.garden()
    old = known_label(records(garden.entries), name)
    payload = {k: v for k, v in _plain(old.label).items() if v not in (None, "", (), [], {})} | {"removed": True}
    entry = desk.entry("label", happened=desk.today(garden), payload=payload, supersedes=old.entry)
    desk.keep([entry])
    return Table(f"Label ‘{old.label.name}’ is put aside", notes=(undo(handles(desk).of(entry), was=True),))


def label_payload(old: Label | None, name: str, given: Mapping[str, str], units: Units) -> dict[str, Any]:
    """The whole of a record from what there is and what is typed. A blank takes a fact back to 'not read yet'."""
    if strange := sorted(set(given) - set(FIELDS)):
        raise UsageError(f"A label has no field {typed.shown(strange[0])}.")
    payload: dict[str, Any] = {k: v for k, v in _plain(old).items() if v is not None} if old else {}
    payload |= {"name": name}
    silent = set(payload.pop("none_stated", ()))
    for key, text in given.items():
        said = " ".join(text.split())
        field = _SILENT.get(key, "")
        silent.discard(field)
        for dropped in _fields_of(key):
            payload.pop(dropped, None)
        if said.casefold() == "none" and field:
            silent.add(field)
        elif said:
            payload |= _read(key, said, units)
    payload["none_stated"] = sorted(silent)
    return payload


def _fields_of(key: str) -> tuple[str, ...]:
    return {
        "rate": ("rate", "rate_unit"),
        "days": ("days_to_picking", "days_by_crop"),
        "entry": ("entry_hours", "until_dry"),
    }.get(key, (_SILENT.get(key, key),))


def _read(key: str, said: str, units: Units) -> dict[str, Any]:
    what = FIELDS[key][0]
    if key in ("crops", "sites", "troubles"):
        return {key: [word for part in said.split(",") if (word := tidy_name(part).lower())]}
    if key == "rate":
        return _rate(said)
    if key == "days":
        return _picking(said)
    if key == "entry":
        return _entry(said)
    if key in ("most_uses", "interval"):
        return {_SILENT[key]: typed.count(said.removesuffix("days").strip(), what)}
    if key in ("temp_max", "temp_min"):
        return {_SILENT[key]: _limit(key, typed.quantity(said, "°C", units, what))}
    if key == "rain_free":
        return {
            "rain_free_hours": typed.quantity(said.removesuffix("hours").removesuffix("h").strip(), "", units, what)
        }
    if key == "wind_max":
        return {"wind_max_m_s": round(typed.quantity(said, "m/s", units, what), 3)}
    if key == "water":
        return {"water_m": round(typed.quantity(said, "m", units, what), 2)}
    if key == "gaps":
        return {"gaps": [_gap(part) for part in said.split(";") if part.strip()]}
    if key == "organic":
        return {"organic": typed.yes_or_no(said, what)}
    return {key: said}


def _rate(said: str) -> dict[str, Any]:
    if said.casefold() == "spray to wet":
        return {"rate_unit": "spray to wet"}
    parts = typed.split_number(said)
    unit = re.sub(r"per|\.|\s", lambda m: "/" if m[0] == "per" else "", parts[1].casefold()) if parts else ""
    unit = unit.replace("gallon", "gal").replace("ft2", "sqft").replace("ft²", "sqft").replace("m2", "m²")
    if parts is None or unit not in _RATE_UNITS:
        raise UsageError(f"rate: {typed.shown(said)} is no rate. Write it as the label has it: {FIELDS['rate'][1]}.")
    name, times = _RATE_UNITS[unit]
    return {"rate": float(f"{parts[0] * times:.6g}"), "rate_unit": name}


def _limit(key: str, temp_c: float) -> float:
    most = _HOTTEST_C if key == "temp_max" else _WARMEST_FLOOR_C
    if temp_c > most:
        raise UsageError(
            f"{FIELDS[key][0]}: {temp_c:g} °C is more than any label's limit. A limit in Fahrenheit is typed 90F."
        )
    return temp_c


def _picking(said: str) -> dict[str, Any]:
    if "*" in said:
        raise UsageError(
            "days to picking: '*' is no number of days; read what the mark on the label stands for and type that, or "
            "leave it blank: then picking is unknown."
        )
    if "=" not in said:
        return {"days_to_picking": typed.count(said.removesuffix("days").strip(), "days to picking")}
    by_crop = {}
    for part in said.split(","):
        crop, equals, days = part.partition("=")
        if not equals:
            raise UsageError(f"days to picking: {typed.shown(part.strip())}: write every crop with its days, tomato=0.")
        by_crop[tidy_name(crop).lower()] = typed.count(days.strip(), f"days to picking of {crop.strip()}")
    return {"days_by_crop": by_crop}


def _entry(said: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for part in said.split(","):
        word = part.strip().casefold()
        if word == "until dry":
            found["until_dry"] = True
            continue
        parts = typed.split_number(word)
        if parts is None or parts[1] not in ("", "h", "hours", "hour"):
            raise UsageError(f"going in again: {typed.shown(part.strip())} is no time. Write 24 h, or until dry.")
        found["entry_hours"] = parts[0]
    return found


def _gap(part: str) -> dict[str, Any]:
    other, colon, days = part.partition(":")
    found = dict(_GAP.findall(days.casefold()))
    if not colon or not found:
        raise UsageError(f"days to other actives: {typed.shown(part.strip())}: write oil: after 30, before 30.")
    return {"other": tidy_name(other).lower(), **{f"{way}_other": int(n) for way, n in found.items()}}


def typed_of(label: Label, units: Units) -> dict[str, str]:
    """A record as it would be typed again; '' is 'not read yet'."""
    entry = [f"{label.entry_hours:g} h"] if label.entry_hours is not None else []
    gaps = "; ".join(
        f"{g.other}: "
        + ", ".join(f"{w} {d}" for w, d in (("after", g.after_other), ("before", g.before_other)) if d is not None)
        for g in label.gaps
    )
    rate = f"{label.rate:g} {label.rate_unit}" if label.rate else label.rate_unit
    shown = {
        "active": label.active,
        "registered_in": label.registered_in,
        "number": label.number,
        "crops": ", ".join(label.crops),
        "sites": ", ".join(label.sites),
        "troubles": ", ".join(label.troubles),
        "rate": rate,
        "days": _days(label),
        "entry": ", ".join([*entry, *(["until dry"] if label.until_dry else [])]),
        "most_uses": "" if label.most_uses is None else str(label.most_uses),
        "interval": "" if label.least_interval_days is None else str(label.least_interval_days),
        "temp_max": "" if label.temp_max_c is None else figure(label.temp_max_c, "°C", units, 1),
        "temp_min": "" if label.temp_min_c is None else figure(label.temp_min_c, "°C", units, 1),
        "rain_free": "" if label.rain_free_hours is None else f"{label.rain_free_hours:g}",
        "wind_max": "" if label.wind_max_m_s is None else f"{label.wind_max_m_s * 3.6:.1f} km/h",
        "water": "" if label.water_m is None else figure(label.water_m, "m", units, 1),
        "gaps": gaps,
        "bees": label.bees,
        "group": label.group,
        "photograph": label.photograph,
        "organic": "" if label.organic is None else "yes" if label.organic else "no",
    }
    return {k: "none" if _SILENT.get(k, "") in label.none_stated and not v else v for k, v in shown.items()}


def lacking(label: Label) -> tuple[str, ...]:
    """What of a label nobody has typed yet, and without which nothing is allowed."""
    shown = typed_of(label, "metric")
    if label.group and unread(label.group):
        shown["group"] = ""  # the check could not tell what is changed for what
    return tuple(FIELDS[k][0] for k in FIELDS if not shown[k] and k not in ("photograph", "organic"))


def _days(label: Label) -> str:
    by_crop = [f"{crop}={days}" for crop, days in label.days_by_crop.items()]
    return ", ".join([*([] if label.days_to_picking is None else [str(label.days_to_picking)]), *by_crop])


def _beside(record: Record) -> tuple[str, ...]:
    """What the handbook says of the active ingredient: warnings, and leave for nothing."""
    if record.remedy is None:
        return ("The handbook knows nothing of this active ingredient: the label alone speaks.",)
    fields = ("crop_cautions", "incompatible", "applicator_cautions")
    facts = [f for n in fields if (f := record.remedy.facts.get(n)) is not None]
    said = [f"{f.value[0].upper()}{f.value[1:]} ({f.status})." for f in facts]
    return (f"The handbook warns of {record.remedy.name}, and permits nothing:", *said)


def _plain(label: Label) -> dict[str, Any]:
    """A record as its payload, lists and mappings plain."""
    made = asdict(label)
    made["gaps"] = [{k: v for k, v in g.items() if v is not None} for g in made["gaps"]]
    if set(made["none_stated"]) - set(MAY_BE_SILENT):
        raise AssertionError("a kept label was checked when it came in")
    return made
