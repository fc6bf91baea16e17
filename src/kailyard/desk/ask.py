"""What the garden is asked: its sheet, why, a planting's stages, the place's climate."""

from __future__ import annotations

from datetime import date

from kailyard.desk.claims import keep_claims
from kailyard.desk.desk import Desk
from kailyard.desk.station_record import station_record
from kailyard.desk.view import season_view
from kailyard.documents.climate import Climate
from kailyard.documents.sheet import Sheet
from kailyard.documents.stages import Stages
from kailyard.documents.why import Why
from kailyard.errors import NotFound, UsageError
from kailyard.season.climate import climate_of
from kailyard.season.sheet import compose
from kailyard.season.stages import stages_of
from kailyard.season.why import why_of

MOST_DAYS = 31


def sheet(
    desk: Desk,
    *,
    on: date | None = None,
    days: int = 7,
    as_known: date | None = None,
    use_trend: bool = True,
    whole: bool = False,
) -> Sheet:
    """The sheet of `days` days from `on`, from what was known at the end of `as_known`; `whole`: every line.

    Today's own sheet, with neither day named, is kept as it was issued.
    """
    if not 1 <= days <= MOST_DAYS:
        raise UsageError(f"days {days}: a sheet holds 1 to {MOST_DAYS} days.")
    kept = on is None and as_known is None and not whole
    today = on or as_known or desk.today(desk.garden())

    def make() -> Sheet:
        view = season_view(desk, on=today, as_known=as_known, use_trend=use_trend)
        made = compose(view, days=days, as_known=as_known, whole=whole)
        if kept:
            keep_claims(desk, made)
        return made

    return desk.kept(("sheet", today, days, as_known, use_trend, kept, whole), make)


def why(desk: Desk, name: str, *, on: date | None = None, as_known: date | None = None) -> Why:
    """One line of the sheet, opened down to its sources."""
    return why_of(season_view(desk, on=on or as_known, as_known=as_known), name)


def stages(desk: Desk, planting: str, *, on: date | None = None, as_known: date | None = None) -> Stages:
    """A planting's life."""
    view = season_view(desk, on=on or as_known, as_known=as_known)
    if planting not in view.lives:
        near = [p for p in view.lives if planting.split("-")[0] in p]
        hint = f" There are: {', '.join(near)}." if near else " `kailyard planting` lists them."
        raise NotFound(f"The garden has no planting '{planting}'.{hint}")
    return desk.kept(("stages", planting, view.today, as_known), lambda: stages_of(view, view.lives[planting]))


def climate(desk: Desk, *, on: date | None = None, use_trend: bool = True) -> Climate:
    """The place's frost and season, and this season against the years."""
    garden = desk.garden()

    def make() -> Climate:
        record, _ = station_record(desk, garden, None)
        return climate_of(season_view(desk, on=on, use_trend=use_trend), record)

    return desk.kept(("climate", on or desk.today(garden), use_trend), make)
