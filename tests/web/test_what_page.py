"""What is it? in the browser, without a script: answer, next question, ranking, what was found."""

from __future__ import annotations

import re

from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.handbook.signs import signs

POWDER = "given.white_powder_upper=yes&given.old_leaves_first=yes"


def test_it_asks_which_planting_first(here: Browser) -> None:
    page = Checked(here.get("/what").text)
    assert page.problems == []
    assert "Which planting?" in page.text


def test_answers_come_to_causes_and_a_next_question(here: Browser) -> None:
    answer = here.get(f"/what?of=zucchini-1&{POWDER}")
    page = Checked(answer.text)
    assert page.problems == []
    assert page.text.index("cucurbit powdery mildew") < page.text.index("for and against")
    assert "These are odds from signs, not a finding." in page.text
    asked = re.findall(r'type="radio" name="given\.(\w+)"', answer.text)
    assert asked
    assert "white_powder_upper" not in asked
    assert asked.count(asked[0]) == 3, "yes, no and can't tell"


def test_every_sign_can_be_said_once_in_the_form(here: Browser) -> None:
    text = here.get(f"/what?of=zucchini-1&{POWDER}").text
    first = text.partition("</form>")[0]
    selects = re.findall(r'(?:<select|type="checkbox") name="given\.(\w+)"', first)
    radios = set(re.findall(r'type="radio" name="given\.(\w+)"', first))
    assert len(selects) == len(set(selects))
    assert radios.isdisjoint(selects)
    assert set(selects) | radios == set(signs())


def test_cannot_tell_is_not_asked_again_and_changes_no_rank(here: Browser) -> None:
    plain = here.get(f"/what?of=zucchini-1&{POWDER}").text
    sign = re.findall(r'type="radio" name="given\.(\w+)"', plain)[0]
    told = here.get(f"/what?of=zucchini-1&{POWDER}&given.{sign}=can't tell").text
    names = [re.findall(r"<b>([^<]+)</b>", text) for text in (plain, told)]
    assert names[0] == names[1]
    assert f'type="radio" name="given.{sign}"' not in told


def test_what_was_found_is_kept_once_with_its_answers(here: Browser) -> None:
    at = f"/what?of=zucchini-1&{POWDER}"
    form = {"of": "zucchini-1", "trouble": "powdery-mildew-cucurbit", "sure": "likely", "id": "f" * 20}
    form |= {"given.white_powder_upper": "yes", "given.old_leaves_first": "yes"}
    for _ in range(2):
        answer = here.send("/what", at=at, **form)
        assert answer.status_code == 303, answer.text
        here.clock.move_on(minutes=1)
    assert "Kept: cucurbit powdery mildew, likely." in Checked(here.get(answer.headers["location"]).text).text
    desk = Desk(here.folder)
    kept = [e for e in desk.garden().entries_of("zucchini-1") if e.kind == "found"]
    desk.close()
    assert len(kept) == 1
    assert kept[0].payload == {
        "trouble": "powdery-mildew-cucurbit",
        "sure": "likely",
        "signs": "old-leaves-first=yes; white-powder-upper=yes",
    }


def test_a_sign_or_an_answer_that_is_none_is_refused_in_words(here: Browser) -> None:
    for words, says in (("given.moon=yes", "There is no sign"), ("given.web=perhaps", "answer yes, no or ?")):
        answer = here.get(f"/what?of=zucchini-1&{words}")
        assert answer.status_code in (400, 404)
        assert says in Checked(answer.text).text


def test_injury_is_offered_where_a_herbicide_is_among_the_causes(here: Browser) -> None:
    signs = "&".join(f"given.{s}=yes" for s in ("strap_narrow", "twist_down", "many_families", "new_growth_first"))
    assert "/enter?kind=injury&amp;of=tomato-1" in here.get(f"/what?of=tomato-1&{signs}").text
    assert Checked(here.get("/enter?kind=injury&of=tomato-1").text).problems == []


def test_what_a_herbicide_did_leads_to_the_record_and_what_is_harmless_to_the_planting(here: Browser) -> None:
    at = "/what?of=tomato-1&given.strap_narrow=yes"
    form = {"of": "tomato-1", "given.strap_narrow": "yes", "sure": "likely"}
    for name, way in (
        ("gr-drift", "/enter?kind=injury&of=tomato-1"),
        ("late-blight", "/options/tomato-1?trouble=late-blight"),
        ("natural-mottle", "/planting/tomato-1"),
    ):
        answer = here.send("/what", at=at, trouble=name, id=name.ljust(20, "x"), **form)
        assert answer.status_code == 303, answer.text
        assert answer.headers["location"] == way


def test_a_bed_offers_its_own_plantings_and_one_with_nothing_in_it_says_so(here: Browser) -> None:
    text = here.get("/what?bed=bed-1").text
    assert 'value="tomato-1"' in text
    assert 'value="zucchini-1"' not in text
    assert 'value="tomato-23-1"' not in text, "what was over years ago is not asked about"
    assert here.get("/what?bed=bed-99").status_code == 404


def test_blank_answers_leave_the_address_so_that_it_can_be_kept(here: Browser) -> None:
    answer = here.get("/what?of=zucchini-1&given.web=&given.frass=no&given.moon=")
    assert answer.status_code == 303
    assert answer.headers["location"] == "/what?of=zucchini-1&given.frass=no"


def test_before_any_answer_the_questions_stand_open_and_no_cause_is_pressed_on_anybody(here: Browser) -> None:
    page = here.get("/what?of=zucchini-1").text
    assert page.index("what is common on such plants") < page.index("<ol")
    assert "What it may be" not in page


def test_what_was_found_can_be_gone_on_from(here: Browser) -> None:
    form = {"of": "zucchini-1", "trouble": "powdery-mildew-cucurbit", "sure": "settled", "text": "rubbed off"}
    form |= {"given.white_powder_upper": "yes", "id": "g" * 20}
    assert here.send("/what", at=f"/what?of=zucchini-1&{POWDER}", **form).status_code == 303
    assert "/what?of=zucchini-1&amp;given.white_powder_upper=yes" in here.get("/what?of=zucchini-1").text


def test_a_look_that_is_not_well_a_count_and_a_bed_lead_here(here: Browser) -> None:
    for fields, leads in (
        ({"kind": "look", "found": "yellow below", "sound": "no"}, True),
        ({"kind": "look", "found": "two caterpillars"}, True),
        ({"kind": "look", "sound": "yes"}, False),
        ({"kind": "count", "trouble": "squash-bug", "looked_at": "2", "total": "3"}, True),
        ({"kind": "count", "trouble": "squash-bug", "looked_at": "2", "total": "0"}, False),
    ):
        here.clock.move_on(minutes=1)
        once = "".join(fields.values()).replace(" ", "").ljust(20, "x")
        answer = here.send("/enter", at="/enter", target="zucchini-1", id=once, **fields)
        assert answer.status_code == 303, answer.text
        page = here.get(answer.headers["location"]).text
        assert ('<a href="/what?of=zucchini-1">What is it?</a>' in page) is leads, fields
    assert "/what?bed=bed-9" in here.get("/scouting").text
