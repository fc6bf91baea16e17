"""Over the network a stranger gets the way in, its files and the certificate, and nothing else from any route."""

from __future__ import annotations

import re

import pytest
from browsing import Browser, another
from starlette.routing import Route

from kailyard.desk.desk import Desk
from kailyard.web import register
from kailyard.web.statics import statics

OPEN = {"/login", "/trust", "/static/{name}", "/kailyard-authority.crt"}


def routes(browser: Browser) -> list[Route]:
    found = [route for route in browser.client.app.routes if isinstance(route, Route)]
    assert len(found) == len(browser.client.app.routes), "a route of a kind that this walk does not know"
    return found


def test_every_route_turns_a_stranger_away(lan: Browser) -> None:
    secrets = names_of(lan)
    walked = 0
    for route in routes(lan):
        if route.path in OPEN:
            continue
        path = re.sub(r"{\w+(:\w+)?}", "pea-6", route.path)
        for method in ("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND"):
            answer = lan.client.request(method, path, follow_redirects=False)
            assert answer.status_code in (303, 401), (method, path, answer.status_code)
            if answer.status_code == 303:
                assert answer.headers["location"].startswith("/login")
            assert not [s for s in secrets if s in answer.text], path
            walked += 1
    assert walked >= 9 * (len(register.pages()) - 2)


@pytest.mark.parametrize(
    "path", ["/nowhere", "/static", "/static/../garden.db", "/%2e%2e/garden.db", "/people.db", "//x", "/api/x"]
)
def test_what_is_not_there_tells_a_stranger_nothing(lan: Browser, path: str) -> None:
    answer = lan.get(path)
    assert answer.status_code in (303, 404, 401)
    assert not [s for s in names_of(lan) if s in answer.text]


@pytest.mark.parametrize("path", ["/login", "/trust", "/login?next=/daybook"])
def test_what_is_open_says_nothing_of_the_garden(lan: Browser, path: str) -> None:
    answer = lan.get(path)
    assert answer.status_code == 200
    assert not [s for s in names_of(lan) if s in answer.text]
    assert "/daybook" not in re.sub(r'name="next" value="[^"]*"', "", answer.text)


@pytest.mark.parametrize("name", statics())
def test_static_files_are_the_packages_own(lan: Browser, name: str) -> None:
    first = lan.get(f"/static/{name}")
    assert first.content == statics()[name].content
    assert lan.get(f"/static/{name}?v={statics()[name].digest}").headers["cache-control"].endswith("immutable")
    assert lan.get(f"/static/{name}", headers={"If-None-Match": first.headers["etag"]}).status_code == 304


@pytest.mark.parametrize("held", ["", "x", "0" * 43, "é", "a b", "../people.db", "' OR 1=1 --"])
def test_a_made_up_cookie_lets_nobody_in(lan: Browser, held: str) -> None:
    raw = f"__Host-kailyard={held}".encode("latin-1")
    answer = lan.client.get("/", headers=[(b"cookie", raw)], follow_redirects=False)
    assert answer.status_code == 303
    assert lan.client.get("/api/session", headers=[(b"cookie", raw)]).status_code == 401


def test_the_stored_form_of_a_session_lets_nobody_in(lan: Browser) -> None:
    assert lan.come_in().status_code == 303
    door = lan.client.app.state.door
    stored = door.people._kept.sessions("Idony")[0].id
    thief = another(lan)
    thief.client.cookies.set(door.cookie, stored)
    assert thief.get("/daybook").status_code == 303


def names_of(browser: Browser) -> list[str]:
    garden = Desk(browser.folder).garden()
    return [
        garden.name,
        "Lanthorn",
        "Idony",
        "Perrin",
        *garden.plantings,
        *(b.name for b in garden.beds.values() if len(b.name) > 5),
    ]
