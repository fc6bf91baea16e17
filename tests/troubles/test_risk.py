"""Risk from weather: what is observed stays certain, what is unknown is said to be, and wetness never feeds mildew."""

import csv
import gzip
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from gardens import entry, look_ahead, plot, seasons, steady, tomatoes

from kailyard.documents.risk import Risk, RuleRisk
from kailyard.garden.model import Entry, Planting
from kailyard.handbook.diseases import risk_models
from kailyard.publish.say_risk import quiet_words
from kailyard.science.checks import InputError
from kailyard.science.disease_days import DISEASE_DAYS, DiseaseHours, hutton_period_days, late_blight_days
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView
from kailyard.troubles.hours_made import KeptHours, made_hours
from kailyard.troubles.risk import conditions_words, risk
from kailyard.weather.ensemble import Ensemble
from kailyard.weather.known_hours import FORECAST, OBSERVED

_TODAY = date(2026, 7, 10)
_SQUASH = Planting(id="zucchini-1", crop="zucchini", bed="bed-5", start="sown", count=4)
_GARDEN = plot(
    tomatoes(),
    _SQUASH,
    entries=(
        entry("sow", "tomato-1", date(2026, 4, 1)),
        entry("set-out", "tomato-1", date(2026, 5, 25)),
        entry("sow", "zucchini-1", date(2026, 5, 25)),
    ),
)


def _view(ensemble: Ensemble | None = None) -> SeasonView:
    return look_ahead(_GARDEN, _TODAY, ensemble=ensemble)


def _kept(humid: float, *, temp: float = 15.0, rain: float = 0.0, days: int = 20, ahead: int = 5) -> KeptHours:
    """Hours alike, observed until today and forecast for some days from it."""
    hours = (days + ahead) * 24
    states = np.full(hours, OBSERVED, dtype=np.int8)
    states[days * 24 :] = FORECAST
    column = np.full(hours, temp)
    return KeptHours(_TODAY - timedelta(days=days), column, np.full(hours, humid), np.full(hours, rain), states)


def _rule(found: Risk, model: str) -> RuleRisk:
    return next(rule for rule in found.rules if rule.model == model)


def test_only_rules_made_for_what_stands_are_told_and_each_keeps_its_mark() -> None:
    found = risk(_view())
    models = {rule.model for rule in found.rules}
    assert {"late_blight_hutton", "early_blight_daily_severity", "cucurbit_downy_mildew_infection"} <= models
    assert not models & {"onion_downy_mildew", "apple_scab_revised", "strawberry_anthracnose"}
    assert all(rule.status in ("published", "memory") and rule.source for rule in found.rules)
    assert any("not that they are" in note for note in found.notes)


def test_observed_hours_are_certain_and_forecast_ones_grow_unsure() -> None:
    # Hutton: two days at 10 °C or more with 6 humid hours; 100 % and 15 °C observed and forecast.
    hutton = _rule(risk(_view(), _kept(100.0)), "late_blight_hutton")
    known = {d.day: d for d in hutton.days}
    yesterday = known[_TODAY - timedelta(days=1)]
    assert (yesterday.chance, yesterday.known) == (1.0, "observed")
    assert known[_TODAY + timedelta(days=2)].known == "forecast by the hour"
    assert known[_TODAY + timedelta(days=10)].known == "usual for the date"
    # At 88 % forecast no season's hours are surely humid: neither certain nor ruled out, and less sure the farther.
    unsure = {d.day: d.chance for d in _rule(risk(_view(), _kept(88.0)), "late_blight_hutton").days}
    assert unsure[_TODAY - timedelta(days=1)] == 0
    assert 0 < unsure[_TODAY + timedelta(days=2)] < 1


def test_dry_observed_hours_rule_the_blight_out_whatever_the_nights_low() -> None:
    dry = _rule(risk(_view(), _kept(50.0)), "late_blight_hutton")
    assert all(d.chance == 0 for d in dry.days if d.known == "observed")


def test_without_hours_all_is_made_from_days_and_said_to_be() -> None:
    found = risk(_view())
    for rule in found.rules:
        assert {d.known for d in rule.days} <= {"made from days", "forecast by the day", "usual for the date"}
        assert all(0 <= d.chance <= 1 for d in rule.days)


def test_a_sum_counts_from_setting_out() -> None:
    # Madden's table at 21-25 °C, all 24 hours wet: 4 a day; tomatoes set out 10 days before.
    garden = plot(
        tomatoes(),
        entries=(entry("sow", "tomato-1", date(2026, 4, 1)), entry("set-out", "tomato-1", _TODAY - timedelta(days=10))),
    )
    view = look_ahead(garden, _TODAY, ensemble=steady(18.0, 28.0, today=_TODAY))
    rule = _rule(risk(view, _kept(100.0, temp=23.0)), "early_blight_daily_severity")
    assert rule.sum_so_far == pytest.approx(40, abs=4)
    assert rule.level == 35


def test_wetness_never_feeds_powdery_mildew() -> None:
    # It has no rule at all for cucurbits, so nothing that is wet can raise one; its words say that water hinders it.
    for kept in (_kept(100.0, rain=2.0), _kept(40.0)):
        found = risk(_view(), kept)
        assert not [rule for rule in found.rules if "powdery-mildew-cucurbit" in rule.troubles]
        mildew = next(c for c in found.conditions if c.trouble == "powdery-mildew-cucurbit")
        assert mildew.status == "common practice"
        assert "20 to 27 °C" in mildew.says
        assert "no free water" in mildew.says
        assert "hinders" in mildew.says
        assert "38 °C" in mildew.says


def test_what_has_no_rule_is_told_in_words_and_never_twice() -> None:
    found = risk(_view())
    told = {name for rule in found.rules for name in rule.troubles}
    assert not told & {c.trouble for c in found.conditions}
    assert all(c.status in ("common practice", "memory") and c.says and c.look for c in found.conditions)


def test_an_empty_garden_has_no_risk() -> None:
    found = risk(look_ahead(plot(), _TODAY))
    assert (found.rules, found.conditions, found.notes) == ((), (), ())


def test_where_the_sun_does_not_set_nothing_is_reckoned_and_it_is_said() -> None:
    garden = replace(_GARDEN, site=replace(_GARDEN.site, latitude=70.0))
    found = risk(look_ahead(garden, _TODAY))
    assert found.rules == ()
    assert any("No rule can be reckoned here" in note for note in found.notes)


def test_made_hours_keep_the_days_low_high_and_rain() -> None:
    ensemble = seasons(_TODAY)
    made = made_hours(ensemble, _TODAY - timedelta(days=5), _TODAY + timedelta(days=5), latitude=45.0, kept=None)
    at = ensemble.today_index
    days = made.hours.temp_c.reshape(ensemble.traces, 11, 24)
    rain = made.hours.rain_mm.reshape(ensemble.traces, 11, 24).sum(axis=-1)
    np.testing.assert_allclose(rain, ensemble.rain_mm[:, at - 5 : at + 6], atol=1e-9)
    low, high = ensemble.tmin_c[:, at - 5 : at + 6], ensemble.tmax_c[:, at - 5 : at + 6]
    assert (days[:, 1:-1].max(axis=-1) <= high[:, 1:-1] + 1e-9).all()
    assert (np.abs(days[:, 1:-1].max(axis=-1) - high[:, 1:-1]) < 1.5).all()
    assert (days[:, 1:-1].min(axis=-1) >= np.minimum(low[:, 1:-1], low[:, 2:]) - 1e-9).all()
    with pytest.raises(InputError, match="not among the possible seasons"):
        made_hours(ensemble, date(2020, 1, 1), _TODAY, latitude=45.0, kept=None)


@pytest.mark.parametrize(("station", "wet_h"), [("EWR", 3.12), ("JFK", 4.24)])
def test_hours_made_from_days_are_wet_about_as_often_as_those_observed(
    shared: Path, station: str, wet_h: float
) -> None:
    # Hourly observations of two airports in New York and New Jersey, May to September 2013 (NOAA, open data): made from
    # each day's low, high and rain the wet hours and the days of the Hutton criteria agree within a factor of two.
    observed = _airport(shared, station)
    days = slice(120, 274)
    lows, highs, rain = (
        observed.temp_c.reshape(365, 24).min(1),
        observed.temp_c.reshape(365, 24).max(1),
        observed.rain_mm.reshape(365, 24).sum(1),
    )
    base = seasons(_TODAY)
    rows = [np.tile(x, (base.traces, 1)) for x in (lows, highs, rain)]
    ensemble = replace(base, first=date(2013, 1, 1), today_index=300, tmin_c=rows[0], tmax_c=rows[1], rain_mm=rows[2])
    made = made_hours(ensemble, date(2013, 1, 1), date(2013, 12, 31), latitude=40.6, kept=None).hours
    wet = made.wet.reshape(base.traces, 365, 24)[:, days].sum(-1).mean()
    seen = observed.wet.reshape(365, 24)[days].sum(-1).mean()
    assert seen == pytest.approx(wet_h, abs=0.02)
    assert seen / 2 < wet < 2 * seen
    told, made_told = (hutton_period_days(h)[..., days] for h in (observed, made))
    assert told.sum() / 2 < made_told.sum(-1).mean() < 2.5 * told.sum()


def _airport(shared: Path, station: str) -> DiseaseHours:
    temp, humid, rain = np.full(8760, np.nan), np.full(8760, np.nan), np.zeros(8760)
    with gzip.open(shared / "data/weather/nyc_hourly_2013.csv.gz", "rt", encoding="utf-8") as file:
        for row in csv.DictReader(file):
            when = datetime.fromisoformat(row["time_utc"]) - timedelta(hours=5)
            i = int((when - datetime(2013, 1, 1, tzinfo=UTC)).total_seconds() // 3600)
            if row["station"] == station and 0 <= i < 8760 and row["temp_f"] not in ("", "NA"):
                temp[i] = (float(row["temp_f"]) - 32) / 1.8
                humid[i] = min(float(row["rh"]), 100.0) if row["rh"] not in ("", "NA") else np.nan
                rain[i] = float(row["precip_in"] or 0) * 25.4
    for column in (temp, humid):
        here = np.flatnonzero(~np.isnan(column))
        column[:] = np.interp(np.arange(8760), here, column[here])
    wet = 1.0 * ((humid >= 90) | (rain > 0))
    return DiseaseHours(temp, humid, rain, wet, np.ones(8760))


def test_a_missing_humidity_leaves_the_hour_to_be_made() -> None:
    kept = _kept(100.0)
    humid = kept.humidity_pct.copy()
    humid[30] = np.nan
    made = made_hours(seasons(_TODAY), kept.first, _TODAY, latitude=45.0, kept=replace(kept, humidity_pct=humid))
    assert made.states[1] == 0
    assert made.states[2] == OBSERVED


def test_words_without_figures_are_still_words() -> None:
    from kailyard.handbook.diseases import diseases

    assert all(conditions_words(disease) for disease in diseases().values())


def _sums(today: date, *entries: Entry, plantings: tuple[Planting, ...]) -> dict[str, RuleRisk]:
    """The rule of early blight by planting: 23 °C and wet all day, which is 4 a day by Madden's table."""
    garden = plot(*plantings, entries=entries)
    view = look_ahead(garden, today, ensemble=steady(18.0, 28.0, today=today))
    found = risk(view, _kept(100.0, temp=23.0))
    return {of: rule for rule in found.rules if rule.model == "early_blight_daily_severity" for of in rule.of}


_POTATO = Planting(id="potato-1", crop="potato", bed="bed-7", start="planted", count=10)
_OUT = (
    entry("sow", "tomato-1", date(2026, 4, 1)),
    entry("set-out", "tomato-1", _TODAY - timedelta(days=6)),
    entry("plant", "potato-1", date(2026, 4, 20)),
    entry("stage", "potato-1", _TODAY - timedelta(days=6), stage="emerged", state="seen"),
)


def test_potato_acts_at_its_own_stricter_sum_whatever_stands_beside_it() -> None:
    # NIBIO: 20 on potato; Rutgers and Penn State: 35 on tomato. Six days of 4 each lie between the two.
    found = _sums(_TODAY, *_OUT, plantings=(tomatoes(), _POTATO))
    levels = {of.split(",")[0].split(" ")[0]: rule.level for of, rule in found.items()}
    assert levels == {"tomatoes": 35, "potatoes": 20}
    yesterday = {
        of.split(" ")[0].rstrip(","): next(d.chance for d in rule.days if d.day == _TODAY - timedelta(days=1))
        for of, rule in found.items()
    }
    assert yesterday == {"tomatoes": 0.0, "potatoes": 1.0}


def test_a_sum_begins_with_its_own_planting_and_not_with_the_oldest() -> None:
    later = replace(tomatoes(), id="tomato-2", bed="bed-8")
    entries = (*_OUT[:2], entry("sow", "tomato-2", date(2026, 5, 1)), entry("set-out", "tomato-2", _TODAY))
    found = _sums(_TODAY, *entries, plantings=(tomatoes(), later))
    assert {rule.since: rule.sum_so_far for rule in found.values()} == {_TODAY - timedelta(days=6): 24, _TODAY: 0}


@pytest.mark.parametrize(
    ("treated", "begins_anew"),
    [
        ({"trouble": "early-blight"}, True),
        ({"trouble": "septoria-leaf-spot"}, True),
        ({"trouble": "aphids"}, False),
        ({}, False),
    ],
)
def test_a_sum_begins_anew_with_what_was_put_on_against_it_and_with_nothing_else(
    treated: dict[str, str], begins_anew: bool
) -> None:
    # Penn State 2013: after the first action tomato acts again at 18. What nobody said anything of lessens nothing.
    day = _TODAY - timedelta(days=3)
    rule = next(
        iter(_sums(_TODAY, *_OUT[:2], entry("treat", "tomato-1", day, **treated), plantings=(tomatoes(),)).values())
    )
    assert (rule.level, rule.since) == ((18, day) if begins_anew else (35, _TODAY - timedelta(days=6)))
    assert rule.sum_so_far == (12 if begins_anew else 24)
    assert bool(rule.after) == begins_anew


def test_a_treatment_of_one_bed_leaves_the_sum_of_another_as_it_is() -> None:
    other = replace(tomatoes(), id="tomato-2", bed="bed-8")
    out = _TODAY - timedelta(days=6)
    entries = (
        *_OUT[:2],
        entry("sow", "tomato-2", date(2026, 4, 1)),
        entry("set-out", "tomato-2", out),
        entry("treat", "tomato-1", _TODAY - timedelta(days=2), trouble="early-blight"),
    )
    found = _sums(_TODAY, *entries, plantings=(tomatoes(), other))
    assert {rule.level for rule in found.values()} == {18, 35}


def test_late_blight_sums_tell_the_first_action_only() -> None:
    # Krause, Massie and Hyre 1975: after 18 the last seven days decide, not a sum that begins anew.
    garden = plot(
        tomatoes(), entries=(*_OUT[:2], entry("treat", "tomato-1", _TODAY - timedelta(days=2), trouble="late-blight"))
    )
    rule = _rule(risk(look_ahead(garden, _TODAY), _kept(100.0)), "late_blight_severity_rh90")
    assert (rule.level, rule.after) == (18, "")
    assert "first action only" in rule.note


def test_fern_of_asparagus_counts_from_the_last_picking_on() -> None:
    bed = Planting(id="asparagus-1", crop="asparagus", bed="bed-9", start="planted", count=10)
    begun = (entry("plant", "asparagus-1", date(2021, 4, 20)),)
    picked = entry("pick", "asparagus-1", date(2026, 6, 20), weight_kg=1.0)
    garden = plot(bed, entries=(*begun, picked))
    rule = _rule(risk(look_ahead(garden, _TODAY)), "asparagus_purple_spot")
    assert rule.since == date(2026, 6, 20)


def _of_soil(
    model: str, *entries: Entry, rain: float, crop: str, low: float = 14.0, high: float = 22.0
) -> RuleRisk | None:
    one = Planting(id="plant-1", crop=crop, bed="bed-5", start="sown", count=4)
    garden = plot(one, entries=(entry("sow", "plant-1", date(2026, 5, 25)), *entries))
    ensemble = steady(low, high, today=_TODAY)
    ensemble = replace(ensemble, rain_mm=np.full_like(ensemble.rain_mm, rain))
    return next((r for r in risk(look_ahead(garden, _TODAY, ensemble=ensemble)).rules if r.model == model), None)


def test_phytophthora_blight_is_favoured_where_rain_fills_warm_ground_and_never_in_dry_or_cold() -> None:
    # Babadoost; Penn State: swimming spores where the soil is soaked, 10 to 36 °C. A lawn asks for less than 15 mm.
    def chances(rule: RuleRisk | None) -> set[float]:
        assert rule is not None
        return {d.chance for d in rule.days}

    assert chances(_of_soil("phytophthora_blight", rain=15.0, crop="zucchini")) == {1.0}
    assert chances(_of_soil("phytophthora_blight", rain=0.0, crop="zucchini")) == {0.0}
    assert chances(_of_soil("phytophthora_blight", rain=15.0, crop="zucchini", low=2.0, high=8.0)) == {0.0}
    told = _of_soil("phytophthora_blight", rain=15.0, crop="zucchini")
    assert told is not None
    assert "nothing were watered" in told.reasons[-1].says


def test_white_rot_is_told_only_where_it_was_found_and_by_the_soil() -> None:
    # Crowe and Hall 1980: 6 to 24 °C in the soil. It lasts 20 years and more, so a find of long ago counts.
    found = entry("found", "bed-5", date(2019, 6, 1), trouble="white-rot-allium", sure="settled")
    assert _of_soil("onion_white_rot", rain=1.0, crop="garlic") is None
    rule = _of_soil("onion_white_rot", found, rain=1.0, crop="garlic")
    assert rule is not None
    assert {d.chance for d in rule.days} == {1.0}
    hot = _of_soil("onion_white_rot", found, rain=1.0, crop="garlic", low=24.0, high=38.0)
    assert hot is not None
    assert {d.chance for d in hot.days if d.day > _TODAY} == {0.0}


def test_odds_of_a_week_are_those_of_any_of_its_days() -> None:
    # Season by season: never less than the likeliest day, never more than all days together, and certain where one is.
    for kept in (None, _kept(88.0), _kept(100.0)):
        for rule in risk(_view(), kept).rules:
            days = [d.chance for d in rule.days if _TODAY <= d.day < _TODAY + timedelta(days=7)]
            if not days:
                assert rule.coming_week is None
                continue
            assert rule.coming_week is not None
            assert max(days) - 1e-12 <= rule.coming_week <= min(sum(days), 1.0) + 1e-12
            past = [d.chance for d in rule.days if d.day < _TODAY]
            assert (rule.past_week or 0) >= max(past, default=0) - 1e-12


def _lines(view: SeasonView) -> list[str]:
    return [f"{k.where}: {k.detail}" for k in compose(view, whole=True).look if k.name.startswith("disease-weather/")]


def test_the_sheet_has_one_line_where_the_week_is_likely_to_favour_a_disease_and_none_where_it_is_dry() -> None:
    # Phytophthora blight: 15 mm of rain a day on warm ground; without rain and with dry nights nothing is favoured.
    ensemble = steady(14.0, 22.0, today=_TODAY)
    wet = look_ahead(_GARDEN, _TODAY, ensemble=replace(ensemble, rain_mm=np.full_like(ensemble.rain_mm, 15.0)))
    dry = look_ahead(_GARDEN, _TODAY, ensemble=steady(18.0, 38.0, today=_TODAY))
    (line,) = _lines(wet)
    assert "Phytophthora blight almost certainly" in line
    assert "reckoned from days" in line
    assert _lines(dry) == []
    assert _lines(look_ahead(plot(), _TODAY)) == []


def test_a_sum_that_stands_above_its_level_is_not_told_again_week_by_week() -> None:
    wet = steady(18.0, 28.0, today=_TODAY)
    wet = replace(wet, rain_mm=np.full_like(wet.rain_mm, 60.0))
    begun = (entry("sow", "tomato-1", date(2026, 4, 1)), entry("set-out", "tomato-1", _TODAY - timedelta(days=60)))
    view = look_ahead(plot(tomatoes(), entries=begun), _TODAY, ensemble=wet)
    rule = _rule(risk(view), "early_blight_daily_severity")
    assert rule.sum_so_far is not None
    assert rule.sum_so_far >= rule.level
    assert not any("early blight" in line for line in _lines(view))


@pytest.mark.parametrize("station", ["EWR", "JFK"])
def test_sums_from_made_hours_are_near_those_observed_but_where_a_rule_asks_for_long_damp_spells(
    shared: Path, station: str
) -> None:
    # The hundred days from 24 May of the two airports (NOAA, open data).
    observed = _airport(shared, station)
    base = seasons(_TODAY)
    by_day = (
        f(x.reshape(365, 24), axis=1)
        for f, x in ((np.min, observed.temp_c), (np.max, observed.temp_c), (np.sum, observed.rain_mm))
    )
    rows = [np.tile(x, (base.traces, 1)) for x in by_day]
    ensemble = replace(base, first=date(2013, 1, 1), today_index=300, tmin_c=rows[0], tmax_c=rows[1], rain_mm=rows[2])
    made = made_hours(ensemble, date(2013, 1, 1), date(2013, 12, 31), latitude=40.6, kept=None).hours
    days = slice(143, 243)
    for model in ("early_blight_daily_severity", "late_blight_severity_rh80_michigan", "onion_purple_blotch"):
        seen, ours = (np.nan_to_num(DISEASE_DAYS[model](h))[..., days].sum(-1) for h in (observed, made))
        assert seen / 1.5 < np.median(ours) < 1.5 * seen, model
        assert not risk_models()[model].needs_hours
    wallin = [np.nan_to_num(late_blight_days(h))[..., days].sum(-1) for h in (observed, made)]
    assert wallin[0] >= 14
    assert np.median(wallin[1]) < wallin[0] / 2
    assert risk_models()["late_blight_severity_rh90"].needs_hours


def test_what_made_hours_cannot_tell_is_not_told_as_unlikely() -> None:
    found = risk(_view())
    for model in ("late_blight_severity_rh90", "late_blight_smith_period"):
        rule = _rule(found, model)
        assert (rule.days, rule.coming_week, rule.sum_so_far) == ((), None, None)
    assert "for want of hours" in quiet_words(found)
    assert "late blight (severity values)" not in quiet_words(found).partition(" Not told")[0]
    # With hours it is told for as long as they reach, and no farther.
    known = _rule(risk(_view(), _kept(100.0)), "late_blight_severity_rh90")
    assert {d.known for d in known.days} == {"observed", "forecast by the hour"}
    assert known.sum_so_far is not None
    assert known.sum_so_far > 0
