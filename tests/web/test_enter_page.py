"""Entering: every form writes exactly the entry meant, once; put right and taken back as easily."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from html.parser import HTMLParser

import pytest
from browsing import HOSTILE, Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.desk.forms import kinds_to_enter
from kailyard.garden.model import Entry


class Forms(HTMLParser):
    """The forms of a page as a browser without scripts would send them: fields as they stand, and their buttons."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.forms: list[dict[str, str]] = []
        self.buttons: list[list[tuple[str, str, str]]] = []
        self._open = False
        self._select = self._button = self._area = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag == "form":
            self._open = True
            self.forms.append({"": given.get("action", "")})
            self.buttons.append([])
        if not self._open:
            return
        if tag == "input" and (given.get("type") != "checkbox" or "checked" in given):
            self.forms[-1][given.get("name", "-")] = given.get("value", "")
        elif tag == "select":
            self._select = given["name"]
        elif tag == "option" and (self._select not in self.forms[-1] or "selected" in given):
            self.forms[-1][self._select] = given.get("value", "\0")
        elif tag == "textarea":
            self._area = given["name"]
            self.forms[-1][self._area] = ""
        elif tag == "button":
            self.buttons[-1].append((given.get("name", ""), given.get("value", ""), given.get("aria-label", "")))

    def handle_data(self, data: str) -> None:
        if self._open and self._select and self.forms[-1].get(self._select) == "\0":
            self.forms[-1][self._select] = data
        elif self._open and self._area:
            self.forms[-1][self._area] += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self._open = False
        elif tag == "select":
            self._select = ""
        elif tag == "textarea":
            self._area = ""


def entries(browser: Browser) -> dict[str, Entry]:
    desk = Desk(browser.folder)
    try:
        return {e.id: e for e in desk.store.entries()}
    finally:
        desk.close()


def send(browser: Browser, fields: dict[str, str], **more: str):
    """Send a form of the page, and the new entries."""
    before = entries(browser)
    body = {name: value for name, value in {**fields, **more}.items() if name}
    sent = browser.client.post(fields[""], data=body, follow_redirects=False)
    return sent, [e for id_, e in entries(browser).items() if id_ not in before]


def form_of(browser: Browser, address: str, **has: str) -> dict[str, str]:
    """The first form of a page that has these fields."""
    page = Forms(browser.get(address).text)
    return next(f for f in page.forms if all(f.get(name) == value for name, value in has.items()))


USUAL = [
    ({"kind": "pick", "target": "head-1"}, {"amount": "1.5", "unit": "kg"}, {}, (1.5, "kg")),
    ({"kind": "pick", "target": "garlic-1"}, {"amount": "20", "unit": "heads", "last": "yes"}, {"last": True},
     (20.0, "count")),
    ({"kind": "look", "target": "pea-2"}, {"found": "", "sound": "yes"}, {"sound": True}, (None, "")),
    ({"kind": "look", "target": "pea-2"}, {"found": "grey moth on two leaves", "sound": ""},
     {"found": "grey moth on two leaves"}, (None, "")),
    ({"kind": "work", "target": "tomato-2", "what": "watered"}, {}, {"what": "watered"}, (None, "")),
    ({"kind": "rain"}, {"amount": "7.5"}, {}, (7.5, "mm")),
    ({"kind": "soil-temperature"}, {"amount": "14"}, {}, (14.0, "°C")),
    ({"kind": "air-temperature"}, {"tmin_c": "-1.5"}, {"tmin_c": -1.5}, (None, "")),
    ({"kind": "stage", "target": "garlic-1", "share": "70"}, {}, {"stage": "mature", "share": 0.7}, (None, "")),
    ({"kind": "stage", "target": "bean-1"}, {"state": "seen"}, {"stage": "first-flower", "state": "seen"}, (None, "")),
    ({"kind": "stage", "target": "bean-1"}, {"state": "not yet"}, {"stage": "first-flower", "state": "not yet"},
     (None, "")),
]  # fmt: skip


@pytest.mark.parametrize(("form", "typed", "payload", "amount"), USUAL)
def test_the_usual_by_two_taps_and_a_number(
    form: dict, typed: dict, payload: dict, amount: tuple, here: Browser
) -> None:
    # By the planting's own name: which ones are listed first is for the tests of what is likeliest.
    address = f"/enter?of={form['target']}" if "target" in form else "/enter"
    sent, made = send(here, form_of(here, address, **form), **typed)
    assert sent.status_code == 303, Checked(sent.text).text
    (entry,) = made
    assert (entry.kind, entry.target) == (form["kind"], form.get("target", ""))
    assert dict(entry.payload) == payload
    assert (entry.quantity, entry.unit) == amount
    assert entry.happened.isoformat() == "2026-06-12"


def test_a_double_click_is_one_entry_and_another_body_is_shown_as_a_conflict(here: Browser) -> None:
    fields = form_of(here, "/enter", kind="rain")
    _, first = send(here, fields, amount="7")
    again, second = send(here, fields, amount="7")
    assert (len(first), again.status_code, second) == (1, 303, [])
    other, third = send(here, fields, amount="8")
    assert (other.status_code, third) == (409, [])
    assert "another quantity" in Checked(other.text).text


def test_two_forms_of_one_page_are_two_entries(here: Browser) -> None:
    ids = [f["id"] for f in Forms(here.get("/enter").text).forms if "id" in f]
    assert len(set(ids)) == len(ids) > 20


def test_plantings_with_open_windows_come_first(here: Browser) -> None:
    page = here.get("/enter").text
    listed = re.findall(r'href="/planting/([\w-]+)"', page)
    sheet = here.get("/").text
    asked = re.findall(r'name="line" value="(?:pick|sow|support|set-out|harden)/([\w-]+)"', sheet)
    assert listed[:3] == list(dict.fromkeys(asked))[:3]


def test_after_an_entry_it_is_said_back_and_undone(here: Browser) -> None:
    sent, (made,) = send(here, form_of(here, "/enter", kind="rain"), amount="7")
    back = here.get(sent.headers["location"]).text
    assert "rain 7 mm" in Checked(back).text.replace("\xa0", " ")
    undo = next(f for f in Forms(back).forms if f.get("wish") == "undo")
    sent, (gone,) = send(here, undo)
    assert (gone.kind, gone.supersedes) == ("withdraw", made.id)
    _, none = send(here, undo)
    assert none == [], "taken back twice is taken back once"


def test_putting_right_is_the_same_form_filled(here: Browser) -> None:
    _, (made,) = send(here, form_of(here, "/enter", kind="pick", target="head-1"), amount="12", unit="heads")
    form = form_of(here, f"/enter?right={made.id}", kind="pick")
    assert (form["amount"], form["unit"], form["target"], form["happened"]) == ("12", "heads", "head-1", "2026-06-12")
    sent, (other,) = send(here, form, amount="2", happened="2026-06-11", text="Two, not twelve.\r\nSorry.")
    assert sent.status_code == 303
    assert (other.supersedes, other.quantity, other.unit) == (made.id, 2.0, "count")
    assert other.text == "2 heads; Two, not twelve.\nSorry."
    again, none = send(here, {**form, "id": "another"}, amount="3")
    assert (again.status_code, none) == (409, []), "put right elsewhere meanwhile"


def test_every_entry_of_the_demo_that_has_a_form_comes_back_out_of_it_unchanged(here: Browser) -> None:
    own = dict(kinds_to_enter())
    out = {e.supersedes for e in entries(here).values() if e.supersedes}
    found: dict[str, Entry] = {}
    for e in entries(here).values():
        if e.kind in own and e.id not in out:
            found.setdefault(f"{e.kind} {e.unit} {sorted(e.payload)}", e)
    assert len(found) > 15
    for entry in found.values():
        sent, made = send(here, form_of(here, f"/enter?right={entry.id}", kind=entry.kind))
        assert sent.status_code == 303, (entry, Checked(sent.text).text)
        (same,) = made
        kept = {k: v for k, v in entry.payload.items() if v not in (None, "")}
        assert (same.target, same.text, dict(same.payload), same.unit) == (entry.target, entry.text, kept, entry.unit)
        assert same.quantity == pytest.approx(entry.quantity)
        assert same.happened == entry.happened


@pytest.mark.parametrize("kind", [name for name, _ in kinds_to_enter()])
def test_every_kind_has_its_whole_form(kind: str, here: Browser) -> None:
    answer = here.get(f"/enter?kind={kind}&of=pea-2")
    assert answer.status_code == 200
    assert Checked(answer.text).problems == []


def test_what_is_refused_keeps_what_was_typed(here: Browser) -> None:
    form = form_of(here, "/enter?kind=pick&of=head-1", kind="pick")
    sent, made = send(here, form, amount="a few", text="from the north end", happened="2026-06-10")
    assert (sent.status_code, made) == (400, [])
    for kept in ("a few", "from the north end", "2026-06-10"):
        assert kept in sent.text
    future, none = send(here, form, amount="2", happened="2026-06-20")
    assert (future.status_code, none) == (400, [])
    assert "after today" in Checked(future.text).text


def test_us_units_are_typed_and_si_is_kept(door: Callable[..., Browser]) -> None:
    browser = door("hostile")
    desk = Desk(browser.folder, clock=browser.clock)
    garden = desk.garden()
    payload = {**garden.settings, "units": "us"}
    desk.keep([desk.entry("garden", happened=desk.today(garden), payload=payload)])
    desk.close()
    _, (rain,) = send(browser, form_of(browser, "/enter", kind="rain"), amount="0.5")
    assert rain.quantity == pytest.approx(12.7)
    _, (cold,) = send(browser, form_of(browser, "/enter", kind="air-temperature"), tmin_c="23")
    assert cold.payload["tmin_c"] == pytest.approx(-5.0)
    form = form_of(browser, f"/enter?right={cold.id}", kind="air-temperature")
    assert form["tmin_c"] == "23"


def test_an_undo_leads_to_no_other_site(here: Browser) -> None:
    sent = here.send("/enter", at="/", wish="undo", kept="none", back="//elsewhere.example")
    assert sent.status_code == 400
    sent = here.send("/enter", at="/", wish="keep", kind="rain", amount="1", back="planting", target="", id="x1")
    assert sent.headers["location"].startswith("/enter?kept=")


def test_the_only_garden_entry_cannot_be_taken_back(here: Browser) -> None:
    (garden,) = [e for e in entries(here).values() if e.kind == "garden"]
    assert here.send("/enter", at="/", wish="undo", kept=garden.id).status_code == 409


def test_without_weather_entries_can_be_made(door: Callable[..., Browser]) -> None:
    browser = door("empty")
    _, (rain,) = send(browser, form_of(browser, "/enter", kind="rain"), amount="3")
    assert rain.quantity == 3.0


def test_hostile_words_are_kept_and_shown_as_written(door: Callable[..., Browser]) -> None:
    browser = door("hostile")
    form = form_of(browser, "/enter?kind=look&of=lettuce-1", kind="look")
    sent, (made,) = send(browser, form, found=HOSTILE, text=f"{HOSTILE}\n=cmd|' /C calc'!A0")
    assert made.payload["found"] == HOSTILE
    page = browser.get(sent.headers["location"]).text
    assert "<script>alert" not in page
    assert Checked(page).problems == []
    assert unescape(HOSTILE) in Checked(page).text


def test_what_an_entry_did_to_the_odds_is_said(here: Browser) -> None:
    form = form_of(here, "/planting/bean-1", kind="stage", target="bean-1")
    sent, _ = send(here, form, state="seen")
    assert sent.headers["location"].startswith("/planting/bean-1?kept=")
    assert "is now foreseen" in Checked(here.get(sent.headers["location"]).text).text
