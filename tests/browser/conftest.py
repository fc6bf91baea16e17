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
from lan import Network, missing, network
from phone import Telephone
from served import PASSPHRASE, TODAY, Server, kailyard

AXE = Path(sys.prefix) / "browser" / "node_modules" / "axe-core" / "axe.min.js"
INSTALL = "run tests/browser/install"


@pytest.fixture(scope="session")
def playwright() -> Iterator[Any]:
    api = pytest.importorskip("playwright.sync_api", reason=f"needs Playwright for Python: {INSTALL}")
    with api.sync_playwright() as made:
        yield made


@pytest.fixture(scope="session")
def lan() -> Iterator[Network]:
    """The garden's machine and the telephone, and the cable between them."""
    if lacking := missing():
        pytest.skip(f"needs {', '.join(lacking)}: {INSTALL}")
    with contextlib.ExitStack() as stack:
        try:
            made = stack.enter_context(network())
        except OSError as err:
            pytest.skip(f"needs the right to make network namespaces: {err}")
        yield made


@pytest.fixture(scope="session")
def axe() -> str:
    """The script that looks for what shuts people out."""
    if not AXE.is_file():
        pytest.skip(f"needs axe-core: {INSTALL}")
    return AXE.read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def garden(tmp_path_factory: pytest.TempPathFactory, lan: Network) -> Path:
    """The demo with two people and an authority of its own; copy before serving."""
    folder = tmp_path_factory.mktemp("browser") / "demo"
    subprocess.run([sys.executable, "-m", "kailyard", "demo", str(folder)], check=True, capture_output=True)
    return _peopled(folder, lan)


@pytest.fixture(scope="session")
def trusted(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Path], Path]:
    """A home whose browser trusts the authority of a garden, as its owner would have told it."""

    def home(folder: Path) -> Path:
        if shutil.which("certutil") is None:
            pytest.skip(f"needs certutil: {INSTALL}")
        made = tmp_path_factory.mktemp("home")
        store = made / ".pki" / "nssdb"
        store.mkdir(parents=True)
        database = f"sql:{store}"
        subprocess.run(["certutil", "-N", "-d", database, "--empty-password"], check=True, capture_output=True)
        authority = folder / "tls" / "authority.crt"
        added = ["certutil", "-A", "-d", database, "-n", "garden", "-t", "C,,", "-i", str(authority)]
        subprocess.run(added, check=True, capture_output=True)
        return made

    return home


@pytest.fixture(scope="session")
def chromium(tmp_path_factory: pytest.TempPathFactory, lan: Network) -> Path:
    """Debian's Chromium, begun on the telephone."""
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None:
        pytest.skip(f"needs Chromium: {INSTALL}")
    script = tmp_path_factory.mktemp("telephone") / "chromium"
    script.write_text(f'#!/bin/sh\nexec {" ".join(lan.telephone.prefix)} {found} "$@"\n', encoding="utf-8")
    script.chmod(0o755)
    return script


@pytest.fixture
def serve(garden: Path, lan: Network, tmp_path: Path) -> Iterator[Callable[..., Server]]:
    """Serve a copy of the demo, or another garden with people in it."""
    servers = []

    def start(folder: Path | None = None, *more: str) -> Server:
        served = folder or shutil.copytree(garden, tmp_path / "garden")
        servers.append(Server(served, lan.machine.prefix, *(more or ("--today", TODAY))))
        return servers[-1]

    yield start
    for server in servers:
        server.stop()
    lan.plug_in()


@pytest.fixture
def telephone(
    playwright: Any, chromium: Path, trusted: Callable[[Path], Path], garden: Path
) -> Iterator[Callable[..., Telephone]]:
    """Begins a browser that trusts the demo's authority."""
    begun = []

    def begin(folder: Path | None = None, **more: Any) -> Telephone:
        begun.append(Telephone(playwright, chromium, trusted(folder or garden), **more))
        return begun[-1]

    yield begin
    for one in begun:
        with contextlib.suppress(Exception):  # a test may have closed it
            one.close()


def _peopled(folder: Path, lan: Network) -> Path:
    for name in ("Idony", "Perrin"):
        kailyard(folder, "serve", "--add-person", name, said=f"{PASSPHRASE}\n")
    Server(folder, lan.machine.prefix, "--today", TODAY).stop()
    return folder


@pytest.fixture(scope="session")
def peopled(lan: Network) -> Callable[[Path], Path]:
    """Gives a garden two people and an authority."""
    return lambda folder: _peopled(folder, lan)
