"""What a hold forbids stands on no sheet, whatever it would cost to wait. Common practice; the label is the law."""

from __future__ import annotations

from datetime import date

import numpy as np
from asking import asked, season
from gardens import beans, entry

from kailyard.season.sheet import compose
from kailyard.season.windows import Hold, Loss, Window

DAY = date(2026, 7, 20)
GROWN = (entry("sow", "bean-1", date(2026, 5, 20)), entry("pick", "bean-1", date(2026, 7, 16), quantity=1.0, unit="kg"))


def test_beans_perhaps_hit_by_a_herbicide_are_not_asked_for() -> None:
    assert "pick/bean-1" in asked(season(DAY, beans(), entries=GROWN))
    hit = entry("hurt", "bean-1", date(2026, 7, 18), cause="drift", share=0.3)
    held = compose(season(DAY, beans(), entries=(*GROWN, hit)))
    assert any(line.says.startswith("Do not pick") for line in held.holds)
    assert "pick/bean-1" not in {line.name for line in held.work}


def test_a_recorded_release_lets_them_be_picked_again() -> None:
    hit = entry("hurt", "bean-1", date(2026, 7, 18), cause="drift", share=0.3)
    free = entry("release", "bean-1", date(2026, 7, 19), by="the extension office", what="no residue found")
    assert "pick/bean-1" in asked(season(DAY, beans(), entries=(*GROWN, hit, free)))


def test_beans_treated_with_who_knows_what_are_not_asked_for() -> None:
    treated = entry("treat", "bean-1", date(2026, 7, 18))
    sheet = compose(season(DAY, beans(), entries=(*GROWN, treated)))
    assert "pick/bean-1" not in {line.name for line in sheet.work}
    assert any("Do not pick" in line.says for line in sheet.holds)


def test_a_hold_that_is_over_or_speaks_of_another_bars_nothing() -> None:
    def hold(about: str, last: date | None) -> Hold:
        return Hold(name=f"no-picking/{about}", says="", where="", first=date(2026, 7, 1), last=last, forbids=("pick",))

    days = np.full((1, 1), DAY.toordinal())
    pick = Window(
        name="pick/bean-1", says="", where="", opens=days, shuts=days, loss=Loss(0.1, 0.5), lost="", minutes=5.0
    )
    week = (DAY, date(2026, 7, 26))
    assert hold("bean-1", None).bars(pick, *week)
    assert hold("bean-1", date(2026, 7, 22)).bars(pick, *week)
    assert not hold("bean-1", date(2026, 7, 19)).bars(pick, *week)
    assert not hold("bean-2", None).bars(pick, *week)
