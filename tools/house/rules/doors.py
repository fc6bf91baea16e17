"""The doors compute nothing: no arithmetic, no dates reckoned, no rule of horticulture."""

from __future__ import annotations

import ast
from pathlib import Path

from tools.house import tree

PARTS = ("cli", "web")
ARITHMETIC = (ast.Add, ast.Sub, ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow, ast.MatMult)
RECKONERS = {"sum", "round", "abs", "pow", "divmod", "datetime.timedelta"}


def problems(root: Path) -> list[str]:
    """Each place where a door reckons instead of asking the desk."""
    found: list[str] = []
    for file, module in tree.modules(root, *PARTS):
        names = tree.dotted(module)
        for node in ast.walk(module):
            if isinstance(node, ast.BinOp | ast.AugAssign) and isinstance(node.op, ARITHMETIC):
                found.append(
                    f"{file}:{node.lineno}: arithmetic in a door ({ast.unparse(node)}). Let the desk compute it."
                )
            elif isinstance(node, ast.Call) and (name := names.get(node.func, "")) in RECKONERS:
                found.append(f"{file}:{node.lineno}: {name} in a door. Let the desk compute it.")
    return found
