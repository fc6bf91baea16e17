"""Shared by all tests: where the reference material lies, and skipping only where it is absent."""

from __future__ import annotations

from pathlib import Path

import pytest

SHARED = Path(__file__).resolve().parents[2] / "shared"


@pytest.fixture(scope="session")
def shared() -> Path:
    """The reference folder beside the checkout; tests that ask for it skip only where it is absent."""
    if not SHARED.is_dir():
        pytest.skip("needs the reference folder ../shared beside the checkout")
    return SHARED
