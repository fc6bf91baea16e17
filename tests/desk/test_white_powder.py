"""From white powder seen to what came of it: found, options, a label typed, 36 °C, the next chance, done, holds."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from kailyard.demo.weather import demo_record
from kailyard.desk.ask import sheet
from kailyard.desk.check import check, keep_treated
from kailyard.desk.desk import Desk
from kailyard.desk.labels import label, labels
from kailyard.desk.record import enter
from kailyard.desk.remedies import remedy
from kailyard.errors import NotFound, UsageError
from kailyard.store.sqlite import create_store
from kailyard.troubles.case import QUESTIONS
from kailyard.weather.hours import hour_number, hourly
from kailyard.weather.issued import IssuedForecast

PLACE = {"name": "Nether Wold", "latitude": 44.2, "longitude": 0.0, "timezone": "UTC"}
TODAY = date(2026, 7, 14)
WORDS = {
    "active": "sulfur", "registered_in": "Westmark", "number": "WM-1042", "crops": "squash, cucumber",
    "troubles": "powdery mildew", "rate": "3 g/L", "days": "3", "entry": "24 h", "most_uses": "4", "interval": "7",
    "temp_max": "32C", "temp_min": "none", "rain_free": "none", "wind_max": "none", "water": "none",
    "gaps": "oil: after 30, before 30", "bees": "none", "group": "FRAC M02", "sites": "home garden",
}  # fmt: skip
"""Typed off the label of an invented product."""
ALL_SEEN = [f"{key}=yes" for key in QUESTIONS]


class Clock:
    now = datetime(2026, 7, 14, 8, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Squash sown in May, ten days of forecast by the hour: two at 36 °C, then 25 °C."""
    made = Desk(tmp_path / "g", clock=Clock())
    first = made.entry("garden", happened=date(2026, 5, 1), payload=PLACE)
    create_store(tmp_path / "g", first=[first]).close()
    made.store.add_weather(demo_record(), imported=made.now(), name="station")
    bed = {"name": "bed 4", "length_m": 4.0, "width_m": 1.2}
    squash = {"crop": "zucchini", "bed": "bed-4", "start": "sown", "count": 4}
    made.keep(
        [
            made.entry("bed", happened=date(2026, 5, 1), target="bed-4", payload=bed),
            made.entry("planting", happened=date(2026, 5, 1), target="zucchini-1", payload=squash),
            made.entry("sow", happened=date(2026, 5, 15), target="zucchini-1"),
        ]
    )
    forecast(made, TODAY, [36.0, 36.0] + [25.0] * 8)
    yield made
    made.close()


def forecast(desk: Desk, day: date, highs: list[float]) -> None:
    """Days and hours as a service would issue them; every hour with a light breeze and without rain."""
    n = len(highs)
    lows, dry = np.full(n, 14.0), np.zeros(n)
    issued = datetime(day.year, day.month, day.day, 6, tzinfo=UTC)
    kept = desk.store.add_forecast(
        IssuedForecast("made-up", issued, day, day, lows, np.array(highs), dry), kept=desk.now()
    )
    numbers = hour_number(issued.replace(hour=0)) + np.arange(24 * n)
    columns = {"temp_c": 24.0, "humidity_pct": 50.0, "wind_m_s": 3.0, "rain_mm": 0.0}
    hours = hourly(numbers, {c: np.full(24 * n, v) for c, v in columns.items()}, source="made-up")
    desk.store.add_hours(hours, imported=desk.now(), forecast=kept)


def test_white_powder_from_seen_to_what_came_of_it(desk: Desk) -> None:
    with pytest.raises(UsageError, match="Nothing was found"):
        remedy(desk, "zucchini-1")
    enter(desk, "found", ["zucchini-1", "trouble=powdery-mildew-cucurbit", "sure=settled"])

    usual = remedy(desk, "zucchini-1")
    assert usual.sure == "settled"
    advised = [s.id for s in usual.steps if s.advised]
    assert not any(s.advised and s.needs_label for s in usual.steps), "no label record, no product"
    without = remedy(desk, "zucchini-1", not_possible=[advised[0]])
    assert advised[0] in {s.id for s in without.struck}
    assert advised[0] not in {s.id for s in without.steps}
    assert "tolerance, not immunity" in " ".join(step.says for step in usual.later)

    nothing = check(desk, "Mealmute", "zucchini-1", seen=ALL_SEEN)
    assert nothing.answer == "unknown"
    assert "Read the label for" in nothing.against[0].reason.says
    with pytest.raises(NotFound, match="without one nothing is allowed"):
        keep_treated(desk, "zucchini-1", "Mealmute", {})
    with pytest.raises(UsageError, match="'\\*' is no number of days"):
        label(desk, "Mealmute", {**WORDS, "days": "*"})
    assert labels(desk).rows == (), "nothing is kept where a word of it is wrong"
    label(desk, "Mealmute", WORDS)
    (sulfur,) = [s for s in remedy(desk, "zucchini-1").steps if s.id == "sulfur"]
    assert sulfur.labels == ("Mealmute",)

    nowhere = check(desk, "Mealmute", "zucchini-1")
    assert nowhere.answer == "not now"
    assert nowhere.next_chance == "", "whose registrations count here is not said yet, so no hour is fit"
    enter(desk, "rules", ["registered-in=Westmark"])

    hot = check(desk, "Mealmute", "zucchini-1", seen=ALL_SEEN)
    assert hot.answer == "not now"
    (heat,) = [f for f in hot.against if f.check == "heat and cold" and f.answer == "not now"]
    assert "36 °C" in heat.reason.says
    assert "29 °C" in heat.reason.says, "the label says 32, the handbook 29: the sterner holds"
    assert hot.next_chance.startswith("16 July")
    assert {d.day.day: bool(d.fit) for d in hot.days}[15] is False

    desk.clock.now = datetime(2026, 7, 16, 14, tzinfo=UTC)  # type: ignore[attr-defined]
    stale = check(desk, "Mealmute", "zucchini-1", at="15:00", seen=ALL_SEEN)
    assert stale.next_chance == "", "the forecast is older than a day"
    assert stale.answer != "may"
    forecast(desk, date(2026, 7, 16), [25.0] * 8)
    thirsty = check(desk, "Mealmute", "zucchini-1", at="15:00", seen=ALL_SEEN)
    assert thirsty.answer == "not now"
    assert "short of water by the reckoning" in " ".join(f.reason.says for f in thirsty.against)
    enter(desk, "water", ["bed-4", "400 L"])
    blind = check(desk, "Mealmute", "zucchini-1", at="15:00")
    assert blind.answer == "unknown", "nobody has looked yet"
    assert {q.key for q in blind.to_see} == set(QUESTIONS)
    early = check(desk, "Mealmute", "zucchini-1", on="tomorrow", at="10:00", seen=ALL_SEEN)
    assert early.answer == "not now", "squash flowers are open"
    fit = check(desk, "Mealmute", "zucchini-1", at="15:00", seen=ALL_SEEN, walk="1 L on 10 m2")
    assert [f.check for f in fit.against] == []
    assert fit.answer == "may"
    assert "in 0.48 L" in fit.amount, "4.8 m² at 100 mL/m²"

    keep_treated(desk, "zucchini-1", "Mealmute", {"mix": "0.48 L", "hour": "15:00", "flowers_open": "no"})
    held = {line.name: line for line in sheet(desk).holds}
    assert "19 July" in held["no-picking/zucchini-1"].detail
    assert "17 July, 15:00" in held["no-entry/zucchini-1"].detail
    again = check(desk, "Mealmute", "zucchini-1", at="17:00", seen=ALL_SEEN)
    assert again.answer == "not now"
    assert again.until.startswith("23 July")

    desk.clock.now = datetime(2026, 7, 23, 9, tzinfo=UTC)  # type: ignore[attr-defined]
    looks = {line.name: line for line in sheet(desk).look}
    assert "what came of it" in looks["treated/zucchini-1"].detail
    enter(desk, "look", ["zucchini-1", "found=new leaves clean"])
    assert "treated/zucchini-1" not in {line.name for line in sheet(desk).look}


def test_without_a_forecast_no_hour_is_allowed(desk: Desk) -> None:
    desk.clock.now = datetime(2026, 8, 20, 8, tzinfo=UTC)  # type: ignore[attr-defined]
    label(desk, "Mealmute", WORDS)
    enter(desk, "rules", ["registered-in=Westmark"])
    enter(desk, "water", ["bed-4", "400 L"])
    told = check(desk, "Mealmute", "zucchini-1", against="powdery-mildew-cucurbit", seen=ALL_SEEN)
    assert told.answer == "not now", "the sun has hardly risen"
    assert check(desk, "Mealmute", "zucchini-1", against="powdery-mildew-cucurbit", at="15:00").answer == "unknown"
    assert told.next_chance == ""
    assert not any(d.fit for d in told.days)


def test_a_label_is_put_right_by_superseding_and_blanked_back_to_unknown(desk: Desk) -> None:
    label(desk, "Mealmute", WORDS)
    label(desk, "mealmute", {"days": "1"})
    (row,) = labels(desk).rows
    assert row[3] == "1"
    label(desk, "Mealmute", {"days": ""})
    (row,) = labels(desk).rows
    assert "days to picking" in row[4]
    assert len([e for e in desk.entries() if e.kind == "label"]) == 3, "what was written stays"
    label(desk, "Mealmute", {"remove": "yes"})
    assert labels(desk).rows == ()


@pytest.mark.parametrize(
    ("given", "says"),
    [
        ({"rate": "some"}, "is no rate"),
        ({"days": "soon"}, "no whole number"),
        ({"days": "tomato=0, lettuce"}, "every crop with its days"),
        ({"entry": "later"}, "is no time"),
        ({"gaps": "oil 30"}, "after 30, before 30"),
        ({"temp_max": "warm"}, "is no number"),
        ({"temp_max": "90"}, "in Fahrenheit is typed 90F"),
        ({"temp_min": "50"}, "in Fahrenheit is typed 90F"),
        ({"days": "0*"}, "is no number of days"),
    ],
)
def test_a_fact_that_is_none_is_refused_in_one_line(desk: Desk, given: dict[str, str], says: str) -> None:
    with pytest.raises(UsageError, match=says) as told:
        label(desk, "Mealmute", given)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("2 fl oz/gal", (15.625, "mL/L")),  # calibration.csv C14: 15.62 mL/L
        ("2 fl. oz. per gallon", (15.625, "mL/L")),
        ("1 oz/gal", (7.489, "g/L")),  # F8: 7.49 g/L
        ("1 fl oz/1000 sq ft", (0.3183, "mL/m²")),  # F9: 0.318 mL/m²
        ("1 lb per 1000 sq ft", (4.882, "g/m²")),  # F9: 4.88 g/m²
        ("20 mL/L", (20.0, "mL/L")),
    ],
)
def test_rates_are_typed_as_labels_print_them(desk: Desk, said: str, kept: tuple[float, str]) -> None:
    label(desk, "Mealmute", {**WORDS, "rate": said})
    (entry,) = [e for e in desk.entries() if e.kind == "label"]
    assert (entry.payload["rate"], entry.payload["rate_unit"]) == (pytest.approx(kept[0], rel=2e-4), kept[1])


def test_a_group_that_cannot_be_read_is_still_to_be_read(desk: Desk) -> None:
    label(desk, "Mealmute", {**WORDS, "group": "Group 11"})
    assert "group" in labels(desk).rows[0][4]


def test_days_by_crop_are_typed_and_shown(desk: Desk) -> None:
    label(desk, "Mealmute", {**WORDS, "days": "squash=0, cucumber=1"})
    assert labels(desk).rows[0][3] == "cucumber=1, squash=0"


def test_a_class_puts_it_off(desk: Desk) -> None:
    label(desk, "Mealmute", WORDS)
    desk.clock.now = datetime(2026, 7, 16, 14, tzinfo=UTC)  # type: ignore[attr-defined]
    enter(desk, "visit", [f"day={TODAY + timedelta(days=3)}", "what=a class"])
    told = check(desk, "Mealmute", "zucchini-1", against="powdery-mildew-cucurbit", at="15:00", seen=ALL_SEEN)
    assert any("A class on 17 July" in f.reason.says for f in told.against)


@pytest.mark.parametrize(("total", "verdict"), [(0, "below"), (40, "above")])
def test_the_last_count_of_the_daybook_decides_whether_acting_pays(desk: Desk, total: int, verdict: str) -> None:
    words = ["zucchini-1", "trouble=squash-bug", "looked_at=4", "of=4", f"found_on={min(total, 4)}", f"total={total}"]
    enter(desk, "count", [*words, "what=egg masses"] if total else words)
    told = remedy(desk, "zucchini-1", "squash-bug")
    assert told.count == verdict
    advised = {s.id for s in told.steps if s.advised}
    assert (advised == {"leave-alone"}) is (verdict == "below")
