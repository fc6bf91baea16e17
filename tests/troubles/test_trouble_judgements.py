"""Every figure of ours in the code that names a trouble stands in its explanation's table, with the value it has."""

from __future__ import annotations

import ast
import importlib
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

PAGE = Path(__file__).parents[2] / "docs" / "explanation" / "how-a-trouble-is-named.md"
ROW = re.compile(r"^\| `([\w.]+)` \| (.+?) \| (.+?) \|$", re.MULTILINE)
MODULES = (
    "handbook.troubles",
    "troubles.asking",
    "troubles.diagnosis",
    "troubles.injury",
    "troubles.leanings",
    "troubles.likelihood",
    "troubles.setting",
    "troubles.weighing",
)


def shown(value: Any) -> str | None:
    """A figure as the table prints it; None for what is no figure."""
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, tuple) and len(value) == 2 and all(isinstance(v, int | float) for v in value):
        return f"{value[0]:g} to {value[1]:g}"
    if isinstance(value, Mapping) and all(shown(v) is not None for v in value.values()):
        return ", ".join(f"{k}: {shown(v)}" for k, v in value.items())
    return None


def judgements() -> dict[str, str]:
    """Module and name of every figure, and how the table must print it."""
    out = {}
    for name in MODULES:
        module = importlib.import_module(f"kailyard.{name}")
        assert module.__file__
        for node in ast.parse(Path(module.__file__).read_text(encoding="utf-8")).body:
            targets = getattr(node, "targets", None) or [getattr(node, "target", None)]
            for each in (n for t in targets if t is not None for n in ast.walk(t)):
                if isinstance(each, ast.Name) and each.id.isupper() and not each.id.startswith("_"):
                    value = shown(getattr(module, each.id))
                    if value is not None:
                        out[f"{name}.{each.id}"] = value
    return out


def table() -> dict[str, tuple[str, str]]:
    return {name: (value, why) for name, value, why in ROW.findall(PAGE.read_text(encoding="utf-8"))}


def test_every_judgement_stands_in_the_table_with_its_value() -> None:
    assert {name: value for name, (value, _) in table().items()} == judgements()
    assert len(judgements()) > 40


@pytest.mark.parametrize("name", sorted(table()) if PAGE.is_file() else [])
def test_every_judgement_says_why(name: str) -> None:
    assert len(table()[name][1]) > 20
