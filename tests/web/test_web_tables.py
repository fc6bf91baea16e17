"""Beds, plantings and cultivars typed in a browser: in place, pasted, taken back."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from browsing import HOSTILE, Browser, another
from markup_check import Checked

from kailyard.desk.desk import Desk


def garden(browser: Browser):
    desk = Desk(browser.folder, clock=browser.clock)
    try:
        return desk.garden()
    finally:
        desk.close()


def entries(browser: Browser) -> int:
    desk = Desk(browser.folder)
    try:
        return len(desk.store.entries())
    finally:
        desk.close()


def row_form(browser: Browser, path: str, name: str) -> dict[str, str]:
    """The fields of a row's form as its page shows them."""
    page = browser.get(f"{path}?change={name}").text
    found = re.search(rf'<tr id="row-{name}" role="row" class="open">.*?</tr>', page, re.DOTALL)
    assert found, "the row stands open"
    fields = dict(re.findall(r'<input(?: type="hidden")? name="([^"]+)" value="([^"]*)"', found[0]))
    for select, options in re.findall(r'<select name="([^"]+)"[^>]*>(.*?)</select>', found[0], re.DOTALL):
        fields[select] = re.search(r"<option selected>([^<]*)", options)[1]
    return {name: value for name, value in fields.items() if name != "token"}


def mark(browser: Browser, path: str) -> str:
    return re.search(r'name="mark" value="([0-9a-f]{20})"', browser.get(path).text)[1]


def send(browser: Browser, path: str, **form: object):
    return browser.send(path, at=path, **{"mark": mark(browser, path), **form})


def said(browser: Browser, path: str) -> str:
    return Checked(browser.get(path).text).text


def test_a_bed_is_made_in_feet_where_the_garden_is_metric(door: Callable[..., Browser]) -> None:
    browser = door("empty")
    cells = {"cells.length": "12ft", "cells.width": "1.2", "cells.at": "3ft,2"}
    answer = send(browser, "/beds", wish="new", **cells)
    assert answer.status_code == 303
    assert "bed-1 entered." in said(browser, "/beds"), "left blank, it is the next number"
    bed = garden(browser).beds["bed-1"]
    # 1 ft is 0.3048 m exactly: NIST SP 811 (2008), appendix B.8.
    assert bed.length_m == pytest.approx(12 * 0.3048, abs=1e-9)
    assert (bed.width_m, bed.east_m, bed.north_m) == (1.2, pytest.approx(0.9144, abs=1e-9), 2.0)


def test_a_row_is_changed_in_place_and_what_was_not_touched_stays_to_the_last_digit(here: Browser) -> None:
    before = garden(here).beds["bed-3"]
    form = row_form(here, "/beds", "bed-3")
    assert form["cells.soil"] == before.soil
    answer = here.send("/beds", at="/beds", wish="change", **{**form, "cells.soil": "sand & 'silt'"})
    assert answer.status_code == 303
    assert answer.headers["location"] == "/beds#row-bed-3"
    after = garden(here).beds["bed-3"]
    assert after.soil == "sand & 'silt'"
    assert (after.length_m, after.east_m, after.cover) == (before.length_m, before.east_m, before.cover)


def test_an_unchanged_row_is_no_entry(here: Browser) -> None:
    count = entries(here)
    form = row_form(here, "/plantings", "bean-1")
    assert here.send("/plantings", at="/plantings", wish="change", **form).status_code == 303
    assert "Nothing differs" in said(here, "/plantings")
    assert entries(here) == count


def test_a_row_changed_meanwhile_by_another_is_a_conflict(here: Browser) -> None:
    first, second = row_form(here, "/beds", "bed-3"), row_form(here, "/beds", "bed-3")
    assert here.send("/beds", at="/beds", wish="change", **{**first, "cells.soil": "one"}).status_code == 303
    here.clock.move_on(seconds=5)
    late = another(here)
    answer = late.send("/beds?change=bed-3", at="/beds", wish="change", **{**second, "cells.soil": "two"})
    assert answer.status_code == 409
    assert "changed meanwhile by somebody else" in Checked(answer.text).text
    assert garden(here).beds["bed-3"].soil == "one"


def test_a_bad_row_is_one_clear_line_and_keeps_what_was_typed(here: Browser) -> None:
    count = entries(here)
    form = row_form(here, "/beds", "bed-3") | {"cells.length": "12 parsecs", "cells.soil": "new words"}
    answer = here.send("/beds?change=bed-3", at="/beds", wish="change", **form)
    assert answer.status_code == 422
    assert "length: 'parsecs' in '12 parsecs' is not understood." in Checked(answer.text).text
    assert 'value="12 parsecs"' in answer.text
    assert 'value="new words"' in answer.text
    assert entries(here) == count


def test_a_length_out_of_range_is_said_without_the_names_of_types(here: Browser) -> None:
    answer = send(here, "/beds", wish="new", **{"cells.length": "501", "cells.width": "1"})
    assert answer.status_code == 422
    words = Checked(answer.text).text
    assert "length: at most 500 m." in words
    assert "float" not in words


def test_a_form_sent_twice_is_one_bed(door: Callable[..., Browser]) -> None:
    browser = door("empty")
    form = {"mark": mark(browser, "/beds"), "wish": "new", "cells.length": "3", "cells.width": "1"}
    token = browser.token("/beds")
    for _ in range(2):
        answer = browser.client.post("/beds", data={"token": token, **form}, follow_redirects=False)
        assert answer.status_code == 303
    assert list(garden(browser).beds) == ["bed-1"]
    assert "kept already" in said(browser, "/beds")


def test_many_rows_are_pasted_and_taken_back_whole(door: Callable[..., Browser]) -> None:
    browser = door("empty")
    beds = "bed\tlength\twidth\tsoil\nbed-1\t3.6m\t1.2\tloam\nbed-2\t12ft\t4ft\t\n\t2\t1\tsand\n"
    assert send(browser, "/beds", wish="paste", pasted=beds).status_code == 303
    assert "bed-1, bed-2, bed-3 entered." in said(browser, "/beds")
    assert garden(browser).beds["bed-2"].length_m == pytest.approx(12 * 0.3048, abs=1e-9)
    browser.clock.move_on(seconds=30)
    last = re.search(
        r'name="wish" value="undo"><input type="hidden" name="name" value="([^"]+)"', browser.get("/beds").text
    )
    assert send(browser, "/beds", wish="undo", name=last[1]).status_code == 303
    assert garden(browser).beds == {}
    again = send(browser, "/beds", wish="undo", name=last[1])
    assert again.status_code == 409
    assert "taken back already" in Checked(again.text).text


def test_undo_brings_back_what_was_before(here: Browser) -> None:
    before = garden(here).plantings["bean-3"]
    form = row_form(here, "/plantings", "bean-3") | {"cells.count": "99", "cells.spacing": "4in"}
    assert here.send("/plantings", at="/plantings", wish="change", **form).status_code == 303
    changed = garden(here).plantings["bean-3"]
    assert (changed.count, changed.spacing_cm) == (99, pytest.approx(10.16, abs=1e-9))
    page = here.get("/plantings").text
    last = re.search(r'name="wish" value="undo"><input type="hidden" name="name" value="([^"]+)"', page)
    assert send(here, "/plantings", wish="undo", name=last[1]).status_code == 303
    assert garden(here).plantings["bean-3"] == before


def test_a_bed_that_has_plantings_by_now_does_not_vanish_by_undo(door: Callable[..., Browser]) -> None:
    browser = door("empty")
    send(browser, "/beds", wish="new", **{"cells.bed": "bed-1", "cells.length": "3", "cells.width": "1"})
    cells = {"cells.crop": "pea", "cells.bed": "bed-1", "cells.start": "sown"}
    assert send(browser, "/plantings", wish="new", **cells).status_code == 303
    assert list(garden(browser).plantings) == ["pea-1"]
    last = re.search(r'value="undo"><input type="hidden" name="name" value="([^"]+)"', browser.get("/beds").text)
    answer = send(browser, "/beds", wish="undo", name=last[1])
    assert answer.status_code == 409
    assert "has plantings by now" in Checked(answer.text).text


BAD_PASTES = [
    ("bed\tlength\twidth\nbed-90\t3\t1\nbed-91\tlong\t1\nbed 92\t3\t1\nbed-93\t\t1\n",
     ["row 3 (bed-91): length: 'long' is no number", "row 4: 'bed 92' is no identifier",
      "row 5 (bed-93): length must be filled in", "Nothing was changed."]),
    ("bed\tlength\twidth\nbed-90\t3\t1\nbed-90\t4\t1\n", ["row 3: 'bed-90' stands in row 2 too"]),
    ("bed\tsize\nbed-90\t3\n", ["no column is called 'size'", "There are: bed, name, length"]),
    ("bed,length,width\nbed-90,3,1\n", ["parted by tabs"]),
    ("bed\tlength\twidth\tcover\nbed-90\t3\t1\troof\n", ["row 2 (bed-90): cover: 'roof' is none of none, fleece"]),
    ("bed\tlength\twidth\nbed-90\t3,6\t1\n", ["row 2 (bed-90): length: ',6' in '3,6' is not understood"]),
    ("bed\tlength\twidth\nbed-90\t3\t1\t9\n", ["row 2: 4 cells, but 3 headings"]),
    ('bed\tname\n"bed-90\tx\n', ["cannot be read"]),
    ("bed\tlength\twidth\n", ["Only the line of headings"]),
    ("bed\tlength\twidth\n" + "x\t1\t1\n" * 1001, ["at most 1000"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "says"), BAD_PASTES, ids=range(len(BAD_PASTES)))
def test_a_paste_with_bad_rows_names_each_and_keeps_nothing(here: Browser, text: str, says: list[str]) -> None:
    count = entries(here)
    answer = send(here, "/beds", wish="paste", pasted=text)
    assert answer.status_code in (400, 422)
    words = Checked(answer.text).text
    for line in says:
        assert line in words
    assert entries(here) == count


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("pea-90\tpeas\tbed-1\tsown", "crop: the handbook has none called 'peas'. Did you mean pea?"),
        ("pea-90\tpea\tbed-99\tsown", "The garden has no bed 'bed-99'"),
        ("pea-90\tpea\tbed-1\tthrown", "start: 'thrown' is none of sown, raised, bought, planted"),
        ("bed-1\tpea\tbed-1\tsown", "'bed-1' is a bed"),
    ],
)
def test_a_bad_planting_is_named_by_row_and_rule(here: Browser, row: str, says: str) -> None:
    count = entries(here)
    answer = send(
        here, "/plantings", wish="paste", pasted=f"planting\tcrop\tbed\tstart\npea-91\tpea\tbed-1\tsown\n{row}\n"
    )
    assert answer.status_code == 422
    words = Checked(answer.text).text
    assert "row 3" in words
    assert says in words
    assert "kailyard " not in words, "nobody in a browser is sent to a terminal"
    assert entries(here) == count


@pytest.mark.parametrize("path", ["/beds", "/plantings", "/cultivars"])
def test_all_rows_go_to_the_spreadsheet_and_come_back_as_they_are(here: Browser, path: str) -> None:
    count = entries(here)
    page = here.get(f"{path}?paste=1").text
    text = re.search(r"<textarea[^>]*>\n(.*?)</textarea>", page, re.DOTALL)[1]
    from html import unescape

    assert send(here, path, wish="paste", pasted=unescape(text)).status_code == 303
    assert "Nothing differs" in said(here, path)
    assert entries(here) == count


def test_a_us_garden_types_feet_and_inches_bare(here: Browser) -> None:
    send_garden = {"name": "Lanthorn", "latitude": "44", "longitude": "-38", "timezone": "UTC", "units": "us"}
    assert here.send("/garden", at="/garden", **send_garden).status_code == 303
    form = row_form(here, "/beds", "bed-1")
    assert form["cells.length"].endswith(" ft")
    assert (
        send(here, "/beds", wish="new", **{"cells.bed": "b", "cells.length": "10", "cells.width": "1m"}).status_code
        == 303
    )
    bed = garden(here).beds["b"]
    assert (bed.length_m, bed.width_m) == (pytest.approx(3.048, abs=1e-9), 1.0)


def test_a_thing_is_taken_away_only_where_nothing_stands_on_it(here: Browser) -> None:
    form = row_form(here, "/beds", "bed-3")
    answer = here.send("/beds?change=bed-3", at="/beds", wish="remove", **form)
    assert answer.status_code == 409
    assert "has plantings that are not over" in Checked(answer.text).text
    form = row_form(here, "/plantings", "bean-3")
    assert here.send("/plantings", at="/plantings", wish="remove", **form).status_code == 303
    assert "bean-3" not in garden(here).plantings
    form = row_form(here, "/plantings", "bean-1")
    answer = here.send("/plantings", at="/plantings", wish="remove", **form)
    assert answer.status_code == 409
    assert "has entries in the daybook" in Checked(answer.text).text


def test_a_cultivar_with_a_hostile_name_is_entered_changed_and_put_aside(door: Callable[..., Browser]) -> None:
    browser = door("empty")
    cells = {"cells.crop": "pea", "cells.name": HOSTILE, "cells.days": "60", "cells.days_from": "sown"}
    assert send(browser, "/cultivars", wish="new", **cells).status_code == 303
    assert garden(browser).cultivars["pea", HOSTILE].days_to_maturity == 60
    page = browser.get("/cultivars", params={"change": f"pea {HOSTILE}"})
    assert Checked(page.text).problems == []
    was = re.search(r'name="was" value="([0-9a-f]+)"', page.text)[1]
    form = {"name": f"pea {HOSTILE}", "was": was, **cells, "cells.days": "62"}
    browser.clock.move_on(seconds=3)
    assert send(browser, "/cultivars", wish="change", **form).status_code == 303
    assert garden(browser).cultivars["pea", HOSTILE].days_to_maturity == 62


def test_days_without_from_where_they_count_are_asked_for(door: Callable[..., Browser]) -> None:
    cells = {"cells.crop": "pea", "cells.name": "Lantern", "cells.days": "60"}
    answer = send(door("empty"), "/cultivars", wish="new", **cells)
    assert answer.status_code == 400 or answer.status_code == 422
    assert "say from what they count" in Checked(answer.text).text


def test_400_plantings_are_listed_found_and_pasted(here: Browser) -> None:
    rows = "".join(f"lot-{n}\tpea\tbed-1\tsown\t{n}\n" for n in range(1, 401))
    assert (
        send(here, "/plantings", wish="paste", pasted=f"planting\tcrop\tbed\tstart\tplants\n{rows}").status_code == 303
    )
    page = here.get("/plantings").text
    assert Checked(page).problems == []
    assert len(re.findall(r'<tr id="row-lot-', page)) == 400
    found = here.get("/plantings?find=lot-399").text
    assert re.findall(r'<tr id="row-(lot-\d+)', found) == ["lot-399"]


def test_plantings_of_earlier_years_are_listed_when_asked_for_found_or_changed(here: Browser) -> None:
    plain = Checked(here.get("/plantings").text).text
    assert "zucchini-1" in plain
    assert "zucchini-25-1" not in plain
    assert "of earlier years are over" in plain
    for ask in ("past=true", "find=zucchini-25", "change=zucchini-25-1"):
        assert "zucchini-25-1" in Checked(here.get(f"/plantings?{ask}").text).text


def test_a_table_is_reachable_by_the_keyboard_alone(here: Browser) -> None:
    """Every change begins at a link and ends at a button; nothing asks for a pointer or a script."""
    page = here.get("/beds?change=bed-3").text
    assert "onclick" not in page
    assert "autofocus" in re.search(r'<tr id="row-bed-3".*?</tr>', page, re.DOTALL)[0]
