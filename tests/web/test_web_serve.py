"""Served in earnest by the command, over real sockets, until Ctrl-C; and what it costs commands that serve nothing."""

from __future__ import annotations

import json
import os
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browsing import PASSPHRASE

from kailyard.desk.certificates import authority

WEB = ("starlette", "uvicorn", "argon2", "cryptography", "segno", "multipart", "kailyard.web", "kailyard.store.people")


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as found:
        return int(found.getsockname()[1])


class Running:
    def __init__(self, folder: Path, *words: str) -> None:
        self.port = free_port()
        command = [sys.executable, "-m", "kailyard", "--garden", str(folder), "serve", "--port", str(self.port)]
        self.process = subprocess.Popen(
            [*command, "--today", "2026-06-12", *words],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        self.said = ""
        assert self.process.stderr is not None
        for line in self.process.stderr:
            self.said += line
            if "Ctrl-C stops" in line:
                return
        raise AssertionError(self.said)

    def stop(self, how: signal.Signals = signal.SIGINT) -> tuple[int, str, str]:
        """Stop it as Ctrl-C does; exit code, standard output, the rest of standard error."""
        self.process.send_signal(how)
        out, err = self.process.communicate(timeout=15)
        return self.process.returncode, out, err


@pytest.fixture
def folder(gardens: Callable[[str], Path], tmp_path: Path) -> Path:
    return Path(shutil.copytree(gardens("demo"), tmp_path / "garden"))


@pytest.fixture
def running(folder: Path) -> Iterator[Callable[..., Running]]:
    begun: list[Running] = []

    def start(*words: str) -> Running:
        begun.append(Running(folder, *words))
        return begun[-1]

    yield start
    for one in begun:
        if one.process.poll() is None:
            one.process.kill()
            one.process.communicate()


def ask(address: str, ca: bytes | None = None) -> tuple[int, str, str]:
    context = ssl.create_default_context(cadata=ca) if ca else None
    with urllib.request.urlopen(address, timeout=15, context=context) as answer:
        return answer.status, answer.url, answer.read().decode()


def test_it_serves_this_machine_and_stops_cleanly(running: Callable[..., Running]) -> None:
    one = running()
    status, _, page = ask(f"http://127.0.0.1:{one.port}/")
    assert status == 200
    assert "Friday 12" in page
    assert "A pretended Friday 12 June 2026" in page
    code, out, err = one.stop()
    assert code == 0
    assert "What was entered is kept." in out
    assert "Traceback" not in err


def test_a_taken_port_is_one_clear_line(running: Callable[..., Running], folder: Path) -> None:
    one = running()
    command = [sys.executable, "-m", "kailyard", "--garden", str(folder), "serve", "--port", str(one.port)]
    second = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert second.returncode == 2
    assert f"Port {one.port} cannot be had" in second.stderr
    assert "Traceback" not in second.stderr


def test_over_the_network_with_tls_a_name_and_the_certificate_beside(
    running: Callable[..., Running], folder: Path
) -> None:
    command = [sys.executable, "-m", "kailyard", "--garden", str(folder), "serve"]
    alone = subprocess.run(
        [*command, "--lan"], stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, timeout=60
    )
    assert alone.returncode == 2
    assert "--add-person" in alone.stderr
    added = subprocess.run(
        [*command, "--add-person", "Idony"], input=f"{PASSPHRASE}\n", capture_output=True, text=True, check=True
    )
    assert "Idony may come in." in added.stdout
    beside = free_port()
    one = running("--lan", "--trust-port", str(beside))
    ca = authority(folder)
    assert ca.fingerprint in one.said
    status, url, page = ask(f"https://localhost:{one.port}/daybook", ca.certificate)
    assert (status, url) == (200, f"https://localhost:{one.port}/login?next=%2Fdaybook")
    assert "Lanthorn" not in page
    with pytest.raises(urllib.error.URLError, match="CERTIFICATE_VERIFY_FAILED"):
        ask(f"https://localhost:{one.port}/")
    host = next(h for h in one.said.split() if h.startswith("http://")).removeprefix("http://").rpartition(":")[0]
    request = urllib.request.Request(f"http://127.0.0.1:{beside}/kailyard-authority.crt", headers={"Host": host})
    with urllib.request.urlopen(request, timeout=15) as answer:
        assert answer.read() == ca.certificate
    code, _, err = one.stop()
    assert code == 0
    assert "Traceback" not in err


@pytest.mark.parametrize("words", [["--help"], ["--garden", "{}", "sheet"], ["serve", "--help"]])
def test_commands_that_serve_nothing_load_nothing_of_it(folder: Path, words: list[str]) -> None:
    code = (
        "import json, sys\nfrom kailyard.cli.main import main\n"
        "try:\n    main(sys.argv[1:])\nexcept SystemExit:\n    pass\n"
        f"print(json.dumps([m for m in sys.modules if m.split('.')[0] in {WEB} or m.startswith({WEB})]))"
    )
    words = [word.format(folder) for word in words]
    run = subprocess.run([sys.executable, "-c", code, *words], capture_output=True, text=True, check=True, timeout=60)
    assert json.loads(run.stdout.splitlines()[-1]) == []


def test_the_pages_are_ready_soon(running: Callable[..., Running]) -> None:
    began = time.perf_counter()
    one = running()
    ask(f"http://127.0.0.1:{one.port}/login")
    assert time.perf_counter() - began < 6.0
