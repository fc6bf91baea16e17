"""What is said once after a form is said to whoever reads the page."""

from __future__ import annotations

import re

from browsing import Browser


def test_a_copy_fetched_for_later_does_not_take_what_is_said_once(here: Browser) -> None:
    (mark,) = set(re.findall(r'name="mark" value="([^"]+)"', here.get("/beds").text))
    cells = {"cells.bed": "odd-1", "cells.length": "4", "cells.width": "1"}
    sent = here.send("/beds", at="/beds", mark=mark, wish="new", **cells)
    assert sent.status_code == 303, sent.text
    assert "odd-1 entered." not in here.get("/beds", headers={"Kailyard-Copy": "yes"}).text
    assert "odd-1 entered." in here.get("/beds").text
    assert "odd-1 entered." not in here.get("/beds").text
