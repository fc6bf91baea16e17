"""Pickings for a terminal."""

from __future__ import annotations

from kailyard.documents.picking import CropAhead, Picking
from kailyard.publish import picked, plain, words


def render(document: Picking, *, width: int = 80, ascii_only: bool = False) -> str:
    """Questions, then each crop's weeks, how to pick it, its plantings; then what was weighed."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.block("What will be picked, as it comes ready", width)
    rows += _listed("Not to be picked", document.held, width)
    rows += _listed("To look at", document.questions, width)
    if not document.crops:
        rows += ["", *plain.block("Nothing that stands is to be picked in the weeks ahead.", width)]
    for crop in document.crops:
        rows += _crop(crop, document, width)
    rows += _listed("Nobody can tell when these bear", document.unknown, width)
    if document.weighed:
        rows += ["", *plain.block("What was weighed", width), *plain.block(picked.WEIGHED_NOTE, width)]
        for weighed in document.weighed:
            rows += ["", *plain.block(picked.title(weighed.produce), width)]
            rows += plain.table(*picked.weighed_table(weighed, document.units), width)
            for line in picked.says(weighed):
                rows += plain.block(line, width)
    return plain.finish(rows, ascii_only=ascii_only)


def _crop(crop: CropAhead, document: Picking, width: int) -> list[str]:
    rows = ["", *plain.block(picked.title(crop.produce), width)]
    if crop.how:
        rows += plain.block(picked.how(crop), width, first="  ")
    if crop.uses:
        rows += plain.block(picked.other_uses(crop), width, first="  ")
    made = [picked.week_row(week, document) for week in picked.told(crop)]
    rows += ["  " + line for line in plain.table(picked.WEEK_COLUMNS, made, width - 2)]
    for line in (picked.wanted(crop, document.units), crop.carried_words, crop.published):
        if words.clean(line):
            rows += plain.block(words.clean(line), width, first="  ")
    for one in crop.plantings:
        where = f"{words.clean(one.says)}, {words.clean(one.where)} ({words.clean(one.planting)})"
        rows += plain.block(f"{where}: {picked.planting_line(one)}", width, first="- ")
    return rows


def _listed(title: str, lines: tuple[str, ...], width: int) -> list[str]:
    if not lines:
        return []
    return [
        "",
        *plain.block(title, width),
        *(row for line in lines for row in plain.block(words.sentence(line), width, first="- ")),
    ]
