"""No source file beyond 400 lines, unless it is listed with the reason."""

from __future__ import annotations

import tomllib
from pathlib import Path

from tools.house import tree

MOST = 400
LISTED = "tools/house/long_files.toml"


def problems(root: Path) -> list[str]:
    """Each file that has grown too long, and each listing that is no longer needed."""
    listing = root / LISTED
    listed: dict[str, str] = tomllib.loads(listing.read_text(encoding="utf-8")) if listing.is_file() else {}
    lines = {name: text.count("\n") for name, text in tree.texts(root, ".py") if name.startswith("src/")}
    long = {name: n for name, n in lines.items() if n > MOST}
    return [
        *(
            f"{name}:{n}: more than {MOST} lines. Split it, or list it in {LISTED} with the reason."
            for name, n in long.items()
            if not listed.get(name, "").strip()
        ),
        *(
            f"{LISTED}:1: {name} is not longer than {MOST} lines. Take it off the list."
            for name in listed
            if name not in long
        ),
    ]
