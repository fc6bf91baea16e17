"""Names and passphrases, sessions, the throttle, and forms from elsewhere."""

from __future__ import annotations

import base64
import re
import sqlite3
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from argon2 import PasswordHasher, Type, extract_parameters
from browsing import HOSTILE, LAN, PASSPHRASE, Browser, SetClock, another
from markup_check import Checked

from kailyard.desk import people
from kailyard.desk.desk import Desk
from kailyard.desk.people import NotLetIn, People, TooSoon, Visitor
from kailyard.desk.serving import remove_person
from kailyard.errors import Conflict, NotFound, UsageError

KEEPER = Visitor(True, keeper=True)


@pytest.fixture
def some(tmp_path: Path, clock: SetClock) -> People:
    made = People(tmp_path, clock=clock)
    made.add("Idony", PASSPHRASE, by=KEEPER)
    made.add("Perrin", PASSPHRASE, by=KEEPER)
    return made


def stranger(address: str = "192.168.7.30") -> Visitor:
    return Visitor(False, address=address)


def test_without_names_the_door_is_open_at_this_machine_and_shut_with_the_first(here: Browser) -> None:
    assert here.get("/").status_code == 200
    moved = here.send("/people", at="/people", wish="add", name="  Idony ", passphrase=PASSPHRASE)
    assert moved.status_code == 303
    text = Checked(here.get("/people").text).text
    assert "You are Idony." in text
    assert "this one" in text, "whoever gave the first name is in under it"
    assert another(here).get("/").status_code == 303


def test_over_the_network_a_name_is_needed_whatever_there_is(door: Callable[..., Browser]) -> None:
    assert door(lan=True).get("/").status_code == 303


def test_coming_in_leads_to_where_one_wanted_to_go(lan: Browser) -> None:
    asked = lan.get("/daybook?find=hail")
    assert asked.headers["location"] == "/login?next=%2Fdaybook%3Ffind%3Dhail"
    form = lan.get(asked.headers["location"])
    assert 'value="/daybook?find=hail"' in form.text
    moved = lan.send("/login", name="idony", passphrase=PASSPHRASE, next="/daybook?find=hail")
    assert moved.headers["location"] == "/daybook?find=hail"
    assert lan.get("/daybook").status_code == 200


@pytest.mark.parametrize(
    "next_", ["https://else.example/", "//else.example", "/\\else.example", "javascript:1", "/\n/x", ""]
)
def test_nobody_is_led_elsewhere_by_the_way_in(lan: Browser, next_: str) -> None:
    moved = lan.send("/login", name="Idony", passphrase=PASSPHRASE, next=next_)
    assert moved.headers["location"] == "/"


def test_the_cookie_is_kept_from_scripts_and_from_plain_http(lan: Browser) -> None:
    first = lan.get("/login").headers["set-cookie"]
    came = lan.come_in().headers["set-cookie"]
    for cookie in (first, came):
        name, *flags = [part.strip().lower() for part in cookie.split(";")]
        assert name.startswith("__host-kailyard=")
        assert {"httponly", "secure", "samesite=lax", "path=/"} <= set(flags)
        assert not [f for f in flags if f.startswith("domain")]
    assert "max-age" not in first.lower()
    assert f"max-age={180 * 86400}" in came.lower()
    assert first.partition(";")[0] != came.partition(";")[0], "a token from before coming in is worth nothing after"


def test_what_is_entered_bears_the_name(lan: Browser) -> None:
    lan.come_in("PERRIN")
    lan.entries({"id": "by-perrin", "kind": "note", "happened": "2026-06-12", "text": "dew"})
    assert Desk(lan.folder).store.known(["by-perrin"])["by-perrin"].who == "Perrin"


def test_sessions_are_listed_and_ended_one_by_one(lan: Browser) -> None:
    lan.come_in()
    other, third = another(lan), another(lan)
    other.come_in()
    third.come_in()
    page = lan.get("/people").text
    ids = [part.partition('"')[0] for part in page.split('name="session" value="')[1:]]
    assert len(ids) == 2
    assert lan.send("/people", at="/people", wish="end", session=ids[0]).status_code == 303
    alive = [b.get("/daybook").status_code for b in (other, third)]
    assert sorted(alive) == [200, 303]
    lan.send("/people", at="/people", wish="end others")
    assert {b.get("/daybook").status_code for b in (other, third)} == {303}
    assert lan.get("/daybook").status_code == 200


def test_nobody_ends_the_session_of_another(lan: Browser) -> None:
    lan.come_in()
    idonys = lan.client.app.state.door.people._kept.sessions("Idony")[0].id
    other = another(lan)
    other.come_in("Perrin")
    assert other.send("/people", at="/people", wish="end", session=idonys).status_code == 404
    assert lan.get("/daybook").status_code == 200


def test_going_out_ends_the_session_for_good(lan: Browser) -> None:
    lan.come_in()
    door = lan.client.app.state.door
    held = lan.client.cookies[door.cookie]
    assert lan.send("/logout", at="/people").headers["location"] == "/login"
    assert lan.get("/daybook").status_code == 303
    thief = another(lan)
    thief.client.cookies.set(door.cookie, held)
    assert thief.get("/daybook").status_code == 303


def test_coming_in_anew_ends_the_former_session(lan: Browser) -> None:
    lan.come_in()
    door = lan.client.app.state.door
    former = lan.client.cookies[door.cookie]
    lan.come_in()
    thief = another(lan)
    thief.client.cookies.set(door.cookie, former)
    assert thief.get("/daybook").status_code == 303
    assert len(door.people._kept.sessions("Idony")) == 1


def test_tokens_are_long_and_never_alike(some: People) -> None:
    tokens = {some.let_in("Idony", PASSPHRASE, at=stranger()) for _ in range(50)}
    tokens |= {people.fresh_token() for _ in range(50)}
    assert len(tokens) == 100
    assert {len(base64.urlsafe_b64decode(f"{token}=")) for token in tokens} == {32}, "256 bits"


def test_a_session_lasts_a_season(lan: Browser) -> None:
    lan.come_in()
    lan.clock.move_on(days=179)
    assert lan.get("/daybook").status_code == 200
    lan.clock.move_on(days=1)
    assert lan.get("/daybook").status_code == 303


def test_another_passphrase_ends_the_other_sessions(lan: Browser) -> None:
    lan.come_in()
    other = another(lan)
    other.come_in()
    new = "five new words set apart"
    wrong = lan.send("/people", at="/people", wish="change", old="not it at all", passphrase=new)
    assert wrong.status_code == 403
    assert lan.send("/people", at="/people", wish="change", old=PASSPHRASE, passphrase=new).status_code == 303
    assert lan.get("/daybook").status_code == 200
    assert other.get("/daybook").status_code == 303
    assert other.come_in().status_code == 403
    assert other.come_in(passphrase=new).status_code == 303


def test_only_the_keeper_lets_in_and_removes(lan: Browser) -> None:
    lan.come_in("Perrin")
    for wish in ("add", "remove"):
        answer = lan.send("/people", at="/people", wish=wish, name="Wenna", passphrase=PASSPHRASE)
        assert answer.status_code == 403
    keeper = another(lan)
    keeper.come_in()
    assert keeper.send("/people", at="/people", wish="remove", name="Idony").status_code == 400
    assert keeper.send("/people", at="/people", wish="remove", name="Perrin").status_code == 303
    assert lan.get("/daybook").status_code == 303, "who is removed is out at once"


def test_the_machine_may_remove_the_keeper_and_the_next_keeps_the_names(lan: Browser) -> None:
    remove_person(Desk(lan.folder, clock=lan.clock), "Idony")
    (left,) = lan.client.app.state.door.people.everybody()
    assert (left.name, left.keeper) == ("Perrin", True)


@pytest.mark.parametrize(
    ("name", "passphrase", "says"),
    [
        ("Wenna", "eleven char", "12 to 200"),
        ("Wenna", "x" * 201, "12 to 200"),
        ("Wenna", "aaaaaaaaaaaa", "tried first"),
        ("Wenna", "wennawennawenna", "tried first"),
        ("", PASSPHRASE, "empty"),
        ("a\u202eb", PASSPHRASE, "unseen"),
        ("W" * 81, PASSPHRASE, "at most 80"),
    ],
)
def test_names_and_passphrases_that_will_not_do(some: People, name: str, passphrase: str, says: str) -> None:
    with pytest.raises(UsageError, match=says):
        some.add(name, passphrase, by=KEEPER)


def test_a_name_is_one_whatever_its_capitals(some: People) -> None:
    with pytest.raises(Conflict):
        some.add("IDONY", PASSPHRASE, by=KEEPER)


@pytest.mark.parametrize("said", ["ünï cödé  passphrase 🌱", " blanks at the ends ", "x" * 192 + " end end"])
def test_any_signs_may_stand_in_a_passphrase_and_all_of_them_count(some: People, said: str) -> None:
    said = f"{said}abcde"[:200]
    some.add(HOSTILE, said, by=KEEPER)
    assert some.let_in(HOSTILE, said, at=stranger())
    with pytest.raises(NotLetIn):
        some.let_in(HOSTILE, said[:-1], at=stranger())


def test_fields_of_passphrases_are_unseen_posted_and_open_to_a_keeper_of_passwords(lan: Browser) -> None:
    pages = lan.get("/login").text
    lan.come_in()
    pages += lan.get("/people").text
    fields = re.findall(r"<input[^>]*name=\"(?:passphrase|old)\"[^>]*>", pages)
    assert len(fields) == 4
    for field in fields:
        assert 'type="password"' in field
        assert re.search(r'autocomplete="(current|new)-password"', field)
        assert "readonly" not in field
    for form in re.findall(r"<form[^>]*>(?:(?!</form>).)*passphrase(?:(?!</form>).)*</form>", pages, re.DOTALL):
        assert 'method="post"' in form.partition(">")[0]


def test_going_out_asks_the_browser_to_forget_pages_and_to_keep_what_waits(lan: Browser) -> None:
    lan.come_in()
    assert lan.send("/logout", at="/people").headers["clear-site-data"] == '"cache"'


def test_an_unknown_name_and_a_wrong_passphrase_are_told_alike(lan: Browser) -> None:
    one, two = lan.come_in("Idony", "wrong words entirely"), lan.come_in("Nobody", "wrong words entirely")
    assert one.status_code == two.status_code == 403
    assert Checked(one.text).text.replace("Idony", "") == Checked(two.text).text.replace("Nobody", "")


def test_an_unknown_name_costs_as_long_as_a_wrong_passphrase(some: People, monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[str] = []
    real = people._fits
    monkeypatch.setattr(people, "_fits", lambda hash_, said: tried.append(hash_) or real(hash_, said))
    for name in ("Idony", "Nobody"):
        with pytest.raises(NotLetIn):
            some.let_in(name, "wrong words entirely", at=stranger())
    assert len(tried) == 2
    assert extract_parameters(tried[0]) == extract_parameters(tried[1])


def test_failures_make_a_name_wait_twice_as_long_each_time(some: People, clock: SetClock) -> None:
    def wait() -> int:
        for _ in range(2):
            try:
                some.let_in("Perrin", "wrong words entirely", at=stranger(str(clock.now)))
            except TooSoon as err:
                return err.seconds
            except NotLetIn:
                continue
        return 0

    waits = []
    for _ in range(14):
        waits.append(wait())
        clock.move_on(seconds=waits[-1])
    grown = [w for w in waits if w]
    assert grown[:5] == [2, 4, 8, 16, 32]
    assert max(grown) <= 900
    with pytest.raises(NotLetIn):
        some.let_in("Perrin", "wrong words entirely", at=stranger())
    clock.move_on(minutes=16)
    assert some.let_in("Perrin", PASSPHRASE, at=stranger())
    assert some.let_in("Perrin", PASSPHRASE, at=stranger()), "success wipes the slate"


def test_an_address_that_tries_many_names_waits_too(some: People, clock: SetClock) -> None:
    judged = 0
    for n in range(40):
        with pytest.raises(NotLetIn) as told:
            some.let_in(f"name {n}", "wrong words entirely", at=stranger())
        judged += not isinstance(told.value, TooSoon)
    assert judged == people.FREE_OF_ADDRESS + 1
    assert some.let_in("Idony", PASSPHRASE, at=stranger("192.168.7.31")), "another address is not kept out by it"


def test_many_tries_at_once_gain_nothing(some: People) -> None:
    def one(_: int) -> str:
        try:
            some.let_in("Perrin", "wrong words entirely", at=stranger())
        except TooSoon:
            return "wait"
        except NotLetIn:
            return "judged"
        return "in"

    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(one, range(24)))
    assert answers.count("judged") <= people.FREE_OF_NAME + 1
    assert "in" not in answers


def test_waiting_is_told_as_http_has_it(lan: Browser) -> None:
    for _ in range(12):
        answer = lan.come_in("Idony", "wrong words entirely")
    assert answer.status_code == 429
    assert int(answer.headers["retry-after"]) >= 1
    assert "Wait" in Checked(answer.text).text


def test_hashes_are_argon2id_as_its_authors_advise(monkeypatch: pytest.MonkeyPatch) -> None:
    # RFC 9106, section 4, second recommended option: argon2id, 3 passes, 64 MiB, 4 lanes, salt 128 bits, tag 256 bits.
    monkeypatch.undo()
    found = extract_parameters(people._hasher().hash(PASSPHRASE))
    assert isinstance(people._hasher(), PasswordHasher)
    assert (found.type, found.time_cost, found.memory_cost, found.parallelism) == (Type.ID, 3, 65536, 4)
    assert (found.salt_len, found.hash_len) == (16, 32)


def test_the_file_holds_neither_passphrase_nor_token_and_only_its_owner_reads_it(lan: Browser) -> None:
    lan.come_in()
    path = lan.folder / "people.db"
    held = lan.client.cookies[lan.client.app.state.door.cookie]
    content = path.read_bytes()
    assert PASSPHRASE.encode() not in content
    assert held.encode() not in content
    assert path.stat().st_mode & 0o077 == 0
    with closing(sqlite3.connect(path)) as db:
        assert len(db.execute("SELECT id FROM session").fetchone()[0]) == 64


def test_people_are_in_no_export_and_no_backup(lan: Browser, tmp_path: Path) -> None:
    from kailyard.desk.keep import back_up, export

    lan.come_in()
    desk = Desk(lan.folder)
    export(desk, str(tmp_path / "out.json"))
    back_up(desk, str(tmp_path / "copy"))
    assert b"argon2" not in (tmp_path / "out.json").read_bytes()
    assert not [p for p in (tmp_path / "copy").iterdir() if p.name in ("people.db", "tls")]


@pytest.mark.parametrize("how", ["none", "blank", "made up", "another device's", "cross-site", "another site's origin"])
def test_a_form_from_elsewhere_changes_nothing(lan: Browser, how: str) -> None:
    lan.come_in()
    form = {"wish": "add", "name": "Mallory", "passphrase": PASSPHRASE, "token": lan.token("/people")}
    headers = {}
    if how == "none":
        del form["token"]
    elif how == "blank":
        form["token"] = ""
    elif how == "made up":
        form["token"] = "0" * 80
    elif how == "another device's":
        form["token"] = another(lan).token()
    elif how == "cross-site":
        headers["Sec-Fetch-Site"] = "cross-site"
    else:
        headers["Origin"] = "https://else.example"
    answer = lan.client.post("/people", data=form, headers=headers, follow_redirects=False)
    assert answer.status_code == 403
    assert [p.name for p in lan.client.app.state.door.people.everybody()] == ["Idony", "Perrin"]
    token = form.get("token", "")
    sent = lan.client.post("/entries", json=[], headers={**headers, "X-Kailyard-Token": token}, follow_redirects=False)
    assert sent.status_code == 403


def test_the_mark_of_a_form_differs_each_time_and_both_hold(lan: Browser) -> None:
    lan.come_in()
    one, two = lan.token("/people"), lan.token("/people")
    assert one != two
    for token in (one, two):
        assert lan.client.post("/entries", json=[], headers={"X-Kailyard-Token": token}).status_code == 200


def test_the_open_door_too_takes_no_form_from_elsewhere(here: Browser) -> None:
    answer = here.client.post("/people", data={"wish": "add", "name": "Mallory", "passphrase": PASSPHRASE})
    assert answer.status_code == 403
    assert here.client.app.state.door.people.everybody() == ()


@pytest.mark.parametrize(
    "host", ["else.example", "localhost.else.example", "", "192.168.7.8", "127.0.0.1.nip.example:8347"]
)
def test_under_another_name_the_garden_is_not_served(here: Browser, lan: Browser, host: str) -> None:
    for browser in (here, lan):
        answer = browser.get("/", headers={"Host": host})
        assert answer.status_code == 421
        assert "Lanthorn" not in answer.text


def test_under_its_own_names_it_is(lan: Browser) -> None:
    lan.come_in()
    for host in (LAN, f"{LAN}:8347", "localhost:8347", "LOCALHOST", "[::1]:8347"):
        assert lan.get("/people", headers={"Host": host}).status_code != 421


def test_a_session_is_looked_up_quickly(some: People) -> None:
    token = some.let_in("Idony", PASSPHRASE, at=stranger())
    some.visitor(token, alone=False)
    began = time.perf_counter()
    for _ in range(20):
        assert some.visitor(token, alone=False).name == "Idony"
    assert time.perf_counter() - began < 20 * 0.02


def test_an_ended_session_cannot_be_ended_again(some: People) -> None:
    with pytest.raises(NotFound):
        some.end("", by=Visitor(True, "Idony"))
    assert timedelta(days=180) == people.SEASON
