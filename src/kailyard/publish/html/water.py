"""The garden's water as a page: bed by bed what is gone, drawn with its band; what was used beside fixed habits."""

from __future__ import annotations

from collections.abc import Callable

from kailyard.documents.water import BedWater, Gone, Water
from kailyard.publish import draw_water, words
from kailyard.publish.html._page import Body, Paper, heading, page, table, why
from kailyard.publish.markup import Markup, el, spaced, together
from kailyard.publish.say_water import bed_words, gone_short, gone_words, unknown_words, used_table

_WIDE, _NARROW = 560.0, 328.0
"""Drawings are made for both widths, so that lettering keeps its size on a telephone. [px]"""


def render(document: Water, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


Beside = Callable[[BedWater], Markup]
"""What stands under a bed's head, made from it."""


def nothing(bed: BedWater) -> Markup:
    """On paper nothing does."""
    return Markup()


def body(document: Water, *, beside: Beside = nothing) -> Body:
    """Beds in the order in which they want water, litres used, and what stands under it all."""
    said = (
        "The thick line is what is gone from full ground: the deeper, the drier. Eight in ten lie in the fine strokes. "
        "The thin line is the end of the easy water; below it growth suffers. The upright mark is today."
    )
    parts = (
        heading(words.full_day(document.on), f"Water, {document.garden}", document.days_words),
        el("p", said, class_="lost") if document.beds else Markup(),
        *(_bed(bed, document, beside) for bed in document.beds),
        _used(document),
        el("footer", *(el("p", f"Not reckoned: {words.clean(one)}.") for one in document.left_out), *_notes(document)),
    )
    return Body(f"Water, {document.garden}", parts)


def _notes(document: Water) -> list[Markup]:
    return [el("p", note) for note in document.notes]


def _bed(bed: BedWater, document: Water, beside: Beside) -> Markup:
    said = words.sentence(words.clean(bed.how))
    how = el("p", said[:1].upper() + said[1:]) if bed.how else Markup()
    drawn = (_planting(one, document, unfolded=n == 0) for n, one in enumerate(bed.plantings))
    return el("section", el("h2", bed_words(bed)), how, beside(bed), *drawn, class_="water")


def _planting(of: Gone, document: Water, *, unfolded: bool) -> Markup:
    """One unfolds to its drawing; the first of a bed stands open."""
    label = gone_words(of, document.units)
    both = together(
        *(
            el("figure", draw_water.gone(of, document.on, document.units, label, width), class_=kind)
            for width, kind in ((_WIDE, "for-wide"), (_NARROW, "for-narrow"))
        )
    )
    said = f"In {words.clean(of.soil)}. {words.clean(of.costs)}".rstrip()
    under = el("div", spaced(said, why(of.reasons, document.units)), class_="lost")
    return el("details", el("summary", gone_short(of, document.units)), both, under, open=unfolded)


def _used(document: Water) -> Markup:
    if not document.used:
        return Markup()
    columns, rows = used_table(document.used, document.units)
    made = table(columns, rows, numeric=[False, *(True for _ in document.used)])
    unknown = unknown_words(document.used)
    return el("section", el("h2", "Water used"), made, el("p", unknown, class_="lost") if unknown else Markup())
