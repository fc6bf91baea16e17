"""What stands, put together by rule: what shares a level and a beginning shares a sum."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.garden.model import Entry
from kailyard.handbook.diseases import RiskModel, speaks_of
from kailyard.handbook.troubles import crop_words, trouble
from kailyard.season.life import Life
from kailyard.season.view import SeasonView
from kailyard.troubles.label import Record, Treatment, against, records, treatments
from kailyard.troubles.standing import here


@dataclass(frozen=True, slots=True)
class Host:
    """One planting that stands there."""

    life: Life
    says: str
    """'tomatoes ‘Lanthorn Red’, bed 1'."""


@dataclass(frozen=True, slots=True)
class Group:
    """What one rule says the same of."""

    hosts: tuple[Host, ...]
    level: float
    since: date | None
    """First day of the sum; None where the rule adds nothing up."""
    done: Treatment | None
    """After what the sum began anew; None where it runs from the plants' own beginning."""


def hosts(view: SeasonView) -> tuple[Host, ...]:
    """Everything that stands today."""
    return tuple(Host(life, _named(view, life)) for life in view.lives.values() if here(view, life))


def _named(view: SeasonView, life: Life) -> str:
    return f"{view.with_cultivar(life.planting)}, {view.where(life.planting)}"


def groups(view: SeasonView, model: RiskModel, standing: Iterable[Host]) -> tuple[Group, ...]:
    """The plantings that a rule speaks of, apart where the level or the beginning of its sum is another."""
    known = records(view.garden.entries, removed=True) if model.level_after is not None else {}
    if model.only_found and not _found(view, model):
        return ()
    parted: dict[tuple[float, date | None, str], tuple[list[Host], Treatment | None]] = {}
    for host in standing:
        words = crop_words(host.life.planting.crop)
        if not speaks_of(model, words):
            continue
        level = min((v for crop, v in model.crop_levels.items() if crop in words.words), default=model.level)
        since = _since(view, host, model) if model.sums else None
        done = _done(view, host, model, known, since)
        if done is not None and model.level_after is not None:
            level, since = min(level, model.level_after), done.day
        key = (level, since, done.entry if done else "")
        parted.setdefault(key, ([], done))[0].append(host)
    return tuple(
        Group(tuple(of), level, since, done)
        for (level, since, _), (of, done) in sorted(
            parted.items(), key=lambda each: (each[0][1] or date.min, each[0][0], each[0][2])
        )
    )


def _found(view: SeasonView, model: RiskModel) -> bool:
    return any(_named_in(e, model) for e in view.garden.entries if e.kind == "found" and e.happened <= view.today)


def _named_in(entry: Entry, model: RiskModel) -> bool:
    return str(entry.payload.get("trouble", "")).replace("-", "_") in model.troubles


def _since(view: SeasonView, host: Host, model: RiskModel) -> date:
    """The day from which a sum counts: setting out or coming up; of what stands longer, this year's beginning."""
    life = host.life
    begun = date.fromordinal(int(np.median(life.begun)))
    up = life.stage("emerged")
    if up is not None and (day := up.quantile(0.5)) is not None and day <= view.today:
        begun = day  # of what comes again each year it may be that of the next
    if model.begins == "after picking":
        picks = [e.happened for e in life.sightings.of("pick") if e.happened.year == view.today.year]
        begun = max([begun, *picks])
    return max(begun, date(view.today.year, 1, 1))


def _done(
    view: SeasonView, host: Host, model: RiskModel, known: Mapping[str, Record], since: date | None
) -> Treatment | None:
    """The last treatment against it since the plants' own beginning; one of which nobody said against what is none."""
    if model.level_after is None or since is None:
        return None
    planting = host.life.planting
    entries = [e for target in (planting.id, planting.bed) for e in view.garden.entries_of(target)]
    mine = [
        t
        for t in treatments(entries, (planting.id, planting.bed), known, until=view.today)
        if t.day >= since and _against(t, model)
    ]
    return mine[-1] if mine else None


def _against(t: Treatment, model: RiskModel) -> bool:
    if t.trouble:
        return t.trouble.replace("-", "_") in model.troubles
    return t.record is not None and any(against(t.record.label, trouble(id_).slug) for id_ in model.troubles)
