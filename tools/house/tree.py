"""What lies in a checkout: its own files, without what was built or installed there."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path


def files(root: Path) -> tuple[Path, ...]:
    """Files that git knows or would add, sorted; in a folder without git, every file but hidden ones."""
    if (root / ".git").exists():
        listing = subprocess.run(
            ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
            cwd=root,
            check=True,
            capture_output=True,
        ).stdout.decode()
        found = [root / name for name in listing.split("\0") if name]
    else:
        found = [
            p for p in root.rglob("*") if not any(part.startswith((".", "__py")) for part in p.relative_to(root).parts)
        ]
    return tuple(sorted(p for p in found if p.is_file()))


def texts(root: Path, *suffixes: str) -> Iterator[tuple[str, str]]:
    """Name, relative to `root`, and content of each text file, of those `suffixes` where any are given."""
    for path in files(root):
        if suffixes and path.suffix not in suffixes:
            continue
        try:
            yield path.relative_to(root).as_posix(), path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue  # a picture, a typeface


def modules(root: Path, *parts: str) -> Iterator[tuple[str, ast.Module]]:
    """Name and syntax tree of each module of the given parts of the package; parts that are not there yet are none."""
    for name, text in texts(root, ".py"):
        if any(name.startswith(f"src/kailyard/{part}/") or name == f"src/kailyard/{part}.py" for part in parts):
            yield name, ast.parse(text, filename=name)


def dotted(tree: ast.Module) -> dict[ast.expr, str]:
    """Full name, as imported, of each name and attribute in the module: `dt.now` is 'datetime.datetime.now'."""
    known: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                known[alias.asname or alias.name.split(".")[0]] = (
                    alias.name if alias.asname else alias.name.split(".")[0]
                )
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            for alias in node.names:
                known[alias.asname or alias.name] = f"{node.module}.{alias.name}"

    found: dict[ast.expr, str] = {}

    def name_of(node: ast.expr) -> str:
        if isinstance(node, ast.Name):
            return known.get(node.id, node.id)
        if isinstance(node, ast.Attribute):
            base = name_of(node.value)
            return f"{base}.{node.attr}" if base else ""
        return ""

    for node in ast.walk(tree):
        if isinstance(node, ast.Name | ast.Attribute) and (name := name_of(node)):
            found[node] = name
    return found
