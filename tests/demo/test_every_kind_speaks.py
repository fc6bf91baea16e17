"""Every kind of work has something to say on some day of the demo's six years, or it stands here why it has not."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

from kailyard.desk.demo import write_demo
from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.season.answers import answers, kinds

DAYS = (
    date(2026, 6, 12), date(2026, 1, 12), date(2026, 3, 2), date(2026, 4, 25), date(2026, 5, 13), date(2025, 7, 22),
    date(2025, 8, 8), date(2025, 8, 13), date(2025, 11, 10),
)  # fmt: skip
SILENT = {
    "blanch": "nothing is grown here that is blanched",
    "bring_in": "on the days tried nothing stands out to harden before a night too cold for it",
    "choose_kind": "what mildewed is planned again: the order of its seed says what to ask for",
    "heat": "on the days tried no heat is near that hurts what stands here",
    "injury_hold": "no herbicide ever drifted over this garden",
    "keep_out": "potatoes do not come back to the bed that had scab",
    "past_flight": "no pest with a dated flight was ever found here",
    "surplus": "no want of the kitchen is entered",
    "take_out": "nothing was found here that must go at once",
    "trellis": "what was found here is helped by no support",
}


def test_every_kind_of_work_speaks_or_says_why_not(tmp_path: Path) -> None:
    desk = Desk(tmp_path / "garden", clock=lambda: datetime(2026, 6, 12, 14, tzinfo=UTC))
    write_demo(desk)
    silent = {kind.__name__.rsplit(".", 1)[1]: kind for kind in kinds()}
    for day in DAYS:
        view = season_view(desk, on=day)
        silent = {name: kind for name, kind in silent.items() if not answers(view, of=(kind,))}
    desk.close()
    # A new kind of work either speaks in the demo or is given its reason.
    assert set(silent) <= set(SILENT)
