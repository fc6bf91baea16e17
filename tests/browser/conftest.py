"""A telephone with a real browser on a network of its own, at the garden's door over TLS, its authority trusted."""

from __future__ import annotations

import contextlib
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from lan import Lan
from lan import lan as made_lan
from phone import OwnTelephone, Telephone, begun, held
from served import PASSPHRASE, TODAY, Server, kailyard

AXE = Path(sys.prefix) / "browser" / "node_modules" / "axe-core" / "axe.min.js"
INSTALL = "run tests/browser/install"


@pytest.fixture(scope="session")
def playwright() -> Iterator[Any]:
    api = pytest.importorskip("playwright.sync_api", reason=f"needs Playwright for Python: {INSTALL}")
    with api.sync_playwright() as made:
        yield made


@pytest.fixture(scope="session")
def lan() -> Iterator[Lan]:
    """The garden's machine and the telephone, and the cable between them."""
    with made_lan() as made:
        yield made


@pytest.fixture(scope="session")
def axe() -> str:
    """The script that looks for what shuts people out."""
    if not AXE.is_file():
        pytest.skip(f"needs axe-core: {INSTALL}")
    return AXE.read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def garden(tmp_path_factory: pytest.TempPathFactory, lan: Lan) -> Path:
    """The demo with two people and an authority of its own; copy before serving."""
    folder = tmp_path_factory.mktemp("browser") / "demo"
    subprocess.run([sys.executable, "-m", "kailyard", "demo", str(folder)], check=True, capture_output=True)
    _people(folder)
    Server(folder, lan, "--today", TODAY).stop()
    return folder


@pytest.fixture(scope="session")
def peopled(garden: Path) -> Callable[[Path], Path]:
    """Gives a garden two people and the authority that the telephone trusts."""

    def give(folder: Path) -> Path:
        shutil.copytree(garden / "tls", folder / "tls")
        _people(folder)
        return folder

    return give


def _people(folder: Path) -> None:
    for name in ("Idony", "Perrin"):
        kailyard(folder, "serve", "--add-person", name, said=f"{PASSPHRASE}\n")


@pytest.fixture(scope="session")
def home(tmp_path_factory: pytest.TempPathFactory, garden: Path) -> Callable[[], Path]:
    """A home whose browser trusts the garden's authority, as its owner would have told it."""

    def make() -> Path:
        if shutil.which("certutil") is None:
            pytest.skip(f"needs certutil: {INSTALL}")
        made = tmp_path_factory.mktemp("home")
        store = made / ".pki" / "nssdb"
        store.mkdir(parents=True)
        database = f"sql:{store}"
        subprocess.run(["certutil", "-N", "-d", database, "--empty-password"], check=True, capture_output=True)
        authority = garden / "tls" / "authority.crt"
        added = ["certutil", "-A", "-d", database, "-n", "garden", "-t", "C,,", "-i", str(authority)]
        subprocess.run(added, check=True, capture_output=True)
        return made

    return make


@pytest.fixture(scope="session")
def debians_chromium() -> str:
    """Debian's Chromium, or one like it."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None:
        pytest.skip(f"needs Chromium: {INSTALL}")
    return found


@pytest.fixture(scope="session")
def chromium(tmp_path_factory: pytest.TempPathFactory, lan: Lan, debians_chromium: str) -> Path:
    """It, begun on the telephone."""
    script = tmp_path_factory.mktemp("telephone") / "chromium"
    script.write_text(f'#!/bin/sh\nexec {" ".join((*lan.telephone, debians_chromium))} "$@"\n', encoding="utf-8")
    script.chmod(0o755)
    return script


@pytest.fixture
def serve(garden: Path, lan: Lan, tmp_path: Path) -> Iterator[Callable[..., Server]]:
    """Serve a copy of the demo, or another garden with people in it."""
    servers = []

    def start(folder: Path | None = None, *more: str, patient: bool = True) -> Server:
        served = folder or shutil.copytree(garden, tmp_path / "garden")
        servers.append(Server(served, lan, *(more or ("--today", TODAY)), patient=patient))
        return servers[-1]

    yield start
    for server in servers:
        server.stop()
    lan.plug_in()


@pytest.fixture(scope="module")
def browser(playwright: Any, chromium: Path, home: Callable[[], Path]) -> Iterator[Any]:
    """One browser for the tests of a file that neither close it nor move its cable."""
    made = playwright.chromium.launch(**begun(chromium, home()))
    yield made
    made.close()


@pytest.fixture
def window(browser: Any, lan: Lan) -> Iterator[Callable[..., Telephone]]:
    """Opens a window of that browser, which knows nothing of any other."""
    opened = []

    def open_one(**more: Any) -> Telephone:
        address = f"https://{lan.host}/"
        opened.append(Telephone(address, browser.new_context(**held(address, **more))))
        return opened[-1]

    yield open_one
    for one in opened:
        one.close()


@pytest.fixture
def telephone(
    playwright: Any, chromium: Path, home: Callable[[], Path], lan: Lan
) -> Iterator[Callable[..., OwnTelephone]]:
    """Begins a browser of its own: it may be closed and opened again, its cable pulled out."""
    all_begun = []

    def begin(**more: Any) -> OwnTelephone:
        all_begun.append(OwnTelephone(f"https://{lan.host}/", playwright, chromium, home(), **more))
        return all_begun[-1]

    yield begin
    for one in all_begun:
        with contextlib.suppress(Exception):  # a test may have closed it
            one.close()
