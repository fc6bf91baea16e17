"""A link from one page to another leads somewhere, heading included."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import unquote

from tools.house import tree

LINK = re.compile(r"!?\[[^\]]*\]\(\s*<?([^)\s>]+)>?(?:\s+\"[^\"]*\")?\s*\)")
CODE = re.compile(r"^(```|~~~).*?^\1|`[^`\n]*`", re.MULTILINE | re.DOTALL)


def problems(root: Path) -> list[str]:
    """Each link inside the tree that leads nowhere."""
    pages = dict(tree.texts(root, ".md"))
    found: list[str] = []
    for name, text in pages.items():
        bare = CODE.sub(lambda m: re.sub(r"[^\n]", " ", m[0]), text)
        for link in LINK.finditer(bare):
            target, _, heading = unquote(link[1]).partition("#")
            if re.match(r"[a-z][a-z0-9+.-]*:", target):
                continue  # the world outside is not ours to check
            where = f"{name}:{bare.count(chr(10), 0, link.start()) + 1}"
            path = ((root / name).parent / target).resolve() if target else (root / name).resolve()
            if not path.is_relative_to(root.resolve()) or not path.exists():
                found.append(f"{where}: '{link[1]}' leads nowhere.")
            elif heading and path.suffix == ".md" and heading not in headings(path.read_text(encoding="utf-8")):
                found.append(f"{where}: '{link[1]}': that page has no such heading.")
    return found


def headings(text: str) -> set[str]:
    """The anchors that a page's headings make: lower case, words joined by hyphens."""
    return {
        re.sub(r"[^\w\- ]", "", line.lstrip("#").strip().lower()).replace(" ", "-")
        for line in text.splitlines()
        if line.startswith("#")
    }
