"""docs/security.md goes through the whole of level 1, and every test that it names is there."""

from __future__ import annotations

import ast
import re
from pathlib import Path

HERE = Path(__file__).parent
PAGE = (HERE.parents[1] / "docs" / "security.md").read_text(encoding="utf-8")
ROW = re.compile(r"^\| (\d+\.\d+\.\d+) \| ([^|]+) \| ([^|]+) \|$", re.MULTILINE)

# OWASP, Application Security Verification Standard 5.0.0 (2025): how many requirements of level 1 each chapter has,
# counted in its published table.
LEVEL_1 = {1: 8, 2: 4, 3: 8, 4: 2, 5: 4, 6: 13, 7: 6, 8: 4, 9: 4, 10: 5, 11: 3, 12: 3, 13: 1, 14: 2, 15: 3}


def test_every_line_of_level_1_is_there_and_every_test_named_exists() -> None:
    rows = ROW.findall(PAGE)
    numbers = [row[0] for row in rows]
    assert len(set(numbers)) == len(numbers) == 70
    assert {chapter: sum(n.startswith(f"{chapter}.") for n in numbers) for chapter in LEVEL_1} == LEVEL_1
    tests = {
        f"{file.name}::{node.name}"
        for folder in (HERE, HERE.with_name("browser"))
        for file in folder.glob("test_*.py")
        for node in ast.parse(file.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef)
    }
    for number, _, held in rows:
        named = re.findall(r"`(test_\w+\.py::\w+)`", held)
        assert named or held.startswith(("open", "not applicable", "this page")), number
        assert not [name for name in named if name not in tests], number
