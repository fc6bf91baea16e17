"""Every figure in the code that advises and checks stands in its explanation's table, with the value it has."""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path

import pytest
from test_trouble_judgements import ROW, shown

import kailyard.troubles.checks

PAGE = Path(__file__).parents[2] / "docs" / "explanation" / "how-a-spraying-is-checked.md"
MODULES = (
    *(f"troubles.checks.{m.name}" for m in pkgutil.iter_modules(kailyard.troubles.checks.__path__)),
    "troubles.case",
    "troubles.checking",
    "troubles.flight",
    "troubles.keep_away",
    "troubles.label",
    "troubles.next_season",
    "troubles.options",
    "troubles.spray_hours",
    "desk.check",
    "desk.spray_case",
)


def judgements() -> dict[str, str]:
    found = {}
    for name in MODULES:
        module = importlib.import_module(f"kailyard.{name}")
        own = Path(str(module.__file__)).read_text(encoding="utf-8")
        for each, value in vars(module).items():
            bound = f"\n{each} = " in own or f"\n{each}, " in own or f", {each} = " in own or f", {each}, " in own
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
