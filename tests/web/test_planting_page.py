"""A planting's page: its strip, its work, its entries with their mending; and a garden of four hundred plantings."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path

from browsing import HOSTILE, Browser, SetClock
from markup_check import Checked
from starlette.testclient import TestClient

from kailyard.desk.desk import Desk
from kailyard.web.app import create_app


def test_the_strip_holds_every_stage_with_words_beside_it(here: Browser) -> None:
    page = here.get("/planting/pea-2").text
    checked = Checked(page)
    assert checked.problems == []
    for stage in ("sowing", "coming up", "first flower", "first picking", "last picking"):
        assert stage in checked.text
    assert page.count('role="img"') >= 5


def test_its_page_speaks_of_no_other_planting(here: Browser) -> None:
    text = Checked(here.get("/planting/pea-2").text).text
    for other in ("Garlic", "Zucchini", "Asparagus"):
        assert other not in text


def test_every_standing_entry_can_be_put_right_or_withdrawn(here: Browser) -> None:
    desk = Desk(here.folder)
    mine = [e for e in desk.garden().entries_of("pea-2") if e.kind != "planting"]
    desk.close()
    page = here.get("/planting/pea-2").text
    for entry in mine:
        assert f"/enter?right={entry.id}&amp;back=planting" in page
    first = mine[-1]
    gone = here.send("/enter", at="/", wish="undo", kept=first.id, back="planting", of="pea-2")
    assert gone.headers["location"] == "/planting/pea-2"
    page = here.get("/planting/pea-2").text
    assert f"right={first.id}" not in page
    assert "withdrawn" in Checked(page).text


def test_a_stage_seen_narrows_its_hill_into_a_stroke(here: Browser) -> None:
    before = Checked(here.get("/planting/pea-2").text).text
    assert "seen 12 June" not in before
    (answer,) = here.entries(
        {"id": "seen-1", "kind": "stage", "happened": "2026-06-12", "target": "pea-2",
         "payload": {"stage": "first-flower", "state": "seen"}}
    )  # fmt: skip
    assert answer["answer"] == "recorded"
    after = Checked(here.get("/planting/pea-2").text).text.replace("\xa0", " ")
    assert "seen 12 June, not yet on 11 June" in after


def test_one_that_is_not_there_names_those_spelt_alike(here: Browser) -> None:
    answer = here.get("/planting/pae-2")
    assert answer.status_code == 404
    assert "pea-2" in Checked(answer.text).text


def test_hostile_names_stand_as_written(door: Callable[..., Browser]) -> None:
    browser = door("hostile")
    answer = browser.get("/planting/lettuce-1")
    assert answer.status_code == 200
    assert "<script>alert" not in answer.text
    assert Checked(answer.text).problems == []
    assert HOSTILE in Checked(answer.text).text


def test_four_hundred_plantings_are_entered_and_shown(
    gardens: Callable[[str], Path], tmp_path: Path, clock: SetClock
) -> None:
    folder = shutil.copytree(gardens("demo"), tmp_path / "many")
    desk = Desk(folder, clock=clock)
    day = date(2026, 5, 1)
    crops = ("pea", "bean-bush", "lettuce-leaf", "carrot", "cabbage")
    made = []
    for n in range(400):
        id_ = f"many-{n}"
        payload = {"crop": crops[n % 5], "bed": f"bed-{n % 12 + 1}", "start": "sown", "count": 20}
        made.append(desk.entry("planting", happened=day, target=id_, payload=payload))
        made.append(desk.entry("sow", happened=day, target=id_))
    desk.keep(made)
    desk.close()
    client = TestClient(create_app(folder, clock=clock), base_url="http://localhost:8347")
    with client:
        for address in ("/", "/enter", "/planting/many-399"):
            answer = client.get(address)
            assert answer.status_code == 200
            assert Checked(answer.text).problems == []
        chosen = client.get("/enter").text
        assert len(re.findall(r'<option value="many-\d+"', chosen)) == 400
        assert chosen.count('class="quick"') == 12, "the rest are chosen from the list"
