"""`kailyard serve --lan` as a gardener starts it, in a process of its own that can be stopped, killed and frozen."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Sequence
from pathlib import Path

from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry

HERE = Path(__file__).parent
PASSPHRASE = "four words quite apart"
PORT = 8347
TODAY = "2026-06-12"


def kailyard(folder: Path, *words: str, said: str = "") -> None:
    """One command at a garden."""
    command = [sys.executable, "-m", "kailyard", "--garden", str(folder), *words]
    subprocess.run(command, input=said, text=True, check=True, capture_output=True, timeout=60)


class Server:
    """The door of one garden."""

    def __init__(self, folder: Path, prefix: Sequence[str], *more: str) -> None:
        self.folder = folder
        self._prefix = prefix
        self._more = more
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
        process = subprocess.Popen(
            [*command, "--lan", "--port", str(PORT), *self._more], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
            text=True, env={**os.environ, "KAILYARD_DIE": str(self.die), "KAILYARD_WORKER": "1" * self.another_worker},
        )  # fmt: skip
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
        code = self._process.wait(20)
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
