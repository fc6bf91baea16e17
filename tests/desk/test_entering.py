"""Words behind a kind of entry find their fields; whatever is typed, it is kept whole or refused."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.desk.beds import set_bed
from kailyard.desk.desk import Desk
from kailyard.desk.fill import fields_of, fill, kind_says
from kailyard.desk.new import new_garden
from kailyard.desk.plantings import set_planting
from kailyard.desk.record import COMMAND_OF, enter
from kailyard.errors import KailyardError, UsageError
from kailyard.garden.kinds import kind, names

TODAY = date(2026, 6, 12)


def filled(kind_name: str, *words: str, units: Any = "metric") -> tuple[dict[str, Any], float | None, str]:
    found = fill(kind(kind_name), words, units=units, today=TODAY)
    return found.payload, found.quantity, found.unit


@pytest.mark.parametrize(
    ("words", "payload"),
    [
        (["stage", "first-flower"], {"stage": "first-flower"}),
        (["stage", "first-flower", "not-yet"], {"stage": "first-flower", "state": "not yet"}),
        (["stage", "mature", "55%"], {"stage": "mature", "share": 0.55}),
        (["stage", "share=55%", "mature"], {"stage": "mature", "share": 0.55}),
        (["hurt", "frost", "0.6"], {"cause": "frost", "share": 0.6}),
        (["hurt", "frost", "60%", "30%"], {"cause": "frost", "share": 0.6, "killed": 0.3}),
        (["look", "half lying over", "2026-06-20"], {"found": "half lying over", "next_look": date(2026, 6, 20)}),
        (["look", "not-sound"], {"sound": False}),
        (["look", "sound=yes", "next-look=tomorrow"], {"sound": True, "next_look": date(2026, 6, 13)}),
        (["protect", "fleece", "until=2026-06-14"], {"what": "fleece", "until": date(2026, 6, 14)}),
        (["sow", "under-cover"], {"under_cover": True}),
        (["set-out", "not-hardened"], {"hardened": False}),
        (["work", "tied in"], {"what": "tied in"}),
        (["decide", "pick/pea-1", "leave-it"], {"line": "pick/pea-1", "verdict": "leave it"}),
        (["clear", "reason=a=b"], {"reason": "a=b"}),
    ],
)
def test_words_find_their_fields(words: list[str], payload: dict[str, Any]) -> None:
    assert filled(words[0], *words[1:])[0] == payload


@pytest.mark.parametrize(
    ("words", "quantity", "unit"),
    [
        (["pick", "1.2kg"], 1.2, "kg"),
        (["pick", "1.2", "kg", "last"], 1.2, "kg"),
        (["pick", "500g"], 0.5, "kg"),
        (["pick", "12", "heads"], 12.0, "count"),
        (["pick", "12 heads"], 12.0, "count"),
        (["pick", "quantity=3 pods"], 3.0, "count"),
        (["sow", "40"], 40.0, "seeds"),
        (["sow", "8", "cells", "under-cover"], 8.0, "cells"),
        (["plant", "30 cloves"], 30.0, "pieces"),
        (["set-out", "12", "hardened"], 12.0, "plants"),
        (["rain", "7"], 7.0, "mm"),
        (["rain", "1.2cm"], 12.0, "mm"),
        (["soil-temperature", "14"], 14.0, "°C"),
        (["soil-temperature", "depth-cm=10", "14C"], 14.0, "°C"),
    ],
)
def test_quantities_are_told_from_fields(words: list[str], quantity: float, unit: str) -> None:
    assert filled(words[0], *words[1:])[1:] == (pytest.approx(quantity), unit)


def test_a_length_behind_the_temperature_is_the_depth() -> None:
    assert filled("soil-temperature", "14C", "8cm") == ({"depth_cm": 8.0}, 14.0, "°C")


@pytest.mark.parametrize("name", [name for name in names() if name not in COMMAND_OF])
def test_every_kind_tells_what_to_type_and_needs_what_it_says(name: str) -> None:
    known = kind(name)
    for field in fields_of(known):
        assert field.name.replace("_", "-") in kind_says(known, "metric")
    needs = any(field.needed for field in fields_of(known)) or (known.quantity is not None and known.quantity.needed)
    if needs:
        with pytest.raises(UsageError, match=f"^enter {name}: say"):
            filled(name)
    else:
        filled(name)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A small garden to type at."""
    desk = Desk(
        tmp_path_factory.mktemp("typing") / "garden", clock=lambda: datetime(2026, 6, 12, 12, tzinfo=UTC), who=""
    )
    new_garden(desk, name="Nether Wold", latitude="48", longitude="9")
    set_bed(desk, "bed-1", {"length": "3", "width": "1"})
    for number in range(1, 4):
        set_planting(desk, f"pea-{number}", {"crop": "pea", "bed": "bed-1", "start": "sown"})
    yield desk
    desk.close()


LIKELY = """
    pea-1 pea-2 bed-1 seen not-yet first-flower emerged mature 60% 0.5 1.2kg 12 heads 7mm 0.4in 55F -3 kg last sound
    not-sound frost yes no today yesterday 2026-06-01 share=2 share=70% stage=mature quantity=3 quantity= = =x x= --on
    until=never next_look=2026-13-01 under-cover done pick/pea-1 pea-9 depth-cm=5 tmin-c=3 1e9
"""
KNOWN_WORD = st.sampled_from(LIKELY.split())
WORD = st.one_of(KNOWN_WORD, st.text(st.characters(categories=None), max_size=12))
TARGET = st.sampled_from([[], ["pea-1"], ["pea-2"], ["bed-1"]])
WORDS = st.one_of(st.lists(KNOWN_WORD, max_size=2), st.lists(WORD, max_size=4))


def test_any_words_are_an_entry_or_refused_and_the_garden_stays_sound(desk: Desk) -> None:
    kept = []

    @settings(max_examples=400, deadline=None)
    @given(
        st.sampled_from([*names(), "stga", ""]),
        st.tuples(TARGET, WORDS).map(lambda pair: pair[0] + pair[1]),
        st.sampled_from([None, None, None, "yesterday", "2030-01-01", "June", "\udce9"]),
        st.one_of(st.just(""), WORD),
        st.sampled_from(["", "", "", "nothing", "\x00"]),
    )
    def type_at_random(kind_name: str, words: list[str], on: str | None, text: str, puts_right: str) -> None:
        before = len(desk.store.entries())
        try:
            enter(desk, kind_name, words, on=on, text=text, puts_right=puts_right)
            new = 1
        except KailyardError:
            new = 0
        assert len(desk.store.entries()) == before + new
        kept.append(new)

    type_at_random()
    assert 0 < sum(kept) < len(kept)
    desk.store.rebuild()
    assert desk.store.verify() == ()


def test_entries_written_in_one_moment_have_names_of_their_own(tmp_path: Path) -> None:
    """A pasted table writes hundreds at once, a restored clock may stand still: no two may be taken for one."""
    desk = Desk(tmp_path, clock=lambda: datetime(2026, 6, 12, 14, 0, tzinfo=UTC))
    assert len({desk.entry("note", happened=TODAY, text="so").id for _ in range(20_000)}) == 20_000
