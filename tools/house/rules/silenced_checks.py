"""A check that is silenced on a line says there why."""

from __future__ import annotations

import io
import re
import tokenize
from pathlib import Path

from tools.house import tree

SILENCED = re.compile(
    r"#\s*(?:noqa|type:\s*ignore|pragma:\s*no cover)"
    r"(?::\s*[A-Z]+\d+(?:,\s*[A-Z]+\d+)*|\[[\w, -]+\])?(?P<reason>.*)"
)
NAMED = re.compile(r"#\s*(?:noqa:\s*[A-Z]+\d|type:\s*ignore\[|pragma:)")


def problems(root: Path) -> list[str]:
    """Each silenced check without the rule's name or a reason. Tests may silence with the name alone."""
    found: list[str] = []
    for name, text in tree.texts(root, ".py"):
        if not any(word in text for word in ("noqa", "type: ignore", "pragma")):
            continue
        for token in tokenize.generate_tokens(io.StringIO(text).readline):
            match = SILENCED.search(token.string) if token.type == tokenize.COMMENT else None
            if not match:
                continue
            where = f"{name}:{token.start[0]}"
            if not NAMED.search(token.string):
                found.append(f"{where}: name the check that is silenced: noqa: E501, type: ignore[arg-type].")
            elif not re.search(r"\w{2,}", match["reason"]) and not name.startswith("tests/"):
                found.append(f"{where}: say on the same line why the check is silenced.")
    return found
