"""docs/how-to/add-a-kind-of-work.md, followed to the letter."""

from __future__ import annotations

import importlib.util
import re
import shutil
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from types import ModuleType

import pytest
from gardens import entry, look_ahead, plot

import kailyard.season.work
from kailyard import discover
from kailyard.garden.model import Planting
from kailyard.season.answers import REGISTER, kinds
from kailyard.season.sheet import compose
from kailyard.season.why import why_of

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "how-to" / "add-a-kind-of-work.md"
BLOCK = re.compile(r"^`([\w/.]+)`:\n\n```python\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def blocks() -> dict[str, str]:
    """The files the page tells to write, by path."""
    return dict(BLOCK.findall(PAGE.read_text(encoding="utf-8")))


def load(path: Path, name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def forget() -> None:
    discover.names.cache_clear()
    discover.modules.cache_clear()


@pytest.fixture
def added(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """The page's file, put into a register that lacks it, as it would be in the checkout."""
    (path,) = (p for p in blocks() if p.startswith("src/"))
    assert Path(path).parent == Path("src", *REGISTER.split("."))
    name = Path(path).stem
    for file in (ROOT / "src" / Path(*REGISTER.split("."))).glob("*.py"):
        if file.stem != name:
            shutil.copy(file, tmp_path)
    monkeypatch.setattr(kailyard.season.work, "__path__", [str(tmp_path)])
    there = sys.modules.pop(f"{REGISTER}.{name}", None)
    forget()
    assert name not in discover.names(REGISTER)
    (tmp_path / Path(path).name).write_text(blocks()[path], encoding="utf-8")
    forget()
    yield name
    sys.modules.pop(f"{REGISTER}.{name}", None)
    vars(kailyard.season.work).pop(name, None)
    if there is not None:
        sys.modules[f"{REGISTER}.{name}"] = vars(kailyard.season.work)[name] = there
    forget()


def test_the_page_tells_of_one_file_and_its_test() -> None:
    assert [Path(p).parts[0] for p in blocks()] == ["src", "tests"]
    assert PAGE.read_text(encoding="utf-8").count("```python") == len(blocks())


def test_the_new_line_stands_on_the_sheet_and_says_why(added: str) -> None:
    garden = plot(
        Planting(id="carrot-1", crop="carrot", bed="bed-1", start="sown"),
        entries=(entry("sow", "carrot-1", date(2026, 4, 20)),),
    )
    view = look_ahead(garden, date(2026, 5, 25))
    assert "thin/carrot-1" in {line.name for line in compose(view).work}
    assert why_of(view, "thin/carrot-1").reasons


def test_the_walk_of_the_register_takes_it_in(added: str) -> None:
    assert added in discover.names(REGISTER)
    assert added in {kind.NAME for kind in kinds()}
    walk = load(ROOT / "tests" / "house" / "test_registers.py", "walk_of_the_registers")
    walk.check_work(added, discover.module(REGISTER, added))


def test_the_pages_own_test_holds(added: str, tmp_path: Path) -> None:
    (path,) = (p for p in blocks() if p.startswith("tests/"))
    file = tmp_path / "apart" / "tests_of_the_page.py"
    file.parent.mkdir()
    file.write_text(blocks()[path], encoding="utf-8")
    module = load(file, "tests_of_the_page")
    tests = [value for name, value in vars(module).items() if name.startswith("test_")]
    assert len(tests) == 2
    for test in tests:
        test()


def test_the_pages_file_is_the_one_that_is_there() -> None:
    (path,) = (p for p in blocks() if p.startswith("src/"))
    assert blocks()[path] == (ROOT / path).read_text(encoding="utf-8")
