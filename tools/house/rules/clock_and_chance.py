"""Only the desk knows what day it is, and no part throws dice without a seed: the same record gives the same sheet."""

from __future__ import annotations

import ast
from pathlib import Path

from tools.house import tree

REASONING = ("science", "handbook", "documents", "garden", "weather", "season", "plan", "troubles", "care", "trials")
PARTS = (*REASONING, "store", "publish", "cli", "web")
DOORS = ("cli", "web")
CLOCK = {
    "datetime.date.today",
    "datetime.datetime.now",
    "datetime.datetime.today",
    "datetime.datetime.utcnow",
    "time.time",
    "time.time_ns",
    "time.monotonic",
    "time.perf_counter",
    "time.localtime",
    "time.gmtime",
    "time.strftime",
    "time.ctime",
}
CHANCE = ("random.", "secrets.", "uuid.uuid1", "uuid.uuid4", "numpy.random.", "os.urandom")
SEEDED = {
    "numpy.random.default_rng",
    "numpy.random.Generator",
    "numpy.random.SeedSequence",
    "numpy.random.PCG64",
    "numpy.random.Philox",
    "numpy.random.BitGenerator",
}


def problems(root: Path) -> list[str]:
    """Each use of a clock, or of chance without a seed, outside the desk."""
    found: list[str] = []
    for file, module in tree.modules(root, *PARTS):
        names = tree.dotted(module)
        reasons = file.split("/")[2] in REASONING  # the store may make an identifier
        for node in ast.walk(module):
            if isinstance(node, ast.expr) and not (file.split("/")[2] in DOORS and _asks_the_desk(node)):
                words = _in_name(names.get(node, ""), reasons=reasons)
                words = words or (_in_call(node, names) if isinstance(node, ast.Call) else "")
                found += [f"{file}:{node.lineno}: {words}"] if words else []
    return found


def _asks_the_desk(node: ast.expr) -> bool:
    """`desk.today(...)`: how a door asks what day it is."""
    asks = isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
    return asks and ast.unparse(node.func) in ("desk.today", "desk.now")  # type: ignore[attr-defined]  # a call, see above


def _in_name(name: str, *, reasons: bool) -> str:
    if name in CLOCK:
        return f"{name} reads the clock. Today is an argument; only the desk asks the date."
    if reasons and name.startswith(CHANCE) and name not in SEEDED:
        return f"{name} is chance without a seed. Take a numpy Generator made from a seed."
    return ""


def _in_call(call: ast.Call, names: dict[ast.expr, str]) -> str:
    name = names.get(call.func, "")
    if isinstance(call.func, ast.Attribute) and call.func.attr in ("today", "now", "utcnow") and name not in CLOCK:
        return f".{call.func.attr}() reads the clock. Today is an argument; only the desk asks the date."
    if name == "numpy.datetime64" and any(
        isinstance(a, ast.Constant) and a.value in ("now", "today") for a in call.args
    ):
        return "numpy.datetime64 of today reads the clock. Today is an argument; only the desk asks the date."
    if name == "numpy.random.default_rng" and not call.args and not call.keywords:
        return "default_rng() without a seed: the same record would give another sheet. Hand it a seed."
    return ""
