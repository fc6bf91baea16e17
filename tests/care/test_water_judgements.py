"""Every figure of ours in the water's code stands in the explanation's table, with the value it has."""

from __future__ import annotations

import importlib
import re
from pathlib import Path

from test_judgements import shown, upper_names

PAGE = Path(__file__).parents[2] / "docs/explanation/how-water-is-reckoned.md"
MODULES = ("asked", "course", "ground", "outlets", "readings", "used", "water", "water_words")


def test_the_table_says_what_the_code_says() -> None:
    table = dict(re.findall(r"^\| `([a-z_]+\.[A-Z_0-9]+)` \| ([^|]+) \|", PAGE.read_text(encoding="utf-8"), re.M))
    code = {}
    for name in MODULES:
        module = importlib.import_module(f"kailyard.care.{name}")
        for constant in upper_names(Path(module.__file__).read_text(encoding="utf-8")):
            value = shown(getattr(module, constant))
            if value is not None:
                code[f"{name}.{constant}"] = value
    assert {k: v.strip() for k, v in table.items()} == code
