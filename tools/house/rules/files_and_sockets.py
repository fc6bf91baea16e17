"""The reasoning parts are handed values: they open no file, socket or database, ask no environment, print nothing."""

from __future__ import annotations

import ast
from pathlib import Path

from tools.house import tree

PARTS = ("science", "documents", "garden", "season", "plan", "troubles", "care", "trials", "handbook", "weather")
LENIENT = {
    # The tables lie in the package itself, as the handbook's own data; the gardener's own facts lie in the garden.
    "src/kailyard/handbook/load.py": ("importlib.resources", "pathlib", ".read_"),
    "src/kailyard/handbook/": ("importlib.resources", ".read_"),
    # The adapters from a file to a record.
    "src/kailyard/weather/files.py": ("open", "io", "pathlib", "gzip", "zlib", ".read_"),
    "src/kailyard/weather/readers/": ("pathlib",),
    "src/kailyard/weather/reading.py": ("pathlib",),
    "src/kailyard/weather/hour_table.py": ("pathlib",),
    # They say which address to ask; the desk asks.
    "src/kailyard/weather/services/": ("urllib.parse.urlencode",),
}
FORBIDDEN = (
    "pathlib.", "os.", "io.open", "io.FileIO", "tempfile.", "shutil.", "glob.", "gzip.", "zipfile.",
    "importlib.resources", "pkgutil.get_data", "socket.", "http.", "urllib.", "ftplib.", "smtplib.", "ssl.",
    "subprocess.", "multiprocessing.",
    "sqlite3.", "dbm.", "shelve.", "sqlalchemy.", "alembic.", "sys.stdin", "sys.stdout", "sys.argv", "logging.",
    "numpy.load", "numpy.loadtxt", "numpy.genfromtxt", "numpy.fromfile", "numpy.memmap", "numpy.save", "numpy.savez",
    "numpy.savetxt",
)  # fmt: skip
BUILTINS = {"open", "print", "input", "exec", "eval", "__import__"}
METHODS = {"read_text", "read_bytes", "write_text", "write_bytes"}


def problems(root: Path) -> list[str]:
    """Each use of something outside the values that the part is handed."""
    found: list[str] = []
    for file, module in tree.modules(root, *PARTS):
        lenient = next((names for folder, names in LENIENT.items() if file.startswith(folder)), ())
        names = tree.dotted(module)
        for node in ast.walk(module):
            name = _offends(node, names)
            if name and not name.startswith(lenient):
                line = getattr(node, "lineno", 0)  # what offends is an import or a call, and has a line
                found.append(f"{file}:{line}: {name}: this part is handed values. Let the desk open what it needs.")
    return sorted(set(found))


def _offends(node: ast.AST, names: dict[ast.expr, str]) -> str:
    if isinstance(node, ast.Import):
        return next((a.name for a in node.names if f"{a.name}.".startswith(FORBIDDEN)), "")
    if isinstance(node, ast.ImportFrom) and node.module and not node.level:
        return next(
            (f"{node.module}.{a.name}" for a in node.names if f"{node.module}.{a.name}".startswith(FORBIDDEN)), ""
        )
    if isinstance(node, ast.Call):
        name = names.get(node.func, "")
        if name in BUILTINS:
            return name
        if isinstance(node.func, ast.Attribute) and node.func.attr in METHODS:
            return f".{node.func.attr}()"
        if name.startswith(FORBIDDEN):
            return name
    return ""
