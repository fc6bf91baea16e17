"""Playwright's `expect`, where Playwright is there: test files are read where it is not, and skip by their fixtures."""

from __future__ import annotations

from typing import Any

from served import LONG_S


def expect(what: Any) -> Any:
    from playwright.sync_api import expect as playwrights

    playwrights.set_options(timeout=1000 * LONG_S)
    return playwrights(what)
