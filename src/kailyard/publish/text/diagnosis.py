"""What a trouble may be, for a terminal."""

from __future__ import annotations

from kailyard.documents.diagnosis import Cause, Diagnosis, Speaks
from kailyard.publish import plain, words
from kailyard.publish.diagnosed import chance, doing, eating, sampling, sides, testing, title
from kailyard.publish.say import ground


def render(document: Diagnosis, *, width: int = 80, ascii_only: bool = False) -> str:
    """Causes, the likeliest first, with what speaks for and against; then the next signs and when to stop."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.with_end(plain.block(title(document), width), words.clean(document.planting), width)
    for line in (document.firm, document.two):
        rows += plain.block(words.sentence(line), width) if line else []
    for number, cause in enumerate(document.causes, 1):
        rows += ["", *_cause(number, cause, document, width)]
    if document.answered:
        rows += ["", "Answered"]
        for one in document.answered:
            said = f"{words.clean(one.question)}: {one.answer}"
            said += f" ({words.clean(one.proposed)})" if one.proposed else ""
            rows += plain.with_end(plain.block(said, width, first="  "), words.clean(one.sign), width)
    if document.next:
        rows += ["", "Worth looking at next"]
        for sign in document.next:
            rows += plain.with_end(
                plain.block(words.clean(sign.question), width, first="  "), words.clean(sign.sign), width
            )
            rows += plain.block(sides(sign), width, first="    ")
            rows += plain.block(testing(sign.how), width, first="    ") if sign.how else []
    rows += ["", *plain.block(words.sentence(document.stop), width)]
    if document.sample is not None:
        rows += plain.block(sampling(document.sample, document.on), width)
    rows += [""]
    for caution in document.cautions:
        rows += plain.block(words.sentence(caution), width)
    return plain.finish(rows, ascii_only=ascii_only)


def _cause(number: int, cause: Cause, document: Diagnosis, width: int) -> list[str]:
    rows = plain.with_end(
        plain.block(f"{number}. {words.clean(cause.name)}: {chance(cause)}", width), words.clean(cause.id), width
    )
    for line in (doing(cause), eating(cause)):
        rows += plain.block(line, width, first="   ") if line else []
    said = (*cause.speaks_for, *cause.speaks_against)
    for head, those in (("for", cause.speaks_for), ("against", cause.speaks_against)):
        for one in those:
            rows += plain.block(_speaks(head, one), width, first="   ")
    for test in cause.settles:
        rows += plain.block(f"to settle it: {words.clean(test.what)} ({ground(test.rests_on)})", width, first="   ")
    guides = dict.fromkeys(one.rests_on.source for one in said if one.rests_on.status == "published")
    if guides:
        rows += plain.block(f"guides: {'; '.join(map(words.clean, guides))}", width, first="   ")
    if cause.before:
        leans = "; ".join(words.clean(reason.says).rstrip(".") for reason in cause.before)
        rows += plain.block(f"before any sign: {leans} (judgements of ours)", width, first="   ")
    return rows


def _speaks(head: str, one: Speaks) -> str:
    mark = "a guide names it" if one.rests_on.status == "published" else "our reading"
    return f"{one.strength} {head}: {words.clean(one.says)}; with this cause {words.clean(one.how_often)} ({mark})"
