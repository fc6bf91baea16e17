"""What may be done about a trouble."""

from __future__ import annotations

from kailyard.documents.options import Options, Step
from kailyard.publish import plain, words
from kailyard.publish.text._reasons import reason_rows


def render(document: Options, *, width: int = 80, ascii_only: bool = False) -> str:
    """What to do first, the steps in order with those advised marked, the next look, the next season, cautions."""
    d = document
    rows = plain.block(f"{words.clean(d.garden)}, {words.full_day(d.on)}", width)
    sure = f", {d.sure}" if d.sure else ""
    rows += plain.block(words.clean(f"{d.name.capitalize()}{sure}: {d.plants}, {d.where}"), width)
    rows += ["", *plain.block(words.clean(d.first), width)]
    together = [s for s in d.steps if s.advised]
    if together:
        rows += ["", "Together"]
        for step in together:
            rows += _step(step, width)
    rest = [s for s in d.steps if not s.advised]
    if rest:
        rows += ["", *plain.block("In their order, where that is not possible or not enough", width)]
        for step in rest:
            rows += _step(step, width)
    if d.struck:
        rows += ["", *plain.block(words.clean(f"Not possible here: {'; '.join(s.says for s in d.struck)}."), width)]
    rows += ["", *plain.block(words.clean(f"Look again on {words.full_day(d.next_look)}. {d.judged}"), width)]
    if d.later:
        rows += ["", "Next season"]
        for one in d.later:
            rows += plain.block(words.sentence(words.clean(f"{one.says}; {one.by}")), width, first="- ")
    rows.append("")
    for caution in d.cautions:
        rows += plain.block(words.clean(caution), width)
    return plain.finish(rows, ascii_only=ascii_only)


def _step(step: Step, width: int) -> list[str]:
    labels = f" Your label: {', '.join(map(words.clean, step.labels))}." if step.labels else ""
    why_not = f" Not now: {step.why_not}." if step.why_not else ""
    head = words.sentence(f"{step.says} ({step.kind}): {step.how}" if step.how else f"{step.says} ({step.kind})")
    rows = plain.block(words.clean(f"{head}{labels}{why_not} [{step.id}]"), width, first="- ")
    return rows + reason_rows(step.reasons[:1], "metric", width, depth=1, deepest=2)
