"""The telephone in the gardener's hand: a browser at the garden's door."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import Any

from served import LONG_S, PASSPHRASE

SIZE = {"width": 390, "height": 844}
GONE = "chrome-error:"


def begun(chromium: Path, home: Path) -> dict[str, Any]:
    """With what a browser is begun whose user's home is `home`."""
    return {
        "executable_path": str(chromium),
        "args": ["--no-sandbox"] if os.geteuid() == 0 else [],
        "env": {**os.environ, "HOME": str(home)},
        "timeout": 1000 * LONG_S,
    }


def held(address: str, **more: Any) -> dict[str, Any]:
    """How a telephone is held, at the door of `address`."""
    return {"base_url": address, "viewport": SIZE, "locale": "en-GB", **more}


def until(page: Any, holds: str, what: Any = None) -> None:
    """Wait for a promise that keeps true; Playwright's own waiting takes any promise for true."""
    ends = time.monotonic() + LONG_S
    while not page.evaluate(holds, what):
        assert time.monotonic() < ends, f"not within {LONG_S} s: {holds}"
        page.wait_for_timeout(50)


class Telephone:
    """A window of a browser, all of whose pages forget with it what they kept."""

    def __init__(self, address: str, browser: Any) -> None:
        self.address = address
        self.browser = browser
        self._take_up()

    def _take_up(self) -> None:
        self.browser.set_default_timeout(1000 * LONG_S)
        self.page = self.browser.pages[0] if self.browser.pages else self.browser.new_page()

    def close(self) -> None:
        self.browser.close()

    def come_in(self, name: str = "Idony") -> None:
        """By the way in, as a person does; then wait until the worker has the pages."""
        self._by("/login", lambda: self._says_who(name), self.address)
        self.ready()

    def go_out(self) -> None:
        self._by("/people", lambda: self.page.get_by_role("button", name="Go out").click(), f"{self.address}login")

    def _says_who(self, name: str) -> None:
        self.page.get_by_label("Name").fill(name)
        self.page.get_by_label("Passphrase").fill(PASSPHRASE)
        self.page.get_by_role("button", name="Come in").click()

    def _by(self, path: str, act: Any, leads: str) -> None:
        """As often as it takes: a browser gives up what it is asking for when it learns that its cable was moved."""
        for _ in range(5):
            if not self.goes(path):
                continue
            if self.page.url.partition("?")[0] == leads:
                return
            act()
            self.page.wait_for_url(lambda url: url.partition("?")[0] == leads or url.startswith(GONE))
            if not self.page.url.startswith(GONE):
                return
        raise AssertionError(f"{path} does not lead to {leads}")

    def goes(self, path: str) -> bool:
        """Whether a page comes."""
        from playwright.sync_api import Error

        try:
            self.page.goto(path)
        except Error as err:
            if "ERR_NETWORK_CHANGED" not in str(err) and "interrupted by another" not in str(err):
                raise
            return False
        return True

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
        until(self.page, holds, what)

    def anew(self) -> None:
        """Load the page again until it comes from the garden's machine."""
        ends = time.monotonic() + LONG_S
        while self.goes(self.page.url) is False or self.page.locator(".as-of").count():
            assert time.monotonic() < ends, "no page but kept ones"
            self.page.wait_for_timeout(200)

    def waiting(self) -> int:
        """How many entries wait, by the browser's own store."""
        return int(self.page.evaluate("() => kailyard.all().then(all => all.length)"))


class OwnTelephone(Telephone):
    """A browser of its own with its profile on the disk, so that it can be closed and opened again."""

    def __init__(self, address: str, playwright: Any, chromium: Path, home: Path, **more: Any) -> None:
        self._begin = lambda: playwright.chromium.launch_persistent_context(
            str(home / "profile"), **begun(chromium, home), **held(address, **more)
        )
        super().__init__(address, self._begin())

    def open(self) -> None:
        self.browser = self._begin()
        self._take_up()
