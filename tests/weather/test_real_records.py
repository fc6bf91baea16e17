"""The two real records beside the checkout, read through declared columns."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_record
from kailyard.weather.record import DailyRecord

pytestmark = pytest.mark.shared


@pytest.fixture(scope="module")
def milwaukee(shared: Path) -> DailyRecord:
    columns = ColumnMap("date", "tmin_c", "tmax_c", "prcp_mm")
    path = shared / "data" / "weather" / "ghcnd_USW00014839_milwaukee_1938_2026.csv.gz"
    return read_record(path, ReadOptions(columns=columns))


@pytest.fixture(scope="module")
def de_bilt(shared: Path) -> DailyRecord:
    columns = ColumnMap("date", "tmin_c", "tmax_c", "rain_mm")
    return read_record(shared / "data" / "weather" / "knmi_260_de_bilt_1980_2019.csv.gz", ReadOptions(columns=columns))


def test_milwaukee_has_the_days_that_its_data_note_states(milwaukee: DailyRecord) -> None:
    # NOAA NCEI, GHCN-Daily USW00014839; counts from the README of the data folder.
    assert (milwaukee.first, milwaukee.last) == (date(1938, 4, 1), date(2026, 8, 19))
    assert len(milwaukee) == 32_283
    missing = [int(np.isnan(c).sum()) for c in (milwaukee.tmin_c, milwaukee.tmax_c, milwaukee.rain_mm)]
    assert missing == [0, 1, 138]
    assert np.isnan(milwaukee.tmax_c[(date(1939, 6, 8) - milwaukee.first).days])
    assert milwaukee.set_aside == ()


def test_de_bilt_has_the_published_days_of_each_kind(de_bilt: DailyRecord, shared: Path) -> None:
    # KNMI figures in Compendium voor de Leefomgeving (CBS, PBL, RIVM, WUR), "Meteorologische gegevens" 1990-2015.
    assert len(de_bilt) == 14_610
    assert de_bilt.set_aside == ()
    day = np.datetime64(de_bilt.first) + np.arange(len(de_bilt))
    year = day.astype("datetime64[Y]").astype(int) + 1970
    kinds = {
        "ice_days_tmax_lt0": de_bilt.tmax_c < 0,
        "frost_days_tmin_lt0": de_bilt.tmin_c < 0,
        "summer_days_tmax_ge25": de_bilt.tmax_c >= 25,
        "tropical_days_tmax_ge30": de_bilt.tmax_c >= 30,
    }
    checked = 0
    with (shared / "data" / "checks" / "de_bilt_published_years.csv").open(encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            first, _, last = row["period"].partition("-")
            span = (year >= int(first)) & (year <= int(last or first))
            years = int(last or first) - int(first) + 1
            for kind, is_so in kinds.items():
                # Printed as whole days; a mean over years is rounded to one.
                assert abs(int((is_so & span).sum()) / years - int(row[kind])) <= (0.5 if years > 1 else 0)
                checked += 1
    assert checked >= 28


def test_a_sheet_day_at_milwaukee_has_forty_whole_seasons(milwaukee: DailyRecord) -> None:
    ensemble = build_ensemble(milwaukee, today=date(2026, 6, 12), start=date(2025, 10, 1))
    assert ensemble.years == tuple(range(2025, 1985, -1))
    assert ensemble.tmin_c.shape == (40, 254 + 550)
    assert not ensemble.filled.any()
    for values in (ensemble.tmin_c, ensemble.tmax_c, ensemble.rain_mm):
        assert np.isfinite(values).all()


@pytest.mark.parametrize("place", ["milwaukee", "de_bilt"])
def test_the_trend_takes_away_most_of_the_bias_of_the_plain_past(place: str, request: pytest.FixtureRequest) -> None:
    # Mean of each of the last 15 whole years against what was foreseen for it on its 1 January.
    record: DailyRecord = request.getfixturevalue(place)
    mean = (record.tmin_c + record.tmax_c) / 2
    bias = {}
    for use_trend in (True, False):
        errors = []
        for year in range(record.last.year - 15, record.last.year):
            new_year = date(year, 1, 1)
            ensemble = build_ensemble(record, today=new_year, start=new_year, use_trend=use_trend)
            at = (new_year - record.first).days
            errors.append(ensemble.tmean_c[:, :365].mean() - np.nanmean(mean[at : at + 365]))
        bias[use_trend] = abs(float(np.mean(errors)))
    assert bias[True] < bias[False] / 2
