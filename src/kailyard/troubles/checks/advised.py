"""Is it something that never belongs in a kitchen garden where others learn?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, by_fact
from kailyard.troubles.verdict import Finding

NAME = "kitchen garden"
CLIPPINGS = (
    "Clippings and hay from treated ground never mulch beds and never go to compost, unless the label names a wait."
)


def check(case: Case) -> Iterator[Finding]:
    """Some actives are never advised here; of an unknown one nothing is known beyond its label."""
    remedy = case.remedy
    ground = by_fact(remedy.facts.get("crop_cautions") if remedy else None, remedy)
    if remedy is None:
        what = (
            f"‘{case.record.part or case.label.active}’"
            if case.label.active
            else "its active ingredient, which is not typed yet,"
        )
        says = f"The handbook knows nothing of {what}: read the whole label and ask the extension office."
        yield Finding(NAME, "unknown", says, ground)
        return
    if remedy.advised:
        yield Finding(NAME, "may", f"The handbook knows {remedy.name}; what it warns of stands beside.", ground)
    else:
        yield Finding(NAME, "never", f"{remedy.name}: {remedy.why_not}.", ground)
    if "herbicide" in remedy.classes or "auxin" in remedy.classes:
        yield Finding(NAME, "may", CLIPPINGS, by_fact(remedy.facts.get("min_gap_days"), remedy), beside=True)
    for field in ("crop_cautions", "incompatible", "applicator_cautions", "resistance_rule"):
        said = remedy.facts.get(field)
        if said is not None and said.value not in ("none", "not applicable", "none known"):
            yield Finding(NAME, "may", f"{said.value[0].upper()}{said.value[1:]}.", by_fact(said, remedy), beside=True)
