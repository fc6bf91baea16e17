"""What is it? in the browser, without a script: answer, next question, ranking, what was found."""

from __future__ import annotations

import re

from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk

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
    selects = re.findall(r'<select name="given\.(\w+)"', first)
    radios = set(re.findall(r'type="radio" name="given\.(\w+)"', first))
    assert len(selects) == len(set(selects))
    assert radios.isdisjoint(selects)
    assert len(selects) + len(radios) == 135


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


def test_an_injury_stands_on_the_page_with_what_proves_nothing_until_it_is_released(here: Browser) -> None:
    desk = Desk(here.folder, clock=here.clock)
    day = desk.today(desk.garden())
    hit = {"kinds": "tomatoes, beans", "spared": "cabbages", "photographs": "a.jpg"}
    desk.keep([desk.entry("injury", happened=day, target="tomato-1", payload=hit)])
    desk.close()
    page = Checked(here.get("/what?of=tomato-1").text)
    assert page.problems == []
    for said in (
        "Hit: tomatoes, beans.",
        "Not hit: cabbages.",
        "proves no source",
        "accuses nobody",
        "misuse complaint",
    ):
        assert said in page.text
    assert "Do not pick or eat" in Checked(here.get("/").text).text
    desk = Desk(here.folder, clock=here.clock)
    let = {"by": "the clinic", "what": "no residue found"}
    desk.keep([desk.entry("release", happened=day, target="tomato-1", payload=let)])
    desk.close()
    assert "accuses nobody" not in here.get("/what?of=tomato-1").text
    assert "Do not pick or eat" not in Checked(here.get("/").text).text
