"""The demo's five past seasons: whole, moved round the beds, and no contradiction to the weather or the engine."""

from __future__ import annotations

import itertools
from datetime import date, timedelta
from functools import cache

import numpy as np
import pytest

from kailyard.demo import _past, past
from kailyard.demo.story import demo_entries
from kailyard.demo.weather import demo_record, on_day
from kailyard.garden.model import Garden
from kailyard.garden.project import project
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Handbook
from kailyard.season.view import foresee
from kailyard.weather.ensemble import build_ensemble

YEARS = (2021, 2022, 2023, 2024, 2025)
MOVED = ("bed-1", "bed-2", "bed-3", "bed-4", "bed-6", "bed-7", "bed-8", "bed-9")
"""The round bed and the tunnel keep their lettuce and tomatoes, and say so."""


@cache
def garden() -> Garden:
    return project(demo_entries())


@cache
def handbook() -> Handbook:
    return load_handbook()


def test_five_seasons_lie_behind_this_one() -> None:
    for year in YEARS:
        rows = past.SEASONS[year].ROWS
        assert len(rows) >= 20, year
        assert {r.planting.bed for r in rows} >= {"bed-5", "bed-7", "bed-8", "bed-9", "bed-12"}, year
        told = [e for e in demo_entries() if e.happened.year == year]
        assert len(told) >= 300, year
        kinds = {e.kind for e in told}
        assert kinds >= {
            "planting", "seed", "sow", "set-out", "plant", "harden", "stage", "support", "work", "protect", "look",
            "hurt", "note", "pick", "clear", "rain", "air-temperature", "soil-temperature",
        } - ({"hurt"} if year == 2022 else set()), (year, kinds)  # fmt: skip


def test_nothing_of_the_past_still_stands() -> None:
    for row in past.rows():
        cleared = [e for e in garden().entries_of(row.planting.id) if e.kind == "clear"]
        assert len(cleared) == 1, row.planting.id
        assert cleared[0].happened < date(2025, 12, 31)


def test_kin_come_back_to_an_open_bed_no_sooner_than_the_handbook_says() -> None:
    # Years by family stand in the handbook with their sources; here they are counted from season to season.
    summers: dict[tuple[str, str], set[int]] = {}
    least: dict[str, float] = {}
    for p in garden().plantings.values():
        group = handbook().text(p.crop, "rotation_group")
        assert p.planned or p.id == "bean-5"
        year = 2026 if p.planned is None else p.planned.year + (p.crop == "garlic")
        if p.bed in MOVED:
            summers.setdefault((p.bed, group), set()).add(year)
            least[group] = min(least.get(group, 9.0), handbook().number(p.crop, "rotation_years_min") or 1.0)
    compared = 0
    for (bed, group), years in summers.items():
        ordered = sorted(years)
        for a, b in itertools.pairwise(ordered):
            assert b - a >= least[group], (bed, group, ordered)
            compared += 1
    assert compared >= 25
    assert len({group for _, group in summers}) == 8


def test_each_season_taught_something_and_what_it_taught_was_done() -> None:
    def of(planting: str, kind: str) -> list[date]:
        return [e.happened for e in garden().entries_of(planting) if e.kind == kind]

    def up(planting: str) -> date:
        return min(e.happened for e in garden().entries_of(planting) if e.payload.get("stage") == "emerged")

    lessons = [e for e in garden().entries if "Lesson:" in e.text]
    assert {e.happened.year for e in lessons} == {2021, 2022, 2023, 2024}
    # 2021: sticks six weeks after the peas were up; from then on within a fortnight, until this year.
    assert (of("pea-21-1", "support")[0] - up("pea-21-1")).days > 35
    later = [r.planting.id for r in past.rows() if r.planting.crop == "pea" and r.planting.id != "pea-21-1"]
    assert len(later) >= 7
    assert all((of(pea, "support")[0] - up(pea)).days <= 14 for pea in later)
    # 2022: one wave of beans; from then on two at least.
    waves = {year: sum(r.planting.crop == "bean-bush" for r in past.SEASONS[year].ROWS) for year in YEARS}
    assert waves[2022] == 1
    assert all(waves[year] >= 2 for year in (2023, 2024, 2025))
    # 2023: onion seed two years older than it keeps (one year, in the handbook); later seed is younger or was tried.
    years = handbook().number("onion-long-day", "seed_viable_years")
    box = [e for e in garden().entries if e.kind == "seed" and e.payload.get("cultivar") == "Ballast"]
    packed = [e.payload["packed"] for e in box if e.happened.year == 2023]
    assert packed == [2023 - years - 2]
    # 2023: the block of corn that the frost took, and none sown as late since.
    assert not of("corn-23-2", "pick")
    assert on_day(of("corn-23-2", "hurt")[0])[0] < 0


@pytest.mark.parametrize("year", [2023, 2025])
def test_stages_seen_lie_where_the_engine_would_have_looked_for_them(year: int) -> None:
    # Not a check of the engine: the days were drawn from it. It holds the story to it, so that learning is not misled.
    today = date(year, 12, 20)
    record = demo_record()
    ensemble = build_ensemble(record, today=today, start=date(year - 1, 9, 1), most_traces=5, use_trend=False)
    begun = ("planting", "bed", "cultivar", "garden", "sow", "set-out", "plant")
    rows = {r.planting.id for r in past.SEASONS[year].ROWS}
    told = [
        e for e in demo_entries() if e.kind in ("bed", "cultivar", "garden") or (e.target in rows and e.kind in begun)
    ]
    view = foresee(project(told), ensemble, handbook(), draws=60)
    off, compared = 0, 0
    for row in past.SEASONS[year].ROWS:
        life = view.lives[row.planting.id]
        seen = {"emerged": row.up if row.out is None else None, "first-flower": row.flower, "first-harvest": row.first}
        for stage, day in seen.items():
            odds = life.stage(stage)
            if odds is None or day is None or row.planting.crop == "winter-squash-maxima":
                continue  # squash is cut when it has stood, not on the day it might be
            first, last = np.quantile(odds.days, (0.02, 0.98))
            # What is seen is seen on a walk, up to three days after.
            off += not first - 2 <= day.toordinal() <= last + 4
            compared += 1
    assert compared >= 35
    assert off <= compared // 12


def test_no_day_of_a_table_is_told_twice_or_out_of_order() -> None:
    for row in past.rows():
        days = [row.sown, row.out, row.flower, row.first, row.last]
        known = [day for day in days if day is not None]
        assert known == sorted(known), row.planting.id
        assert row.up is None or row.up > row.sown
    assert len({r.planting.id for r in past.rows()}) == len(past.rows())


def test_pickings_come_to_what_the_table_says() -> None:
    for row in past.rows():
        picked = [e.quantity or 0.0 for e in garden().entries_of(row.planting.id) if e.kind == "pick"]
        assert sum(picked) == pytest.approx(row.got, abs=0.051), row.planting.id
        assert all(amount > 0 for amount in picked)


def test_a_line_told_with_more_words_takes_the_place_of_the_plain_one() -> None:
    ends = [e for e in garden().entries_of("tomato-24-1") if e.kind == "clear"]
    assert [(e.happened, e.payload["reason"]) for e in ends] == [(date(2024, 8, 20), "blighted")]
    with pytest.raises(AssertionError):
        _past.instead([], past.lines()[0])


def test_what_was_planned_for_winter_is_laid_out_before_it_is_begun() -> None:
    for row in past.rows():
        assert _past.planning(row) < row.sown + timedelta(days=1)
