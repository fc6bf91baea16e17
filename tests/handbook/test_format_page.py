"""The page on the format is held to what the package declares."""

from __future__ import annotations

from pathlib import Path

from kailyard.handbook.check import STAGES
from kailyard.handbook.load import load_handbook
from kailyard.handbook.quantities import quantities

PAGE = Path(__file__).resolve().parents[2] / "docs/reference/handbook-format.md"


def test_the_page_lists_every_quantity_as_declared() -> None:
    wanted = ["## Quantities"]
    for table, those in quantities().items():
        wanted += ["", f"### {table}", "", "| quantity | kind | unit | range or words | meaning |"]
        wanted.append("| --- | --- | --- | --- | --- |")
        for q in those.values():
            span = [f"{q.low:g} to {q.high:g}"] if q.low is not None and q.high is not None else []
            allowed = "; ".join([*span, *([", ".join(q.words)] if q.words else [])])
            wanted.append(f"| `{q.name}` | {q.kind} | {q.unit} | {allowed} | {q.meaning} |")
    text = PAGE.read_text(encoding="utf-8")
    assert text[text.index("## Quantities") :] == "\n".join(wanted) + "\n"


def test_the_example_of_own_facts_is_taken() -> None:
    example = PAGE.read_text(encoding="utf-8").split("```")[1].lstrip("\n")
    book = load_handbook(example)
    assert book.facts["pea"]["minutes_pick_per_m2"].status == "yours"


def test_the_page_names_every_stage_and_response_in_use() -> None:
    text = PAGE.read_text(encoding="utf-8")
    used = {s for legs in load_handbook().legs.values() for leg in legs for s in (leg.from_stage, leg.to_stage)}
    assert used <= set(STAGES)
    assert all(stage in text for stage in used)
    assert all(f"`{leg.response}`" in text for legs in load_handbook().legs.values() for leg in legs)
