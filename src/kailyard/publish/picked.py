"""Sentences and rows on pickings that text and page say alike."""

from __future__ import annotations

from kailyard.documents.picking import Band, CropAhead, Picking, PlantingAhead, Week, WeighedCrop
from kailyard.publish import words
from kailyard.publish.units import Units, convert, figure, number

WEEK_COLUMNS = ("week from", "chance", "how much then")
WEIGHED_NOTE = "By ground, by row, by plant that was to stand; by hour of picking where minutes were entered."
STARTED = {"sown": "sown", "raised": "raised", "bought": "bought", "planted": "planted"}


def title(produce: str) -> str:
    """'Snap beans'."""
    said = words.clean(produce)
    return f"{said[:1].upper()}{said[1:]}"


def week_row(week: Week, document: Picking) -> tuple[str, str, str]:
    """('29 June', '8 in 10', 'some')."""
    return words.day(week.first, document.on), words.in_ten(week.chance), amount(week, document.units)


def told(crop: CropAhead) -> tuple[Week, ...]:
    """The weeks in which there may be anything."""
    return tuple(week for week in crop.weeks if week.word)


def amount(week: Week, units: Units) -> str:
    """'some', or 'about 2 kg (1.2 to 3.4)'."""
    return week.word if week.kg is None else band_words(week.kg, units)


def band_words(kg: Band, units: Units) -> str:
    """'about 2.1 kg (1.2 to 3.4)'."""
    low, middle, high = (two(convert(value, "kg", units)[0]) for value in (kg.low, kg.middle, kg.high))
    return f"about {middle} {convert(0.0, 'kg', units)[1]} ({low} to {high})"


def two(value: float) -> str:
    """Two figures are all that an amount deserves."""
    return number(float(f"{value:.2g}"), 2)


def wanted(crop: CropAhead, units: Units) -> str:
    """'Wanted: 1.5 kg a week. More than you want 3–16 July, 8 in 10.'"""
    if crop.wanted_kg is None:
        return ""
    of = f" {crop.wanted_of}" if crop.wanted_of else ""
    said = f"Wanted: {figure(crop.wanted_kg, 'kg', units, 1)} a week{of}"
    return " ".join(words.sentence(_begun(part)) for part in (said, *crop.balance))


def how(crop: CropAhead) -> str:
    """How often, by what sign, how big and when, a sentence each."""
    return " ".join(words.sentence(_begun(words.clean(part))) for part in crop.how)


def other_uses(crop: CropAhead) -> str:
    """The crop's other uses, a sentence each."""
    said = " ".join(words.sentence(_begun(words.clean(part))) for part in crop.uses)
    return f"Picked for something else: {said[:1].lower()}{said[1:]}" if said else ""


def _begun(part: str) -> str:
    return f"{part[:1].upper()}{part[1:]}"


def planting_line(one: PlantingAhead) -> str:
    """What is picked and left of one planting."""
    parts = [one.when, one.so_far, one.left]
    if one.standing < 0.995:
        parts.append(f"its gaps cost {words.clean(f'{1 - one.standing:.0%}'.replace('%', ' %'))}")
    return words.sentence("; ".join(words.clean(part) for part in parts if part))


def week_words(crop: CropAhead, document: Picking) -> str:
    """The drawing in a sentence."""
    said = [
        f"{words.day(week.first, document.on)} {words.in_ten(week.chance)} {amount(week, document.units)}"
        for week in told(crop)
    ]
    return words.sentence(f"{words.clean(crop.produce)}, weeks from: {', '.join(said)}") if said else ""


_FIGURES = (
    ("kg", "kg", ""),
    ("per_m2", "kg/m²", ""),
    ("per_row_m", "kg/m", ""),
    ("per_plant", "kg", " each"),
    ("per_hour", "kg/h", ""),
)
"""What is told of a weighed planting: the field, its unit, and what the head says beside it."""


def weighed_table(crop: WeighedCrop, units: Units) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """Heads and rows of what was weighed; figures that no planting has are left out.

    What a planting is stands in one cell, so that a row goes into the width of a telephone.
    """
    shown = [one for one in _FIGURES if any(getattr(row, one[0]) is not None for row in crop.plantings)]
    heads = ("planting", *(f"{convert(0.0, unit, units)[1]}{more}" for _, unit, more in shown))
    ids = [row.planting for row in crop.plantings]
    rows = []
    for row in crop.plantings:
        again = f" {row.year}" if ids.count(row.planting) > 1 else ""
        begun = "" if row.begun is None else f" {words.short_day(row.begun)} {row.begun.year}"
        figures = [(getattr(row, name), unit) for name, unit, _ in shown]
        cells = ["" if value is None else two(convert(value, unit, units)[0]) for value, unit in figures]
        kind = f" ‘{words.clean(row.cultivar)}’" if row.cultivar else ""
        use = f", {words.clean(row.use)}" if row.use else ""
        started = f"{STARTED.get(row.started, words.clean(row.started))}{begun}"
        rows.append((f"{words.clean(row.planting)}{again}{kind}{use}, {started}", *cells))
    return heads, rows


def says(crop: WeighedCrop) -> tuple[str, ...]:
    """Comparisons, and what is to be known of single plantings, as sentences."""
    notes = [f"{row.planting}: {row.note}" for row in crop.plantings if row.note]
    return tuple(words.sentence(line) for line in (*crop.says, *notes))
