"""How fast the water balance of 40 plantings x 40 possible seasons x 200 days is, beside pyfao56 on one of them.

    python benchmarks/care.py [--rounds 7]

Every job runs once a round; the best round is quoted and the median beside it. pyfao56 is run where it can be imported
(the environment of the peers): one planting in one season of 200 days, so that its time times 1,600 is the same work.
"""

from __future__ import annotations

import argparse
import statistics
import time
from importlib.util import find_spec
from typing import Any

import numpy as np

from kailyard.care.balance import Day, Surface, pass_day

DAYS, TRACES, PLANTINGS = 200, 40, 40
PROMISED_S = 0.150


def season() -> tuple[Day, Surface]:
    """Invented, of the sizes that occur."""
    draw = np.random.default_rng(40)
    shape = (DAYS, TRACES, PLANTINGS)
    rain = np.where(draw.random(shape) < 0.3, draw.gamma(0.8, 8.0, shape), 0.0)
    kcb = draw.uniform(0.15, 1.1, shape)
    day = Day(
        et0_mm=draw.uniform(0.5, 7.0, shape),
        rain_mm=rain,
        runoff_mm=rain * 0.1,
        kcb=kcb,
        kc_max=np.maximum(1.2, kcb + 0.05),
        cover=draw.uniform(0, 0.9, shape),
        evaporates=np.ones(shape),
        available_mm=np.sort(draw.uniform(20, 120, shape), axis=0),
        easy=np.full(PLANTINGS, 0.45),
    )
    return day, Surface(np.full(PLANTINGS, 20.0), np.full(PLANTINGS, 9.0))


def ours(day: Day, ground: Surface) -> np.ndarray:
    """Depletion at each day's end."""
    surface, depletion = np.zeros((TRACES, PLANTINGS)), np.zeros((TRACES, PLANTINGS))
    out = np.empty((DAYS, TRACES, PLANTINGS))
    for i in range(DAYS):
        passed = pass_day(Day._make((*(x[i] for x in day[:-1]), day.easy)), ground, surface, depletion)
        surface, depletion = passed.surface_mm, passed.depletion_mm
        out[i] = depletion
    return out


def theirs(day: Day) -> Any:
    """One planting in one season, by pyfao56."""
    import pandas as pd
    import pyfao56

    days = pd.date_range("2026-03-01", periods=DAYS)
    index = [f"{d.year}-{d.day_of_year:03d}" for d in days]
    weather = pyfao56.Weather()
    weather.rfcrp, weather.z, weather.lat, weather.wndht = "S", 100.0, 45.0, 2.0
    weather.wdata = pd.DataFrame(
        {
            "Srad": 20.0, "Tmax": 25.0, "Tmin": 12.0, "Vapr": np.nan, "Tdew": np.nan, "RHmax": 90.0, "RHmin": 45.0,
            "Wndsp": 2.0, "Rain": day.rain_mm[:, 0, 0], "ETref": day.et0_mm[:, 0, 0], "MorP": "M",
        },
        index=index,
    )  # fmt: skip
    return lambda: pyfao56.Model(index[0], index[-1], pyfao56.Parameters(), weather).run()


def timed(work: Any, rounds: int) -> list[float]:
    """Seconds of each round, after a warm-up."""
    work()
    out = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        out.append(time.perf_counter() - start)
    return out


def main() -> None:
    """Measure and print; a broken promise ends with status 1."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--rounds", type=int, default=7)
    rounds = parser.parse_args().rounds
    day, ground = season()
    mine = timed(lambda: ours(day, ground), rounds)
    cells = DAYS * TRACES * PLANTINGS
    print("| water balance, two coefficients | best | median | days a second |\n| --- | ---: | ---: | ---: |")
    print(
        f"| 40 plantings x 40 possible seasons x 200 days | {min(mine) * 1e3:.1f} ms | "
        f"{statistics.median(mine) * 1e3:.1f} ms | {cells / min(mine):,.0f} |"
    )
    if find_spec("pyfao56"):
        peer = timed(theirs(day), max(rounds // 2, 2))
        print(
            f"| pyfao56, one planting, one season, 200 days | {min(peer) * 1e3:.1f} ms | "
            f"{statistics.median(peer) * 1e3:.1f} ms | {DAYS / min(peer):,.0f} |"
        )
        print(
            f"\nA planting's day costs pyfao56 {min(peer) / DAYS / (min(mine) / cells):,.0f} times as much in this run."
        )
    if min(mine) > PROMISED_S:
        raise SystemExit(f"Promised {PROMISED_S * 1e3:.0f} ms.")


if __name__ == "__main__":
    main()
