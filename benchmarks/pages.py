"""How long the pages take at the server, warm, on the demo and on a garden of 400 plantings and 20,000 entries.

`python benchmarks/pages.py`. The first visit of a page makes the season and is told apart.
"""

from __future__ import annotations

import gzip
import tempfile
import time
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

from run import demo, large, warm
from starlette.testclient import TestClient

from kailyard.web.app import create_app

BOUNDS_MS = {"/": 60, "/enter": 60, "/planting/": 40, "/plantings": 60, "/daybook": 60, "/daybook?find=slug": 150}


def main() -> None:
    """Print the table."""
    print(f"{'':44}  first ms   warm ms   bound   page KB, compressed")
    with tempfile.TemporaryDirectory() as tmp:
        for says, make, planting in (
            ("demo", partial(demo, only=99), "pea-2"),
            ("400 plantings, 20,000 entries", large, "pea-2-c0"),
        ):
            folder = Path(tmp) / planting
            make(folder)
            app = create_app(folder, clock=lambda: datetime(2026, 6, 12, 14, 0, tzinfo=UTC))
            with TestClient(app, base_url="http://localhost") as client:
                for path, bound in BOUNDS_MS.items():
                    _row(client, f"{path}{planting}" if path == "/planting/" else path, says, bound)


def _row(client: TestClient, path: str, says: str, bound: int) -> None:
    start = time.perf_counter()
    answer = client.get(path)
    first = time.perf_counter() - start
    if answer.status_code != 200:
        raise SystemExit(f"{path}: {answer.status_code} {answer.text[:300]}")
    seconds = warm(lambda: client.get(path))
    size = len(gzip.compress(answer.content, 5)) / 1000
    print(f"{path + ', ' + says:44}  {first * 1000:8.0f}  {seconds * 1000:8.1f}   {bound:5}   {size:.1f}")


if __name__ == "__main__":
    main()
