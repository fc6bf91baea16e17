"""A decision note is half a page with a number, a status, what pressed, what was decided and what it costs."""

from __future__ import annotations

import re
from pathlib import Path

from tools.house import tree

FOLDER = "docs/decisions/"
PARTS = ("Status", "Context", "Decision", "Cost")
MOST_LINES = 45


def problems(root: Path) -> list[str]:
    """Each note that lacks a part, is too long, or shares its number."""
    found: list[str] = []
    numbers: dict[str, str] = {}
    for name, text in tree.texts(root, ".md"):
        file = name.removeprefix(FOLDER)
        if file == name or file == "README.md":
            continue
        number = re.match(r"(\d{4})-[a-z0-9-]+\.md$", file)
        if not number:
            found.append(f"{name}:1: name it with four digits and words: 0007-store-temperatures-as-tenths.md")
            continue
        other = numbers.setdefault(number[1], name)
        if other != name:
            found.append(f"{name}:1: the number {number[1]} is taken by {other}. Take the next free one.")
        if not text.startswith(f"# {number[1]} "):
            found.append(f"{name}:1: begin with '# {number[1]} ' and what was decided.")
        found += [
            f"{name}:1: no line begins with '{part}: '."
            for part in PARTS
            if not re.search(rf"^{part}: \S", text, re.MULTILINE)
        ]
        if not re.search(r"^Status: (accepted|superseded by \d{4}), \d{4}-\d\d-\d\d$", text, re.MULTILINE):
            found.append(f"{name}:1: the status reads 'accepted, YYYY-MM-DD' or 'superseded by NNNN, YYYY-MM-DD'.")
        if text.count("\n") > MOST_LINES:
            found.append(f"{name}:{MOST_LINES}: half a page is enough: at most {MOST_LINES} lines.")
    return found
