"""Every disease model on hours, day by day: the value that it gives the day, in the paper's own measure.

Nothing here is an index of ours: each column is what one paper counts. Hours begin at midnight where the garden is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

import numpy as np

from kailyard.science import disease_models_downy as downy
from kailyard.science import disease_models_fruit as fruit
from kailyard.science import disease_models_late_blight as late_blight
from kailyard.science import disease_models_leaves as leaves
from kailyard.science import disease_models_mildew as mildew
from kailyard.science import disease_models_soil as splashed
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.disease_hours import (
    DAY,
    BoolArray,
    Spell,
    by_days,
    days_unknown,
    longest_run,
    spell_so_far,
    spells_ending,
    wet_days,
    with_spell_before,
)

HUMID_PCT = 90.0
"""Limit of a humid hour in the late blight rules of Wallin, Smith and Hutton."""
DAWN_H = 6
"""Onion downy mildew: the hours from 02:00 are looked at up to this one, the end of those of its rain as well."""
MORNING_H = 12
"""Onion downy mildew: wet leaves are counted to noon. (ours)"""


@dataclass(frozen=True, eq=False)
class DiseaseHours:
    """Hours of whole days from midnight, all of one shape (..., days × 24); NaN where missing."""

    temp_c: FloatArray
    humidity_pct: FloatArray
    rain_mm: FloatArray
    wet: FloatArray
    """1 where leaves are wet, 0 where dry."""
    daylight: FloatArray
    """1 where it is light, 0 where dark."""

    def __post_init__(self) -> None:
        shapes = {each.shape for each in (self.temp_c, self.humidity_pct, self.rain_mm, self.wet, self.daylight)}
        if len(shapes) != 1 or self.temp_c.ndim == 0 or self.temp_c.shape[-1] % DAY:
            raise InputError("hours: columns of one shape with whole days of 24 hours are needed.")

    @cached_property
    def wet_unknown(self) -> BoolArray:
        """Days of which models of wetness may say nothing."""
        return days_unknown(self.temp_c, self.wet)

    @cached_property
    def humid_unknown(self) -> BoolArray:
        """Days of which models of humidity may say nothing."""
        return days_unknown(self.temp_c, self.humidity_pct)

    @cached_property
    def spell(self) -> Spell:
        """The wet spell at each hour; any dry hour ends it."""
        return spell_so_far(self.temp_c, self.wet)

    @cached_property
    def noon_days(self) -> Spell:
        """Wet hours of the 24 that end at noon, so that a night is not cut in two; the first day has its morning."""
        pad = [(0, 0)] * (self.temp_c.ndim - 1) + [(DAY // 2, 0)]
        temp, wet = (np.pad(x, pad)[..., : x.shape[-1]] for x in (self.temp_c, np.nan_to_num(self.wet)))
        return wet_days(temp, wet)

    @cached_property
    def day_lows(self) -> FloatArray:
        """Lowest temperature of each day."""
        return np.asarray(by_days(self.temp_c).min(axis=-1))


def _told(values: FloatArray, unknown: BoolArray) -> FloatArray:
    return np.asarray(np.where(unknown, np.nan, values))


def _most_of_day(hours: FloatArray) -> FloatArray:
    return np.asarray(by_days(hours).max(axis=-1))


def _by_spell(model: Callable[[FloatArray, FloatArray], FloatArray]) -> Callable[[DiseaseHours], FloatArray]:
    """The most that a model of temperature and wet hours says of any hour of the day."""

    def days(h: DiseaseHours) -> FloatArray:
        wet = h.spell.hours > 0
        out = np.zeros(wet.shape)
        if wet.any():  # only wet hours are asked about: most are dry
            out[wet] = model(h.spell.mean_c[wet], h.spell.hours[wet])
        return _told(_most_of_day(out), h.wet_unknown)

    return days


def early_blight_days(h: DiseaseHours) -> FloatArray:
    """Madden's severity value of the 24 hours that end at noon of each day, 0 to 4."""
    wet = h.noon_days
    return _told(leaves.early_blight_severity(wet.mean_c, wet.hours), h.wet_unknown)


def late_blight_days(h: DiseaseHours) -> FloatArray:
    """Wallin's severity values of the humid spells that end in each day, summed."""
    spells = spells_ending(h.temp_c, 1.0 * (h.humidity_pct >= HUMID_PCT), most_h=25)
    ends = spells.hours > 0
    out = np.zeros(ends.shape)
    out[ends] = late_blight.late_blight_severity(spells.mean_c[ends], spells.hours[ends])
    return _told(by_days(out).sum(axis=-1), h.humid_unknown)


def michigan_late_blight_days(h: DiseaseHours) -> FloatArray:
    """The same from hours above 80 %, as Michigan counts."""
    spells = spells_ending(h.temp_c, 1.0 * (h.humidity_pct > 80), most_h=24)
    ends = spells.hours > 0
    out = np.zeros(ends.shape)
    out[ends] = late_blight.michigan_late_blight_severity(spells.mean_c[ends], spells.hours[ends])
    return _told(by_days(out).sum(axis=-1), h.humid_unknown)


def _humid_days(h: DiseaseHours) -> FloatArray:
    return np.asarray((by_days(h.humidity_pct) >= HUMID_PCT).sum(axis=-1), dtype=np.float64)


def smith_period_days(h: DiseaseHours) -> FloatArray:
    """1 on days that complete a Smith period."""
    return _told(late_blight.smith_days(h.day_lows, _humid_days(h)).period, h.humid_unknown)


def hutton_period_days(h: DiseaseHours) -> FloatArray:
    """1 on days that complete a Hutton period."""
    return _told(late_blight.hutton_days(h.day_lows, _humid_days(h)), h.humid_unknown)


def grape_mildew_days(h: DiseaseHours) -> FloatArray:
    """Index of powdery mildew of grape at the end of each day, from the first day on; leaf wetness plays no part."""
    low, high = mildew.GRAPE_GOOD_C
    good = longest_run(1.0 * ((h.temp_c >= low) & (h.temp_c <= high)))
    hot = (by_days(h.temp_c) >= mildew.GRAPE_HOT_C).sum(axis=-1).astype(np.float64)
    unknown = days_unknown(h.temp_c)
    # A missing day breaks the run of good days; what is said after it begins anew.
    return _told(mildew.grape_mildew_index(np.where(unknown, 0.0, good), np.where(unknown, 0.0, hot)), unknown)


def cucurbit_powdery_mildew_days(h: DiseaseHours) -> FloatArray:
    """Hours of each day in the warmth best for powdery mildew of cucurbits; 0 where heat halts it."""
    suits = mildew.cucurbit_powdery_mildew_warmth(h.temp_c) == 2
    halted = mildew.cucurbit_powdery_mildew_halted(by_days(h.temp_c).max(axis=-1)) > 0
    hours = by_days(1.0 * suits).sum(axis=-1)
    return _told(np.where(halted, 0.0, hours), days_unknown(h.temp_c))


def apple_scab_days(h: DiseaseHours) -> FloatArray:
    """1 on days on which a wet spell has lasted as long as ascospores of apple scab need."""
    spell = spell_so_far(h.temp_c, h.wet, parted_by_h=8, daylight=h.daylight)
    wet = spell.hours > 0
    out = np.zeros(wet.shape)
    out[wet] = spell.hours[wet] >= fruit.apple_scab_hours(spell.mean_c[wet])
    return _told(_most_of_day(out), h.wet_unknown)


def purple_blotch_days(h: DiseaseHours) -> FloatArray:
    """Purple blotch of onion, 0 to 2, one dry break of up to 24 hours bridged."""
    spell = with_spell_before(h.temp_c, h.wet, bridged_h=24)
    return _told(_most_of_day(leaves.purple_blotch_infection(spell.mean_c, spell.hours)), h.wet_unknown)


def asparagus_rust_days(h: DiseaseHours) -> FloatArray:
    """1 on days on which rust may have infected asparagus fern; the rain is that of the day."""
    rain = np.repeat(by_days(h.rain_mm).sum(axis=-1), DAY, axis=-1)
    hours = leaves.asparagus_rust_infection(h.spell.mean_c, wet_h=h.spell.hours, rain_mm=rain)
    return _told(_most_of_day(hours), h.wet_unknown | days_unknown(h.rain_mm))


def onion_downy_mildew_days(h: DiseaseHours) -> FloatArray:
    """Infections by downy mildew of onion in each morning, 0 to 2, by the night before it."""
    temp, humid, rain = by_days(h.temp_c), by_days(h.humidity_pct), by_days(h.rain_mm)
    wet = by_days(np.nan_to_num(h.wet))
    night = slice(2, DAWN_H)
    day_before = np.concatenate([np.full((*temp.shape[:-2], 1), 99.0), temp.max(axis=-1)[..., :-1]], axis=-1)
    first_unknown = np.zeros(temp.shape[:-1], dtype=bool)
    first_unknown[..., 0] = True
    unknown = h.wet_unknown | h.humid_unknown | days_unknown(h.rain_mm)
    unknown = unknown | first_unknown | np.concatenate([first_unknown[..., :1], unknown[..., :-1]], axis=-1)
    morning = slice(DAWN_H, MORNING_H)
    wet_h = wet[..., morning].sum(axis=-1)
    warmth = np.where(wet[..., morning] > 0, temp[..., morning], 0.0).sum(axis=-1)
    found = downy.onion_downy_mildew(
        day_max_c=np.minimum(day_before, 60),
        night_rh_pct=humid[..., night].min(axis=-1),
        night_c=temp[..., night].mean(axis=-1),
        night_rain_mm=rain[..., :DAWN_H].sum(axis=-1),
        # Air at 95 % is damp, not a film: only measured wetness could tell, and estimated wetness is humidity again.
        film=np.zeros(wet_h.shape),
        morning_c=np.where(wet_h > 0, warmth / np.maximum(wet_h, 1), 0.0),
        morning_wet_h=wet_h,
    )
    return _told(found.infection, unknown)


def black_rot_days(h: DiseaseHours) -> FloatArray:
    """Hours of each day with wet leaves in the warmth that suits black rot of the cabbage family best."""
    hours = splashed.black_rot_favoured(h.temp_c, 1.0 * (h.wet > 0))
    return _told(by_days(np.nan_to_num(hours)).sum(axis=-1), h.wet_unknown)


def bacterial_spot_night_days(h: DiseaseHours) -> FloatArray:
    """What the dark hours before each noon were to bacterial spot of tomato and pepper, 0 to 2."""
    pad = [(0, 0)] * (h.temp_c.ndim - 1) + [(DAY // 2, 0)]
    dark = np.pad(1.0 * (h.daylight <= 0), pad)[..., : h.temp_c.shape[-1]]
    temp = np.pad(np.nan_to_num(h.temp_c), pad)[..., : h.temp_c.shape[-1]]
    hours = by_days(dark).sum(axis=-1)
    mean = by_days(dark * temp).sum(axis=-1) / np.maximum(hours, 1)
    found = np.where(hours > 0, splashed.bacterial_spot_nights(mean), 1.0)
    return _told(found, days_unknown(h.temp_c))


DISEASE_DAYS: Mapping[str, Callable[[DiseaseHours], FloatArray]] = MappingProxyType(
    {
        "early_blight_daily_severity": early_blight_days,
        "carrot_severity_sum": early_blight_days,
        "late_blight_severity_rh90": late_blight_days,
        "late_blight_severity_rh80_michigan": michigan_late_blight_days,
        "late_blight_smith_period": smith_period_days,
        "late_blight_hutton": hutton_period_days,
        "grape_powdery_mildew_index": grape_mildew_days,
        "cucurbit_powdery_mildew_facts": cucurbit_powdery_mildew_days,
        "cucurbit_downy_mildew_infection": _by_spell(downy.cucurbit_downy_mildew_infection),
        "apple_scab_revised": apple_scab_days,
        "apple_scab_mills": _by_spell(fruit.mills_scab_infection),
        "cedar_apple_rust": _by_spell(fruit.cedar_apple_rust_infection),
        "strawberry_botrytis": _by_spell(fruit.strawberry_botrytis_share),
        "strawberry_leather_rot": _by_spell(fruit.leather_rot_infection),
        "onion_downy_mildew": onion_downy_mildew_days,
        "onion_purple_blotch": purple_blotch_days,
        "onion_botrytis_leaf_spot": _by_spell(lambda temp, wet: leaves.onion_leaf_spot_infection(wet) + 0 * temp),
        "asparagus_purple_spot": early_blight_days,
        "asparagus_rust": asparagus_rust_days,
        "rose_black_spot": _by_spell(leaves.rose_black_spot_infection),
        "bacterial_spot_nights": bacterial_spot_night_days,
        "black_rot_brassica": black_rot_days,
        "bacterial_spot_tomato": _by_spell(leaves.bacterial_spot_severity),
        "carrot_alternaria_leaf_blight": _by_spell(leaves.carrot_leaf_blight_severity),
        "grape_black_rot": _by_spell(fruit.grape_black_rot_infection),
    }
)
"""By the model's id: hours in, one value a day out. What is not to be used (anthracnose of strawberry) is left out."""


def daily_rain_added(h: DiseaseHours) -> DiseaseHours:
    """The same hours with leaves wet wherever rain fell: humidity alone does not know of a shower."""
    return replace(h, wet=np.where(h.rain_mm > 0, 1.0, h.wet))
