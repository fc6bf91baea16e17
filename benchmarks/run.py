"""How long the main things take, as whole processes and warm, each beside a bare start of Python in the same run.

Quote ratios and medians: single figures differ from machine to machine. `make bench` runs it.
"""

from __future__ import annotations

import itertools
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

RUNS = 5


def whole(command: Sequence[str]) -> tuple[float, float]:
    """Median seconds and peak memory [MB] of a command as a process, after one warm-up."""
    times, peak = [], 0.0
    for _ in range(RUNS + 1):
        start = time.perf_counter()
        child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        _, status, usage = os.wait4(child.pid, 0)
        times.append(time.perf_counter() - start)
        if status != 0:
            raise SystemExit(f"{' '.join(command)} failed: {child.stderr.read().decode() if child.stderr else ''}")
        peak = max(peak, usage.ru_maxrss / 1024)
    return statistics.median(times[1:]), peak


def warm(work: Callable[[], object], runs: int = 15) -> float:
    """Median seconds of a call, after two warm-ups."""
    times = []
    for _ in range(runs + 2):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times[2:])


def demo(folder: Path, *, only: int) -> None:
    """The demo garden, its past with it, with the first `only` of this year's plantings."""
    from kailyard.demo.story import demo_entries
    from kailyard.demo.weather import demo_record
    from kailyard.store.sqlite import create_store

    entries = demo_entries()
    over = {e.target for e in entries if e.kind == "clear"}
    plantings = sorted({e.target for e in entries if e.kind == "planting"} - over)
    gone = set(plantings[only:])
    kept = [e for e in entries if e.target not in gone]
    with create_store(folder, first=kept) as store:
        store.add_weather(demo_record(), imported=min(e.written for e in entries), name="demo")


def large(folder: Path) -> None:
    """88 years of weather, 400 plantings, 20,000 entries: this year's of the demo many times over."""
    import numpy as np

    from kailyard.demo.story import demo_entries
    from kailyard.demo.weather import demo_record
    from kailyard.store.sqlite import create_store
    from kailyard.weather.record import DailyRecord

    record, entries = demo_record(), demo_entries()
    plantings = {e.target for e in entries if e.kind == "planting"} - {e.target for e in entries if e.kind == "clear"}
    told = [e for e in entries if e.target in plantings]
    out = [e for e in entries if e.target not in plantings]
    for copy in range(-(-400 // len(plantings))):
        out += (
            replace(
                e,
                id=f"{e.id}-{copy}",
                target=f"{e.target}-c{copy}",
                supersedes=f"{e.supersedes}-{copy}" if e.supersedes else "",
            )
            for e in told
        )
    works = [e for e in out if e.kind == "work"]
    out += (replace(works[n % len(works)], id=f"again-{n}") for n in range(20_000 - len(out)))
    years = 88 * 365 + 22
    columns = []
    for column in (record.tmin_c, record.tmax_c, record.rain_mm):
        # The record three times over, cut at whole years, its end where it is.
        long_column = np.concatenate([column[: 40 * 365 + 10]] * 2 + [column])[-years:]
        long_column.setflags(write=False)
        columns.append(long_column)
    long = DailyRecord(record.last - timedelta(days=years - 1), *columns, source="benchmark")
    with create_store(folder, first=out) as store:
        store.add_weather(long, imported=min(e.written for e in entries), name="benchmark")


def main() -> None:
    """Print the table."""
    kailyard = [sys.executable, "-m", "kailyard"]
    with tempfile.TemporaryDirectory() as tmp:
        small, big = Path(tmp) / "small", Path(tmp) / "big"
        # Made in a process of their own: a child's peak memory counts what its parent held when it was started.
        subprocess.run([sys.executable, __file__, str(small), str(big)], check=True)
        on = ["sheet", "--on", "2026-06-12"]
        bare, _ = whole([sys.executable, "-c", "pass"])
        rows: list[tuple[str, float, float | None, str]] = [("a bare start of Python", bare, None, "")]
        for says, command, bound in (
            ("kailyard --help", [*kailyard, "--help"], "0.25 s"),
            ("cold sheet, 40 plantings", [*kailyard, "--garden", str(small), *on], "1.5 s, 250 MB"),
            ("cold sheet, 88 years, 400 plantings, 20,000 entries", [*kailyard, "--garden", str(big), *on], "3 s"),
        ):
            seconds, peak = whole(command)
            rows.append((says, seconds, peak, bound))
        from kailyard.desk.desk import Desk
        from kailyard.desk.view import season_view
        from kailyard.season.sheet import compose
        from kailyard.season.view import foresee

        v = season_view(Desk(small), on=date(2026, 6, 12))

        picks = itertools.cycle(sorted(id_ for id_, life in v.lives.items() if life.standing))

        def engine(clocks: object, written: Iterator[int]) -> object:
            """With one more entry each time, on another planting: nothing is quick for having been asked before."""
            told = replace(v.garden.entries[-1], id=f"new-{next(written)}", kind="look", target=next(picks), payload={})
            garden = replace(v.garden, entries=(*v.garden.entries, told))
            known = {"minimum_offset_c": v.minimum_offset_c, "clocks": clocks}
            return compose(foresee(garden, v.ensemble, v.handbook, **known))

        says, number = "engine warm: foresee and compose, 40 plantings", itertools.count()
        rows.append((f"{says}, after an entry", warm(lambda: engine(v.clocks, number)), None, "60 ms"))
        rows.append((f"{says}, on new weather", warm(lambda: engine(None, number)), None, "60 ms"))
    width = max(len(row[0]) for row in rows)
    print(f"{'':{width}}  median s   bare starts   peak MB   bound")
    for says, seconds, peak, bound in rows:
        memory = "" if peak is None else f"{peak:.0f}"
        print(f"{says:{width}}  {seconds:8.3f}   {seconds / bare:11.1f}   {memory:>7}   {bound}")


if __name__ == "__main__":
    if sys.argv[1:]:
        demo(Path(sys.argv[1]), only=40)
        large(Path(sys.argv[2]))
    else:
        main()
