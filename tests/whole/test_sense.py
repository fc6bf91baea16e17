"""Does it make sense? What any gardener would say of odds at two real stations, asked of the whole program."""

from __future__ import annotations

import json
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from gate import DE_BILT, MILWAUKEE, Gardener, new_garden

from kailyard.season.odds import Odds

SOWN = date(2026, 5, 15)


def _corn(folder: Path, patch: pytest.MonkeyPatch, station: tuple[str, str, str], shared: Path, sown: date) -> Odds:
    gardener = new_garden(folder, sown, patch, station, shared)
    gardener("cultivar sweet-corn Harrow --days 85 --from sown")
    gardener("planting corn-1 --crop sweet-corn --bed bed-1 --start sown --cultivar Harrow --count 40")
    gardener("enter sow corn-1")
    ready = gardener.view(sown + timedelta(days=1)).lives["corn-1"].stage("first-harvest")
    assert ready is not None
    return ready


def test_late_sweet_corn_ripens_at_milwaukee_and_often_never_at_de_bilt(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shared: Path
) -> None:
    # Common practice: a packet's 85 days are those of a warm summer; growers in the Netherlands take early kinds.
    milwaukee = _corn(tmp_path / "a", monkeypatch, MILWAUKEE, shared, SOWN)
    de_bilt = _corn(tmp_path / "b", monkeypatch, DE_BILT, shared, date(2019, 5, 15))
    assert milwaukee.by(date(2026, 10, 31)) >= 0.8
    assert de_bilt.by(date(2019, 10, 31)) <= 0.75
    assert de_bilt.never >= 0.25
    middle_a, middle_b = milwaukee.quantile(0.5), de_bilt.quantile(0.5)
    assert middle_a is not None
    assert date(2026, 8, 1) <= middle_a <= date(2026, 9, 15)
    assert middle_b is None or (middle_b - date(2019, 1, 1)).days > (middle_a - date(2026, 1, 1)).days + 20


@pytest.fixture
def beans(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shared: Path) -> Gardener:
    """Two like sowings of one cultivar of snap bean at Milwaukee, sown and up; seen on 1 July."""
    gardener = new_garden(tmp_path / "garden", SOWN, monkeypatch, MILWAUKEE, shared)
    gardener("cultivar bean-bush Lantern --days 55 --from sown --habit bush")
    for id_, place in (("bean-1", 0), ("bean-2", 3)):
        gardener(
            f"planting {id_} --crop bean-bush --bed bed-1 --start sown --cultivar Lantern --count 30 "
            f"--place {place} --length 3"
        )
        gardener(f"enter sow {id_}")
        gardener.at(date(2026, 5, 27))
        gardener(f"enter stage {id_} emerged --on 2026-05-26")
        gardener.at(SOWN)
    gardener.at(date(2026, 6, 22))
    return gardener


LOOKED = date(2026, 6, 22)


def _ready(gardener: Gardener, planting: str = "bean-1") -> Odds:
    ready = gardener.view(LOOKED).lives[planting].stage("first-harvest")
    assert ready is not None
    return ready


def _spread_days(odds: Odds) -> int:
    low, high = odds.quantile(0.1), odds.quantile(0.9)
    assert low is not None
    assert high is not None
    return (high - low).days


def _middle(odds: Odds) -> date:
    day = odds.quantile(0.5)
    assert day is not None
    return day


def test_a_first_flower_seen_early_narrows_the_odds_and_brings_them_forward(beans: Gardener) -> None:
    flower = beans.view(date(2026, 6, 10)).lives["bean-1"].stage("first-flower")
    assert flower is not None
    early = flower.quantile(0.1)
    assert early is not None
    assert early < LOOKED
    before = _ready(beans)
    beans(f"enter stage bean-1 first-flower --on {early}")
    after = _ready(beans)
    assert _spread_days(after) < _spread_days(before)
    assert _middle(after) < _middle(before)


def test_a_first_flower_not_seen_yet_puts_the_odds_back(beans: Gardener) -> None:
    before = _ready(beans)
    beans(f"enter stage bean-1 first-flower not-yet --on {LOOKED}")
    after = _ready(beans)
    assert _middle(after) >= _middle(before)


def test_what_one_sowing_shows_is_learnt_for_its_sister_too_but_less(beans: Gardener) -> None:
    before = _ready(beans, "bean-1"), _ready(beans, "bean-2")
    beans("enter stage bean-1 first-flower --on 2026-06-12")
    after = _ready(beans, "bean-1"), _ready(beans, "bean-2")
    moved = [(_middle(b) - _middle(a)).days for b, a in zip(before, after, strict=True)]
    assert moved[0] > 0
    assert 0 <= moved[1] <= moved[0]
    assert _spread_days(after[0]) < _spread_days(after[1]) <= _spread_days(before[1])


@pytest.mark.parametrize("form", ["", "--json"])
def test_an_entry_withdrawn_as_a_mistake_is_as_if_it_had_never_been(beans: Gardener, form: str) -> None:
    asked = [
        f"stages bean-1 --on {LOOKED} {form}",
        f"stages bean-2 --on {LOOKED} {form}",
        f"sheet --on {LOOKED} {form}",
    ]
    never = [beans(line) for line in asked]
    beans("enter stage bean-1 first-flower --on 2026-06-12")
    wrong = [beans(line) for line in asked]
    beans(f"withdraw {_handle(beans, 'first-flower')} --text", "It was the other bed.")
    assert [beans(line) for line in asked] == never
    assert wrong[0] != never[0]


def test_an_entry_put_right_counts_as_the_right_one_alone(beans: Gardener) -> None:
    beans("enter stage bean-1 first-flower --on 2026-06-12")
    beans(f"enter stage bean-1 first-flower --on 2026-06-20 --puts-right {_handle(beans, 'first-flower')}")
    put_right = _ready(beans).days
    beans(f"withdraw {_handle(beans, 'first-flower')}")
    beans("enter stage bean-1 first-flower --on 2026-06-20")
    assert np.array_equal(_ready(beans).days, put_right)


def _handle(gardener: Gardener, words: str) -> str:
    """What the daybook calls the last entry that says `words`."""
    rows = json.loads(gardener("daybook --json"))["rows"]
    return next(row[-1] for row in reversed(rows) if any(words in cell for cell in row))


def test_two_like_sowings_are_both_ready_likelier_than_if_they_knew_nothing_of_each_other(beans: Gardener) -> None:
    view = beans.view(LOOKED)
    one, other = (view.lives[id_].stages["first-harvest"] for id_ in ("bean-1", "bean-2"))
    day = _middle(one)
    by = day.toordinal()
    both = float(np.mean((one.days <= by) & (other.days <= by)))
    alone = one.by(day), other.by(day)
    assert 0.2 < alone[0] < 0.8
    # Weather and cultivar are shared, the planting's own part is not: more than chance, less than one and the same.
    assert both > alone[0] * alone[1] + 0.02
    assert both < min(alone) - 0.005


def test_a_sheet_as_known_on_an_old_day_is_byte_for_byte_what_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, shared: Path
) -> None:
    known = date(2026, 6, 22)
    gardener = new_garden(tmp_path / "garden", known - timedelta(days=60), monkeypatch, MILWAUKEE, shared)
    gardener("planting bean-1 --crop bean-bush --bed bed-1 --start sown --count 60")
    gardener.at(SOWN)
    gardener("enter sow bean-1")
    gardener.at(known)
    gardener("enter stage bean-1 first-flower not-yet")

    def as_known() -> dict[str, bytes]:
        page = tmp_path / "page.html"
        said = {form: gardener(f"sheet --as-known {known} {form}").encode() for form in ("", "--json")}
        gardener(f"sheet --as-known {known} --html {page}")
        why = gardener(f"stages bean-1 --as-known {known}")
        return {**said, "html": page.read_bytes(), "stages": why.encode()}

    then = as_known()
    gardener.at(date(2026, 7, 9))
    gardener("enter stage bean-1 first-flower --on 2026-06-23")
    gardener("enter stage bean-1 first-flower --on 2026-06-20", "--text", "Found in my pocket book.")
    gardener("enter pick bean-1 2kg")
    gardener("garden --units us")
    later = tmp_path / "later.csv"
    days = [date(2026, 3, 1) + timedelta(days=n) for n in range(150)]
    later.write_text("day,low,high,rain\n" + "".join(f"{d},15.0,35.0,9.0\n" for d in days), encoding="utf-8")
    gardener(f"weather {later} --columns", "date=day; tmin=low; tmax=high; rain=rain")
    assert as_known() == then
    assert gardener(f"sheet --on {known}").encode() != then[""]
