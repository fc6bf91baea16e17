"""Every import contract of pyproject.toml turns red for the import that it forbids, and the tree keeps them all."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
CONTRACTS = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"]

OFFENCES = {
    "layers": ("season/offends.py", "import kailyard.desk"),
    "science": ("science/offends.py", "import kailyard.errors"),
    "documents": ("documents/_offends.py", "import kailyard.discover"),
    "handbook": ("handbook/offends.py", "import kailyard.documents"),
    "garden": ("garden/offends.py", "import sqlalchemy"),
    "reasoning": ("season/offends.py", "import kailyard.weather.readers"),
    "files": ("season/work/offends.py", "from pathlib import Path"),
    "doors": ("cli/commands/offends.py", "from kailyard.season import odds"),
    "pages": ("web/pages/offends.py", "import numpy"),
    "publish": ("publish/offends.py", "import kailyard.garden.model"),
    "store": ("cli/offends.py", "import kailyard.store"),
    "database": ("desk/offends.py", "import sqlite3"),
}

ALSO = (
    ("reasoning", "care/offends.py", "import socket"),
    ("reasoning", "troubles/offends.py", "import socket"),
    ("files", "care/offends.py", "import os"),
    ("files", "troubles/offends.py", "import os"),
    ("layers", "troubles/offends.py", "import kailyard.desk"),
)
"""Further parts under a contract, each proved as well."""


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """The package and its contracts, to spoil."""
    package = Path("src", "kailyard")
    shutil.copytree(ROOT / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def lint(root: Path, *words: str) -> subprocess.CompletedProcess[str]:
    code = "import sys; from importlinter.cli import lint_imports_command; lint_imports_command(sys.argv[1:])"
    return subprocess.run(
        [sys.executable, "-c", code, "--no-cache", *words],
        cwd=root,
        env={**os.environ, "PYTHONPATH": str(root / "src"), "COLUMNS": "200", "PYTHONUTF8": "1"},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_tree_keeps_every_contract(copy: Path) -> None:
    result = lint(copy)
    assert result.returncode == 0, result.stdout
    assert f"{len(CONTRACTS)} kept, 0 broken" in result.stdout


@pytest.mark.parametrize(("contract", "file", "line"), [*((c["id"], *OFFENCES[c["id"]]) for c in CONTRACTS), *ALSO])
def test_the_contract_turns_red(copy: Path, contract: str, file: str, line: str) -> None:
    (copy / "src" / "kailyard" / file).write_text(f'"""Offends."""\n\n{line}\n', encoding="utf-8")
    result = lint(copy, "--contract", contract)
    assert result.returncode == 1, result.stdout
    assert "1 broken" in result.stdout
    assert "offends" in result.stdout  # and it names the offending module


def test_a_part_that_no_contract_knows_turns_red(copy: Path) -> None:
    (copy / "src" / "kailyard" / "almanac").mkdir()
    (copy / "src" / "kailyard" / "almanac" / "__init__.py").write_text("", encoding="utf-8")
    result = lint(copy, "--contract", "layers")
    assert result.returncode == 1, result.stdout
    assert "almanac" in result.stdout
