"""Words sought in the daybook: all of them must stand in an entry, in its day, kind, thing, figures, text or author."""

from __future__ import annotations

import pytest
from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk


def found(browser: Browser, words: str, **more: str) -> list[str]:
    """Identifiers of what is shown, newest first."""
    from kailyard.desk.cache import WarmDesk
    from kailyard.desk.leaf import Sought, leaf

    desk = WarmDesk(browser.folder, keeper=browser.client.app.state.door.keeper, clock=browser.clock)
    try:
        return [e.id for e in leaf(desk, Sought(find=words, **more)).entries]
    finally:
        desk.close()


@pytest.fixture
def written(here: Browser) -> Browser:
    here.entries(
        {"id": "s-1", "kind": "note", "happened": "2026-06-10", "text": "Straßenrand gemäht, WASPS under the eave"},
        {"id": "s-2", "kind": "look", "happened": "2026-06-11", "target": "pea-1", "payload": {"found": "wasps, two"}},
        {"id": "s-3", "kind": "pick", "happened": "2026-06-12", "target": "pea-1", "quantity": 1.25, "unit": "kg"},
    )
    return here


@pytest.mark.parametrize(
    ("words", "ids"),
    [
        ("wasps", ["s-2", "s-1"]),
        ("WASPS eave", ["s-1"]),
        ("strassenrand", ["s-1"]),
        ("wasps pea-1", ["s-2"]),
        ("pick 1.25", ["s-3"]),
        ("2026-06-11 wasps", ["s-2"]),
        ("wasps hornets", []),
    ],
)
def test_all_words_must_stand_in_it_in_any_order_and_size(written: Browser, words: str, ids: list[str]) -> None:
    assert found(written, words) == ids


def test_words_go_with_the_other_conditions(written: Browser) -> None:
    assert found(written, "wasps", kind="note") == ["s-1"]
    assert found(written, "wasps", target="pea-1") == ["s-2"]


def test_what_was_entered_a_moment_ago_is_found(written: Browser) -> None:
    assert "s-9" not in found(written, "wasps")
    desk = Desk(written.folder, clock=written.clock)
    desk.keep([desk.entry("note", happened=written.clock.now.date(), text="more wasps", id_="s-9")])
    assert found(written, "wasps")[0] == "s-9"


def test_the_page_shows_them(written: Browser) -> None:
    shown = Checked(written.get("/daybook?find=wasps").text).text
    assert "WASPS under the eave" in shown
    assert "1.25" not in shown
