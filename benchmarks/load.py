"""Fifty readers and ten writers at once, for a minute, on two cores: no error, nothing lost, how long answers take.

`python benchmarks/load.py [SECONDS]`; `make load` runs it. The server is a process of its own; so is nothing else, so
whoever asks takes part of the same two cores. Readers look at the sheet, plantings, the daybook and the form, each with
a pause of about a second as people who tap quickly have. Writers enter by the form of the page and look where it leads
them, without any pause. At the end every entry that was answered for must stand in the store.
"""

from __future__ import annotations

import http.client
import os
import random
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import defaultdict
from functools import partial
from pathlib import Path
from urllib.parse import urlencode

from run import demo, large

READERS, WRITERS, CORES = 50, 10, 2
PAUSE_S = 1.0
READS = ("/", "/", "/enter", "/daybook", "/planting/{}")


class Device:
    """One browser: its cookie, its connection, what it measured."""

    def __init__(self, port: int, took: dict[str, list[float]]) -> None:
        self._port, self._took = port, took
        self._line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self._cookie = ""

    def ask(self, method: str, path: str, says: str, body: str | None = None) -> tuple[str, str]:
        """(where it leads, text). SystemExit where it is an error."""
        headers = {"Cookie": self._cookie} if self._cookie else {}
        if body is not None:
            headers["Content-Type"] = "application/x-www-form-urlencoded"
        start = time.perf_counter()
        self._line.request(method, path, body, headers)
        answer = self._line.getresponse()
        text = answer.read().decode()
        self._took[says].append(time.perf_counter() - start)
        if answer.status not in (200, 303):
            raise RuntimeError(f"{method} {path}: {answer.status} {text[:300]}")
        if cookie := answer.getheader("set-cookie"):
            self._cookie = cookie.partition(";")[0]
        return answer.getheader("location") or "", text


class Load:
    """What all devices share."""

    def __init__(self, port: int, seconds: float, plantings: list[str]) -> None:
        self.port, self.until, self.plantings = port, time.monotonic() + seconds, plantings
        self.took: dict[str, list[float]] = defaultdict(list)
        self.acknowledged: list[str] = []
        self.errors: list[str] = []

    def reader(self, number: int) -> None:
        """Read until time is up."""
        chance, device = random.Random(number), Device(self.port, self.took)
        while time.monotonic() < self.until:
            path = chance.choice(READS)
            device.ask("GET", path.format(chance.choice(self.plantings)), f"read {path.format('…')}")
            time.sleep(chance.uniform(0.5, 1.5) * PAUSE_S)

    def writer(self, number: int) -> None:
        """Enter and look where it leads, until time is up; the page must show the entry."""
        chance, device = random.Random(1000 + number), Device(self.port, self.took)
        _, text = device.ask("GET", "/enter", "first page")
        token = re.search(r'<meta name="token" content="([^"]*)"', text)
        assert token
        n = 0
        while time.monotonic() < self.until:
            n += 1
            id_, says = f"load-{number}-{n}", f"slug {number} {n}"
            said = {"token": token[1], "id": id_, "target": chance.choice(self.plantings)}
            if n % 2:
                said |= {"kind": "look", "found": says, "sound": ""}
            else:
                said |= {"kind": "note", "text": says, "back": "sheet"}
            to, _ = device.ask("POST", "/enter", "enter", urlencode(said))
            self.acknowledged.append(id_)
            _, text = device.ask("GET", to, "then look")
            if says not in text:
                raise RuntimeError(f"{to} does not show {says!r}")

    def run(self) -> None:
        """All at once."""
        crowd = [threading.Thread(target=self._safe, args=(self.reader, n)) for n in range(READERS)]
        crowd += [threading.Thread(target=self._safe, args=(self.writer, n)) for n in range(WRITERS)]
        for one in crowd:
            one.start()
        for one in crowd:
            one.join()

    def _safe(self, what: object, number: int) -> None:
        try:
            what(number)  # type: ignore[operator]  # one of the two above
        except Exception as err:
            self.errors.append(f"{type(err).__name__}: {err}")


def main() -> None:
    """Serve, ask, count, print."""
    seconds = float(sys.argv[1]) if sys.argv[1:] else 60.0
    large_too = "large" in sys.argv[2:]
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:CORES])
    with tempfile.TemporaryDirectory() as tmp:
        folder = Path(tmp) / "garden"
        (large if large_too else partial(demo, only=99))(folder)
        print(f"{READERS} readers and {WRITERS} writers, {seconds:.0f} s, {CORES} cores,", end=" ")
        print("400 plantings and 20,000 entries" if large_too else "the demo garden")
        raise SystemExit(_measured(folder, seconds))


def _measured(folder: Path, seconds: float) -> int:
    from kailyard.store.sqlite import open_store

    with open_store(folder) as store:
        before, plantings = len(store.entries()), sorted(store.plantings())
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    words = ["--garden", str(folder), "serve", "--port", str(port), "--today", "2026-06-12"]
    server = subprocess.Popen([sys.executable, "-m", "kailyard", *words], stdout=subprocess.DEVNULL)
    try:
        _wait_for(port)
        load = Load(port, seconds, plantings)
        load.run()
    finally:
        server.terminate()
        server.wait()
    with open_store(folder) as store:
        kept = {e.id for e in store.entries()}
    lost = [id_ for id_ in load.acknowledged if id_ not in kept]
    _print(load, seconds)
    print(f"{len(load.acknowledged)} entries answered for, {len(lost)} of them lost, {len(kept) - before} kept anew")
    print(f"{len(load.errors)} errors", *sorted(set(load.errors))[:5], sep="\n  ")
    return bool(lost or load.errors)


def _print(load: Load, seconds: float) -> None:
    rows = [
        *sorted(load.took.items()),
        ("reading, all", [t for says, ts in load.took.items() if "read" in says for t in ts]),
    ]
    rows.append(("all", [t for ts in load.took.values() for t in ts]))
    print(f"{'':24}  asked   a second   median ms   95 in 100 ms   most ms")
    for says, times in rows:
        if len(times) > 1:
            middle, high = statistics.median(times), statistics.quantiles(times, n=20)[-1]
            figures = f"{middle * 1000:9.0f}   {high * 1000:12.0f}   {max(times) * 1000:7.0f}"
            print(f"{says:24}  {len(times):5}   {len(times) / seconds:8.1f}   {figures}")


def _wait_for(port: int) -> None:
    for _ in range(200):
        try:
            socket.create_connection(("127.0.0.1", port)).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise SystemExit("The server did not begin.")


if __name__ == "__main__":
    main()
