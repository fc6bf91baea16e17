"""The page of commands says what the program says."""

from __future__ import annotations

from pathlib import Path

from tools.house import commands_page


def problems(root: Path) -> list[str]:
    """One problem where the page in the tree is not the one that the commands make."""
    page = root / commands_page.PAGE
    if page.is_file() and page.read_text(encoding="utf-8") == commands_page.page():
        return []
    return [f"{commands_page.PAGE}:1: not what the commands say of themselves. Write it anew: make docs"]
