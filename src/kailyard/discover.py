"""Adding things is adding files: every register in the program is a folder, read in order of file name."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from types import ModuleType


@cache
def names(package: str) -> tuple[str, ...]:
    """Names of the modules that lie in `package`, sorted, without importing them; `_private` ones left out."""
    folder = importlib.import_module(package)
    return tuple(sorted(m.name for m in pkgutil.iter_modules(folder.__path__) if not m.name.startswith("_")))


def module(package: str, name: str) -> ModuleType:
    """The module `name` of the register `package`, imported now."""
    return importlib.import_module(f"{package}.{name}")


@cache
def modules(package: str) -> tuple[ModuleType, ...]:
    """Every module of the register `package`, sorted by file name."""
    return tuple(module(package, name) for name in names(package))
