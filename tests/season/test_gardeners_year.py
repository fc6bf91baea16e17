"""A gardener who does what the sheet asks, week by week for a year: north, south, and where no frost comes.

Nothing here is a number to be met. What must hold of every sheet is checked, and that every kind of work speaks in some
week of some garden.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import cache

import numpy as np
import pytest
from gardens import HOT, MIDLAND, SOUTHERN, Climate, handbook, plot, record

from kailyard.garden.kinds import check_entry
from kailyard.garden.model import Cultivar, Entry, Planting
from kailyard.season.answers import answers, kinds
from kailyard.season.fitting import fitting
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView, foresee
from kailyard.season.windows import Answer, Hold, Window
from kailyard.weather.ensemble import build_ensemble


@dataclass
class Walk:
    """One garden through a year."""

    climate: Climate
    latitude: float
    first: date
    entries: list[Entry] = field(default_factory=list)
    said: dict[str, set[str]] = field(default_factory=dict)
    """By kind of work, the first parts of the names of what it said."""
    weeks: list[tuple[date, SeasonView, tuple[Answer, ...]]] = field(default_factory=list)
    asked: dict[str, list[date]] = field(default_factory=dict)
    """Work lines of the sheets, by name: the weeks in which they stood there."""

    def write(self, kind: str, target: str, day: date, **payload: object) -> None:
        """One more entry, checked as a typed one is."""
        quantity = payload.pop("quantity", None)
        made = Entry(
            id=f"{self.first:%Y}-{len(self.entries)}",
            kind=kind,
            version=1,
            happened=day,
            written=datetime(day.year, day.month, day.day, 18, tzinfo=UTC),
            target=target,
            quantity=quantity,  # type: ignore[arg-type]
            unit="" if quantity is None else "L" if kind == "water" else "kg",
            payload=payload,
        )
        check_entry(made)
        self.entries.append(made)


def plantings(first: date) -> tuple[Planting, ...]:
    """A bed or two of most kinds that a kitchen garden has; planned by the day on which the year begins."""

    def row(id_: str, crop: str, start: str, *, bed: str = "bed-1", **more: object) -> Planting:
        return Planting(id=id_, crop=crop, bed=bed, start=start, **{"count": 12, "spacing_cm": 30, **more})  # type: ignore[arg-type]

    since = replace_year(first, first.year - 5)
    return (
        row("tomato-1", "tomato-indeterminate", "raised", bed="bed-1"),
        row("pepper-1", "pepper-sweet", "raised", bed="bed-1"),
        row("bean-1", "bean-bush", "sown", bed="bed-2", count=60, spacing_cm=8, wave="beans"),
        row("bean-2", "bean-bush", "sown", bed="bed-2", count=60, spacing_cm=8, wave="beans", note="for seed"),
        row("pea-1", "pea", "sown", bed="bed-3", count=120, spacing_cm=5),
        row("carrot-1", "carrot", "sown", bed="bed-3", count=200, spacing_cm=4),
        row("lettuce-1", "lettuce-leaf", "sown", bed="bed-4", count=30, spacing_cm=20),
        row("potato-1", "potato", "planted", bed="bed-5", count=20),
        row("onion-1", "onion-long-day", "planted", bed="bed-6", count=80, spacing_cm=10),
        row("garlic-1", "garlic", "planted", bed="bed-7", count=60, spacing_cm=12),
        row("squash-1", "winter-squash-maxima", "sown", bed="bed-8", count=3, spacing_cm=120),
        row("zucchini-1", "zucchini", "sown", bed="bed-8", count=2, spacing_cm=90),
        row("cabbage-1", "cabbage", "raised", bed="bed-9"),
        row("corn-1", "sweet-corn", "sown", bed="bed-10", count=60, spacing_cm=25),
        row("asparagus-1", "asparagus", "planted", bed="bed-11", since=since),
        row("head-1", "lettuce-head", "raised", bed="bed-4", planned=first + timedelta(days=150)),
        row("leek-1", "leek", "raised", bed="bed-12", count=40, spacing_cm=15),
    )


def replace_year(day: date, year: int) -> date:
    return date(year, day.month, day.day)


@cache
def walk(name: str) -> Walk:
    climate, latitude, first = {
        "north": (MIDLAND, 45.0, date(2025, 1, 6)),
        "south": (SOUTHERN, -45.0, date(2024, 7, 8)),
        "no frost": (HOT, 18.0, date(2025, 1, 6)),
    }[name]
    out = Walk(climate, latitude, first)
    rows = plantings(first)
    out.write("want", "", first, quantity=0.5, crop="zucchini")
    for week in range(52):
        today = first + timedelta(days=7 * week)
        view = _view(out, rows, today)
        said = answers(view)
        for kind, answer in _by_kind(view):
            out.said.setdefault(kind, set()).add(answer.name.split("/")[0])
        out.weeks.append((today, view, said))
        sheet = compose(view, said=said)
        for line in sheet.work:
            out.asked.setdefault(line.name, []).append(today)
            if line.window.low is None or line.window.low > today:
                continue  # it opens later in the week: next time
            for fit in fitting(line.name, line.of, "done", view.garden):
                more = {"quantity": 40.0 if fit.kind == "water" else 1.0} if fit.asks == "amount" else {}
                out.write(fit.kind, fit.target, today, **{**fit.payload, **more})
        if any(e.kind == "set-out" and e.happened == today for e in out.entries):
            # Shade is a matter of days: somebody looks in the next morning.
            for kind, answer in _by_kind(_view(out, rows, today + timedelta(days=1))):
                out.said.setdefault(kind, set()).add(answer.name.split("/")[0])
        if week == 20:
            out.write("hurt", "cabbage-1" if _stands(view, "cabbage-1") else "pea-1", today, cause="hail", share=0.4)
        if week in (30, 31):
            out.write("injury", "corn-1", today, kinds="sweet corn, bindweed")
        if week == 22:
            # Something was sprayed, and nobody knows what.
            out.write("treat", next(id_ for id_ in sorted(view.lives) if _stands(view, id_)), today)
    return out


def _stands(view: SeasonView, planting: str) -> bool:
    return view.lives[planting].standing


def _by_kind(view: SeasonView) -> list[tuple[str, Answer]]:
    return [(kind.NAME, answer) for kind in kinds() for answer in answers(view, of=(kind,))]


def _view(walk: Walk, rows: tuple[Planting, ...], today: date) -> SeasonView:
    ensemble = build_ensemble(
        record(walk.climate), today=today, start=today - timedelta(days=400), most_traces=12, use_trend=False
    )
    garden = plot(
        *rows,
        entries=tuple(walk.entries),
        latitude=walk.latitude,
        cultivars=(Cultivar("leek", "Long Wend"),),
    )
    return foresee(garden, ensemble, handbook(), draws=12)


PLACES = ("north", "south", "no frost")


@pytest.mark.parametrize("place", PLACES)
def test_there_is_a_sheet_for_every_week_and_every_line_rests_on_something(place: str) -> None:
    weeks = walk(place).weeks
    assert len(weeks) == 52
    for _, _, said in weeks:
        names = [answer.name for answer in said]
        assert len(names) == len(set(names)), "a name stands twice"
        assert all(tuple(answer.reasons) for answer in said)


@pytest.mark.parametrize("place", PLACES)
def test_no_sheet_asks_for_what_a_hold_forbids(place: str) -> None:
    for _, _, said in walk(place).weeks:
        held = {a.name.split("/")[1] for a in said if isinstance(a, Hold) and a.name.startswith("no-cutting/")}
        assert not {a.name for a in said if isinstance(a, Window)} & {f"pick/{planting}" for planting in held}


@pytest.mark.parametrize("place", PLACES)
def test_no_sheet_asks_to_set_out_what_was_never_sown_or_to_tend_what_does_not_stand(place: str) -> None:
    tending = {"train", "mulch", "earth-up", "side-dress", "thin", "leaf-removal", "blanch", "support"}
    for today, view, said in walk(place).weeks:
        for a in said:
            kind, _, about = a.name.partition("/")
            life = view.lives.get(about.split("/")[0])
            if life is None or not isinstance(a, Window):
                continue
            if kind in ("set-out", "harden") and life.planting.start == "raised":
                assert life.sightings.sown is not None, (today, a.name)
            if kind in tending:
                assert life.standing, (today, a.name)


@pytest.mark.parametrize("place", PLACES)
def test_what_is_done_once_is_asked_for_once(place: str) -> None:
    once = {"set-out", "harden", "mulch", "thin", "blanch", "support"}
    gone = walk(place)
    done = {name for name in gone.asked if name.split("/")[0] in once and _last_entry(gone, name) is not None}
    assert done, "nothing was done at all"
    for name in done:
        last = _last_entry(gone, name)
        assert last is not None
        assert all(week <= last for week in gone.asked[name]), name


def _last_entry(gone: Walk, name: str) -> date | None:
    kind, _, about = name.partition("/")
    said = {"mulch": "mulched", "thin": "thinned", "blanch": "blanched"}.get(kind)
    days = [
        e.happened
        for e in gone.entries
        if e.target == about and ((e.kind == kind and said is None) or (said and e.payload.get("what") == said))
    ]
    return max(days, default=None)


AFTER_TROUBLES = {"choose kind", "found", "keep out", "past flight", "remains", "take out", "trellis"}
"""Kinds that follow a trouble up: test_work_after_troubles has them speak. In these gardens none is found."""


def test_every_kind_of_work_speaks_in_some_week_of_some_garden_but_those_for_which_nothing_was_found() -> None:
    spoken = set().union(*(walk(place).said for place in PLACES))
    assert {kind.NAME for kind in kinds()} - spoken == AFTER_TROUBLES


def test_the_southern_year_asks_for_the_same_work_half_a_year_off() -> None:
    # Common practice: the seasons are opposite. Of sowings and plantings that both gardens made.
    north, south = walk("north"), walk("south")

    def begun(gone: Walk) -> dict[str, float]:
        out = {}
        for e in gone.entries:
            if e.kind in ("sow", "plant") and e.target not in out:
                out[e.target] = float((e.happened - gone.first).days)
        return out

    a, b = begun(north), begun(south)
    both = sorted(a.keys() & b.keys())
    assert len(both) >= 8
    assert float(np.median([abs(a[name] - b[name]) for name in both])) <= 21


def test_where_no_frost_comes_nothing_is_covered_against_it() -> None:
    for _, _, said in walk("no frost").weeks:
        assert "protect/frost" not in {a.name for a in said}


def test_the_garden_bears() -> None:
    for place in ("north", "south"):
        picked = {e.target for e in walk(place).entries if e.kind == "pick"}
        assert len(picked) >= 8, (place, picked)
