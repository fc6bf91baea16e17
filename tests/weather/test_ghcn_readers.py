"""GHCN-Daily in its three forms, on files written here in the layout that NOAA's readme prints."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weather_files import STATION, Cells, dly, long_csv, wide_csv

from kailyard.errors import DataError
from kailyard.weather.judge import DUPLICATE_DIFFERS, DUPLICATE_SAME, GAP, MINIMUM_ABOVE_MAXIMUM
from kailyard.weather.options import ReadOptions
from kailyard.weather.reading import read_record

FORMS = pytest.mark.parametrize("write", [dly, long_csv, wide_csv], ids=["dly", "long", "wide"])
Writer = Callable[..., bytes]
D = date(2020, 2, 27)


def sample() -> dict[tuple[str, date], tuple[int, str]]:
    """Five days round 29 February; the third without rain."""
    cells: dict[tuple[str, date], tuple[int, str]] = {}
    for i in range(5):
        cells["TMIN", D + timedelta(days=i)] = (-50 + 10 * i, "")
        cells["TMAX", D + timedelta(days=i)] = (30 + 10 * i, "")
        if i != 2:
            cells["PRCP", D + timedelta(days=i)] = (12 * i, "")
    return cells


@FORMS
def test_tenths_become_degrees_and_millimetres(write: Writer) -> None:
    record = read_record(write(sample()), ReadOptions(name="invented.csv"))
    assert record.first == D
    assert record.last == date(2020, 3, 2)
    assert record.tmin_c.tolist() == [-5.0, -4.0, -3.0, -2.0, -1.0]
    assert record.tmax_c.tolist() == [3.0, 4.0, 5.0, 6.0, 7.0]
    assert record.rain_mm[[0, 1, 3, 4]].tolist() == [0.0, 1.2, 3.6, 4.8]
    assert np.isnan(record.rain_mm[2])
    assert record.set_aside == ()
    assert STATION in record.source
    assert "invented.csv" in record.source
    assert not record.tmin_c.flags.writeable


@FORMS
def test_a_value_with_a_quality_flag_is_set_aside_and_named(write: Writer) -> None:
    cells = sample()
    cells["TMAX", date(2020, 2, 29)] = (490, "X")
    record = read_record(write(cells))
    assert np.isnan(record.tmax_c[2])
    assert record.tmin_c[2] == -3.0
    (aside,) = record.set_aside
    assert aside.day == date(2020, 2, 29)
    assert aside.value == "TMAX 490"
    assert aside.rule.startswith("quality flag X")
    assert aside.line > 0


def test_the_line_named_is_the_line_of_the_file() -> None:
    cells = sample()
    cells["TMAX", date(2020, 2, 29)] = (490, "X")
    # Lines 1-3 are PRCP, TMAX, TMIN of February, by the writer's order.
    assert read_record(dly(cells)).set_aside[0].line == 2
    text = long_csv(cells).decode().splitlines()
    number = next(i for i, row in enumerate(text, 1) if "20200229,TMAX" in row)
    assert read_record(long_csv(cells)).set_aside[0].line == number
    assert read_record(wide_csv(cells)).set_aside[0].line == 4


@FORMS
def test_days_that_are_absent_are_named_as_a_gap(write: Writer) -> None:
    cells = {k: v for k, v in sample().items() if k[1] not in (date(2020, 2, 28), date(2020, 2, 29))}
    (aside,) = read_record(write(cells)).set_aside
    assert (aside.line, aside.day, aside.value, aside.rule) == (0, date(2020, 2, 28), "2 days", GAP)


@FORMS
def test_a_minimum_above_the_maximum_takes_both(write: Writer) -> None:
    cells = sample()
    cells["TMIN", D] = (99, "")
    record = read_record(write(cells))
    assert np.isnan(record.tmin_c[0])
    assert np.isnan(record.tmax_c[0])
    assert record.rain_mm[0] == 0.0
    (aside,) = record.set_aside
    assert (aside.day, aside.value, aside.rule) == (D, "minimum 9.9 °C, maximum 3 °C", MINIMUM_ABOVE_MAXIMUM)


@FORMS
def test_a_file_given_twice_over_keeps_the_first_and_says_so(write: Writer) -> None:
    text = write(sample())
    lines = text.splitlines(keepends=True)
    twice = b"".join(lines + lines[1 if write is wide_csv else 0 :])
    record = read_record(twice)
    assert record.tmin_c.tolist() == [-5.0, -4.0, -3.0, -2.0, -1.0]
    assert len(record.set_aside) == 14
    assert {a.rule for a in record.set_aside} == {DUPLICATE_SAME}
    assert all(a.line > len(lines) - 1 for a in record.set_aside)


@FORMS
def test_two_lines_that_contradict_each_other_take_the_whole_day(write: Writer) -> None:
    cells, other = sample(), sample()
    other["TMAX", D] = (31, "")
    extra = write({k: v for k, v in other.items() if k[1] == D})
    record = read_record(write(cells) + (extra.split(b"\n", 1)[1] if write is wide_csv else extra))
    assert np.isnan(record.tmax_c[0]) if record.first == D else record.first == D + timedelta(days=1)
    differing = [a for a in record.set_aside if a.rule == DUPLICATE_DIFFERS]
    assert {a.day for a in differing} == {D}
    assert {"maximum 30", "maximum 31"} == {a.value for a in differing if a.value.startswith("maximum")}
    assert len(differing) == 6


@FORMS
def test_gzip_is_read_and_a_cut_one_refused(write: Writer) -> None:
    packed = gzip.compress(write(sample()))
    assert len(read_record(packed)) == 5
    with pytest.raises(DataError, match="truncated"):
        read_record(packed[: len(packed) // 2], ReadOptions(name="cut.gz"))


@FORMS
def test_two_stations_in_one_file_are_not_mixed(write: Writer) -> None:
    other = {k: (v[0] + 5, v[1]) for k, v in sample().items()}
    second = write(other, "XXI00000002")
    both = write(sample()) + (second.split(b"\n", 1)[1] if write is wide_csv else second)
    with pytest.raises(DataError, match=r"2 stations.*XXI00000001, XXI00000002"):
        read_record(both)
    assert read_record(both, ReadOptions(station="XXI00000002")).tmin_c[0] == -4.5
    with pytest.raises(DataError, match="no station 'XXI00000003'"):
        read_record(both, ReadOptions(station="XXI00000003"))


def test_the_long_form_is_read_with_a_header_too() -> None:
    assert len(read_record(long_csv(sample(), header=True))) == 5


def test_a_line_cut_short_is_set_aside_whole() -> None:
    # The cut would leave a shorter number that looks right.
    record = read_record(dly(sample())[:-10])
    (aside,) = record.set_aside
    assert aside.rule == "line cut short"
    assert len(record) == 4 or np.isnan(record.tmin_c[-1])


def test_a_day_that_the_month_has_not_is_set_aside() -> None:
    line = dly(sample()).decode().splitlines()[0]
    field = 21 + 8 * 29  # 30 February
    record = read_record("\n".join([line[:field] + "  123  W" + line[field + 8 :]]).encode())
    assert [a.rule.split(",")[0] for a in record.set_aside if a.line] == ["unreadable date"]


def test_letters_where_a_number_belongs_are_named() -> None:
    text = dly(sample()).replace(b"  -40", b"  -4O")
    (aside,) = read_record(text).set_aside
    assert (aside.day, aside.value, aside.rule) == (date(2020, 2, 28), "TMIN -4O", "not a number")


def test_a_one_day_a_line_file_with_decimals_is_refused_as_another_order() -> None:
    with pytest.raises(DataError, match=r":2: TMAX has decimals"):
        read_record(wide_csv(sample()).replace(b'"   30"', b'"  3.0"'))


@st.composite
def tenths(draw: st.DrawFn) -> Cells:
    first = draw(st.dates(date(1900, 1, 1), date(2100, 1, 1)))
    cells: dict[tuple[str, date], tuple[int, str]] = {}
    for i in range(draw(st.integers(1, 70))):
        low = draw(st.integers(-600, 500))
        day = first + timedelta(days=i)
        if draw(st.booleans()) or i == 0:
            cells["TMIN", day] = (low, "")
        if draw(st.booleans()):
            cells["TMAX", day] = (draw(st.integers(low, 560)), "")
        if draw(st.booleans()):
            cells["PRCP", day] = (draw(st.integers(0, 9999)), "")
    return cells


@FORMS
@given(cells=tenths())
@settings(max_examples=40, deadline=None)
def test_what_is_written_is_read_back_exactly(write: Writer, cells: Cells) -> None:
    record = read_record(write(cells))
    read = {}
    for element, column in (("TMIN", record.tmin_c), ("TMAX", record.tmax_c), ("PRCP", record.rain_mm)):
        for i in np.flatnonzero(~np.isnan(column)).tolist():
            read[element, record.first + timedelta(days=i)] = (round(column[i] * 10), "")
            assert column[i] == round(column[i] * 10) / 10
    # Cells drawn at random may look like a fault of the sensor: what is judged so is named, nothing else is lacking.
    judged = {a.day for a in record.set_aside if a.rule != GAP}
    assert read == {cell: value for cell, value in cells.items() if cell in read or cell[1] not in judged}
