"""What seed there is and what the planned plantings need of it: amounts, age, germination."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry, Garden
from kailyard.handbook.types import Handbook
from kailyard.science.seed_sums import seeds_to_sow
from kailyard.science.seed_test import germination_of_lot
from kailyard.season.done import last_work
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.reasons import from_entry, from_fact

Kind = tuple[str, str]
"""Crop and cultivar."""

ALLOWANCE = 1.2
"""Seeds for each plant that is wanted, germination apart: some are eaten, some fail."""

THICK = 2.0
"""The same where a row is sown to be thinned."""

USUAL_PCT = 75.0
"""Germination of a lot of which the handbook knows nothing."""

TEST_HOLDS_DAYS = 400
"""A germination test speaks for the season after it, not for later ones."""

SOWN_WITHIN_DAYS = 400
"""Where no stock is entered, seed of a kind that was sown so lately is taken to be there still."""


@dataclass(slots=True)
class Lot:
    """One lot as its entries have it."""

    kind: Kind
    amount: float | None = None
    """Seeds or pieces left; None: not said, taken to be enough."""
    counted: date = date.min
    packed: int | None = None
    ordered: bool = False
    used_up: bool = False
    test: Entry | None = None
    entries: list[Entry] = field(default_factory=list)


def kept_for_seed(life: Life) -> bool:
    """Whether plants of it are kept for seed: its note or a piece of work says 'for seed', none 'seed collected'."""
    if last_work(life, "seed collected") is not None:
        return False
    return "for seed" in life.planting.note.lower() or last_work(life, "for seed") is not None


def stock(garden: Garden, handbook: Handbook, today: date) -> Mapping[Kind, tuple[Lot, ...]]:
    """Every lot by crop and cultivar, what was sown since taken off, the oldest first."""
    lots: dict[tuple[Kind, str], Lot] = {}
    for entry in garden.entries_of(""):
        if entry.kind == "seed" and entry.happened <= today:
            kind = (str(entry.payload["crop"]), str(entry.payload.get("cultivar", "")))
            key = (kind, str(entry.payload.get("lot", "")))
            _told(lots.setdefault(key, Lot(kind)), entry, handbook)
    found: dict[Kind, list[Lot]] = {}
    for lot in lots.values():
        if not lot.used_up:
            found.setdefault(lot.kind, []).append(lot)
    for of_kind in found.values():
        of_kind.sort(key=lambda lot: (lot.packed or 9999, lot.counted))
    if found:
        _take_off_sown(garden, found, today)
    return {kind: tuple(of_kind) for kind, of_kind in found.items()}


def _told(lot: Lot, entry: Entry, handbook: Handbook) -> None:
    said = entry.payload
    lot.entries.append(entry)
    lot.ordered, lot.used_up = said.get("state") == "ordered", said.get("state") == "used up"
    lot.packed = said.get("packed") or lot.packed or (None if lot.ordered else entry.happened.year)
    if said.get("tested"):
        lot.test = entry
    if entry.quantity is not None:
        each = handbook.number(lot.kind[0], "seeds_per_g") if entry.unit == "g" else 1.0
        lot.amount = None if each is None else entry.quantity * each
        lot.counted = entry.happened
        lot.used_up = lot.used_up or entry.quantity == 0


def _take_off_sown(garden: Garden, found: Mapping[Kind, list[Lot]], today: date) -> None:
    for planting in garden.plantings.values():
        lots = found.get((planting.crop, planting.cultivar), ())
        if not lots:
            continue
        for entry in garden.entries_of(planting.id):
            if entry.kind not in ("sow", "plant", "set-out") or entry.happened > today or entry.quantity is None:
                continue
            if entry.kind == "set-out" and planting.start == "raised":
                continue
            left = entry.quantity
            for lot in lots:
                if lot.amount is None or lot.counted >= entry.happened:
                    continue
                taken = min(lot.amount, left)
                lot.amount, left = lot.amount - taken, left - taken


def old(lot: Lot, handbook: Handbook, today: date) -> bool:
    """Whether it is older than seed of its crop keeps, and no test of late says how it is."""
    years = handbook.number(lot.kind[0], "seed_viable_years")
    tested = lot.test is not None and (today - lot.test.happened).days <= TEST_HOLDS_DAYS
    return years is not None and lot.packed is not None and today.year - lot.packed > years and not tested


def germination_pct(lot: Lot | None, crop: str, handbook: Handbook, today: date) -> float:
    """Germination to reckon with: the low end of a test (9 lots in 10 like it do better), else an ordinary lot's."""
    if lot is not None and lot.test is not None and (today - lot.test.happened).days <= TEST_HOLDS_DAYS:
        return max(shown_by(lot.test)[0], 1.0)
    usual = handbook.number(crop, "germ_typical_pct") or handbook.number(crop, "germ_federal_min_pct")
    return USUAL_PCT if usual is None else usual


def shown_by(test: Entry) -> tuple[float, float]:
    """Between which shares the lot germinates, 8 in 10, as the test shows. [%, %]"""
    return _shown(int(test.payload["germinated"]), int(test.payload["tested"]))


@cache
def _shown(germinated: int, tested: int) -> tuple[float, float]:
    low, _, high = germination_of_lot(germinated, tested)
    return float(low), float(high)


def seeds_each(crop: str, handbook: Handbook, pct: float, *, raised: bool) -> float:
    """Seeds for each plant that is to stand."""
    thick = not raised and handbook.get(crop, "thin_days_min") is not None
    return _each(pct, THICK if thick else ALLOWANCE)


@cache
def _each(pct: float, insurance: float) -> float:
    return float(seeds_to_sow(1.0, germination_pct=pct, insurance=insurance).seeds)


def plants_in(lots: Iterable[Lot], handbook: Handbook, today: date, *, raised: bool, seed: bool) -> float:
    """Plants that the lots come to; without end where an amount is not said. `seed`: amounts are seeds, else pieces."""
    total = 0.0
    for lot in lots:
        if lot.amount is None:
            return float("inf")
        pct = germination_pct(lot, lot.kind[0], handbook, today)
        total += lot.amount / seeds_each(lot.kind[0], handbook, pct, raised=raised) if seed else lot.amount
    return total


def lot_reasons(lot: Lot, handbook: Handbook, today: date) -> tuple[Reason, ...]:
    """What a lot rests on: its entries, its age, its test."""
    out = [from_entry(lot.entries[-1], f"Seed as entered on {day_words(lot.entries[-1].happened)}.")]
    years = handbook.get(lot.kind[0], "seed_viable_years")
    if lot.packed is not None and years is not None:
        out.append(from_fact(years, handbook, f"Packed in {lot.packed}; seed kept cool and dry is fit to sow so long."))
    if lot.test is not None:
        said, (low, high) = lot.test.payload, shown_by(lot.test)
        out.append(
            Reason(
                f"{said['germinated']} of {said['tested']} germinated: {low:.0f} to {high:.0f} % of the lot, 8 in 10.",
                round(low, 1),
                "%",
                RestsOn("computed", "germination of a lot from a test", "docs/validation.md"),
                (from_entry(lot.test, f"Tested on {day_words(lot.test.happened)}."),),
            )
        )
    return tuple(out)
