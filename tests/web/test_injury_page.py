"""An injury typed on the page: held on sheet and pages, a picking under it warned of and kept, until a release."""

from __future__ import annotations

from typing import Any

import pytest
from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry


def entered(here: Browser, kind: str, target: str, **fields: str) -> Any:
    """A whole form of the page of entries, sent."""
    here.clock.move_on(minutes=1)
    once = f"{kind}{len(entries(here))}".ljust(20, "x")
    return here.send("/enter", at=f"/enter?kind={kind}", kind=kind, target=target, id=once, **fields)


def entries(here: Browser) -> tuple[Entry, ...]:
    desk = Desk(here.folder)
    try:
        return desk.entries()
    finally:
        desk.close()


def text_of(here: Browser, address: str) -> str:
    page = Checked(here.get(address).text)
    assert page.problems == []
    return page.text.replace("\N{NO-BREAK SPACE}", " ")


def test_from_the_form_to_the_hold_and_out_by_a_release(here: Browser) -> None:
    refused = entered(here, "injury", "tomato-1", beds="bed 99")
    assert refused.status_code == 422
    assert "There is no bed or planting" in Checked(refused.text).text

    said = {"first_seen": "2026-06-08", "kinds": "tomatoes & <b>bindweed</b>", "beds": "pea-1"}
    kept = entered(here, "injury", "tomato-1", **said, amendments="clippings, own lawn, lot 2", spared="cabbages")
    assert kept.status_code == 303, kept.text
    back = text_of(here, kept.headers["location"])
    assert "Not to be picked or eaten until a release is entered: pea-1 and tomato-1." in back

    sheet = text_of(here, "/")
    held = sheet[sheet.index("Not to be done") : sheet.index("In the next three days")]
    assert held.index("Do not pick or eat peas and tomatoes") < held.index("Do not cut asparagus")
    assert "Keep no seed and no seed tubers" in held
    assert "tomato-1 is held back since 8 June" in text_of(here, "/planting/tomato-1")
    assert "held back since 8 June" in text_of(here, "/what?of=tomato-1")
    assert "held back since" not in text_of(here, "/planting/cabbage-1")
    pickings = text_of(here, "/pickings")
    assert pickings.index("Not to be picked") < pickings.index("Do not pick or eat peas and tomatoes")
    assert "Do not pick or eat" not in text_of(here, "/pickings?crop=garlic")

    record = text_of(here, "/injury?of=tomato-1")
    for word in ("<b>bindweed</b>", "clippings, own lawn, lot 2", "cabbages", "proves no source", "accuses nobody"):
        assert word in record
    assert "misuse complaint" in record
    assert "By 8 July" in record

    picked = entered(here, "pick", "tomato-1", amount="1.2", unit="kg")
    assert picked.status_code == 303, "a picking that was made is kept, held back or not"
    warned = text_of(here, picked.headers["location"])
    assert "tomato-1 is held back since 8 June" in warned
    assert "do not eat it until a release is entered" in warned
    assert any(e.kind == "pick" and e.target == "tomato-1" and e.quantity == 1.2 for e in entries(here))

    for lacking in (
        {"by": "", "what": "no residue"},
        {"by": "the clinic", "what": ""},
        {"by": "the clinic", "what": " "},
    ):
        before = len(entries(here))
        answer = entered(here, "release", "tomato-1", **lacking)
        assert answer.status_code in (400, 422), answer.status_code
        assert len(entries(here)) == before
    other = entered(here, "release", "cabbage-1", by="the clinic", what="nothing found")
    assert "It lets nothing go. Still held back: pea-1 and tomato-1." in text_of(here, other.headers["location"])
    assert "Do not pick or eat" in text_of(here, "/")

    one = entered(here, "release", "tomato-1", by="the clinic", what="nothing found in the fruit")
    assert "No longer held back: tomato-1. Still held back: pea-1." in text_of(here, one.headers["location"])
    assert "Do not pick or eat peas" in text_of(here, "/")
    entered(here, "release", "bed-4", by="the clinic", what="nothing found in the pods")
    assert "Do not pick or eat" not in text_of(here, "/")
    assert "held back since" not in text_of(here, "/planting/tomato-1")
    after = text_of(here, "/injury?of=tomato-1")
    assert "Released on 12 June by the clinic: nothing found in the fruit" in after
    assert "All of it has been released." in after


def test_an_entry_put_right_or_withdrawn_takes_its_hold_along(here: Browser) -> None:
    first = entered(here, "injury", "tomato-1", kinds="tomatoes").headers["location"].rpartition("kept=")[2]
    assert "Do not pick or eat tomatoes" in text_of(here, "/")
    right = entered(here, "injury", "pepper-1", kinds="peppers", puts_right=first)
    second = right.headers["location"].rpartition("kept=")[2]
    sheet = text_of(here, "/")
    assert "Do not pick or eat tomatoes" not in sheet
    assert "Do not pick or eat sweet peppers" in sheet
    record = text_of(here, "/injury?of=pepper-1")
    assert "in place of an entry of" in record, record[:900]
    here.send("/enter", at="/enter", wish="undo", kept=second)
    assert "Do not pick or eat sweet peppers" not in text_of(here, "/")


def test_a_release_that_is_withdrawn_holds_back_again(here: Browser) -> None:
    entered(here, "injury", "tomato-1", kinds="tomatoes")
    let = entered(here, "release", "tomato-1", by="the clinic", what="clean").headers["location"].rpartition("kept=")[2]
    assert "Do not pick or eat tomatoes" not in text_of(here, "/")
    here.send("/enter", at="/enter", wish="undo", kept=let)
    assert "Do not pick or eat tomatoes" in text_of(here, "/")


@pytest.mark.parametrize("of", ["bed-1", "tomato-1", "moon-1"])
def test_where_nothing_is_written_down_the_record_says_so_in_one_line(here: Browser, of: str) -> None:
    answer = here.get(f"/injury?of={of}")
    assert answer.status_code == 404
    assert "is written down." in Checked(answer.text).text
    assert "No injury is written down." in text_of(here, "/injury")
