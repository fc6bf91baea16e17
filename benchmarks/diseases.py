"""How long every disease model takes over 40 years of hours of one site: together under a second is promised.

    python benchmarks/diseases.py [--rounds 5]

As one run of 350,400 hours, and as 40 years beside each other. The columns that models share (wet spells, days) are
worked out anew each round. The best round is quoted and the median stands beside it; more than a second is a failure.
"""

from __future__ import annotations

import argparse
import statistics
import time

import numpy as np

from kailyard.science.disease_days import DISEASE_DAYS, DiseaseHours

YEARS, HOURS = 40, 8760
PROMISED_S = 1.0


def weather() -> dict[str, np.ndarray]:
    """Invented, but of the sizes that occur: a quarter of the hours humid, one in sixteen with rain."""
    draw = np.random.default_rng(40)
    clock = np.arange(YEARS * HOURS)
    course = np.sin(2 * np.pi * (clock - 9) / 24)
    temp = 12 + 10 * np.sin(2 * np.pi * (clock - 2800) / HOURS) + 5 * course + draw.normal(0, 1.5, len(clock))
    spells = np.repeat(draw.normal(0, 9, len(clock) // 24), 24)
    humid = np.clip(78 - 14 * course + spells + draw.normal(0, 4, len(clock)), 10, 100)
    rain = np.where(draw.random(len(clock)) < 1 / 16, draw.exponential(1.2, len(clock)), 0.0)
    light = 1.0 * ((clock % 24 >= 6) & (clock % 24 < 20))
    wet = 1.0 * ((humid >= 90) | (rain > 0))
    return {"temp_c": temp, "humidity_pct": humid, "rain_mm": rain, "wet": wet, "daylight": light}


def main() -> None:
    """Print each model's time, then all of them in either shape."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    rounds = parser.parse_args().rounds
    columns = weather()
    wet = float(columns["wet"].mean())
    print(f"{len(DISEASE_DAYS)} models, {YEARS} years of hours, {wet:.0%} of them wet")
    worst = 0.0
    for shape in ((YEARS * HOURS,), (YEARS, HOURS)):
        each: dict[str, list[float]] = {name: [] for name in DISEASE_DAYS}
        whole = []
        for _ in range(rounds + 1):
            hours = DiseaseHours(**{name: x.reshape(shape) for name, x in columns.items()})
            begun = time.perf_counter()
            for name, days in DISEASE_DAYS.items():
                start = time.perf_counter()
                days(hours)
                each[name].append(time.perf_counter() - start)
            whole.append(time.perf_counter() - begun)
        if len(shape) == 1:
            for name, seconds in each.items():
                print(f"  {name:36} {1000 * min(seconds[1:]):7.1f} ms")
        median = statistics.median(whole[1:])
        worst = max(worst, median)
        print(f"all, {' x '.join(map(str, shape)):12} best {min(whole[1:]):.3f} s, median {median:.3f} s")
    if worst > PROMISED_S:
        raise SystemExit(f"Promised was {PROMISED_S:g} s.")


if __name__ == "__main__":
    main()
