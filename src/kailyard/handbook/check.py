"""The checker: judges every row of the handbook and reports every bad one at once."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import pairwise

from kailyard.handbook.quantities import Quantity, quantities
from kailyard.handbook.rows import LegRow, unprintable
from kailyard.handbook.types import Fact

Found = tuple[str, int, str]
"""File, line, message."""

STAGES = (
    "sown",
    "planted",
    "set-out",
    "emerged",
    "juvenile-end",
    "curd-start",
    "bulb-start",
    "tuber-start",
    "first-male-flower",
    "first-flower",
    "full-flower",
    "first-harvest",
    "red-ripe",
    "mature",
    "bolting",
)
"""Stages that a leg may join, in about the order of a life."""

_LONGEST = 400


def check_fact(fact: Fact, declared: Quantity, *, sources: Collection[str]) -> Iterator[Found]:
    """What is wrong with one fact taken alone."""

    def bad(message: str) -> Found:
        return fact.file, fact.line, f"{fact.subject} {fact.quantity}: {message}"

    if fact.unit != declared.unit:
        wanted = f"'{declared.unit}'" if declared.unit else "empty (a text or a pure number)"
        yield bad(f"unit {fact.unit!r}; it must be {wanted}. Convert the value, then write that unit.")
    if isinstance(fact.value, float):
        if (declared.low is not None and fact.value < declared.low) or (
            declared.high is not None and fact.value > declared.high
        ):
            yield bad(
                f"{fact.value:g} lies outside {declared.low:g} to {declared.high:g}. "
                "Look for a slip of the pen or the unit; if it is true, widen the range in quantities.csv."
            )
    elif not fact.value.strip():
        yield bad("no value. Leave out the row where nothing is known.")
    elif declared.kind == "choice" and fact.value not in declared.words:
        yield bad(f"{fact.value!r} is none of: {', '.join(declared.words)}.")
    for name in ("subject", "value", "source", "locator", "note"):
        text = str(getattr(fact, name))
        if unprintable(text) or len(text) > _LONGEST or text != text.strip():
            yield bad(f"{name} is padded, unprintable or over {_LONGEST} characters. One printable line is allowed.")
    if fact.status == "yours":
        return
    if not fact.locator:
        yield bad("no locator. Say where it stands in the source, or 'trade rule', or 'recalled'.")
    named = [part for part in fact.source.split("; ") if part]
    if fact.status == "published" and not named:
        yield bad("published, but no source. Name it, or call the value common practice or memory.")
    for source in named:
        if source not in sources:
            yield bad(f"source '{source}' is not in sources.toml. Add it there, or mend the name.")


def check_facts(
    facts: Sequence[Fact], *, table: str, ordered: Iterable[tuple[str, ...]], sources: Collection[str]
) -> Iterator[Found]:
    """What is wrong with the facts of one table: each alone, then twice told, out of order, low above high."""
    known = quantities()[table]
    seen: dict[tuple[str, str], Fact] = {}
    for fact in facts:
        yield from check_fact(fact, known[fact.quantity], sources=sources)
        first = seen.setdefault((fact.subject, fact.quantity), fact)
        if first is not fact:
            yield (
                fact.file,
                fact.line,
                f"{fact.subject} {fact.quantity} stands twice, first at {first.file}:{first.line}. Keep one row.",
            )
    yield from _unsorted([(f.file, f.line, (f.subject, f.quantity)) for f in facts if f.status != "yours"])
    yield from check_order(seen, ordered=ordered)


def check_order(facts: dict[tuple[str, str], Fact], *, ordered: Iterable[tuple[str, ...]]) -> Iterator[Found]:
    """Pairs named _min and _max, and the runs in `ordered`, must not fall for any one subject."""
    runs = list(ordered)
    names = {quantity for _, quantity in facts}
    runs += [(name, f"{name[:-4]}_max") for name in sorted(names) if name.endswith("_min")]
    for subject in sorted({subject for subject, _ in facts}):
        for run in runs:
            there = [facts[subject, quantity] for quantity in run if (subject, quantity) in facts]
            numbers = [fact for fact in there if isinstance(fact.value, float)]
            for low, high in pairwise(numbers):
                if low.number > high.number:
                    at = low if low.status == "yours" != high.status else high
                    yield (
                        at.file,
                        at.line,
                        f"{subject} {low.quantity} {low.number:g} is above {high.quantity} {high.number:g}. "
                        "One of the two is wrong, or they are swapped.",
                    )


def check_leg_rows(
    rows: Sequence[LegRow], *, table: str, ordered: Iterable[tuple[str, ...]], sources: Collection[str]
) -> Iterator[Found]:
    """What is wrong with leg values taken one by one and within their leg."""
    known = quantities()[table]
    by_leg: dict[tuple[str, str, str, int], dict[tuple[str, str], Fact]] = {}
    for row in rows:
        fact = row.fact
        yield from check_fact(fact, known[fact.quantity], sources=sources)
        for stage in (row.from_stage, row.to_stage):
            if stage not in STAGES:
                yield fact.file, fact.line, f"{fact.subject}: unknown stage {stage!r}. Stages are: {', '.join(STAGES)}."
        leg = by_leg.setdefault((fact.subject, row.from_stage, row.to_stage, row.order), {})
        first = leg.setdefault((fact.subject, fact.quantity), fact)
        if first is not fact:
            yield (
                fact.file,
                fact.line,
                f"{fact.subject} {row.from_stage} to {row.to_stage} ({row.order}) {fact.quantity} stands twice, "
                f"first at {first.file}:{first.line}. Keep one row.",
            )
    yield from _unsorted(
        [
            (r.fact.file, r.fact.line, (r.fact.subject, r.from_stage, r.to_stage, r.order, r.fact.quantity))
            for r in rows
            if r.fact.status != "yours"
        ]
    )
    for leg in by_leg.values():
        yield from check_order(leg, ordered=ordered)


def _unsorted(places: Sequence[tuple[str, int, tuple[str | int, ...]]]) -> Iterator[Found]:
    """The first row of each file that stands before its place: one report a file is enough to mend it."""
    reported: set[str] = set()
    for (before_file, _, before), (file, line, key) in pairwise(places):
        if file == before_file and file not in reported and key < before:
            reported.add(file)
            shown = " ".join(map(str, key))
            yield file, line, f"'{shown}' comes after '{' '.join(map(str, before))}'. Rows are sorted; sort the file."


def misplaced(facts: Iterable[Fact]) -> Iterator[Found]:
    """Rows about another subject than the file's name: a subject's own file is found by that name."""
    for fact in facts:
        if fact.file.rpartition("/")[2] != f"{fact.subject}.csv":
            yield fact.file, fact.line, f"subject '{fact.subject}' in the file of another crop. Move the row there."
