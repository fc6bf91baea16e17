"""Every figure in the code that scouts and tells risks stands in its explanation's table, with the value it has."""

from __future__ import annotations

import importlib
from pathlib import Path

import pytest
from test_trouble_judgements import ROW, shown

PAGE = Path(__file__).parents[2] / "docs" / "explanation" / "how-scouting-and-risk-are-reckoned.md"
MODULES = (
    "science.disease_days",
    "troubles.counting",
    "troubles.hours_made",
    "troubles.life_steps",
    "troubles.lookouts",
    "troubles.past",
    "troubles.risk",
    "troubles.scouting",
    "troubles.soil_days",
)


def judgements() -> dict[str, str]:
    found = {}
    for name in MODULES:
        module = importlib.import_module(f"kailyard.{name}")
        own = Path(str(module.__file__)).read_text(encoding="utf-8")
        for each, value in vars(module).items():
            bound = f"\n{each} = " in own or f"\n{each}, " in own or f", {each} = " in own
            if each.isupper() and not each.startswith("_") and bound and (said := shown(value)) is not None:
                found[f"{name}.{each}"] = said
    return found


def table() -> dict[str, tuple[str, str]]:
    return {name: (value, why) for name, value, why in ROW.findall(PAGE.read_text(encoding="utf-8"))}


def test_every_figure_stands_in_the_table_with_its_value() -> None:
    assert {name: value for name, (value, _) in table().items()} == judgements()
    assert len(judgements()) > 20


@pytest.mark.parametrize("name", sorted(table()) if PAGE.is_file() else [])
def test_every_figure_says_why(name: str) -> None:
    assert len(table()[name][1]) > 20
