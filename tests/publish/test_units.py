"""Conversions against definitions: NIST Special Publication 811 (2008), appendix B.8 and B.9, exact factors."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.publish import words
from kailyard.publish.units import convert, figure, number


@pytest.mark.parametrize(
    ("value", "unit", "other", "exact"),
    [
        # NIST SP 811, B.8: t/°F = 1.8 t/°C + 32
        (0.0, "°C", "°F", Fraction(32)),
        (100.0, "°C", "°F", Fraction(212)),
        (-40.0, "°C", "°F", Fraction(-40)),
        # the same, for a difference: 1 K = 1.8 °F
        (5.0, "°C difference", "°F", Fraction(9)),
        (0.5, "°C per decade", "°F per decade", Fraction(9, 10)),
        (100.0, "°C·d", "°F·d", Fraction(180)),
        # 1 in = 25.4 mm; 1 ft = 0.3048 m; 1 mi = 1.609344 km; 1 mph = 0.44704 m/s
        (25.4, "mm", "in", Fraction(1)),
        (2.54, "cm", "in", Fraction(1)),
        (0.3048, "m", "ft", Fraction(1)),
        (1.609344, "km", "miles", Fraction(1)),
        (0.44704, "m/s", "mph", Fraction(1)),
        # 1 lb = 0.45359237 kg; 1 US gal = 3.785411784 L
        (0.45359237, "kg", "lb", Fraction(1)),
        (3.785411784, "L", "gal", Fraction(1)),
    ],
)
def test_matches_nist_sp_811(value: float, unit: str, other: str, exact: Fraction) -> None:
    shown, name = convert(value, unit, "us")
    assert name == other
    assert shown == pytest.approx(float(exact), rel=1e-14)


def test_a_square_foot_is_the_square_of_a_foot() -> None:
    # NIST SP 811, B.8: 1 ft² = 0.09290304 m², exact
    assert convert(0.09290304, "m²", "us") == (pytest.approx(1.0, rel=1e-14), "sq ft")


@given(st.floats(-1e6, 1e6), st.sampled_from(["°C", "mm", "days", "seeds", ""]))
def test_metric_gardens_see_what_is_kept(value: float, unit: str) -> None:
    assert convert(value, unit, "metric") == (value, unit)


@pytest.mark.parametrize("unit", ["days", "seeds", "plants", ""])
def test_units_without_another_go_through_untouched(unit: str) -> None:
    assert convert(7.0, unit, "us") == (7.0, unit)


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        (figure(34.0, "°C", "metric"), "34 °C"),
        (figure(34.0, "°C", "us"), "93.2 °F"),
        (figure(12.7, "mm", "us"), "0.5 in"),
        (figure(-2.2, "°C", "metric"), "−2.2 °C"),
        (figure(1.0, "days", "metric"), "1 day"),
        (figure(0.8, "chance", "us"), "8 in 10"),
        (number(-0.04, 1), "0"),
    ],
)
def test_figures_read_as_written_by_hand(said: str, wanted: str) -> None:
    assert said == wanted


@pytest.mark.parametrize(
    ("said", "wanted"),
    [
        # 12 June 2026 is a Friday (proleptic Gregorian calendar, ISO 8601)
        (words.day_of_week(date(2026, 6, 12)), "Fri 12 June"),
        (words.span(date(2026, 6, 21), date(2026, 6, 29)), "21–29 June"),
        (words.span(date(2026, 6, 30), date(2026, 7, 9)), "30 June to 9 July"),
        (words.span(date(2026, 12, 28), date(2027, 1, 4)), "28 December 2026 to 4 January 2027"),
        (words.heading(date(2026, 6, 12), date(2026, 6, 18)), "Friday 12 to 18 June"),
        (words.heading(date(2026, 6, 26), date(2026, 7, 2)), "Friday 26 June to 2 July"),
        (words.duration(170), "2 h 50 min"),
        (words.duration(60), "1 h"),
        (words.joined(["a", "b", "c"]), "a, b and c"),
    ],
)
def test_dates_and_spans_in_words(said: str, wanted: str) -> None:
    assert said == wanted


@given(st.floats(0.0001, 0.9999))
def test_a_chance_is_never_rounded_to_certainty_or_nothing(chance: float) -> None:
    assert words.in_ten(chance) not in ("certain", "no chance", "0 in 10", "10 in 10")
