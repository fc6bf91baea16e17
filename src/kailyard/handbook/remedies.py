"""Remedies by active ingredient or practice, rules for spraying, the course of troubles. No product names.

Loaded when first asked for. Nothing here is permission: a rate, a crop or a waiting time comes from the label in hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache, partial
from types import MappingProxyType
from typing import Literal, cast, get_args

from kailyard.errors import DataError, NotFound
from kailyard.handbook.whole_tables import read_table

Kind = Literal["prevention", "hand", "barrier", "biological", "product"]
LimitOf = Literal["", "burn", "effect", "vapour", "heat"]
FOLDER = "remedies"
_rows_of = partial(read_table, FOLDER)
_NUMBERS = (
    "temp_max_c", "temp_min_c", "oil_sulfur_gap_min_days", "oil_sulfur_gap_max_days", "repeat_min_days",
    "repeat_max_days", "phi_min_days", "phi_max_days", "rei_min_hours", "rei_max_hours", "rainfast_min_hours",
    "rainfast_max_hours",
)  # fmt: skip
_STANDS_FOR = {
    "temp_max_c": "temp_max_c", "temp_min_c": "temp_min_c", "oil_sulfur_gap_min_days": "min_gap_days",
    "oil_sulfur_gap_max_days": "min_gap_days", "repeat_min_days": "min_gap_days", "repeat_max_days": "min_gap_days",
    "phi_min_days": "phi_days", "phi_max_days": "phi_days", "rei_min_hours": "rei_hours", "rei_max_hours": "rei_hours",
    "rainfast_min_hours": "rainfast_hours", "rainfast_max_hours": "rainfast_hours", "bee_class": "bee_class",
}  # fmt: skip
"""The value whose mark and source a number shares: numbers are read off those texts."""


@dataclass(frozen=True, slots=True)
class Said:
    """One value about one remedy, with its mark."""

    field: str
    value: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Remedy:
    """One practice or active ingredient."""

    id: str
    name: str
    kind: Kind
    needs_label: bool
    """Nothing may be put on without a label record."""
    advised: bool
    why_not: str
    """Why it is never advised; ''."""
    classes: frozenset[str]
    """'oil', 'sulfur', 'copper', 'fungicide', 'auxin', ...: what gaps and rules speak of."""
    label_words: tuple[str, ...]
    """What labels call the active ingredient."""
    bee_class: str
    numbers: Mapping[str, float]
    """By column; what is not known is not there. Numbers seen on labels prompt the reader and permit nothing."""
    limit_of: LimitOf
    """What its highest temperature is a limit of: leaf burn, effect, vapour, or heat under a cover."""
    status: str
    facts: Mapping[str, Said]
    """By field: 'targets', 'action', 'crop_cautions', 'incompatible', 'applicator_cautions', ..."""

    def number(self, name: str) -> float | None:
        """A number, or None where nothing is known."""
        return self.numbers.get(name)

    def ground(self, name: str) -> Said | None:
        """The value that a number or field rests on."""
        return self.facts.get(_STANDS_FOR.get(name, name))

    def said(self, name: str) -> str:
        """A value in words; ''."""
        found = self.facts.get(name)
        return found.value if found else ""


@dataclass(frozen=True, slots=True)
class SprayRule:
    """One condition for spraying."""

    id: str
    topic: str
    variable: str
    test: str
    low: float | None
    high: float | None
    unit: str
    verdict: str
    note: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Gap:
    """Days to keep between two classes, in either order; None: not known, the label says."""

    one: str
    other: str
    days: float | None
    says: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Course:
    """How a trouble goes on, and what of it lies in this season and the next."""

    trouble: str
    remove: str
    """'plants': they go at once; 'plants or parts': sitting in single parts at first, where cutting slows it; ''."""
    lives_in_soil: bool
    away_years: tuple[float, float] | None
    """Years before its hosts come back to the bed; None where keeping away does not help or is not known."""
    away_status: str
    codes: tuple[str, ...]
    """Codes by which seed firms name resistance to it."""
    code_status: str
    timing: str
    left_alone: str
    cultural: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Code:
    """A resistance code of the seed trade."""

    code: str
    pest: str
    crops: str
    meaning: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Bloom:
    """When the flowers of some crops are open, and who is in them."""

    crop_begins: str
    opens: str
    shuts_hours_after_sunrise: float
    who: str
    says: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Against:
    """A remedy set against a trouble."""

    remedy: str
    says: str
    """What to do, in words of this trouble's own; '' where the remedy's own do."""
    note: str
    status: str


def _number(text: str) -> float | None:
    return float(text) if text else None


def words_of(cell: str) -> tuple[str, ...]:
    """The words of a cell that holds several: 'sown; raised'."""
    return tuple(word for word in cell.split("; ") if word)


@cache
def _sources() -> Mapping[str, str]:
    return MappingProxyType({r[0]: r[1] for r in _rows_of("sources.csv", ("id", "text"))})


@cache
def remedies() -> Mapping[str, Remedy]:
    """Every remedy by its id."""
    facts: dict[str, dict[str, Said]] = {}
    for id_, field, value, status, source in _rows_of("facts.csv", ("id", "field", "value", "status", "source")):
        facts.setdefault(id_, {})[field] = Said(field, value, status, _sources()[source])
    columns = (
        "id", "name", "kind", "needs_label", "advised", "why_not", "classes", "label_words", *_NUMBERS[:10],
        "bee_class", *_NUMBERS[10:], "limit_of", "status",
    )  # fmt: skip
    found: dict[str, Remedy] = {}
    for cells in _rows_of("remedies.csv", columns):
        row = dict(zip(columns, cells, strict=True))
        if row["kind"] not in get_args(Kind) or row["limit_of"] not in get_args(LimitOf):
            raise DataError(f"remedies/remedies.csv: {row['id']}: kind or limit_of is none of ours.")
        found[row["id"]] = Remedy(
            id=row["id"],
            name=row["name"],
            kind=cast(Kind, row["kind"]),
            needs_label=row["needs_label"] == "yes",
            advised=row["advised"] == "yes",
            why_not=row["why_not"],
            classes=frozenset(row["classes"].split()),
            label_words=words_of(row["label_words"]),
            bee_class=row["bee_class"],
            numbers=MappingProxyType({n: float(row[n]) for n in _NUMBERS if row[n]}),
            limit_of=cast(LimitOf, row["limit_of"]),
            status=row["status"],
            facts=MappingProxyType(facts.get(row["id"], {})),
        )
    return MappingProxyType(found)


def remedy(id_: str) -> Remedy:
    """The remedy called `id_`, with '_' or '-'; NotFound names those spelt nearly alike."""
    key = id_.strip().lower().replace("-", "_")
    if key in remedies():
        return remedies()[key]
    near = get_close_matches(key, remedies(), n=3)
    hint = f" Did you mean {' or '.join(near).replace('_', '-')}?" if near else ""
    raise NotFound(f"There is no remedy '{id_}'.{hint}")


def of_active(words: str) -> Remedy | None:
    """The remedy whose active ingredient a label names so; the longest name that fits wins. None where none does."""
    plain = " ".join(words.lower().replace(",", " ").split()).replace("2 4-d", "2,4-d")
    best: tuple[int, Remedy] | None = None
    for each in remedies().values():
        for word in each.label_words:
            if word in plain and (best is None or len(word) > best[0]):
                best = (len(word), each)
    return best[1] if best else None


@cache
def spray_rules() -> Mapping[str, SprayRule]:
    """Every rule by its id: 'S2'."""
    columns = ("id", "topic", "variable", "test", "low", "high", "unit", "verdict", "note", "status", "source")
    return MappingProxyType(
        {
            r[0]: SprayRule(
                r[0], r[1], r[2], r[3], _number(r[4]), _number(r[5]), r[6], r[7], r[8], r[9], _sources()[r[10]]
            )
            for r in _rows_of("spray_rules.csv", columns)
        }
    )


@cache
def gaps() -> tuple[Gap, ...]:
    """Days between classes of material, as the handbook has them."""
    return tuple(
        Gap(one, other, _number(days), says, status, _sources()[source])
        for one, other, days, says, status, source in _rows_of(
            "gaps.csv", ("one", "other", "days", "says", "status", "source")
        )
    )


@cache
def courses() -> Mapping[str, Course]:
    """By trouble; troubles that nobody has told the course of are not there."""
    columns = (
        "trouble", "remove", "lives_in_soil", "away_years_low", "away_years_high", "away_status", "codes",
        "code_status", "timing", "left_alone", "cultural", "status", "source",
    )  # fmt: skip
    found: dict[str, Course] = {}
    for cells in _rows_of("course.csv", columns):
        r = dict(zip(columns, cells, strict=True))
        high = _number(r["away_years_high"])
        found[r["trouble"]] = Course(
            trouble=r["trouble"],
            remove=r["remove"],
            lives_in_soil=r["lives_in_soil"] == "yes",
            away_years=(float(r["away_years_low"]), high) if high else None,
            away_status=r["away_status"],
            codes=words_of(r["codes"]),
            code_status=r["code_status"] or "common practice",
            timing=r["timing"],
            left_alone=r["left_alone"],
            cultural=r["cultural"],
            status=r["status"],
            source=r["source"],
        )
    return MappingProxyType(found)


@cache
def codes() -> tuple[Code, ...]:
    """Every resistance code with what it means; one code may mean different pests in different crops' lists."""
    return tuple(
        Code(*r)
        for r in _rows_of("resistance_codes.csv", ("code", "pest", "crop_lists", "meaning", "status", "source"))
    )


@cache
def bees() -> tuple[tuple[str, str, str, str, str, str, str], ...]:
    """From when bees fly: animal, quantity, value, unit, status, source, note."""
    columns = ("animal", "quantity", "value", "unit", "status", "source", "note")
    return tuple((r[0], r[1], r[2], r[3], r[4], r[5], r[6]) for r in _rows_of("bees.csv", columns))


@cache
def _bloom() -> tuple[Bloom, ...]:
    columns = ("crop_begins", "opens", "shuts_hours_after_sunrise", "who", "says", "status", "source")
    return tuple(
        Bloom(r[0], r[1], float(r[2]), r[3], r[4], r[5], _sources()[r[6]]) for r in _rows_of("bloom.csv", columns)
    )


def bloom_of(crop: str) -> Bloom | None:
    """When a crop's flowers are open, for the crops whose hours are known."""
    return next((b for b in _bloom() if crop == b.crop_begins or crop.startswith(f"{b.crop_begins}-")), None)


@cache
def _against() -> Mapping[str, tuple[Against, ...]]:
    found: dict[str, list[Against]] = {}
    columns = ("trouble", "remedy", "says", "note", "status")
    for trouble, remedy_id, says, note, status in _rows_of("remedy_for.csv", columns):
        found.setdefault(trouble, []).append(Against(remedy_id, says, note, status))
    return MappingProxyType({t: tuple(those) for t, those in found.items()})


def remedies_for(trouble: str) -> tuple[Against, ...]:
    """What is set against a trouble, what is never advised left out."""
    key = trouble.replace("-", "_")
    return tuple(a for a in _against().get(key, ()) if remedies()[a.remedy].advised)
