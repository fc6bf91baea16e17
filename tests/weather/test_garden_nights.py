"""The garden's thermometer against the station by season and clear nights, and its error in the odds."""

from __future__ import annotations

import csv
import gzip
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from weather_files import invented_record

from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.garden import nightly_offsets, teach_site
from kailyard.weather.record import DailyRecord, read_only

RECORD = invented_record(date(2005, 1, 1), date(2026, 6, 11))
TODAY = date(2026, 6, 12)


def nights(record: DailyRecord, last: date, n: int) -> list[int]:
    base = (last - record.first).days
    return [i for i in range(base - n, base) if record.tmin_c[i] <= 10]


def read(record: DailyRecord, at: list[int], offset: np.ndarray) -> dict[date, float]:
    return {record.first + timedelta(days=i): float(record.tmin_c[i] + offset[i]) for i in at}


def test_a_known_difference_by_season_and_clear_nights_is_found_again() -> None:
    month = np.array([(RECORD.first + timedelta(days=i)).month for i in range(len(RECORD))])
    span = RECORD.tmax_c - RECORD.tmin_c
    limit = np.array([np.quantile(span[month == m], 2 / 3) for m in range(1, 13)])[month - 1]
    spring = np.isin(month, [3, 4, 5])
    noise = np.random.default_rng(1).normal(0, 0.8, len(RECORD))
    true = -1.0 - 1.2 * spring - 1.5 * (span > limit) + noise
    site = teach_site(RECORD, read(RECORD, nights(RECORD, TODAY, 1500), true), stated_c=0.0)
    assert site.clear_c == pytest.approx(-1.5, abs=0.2)
    winter, springs, _, autumn = site.by_season_c
    assert springs - winter == pytest.approx(-1.2, abs=0.25)
    assert springs - autumn == pytest.approx(-1.2, abs=0.25)
    assert site.error_c < 0.1
    assert any("clear nights" in n for n in site.notes)


def test_few_readings_move_season_and_clear_nights_hardly() -> None:
    at = nights(RECORD, TODAY, 120)[:3]
    site = teach_site(RECORD, read(RECORD, at, np.full(len(RECORD), -4.0)), stated_c=0.0)
    assert max(map(abs, site.by_season_c)) < 0.01
    assert site.clear_c == pytest.approx(0, abs=0.01)
    many = teach_site(RECORD, read(RECORD, nights(RECORD, TODAY, 900), np.full(len(RECORD), -4.0)), stated_c=0.0)
    assert many.error_c < site.error_c / 2


def test_the_error_goes_into_the_odds_of_what_is_to_come_and_not_of_what_is_past() -> None:
    ensemble = build_ensemble(RECORD, today=TODAY, start=TODAY - timedelta(days=60))
    site = teach_site(RECORD, {}, stated_c=-1.0)
    offsets = nightly_offsets(site, ensemble)
    assert offsets.shape == ensemble.tmin_c.shape
    np.testing.assert_allclose(offsets[:, :60], -1.0)
    ahead = offsets[:, 60:]
    assert (ahead == ahead[:, :1]).all()
    assert ahead.mean() == pytest.approx(-1.0)
    assert ahead[:, 0].std() == pytest.approx(site.error_c, rel=0.05)


def test_clear_nights_are_those_of_a_large_range_in_each_possible_season() -> None:
    month = np.array([(RECORD.first + timedelta(days=i)).month for i in range(len(RECORD))])
    span = RECORD.tmax_c - RECORD.tmin_c
    limit = np.array([np.quantile(span[month == m], 2 / 3) for m in range(1, 13)])[month - 1]
    at = nights(RECORD, TODAY, 1500)
    site = teach_site(RECORD, read(RECORD, at, -2.0 * (span > limit)), stated_c=0.0)
    ensemble = build_ensemble(RECORD, today=TODAY, start=TODAY)
    offsets = nightly_offsets(site, ensemble)
    wide = ensemble.tmax_c - ensemble.tmin_c > 10
    narrow = ensemble.tmax_c - ensemble.tmin_c < 6
    assert offsets[wide].mean() < offsets[narrow].mean() - 1.5


@pytest.mark.shared
def test_one_springs_readings_near_the_ground_foretell_the_next_years_at_de_bilt(shared: Path) -> None:
    # KNMI 260: minimum at 10 cm against that at 1.5 m, as a hollow against a station; each year from 60 nights before.
    file = shared / "data" / "weather" / "knmi_260_de_bilt_1980_2019.csv.gz"
    rows = list(csv.DictReader(gzip.decompress(file.read_bytes()).decode().splitlines()))
    low, high, ground = (
        np.array([float(r[c]) if r[c] else np.nan for r in rows]) for c in ("tmin_c", "tmax_c", "tmin_10cm_c")
    )
    record = DailyRecord(date(1980, 1, 1), read_only(low), read_only(high), read_only(low * np.nan))
    plain, finer, within = [], [], []
    for year in range(1985, 2019):
        at = [i for i in nights(record, date(year, 5, 31), 60) if not np.isnan(ground[i])]
        readings = {record.first + timedelta(days=i): float(ground[i]) for i in at}
        site = teach_site(record, readings, stated_c=0.0)
        first, last = ((date(year + 1, m, d) - record.first).days for m, d in ((3, 1), (5, 31)))
        spring = slice(first, last)
        month = np.array([(record.first + timedelta(days=i)).month - 1 for i in range(first, last)])
        clear = (high - low)[spring] > np.array(site.clear_range_c)[month]
        said = site.offset_c + site.by_season_c[1] + site.clear_c * (clear - site.clear_share)
        came = (ground - low)[spring]
        plain.append(np.nanmean(np.abs(came - site.offset_c)))
        finer.append(np.nanmean(np.abs(came - said)))
        within.append(abs(np.nanmean(came) - said.mean()) < 2 * site.error_c)
    assert np.mean(finer) < 0.95 * np.mean(plain)
    assert np.mean(within) > 0.75
