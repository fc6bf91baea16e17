"""The pages of the methods say what the functions say."""

from __future__ import annotations

from pathlib import Path

from tools.house import method_pages


def problems(root: Path) -> list[str]:
    """Each page or picture that is not the one the functions make, is missing, or is left over."""
    made = method_pages.pages()
    folder = root / method_pages.FOLDER
    there = {f"{method_pages.FOLDER}/{file.name}" for file in folder.glob("*")} if folder.is_dir() else set()
    stale = [
        f"{name}:1: not what the function says of itself. Write it anew: make docs"
        for name, text in made.items()
        if name not in there or (root / name).read_text(encoding="utf-8") != text
    ]
    return [*stale, *(f"{name}:1: belongs to no method. Take it away: make docs" for name in sorted(there - set(made)))]
