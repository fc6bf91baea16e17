"""The round for a terminal, bed by bed in walking order."""

from __future__ import annotations

from kailyard.documents.scout import Lookout, Scout, Stop
from kailyard.publish import plain, words
from kailyard.publish.say_scout import (
    STEP_COLUMNS,
    counted,
    counts,
    enemies,
    figures,
    looked,
    main,
    passing,
    step_rows,
    task,
    title,
)


def render(document: Scout, *, width: int = 80, ascii_only: bool = False) -> str:
    """Each bed's lookouts with a box to tick; then what is not to be looked for yet."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.block("One round through the beds", width)
    if not document.stops:
        rows += ["", *plain.block("Nothing stands in the beds that is to be looked at for pests or diseases.", width)]
    for stop in document.stops:
        rows += ["", *_stop(stop, width)]
    if document.not_yet:
        rows += ["", "Not yet"]
        rows += [row for line in document.not_yet for row in plain.block(words.clean(line), width, first="- ")]
    rows.append("")
    for note in document.notes:
        rows += plain.block(words.clean(note), width)
    return plain.finish(rows, ascii_only=ascii_only)


def _stop(stop: Stop, width: int) -> list[str]:
    name = words.clean(stop.name)
    rows = plain.block(name[:1].upper() + name[1:], width)
    for one in main(stop):
        rows += _lookout(one, width)
    for one in counted(stop):
        rows += plain.block(looked(one), width, first="[x] ", rest="    ")
        rows += _options(one, width)
    if glance := passing(stop):
        rows += plain.block(glance, width, first="  ")
    return rows


def _lookout(one: Lookout, width: int) -> list[str]:
    rows = plain.block(title(one), width, first="[ ] ", rest="    ")
    for line in (task(one), *counts(one)):
        rows += plain.block(line, width, first="    ")
    rows += _options(one, width)
    for line in (*figures(one), *enemies(one)):
        rows += plain.block(line, width, first="    ")
    if one.steps:
        rows += ["    " + row for row in plain.table(STEP_COLUMNS, step_rows(one), width - 4)]
    return rows


def _options(one: Lookout, width: int) -> list[str]:
    rows: list[str] = []
    for act in one.act:
        rows += plain.block(
            words.clean(f"What may be done: kailyard remedy {act.planting} {one.trouble}"), width, first="    "
        )
    return rows
