"""A planting's life for a terminal: small hills on one axis, and what each date rests on."""

from __future__ import annotations

from kailyard.documents.stages import Stage, Stages
from kailyard.publish import plain, words
from kailyard.publish.axis import Axis, axis_over
from kailyard.publish.say import planting_words, stage_words
from kailyard.publish.text._reasons import reason_rows

_WORDS_COLUMNS = 20


def render(document: Stages, *, width: int = 80, ascii_only: bool = False, opened: int = 1) -> str:
    """Every stage on one axis: the day it was seen, or its odds as a hill; then its reasons, `opened` levels deep."""
    garden = f"{words.clean(document.garden)}, {words.full_day(document.on)}"
    rows = plain.block(garden, width)
    rows += plain.with_end(plain.block(planting_words(document), width), words.clean(document.planting), width)
    ahead = [stage.odds for stage in document.stages if stage.seen is None]
    seen = [stage.seen for stage in document.stages if stage.seen is not None]
    axis = axis_over(document.on, ahead, seen)
    columns = max(16, width - _WORDS_COLUMNS - 2)
    rows += ["", " " * (_WORDS_COLUMNS + 2) + plain.ruler(axis, columns)]
    for stage in document.stages:
        rows += _stage(stage, axis, columns, document, width)
    rows += plain.block("o the day it was seen; a hill: the higher, the likelier.", width)
    for stage in document.stages:
        if not stage.reasons or opened < 1:
            continue
        rows += ["", *plain.block(words.clean(stage.words), width)]
        rows += reason_rows(stage.reasons, document.units, width, deepest=opened)
    return plain.finish(rows, ascii_only=ascii_only)


def _stage(stage: Stage, axis: Axis, columns: int, document: Stages, width: int) -> list[str]:
    name = plain.wrap(words.clean(stage.words), _WORDS_COLUMNS)
    said = stage_words(stage, document)
    if stage.seen is not None:
        place = axis.at(stage.seen)
        drawn = " " * columns if place is None else " " * (place * columns // axis.days) + "o"
    else:
        drawn = plain.heights(axis, axis.chances(stage.odds), columns)
    rows = [plain.left(name[0], _WORDS_COLUMNS + 2) + drawn, *name[1:]]
    return rows + plain.block(said, width, first=" " * (_WORDS_COLUMNS + 2) if width >= 60 else "    ")
