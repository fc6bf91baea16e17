"""Risk of diseases from the weather: published rules as odds, day by day; where there is none, conditions in words.

Leaf wetness never feeds the risk of powdery mildew. No index is invented for anything.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from datetime import timedelta
from functools import partial
from typing import TypeVar, cast

import numpy as np

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.documents.risk import Conditions, DayRisk, Known, Risk, RuleRisk
from kailyard.handbook.diseases import Disease, RiskModel, diseases, risk_models
from kailyard.handbook.looks import look_on
from kailyard.handbook.troubles import LISTED, crop_words, host_weight, trouble
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.disease_days import DISEASE_DAYS
from kailyard.season.reasons import plain_day
from kailyard.season.view import SeasonView
from kailyard.troubles.hours_made import KeptHours, MadeHours, made_hours
from kailyard.troubles.risk_groups import Group, Host, groups, hosts
from kailyard.troubles.scouting import STAGES, host_stage
from kailyard.troubles.soil_days import SOIL_DAYS
from kailyard.units import Units, in_running_text
from kailyard.weather.known_hours import FORECAST, OBSERVED, UNKNOWN

_Made = TypeVar("_Made")

BACK_DAYS, AHEAD_DAYS = 7, 14
"""Days that are told: a week back, for what was caught then shows now, and two weeks ahead."""
FAVOURED = 1 / 3
"""Chance on one day from which the weather speaks for looking."""
WEEK = 7
"""Days of which the odds are told together."""
LONGEST_SUM_DAYS = 200
"""Sums reach back no farther."""

CAUTION = (
    "These rules say when weather favours a disease where its spores are about, not that they are: look at the plants. "
    "The label, local rules and whoever forecasts for your district stand above them; in doubt send a sample to a "
    "diagnostic laboratory or ask the local extension office."
)
SOIL = (
    "The ground is reckoned from days, as if nothing were watered: a bed that is watered is wetter, one under a roof "
    "drier."
)
WETNESS = (
    "Wet leaves are estimated: hours with a humidity of 87 to 93 % and more, and hours with rain. Hours made from days "
    "are rough: their humidity is that of nights whose low is the dew point or a little above it. Read a file of hours "
    "or fetch a forecast by the hour for better odds."
)


def risk(view: SeasonView, kept: KeptHours | None = None) -> Risk:
    """What the weather of the last and the coming days means for what stands in the beds today.

    Parameters
    ----------
    kept
        Hours as they are kept, observed and forecast; None where there are none: all are made from days then.
    """
    standing = hosts(view)
    rules, notes = rules_told(view, standing, kept)
    covered = {name for rule in rules for name in rule.troubles}
    return Risk(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        rules=rules,
        conditions=_conditions(view, standing, covered, view.garden.units),
        notes=notes,
    )


def rules_told(
    view: SeasonView, standing: Iterable[Host], kept: KeptHours | None = None
) -> tuple[tuple[RuleRisk, ...], tuple[str, ...]]:
    """The published rules of what stands, the likeliest first, and what must be said beside them."""
    wanted = {model.id: found for model in risk_models().values() if (found := groups(view, model, standing))}
    if not wanted:
        return (), ()
    try:
        return _rules(view, kept, wanted), (WETNESS, CAUTION)
    except InputError as err:
        return (), (f"No rule can be reckoned here: {err}", WETNESS, CAUTION)


def _rules(view: SeasonView, kept: KeptHours | None, wanted: Mapping[str, tuple[Group, ...]]) -> tuple[RuleRisk, ...]:
    ensemble, today = view.ensemble, view.today
    back = BACK_DAYS + 1
    if begins := [group.since for found in wanted.values() for group in found if group.since is not None]:
        back = max(back, min((today - min(begins)).days, LONGEST_SUM_DAYS))
    first = max(ensemble.first, today - timedelta(days=back))
    horizon = ensemble.first + timedelta(days=ensemble.tmin_c.shape[1] - 1)
    last = min(today + timedelta(days=AHEAD_DAYS), horizon)
    latitude = view.garden.site.latitude

    def once(what: Hashable, make: Callable[[], _Made]) -> _Made:
        """Hours made from days hang on the weather alone: they are made once, whatever is entered."""
        return make() if kept is not None else view.clocks.keep(("disease", what, first, last, latitude), make)

    made = once("hours", lambda: made_hours(ensemble, first, last, latitude=latitude, kept=kept))
    out = []
    for id_, found in wanted.items():
        model, soil = risk_models()[id_], SOIL_DAYS.get(id_)
        values = once(
            id_, partial(DISEASE_DAYS[id_], made.hours) if soil is None else partial(soil, view, first, made.days)
        )
        if model.needs_hours:
            values = np.where(np.isin(made.states, (OBSERVED, FORECAST)), values, np.nan)
        for group in found:
            told = partial(_rule, view, model, group, made, values, of_soil=soil is not None)
            whose = tuple((host.life.planting.id, host.says) for host in group.hosts)
            done = group.done and (group.done.entry, group.done.day, group.done.says)
            out.append(once(("rule", id_, group.since, group.level, done, whose), told))
    return tuple(sorted(out, key=lambda rule: (-(rule.coming_week or 0.0), rule.name, rule.of)))


def favoured(found: Risk) -> Mapping[str, str]:
    """By trouble, in a few words, on which day of the past and the coming week the weather favours it most.

    Only from one chance in three on: weather that is usual is no reason to look harder.
    """
    out: dict[str, tuple[float, str]] = {}
    for rule in found.rules:
        near = [d for d in rule.days if abs((d.day - found.on).days) <= BACK_DAYS]
        most = max(near, key=lambda d: d.chance, default=None)
        if most is None or most.chance < FAVOURED:
            continue
        of_ten = round(10 * most.chance)
        says = f"weather for it, {of_ten} in 10 on {plain_day(most.day)}" if of_ten < 10 else "weather for it"
        for slug in rule.troubles:
            id_ = slug.replace("-", "_")
            if id_ not in out or most.chance > out[id_][0]:
                out[id_] = (most.chance, says)
    return {id_: says for id_, (_, says) in out.items()}


def _rule(
    view: SeasonView, model: RiskModel, group: Group, made: MadeHours, values: FloatArray, *, of_soil: bool
) -> RuleRisk:
    total = None
    today = (view.today - made.first).days
    if group.since is not None and not np.isnan(values).all():  # where no hour is known no sum is told
        start = max((group.since - made.first).days, 0)
        counted = np.where(np.arange(made.days) < start, 0.0, np.nan_to_num(values))
        known = ~np.isnan(values)
        values = np.where(known, np.cumsum(counted, axis=-1), np.nan)
        total = float(np.median(counted[:, :today].sum(axis=-1))) if today else 0.0
    says = model.says.format(level=f"{group.level:g}")
    grounds = [
        Reason(
            f"{model.name[0].upper()}{model.name[1:]}: {says}.",
            rests_on=RestsOn(cast(Status, model.status), model.source, "docs/validation.md"),
        )
    ]
    if group.done is not None:
        said = f"{group.done.says}, {plain_day(group.done.day)}: the sum begins anew."
        grounds.append(Reason(said, rests_on=RestsOn("observed", "daybook", group.done.entry)))
    ground = RestsOn("computed", "Sentelhas et al. 2008; FAO-56", "eq. 48")
    if of_soil:
        ground = RestsOn("computed", "FAO-56, eq. 52; Kätterer and Andrén 2009", "docs/validation.md")
    return RuleRisk(
        model=model.id,
        name=model.name,
        troubles=tuple(trouble(each).slug for each in model.troubles),
        of=tuple(host.says for host in group.hosts),
        plantings=tuple(host.life.planting.id for host in group.hosts),
        says=says,
        days=_days(view, made, values, group.level, of_soil=of_soil),
        past_week=_on_any(values[:, max(today - WEEK, 0) : today], group.level),
        coming_week=_on_any(values[:, today : today + WEEK], group.level),
        later=_on_any(values[:, today + WEEK :], group.level),
        sum_so_far=total,
        since=group.since,
        after=group.done.says if group.done else "",
        level=group.level,
        status=cast(Status, model.status),
        source=model.source,
        note=model.note,
        reasons=(*grounds, Reason(SOIL if of_soil else WETNESS, rests_on=ground)),
    )


def _on_any(values: FloatArray, level: float) -> float | None:
    """Chance that the level is reached on any of some days, season by season; None where no day is told."""
    told = ~np.isnan(values)
    if not told.any():
        return None
    return float(np.mean((told & (np.nan_to_num(values) >= level)).any(axis=-1)))


def _days(view: SeasonView, made: MadeHours, values: FloatArray, level: float, *, of_soil: bool) -> tuple[DayRisk, ...]:
    out = []
    today = view.today.toordinal() - made.first.toordinal()
    for i in range(max(0, today - BACK_DAYS), made.days):
        of_day = values[:, i]
        told = of_day[~np.isnan(of_day)]
        if told.size:
            day = made.first + timedelta(days=i)
            out.append(DayRisk(day, float(np.mean(told >= level)), _known(made, i, i - today, view, of_soil=of_soil)))
    return tuple(out)


def _known(made: MadeHours, i: int, ahead: int, view: SeasonView, *, of_soil: bool) -> Known:
    state = UNKNOWN if of_soil else made.states[i]
    if state == OBSERVED:
        return "observed"
    if state == FORECAST:
        return "forecast by the hour"
    if ahead < 0:
        return "made from days"
    return "forecast by the day" if ahead < view.ensemble.forecast_days else "usual for the date"


def _of_its_stage(view: SeasonView, host: Host, disease: str) -> bool:
    """Whether the stages in which it is met are not all past: nothing damps off in its second month."""
    look = look_on(disease, crop_words(host.life.planting.crop))
    if look is None or not look.host_stages:
        return True
    now = STAGES.index(host_stage(view, host.life))
    return any(STAGES.index(stage) >= now for stage in look.host_stages)


def _conditions(view: SeasonView, standing: Iterable[Host], covered: set[str], units: Units) -> tuple[Conditions, ...]:
    out = []
    for disease in diseases().values():
        one = trouble(disease.id)
        if one.slug in covered or (one.cause and trouble(one.cause).slug in covered):
            continue
        of = tuple(
            dict.fromkeys(
                view.plants(h.life.planting)
                for h in standing
                if host_weight(one, h.life.planting.crop) >= LISTED and _of_its_stage(view, h, disease.id)
            )
        )
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


def _plain_words(moisture: str) -> str:
    """What the table says of moisture, as a gardener says it."""
    return moisture.replace("free water", "water on the leaves").replace("RH ", "humidity ")


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
    elif disease.moisture_need not in ("", "none", "soil"):
        parts.append(_plain_words(disease.moisture_need))
    if disease.spread:
        parts.append(f"spreads by {disease.spread}")
    return "; ".join(parts) if parts else "no weather is known to favour it"
