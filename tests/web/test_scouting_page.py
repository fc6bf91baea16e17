"""Scouting in the browser, without a script: the round in walking order, counted in place, none found too."""

from __future__ import annotations

import re

from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk


def _entries(browser: Browser) -> list[dict[str, object]]:
    desk = Desk(browser.folder)
    found = [dict(e.payload) | {"target": e.target} for e in desk.garden().entries if e.kind == "count"]
    desk.close()
    return found


def test_the_round_shows_beds_what_to_look_for_where_and_from_how_many_on(here: Browser) -> None:
    page = Checked(here.get("/scouting").text)
    assert page.problems == []
    assert "One round in walking order" in page.text
    assert "Worth acting from" in page.text
    assert "undersides in the angles between main veins" in page.text
    assert "When the weather favours diseases" in page.text
    assert "ask the local extension office" in page.text


def _form(text: str) -> dict[str, str]:
    """The form of the squash bug, as a browser would send it."""
    forms = re.findall(r'<form class="entry count screen".*?</form>', text, re.S)
    form = next(f for f in forms if 'value="squash-bug"' in f)
    hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', form))
    hidden.pop("token", None)
    for name in ("target", "measure"):
        chosen = re.search(rf'<select name="{name}"><option value="([^"]+)">', form)
        if chosen:
            hidden[name] = chosen[1]
    return hidden


def test_none_found_is_an_entry_and_the_same_form_sent_twice_is_one(here: Browser) -> None:
    form = _form(here.get("/scouting").text)
    before = len(_entries(here))
    for _ in range(2):
        answer = here.send("/scouting", at="/scouting", **form, looked_at="2", found_on="", total="", none="yes")
        assert answer.status_code == 303, answer.text
    kept = _entries(here)
    assert len(kept) == before + 1
    assert kept[-1]["found_on"] == 0
    assert kept[-1]["trouble"] == "squash-bug"
    page = Checked(here.get("/scouting").text)
    assert page.problems == []


def test_a_count_comes_back_beside_its_threshold(here: Browser) -> None:
    form = _form(here.get("/scouting").text)
    sent = {**form, "looked_at": "2", "found_on": "2", "total": "9", "none": "", "enemies": "ground beetles"}
    answer = here.send("/scouting", at="/scouting", **sent)
    assert answer.status_code == 303, answer.text
    text = Checked(here.get(answer.headers["location"].partition("#")[0]).text).text
    assert re.search(r"2( of \d+)? looked at: [\d.]+", text)
    assert _entries(here)[-1]["enemies"] == "ground beetles"


def test_a_count_that_cannot_be_is_refused_in_one_line(here: Browser) -> None:
    form = _form(here.get("/scouting").text)
    before = len(_entries(here))
    sent = {**form, "looked_at": "2", "found_on": "5", "total": "", "none": ""}
    answer = here.send("/scouting", at="/scouting", **sent)
    assert answer.status_code == 422
    assert "it cannot be found on more than that" in answer.text
    assert len(_entries(here)) == before


def test_something_looked_for_in_passing_can_be_counted_for_the_whole_bed(here: Browser) -> None:
    text = here.get("/scouting").text
    form = re.search(
        r'Count something else here.*?<select name="trouble"><option value="([^"]+)".*?name="target" value="([^"]+)"',
        text,
        re.S,
    )
    assert form is not None
    sent = {"trouble": form[1], "target": form[2], "id": "c" * 20, "looked_at": "4", "found_on": "1", "none": ""}
    answer = here.send("/scouting", at="/scouting", **sent)
    assert answer.status_code == 303, answer.text
    assert _entries(here)[-1]["target"] == form[2]
