"""`kailyard serve --lan` as a gardener starts it, in a process of its own that can be stopped, killed and frozen."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import threading
from pathlib import Path

from lan import Lan

from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry

HERE = Path(__file__).parent
PASSPHRASE = "four words quite apart"
TODAY = "2026-06-12"
LONG_S = 90
"""How long anything is waited for: only what will never come takes so long."""


def kailyard(folder: Path, *words: str, said: str = "") -> None:
    """One command at a garden."""
    command = [sys.executable, "-m", "kailyard", "--garden", str(folder), *words]
    subprocess.run(command, input=said, text=True, check=True, capture_output=True, timeout=LONG_S)


class Server:
    """The door of one garden.

    `patient`: its pages wait long for an answer before they take it for lost. A busy machine is no weak signal; only
    what is tried with a weak one takes the patience that gardeners get.
    """

    def __init__(self, folder: Path, lan: Lan, *more: str, patient: bool = True) -> None:
        self.folder = folder
        self._prefix = lan.machine
        self._more = ("--lan", "--port", str(lan.port), "--trust-port", str(lan.trust_port), *more)
        self._patient = patient
        self.another_worker = False
        self._process: subprocess.Popen[str] | None = None
        self.start()

    @property
    def die(self) -> Path:
        """While this file is there, the next forms are kept and the server is killed before it answers."""
        return self.folder / "die-unanswered"

    def start(self) -> None:
        """Until connections are taken."""
        command = [*self._prefix, sys.executable, str(HERE / "mortal.py"), "--garden", str(self.folder), "serve"]
        told = {
            "KAILYARD_DIE": str(self.die),
            "KAILYARD_WORKER": "1" * self.another_worker,
            "KAILYARD_PATIENT": "1" * self._patient,
        }
        process = subprocess.Popen(
            [*command, *self._more],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, **told},
        )
        said = []
        assert process.stderr
        for line in process.stderr:
            said.append(line)
            if line.startswith("Ctrl-C"):
                break
        else:
            raise AssertionError("".join(said))
        self._reader = threading.Thread(target=process.stderr.read, daemon=True)
        self._reader.start()
        self._process = process

    def ended(self) -> int:
        """Wait until it has ended; its exit code."""
        assert self._process
        code = self._process.wait(LONG_S)
        self._reader.join()
        assert self._process.stderr
        self._process.stderr.close()
        self._process = None
        return code

    def stop(self) -> None:
        if self._process is not None:
            self._process.send_signal(signal.SIGCONT)
            self._process.send_signal(signal.SIGINT)
            try:
                self.ended()
            except subprocess.TimeoutExpired:
                self.kill()

    def kill(self) -> None:
        assert self._process
        self._process.kill()
        self.ended()

    def freeze(self, frozen: bool) -> None:
        """Takes connections and answers nothing, as where the signal is weak."""
        assert self._process
        self._process.send_signal(signal.SIGSTOP if frozen else signal.SIGCONT)

    def entries(self) -> tuple[Entry, ...]:
        """The daybook."""
        desk = Desk(self.folder)
        try:
            return tuple(desk.store.entries())
        finally:
            desk.close()

    def rows(self) -> int:
        """How many rows the database has for entries, by no code of ours."""
        with sqlite3.connect(f"file:{self.folder / 'garden.db'}?mode=ro", uri=True) as db:
            (count,) = db.execute("SELECT count(*) FROM entry").fetchone()
        db.close()
        return int(count)
