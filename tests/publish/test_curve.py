"""The curve of a response: sound markup, round figures, gaps left open."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.publish.draw_curve import curve, ticks


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e6))
def test_ticks_are_few_even_and_inside(low: float, span: float) -> None:
    found = ticks(low, low + span)
    assert len(found) <= 6
    assert all(low - 1e-6 * span - 1e-9 <= one <= low + span * (1 + 1e-6) + 1e-9 for one in found)


def test_ticks_are_figures_that_people_count_in() -> None:
    assert ticks(0, 100) == [0, 20, 40, 60, 80, 100]
    assert ticks(-7, 23) == [0, 10, 20]
    assert len(ticks(3, 3)) > 1


def test_a_missing_value_breaks_the_line_and_a_curve_alone_is_a_file() -> None:
    drawn = curve(
        [1, 2, 3, 4, 5],
        [1.0, 2.0, None, 4.0, 5.0],
        along_words="rain & wind",
        up_words="<et>",
        label="et over rain",
        at=2.0,
        alone=True,
    )
    root = ElementTree.fromstring(drawn)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    (line,) = [e.get("d") for e in root.iter() if e.get("class") == "ink"]
    assert line is not None
    assert line.count("M") == 2
    assert [e for e in root.iter() if e.get("class") == "mark"]
    assert {"rain & wind", "<et>"} <= {e.text for e in root.iter()}


@pytest.mark.parametrize("up", [[None, None, None], [1.0, None, None], [1.0, 2.0]])
def test_nothing_is_drawn_of_less_than_two_values(up: list[float | None]) -> None:
    assert not curve([1, 2, 3], up, along_words="", up_words="", label="")
