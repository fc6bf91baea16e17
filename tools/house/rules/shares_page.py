"""The page on what the figures rest on says what the handbook and the demo's year of sheets say, or nearly."""

from __future__ import annotations

import re
from pathlib import Path

from kailyard.handbook.load import load_handbook
from tools.house import shares_page

_ROWS = re.compile(r"^\| ([^|]+) \| (\d+) \| (\d+) % \| (\d+) % \| (\d+) % \|$", re.MULTILINE)
_SHARE = re.compile(r"^\| ([a-z ]+) \| (\d+) % \|$", re.MULTILINE)


def problems(root: Path) -> list[str]:
    """One problem where a crop lacks, or a count or share has moved further than the page allows."""
    path = root / shares_page.PAGE
    rows, _, use = (path.read_text(encoding="utf-8") if path.is_file() else "").partition(shares_page.BY_USE)
    if _rows_hold(rows, shares_page.by_rows(load_handbook())) and _use_holds(use):
        return []
    return [f"{shares_page.PAGE}:1: not what the handbook and its sheets say. Write it anew: make docs"]


def _rows_hold(said: str, now: str) -> bool:
    old, new = ({m[1]: [float(m[i]) for i in range(2, 6)] for m in _ROWS.finditer(text)} for text in (said, now))
    return old.keys() == new.keys() and all(
        abs(old[name][0] - new[name][0]) <= shares_page.TOLERANCE * new[name][0] / 100
        and max(abs(a - b) for a, b in zip(old[name][1:], new[name][1:], strict=True)) <= shares_page.TOLERANCE
        for name in new
    )


def _use_holds(said: str) -> bool:
    old = {name: float(share) for name, share in _SHARE.findall(said)}
    now = shares_page.shares(shares_page.figures_of_a_year())
    return max(abs(old.get(name, 0.0) - now.get(name, 0.0)) for name in {*old, *now}) <= shares_page.USE_TOLERANCE + 0.5
