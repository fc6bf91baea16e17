"""Sums of warmth of insects: every row of the table against a plain count on the record of De Bilt."""

import csv
import gzip
import math
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from kailyard.handbook.insects import Event, events
from kailyard.science.checks import InputError
from kailyard.science.insect_phenology import day_of_total, insect_degree_days
from tests.science.reading import csv_rows


@pytest.fixture(scope="module")
def milwaukee(shared: Path) -> tuple[list[float], list[float]]:
    """Lows and highs of 2012 at Milwaukee (GHCN-Daily, USW00014839), a warm year without gaps."""

    with gzip.open(shared / _RECORD, "rt", encoding="utf-8") as file:
        rows = [r for r in csv.DictReader(file) if r["date"].startswith("2012")]
    assert len(rows) == 366
    return [float(r["tmin_c"]) for r in rows], [float(r["tmax_c"]) for r in rows]


_RECORD = "data/weather/ghcnd_USW00014839_milwaukee_1938_2026.csv.gz"
_FIRST = {"calendar": 0, "after": 31 + 29 + 31 + 30 + 20}
"""1 January; for sums from something seen, 20 May. Day 0 is 1 January."""


def _slow_day(low: float, high: float, event: Event) -> float:
    """One day's warmth: the plain average, or a sine curve added up minute by minute."""
    if event.method == "simple":
        mean = (low + high) / 2
        if event.upper_c is not None and mean > event.upper_c:
            mean = event.upper_c
        return mean - event.base_c if mean > event.base_c else 0.0
    total, steps = 0.0, 720
    for k in range(steps):
        warm = (low + high) / 2 + (high - low) / 2 * math.sin(2 * math.pi * (k + 0.5) / steps)
        value = max(warm - event.base_c, 0.0)
        if event.upper_c is not None and warm > event.upper_c:
            over = warm - event.upper_c
            value -= 2 * over if event.method == "sine intermediate" else over
        total += value / steps
    return total


def test_every_row_of_the_table_against_a_plain_count(milwaukee: tuple[list[float], list[float]]) -> None:
    low, high = milwaukee
    counted = Counter[str]()
    for event in events():
        if event.counts == "no":
            # Not computed: no sum, no sure base, or a note that forbids it.
            assert not event.base_c or not event.high or event.note or not event.start, event
            counted["not counted"] += 1
            continue
        first = _FIRST[event.counts]
        warmth = insect_degree_days(low, high, lower_c=event.base_c, upper_c=event.upper_c, way=event.method)
        for total in {event.low, event.high}:
            got = day_of_total(warmth, first_day=first, total=total)
            run, day = 0.0, first
            while day < 366:
                run += _slow_day(low[day], high[day], event)
                if run >= total - 0.02:
                    break
                day += 1
            if day == 366:
                assert np.isnan(got), event
            elif run < total + 0.02:
                assert got in (day, day + 1), event  # so near to the sum that the two counts may part by a day
            else:
                assert got == day, event
        counted[event.counts] += 1
    assert counted == {"calendar": 26, "after": 58, "not counted": 16}


def test_the_table_is_the_reference_folders_row_for_row(shared: Path) -> None:
    rows = csv_rows(shared / "reference/troubles/insects-degree-days.csv")
    assert len(rows) == len(events()) == 100
    for row, event in zip(rows, events(), strict=True):
        assert (row["insect_id"], row["event"], row["start"]) == (event.insect, event.event, event.start)
        sums = [float(row[c]) for c in ("dd_c", "dd_c_low", "dd_c_high") if row[c]]
        assert {event.low, event.high} <= {*sums, 0.0}
        assert event.base_c == float(row["base_c"] or 0)
        assert event.upper_c == (float(row["upper_c"]) if row["upper_c"] else None)
        assert event.status == row["status"]
        if "sine" in row["note"] and not row["note"].startswith("simple average") and event.counts != "no":
            assert event.method != "simple" or "not a simple" not in row["note"], row
        if "do not" in row["note"]:
            assert event.counts == "no", row


def test_what_is_printed_in_fahrenheit_is_the_same_sum(shared: Path) -> None:
    # A sum in °F is 9/5 of that in °C; the tables print whole °F.
    seen = 0
    for event in events():
        if event.printed_f.isdigit() and event.low == event.high:
            assert event.low == pytest.approx(float(event.printed_f) / 1.8, abs=0.51), event
            seen += 1
    assert seen >= 35


def test_a_sum_begins_on_its_own_day_and_not_before() -> None:
    # Worked out by hand: 4 + 5 + 6 + 7 of warmth.
    warmth = [4.0, 5.0, 6.0, 7.0]
    assert day_of_total(warmth, first_day=0, total=9) == 1
    assert day_of_total(warmth, first_day=1, total=10) == 2
    assert day_of_total([warmth, [0.0] * 4], first_day=[1, 1], total=[11, 11])[0] == 2
    assert np.isnan(day_of_total([0.0] * 4, first_day=0, total=1))
    assert np.isnan(day_of_total(warmth, first_day=9, total=0))
    with pytest.raises(InputError, match="run of days"):
        day_of_total(3.0, first_day=0, total=1)


def test_the_three_ways_part_where_they_should() -> None:
    # A cold night and a warm day: the mean lies below the base, the sine counts the afternoon (Zalom et al. 1983).
    simple = insect_degree_days([0.0], [18.0], lower_c=10.0)
    sine = insect_degree_days([0.0], [18.0], lower_c=10.0, way="sine")
    assert simple[0] == 0 < sine[0]
    hot = insect_degree_days([20.0], [40.0], lower_c=12.6, upper_c=33.3, way="sine")
    hotter = insect_degree_days([20.0], [40.0], lower_c=12.6, upper_c=33.3, way="sine intermediate")
    assert hotter[0] < hot[0]
