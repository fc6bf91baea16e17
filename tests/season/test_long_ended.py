"""What ended long ago costs the season little: it has no odds, and it teaches only where its weather is still held."""

from __future__ import annotations

from datetime import date

import numpy as np
from gardens import beans, entry, look_ahead, plot

from kailyard.season.sheet import compose
from kailyard.season.stages import stages_of

TODAY = date(2026, 6, 1)
LIVING = beans("bean-26", cultivar="Lantern")
SOWN = entry("sow", "bean-26", date(2026, 5, 15))


def _grown(year: int, *, flower: tuple[int, int]) -> tuple[object, ...]:
    name = f"bean-{year % 100}"
    return (
        entry("sow", name, date(year, 5, 20)),
        entry("stage", name, date(year, 5, 30), stage="emerged"),
        entry("stage", name, date(year, *flower), stage="first-flower"),
        entry("pick", name, date(year, 8, 20), quantity=1.0, unit="kg"),
        entry("clear", name, date(year, 9, 20), reason="over"),
    )


def _multiplier(*entries: object, year: int) -> float:
    past = beans(f"bean-{year % 100}", cultivar="Lantern")
    view = look_ahead(plot(LIVING, past, entries=(SOWN, *entries)), TODAY)  # type: ignore[arg-type]
    return float(np.median(view.lives["bean-26"].multiplier))


def test_last_summers_sowing_teaches_its_cultivar_and_an_older_one_does_not() -> None:
    # In this cool place they flower about 11 July; nine days later is slow.
    unmoved = _multiplier(year=2025)
    assert _multiplier(*_grown(2025, flower=(7, 20)), year=2025) > unmoved + 0.03
    # Its weather is held no more: were it read by the clock's first day, it would seem to need nothing at all.
    assert _multiplier(*_grown(2023, flower=(7, 20)), year=2023) == unmoved
    assert _multiplier(*_grown(2023, flower=(6, 20)), year=2023) == unmoved


def test_its_page_shows_the_days_that_were_seen_and_the_sheet_does_not_speak_of_it() -> None:
    garden = plot(beans("bean-23"), beans("bean-26"), entries=(*_grown(2023, flower=(7, 5)), SOWN))  # type: ignore[arg-type]
    view = look_ahead(garden, TODAY)
    life = view.lives["bean-23"]
    assert life.over
    assert not life.standing
    shown = {s.stage: s.seen for s in stages_of(view, life).stages}
    assert shown == {
        "sown": date(2023, 5, 20),
        "emerged": date(2023, 5, 30),
        "first-flower": date(2023, 7, 5),
        "first-harvest": date(2023, 8, 20),
        "last-harvest": date(2023, 8, 20),
    }
    sheet = compose(view)
    assert "bean-23" not in str([line.name for line in (*sheet.work, *sheet.look, *sheet.leave, *sheet.next)])


def test_what_ended_of_late_keeps_its_odds() -> None:
    told = (*_grown(2025, flower=(7, 5)), SOWN)
    view = look_ahead(plot(beans("bean-25"), LIVING, entries=told), date(2025, 10, 15))  # type: ignore[arg-type]
    assert not view.lives["bean-25"].over
