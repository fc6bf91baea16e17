"""Pickings for a terminal."""

from __future__ import annotations

from kailyard.documents.picking import CropAhead, Picking
from kailyard.publish import picked, plain, words


def render(document: Picking, *, width: int = 80, ascii_only: bool = False) -> str:
    """Questions, then each crop's weeks, how to pick it, its plantings; then what was weighed."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += ["What will be picked, as it comes ready"]
    rows += _listed("To look at", document.questions, width)
    if not document.crops:
        rows += ["", *plain.block("Nothing that stands is to be picked in the weeks ahead.", width)]
    for crop in document.crops:
        rows += _crop(crop, document, width)
    rows += _listed("Nobody can tell when these bear", document.unknown, width)
    if document.weighed:
        rows += ["", "What was weighed", *plain.block(picked.WEIGHED_NOTE, width)]
        for weighed in document.weighed:
            said = words.clean(weighed.produce)
            rows += ["", said[0].upper() + said[1:]]
            rows += plain.table(*picked.weighed_table(weighed, document.units), width)
            for line in picked.says(weighed):
                rows += plain.block(line, width)
    return plain.finish(rows, ascii_only=ascii_only)


def _crop(crop: CropAhead, document: Picking, width: int) -> list[str]:
    said = words.clean(crop.produce)
    rows = ["", said[0].upper() + said[1:]]
    if crop.how:
        rows += plain.block(words.sentence(crop.how[:1].upper() + crop.how[1:]), width, first="  ")
    if crop.uses:
        rows += plain.block(f"For each use: {words.sentence('; '.join(crop.uses))}", width, first="  ")
    made = [picked.week_row(week, document) for week in crop.weeks]
    rows += ["  " + line for line in plain.table(picked.WEEK_COLUMNS, made, width - 2)]
    for line in (picked.wanted(crop, document.units), crop.carried_words, crop.published):
        if line:
            rows += plain.block(line, width, first="  ")
    for one in crop.plantings:
        where = f"{words.clean(one.says)}, {words.clean(one.where)} ({words.clean(one.planting)})"
        rows += plain.block(f"{where}: {picked.planting_line(one)}", width, first="- ")
    return rows


def _listed(title: str, lines: tuple[str, ...], width: int) -> list[str]:
    if not lines:
        return []
    return ["", title, *(row for line in lines for row in plain.block(words.sentence(line), width, first="- "))]
