"""Risk of diseases from the weather: published rules as odds, day by day; where there is none, conditions in words.

Leaf wetness never feeds the risk of powdery mildew. No index is invented for anything.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import cast

import numpy as np

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.documents.risk import Conditions, DayRisk, Known, Risk, RuleRisk
from kailyard.handbook.diseases import Disease, RiskModel, diseases, risk_models, speaks_of
from kailyard.handbook.troubles import LISTED, crop_words, host_weight, trouble
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.disease_days import DISEASE_DAYS
from kailyard.season.life import Life
from kailyard.season.view import SeasonView
from kailyard.troubles.hours_made import KeptHours, MadeHours, made_hours
from kailyard.troubles.standing import here
from kailyard.units import Units, in_running_text
from kailyard.weather.known_hours import FORECAST, OBSERVED

BACK_DAYS, AHEAD_DAYS = 7, 14
"""Days that are told: a week back, for what was caught then shows now, and two weeks ahead."""
LONGEST_SUM_DAYS = 200
"""Sums reach back no farther."""
POTATO_TOTAL = 20.0
"""Early blight on potato acts at 20 (NIBIO), on tomato first at 35."""

CAUTION = (
    "These rules say when weather favours a disease where its spores are about, not that they are: look at the plants. "
    "The label, local rules and whoever forecasts for your district stand above them; in doubt send a sample to a "
    "diagnostic laboratory or ask the local extension office."
)
WETNESS = (
    "Wet leaves are estimated: hours with a humidity of 87 to 93 % and more, and hours with rain. Hours made from days "
    "are rough: their humidity is that of nights whose low is the dew point or a little above it. Read a file of hours "
    "or fetch a forecast by the hour for better odds."
)


@dataclass(frozen=True, slots=True)
class _Host:
    """What stands of one crop."""

    life: Life
    says: str


def risk(view: SeasonView, kept: KeptHours | None = None) -> Risk:
    """What the weather of the last and the coming days means for what stands in the beds today.

    Parameters
    ----------
    kept
        Hours as they are kept, observed and forecast; None where there are none: all are made from days then.
    """
    hosts = [_Host(life, _named(view, life)) for life in view.lives.values() if here(view, life)]
    wanted = {
        model.id: found
        for model in risk_models().values()
        if (found := [h for h in hosts if speaks_of(model, crop_words(h.life.planting.crop))])
    }
    notes: list[str] = []
    rules: tuple[RuleRisk, ...] = ()
    if wanted:
        try:
            rules = _rules(view, kept, wanted)
        except InputError as err:
            notes.append(f"No rule can be reckoned here: {err}")
        notes += [WETNESS, CAUTION]
    covered = {name for rule in rules for name in rule.troubles}
    return Risk(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        rules=rules,
        conditions=_conditions(hosts, covered, view.garden.units),
        notes=tuple(notes),
    )


def _named(view: SeasonView, life: Life) -> str:
    return f"{view.with_cultivar(life.planting)}, {view.where(life.planting)}"


def _rules(view: SeasonView, kept: KeptHours | None, wanted: Mapping[str, list[_Host]]) -> tuple[RuleRisk, ...]:
    ensemble, today = view.ensemble, view.today
    models = risk_models()
    back = BACK_DAYS + 1
    if any(models[id_].sums for id_ in wanted):
        since = min(_since(view, h) for id_, found in wanted.items() if models[id_].sums for h in found)
        back = max(back, min((today - since).days, LONGEST_SUM_DAYS))
    first = max(ensemble.first, today - timedelta(days=back))
    horizon = ensemble.first + timedelta(days=ensemble.tmin_c.shape[1] - 1)
    last = min(today + timedelta(days=AHEAD_DAYS), horizon)
    made = made_hours(ensemble, first, last, latitude=view.garden.site.latitude, kept=kept)
    out = [_rule(view, models[id_], found, made) for id_, found in wanted.items()]
    return tuple(sorted(out, key=lambda rule: (-_coming(rule, today), rule.name)))


def _coming(rule: RuleRisk, today: date) -> float:
    return max((d.chance for d in rule.days if today <= d.day < today + timedelta(days=7)), default=0.0)


def _since(view: SeasonView, host: _Host) -> date:
    """The day from which a sum counts: setting out or coming up, else what stands since this year's beginning."""
    life = host.life
    begun = date.fromordinal(int(np.median(life.begun)))
    up = life.stage("emerged")
    if up is not None and (day := up.quantile(0.5)) is not None:
        begun = day
    return max(begun, date(view.today.year, 1, 1))


def _rule(view: SeasonView, model: RiskModel, hosts: list[_Host], made: MadeHours) -> RuleRisk:
    values = DISEASE_DAYS[model.id](made.hours)
    level, total = model.level, None
    if model.id == "early_blight_daily_severity" and all(
        "potato" in crop_words(h.life.planting.crop).words for h in hosts
    ):
        level = POTATO_TOTAL
    today = (view.today - made.first).days
    if model.sums:
        since = min(_since(view, h) for h in hosts)
        start = max((since - made.first).days, 0)
        counted = np.where(np.arange(made.days) < start, 0.0, np.nan_to_num(values))
        values = np.cumsum(counted, axis=-1)
        total = float(np.median(values[:, today - 1])) if today else 0.0
    return RuleRisk(
        model=model.id,
        name=model.name,
        troubles=tuple(trouble(each).slug for each in model.troubles),
        of=tuple(h.says for h in hosts),
        says=model.says if level == model.level else model.says.replace(f"{model.level:g}", f"{level:g}"),
        days=_days(view, made, values, level),
        sum_so_far=total,
        level=level,
        status=cast(Status, model.status),
        source=model.source,
        note=model.note,
        reasons=(
            Reason(
                f"{model.name[0].upper()}{model.name[1:]}: {model.says}.",
                rests_on=RestsOn(cast(Status, model.status), model.source, "docs/validation.md"),
            ),
            Reason(WETNESS, rests_on=RestsOn("computed", "Sentelhas et al. 2008; FAO-56", "eq. 48")),
        ),
    )


def _days(view: SeasonView, made: MadeHours, values: FloatArray, level: float) -> tuple[DayRisk, ...]:
    out = []
    today = view.today.toordinal() - made.first.toordinal()
    for i in range(max(0, today - BACK_DAYS), made.days):
        of_day = values[:, i]
        told = of_day[~np.isnan(of_day)]
        if told.size:
            day = made.first + timedelta(days=i)
            out.append(DayRisk(day, float(np.mean(told >= level)), _known(made, i, i - today, view)))
    return tuple(out)


def _known(made: MadeHours, i: int, ahead: int, view: SeasonView) -> Known:
    state = made.states[i]
    if state == OBSERVED:
        return "observed"
    if state == FORECAST:
        return "forecast by the hour"
    if ahead < 0:
        return "made from days"
    return "forecast by the day" if ahead < view.ensemble.forecast_days else "usual for the date"


def _conditions(hosts: Iterable[_Host], covered: set[str], units: Units) -> tuple[Conditions, ...]:
    out = []
    for disease in diseases().values():
        one = trouble(disease.id)
        if one.slug in covered or (one.cause and trouble(one.cause).slug in covered):
            continue
        of = tuple(h.says for h in hosts if host_weight(one, h.life.planting.crop) >= LISTED)
        if of:
            out.append(
                Conditions(
                    trouble=one.slug,
                    name=disease.name,
                    of=of,
                    says=in_running_text(conditions_words(disease), units),
                    look=disease.first_seen_where,
                    status="memory" if disease.facts_status == "memory" else "common practice",
                    source=disease.facts_source,
                )
            )
    return tuple(out)


def conditions_words(disease: Disease) -> str:
    """What favours a disease, in words; marked common practice, for it is no rule that was tried on gardens."""
    parts = []
    if disease.temp_best_low_c is not None and disease.temp_best_high_c is not None:
        recalled = "" if disease.temp_status.startswith("published") else " (from memory)"
        parts.append(f"best at {disease.temp_best_low_c:g} to {disease.temp_best_high_c:g} °C{recalled}")
    if "powdery mildew" in disease.name:
        parts.append("needs no free water, and rain on the leaves hinders it")
        if disease.temp_max_c is not None:
            parts.append(f"a day of {disease.temp_max_c:g} °C and more halts it")
    elif disease.moisture_need:
        parts.append(disease.moisture_need)
    if disease.spread:
        parts.append(f"spreads by {disease.spread}")
    return "; ".join(parts) if parts else "no weather is known to favour it"
