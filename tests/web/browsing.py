"""A browser at a door, a clock that only moves when told, and names as bad as they may be."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from starlette.testclient import TestClient

HOSTILE = '<script>alert(1)</script> "O\'Neill" & שלום 🌱 {{ 7*7 }}'
LAN = "192.168.7.7"
PASSPHRASE = "four words quite apart"


class SetClock:
    """Stands still until it is moved on."""

    def __init__(self) -> None:
        self.now = datetime(2026, 6, 12, 14, 0, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now

    def move_on(self, **by: float) -> None:
        self.now += timedelta(**by)


@dataclass
class Browser:
    """A browser at one door. It keeps cookies and finds the token of the last page by itself."""

    client: TestClient
    folder: Path
    clock: SetClock

    def get(self, path: str, **more: object):
        return self.client.get(path, follow_redirects=False, **more)

    def token(self, path: str = "/login") -> str:
        found = re.search(r'<meta name="token" content="([^"]*)"', self.get(path).text)
        assert found
        return found[1]

    def send(self, path: str, *, at: str = "/login", **form: object):
        """Send a form as a page of ours would."""
        form = {"token": self.token(at), **form}
        return self.client.post(path, data=form, follow_redirects=False)

    def come_in(self, name: str = "Idony", passphrase: str = PASSPHRASE):
        return self.send("/login", name=name, passphrase=passphrase)

    def entries(self, *entries: dict[str, object]) -> list[dict[str, object]]:
        token = self.get("/api/session").json()["token"]
        answer = self.client.post("/entries", json=list(entries), headers={"X-Kailyard-Token": token})
        assert answer.status_code == 200, answer.text
        return answer.json()["answers"]


def another(browser: Browser) -> Browser:
    """Another device at the same door."""
    client = TestClient(browser.client.app, base_url=str(browser.client.base_url))
    return Browser(client, browser.folder, browser.clock)
