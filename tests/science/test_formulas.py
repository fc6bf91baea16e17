"""Every public method carries its formula, says what each input is, and shows both on its page."""

import ast
import re
from functools import cache
from pathlib import Path

import pytest

from kailyard import science
from kailyard.science._inputs import INPUTS
from kailyard.science.reckon import Reckoner, reckoners
from tools.house.method_pages import FOLDER, pages

_EVERY = reckoners()
_NAMES = {r.name for r in _EVERY}
_each = pytest.mark.parametrize("reckoner", _EVERY, ids=[r.name for r in _EVERY])


@_each
def test_carries_a_formula_or_its_steps(reckoner: Reckoner) -> None:
    lines = reckoner.formula.splitlines()
    assert lines
    assert all(line.strip() and not line.endswith("=") for line in lines)
    assert reckoner.formula.count("(") == reckoner.formula.count(")"), reckoner.formula
    assert reckoner.formula.count("[") == reckoner.formula.count("]"), reckoner.formula


@_each
def test_no_symbol_of_the_formula_is_an_unknown_name(reckoner: Reckoner) -> None:
    # What is written like a name of this code is one: an input of the method, or another method.
    known = {each.name for each in reckoner.inputs} | _NAMES | set(reckoner.gives)
    own = {"x_end", "x_start", "t_peak", "m_first", "m_last", "s_first", "s_last"}  # written with an index in print
    for name in re.findall(r"\b[a-z]\w*_\w+\b", reckoner.formula.replace("²", " ")):
        assert name in known | own, name


@_each
def test_its_page_shows_formula_inputs_example_and_picture(reckoner: Reckoner) -> None:
    page = pages()[f"{FOLDER}/{reckoner.name}.md"]
    assert f"## Formula\n\n```text\n{reckoner.formula}\n```\n" in page
    assert f"{FOLDER}/{reckoner.name}.svg" in pages()
    for each in reckoner.inputs:
        said = reckoner.meaning(each.name).replace("|", "\\|").replace("<", "&lt;")
        assert re.search(rf"^\| `{each.name}` \|.*\| {re.escape(said)} \|$", page, re.M)


@_each
def test_says_of_every_input_what_it_alone_is(reckoner: Reckoner) -> None:
    meanings = [reckoner.meaning(each.name) for each in reckoner.inputs]
    assert all(re.fullmatch(r".{4,}\.", said) for said in meanings), meanings
    assert not [said for said in meanings if said.startswith("As ")]
    assert len(set(meanings)) == len(meanings), meanings


def test_every_shared_meaning_is_that_of_an_input_and_in_use() -> None:
    shown = {(each.name, r.meaning(each.name)) for r in _EVERY for each in r.inputs}
    for name, said in INPUTS.items():
        assert (name, f"{said[0].upper()}{said[1:]}.") in shown, name


def _numbers(text: str, *, digits: int) -> set[float]:
    found = re.findall(r"(?<![\w.])\d+(?:\.\d+)?(?:e-?\d+)?", text.replace("_", ""))
    return {float(n) for n in found if len(re.sub(r"e.*|\.|^0+", "", n.replace("0.", ""))) >= digits}


@cache
def _code(module: str) -> str:
    """A module's code without docstrings, and that of every module of the folder it takes something from."""
    file = Path(science.__path__[0]) / f"{module}.py"
    tree = ast.parse(file.read_text(encoding="utf-8"))
    taken = {n.module.rpartition(".")[2] for n in ast.walk(tree) if isinstance(n, ast.ImportFrom) and n.module}
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if isinstance(body, list):
            body[:] = [n for n in body if not (isinstance(n, ast.Expr) and isinstance(n.value, ast.Constant))] or [
                ast.Pass()
            ]
    beside = [_code(name) for name in sorted(taken - {module}) if (file.parent / f"{name}.py").is_file()]
    return "\n".join([ast.unparse(tree), *beside])


def test_no_coefficient_of_a_formula_differs_from_the_code() -> None:
    # Those of three digits and more. Powers of ten are numbers of their own in print; the rest here are divided out
    # or rounded from another unit.
    by_power = {4.903, 4.901, 0.665, 2.567, 2.042}
    worked_out = {
        "psychrometric_constant_kpa_c": {1.013, 0.622, 2.45},  # 1.013e-3 / (0.622 × 2.45) is the code's 0.665e-3
        "evaporation_equivalent_mm": {2.45},  # 1 / 2.45 is 0.408
        "radiation_frost_possible": {2.24},  # 5 mph in m/s
        "plants_in_triangles": {1.1547},  # 2 over the root of 3
        "clear_share_through_night": {17.2},  # 0.3 rad in degrees
        "spray_course_m": {340.3},  # a 128th of an acre in square feet
        "spray_rate_on_the_move": {5940.0},  # 43560 x 12 x 60 / 5280
        "mowing_minutes": {8.25},  # 43560 / 5280
    }
    for reckoner in _EVERY:
        in_code = _numbers(_code(reckoner.module), digits=1) | by_power
        said = _numbers(reckoner.formula, digits=3) - worked_out.get(reckoner.name, set())
        assert not {n for n in said if not any(abs(n - c) <= 1e-9 * n for c in in_code)}, reckoner.name
