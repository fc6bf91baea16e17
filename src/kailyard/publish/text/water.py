"""The garden's water for a terminal: bed by bed, and what was used."""

from __future__ import annotations

from kailyard.documents.water import BedWater, Water
from kailyard.publish import plain, words
from kailyard.publish.axis import Axis, axis_from
from kailyard.publish.say_water import GONE_COLUMNS, bed_words, gone_row, unknown_words, used_table

_COLUMNS = 30
_DAYS = 15


def render(document: Water, *, width: int = 80, ascii_only: bool = False) -> str:
    """Beds in the order in which they want water, litres used, and what stands under it all."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.block(words.clean(document.days_words), width)
    axis, columns = axis_from(document.on, days=_DAYS, today=document.on), min(_COLUMNS, max(10, width - 4))
    if any(bed.next is not None and bed.next.chances for bed in document.beds):
        rows += plain.block("The hills: on which day a bed comes to want water, the higher the likelier.", width)
        rows.append("  " + plain.ruler(axis, columns))
    for bed in document.beds:
        rows += ["", *_bed(bed, document, axis, columns, width)]
    rows += _dry(document, width)
    if document.used:
        rows += ["", "Water used", *plain.table(*used_table(document.used, document.units), width)]
        rows += plain.block(unknown_words(document.used), width)
    rows += [""] if document.left_out else []
    for left in document.left_out:
        rows += plain.block(f"Not reckoned: {words.clean(left)}.", width)
    if document.notes:
        rows.append("")
    for note in document.notes:
        rows += plain.block(words.clean(note), width)
    return plain.finish(rows, ascii_only=ascii_only)


def _bed(bed: BedWater, document: Water, axis: Axis, columns: int, width: int) -> list[str]:
    rows = plain.with_end(plain.block(bed_words(bed), width), words.clean(bed.line), width)
    if bed.next is not None and bed.next.chances:
        rows.append("  " + plain.heights(axis, axis.chances(bed.next), columns))
    if bed.how:
        rows += plain.block(words.clean(words.sentence(bed.how)), width, first="  ")
    table = plain.table(GONE_COLUMNS, [gone_row(one, document.units) for one in bed.plantings], width - 2)
    return rows + ["  " + row for row in table]


def _dry(document: Water, width: int) -> list[str]:
    """What a dry spell costs, once for each crop, and together where it costs several the same."""
    found: dict[str, list[str]] = {}
    told: set[str] = set()
    for one in (one for bed in document.beds for one in bed.plantings if one.costs):
        name = words.clean(one.says.partition(",")[0].partition(" ‘")[0])
        if name not in told:
            told.add(name)
            found.setdefault(words.clean(one.costs), []).append(name)
    if not found:
        return []
    rows = ["", "Dry spells"]
    for costs, names in found.items():
        rows += plain.block(f"{', '.join(names)}: {costs[:1].lower()}{costs[1:]}", width, first="  ")
    return rows
