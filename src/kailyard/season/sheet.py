"""The sheet: what all kinds of work say, put in order and cut to one side of paper."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.documents.sheet import Line, NextLine, Sheet, WeatherDay, WorkLine
from kailyard.season.answers import answers
from kailyard.season.changes import changes
from kailyard.season.measures import day_words, odds_words, share_words
from kailyard.season.odds import Odds
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.season.visits import Plan, planned
from kailyard.season.windows import Answer, Danger, Hold, Look, Rest, Said, Window

MOST_WORK = 10
MOST_OF_A_KIND = 3
MOST_TENDING = 4
MOST_LOOKS, MOST_LOOKS_OF_A_KIND = 4, 2
MOST_RESTS, MOST_RESTS_OF_A_KIND = 3, 2
MOST_NEXT = 6
MOST_NEXT_OF_A_KIND, MOST_NEXT_PICKS = 2, 4
MOST_CHANGED = 3

OPEN_ENOUGH = 0.3
"""Chance of being open on some day of the sheet from which work is asked for."""

LITTLE = 0.03
"""Loss by waiting below which a line says that little is lost."""

SOON = 0.12
"""Loss by waiting from which a line is marked."""

DRAWN_BEFORE_DAYS, DRAWN_DAYS = 3, 35
"""Windows are drawn from so long before the sheet's first day, over so many days."""

AHEAD_DAYS = 70
"""What comes next looks so far."""

PRESSING = ("pick/", "take-out/")
"""Names of what is done first: what is ripe, and sick plants that go before their neighbours are sick."""

CAUTIONS = (
    "A product's label is the law and stands above this sheet; local rules and licensed practice come first.",
    "When in doubt about a sick plant, send a sample to a diagnostic laboratory or ask the local extension office.",
)


@dataclass(frozen=True, slots=True)
class _Ranked:
    window: Window
    regret: float
    open_: float


def compose(
    view: SeasonView,
    *,
    days: int = 7,
    as_known: date | None = None,
    said: tuple[Answer, ...] | None = None,
    whole: bool = False,
) -> Sheet:
    """The sheet of `days` days from the view's day on; of `said` alone, where that is given, not of all work.

    `whole`: every line to do, to look at and to leave alone, not what one side of paper holds.
    """
    first, last = view.today, view.today + timedelta(days=days - 1)
    decided = _decided(view)
    said = tuple(
        a for a in (answers(view) if said is None else said) if not (isinstance(a, Window | Look) and a.name in decided)
    )
    plan = planned(view, first, last)
    holds = [a for a in said if isinstance(a, Hold)]
    # A line that a hold forbids is not said: neither the work nor the word that some may be given away.
    said = tuple(a for a in said if not (isinstance(a, Window | Rest) and any(h.bars(a, first, last) for h in holds)))
    windows = [a for a in said if isinstance(a, Window)]
    ranked = [_rank(w, first, last, plan) for w in windows]
    now = sorted(_joined([r for r in ranked if _asked(r)]), key=_order)
    later = [r.window for r in ranked if not _asked(r)]
    shown = now if whole else _of_all_kinds(now)[:MOST_WORK]
    dangers = [a for a in said if isinstance(a, Danger)]
    endangered = {day for danger in dangers for day in danger.days}
    looks, rest = _by_urgency(said, Look), _by_urgency(said, Rest)
    work = tuple(
        _work_line(r, first, days, left_out=not fits)
        for r, fits in zip(shown, plan.fits(0.0 if r.window.at_home else r.window.minutes for r in shown), strict=True)
    )
    return Sheet(
        garden=view.garden.name,
        number=first.isocalendar().week,
        first=first,
        last=last,
        as_known=as_known,
        units=view.garden.units,
        weather=tuple(_weather(view, n, endangered) for n in range(days)),
        holds=tuple(_line(h) for h in holds),
        near=tuple(_line(d, plan.nobody_before(d.days)) for d in dangers),
        work=work,
        more_work=len(now) - len(shown),
        look=tuple(_line(k) for k in (looks if whole else _few(looks, MOST_LOOKS, MOST_LOOKS_OF_A_KIND))),
        leave=tuple(_line(r) for r in (rest if whole else _few(rest, MOST_RESTS, MOST_RESTS_OF_A_KIND))),
        changed=changes(view)[:MOST_CHANGED],
        next=_next(view, later, last),
        minutes=round(sum(line.minutes for line in work)),
        rests=rests(view),
        cautions=CAUTIONS,
        visits=plan.visits,
        time=plan.minutes,
    )


def _rank(window: Window, first: date, last: date, plan: Plan) -> _Ranked:
    """Loss at the next visit, a week from the first day where none is planned, less that on the best day before."""
    if int(window.opens.min()) > plan.after.toordinal():
        return _Ranked(window, 0.0, 0.0)  # it opens later in every sample: nothing is lost by waiting
    open_ = max(window.open_chances(first, last))
    costly = window.shuts if window.due is None else window.due
    if int(costly.min()) >= plan.after.toordinal():
        return _Ranked(window, 0.0, open_)  # waiting costs nothing yet
    # Once it is open in every sample waiting costs more day by day, and the best day is the first.
    days = plan.here[:1] if int(window.opens.max()) <= plan.here[0].toordinal() else plan.here
    best = min(window.expected_loss(day) for day in days)
    return _Ranked(window, max(window.expected_loss(plan.after) - best, 0.0), open_)


def _asked(r: _Ranked) -> bool:
    return r.open_ >= OPEN_ENOUGH or r.window.late or r.regret >= SOON


def _joined(asked: list[_Ranked]) -> list[_Ranked]:
    """The same work on several plantings of one bed is one line, under the first name, with their minutes together."""
    groups: dict[tuple[str, str, str, bool], list[_Ranked]] = {}
    for r in sorted(asked, key=lambda r: r.window.name):
        w = r.window
        groups.setdefault((w.name.split("/")[0], w.says, w.where, w.late), []).append(r)
    return [_one_line(group) for group in groups.values()]


def _one_line(group: list[_Ranked]) -> _Ranked:
    first = group[0]
    if len(group) == 1:
        return first
    others = tuple(Reason(f"The line speaks of {r.window.name} too.", because=(*r.window.reasons,)) for r in group[1:])
    window = replace(
        first.window,
        minutes=sum(r.window.minutes for r in group),
        worth=sum(r.window.worth for r in group),
        reasons=(*first.window.reasons, *others),
        of=tuple(r.window.name.split("/")[1] for r in group),
    )
    return _Ranked(window, max(r.regret for r in group), max(r.open_ for r in group))


def _order(r: _Ranked) -> tuple[bool, float, float, str]:
    pressing = r.window.name.startswith(PRESSING) and r.regret >= LITTLE and r.open_ >= 0.5
    return (not pressing, -round(r.regret * r.window.worth, 6), -round(r.open_, 6), r.window.name)


def _of_all_kinds(ordered: list[_Ranked]) -> list[_Ranked]:
    """Few lines of one kind and few of tending, so that ten beds to weed do not hide the trellis or the sowing.

    What is ripe is never left out.
    """
    kinds: dict[str, int] = {}
    tended, out = 0, []
    for r in ordered:
        kind = r.window.name.split("/")[0]
        kinds[kind] = kinds.get(kind, 0) + 1
        tended += r.window.tending
        room = kinds[kind] <= MOST_OF_A_KIND and not (r.window.tending and tended > MOST_TENDING)
        if room or r.window.name.startswith(PRESSING):
            out.append(r)
    return out


def _line(said: Said, more: str = "") -> Line:
    detail = f"{said.detail} {more}" if more else said.detail
    return Line(said.name, said.says, said.where, detail, said.reasons, of=said.of)


def _work_line(r: _Ranked, first: date, days: int, *, left_out: bool) -> WorkLine:
    w, start = r.window, first - timedelta(days=DRAWN_BEFORE_DAYS)
    if r.regret < LITTLE:
        lost = "waiting a week costs little" if days == 7 else "waiting costs little"
    else:
        lost = f"wait, and {share_words(r.regret).removesuffix(' of it')} is lost: {w.lost}"
    return WorkLine(
        name=w.name,
        says=w.says,
        where=w.where,
        detail=w.detail,
        reasons=_opened(r),
        minutes=w.minutes,
        lost=lost,
        soon=r.regret >= SOON,
        late=w.late,
        window=w.span(start, start + timedelta(days=DRAWN_DAYS - 1)),
        regret=round(r.regret, 4),
        of=w.of,
        left_out=left_out,
    )


def open_reasons(view: SeasonView, window: Window, *, days: int = 7) -> tuple[Reason, ...]:
    """The reasons of a window, and what leaving it to the next visit is expected to cost."""
    last = view.today + timedelta(days=days - 1)
    return _opened(_rank(window, view.today, last, planned(view, view.today, last)))


def _opened(r: _Ranked) -> tuple[Reason, ...]:
    regret = Reason(
        "Share of the planting expected to be lost by leaving it to the next visit, against the best day before.",
        round(r.regret, 3),
        "share",
        RestsOn("computed", "windows on common samples", "docs/explanation/how-a-season-is-foreseen.md"),
    )
    return (*r.window.reasons, regret)


def _weather(view: SeasonView, n: int, endangered: set[date]) -> WeatherDay:
    e = view.ensemble
    column = e.today_index + n
    low, high, rain = e.tmin_c[:, column], e.tmax_c[:, column], e.rain_mm[:, column]
    a, b = np.quantile(low, (0.1, 0.5, 0.9)), np.quantile(high, (0.1, 0.5, 0.9))
    day = view.today + timedelta(days=n)
    return WeatherDay(
        day=day,
        kind="forecast" if n < e.forecast_days else "usual",
        tmin_low_c=round(float(a[0]), 1),
        tmin_c=round(float(a[1]), 1),
        tmin_high_c=round(float(a[2]), 1),
        tmax_low_c=round(float(b[0]), 1),
        tmax_c=round(float(b[1]), 1),
        tmax_high_c=round(float(b[2]), 1),
        rain_mm=round(float(rain.mean()), 1),
        rain_chance=round(float(np.mean(rain >= 1.0)), 2),
        endangers=day in endangered,
    )


def _by_urgency(said: tuple[Answer, ...], kind: type[Look] | type[Rest]) -> list[Look | Rest]:
    """The most urgent first; what is said twice of one place is said once, of all that it is about."""
    found: dict[tuple[str, str, str], Look | Rest] = {}
    for one in sorted((a for a in said if isinstance(a, kind)), key=lambda a: (-a.urgency, a.name)):
        key = (one.says, one.where, one.detail)
        if key in found:
            first = found[key]
            about = (*(first.of or (first.name.split("/")[1],)), *(one.of or (one.name.split("/")[1],)))
            one = replace(first, of=tuple(dict.fromkeys(about)))
        found[key] = one
    return list(found.values())


def _few(ordered: list[Look | Rest], most: int, of_a_kind: int) -> list[Look | Rest]:
    """The first `most`; more than `of_a_kind` of one kind only where nothing else wants the room."""
    seen: dict[str, int] = {}
    first: list[Look | Rest] = []
    more: list[Look | Rest] = []
    for one in ordered:
        kind = one.name.split("/")[0]
        seen[kind] = seen.get(kind, 0) + 1
        (first if seen[kind] <= of_a_kind else more).append(one)
    kept = (first + more)[:most]
    return [one for one in ordered if one in kept]


def _decided(view: SeasonView) -> set[str]:
    """Lines that the gardener has decided on and that the decision still covers."""
    out: set[str] = set()
    for entry in view.garden.entries:
        if entry.kind != "decide" or entry.happened > view.today:
            continue
        back = as_day(entry.payload.get("until")) or entry.happened + timedelta(days=7)
        name = str(entry.payload.get("line"))
        if back > view.today:
            out.add(name)
        else:
            out.discard(name)
    return out


def _next(view: SeasonView, later: list[Window], last: date) -> tuple[NextLine, ...]:
    """Windows that open after these days, soonest first; few of a kind, none that says the same of the same bed."""
    soon = [(int(np.median(w.opens)), w) for w in later]
    reach = last.toordinal() + AHEAD_DAYS
    near = [(middle, w) for middle, w in soon if last.toordinal() < middle <= reach]
    said: dict[str, list[tuple[str, str]]] = {}
    lines: list[NextLine] = []
    for _, w in sorted(near, key=lambda pair: (pair[0], pair[1].name)):
        kind = w.name.split("/")[0]
        before = said.setdefault(kind, [])
        if (
            len(before) < (MOST_NEXT_PICKS if kind == "pick" else MOST_NEXT_OF_A_KIND)
            and (w.says, w.where) not in before
        ):
            lines.append(_next_line(view, w))
        before.append((w.says, w.where))
        if len(lines) == MOST_NEXT:
            break
    return tuple(lines)


def _next_line(view: SeasonView, w: Window) -> NextLine:
    # A sample that is open already opens today: days that are past say nothing of what comes.
    odds = Odds(np.maximum(w.opens, np.int32(view.today.toordinal())))
    return NextLine(w.name, w.says, w.where, w.detail, w.reasons, odds.summary(), odds_words(odds))


def rests(view: SeasonView) -> tuple[Reason, ...]:
    """What the whole sheet rests on."""
    e = view.ensemble
    entries = [x for x in view.garden.entries if x.happened <= view.today]
    there = np.flatnonzero(~e.filled[: e.today_index])
    observed = e.first + timedelta(days=int(there[-1])) if there.size else e.first
    spoken = [
        Reason(f"Weather record to {day_words(observed)}: {e.source}.", rests_on=RestsOn("observed", e.source, "")),
        Reason(
            f"{e.traces} possible seasons from the years {min(e.years)} to {max(e.years)}, "
            + ("brought to today's climate." if e.trend.applied else "as they were."),
            rests_on=RestsOn("computed", "possible seasons", "docs/explanation/possible-seasons.md"),
        ),
        Reason(f"{len(entries)} entries of the daybook.", rests_on=RestsOn("observed", "daybook", "")),
    ]
    if e.forecast_days:
        reach = view.today + timedelta(days=e.forecast_days - 1)
        spoken.append(
            Reason(
                f"A forecast reaches to {day_words(reach)}.", rests_on=RestsOn("observed", "forecast as entered", "")
            )
        )
    spoken += [Reason(note, rests_on=RestsOn("computed", "judging of the record", "")) for note in e.notes]
    return tuple(spoken)
