"""A gardener's own facts win, are shown as theirs, and are judged as strictly as ours."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kailyard.errors import DataError, FactError
from kailyard.handbook.load import check_handbook, load_handbook
from kailyard.handbook.rows import LARGEST_BYTES

HEADER = "subject,quantity,value,unit\n"
LEG_HEADER = "subject,from_stage,to_stage,quantity,value,unit\n"


def test_an_own_fact_wins_and_shows_as_yours() -> None:
    book = load_handbook(HEADER + "pea,succession_interval_days,14,days\n")
    fact = book.facts["pea"]["succession_interval_days"]
    assert (fact.value, fact.unit, fact.status, fact.file, fact.line) == (14, "d", "yours", "facts.csv", 2)
    assert load_handbook().number("pea", "succession_interval_days") == 10
    assert book.number("pea", "kill_c") == load_handbook().number("pea", "kill_c")


def test_a_status_typed_by_the_gardener_does_not_make_it_published() -> None:
    text = "subject,quantity,value,unit,status,source,locator,note\npea,kill_c,-5,°C,published,HM54,p. 3,mine\n"
    fact = load_handbook(text).facts["pea"]["kill_c"]
    assert (fact.status, fact.locator, fact.note) == ("yours", "p. 3", "mine")


def test_columns_may_come_in_any_order() -> None:
    assert load_handbook("unit,value,quantity,subject\nC,-5,kill_c,pea\n").number("pea", "kill_c") == -5


def test_an_own_leg_takes_the_place_of_every_rival() -> None:
    rows = ["response,linear,", "driver,air,", "base_c,4,C", "degree_days_low,700,C d", "degree_days_high,760,C d"]
    book = load_handbook(LEG_HEADER + "".join(f"pea,sown,first-harvest,{row}\n" for row in rows))
    (leg,) = [x for x in book.legs["pea"] if (x.from_stage, x.to_stage) == ("sown", "first-harvest")]
    assert (leg.base_c, leg.degree_days, leg.order) == (4, (700, 760), 1)
    assert {fact.status for fact in leg.facts.values()} == {"yours"}
    others = [x for x in load_handbook().legs["pea"] if (x.from_stage, x.to_stage) != ("sown", "first-harvest")]
    assert [x for x in book.legs["pea"] if x is not leg] == others


def test_a_crop_of_ones_own_needs_a_name() -> None:
    book = load_handbook(HEADER + "sea-kale,common_name,Sea kale,\nsea-kale,kill_c,-15,C\n")
    assert book.crop("sea-kale") == "sea-kale"
    with pytest.raises(FactError, match=r"facts\.csv:2: no crop 'tomatto'.*Did you mean tomato-determinate"):
        load_handbook(HEADER + "tomatto,kill_c,-1,C\n")


def test_every_bad_own_row_is_named_at_once() -> None:
    text = (
        HEADER
        + "pea,kill_c,cold,°C\npea,kill_c,-6,°F\npea,sowing_joy,1,\nsea-kale,kill_c,-5,°C\npea,depth_cm_min,9,cm\n"
    )
    with pytest.raises(FactError) as caught:
        load_handbook(text)
    lines = {problem.split(":")[1] for problem in caught.value.problems}
    assert lines == {"2", "3", "4", "5", "6"}
    assert set(check_handbook(own=text)) == set(caught.value.problems)


def test_an_own_value_against_ours_is_reported_on_the_gardeners_line() -> None:
    with pytest.raises(FactError, match=r"facts\.csv:2: pea depth_cm_min 9 is above depth_cm_max 2\.5"):
        load_handbook(HEADER + "pea,depth_cm_min,9,cm\n")
    both = HEADER + "pea,depth_cm_min,9,cm\npea,depth_cm_max,10,cm\n"
    assert load_handbook(both).number("pea", "depth_cm_min") == 9


def test_a_file_that_is_not_there_is_no_own_facts(tmp_path: Path) -> None:
    assert load_handbook(tmp_path / "facts.csv") is load_handbook()


def test_a_file_is_read_by_its_own_name(tmp_path: Path) -> None:
    path = tmp_path / "mine.csv"
    path.write_text("\ufeff" + HEADER + "pea,kill_c,-5,C\n", encoding="utf-8")
    assert load_handbook(path).facts["pea"]["kill_c"].file == "mine.csv"


@pytest.mark.parametrize("content", [b"", b"\n\n", b"\x00\x01", b"\xff\xfe", b"PK\x03\x04\x14\x00", b"x\n" * 10])
def test_empty_or_binary_is_refused_with_file_and_line(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "facts.csv"
    path.write_bytes(content)
    with pytest.raises(DataError, match=r"facts\.csv:1: "):
        load_handbook(path)


def test_a_hundred_megabytes_are_refused_by_size_before_reading(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "facts.csv"
    with path.open("wb") as file:
        file.truncate(100_000_000)

    def never(_: Path) -> bytes:
        raise AssertionError("read")

    monkeypatch.setattr(Path, "read_bytes", never)
    with pytest.raises(DataError, match=r"100,000,000 bytes; own facts may be 2,000,000 at most\. Nothing was read"):
        load_handbook(path)
    assert LARGEST_BYTES < 100_000_000


def test_a_folder_where_a_file_should_be_is_named(tmp_path: Path) -> None:
    (tmp_path / "facts.csv").mkdir()
    with pytest.raises(DataError, match=r"facts\.csv: cannot be read"):
        load_handbook(tmp_path / "facts.csv")


CELL = st.one_of(
    st.text(max_size=12),
    st.sampled_from(
        ["pea", "kill_c", "base_c", "response", "linear", "sown", "mature", "1", "-5", "1e9", "inf", "°C", '"']
    ),
)
GARBAGE = st.one_of(
    st.text(max_size=300),
    st.lists(st.lists(CELL, min_size=4, max_size=6).map(",".join), max_size=8).map(lambda r: HEADER + "\n".join(r)),
    st.lists(st.lists(CELL, min_size=6, max_size=6).map(",".join), max_size=8).map(lambda r: LEG_HEADER + "\n".join(r)),
)


@given(GARBAGE)
@example(HEADER + "pea,kill_c," + "9" * 400 + ",C\n")
@example(HEADER + "pea,kill_c,٣,C\n")
@example(LEG_HEADER + "pea,sown,mature,base_c,5,C\n")
@example(LEG_HEADER + "pea,,mature,response,linear,\n")
@example('"' * 7)
@example(LEG_HEADER + ',"\n",,base_c,1,\n')
def test_garbage_is_refused_in_words_or_taken_whole(text: str) -> None:
    crops, problems = taken(text)
    assert bool(problems) != bool(crops)
    assert all(problem.startswith("facts.csv") and "\n" not in problem for problem in problems)
    assert not crops or crops >= set(load_handbook().crops)


def taken(text: str) -> tuple[set[str], tuple[str, ...]]:
    """The crops known with this text as own facts, or the problems it is refused for. Any other error escapes."""
    try:
        return set(load_handbook(text).crops), ()
    except DataError as err:
        return set(), err.problems
