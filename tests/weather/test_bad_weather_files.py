"""Files that are refused whole: each names the file, the line where there is one, and the rule."""

from __future__ import annotations

import gzip
import os
from contextlib import suppress
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from weather_files import dly, long_csv, wide_csv

from kailyard.discover import names
from kailyard.errors import DataError, NotFound
from kailyard.weather import files, judge
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_record, readers
from kailyard.weather.record import DailyRecord

COLUMNS = ColumnMap("day", "low", "high", "rain")
OPTIONS = ReadOptions(name="bad.csv", columns=COLUMNS)
HEADER = b"day,low,high,rain\n"
CELLS = {("TMIN", date(2020, 1, 1)): (10, ""), ("TMAX", date(2020, 1, 1)): (50, "")}


def refusal(data: bytes | Path, options: ReadOptions = OPTIONS) -> str:
    with pytest.raises(DataError) as caught:
        read_record(data, options)
    return str(caught.value)


def test_every_reader_has_what_the_register_asks() -> None:
    assert [r.__name__.rsplit(".", 1)[1] for r in readers()] == list(names("kailyard.weather.readers"))
    assert len({r.NAME for r in readers()}) == len(readers())
    for reader in readers():
        assert reader.NAME.lower() == reader.NAME
        assert reader.HELP
        assert isinstance(reader.NEEDS_COLUMNS, bool)
        assert reader.sniff("x", b"") is False


def test_each_form_is_known_by_exactly_its_own_reader() -> None:
    heads = {"ghcn-dly": dly(CELLS), "ghcn-long": long_csv(CELLS), "ghcn-wide": wide_csv(CELLS)}
    for name, head in heads.items():
        assert [r.NAME for r in readers() if not r.NEEDS_COLUMNS and r.sniff("x", head[:4096])] == [name]


def test_an_unknown_reader_names_the_known_ones() -> None:
    with pytest.raises(NotFound, match="ghcn-dly, ghcn-long, ghcn-wide, columns"):
        read_record(dly(CELLS), reader="almanac")


@pytest.mark.parametrize(
    ("data", "rule"),
    [
        (b"", "bad.csv: the file is empty"),
        (gzip.compress(b"", mtime=0), "bad.csv: the file is empty once unpacked"),
        (b" \n\n  \n", "bad.csv: nothing but blanks"),
        (b"day,low\x00", "bad.csv:1: binary"),
        (HEADER + b"2020-01-01,1,2,0\n\x89PNG", None),
        (HEADER + b"2020-01-01,1,2,0\n\x1b[2J", "bad.csv:3: binary"),
        (gzip.compress(HEADER * 50, mtime=0)[:-9], "bad.csv: truncated"),
        (b"\x1f\x8b" + b"\x00" * 40, "bad.csv: damaged gzip"),
        (HEADER, "bad.csv: no usable day"),
        (HEADER + b"2020-01-01,,,\n", "bad.csv: no usable day"),
        (HEADER + b"2020-01-01,,,\n" + b'"' + b"x" * 200_000, "not readable as delimited text"),
        ("day,low\n".encode("utf-16"), "bad.csv:1: binary"),
    ],
)
def test_a_file_that_is_none_is_refused_by_its_rule(data: bytes, rule: str | None) -> None:
    if rule is None:  # plain letters after a byte that is no UTF-8: a bad line of a text, not a binary file
        assert len(read_record(data, OPTIONS)) == 1
    else:
        assert rule in refusal(data)


def test_a_file_without_a_usable_day_says_what_was_wrong_with_them() -> None:
    said = refusal(HEADER + b"tomorrow,1,2,0\n2020-01-02,x,y,\n").splitlines()
    assert said[0] == "bad.csv: no usable day."
    assert said[1:] == [
        "bad.csv: 2 × not a number; first: line 3, 2020-01-02, minimum x",
        "bad.csv: 1 × unreadable date, or none from 1650 to 2200; first: line 2, tomorrow",
    ]


def test_no_reader_for_this_form() -> None:
    assert "bad.txt:1: no reader knows this form" in refusal(b"hello world\n", ReadOptions(name="bad.txt"))


@pytest.mark.parametrize(("reader", "words"), [("ghcn-dly", "columns 18 to 21"), ("ghcn-long", "third field")])
def test_a_ghcn_reader_on_another_file_says_where_it_looked(reader: str, words: str) -> None:
    with pytest.raises(DataError, match=words):
        read_record(HEADER + b"2020-01-01,1,2,0\n", reader=reader)


def test_too_large_a_file_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "large.csv"
    with path.open("wb") as out:
        out.truncate(files.MOST_BYTES + 1)  # a hole: no disk is filled
    assert refusal(path, ReadOptions(columns=COLUMNS)).startswith("large.csv: larger than 100 MB")


def test_a_small_file_that_unpacks_to_a_large_one_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "MOST_BYTES", 2_000_000)
    assert "unpacked larger than 2 MB" in refusal(gzip.compress(HEADER + b"2020-01-01,1,2,0\n" * 200_000, mtime=0))


def test_a_file_full_of_bad_lines_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judge, "MOST_SET_ASIDE", 50)
    assert "more than 50 values break a rule" in refusal(HEADER + b"2020-01-01,x,y,z\n" * 60)


def test_more_values_than_days_there_can_be_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judge, "MOST_VALUES", 50)
    rows = b"".join(b"2020-01-%02d,1,2,0\n" % (1 + i % 31) for i in range(60))
    assert "bad.csv:52: more than 50 values" in refusal(HEADER + rows)


def test_a_file_that_is_not_there_or_none(tmp_path: Path) -> None:
    assert "there is no such file" in refusal(tmp_path / "gone.csv")
    assert "not a plain file" in refusal(tmp_path)
    os.mkfifo(tmp_path / "pipe.csv")
    assert "not a plain file" in refusal(tmp_path / "pipe.csv")


@pytest.mark.parametrize("name", ["a\nb.csv", "a\x1b[31m.csv", "evil\u202evsc.exe", "x" * 256 + ".csv"])
def test_a_hostile_name_is_refused_and_does_not_reach_the_screen(name: str) -> None:
    said = refusal(HEADER + b"2020-01-01,1,2,0\n", ReadOptions(name=name, columns=COLUMNS))
    assert "file's name" in said
    assert said.isprintable()
    assert len(said) < 200


def test_only_the_last_part_of_a_name_is_shown() -> None:
    record = read_record(HEADER + b"2020-01-01,1,2,0\n", ReadOptions(name="../../etc/own.csv", columns=COLUMNS))
    assert record.source == "file own.csv"


def test_hostile_cells_are_cleaned_and_shortened() -> None:
    data = HEADER + "2020-01-01,1,2,0\n\u202e,1,2,0\n".encode() + b"y" * 500 + b",1,2,0\n"
    first, second = (a.value for a in read_record(data, OPTIONS).set_aside)
    assert first == "?"
    assert len(second) == 40


def test_text_in_an_older_encoding_is_read() -> None:
    columns = ColumnMap("Tag", "Min °C", "Max °C")
    data = "Tag,Min °C,Max °C\n2020-01-01,1,2\n".encode("latin-1")
    assert len(read_record(data, ReadOptions(columns=columns))) == 1


def test_a_byte_order_mark_is_no_part_of_the_first_column() -> None:
    assert len(read_record(b"\xef\xbb\xbf" + HEADER + b"2020-01-01,1,2,0\n", OPTIONS)) == 1
    assert len(read_record(b"\xef\xbb\xbf" + wide_csv(CELLS))) == 1


def sound(record: DailyRecord) -> None:
    """What must hold of any record that came out of a reader."""
    assert len(record.tmin_c) == len(record.tmax_c) == len(record.rain_mm) > 0
    assert not np.any(record.tmin_c > record.tmax_c)
    for column, low, high in ((record.tmin_c, -70, 57), (record.tmax_c, -70, 57), (record.rain_mm, 0, 1900)):
        there = column[~np.isnan(column)]
        assert np.all((there >= low) & (there <= high))


EVERY = st.sampled_from(["", "columns", "ghcn-dly", "ghcn-long", "ghcn-wide"])
WORDS = st.sampled_from(
    [
        *(b"STATION,DATE,TMIN,TMIN_ATTRIBUTES", b"day,low,high,rain", b"2020-01-01", b"20200101", b"9999-99-99"),
        *(b"XXI00000001", b"TMIN", b"TMAX", b"PRCP", b"-9999", b"  123", b"1e400", b",", b"\n", b'"', b" ", b"\xff"),
    ]
)


def try_reading(data: bytes, reader: str, columns: ColumnMap | None) -> None:
    with suppress(DataError):
        sound(read_record(data, ReadOptions(columns=columns), reader=reader))


@given(data=st.binary(max_size=400), reader=EVERY, declared=st.booleans())
@example(data=b"\x1f\x8b\x08\x00", reader="", declared=False)
@settings(max_examples=150, deadline=None)
def test_no_bytes_make_a_reader_fail_in_any_other_way(data: bytes, reader: str, declared: bool) -> None:
    try_reading(data, reader, COLUMNS if declared else None)


@given(parts=st.lists(WORDS, max_size=60), reader=EVERY, declared=st.booleans())
@settings(max_examples=300, deadline=None)
def test_no_jumble_of_real_words_makes_a_reader_fail_in_any_other_way(
    parts: list[bytes], reader: str, declared: bool
) -> None:
    try_reading(b"".join(parts), reader, COLUMNS if declared else None)


@given(
    st.sampled_from([dly, long_csv, wide_csv]),
    st.lists(st.tuples(st.integers(0, 5000), st.binary(min_size=1, max_size=1)), min_size=1, max_size=8),
)
@settings(max_examples=200, deadline=None)
def test_no_damage_to_a_good_file_makes_a_reader_fail_in_any_other_way(write, damage) -> None:
    data = bytearray(write(CELLS))
    for at, byte in damage:
        data[at % len(data)] = byte[0]
    try_reading(bytes(data), "", None)
