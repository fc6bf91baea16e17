"""One round through the beds: what to look for, and what was counted."""

from __future__ import annotations

from datetime import date

from kailyard.desk.desk import Desk
from kailyard.desk.risk import risks
from kailyard.desk.take import Written, take
from kailyard.desk.view import season_view
from kailyard.documents.scout import Scout
from kailyard.troubles.risk import favoured
from kailyard.troubles.scouting import scout


def round_of(desk: Desk, *, on: date | None = None) -> Scout:
    """The round in walking order as of a day; else today."""
    garden = desk.garden()
    return desk.kept(
        ("scout", on or desk.today(garden)),
        lambda: scout(season_view(desk, on=on), weather=favoured(risks(desk, on=on))),
    )


def keep_count(
    desk: Desk,
    *,
    id_: str,
    target: str,
    trouble: str,
    looked_at: str,
    found_on: str,
    total: str,
    measure: str,
    enemies: str,
    none: bool,
) -> str:
    """Keep one count of the round, all of it as typed; its identifier.

    `measure` is what was counted and per what: 'egg masses|plant'. With `none` nothing was found, whatever else is
    typed.
    """
    what, _, per = measure.partition("|")
    fields = {"trouble": trouble, "looked_at": looked_at, "what": what, "per": per or "plant", "enemies": enemies}
    found = {"found_on": "0"} if none else {"found_on": found_on, "total": total}
    return take(desk, Written(id=id_, kind="count", target=target, fields=fields | found))
