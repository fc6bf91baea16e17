"""Typed words: read strictly, turned into SI by the exact factors of NIST SP 811 (2008), appendix B.8 and B.9."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard import units
from kailyard.desk import typed
from kailyard.errors import UsageError

TODAY = date(2026, 6, 12)
ANY_TEXT = st.text(st.characters(categories=None), max_size=30)


@pytest.mark.parametrize(
    ("text", "unit", "garden", "exact"),
    [
        ("1in", "mm", "metric", 25.4),
        ("0.4 inch", "mm", "us", 10.16),
        ("1", "mm", "us", 25.4),
        ("12ft", "m", "metric", 3.6576),
        ("12′", "m", "metric", 3.6576),
        ("1 yd", "m", "metric", 0.9144),
        ("120cm", "m", "us", 1.2),
        ("3.6", "m", "metric", 3.6),
        ("10cm", "cm", "us", 10.0),
        ("4", "cm", "us", 10.16),
        ("1.2kg", "kg", "us", 1.2),
        ("450 g", "kg", "metric", 0.45),
        ("1lb", "kg", "metric", 0.45359237),
        ("16 oz", "kg", "metric", 0.45359237),
        ("212F", "°C", "metric", 100.0),
        ("-40", "°C", "us", -40.0),
        ("−40 °F", "°C", "metric", -40.0),
        ("9F", "°C difference", "metric", 5.0),
        ("-1.5C", "°C difference", "us", -1.5),
        ("9", "°C difference", "us", 5.0),
        (".5", "", "metric", 0.5),
    ],
)
def test_matches_nist_sp_811(text: str, unit: str, garden: units.Units, exact: float) -> None:
    assert typed.quantity(text, unit, garden, "it") == pytest.approx(exact, rel=1e-8, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("", "m"),
        ("far", "m"),
        ("1,2", "kg"),
        ("1e3", "m"),
        ("nan", "m"),
        ("inf", "°C"),
        ("9" * 400, "m"),
        ("1.2kg", "m"),
        ("3m", "mm/day"),
        ("5 apples", "kg"),
        ("5m", ""),
        ("1.2.3", "m"),
        ("--5", "°C"),
        ("5 5", "m"),
        ("١٢", "m"),
    ],
)
def test_nothing_is_guessed(text: str, unit: str) -> None:
    with pytest.raises(UsageError, match="it: "):
        typed.quantity(text, unit, "metric", "it")


def read_or_refused(read: Callable[[], Any], *, refused: Any) -> Any:
    """What was read, or `refused` where it was refused in one line that any terminal can show."""
    try:
        return read()
    except UsageError as err:
        said = str(err)
    assert said.isprintable()
    return refused


@given(ANY_TEXT, st.sampled_from(["m", "°C", "mm", "kg", "", "°C difference", "d"]), st.sampled_from(["metric", "us"]))
def test_any_text_is_a_finite_number_or_refused_in_one_line(text: str, unit: str, garden: units.Units) -> None:
    assert math.isfinite(read_or_refused(lambda: typed.quantity(text, unit, garden, "it"), refused=0.0))


@given(ANY_TEXT)
def test_any_text_is_a_day_a_share_a_count_a_yes_or_refused(text: str) -> None:
    for read in (
        lambda: typed.day(text, TODAY, "it"),
        lambda: typed.share(text, "it"),
        lambda: typed.count(text, "it"),
        lambda: typed.yes_or_no(text, "it"),
    ):
        read_or_refused(read, refused=None)


SAME = [(a, b) for a in units.UNITS for b in units.UNITS if units.UNITS[a].measures == units.UNITS[b].measures]


@given(st.floats(-1e6, 1e6), st.sampled_from(SAME))
def test_there_and_back_is_the_same(value: float, pair: tuple[str, str]) -> None:
    one, other = pair
    assert units.turned(units.turned(value, one, other), other, one) == pytest.approx(value, rel=1e-9, abs=1e-7)


@given(st.floats(-80, 80), st.sampled_from(["°C", "mm", "cm", "m", "kg"]))
def test_what_is_printed_can_be_typed_back(value: float, unit: str) -> None:
    shown, name = units.convert(value, unit, "us")
    assert typed.quantity(f"{shown:.12f} {name}", unit, "us", "it") == pytest.approx(value, abs=1e-7)


def test_what_measures_something_else_is_not_turned() -> None:
    with pytest.raises(ValueError, match="measures"):
        units.turned(1.0, "kg", "m")


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-06-01", date(2026, 6, 1)),
        ("today", TODAY),
        ("Yesterday", date(2026, 6, 11)),
        ("tomorrow", date(2026, 6, 13)),
    ],
)
def test_days(text: str, day: date) -> None:
    assert typed.day(text, TODAY, "it") == day


def test_what_has_happened_lies_not_ahead() -> None:
    assert typed.past_day(None, TODAY, "--on") == TODAY
    with pytest.raises(UsageError, match="lies after today"):
        typed.past_day("tomorrow", TODAY, "--on")


@pytest.mark.parametrize(("text", "share"), [("70%", 0.7), ("0.7", 0.7), ("100 %", 1.0), ("0", 0.0)])
def test_shares(text: str, share: float) -> None:
    assert typed.share(text, "it") == share


@pytest.mark.parametrize("text", ["70", "101%", "-0.1", "half"])
def test_a_share_beyond_the_whole_is_refused(text: str) -> None:
    with pytest.raises(UsageError):
        typed.share(text, "it")
