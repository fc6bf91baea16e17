"""The telephone in the gardener's hand: a browser with a profile of its own, at the garden's door."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

from lan import MACHINE
from served import PASSPHRASE, PORT

ADDRESS = f"https://{MACHINE}:{PORT}"


class Telephone:
    """A browser with its profile on the disk, so that it can be closed and opened again."""

    def __init__(self, playwright: Any, chromium: Path, home: Path, **more: Any) -> None:
        self._begin = lambda: playwright.chromium.launch_persistent_context(
            str(home / "profile"),
            executable_path=str(chromium),
            args=["--no-sandbox"] if os.geteuid() == 0 else [],
            env={**os.environ, "HOME": str(home)},
            base_url=ADDRESS,
            viewport={"width": 390, "height": 800},
            locale="en-GB",
            **more,
        )
        self.browser: Any = None
        self.open()

    def open(self) -> None:
        self.browser = self._begin()
        self.browser.set_default_timeout(30_000)
        self.page = self.browser.pages[0]

    def close(self) -> None:
        self.browser.close()

    def come_in(self, name: str = "Idony") -> None:
        """By the way in, as a person does; then wait until the worker has the pages."""
        self.page.goto("/login")
        self.page.get_by_label("Name").fill(name)
        self.page.get_by_label("Passphrase").fill(PASSPHRASE)
        self.page.get_by_role("button", name="Come in").click()
        self.page.wait_for_url("**/")
        self.ready()

    def ready(self) -> None:
        """Until the worker keeps the sheet and the forms."""
        self.until(
            """async () => {
              if (!navigator.serviceWorker.controller || !await caches.has("kailyard-pages-1")) return false;
              const kept = await (await caches.open("kailyard-pages-1")).keys();
              const paths = kept.map(each => new URL(each.url).pathname);
              return ["/", "/enter", "/waiting"].every(path => paths.includes(path));
            }"""
        )

    def until(self, holds: str, what: Any = None) -> None:
        """Wait for a promise that keeps true; Playwright's own waiting takes any promise for true."""
        for _ in range(600):
            if self.page.evaluate(holds, what):
                return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"not within 30 s: {holds}")

    def waiting(self) -> int:
        """How many entries wait, by the browser's own store."""
        return int(self.page.evaluate("() => kailyard.all().then(all => all.length)"))
