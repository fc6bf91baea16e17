"""The page on what the figures rest on says what the handbook and the demo's year of sheets say."""

from __future__ import annotations

import re
from pathlib import Path

from kailyard.handbook.load import load_handbook
from tools.house import shares_page

_SHARE = re.compile(r"^\| ([a-z ]+) \| (\d+) % \|$", re.MULTILINE)


def problems(root: Path) -> list[str]:
    """One problem where a row's count differs, or a share by use has moved further than the page allows."""
    path = root / shares_page.PAGE
    text = path.read_text(encoding="utf-8") if path.is_file() else ""
    rows, mark, use = text.partition(shares_page.BY_USE)
    stale = f"{shares_page.PAGE}:1: not what the handbook and its sheets say. Write it anew: make docs"
    if not mark or rows.rstrip() != shares_page.by_rows(load_handbook()).rstrip():
        return [stale]
    said = {name: float(share) for name, share in _SHARE.findall(use)}
    now = shares_page.shares(shares_page.figures_of_a_year())
    moved = max(abs(said.get(name, 0.0) - now.get(name, 0.0)) for name in {*said, *now})
    return [stale] if moved > shares_page.TOLERANCE + 0.5 else []
