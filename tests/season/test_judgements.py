"""Every figure of ours in the season's code stands in the explanation's table, with the value it has."""

from __future__ import annotations

import ast
import importlib
import pkgutil
import re
from pathlib import Path
from typing import Any

import pytest

import kailyard.season
from kailyard.season.windows import Loss

PAGE = Path(__file__).parents[2] / "docs" / "explanation" / "how-a-season-is-foreseen.md"
ROW = re.compile(r"^\| `([\w.]+)` \| (.+?) \| (.+?) \|$", re.MULTILINE)


def shown(value: Any) -> str | None:
    """A figure as the table prints it; None for what is no figure."""
    if isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        return f"{value:g}"
    if isinstance(value, Loss):
        late, early = (value.late_per_day, value.late_most), (value.early_per_day, value.early_most)
        return "; ".join(f"{word} {a:g} a day, {b:g} at most" for word, (a, b) in (("late", late), ("early", early)))
    if isinstance(value, dict) and value and all(isinstance(v, int | float) for v in value.values()):
        return ", ".join(f"{k}: {v:g}" for k, v in value.items())
    return None


def upper_names(source: str) -> list[str]:
    """Names in capitals that a module binds at its top level."""
    found = []
    for node in ast.parse(source).body:
        targets = (
            node.targets if isinstance(node, ast.Assign) else [node.target] if isinstance(node, ast.AnnAssign) else []
        )
        for target in targets:
            found += [n.id for n in ast.walk(target) if isinstance(n, ast.Name) and n.id.isupper()]
    return [name for name in found if not name.startswith("_")]


def judgements() -> dict[str, str]:
    """Module and name of every figure in the season's code, and how the table must print it."""
    out = {}
    for info in pkgutil.walk_packages(kailyard.season.__path__, "kailyard.season."):
        module = importlib.import_module(info.name)
        assert module.__file__
        for name in upper_names(Path(module.__file__).read_text(encoding="utf-8")):
            value = shown(getattr(module, name))
            if value is not None:
                out[f"{info.name.removeprefix('kailyard.season.')}.{name}"] = value
    return out


def table() -> dict[str, tuple[str, str]]:
    return {name: (value, why) for name, value, why in ROW.findall(PAGE.read_text(encoding="utf-8"))}


def test_every_judgement_stands_in_the_table_with_its_value() -> None:
    told = {name: value for name, (value, _) in table().items()}
    assert told == judgements()


@pytest.mark.parametrize("name", sorted(table()))
def test_every_judgement_says_why(name: str) -> None:
    assert len(table()[name][1]) > 20


def test_figures_are_found_where_they_stand() -> None:
    found = upper_names("A = 1\nB: float = 2.0\nC, D = 3, 4\n_E = 5\nf = 6\nif True:\n    G = 7\n")
    assert found == ["A", "B", "C", "D"]
    assert shown(0.25) == "0.25"
    assert shown({1: 0.5}) == "1: 0.5"
    assert shown(("a",)) is None
    assert shown(Loss(0.1, 0.5)) == "late 0.1 a day, 0.5 at most; early 0.05 a day, 0.5 at most"
