import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from kailyard.science.checks import InputError, not_above, seen_within, within


def test_the_message_says_what_where_and_how_many() -> None:
    temp_c = np.full(365, 10.0)
    temp_c[41] = 288.4
    with pytest.raises(InputError) as caught:
        within("temp_c", temp_c, -40, 60, "°C")
    assert str(caught.value) == "temp_c: 1 of 365 values outside -40 to 60 °C; first is 288.4 at index 41."


def test_one_number_and_a_table_say_where_they_are_wrong() -> None:
    with pytest.raises(InputError, match=r"^temp_c: 61 is outside -40 to 60 °C\.$"):
        within("temp_c", 61, -40, 60, "°C")
    with pytest.raises(InputError, match=r"first is -2 at index \(1, 0\)\.$"):
        within("share", [[0, 1], [-2, 0.5]], 0, 1, "")


@pytest.mark.parametrize("values", ["warm", [1, [2, 3]], [object()], 1j])
def test_what_is_no_number_is_refused(values: object) -> None:
    with pytest.raises(InputError, match=r"^temp_c: not numbers"):
        within("temp_c", values, -40, 60, "°C")


@pytest.mark.parametrize("endless", [np.inf, -np.inf])
def test_the_infinite_is_outside_any_range(endless: float) -> None:
    with pytest.raises(InputError):
        within("temp_c", endless, -40, 60, "°C")


@given(hnp.arrays(np.float64, hnp.array_shapes(max_dims=3), elements=st.one_of(st.floats(-40, 60), st.just(np.nan))))
def test_values_inside_come_back_as_a_copy_with_nan_where_it_was(values: np.ndarray) -> None:
    before = values.copy()
    got = within("temp_c", values, -40, 60, "°C")
    got[...] = 7
    np.testing.assert_array_equal(values, before)


def test_none_and_nan_pass_as_missing() -> None:
    assert np.isnan(within("temp_c", [None, np.nan], -40, 60, "°C")).all()


def test_one_pair_out_of_order_is_named_without_counting() -> None:
    with pytest.raises(InputError, match=r"^tmin_c is above tmax_c: 12 and 10\.$"):
        not_above("tmin_c", np.asarray(12.0), "tmax_c", np.asarray(10.0))


def test_pairs_out_of_order_are_counted_and_the_first_named() -> None:
    with pytest.raises(InputError, match=r"tmin_c is above tmax_c in 1 of 3 pairs; first is 12 and 10 at index 1\."):
        not_above("tmin_c", np.array([1.0, 12.0, np.nan]), "tmax_c", np.array([2.0, 10.0, 3.0]))
    not_above("a", np.array(1.0), "b", np.array(1.0))
    with pytest.raises(InputError, match="not below"):
        not_above("a", np.array(1.0), "b", np.array(1.0), equal=False)


def test_the_view_copies_nothing_and_cannot_be_written_to() -> None:
    values = np.array([1.0, np.nan, 3.0])
    got = seen_within("temp_c", values, -40, 60, "°C")
    assert np.shares_memory(got, values)
    with pytest.raises(ValueError, match="read-only"):
        got[0] = 7
    values[0] = 2  # the caller's own array stays his
    with pytest.raises(InputError, match="temp_c: 99 is outside"):
        seen_within("temp_c", 99, -40, 60, "°C")
