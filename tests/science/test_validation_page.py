"""docs/validation.md lists every public function of the science folder, with its check or 'unchecked'."""

import importlib
import inspect
import pkgutil
import re
from pathlib import Path

import kailyard.science

_ROOT = Path(__file__).parents[2]


def _public_functions() -> set[str]:
    found = set()
    for info in pkgutil.iter_modules(kailyard.science.__path__):
        if info.name.startswith("_"):
            continue  # private: what the modules beside it share
        module = importlib.import_module(f"kailyard.science.{info.name}")
        for name, thing in inspect.getmembers(module, inspect.isfunction):
            if thing.__module__ == module.__name__ and not name.startswith("_"):
                found.add(f"{info.name}.{name}")
    return found


def _listed() -> dict[str, tuple[str, str]]:
    text = (_ROOT / "docs/validation.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `(\w+\.\w+)` \| (.+?) \| (.+?) \|(?:.*\|)?$", text, re.M)
    assert len(rows) == len({name for name, _, _ in rows}), "a function is listed twice"
    return {name: (source, check) for name, source, check in rows}


def test_every_public_function_is_listed_and_nothing_else() -> None:
    assert set(_listed()) == _public_functions()


def test_every_check_named_is_a_test_that_names_the_function() -> None:
    for function, (source, check) in _listed().items():
        assert source
        if check == "unchecked":
            continue
        test = _ROOT / "tests/science" / check.strip("`")
        assert test.is_file(), (function, check)
        name = function.partition(".")[2]
        assert re.search(rf"\b{name}\b", test.read_text(encoding="utf-8")), (function, check)
