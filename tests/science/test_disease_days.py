"""Disease models on hours, against slow loops written apart from them and against the papers' own examples."""

import numpy as np
import pytest

from kailyard.science.checks import InputError
from kailyard.science.disease_days import (
    DISEASE_DAYS,
    DiseaseHours,
    apple_scab_days,
    asparagus_rust_days,
    bacterial_spot_night_days,
    black_rot_days,
    cucurbit_powdery_mildew_days,
    daily_rain_added,
    early_blight_days,
    grape_mildew_days,
    hutton_period_days,
    late_blight_days,
    michigan_late_blight_days,
    onion_downy_mildew_days,
    purple_blotch_days,
    smith_period_days,
)
from kailyard.science.disease_hours import (
    by_days,
    days_unknown,
    longest_run,
    spell_so_far,
    spells_ending,
    wet_days,
    with_spell_before,
)
from kailyard.science.disease_models_late_blight import late_blight_severity, michigan_late_blight_severity
from kailyard.science.disease_models_leaves import early_blight_severity, purple_blotch_infection


def _weather(days: int = 60, seed: int = 7, shape: tuple[int, ...] = ()) -> DiseaseHours:
    draw = np.random.default_rng(seed)
    size = (*shape, days * 24)
    clock = np.arange(days * 24)
    temp = 17 + 6 * np.sin(2 * np.pi * (clock - 9) / 24) + draw.normal(0, 2, size)
    slow = np.repeat(draw.normal(0, 9, (*shape, days * 4)), 6, axis=-1)
    humid = np.clip(82 - 14 * np.sin(2 * np.pi * (clock - 9) / 24) + slow, 15, 100)
    rain = np.where(draw.random(size) < 0.05, draw.exponential(2, size), 0.0)
    light = np.broadcast_to(1.0 * ((clock % 24 >= 6) & (clock % 24 < 20)), size)
    return DiseaseHours(temp, humid, rain, 1.0 * ((humid >= 90) | (rain > 0)), light.copy())


def _spells(on: np.ndarray, bridged: int) -> list[list[int]]:
    """Hours of each spell, dry breaks shorter than `bridged` bridged: one hour after another."""
    found: list[list[int]] = []
    for hour in range(len(on)):
        if on[hour]:
            if found and hour - found[-1][-1] - 1 < bridged:
                found[-1].append(hour)
            else:
                found.append([hour])
    return found


@pytest.mark.parametrize("parted_by_h", [1, 8, 25])
def test_spells_so_far_are_those_of_a_slow_count(parted_by_h: int) -> None:
    h = _weather()
    got = spell_so_far(h.temp_c, h.wet, parted_by_h=parted_by_h)
    hours, mean = np.zeros(len(h.wet)), np.zeros(len(h.wet))
    for spell in _spells(h.wet > 0, parted_by_h):
        for i, hour in enumerate(spell):
            hours[hour] = i + 1
            mean[hour] = np.mean([h.temp_c[k] for k in spell[: i + 1]])
    assert got.hours.tolist() == hours.tolist()
    np.testing.assert_allclose(got.mean_c, mean, atol=1e-9)


def test_one_dry_break_is_bridged_and_no_more() -> None:
    h = _weather(seed=9)
    got = with_spell_before(h.temp_c, h.wet, bridged_h=10)
    hours, mean = np.zeros(len(h.wet)), np.zeros(len(h.wet))
    spells = _spells(h.wet > 0, 1)
    for n, spell in enumerate(spells):
        earlier = spells[n - 1] if n and spell[0] - spells[n - 1][-1] - 1 <= 10 else []
        for i, hour in enumerate(spell):
            counted = [*earlier, *spell[: i + 1]]
            hours[hour], mean[hour] = len(counted), np.mean(h.temp_c[counted])
    assert got.hours.tolist() == hours.tolist()
    np.testing.assert_allclose(got.mean_c, mean, atol=1e-9)


def test_humid_spells_end_where_a_slow_count_ends_them() -> None:
    h = _weather(seed=3)
    humid = h.humidity_pct >= 85
    got = spells_ending(h.temp_c, humid, most_h=25)
    wanted = np.zeros(len(humid))
    for spell in _spells(humid, 1):
        for part in range(0, len(spell), 25):
            piece = spell[part : part + 25]
            wanted[piece[-1]] = len(piece)
            assert got.mean_c[piece[-1]] == pytest.approx(np.mean(h.temp_c[piece]))
    assert got.hours.tolist() == wanted.tolist()


def test_days_of_hours_by_a_slow_count() -> None:
    h = _weather(days=9)
    days = wet_days(h.temp_c, h.wet)
    runs = longest_run(h.wet)
    for day in range(9):
        hours = range(24 * day, 24 * day + 24)
        wet = [k for k in hours if h.wet[k]]
        assert days.hours[day] == len(wet)
        if wet:
            assert days.mean_c[day] == pytest.approx(np.mean(h.temp_c[wet]))
        assert runs[day] == max((len(s) for s in _spells(h.wet[24 * day : 24 * day + 24] > 0, 1)), default=0)
    assert by_days(h.temp_c).shape == (9, 24)
    with pytest.raises(InputError, match="whole days"):
        by_days(h.temp_c[:-1])


def test_a_missing_hour_silences_its_day_and_one_at_its_end_the_next_day_too() -> None:
    column = np.zeros(24 * 4)
    column[30] = np.nan
    assert days_unknown(column).tolist() == [False, True, False, False]
    column[:] = 0
    column[47] = np.nan
    assert days_unknown(column, np.zeros(96)).tolist() == [False, True, True, False]


def test_late_blight_days_sum_the_spells_that_end_in_them() -> None:
    # Wallin's and Michigan's tables, spells found one hour after another.
    h = _weather(seed=11)
    for days, limit, most, table in (
        (late_blight_days(h), lambda rh: rh >= 90, 25, late_blight_severity),
        (michigan_late_blight_days(h), lambda rh: rh > 80, 24, michigan_late_blight_severity),
    ):
        wanted = np.zeros(60)
        for spell in _spells(limit(h.humidity_pct), 1):
            for part in range(0, len(spell), most):
                piece = spell[part : part + most]
                wanted[piece[-1] // 24] += float(table(np.mean(h.temp_c[piece]), len(piece)))
        assert wanted.max() > 0
        assert days.tolist() == wanted.tolist()


def test_early_blight_days_run_from_noon_to_noon() -> None:
    h = _weather(seed=5)
    got = early_blight_days(h)
    for day in range(1, 60):
        wet = [k for k in range(24 * day - 12, 24 * day + 12) if h.wet[k]]
        assert got[day] == (early_blight_severity(np.mean(h.temp_c[wet]), len(wet)) if wet else 0)


def test_periods_of_late_blight_by_a_slow_count() -> None:
    h = _weather(seed=2)
    for got, least in ((smith_period_days(h), 11), (hutton_period_days(h), 6)):
        fits = []
        for day in range(60):
            hours = slice(24 * day, 24 * day + 24)
            fits.append(h.temp_c[hours].min() >= 10 and sum(h.humidity_pct[hours] >= 90) >= least)
        wanted = [0.0] + [1.0 * (fits[d] and fits[d - 1]) for d in range(1, 60)]
        assert got.tolist() == wanted


def _hours(days: int, *, temp: float, wet: list[tuple[int, int]]) -> DiseaseHours:
    clock = np.arange(days * 24)
    on = np.zeros(days * 24)
    for first, last in wet:
        on[first:last] = 1
    light = 1.0 * ((clock % 24 >= 7) & (clock % 24 < 19))
    return DiseaseHours(np.full(days * 24, temp), np.full(days * 24, 70.0), np.zeros(days * 24), on, light)


def test_scab_counts_a_nights_rain_from_sunrise_on() -> None:
    # MacHardy and Gadoury 1989: rain 22:00 to 09:00 at 15 °C, leaves dry at 11:00: 4 h from 07:00, of 7 needed: none.
    night = _hours(2, temp=15, wet=[(22, 35)])
    assert spell_so_far(night.temp_c, night.wet, parted_by_h=8, daylight=night.daylight).hours.max() == 4
    assert apple_scab_days(night).max() == 0
    # The same 13 hours from 07:00 on infect; so do two spells of 4 h at 18 °C with 5 dry hours between, not with 8.
    assert apple_scab_days(_hours(2, temp=15, wet=[(31, 44)])).tolist() == [0, 1]
    assert apple_scab_days(_hours(1, temp=18, wet=[(7, 11), (16, 20)])).tolist() == [1]
    assert apple_scab_days(_hours(2, temp=18, wet=[(7, 11), (19, 23)])).max() == 0


def test_purple_blotch_bridges_a_dry_break_of_a_day() -> None:
    # Suheri and Price 2000: a break of 4 to 24 h hardly matters.
    broken = _hours(2, temp=25, wet=[(0, 5), (20, 24)])
    assert purple_blotch_days(broken).tolist() == [1, 0]
    assert purple_blotch_infection(25, 9) == 1
    assert purple_blotch_days(_hours(3, temp=25, wet=[(0, 5), (31, 35)])).max() == 0
    # Short nights in a row are not one long spell: two of them count together, never three.
    assert purple_blotch_days(_hours(4, temp=25, wet=[(0, 3), (24, 27), (48, 51)])).max() == 0


def test_asparagus_rust_is_washed_off_by_a_downpour() -> None:
    dew = _hours(1, temp=20, wet=[(0, 8)])
    assert asparagus_rust_days(dew).tolist() == [1]
    rain = dew.rain_mm.copy()
    rain[3] = 12
    assert asparagus_rust_days(DiseaseHours(dew.temp_c, dew.humidity_pct, rain, dew.wet, dew.daylight)).tolist() == [0]


def test_onion_downy_mildew_needs_the_cool_day_before_the_humid_night_and_the_wet_morning() -> None:
    # Hildebrand and Sutton 1982: day below 23.5 °C, 95 % to dawn; then 2 h of wetness.
    calm = _hours(2, temp=12, wet=[(30, 34)])
    humid = np.where((np.arange(48) >= 25) & (np.arange(48) < 31), 97.0, 70.0)
    night = DiseaseHours(calm.temp_c, humid, calm.rain_mm, calm.wet, calm.daylight)
    assert np.isnan(onion_downy_mildew_days(night)[0])
    assert onion_downy_mildew_days(night)[1] == 2
    hot = calm.temp_c.copy()
    hot[14] = 26
    assert onion_downy_mildew_days(DiseaseHours(hot, humid, calm.rain_mm, calm.wet, calm.daylight))[1] == 0
    dry = DiseaseHours(calm.temp_c, humid, calm.rain_mm, np.zeros(48), calm.daylight)
    assert onion_downy_mildew_days(dry)[1] == 0


def test_powdery_mildew_is_the_same_whether_leaves_are_wet_or_dry() -> None:
    h = _weather()
    soaked = DiseaseHours(h.temp_c, h.humidity_pct, h.rain_mm + 5, np.ones_like(h.wet), h.daylight)
    for days in (grape_mildew_days, cucurbit_powdery_mildew_days):
        assert days(h).tolist() == days(soaked).tolist()


def test_powdery_mildew_of_cucurbits_grows_to_the_middle_twenties_and_falls_in_heat() -> None:
    at = {t: float(cucurbit_powdery_mildew_days(_hours(1, temp=t, wet=[]))[0]) for t in (8, 15, 24, 33, 39)}
    assert at[24] == 24
    assert at[8] == at[33] == at[39] == 0
    assert at[15] <= at[24]


@pytest.mark.parametrize("model", sorted(DISEASE_DAYS))
def test_every_model_gives_each_trace_what_it_gives_it_alone(model: str) -> None:
    h = _weather(days=20, shape=(3,))
    days = DISEASE_DAYS[model]
    together = days(h)
    assert together.shape == (3, 20)
    for trace in range(3):
        alone = DiseaseHours(*(getattr(h, c)[trace] for c in DiseaseHours.__dataclass_fields__))
        np.testing.assert_allclose(together[trace], days(alone), rtol=1e-12, atol=1e-12)


@pytest.mark.parametrize("model", sorted(DISEASE_DAYS))
def test_every_model_is_silent_on_a_day_without_its_hours(model: str) -> None:
    h = _weather(days=20)
    gone = {c: np.where((np.arange(480) // 24) == 5, np.nan, getattr(h, c)) for c in DiseaseHours.__dataclass_fields__}
    got = DISEASE_DAYS[model](DiseaseHours(**gone))
    assert np.isnan(got[5])
    assert np.isfinite(got[12:]).all()


def test_rain_wets_leaves_whatever_the_humidity() -> None:
    h = _weather()
    dry = DiseaseHours(h.temp_c, h.humidity_pct, h.rain_mm, np.zeros_like(h.wet), h.daylight)
    assert daily_rain_added(dry).wet.tolist() == (1.0 * (h.rain_mm > 0)).tolist()


def test_columns_of_another_length_are_refused() -> None:
    h = _weather(days=2)
    with pytest.raises(InputError, match="whole days"):
        DiseaseHours(h.temp_c[:-1], h.humidity_pct[:-1], h.rain_mm[:-1], h.wet[:-1], h.daylight[:-1])


def test_black_rot_counts_wet_hours_in_its_warmth_by_a_slow_count() -> None:
    # Pacific Northwest handbook: 26.7 to 30 °C, with dew, rain or sprinkling.
    h = _weather(days=20)
    h = DiseaseHours(h.temp_c + 9, h.humidity_pct, h.rain_mm, h.wet, h.daylight)
    slow = [sum(1 for i in range(24 * d, 24 * d + 24) if h.wet[i] and 26.7 <= h.temp_c[i] <= 30) for d in range(20)]
    assert max(slow) > 0
    assert black_rot_days(h).tolist() == slow


def test_warm_nights_favour_bacterial_spot_and_cool_ones_hold_it_down_by_a_slow_count() -> None:
    # Alabama: nights of 24 to 28 °C favour it, below 16 °C hold it down. The night before each noon.
    h = _weather(days=20)
    clock = np.arange(480) % 24
    light = 1.0 * ((clock >= 6) & (clock < 20))
    h = DiseaseHours(h.temp_c + 12, h.humidity_pct, h.rain_mm, h.wet, light)
    slow = []
    for d in range(20):
        dark = [h.temp_c[i] for i in range(24 * d - 12, 24 * d + 12) if i >= 0 and not light[i]]
        mean = sum(dark) / len(dark)
        slow.append(2 if 24 <= mean <= 28 else 0 if mean < 16 else 1)
    assert {0, 1, 2} >= set(slow)
    assert 2 in slow
    assert bacterial_spot_night_days(h).tolist() == slow
    assert set(bacterial_spot_night_days(DiseaseHours(h.temp_c - 30, h.humidity_pct, h.rain_mm, h.wet, light))) == {0}
