"""No path of somebody's machine stands in the tree."""

from __future__ import annotations

import re
from pathlib import Path

from tools.house import tree

# Written so that this file does not find itself.
ROOTS = ("home", "root", "tmp", "work", "Users", "farm")
PATH = re.compile(rf"(?<![\w.:/~$}}*-])/(?:{'|'.join(ROOTS)})/[\w.]|\b[A-Z]:\\Users\\")


def problems(root: Path) -> list[str]:
    """Each line with a path that only one machine has."""
    return [
        f"{name}:{n}: a path of one machine ({found.group()}...). Make it relative, or take a temporary folder."
        for name, text in tree.texts(root)
        for n, line in enumerate(text.splitlines(), 1)
        if (found := PATH.search(line))
    ]
