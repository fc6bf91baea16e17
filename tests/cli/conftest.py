"""The keyboard for tests, and the demo garden to type at."""

from __future__ import annotations

import shutil
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest
from keyboard import Keyboard

from kailyard.desk.demo import write_demo
from kailyard.desk.desk import Desk

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "desk"))  # the services' answers

AFTERNOON = datetime(2026, 6, 12, 14, 0, tzinfo=UTC)
"""Of the demo's day."""


@pytest.fixture(scope="session")
def demo_garden(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo garden, written once; copy it before changing it."""
    folder = tmp_path_factory.mktemp("demo") / "garden"
    desk = Desk(folder, clock=lambda: AFTERNOON)
    write_demo(desk)
    desk.close()
    return folder


@pytest.fixture
def at_demo(
    demo_garden: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Keyboard:
    """A keyboard at a copy of the demo garden, on its day."""
    shutil.copytree(demo_garden, tmp_path / "garden")
    monkeypatch.chdir(tmp_path)
    return Keyboard(tmp_path / "garden", AFTERNOON, capsys, monkeypatch)


@pytest.fixture
def keyboard(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Keyboard:
    """A keyboard where no garden is yet, at noon of 2 March 2026."""
    monkeypatch.chdir(tmp_path)
    return Keyboard(tmp_path / "garden", datetime(2026, 3, 2, 12, tzinfo=UTC), capsys, monkeypatch)
