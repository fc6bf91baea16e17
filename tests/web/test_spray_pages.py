"""Labels, options and the check in the browser, without a script: from powder found to what was put on."""

from __future__ import annotations

import re

import pytest
from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.garden.identifiers import tidy_name

TYPED = {
    "active": "sulfur", "registered_in": "Westmark", "number": "WM-1042", "crops": "squash, cucumber",
    "troubles": "powdery mildew", "rate": "3 g/L", "days": "3", "entry": "24 h", "most_uses": "4", "interval": "7",
    "temp_max": "90F", "bees": "none", "sites": "home garden",
}  # fmt: skip


def type_label(browser: Browser, **more: str):
    given = {f"given.{key}": value for key, value in {**TYPED, **more}.items()}
    return browser.send("/labels", at="/labels", name="Mealmute", id=more.pop("id", "label-1"), **given)


def sound(browser: Browser, address: str) -> Checked:
    answer = browser.get(address)
    assert answer.status_code == 200, address
    page = Checked(answer.text)
    assert page.problems == [], address
    return page


def test_nothing_is_allowed_before_a_label_is_typed(here: Browser) -> None:
    assert here.send("/labels", at="/labels", name="Chalk Veil", wish="remove").status_code == 303
    assert "Nothing is allowed without a label" in sound(here, "/check/zucchini-1").text
    page = sound(here, "/check/zucchini-1?label=Mealmute")
    assert "Unknown: so not yet" in page.text
    assert "without one nothing is allowed" in page.text
    assert "It was put on" not in page.text


def test_a_label_is_typed_changed_and_put_aside(here: Browser) -> None:
    assert type_label(here).status_code == 303
    page = sound(here, "/labels?name=Mealmute")
    assert "group" in page.text, "what is still to be read is said"
    assert "permits nothing" in page.text
    kept = [e for e in Desk(here.folder).entries() if e.kind == "label" and e.payload["name"] == "Mealmute"]
    assert kept[0].payload["temp_max_c"] == pytest.approx(32.2222, abs=0.001)
    assert here.send("/labels", at="/labels", name="Mealmute", wish="remove").status_code == 303
    assert "Mealmute" not in here.get("/labels").text.partition('id="label"')[0].partition("<main")[2]


def test_a_star_is_refused_in_one_line_and_what_was_typed_stays(here: Browser) -> None:
    answer = type_label(here, days="*")
    assert answer.status_code == 400
    page = Checked(answer.text)
    assert "'*' is no number of days" in page.text
    assert 'name="given.crops" value="squash, cucumber"' in answer.text
    assert "Mealmute" not in {e.payload["name"] for e in Desk(here.folder).entries() if e.kind == "label"}


def test_a_step_that_is_not_possible_here_comes_off(here: Browser) -> None:
    usual = here.get("/options/zucchini-1?trouble=powdery-mildew-cucurbit").text
    page = sound(here, "/options/zucchini-1?trouble=powdery-mildew-cucurbit&gone=trellis")
    assert 'name="gone" value="trellis">' in usual
    assert (
        'name="gone" value="trellis" checked'
        in here.get("/options/zucchini-1?trouble=powdery-mildew-cucurbit&gone=trellis").text
    )
    assert "Not possible here: Thin and weed, and tie up what climbs, for air." in page.text
    assert "The label is the law" in page.text
    assert "not even cooked" in page.text


def test_what_is_not_possible_is_kept_and_taken_back(here: Browser) -> None:
    at, asked = "/options/zucchini-1", "/options/zucchini-1?trouble=powdery-mildew-cucurbit"
    assert here.send(at, at=asked, trouble="powdery-mildew-cucurbit", gone="trellis", id="a1").status_code == 303
    assert 'name="gone" value="trellis" checked' in here.get(asked).text
    (kept,) = [e for e in Desk(here.folder).entries() if e.kind == "step"]
    assert (kept.target, kept.payload["step"], kept.payload["here"]) == ("zucchini-1", "trellis", "not possible")
    assert here.send(at, at=asked, trouble="powdery-mildew-cucurbit", id="a2").status_code == 303
    assert 'name="gone" value="trellis">' in here.get(asked).text, "possible after all"


def test_without_a_trouble_one_is_chosen_among_those_of_the_crop(here: Browser) -> None:
    text = here.get("/options/zucchini-1").text
    chosen = re.findall(r'<option value="([^"]+)">', text)
    assert "powdery-mildew-cucurbit" in chosen
    assert "clubroot" not in chosen


def test_the_verdict_shows_every_reason_and_keeps_what_was_put_on(here: Browser) -> None:
    type_label(here)
    at = "/check/zucchini-1?label=Mealmute&against=powdery-mildew-cucurbit"
    page = sound(here, at)
    assert "Unknown: so not yet" in page.text or "Not now" in page.text
    assert "Read the label for its group" in page.text
    assert "Next chance: none is known." in page.text, "no forecast by the hour"
    seen = sound(here, f"{at}&seen.leaf-dry=no")
    assert "Wet leaves" in seen.text
    sent = here.send(
        "/check/zucchini-1", at=at, id="treat-1", label="Mealmute", mix="0.5 L", hour="19:30", flowers_open="no"
    )
    assert sent.status_code == 303
    (entry,) = [e for e in Desk(here.folder).entries() if e.kind == "treat" and e.payload["label"] == "Mealmute"]
    assert (entry.quantity, entry.unit, entry.payload["hour"]) == (0.5, "L", "19:30")
    assert entry.payload["days_to_picking"] == 3, "as the label says on that day"
    sheet = sound(here, "/")
    assert "Do not pick" in sheet.text
    assert "by the label, never sooner" in sheet.text


def test_hostile_names_are_harmless(here: Browser) -> None:
    bad = '<script>alert(1)</script> "x" {{ 7*7 }}'
    here.send("/labels", at="/labels", name=bad, id="label-2", **{"given.active": bad})
    page = here.get("/labels").text
    assert "<script>alert(1)" not in page
    assert tidy_name(bad) in Checked(page).text
