"""Weather set aside by hand: kept, not used, used again; as it was known on a day, so it stays."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from browsing import Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.desk.station_record import station_record
from kailyard.desk.view import season_view
from kailyard.desk.weather import weather
from kailyard.desk.weather_aside import KIND, set_aside
from kailyard.errors import Conflict, DataError, NotFound, UsageError

SPAN = {"first": "2019-05-03", "last": "2019-05-05"}


@pytest.fixture
def desk(here: Browser):
    made = Desk(here.folder, clock=here.clock, who="Idony")
    yield made
    made.close()


def the_record(desk: Desk) -> str:
    (kept,) = desk.store.kept_weather()
    return str(kept.id)


def minima(desk: Desk, first: date, days: int, as_known: date | None = None) -> np.ndarray:
    record, _ = station_record(desk, desk.garden(as_known=as_known), as_known)
    at = (first - record.first).days
    return record.tmin_c[at : at + days]


def send(browser: Browser, **form: str):
    return browser.send("/weather", at="/weather", **form)


def test_days_set_aside_are_not_used_and_the_rest_is(here: Browser, desk: Desk) -> None:
    before = minima(desk, date(2019, 5, 2), 5)
    assert not np.isnan(before).any()
    answer = send(here, wish="aside", id="w1", record=the_record(desk), why="stood in <b>sun</b>", **SPAN)
    assert answer.status_code == 303
    assert np.isnan(minima(desk, date(2019, 5, 2), 5)).tolist() == [False, True, True, True, False]
    assert minima(desk, date(2019, 5, 2), 1) == before[0]
    (kept,) = desk.store.weather_imports()
    assert not np.isnan(kept.tmin_c[(date(2019, 5, 3) - kept.first).days]), "nothing is lost"
    page = here.get("/weather")
    assert Checked(page.text).problems == []
    assert "2019-05-03 to 2019-05-05 set aside: stood in <b>sun</b>" in Checked(page.text).text


def test_used_again_it_is_as_it_was(here: Browser, desk: Desk) -> None:
    before = minima(desk, date(2019, 5, 2), 5)
    send(here, wish="aside", id="w1", record=the_record(desk), **SPAN)
    assert send(here, wish="use", entry="w1").status_code == 303
    assert minima(desk, date(2019, 5, 2), 5).tolist() == before.tolist()
    assert send(here, wish="use", entry="w1").status_code == 409
    kinds = {e.kind for e in desk.store.entries() if "w1" in (e.id, e.supersedes)}
    assert kinds == {KIND, "withdraw"}, "both stay in the daybook"


def test_the_form_sent_twice_sets_aside_once(here: Browser, desk: Desk) -> None:
    for _ in range(2):
        assert send(here, wish="aside", id="w1", record=the_record(desk), **SPAN).status_code == 303
    assert sum(e.kind == KIND for e in desk.store.entries()) == 1
    again = send(here, wish="aside", id="w2", record=the_record(desk), first="2019-05-04", last="2019-05-04")
    assert again.status_code == 409


def test_with_the_whole_record_aside_nothing_is_foreseen_and_the_page_says_so(here: Browser, desk: Desk) -> None:
    assert "days on one side" not in here.get("/").text
    send(here, wish="aside", id="w1", record=the_record(desk))
    with pytest.raises(DataError, match="no weather record"):
        season_view(desk)
    assert here.get("/").status_code == 422
    assert "All of it is set aside" in Checked(here.get("/weather").text).text
    send(here, wish="use", entry="w1")
    assert here.get("/").status_code == 200


def test_what_was_known_before_still_rests_on_it(desk: Desk, here: Browser) -> None:
    here.clock.move_on(days=1)
    set_aside(desk, the_record(desk), **SPAN)
    assert np.isnan(minima(desk, date(2019, 5, 3), 1)).all()
    assert not np.isnan(minima(desk, date(2019, 5, 3), 1, as_known=date(2026, 6, 12))).any()


@pytest.mark.parametrize(
    ("record", "days", "error"),
    [
        ("", {}, NotFound),
        ("no-such", {}, NotFound),
        (None, {"first": "1900-01-01", "last": "1900-01-02"}, UsageError),
        (None, {"first": "2019-05-05", "last": "2019-05-03"}, UsageError),
        (None, {"first": "third of May", "last": "2019-05-03"}, UsageError),
    ],
)
def test_what_does_not_fit_changes_nothing(desk: Desk, record: str | None, days: dict[str, str], error: type) -> None:
    with pytest.raises(error):
        set_aside(desk, the_record(desk) if record is None else record, **days)
    assert not any(e.kind == KIND for e in desk.store.entries())


def test_the_command_does_the_same(desk: Desk) -> None:
    short = the_record(desk)[:8]
    assert weather(desk, None).rows[0][0].startswith(f"{short}: ")
    made = weather(desk, None, aside={"record": short, "first": "2019-05-03"})
    assert made.title.endswith(": 2019-05-03")
    assert weather(desk, None).rows[0][0].endswith("2019-05-03 to 2019-05-03 set aside")
    with pytest.raises(UsageError, match="--aside RECORD"):
        weather(desk, None, aside={"first": "2019-05-03"})
    with pytest.raises(Conflict):
        weather(desk, None, aside={"record": short, "first": "2019-05-03"})
