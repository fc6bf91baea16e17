"""`pytest --whole`, as CI runs it, fails where a test skips beside ../shared and where tests have gone missing."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ONE_SKIPS = "import pytest\n\n\ndef test_a():\n    assert True\n\n\ndef test_b():\n    pytest.skip('no reason')\n"
FILE_SKIPS = "import pytest\n\npytest.skip('no reason', allow_module_level=True)\n"
EXPECTED = "import pytest\n\n\ndef test_a():\n    assert True\n\n\ndef test_b():\n    pytest.xfail('known')\n"


def run(place: Path, test: str, *, floor: int, shared: bool, words: tuple[str, ...] = ("--whole",)) -> tuple[int, str]:
    tests = place / "checkout" / "tests"
    (tests / "house").mkdir(parents=True)
    shutil.copy(ROOT / "tests" / "conftest.py", tests)
    (tests / "house" / "collected.txt").write_text(f"{floor}\n", encoding="utf-8")
    (tests / "test_it.py").write_text(test, encoding="utf-8")
    if shared:
        (place / "shared").mkdir()
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "tests", *words],
        cwd=place / "checkout",
        env={k: v for k, v in os.environ.items() if not k.startswith("PYTEST")},
        capture_output=True,
        text=True,
        check=False,
    )
    return done.returncode, done.stdout


@pytest.mark.parametrize("workers", [(), ("-n", "1")])
@pytest.mark.parametrize("test", [ONE_SKIPS, FILE_SKIPS])
def test_a_skip_beside_shared_is_a_failure(tmp_path: Path, test: str, workers: tuple[str, ...]) -> None:
    code, said = run(tmp_path, test, floor=0, shared=True, words=("--whole", *workers))
    assert code in (1, 2), said
    assert "With ../shared there nothing may skip" in said


def test_a_skip_without_shared_is_a_skip(tmp_path: Path) -> None:
    code, said = run(tmp_path, ONE_SKIPS, floor=2, shared=False)
    assert code == 0, said
    assert "1 skipped" in said


def test_an_expected_failure_is_no_skip(tmp_path: Path) -> None:
    code, said = run(tmp_path, EXPECTED, floor=2, shared=True)
    assert code == 0, said


@pytest.mark.parametrize("workers", [(), ("-n", "1")])
def test_fewer_tests_than_last_time_are_a_failure(tmp_path: Path, workers: tuple[str, ...]) -> None:
    code, said = run(tmp_path, EXPECTED, floor=3, shared=True, words=("--whole", *workers))
    assert code == 1, said
    assert "2 tests collected, 3 last time" in said


def test_a_step_of_its_own_has_a_number_of_its_own(tmp_path: Path) -> None:
    (tmp_path / "own.txt").write_text("3\n", encoding="utf-8")
    words = ("--whole", "--floor", str(tmp_path / "own.txt"))
    code, said = run(tmp_path, EXPECTED, floor=2, shared=True, words=words)
    assert code == 1, said
    assert "2 tests collected, 3 last time" in said


def test_a_part_of_the_tests_run_by_hand_asks_for_no_number(tmp_path: Path) -> None:
    code, said = run(tmp_path, ONE_SKIPS, floor=300, shared=True, words=())
    assert code == 0, said
