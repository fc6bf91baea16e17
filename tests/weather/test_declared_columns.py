"""Any daily table with declared columns and units."""

from __future__ import annotations

import gzip
import math
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weather_files import invented_record

from kailyard.errors import DataError, UsageError
from kailyard.weather.judge import DUPLICATE_DIFFERS, DUPLICATE_SAME, GAP
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.readers import mapped_csv
from kailyard.weather.reading import read_record
from kailyard.weather.record import DailyRecord

PLAIN = ColumnMap("day", "low", "high", "rain")


def read(text: str, columns: ColumnMap = PLAIN) -> DailyRecord:
    return read_record(text.encode(), ReadOptions(name="own.csv", columns=columns))


def table(*rows: str, header: str = "day,low,high,rain") -> str:
    return "\n".join([header, *rows]) + "\n"


def test_fahrenheit_and_inches_become_celsius_and_millimetres() -> None:
    # 32 °F is 0 °C, 212 - 180/2 = 122 °F is 50 °C, an inch is 25.4 mm: by definition of the units.
    us = ColumnMap("day", "low", "high", "rain", temperature_unit="F", rain_unit="in")
    record = read(table("2020-01-01,32,122,1", "2020-01-02,-40,50,T"), us)
    assert record.tmin_c.tolist() == [0.0, -40.0]
    assert record.tmax_c.tolist() == [50.0, 10.0]
    assert record.rain_mm.tolist() == [25.4, 0.0]


def test_tenths_are_tenths() -> None:
    tenths = ColumnMap("day", "low", "high", "rain", temperature_unit="tenths C", rain_unit="tenths mm")
    record = read(table("2020-01-01,-15,122,254"), tenths)
    assert (record.tmin_c[0], record.tmax_c[0]) == (-1.5, 12.2)
    assert record.rain_mm[0] == pytest.approx(25.4)


@pytest.mark.parametrize(
    ("date_format", "written"),
    [
        ("%Y%m%d", "20200229"),
        ("%d/%m/%Y", "29/02/2020"),
        ("%m/%d/%Y", "2/29/2020"),
        ("%d.%m.%Y 00:00", "29.2.2020 00:00"),
    ],
)
def test_dates_are_read_as_declared(date_format: str, written: str) -> None:
    columns = ColumnMap("day", "low", "high", date_format=date_format)
    assert read(f"day,low,high\n{written},1,2\n", columns).first == date(2020, 2, 29)


def test_the_29th_of_february_of_a_common_year_is_unreadable() -> None:
    record = read(table("2019-02-28,1,2,0", "2019-02-29,1,2,0", "2019-03-01,1,2,0"))
    (aside,) = record.set_aside
    assert (aside.line, aside.day, aside.value) == (3, None, "2019-02-29")
    assert aside.rule.startswith("unreadable date")
    assert len(record) == 2


def test_semicolons_decimal_commas_and_a_preamble() -> None:
    columns = ColumnMap("Tag", "Tn", "Tx", delimiter=";", decimal=",", header_line=3)
    record = read("Netherwick\ninvented\nTag;Tn;Tx\n2020-01-01;-1,5;3,25\n", columns)
    assert (record.tmin_c[0], record.tmax_c[0]) == (-1.5, 3.25)


def test_each_bad_line_is_named_with_line_day_value_and_rule() -> None:
    record = read(
        table(
            "2020-01-01,1,5,0",
            "2020-01-02,one,5,0",
            "2020-01-03,1,5,-3",
            "2020-01-04,1,5",
            "2020-01-05,1,5,0",
            "2020-01-05,1,5,0",
            "2020-01-06,1,5,0",
            "2020-01-06,2,5,0",
            "2020-01-09,1_0,nan,1e999",
            "2020-01-10,1,5,0",
        )
    )
    said = [(a.line, a.day and a.day.day, a.value, a.rule.split(",")[0]) for a in record.set_aside]
    same, differ = DUPLICATE_SAME.split(",")[0], DUPLICATE_DIFFERS.split(",")[0]
    assert sorted(said) == sorted(
        [
            (0, 4, "1 day", GAP),
            (0, 7, "2 days", GAP),
            (3, 2, "minimum one", "not a number"),
            (4, 3, "rain -3 (-3 mm)", "outside the possible"),
            (5, None, "3 of 4 fields", "line cut short"),
            (7, 5, "minimum 1", same),
            (7, 5, "maximum 5", same),
            (7, 5, "rain 0", same),
            (8, 6, "minimum 1", differ),
            (8, 6, "maximum 5", differ),
            (8, 6, "rain 0", differ),
            (9, 6, "minimum 2", differ),
            (9, 6, "maximum 5", differ),
            (9, 6, "rain 0", differ),
            (10, 9, "minimum 1_0", "not a number"),
            (10, 9, "maximum nan", "not a number"),
            (10, 9, "rain 1e999 (inf mm)", "outside the possible"),
        ]
    )
    assert np.flatnonzero(~np.isnan(record.tmin_c)).tolist() == [0, 2, 4, 9]


def test_columns_that_are_not_there_are_named_with_those_that_are() -> None:
    with pytest.raises(DataError) as caught:
        read(table("2020-01-01,1,5,0"), ColumnMap("date", "low", "max", "rain"))
    assert caught.value.problems == (
        "own.csv:1: no column 'date'. Columns found: 'day', 'low', 'high', 'rain'.",
        "own.csv:1: no column 'max'. Columns found: 'day', 'low', 'high', 'rain'.",
    )


def test_a_column_that_stands_twice_is_not_chosen_from() -> None:
    with pytest.raises(DataError, match="2 columns 'low'"):
        read("day,low,low,high\n2020-01-01,1,2,5\n", ColumnMap("day", "low", "high"))


def test_without_declared_columns_the_reader_asks_for_them() -> None:
    with pytest.raises(DataError, match=r"own.csv:1: say which column is what.*'day', 'low', 'high', 'rain'"):
        read_record(table("2020-01-01,1,5,0").encode(), ReadOptions(name="own.csv"))


def as_csv(record: DailyRecord, temperature: str, rain: str) -> str:
    to = {"C": lambda v: v, "F": lambda v: v * 1.8 + 32, "tenths C": lambda v: v * 10}[temperature]
    fall = {"mm": 1.0, "in": 1 / 25.4, "tenths mm": 10.0}[rain]
    rows = zip(record.tmin_c, record.tmax_c, record.rain_mm, strict=True)
    return table(
        *(
            f"{record.first + timedelta(days=i)},{to(a):.6f},{to(b):.6f},{r * fall:.6f}"
            for i, (a, b, r) in enumerate(rows)
        )
    )


TWO_YEARS = invented_record(date(2018, 1, 1), date(2019, 12, 31))


@pytest.mark.parametrize(
    ("written", "declared"),
    [("F", "C"), ("tenths C", "C"), ("tenths C", "F"), ("C", "F"), ("C", "tenths C"), ("F", "tenths C")],
)
def test_a_wrong_temperature_unit_is_refused(written: str, declared: str) -> None:
    with pytest.raises(DataError, match=f"nit.*{declared}"):
        read(as_csv(TWO_YEARS, written, "mm"), ColumnMap("day", "low", "high", "rain", temperature_unit=declared))


def test_the_refusal_counts_and_names_the_unit_that_would_be_possible() -> None:
    warm = table(*(f"2020-06-{d:02d},60,{70 + d},0" for d in range(1, 31)))
    with pytest.raises(DataError) as caught:
        read(warm)
    said = str(caught.value)
    assert said.startswith("own.csv:2: 30 of 30 minimum values are outside the possible")
    assert "As 'F' they would be possible" in said


def test_rain_in_millimetres_declared_as_inches_is_refused() -> None:
    with pytest.raises(DataError, match="unit declared for rain: in"):
        read(as_csv(TWO_YEARS, "C", "mm"), ColumnMap("day", "low", "high", "rain", rain_unit="in"))


@pytest.mark.parametrize("temperature", ["C", "F", "tenths C"])
@pytest.mark.parametrize("rain", ["mm", "in", "tenths mm"])
def test_the_right_unit_is_read_back(temperature: str, rain: str) -> None:
    columns = ColumnMap("day", "low", "high", "rain", temperature_unit=temperature, rain_unit=rain)
    record = read(as_csv(TWO_YEARS, temperature, rain), columns)
    assert record.set_aside == ()
    np.testing.assert_allclose(record.tmin_c, TWO_YEARS.tmin_c, atol=1e-5)
    np.testing.assert_allclose(record.tmax_c, TWO_YEARS.tmax_c, atol=1e-5)
    np.testing.assert_allclose(record.rain_mm, TWO_YEARS.rain_mm, atol=2e-5)


value = st.one_of(st.none(), st.floats(-60, 50))


@given(
    first=st.dates(date(1700, 1, 1), date(2190, 1, 1)),
    cells=st.lists(st.tuples(value, st.floats(0, 7), value), min_size=1),
)
@settings(max_examples=60, deadline=None)
def test_any_values_written_are_read_back_exactly(
    first: date, cells: list[tuple[float | None, float, float | None]]
) -> None:
    def text(v: float | None) -> str:
        return "" if v is None else repr(v)

    highs = [None if a is None else a + d for a, d, _ in cells]
    rains = [None if r is None else abs(r) for _, _, r in cells]
    rows = [
        f"{first + timedelta(days=i)},{text(a)},{text(b)},{text(r)}"
        for i, ((a, _, _), b, r) in enumerate(zip(cells, highs, rains, strict=True))
    ]
    if all(v is None for a, _, r in cells for v in (a, r)):
        with pytest.raises(DataError, match="no usable day"):
            read(table(*rows))
        return
    # The reader alone: judging the whole record may well set such weather aside.
    record = mapped_csv.read(table(*rows).encode(), ReadOptions(name="own.csv", columns=PLAIN))
    at = (record.first - first).days
    for column, wanted in ((record.tmin_c, [c[0] for c in cells]), (record.tmax_c, highs), (record.rain_mm, rains)):
        got = [None] * at + [None if math.isnan(v) else v for v in column.tolist()]
        assert got + [None] * (len(cells) - len(got)) == wanted


def test_a_map_is_one_line_that_reads_back() -> None:
    text = "date=day; tmin=low; tmax=high; rain=fall; temperature_unit=tenths C; delimiter=tab; header_line=2"
    columns = ColumnMap.parse(text)
    assert columns == ColumnMap(
        "day", "low", "high", "fall", temperature_unit="tenths C", delimiter="\t", header_line=2
    )
    assert ColumnMap.parse(str(columns)) == columns
    odd = ColumnMap("day", "low", "high", missing=("", "x", "-99"), delimiter=";", decimal=",", date_format="%d.%m.%Y")
    assert ColumnMap.parse(str(odd)) == odd


@pytest.mark.parametrize(
    "text",
    [
        "date=day; tmin=low",
        "date=day; tmin=low; tmax=high; colour=red",
        "date=day; tmin=low; tmax=high; temperature_unit=K",
        "date=day; tmin=low; tmax=high; rain_unit=cups",
        "date=day; tmin=low; tmax=high; date_format=%Y",
        "date=day; tmin=low; tmax=high; date_format=%Y-%m-%d %H",
        "date=day; tmin=low; tmax=high; header_line=first",
        "date=day; tmin=low; tmax=high; header_line=0",
        "date=day; tmin=low; tmax=high; delimiter=,,",
        "date day",
    ],
)
def test_a_map_that_breaks_a_rule_is_a_wrong_word(text: str) -> None:
    with pytest.raises(UsageError):
        ColumnMap.parse(text)


def test_a_gzipped_file_is_read_from_its_path(tmp_path: Path) -> None:
    path = tmp_path / "own.csv.gz"
    path.write_bytes(gzip.compress(table("2020-01-01,1,5,0").encode()))
    record = read_record(path, ReadOptions(columns=PLAIN))
    assert len(record) == 1
    assert "own.csv.gz" in record.source
