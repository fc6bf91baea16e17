"""How fast the science works through 40 years x 365 days x 200 sites, beside the machine's own speed of copying.

    python benchmarks/science.py [--rounds 7]

Every job runs once a round, so that all of them meet the same neighbours on a busy machine; the best round is quoted
and the median stands beside it. Rates are millions of days at a site (cell-days) a second. A job's share of the copy
bandwidth counts the bytes that it cannot avoid: each input read once, the answer written once. pyet and refet are run
where they can be imported (`make speed`), the kernels where numba is there (extra `fast`).
"""

from __future__ import annotations

import argparse
import os
import statistics
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from importlib.util import find_spec
from typing import Any

import numpy as np

from kailyard.science import degree_days, evapotranspiration, fast, soil_water_balance

SHAPE = (40, 365, 200)
CELLS = 40 * 365 * 200
LOWER_C, UPPER_C = 10.0, 30.0
COPY_DOUBLES = 32 * 1024 * 1024
"""256 MB from one place to another: more than any cache holds."""
BED = {"kc": 1.0, "total_available_mm": 120.0, "easy_fraction": 0.45}
BYTES = {"ET0": 48, "sine": 24, "water": 24}


@dataclass
class Job:
    """One thing that is timed."""

    subject: str
    says: str
    cores: int
    work: Callable[[], Any]
    seconds: list[float] = field(default_factory=list)

    @property
    def best(self) -> float:
        return min(self.seconds)


def weather() -> dict[str, np.ndarray]:
    """Invented, but of the sizes that occur."""
    draw = np.random.default_rng(40)
    tmin = draw.uniform(-15, 20, SHAPE)
    return {
        "tmin_c": tmin,
        "tmax_c": tmin + draw.uniform(1, 18, SHAPE),
        "vapour_pressure_kpa": evapotranspiration.saturation(tmin) * draw.uniform(0.7, 1, SHAPE),
        "radiation_mj_m2": draw.uniform(1, 30, SHAPE),
        "wind_2m_m_s": draw.uniform(0.3, 7, SHAPE),
    }


def place() -> dict[str, np.ndarray]:
    """Spread only as far as it varies."""
    return {
        "latitude_deg": np.linspace(30, 60, SHAPE[2]),
        "day_of_year": np.arange(1.0, 366.0)[:, None],
        "elevation_m": np.linspace(0, 1500, SHAPE[2]),
    }


def sine_expression(low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """The single sine as one writes it in numpy, without stretches or views: what the ratio is taken to."""
    mean, amplitude = (high + low) / 2, (high - low) / 2

    def above(threshold: float) -> np.ndarray:
        x = np.clip((threshold - mean) / amplitude, -1, 1)
        half_span = np.arccos(x)
        return ((mean - threshold) * half_span + amplitude * np.sqrt(1 - x * x)) / np.pi

    return above(LOWER_C) - above(UPPER_C)


def halves(work: Callable[[slice], Any]) -> Callable[[], Any]:
    """`work` on each half of the years, in a thread of its own."""
    years = SHAPE[0] // 2
    return lambda: list(POOL.map(work, (slice(0, years), slice(years, None))))


POOL = ThreadPoolExecutor(2)


def plain_jobs(w: dict[str, np.ndarray], p: dict[str, np.ndarray], et0: np.ndarray, rain: np.ndarray) -> list[Job]:
    low, high = w["tmin_c"], w["tmax_c"]

    def et(s: slice) -> Any:
        return evapotranspiration.fao_reference_et_mm(**{k: v[s] for k, v in w.items()}, **p)

    def sine(s: slice) -> Any:
        return degree_days.single_sine_degree_days(low[s], high[s], lower_c=LOWER_C, upper_c=UPPER_C)

    # As numpy likes it: days first in memory, a view with days last as the function wants them.
    et0_days, rain_days = (np.ascontiguousarray(np.moveaxis(x, 1, 0)) for x in (et0, rain))

    def water(s: slice) -> Any:
        return soil_water_balance.root_zone_balance(
            np.moveaxis(et0_days[:, s], 0, -1),
            rain_mm=np.moveaxis(rain_days[:, s], 0, -1),
            **BED,
        )

    whole = slice(None)
    return [
        Job("ET0", "plain path", 1, lambda: et(whole)),
        Job("ET0", "plain path", 2, halves(et)),
        Job("sine", "numpy expression", 1, lambda: sine_expression(low, high)),
        Job("sine", "plain path", 1, lambda: sine(whole)),
        Job("sine", "plain path", 2, halves(sine)),
        Job("water", "plain path (four answers, all inputs)", 1, lambda: water(whole)),
    ]


def fast_jobs(w: dict[str, np.ndarray], p: dict[str, np.ndarray], et0: np.ndarray, rain: np.ndarray) -> list[Job]:
    jobs = []
    out = np.empty(SHAPE)
    for cores in (1, 2):
        how: dict[str, Any] = {"always": True, "cores": cores, "out": out}
        works = {
            "ET0": lambda how=how: fast.fao_reference_et_mm(**w, **p, **how),
            "sine": lambda how=how: fast.single_sine_degree_days(
                w["tmin_c"], w["tmax_c"], lower_c=LOWER_C, upper_c=UPPER_C, **how
            ),
            "water": lambda how=how: fast.root_zone_depletion_mm(et0, rain, **BED, **how),
        }
        jobs += [Job(subject, "fast", cores, work) for subject, work in works.items()]
    return jobs


def peer_jobs(w: dict[str, np.ndarray], p: dict[str, np.ndarray]) -> list[Job]:
    """General libraries of the field, as their papers have them used; on one core."""
    jobs = []
    if find_spec("pyet") and find_spec("xarray"):
        import pandas as pd
        import pyet
        import xarray as xr

        every = pd.date_range("2001-01-01", periods=SHAPE[0] * 366 * 2)
        # Years of 365 days, so that the day of the year means the same to both: leap years are left out whole.
        days = every[~every.is_leap_year][: SHAPE[0] * SHAPE[1]]
        series = {
            k: xr.DataArray(v.reshape(-1, SHAPE[2]), dims=("time", "site"), coords={"time": days}) for k, v in w.items()
        }
        latitude = xr.DataArray(np.deg2rad(p["latitude_deg"]), dims="site")
        height = xr.DataArray(p["elevation_m"], dims="site")

        def pyet_et() -> Any:
            low, high = series["tmin_c"], series["tmax_c"]
            return pyet.pm_fao56(
                (low + high) / 2,
                series["wind_2m_m_s"],
                rs=series["radiation_mj_m2"],
                tmax=high,
                tmin=low,
                ea=series["vapour_pressure_kpa"],
                elevation=height,
                lat=latitude,
            )

        jobs.append(Job("ET0", f"pyet {pyet.__version__}", 1, pyet_et))
    if find_spec("refet"):
        import refet

        days_of_year = np.broadcast_to(p["day_of_year"], SHAPE)

        def refet_et() -> Any:
            return refet.Daily(
                tmin=w["tmin_c"],
                tmax=w["tmax_c"],
                ea=w["vapour_pressure_kpa"],
                rs=w["radiation_mj_m2"],
                uz=w["wind_2m_m_s"],
                zw=2,
                elev=p["elevation_m"],
                lat=p["latitude_deg"],
                doy=days_of_year,
                input_units={},
            ).eto()

        jobs.append(Job("ET0", "refet", 1, refet_et))
    return jobs


def copy_jobs() -> list[Job]:
    """One array into another, as numpy copies."""
    source, target = np.ones(COPY_DOUBLES), np.empty(COPY_DOUBLES)
    half = COPY_DOUBLES // 2

    def part(s: slice) -> None:
        np.copyto(target[s], source[s])

    return [
        Job("copy", "numpy copy, 256 MB", 1, lambda: part(slice(None))),
        Job("copy", "numpy copy, 256 MB", 2, lambda: list(POOL.map(part, (slice(0, half), slice(half, None))))),
    ]


def deviations(
    w: dict[str, np.ndarray], p: dict[str, np.ndarray], et0: np.ndarray, rain: np.ndarray, peers: list[Job]
) -> list[str]:
    """What the speed costs, and what the peers say of the same days."""
    plain = evapotranspiration.fao_reference_et_mm(**w, **p)
    american = evapotranspiration.asce_reference_et_mm(**w, **p)
    lines = []
    for job in peers:
        other = np.asarray(job.work()).reshape(SHAPE)
        # Both hold cloudiness at 0.3 or more, as the American standard does; pyet gives 0 for what is less.
        beside = american if job.says == "refet" else np.maximum(american, 0)
        lines.append(f"ET0: {job.says} differs from the same formula here by {np.abs(other - beside).max():.3g} mm.")
    if find_spec("numba"):
        quick = fast.fao_reference_et_mm(**w, **p, always=True)
        lines.append(f"ET0: fast differs from the plain path by {np.abs(quick - plain).max():.1e} mm at most.")
        both = w["tmin_c"], w["tmax_c"]
        sine = degree_days.single_sine_degree_days(*both, lower_c=LOWER_C, upper_c=UPPER_C)
        quick = fast.single_sine_degree_days(*both, lower_c=LOWER_C, upper_c=UPPER_C, always=True)
        lines.append(f"sine: fast differs from the plain path by {np.abs(quick - sine).max():.1e} °C·d at most.")
        quick = fast.root_zone_depletion_mm(et0, rain, **BED, always=True)
        days_last = (np.swapaxes(x, 1, 2) for x in (et0, rain))
        bucket = soil_water_balance.root_zone_balance(next(days_last), rain_mm=next(days_last), **BED).depletion_mm
        off = np.abs(quick - np.swapaxes(bucket, 1, 2)).max()
        lines.append(f"water: fast differs from the plain path by {off:.1e} mm at most.")
    return lines


def bars(jobs: list[Job]) -> list[str]:
    """Each promise, what was measured, and whether it was met in this run."""
    best = {(j.subject, j.says.split(" ")[0], j.cores): CELLS / j.best / 1e6 for j in jobs if j.subject != "copy"}
    plain, quick, peer = best[("ET0", "plain", 1)], best.get(("ET0", "fast", 1)), best.get(("ET0", "pyet", 1))
    lines = []

    def bar(says: str, got: float, wanted: float, unit: str) -> None:
        lines.append(f"{'met    ' if got >= wanted else 'NOT MET'}  {says}: {got:.1f} {unit}, wanted {wanted:g}")

    if peer:
        bar("plain ET0 against pyet", plain / peer, 2, "times")
    if (other := best.get(("ET0", "refet", 1))) is not None:
        bar("plain ET0 against refet", plain / other, 1, "times")
    if quick:
        if peer:
            bar("fast ET0 against pyet", quick / peer, 40, "times")
        else:
            bar("fast ET0, where pyet is not here to be run: 40 times 4.5 M/s", quick, 180, "M/s")
        bar(
            "fast single sine against the numpy expression",
            best[("sine", "fast", 1)] / best[("sine", "numpy", 1)],
            10,
            "times",
        )
        bar("fast soil water, one core", best[("water", "fast", 1)], 500, "M/s")
    return lines


def main() -> None:
    """Print the table, the deviations and the bars."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rounds", type=int, default=7)
    rounds = parser.parse_args().rounds
    w, p = weather(), place()
    draw = np.random.default_rng(41)
    et0 = draw.uniform(0, 7, SHAPE)
    rain = np.where(draw.random(SHAPE) < 0.3, draw.gamma(1, 8, SHAPE), 0.0)
    peers = peer_jobs(w, p)
    jobs = [*copy_jobs(), *plain_jobs(w, p, et0, rain), *peers]
    if find_spec("numba"):
        jobs += fast_jobs(w, p, et0, rain)
    for job in jobs:
        job.work()  # once for nothing: compiling, first touch of memory
    for _ in range(rounds):
        for job in jobs:
            start = time.perf_counter()
            job.work()
            job.seconds.append(time.perf_counter() - start)
    copied = {j.cores: 16 * COPY_DOUBLES / j.best / 1e9 for j in jobs if j.subject == "copy"}
    print(f"{CELLS:,} cell-days; {os.cpu_count()} processors, load {os.getloadavg()[0]:.1f}; best of {rounds} rounds")
    for cores, rate in copied.items():
        print(f"copying, {cores} thread{'s' * (cores > 1)}: {rate:.1f} GB/s read and written")
    print(f"\n{'':7}{'':40}{'cores':>6}{'best M/s':>10}{'median':>8}{'GB/s':>7}{'of copying':>12}")
    for subject in BYTES:
        for job in (j for j in jobs if j.subject == subject):
            rate, median = CELLS / job.best / 1e6, CELLS / statistics.median(job.seconds) / 1e6
            moved = rate * BYTES[subject] / 1e3
            share = moved / copied[job.cores]
            print(f"{subject:7}{job.says:40}{job.cores:6}{rate:10.1f}{median:8.1f}{moved:7.1f}{share:12.0%}")
    print("", *deviations(w, p, et0, rain, peers), "", *bars(jobs), sep="\n")


if __name__ == "__main__":
    main()
