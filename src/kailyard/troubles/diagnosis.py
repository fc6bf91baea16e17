"""From answers to a page: causes in words with ranges, evidence for and against, what to look at next, when to stop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

import numpy as np

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.documents.diagnosis import (
    Asked,
    Cause,
    Diagnosis,
    NextSign,
    Settling,
    Speaks,
    ToSend,
)
from kailyard.handbook.signs import (
    disorders,
    grounds,
    readings,
    report_first,
    samples,
    settles,
    signs,
)
from kailyard.handbook.troubles import troubles
from kailyard.troubles.asking import worth_asking
from kailyard.troubles.leanings import Setting, leanings
from kailyard.troubles.likelihood import OTHER, columns, rows
from kailyard.troubles.weighing import (
    Answer,
    Pair,
    Weighed,
    hangs_on,
    holds,
    if_answered,
    ratios,
    two_at_once,
    weigh,
)

VERY_LIKELY, LIKELY, POSSIBLE = 0.8, 0.5, 0.1
"""Chance from which a cause is called very likely, likely, possible; below the last it is unlikely."""

SHOWN, LEAST_SHOWN = 6, 3
"""So many causes are shown at most, and at least."""
SHOWN_FROM = 0.02
"""Chance from which a cause is worth a line, where some answer speaks for it or nothing is answered yet."""

STRONG, SOME = 5.0, 1.5
"""An answer so many times likelier under a cause than under the others speaks strongly, or somewhat, for it."""

NEXT = 3
"""So many signs are proposed at once."""

ENOUGH_ASKED = 12
"""After so many answers without a likely cause a laboratory does better."""

HOLDS = 0.9
"""The order is called firm where the first cause stands first in so much of the ranges."""

JUDGEMENT = RestsOn("memory", "judgement of Kailyard's makers", "docs/explanation/how-a-trouble-is-named.md")

_SAMPLED = {"oomycete/fungus": "oomycete", "protist": "nematode"}
_NO_SAMPLE = frozenset({"animal", "mollusc", "none"})
_ON_THE_SPOT = frozenset({"rub", "cut", "bag", "lens", "tap", "dig", "look", "night"})
"""Tests that answer a sign within a day; sowing beans beside clean mix, waiting and the laboratory settle a cause."""


@dataclass(frozen=True, slots=True)
class Question:
    """All that a diagnosis is asked from."""

    answers: Mapping[str, Answer]
    """By sign, the gardener's own."""
    setting: Setting
    proposed: Mapping[str, str] = field(default_factory=dict)
    """Signs that the record itself shows, with its words; an answer of the gardener's stands above."""
    first_seen: date | None = None


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands at the head of the document."""

    garden: str
    on: date
    units: Literal["metric", "us"]
    planting: str
    plants: str
    where: str


def diagnose(question: Question, head: Heading) -> Diagnosis:
    """The document. 'Can't tell' changes no chance; it is only not asked again."""
    answers: dict[str, Answer] = {**dict.fromkeys(question.proposed, "yes"), **question.answers}
    weighed = weigh(answers, question.setting)
    low, high = weighed.low, weighed.high
    first = weighed.order[0]
    pair = two_at_once(answers, question.setting, weighed)
    shown = _shown(answers, weighed, pair)
    causes = tuple(
        _cause(id_, answers, weighed, question.setting, (float(low[at]), float(high[at])))
        for id_, at in ((id_, rows().index(id_)) for id_ in shown)
    )
    days = None if question.first_seen is None else (head.on - question.first_seen).days
    open_ = worth_asking(answers, weighed, question.setting, days)
    ahead = tuple(_next_sign(sign, weighed, shown) for sign in open_[:NEXT])
    stop, enough = _stop(weighed, ahead, float(low[rows().index(first)]))
    return Diagnosis(
        **{name: getattr(head, name) for name in ("garden", "on", "units", "planting", "plants", "where")},
        first_seen=question.first_seen,
        answered=tuple(_asked(s, answers[s], question) for s in sorted(answers, key=columns().__getitem__)),
        causes=causes,
        two=_two(pair),
        firm=_firm(answers, question.setting, weighed),
        next=ahead,
        stop=stop,
        sample=_sample(first, question, head) if weighed.told and not enough else None,
        cautions=tuple(_cautions(shown)),
    )


def word(chance: float) -> str:
    """A chance as a word."""
    if chance >= VERY_LIKELY:
        return "very likely"
    if chance >= LIKELY:
        return "likely"
    return "possible" if chance >= POSSIBLE else "unlikely"


def span(low: float, high: float) -> str:
    """A range of chances in words: 'possible to likely', or one word where both ends share it."""
    return word(low) if word(low) == word(high) else f"{word(low)} to {word(high)}"


def _shown(answers: Mapping[str, Answer], weighed: Weighed, pair: Pair | None) -> tuple[str, ...]:
    """Causes worth a line: two at once, possible ones, less likely ones for which some answer speaks; some at least."""

    def worth(id_: str) -> bool:
        chance = weighed.middle[rows().index(id_)]
        if chance >= POSSIBLE or (chance >= SHOWN_FROM and not weighed.told):
            return True
        speaks = chance >= SHOWN_FROM and id_ != OTHER and max(ratios(answers, weighed, id_).values()) >= SOME
        return bool(speaks)

    both = () if pair is None else (pair.first, pair.second)
    found = list(dict.fromkeys((*both, *(id_ for id_ in weighed.order if worth(id_)))))[:SHOWN]
    rest = [id_ for id_ in weighed.order if id_ not in found]
    chosen = {*found, *rest[: max(0, LEAST_SHOWN - len(found))]}
    return tuple(id_ for id_ in weighed.order if id_ in chosen)


def _cause(
    id_: str, answers: Mapping[str, Answer], weighed: Weighed, setting: Setting, ends: tuple[float, float]
) -> Cause:
    at = rows().index(id_)
    says, over = word(float(weighed.middle[at])), span(*ends)
    if id_ == OTHER:
        name = "something that is not in the table"
        return Cause(
            id_, name, "unknown", False, says, over, "", (), (), (), (), "", "", None, "",
            RestsOn("computed", "what no cause of the table explains"),
        )  # fmt: skip
    one = troubles()[id_]
    speaking = _speaking(id_, answers, weighed)
    more, report, test = disorders().get(id_), report_first().get(id_), settles().get(id_)
    tests = [Settling(test.how, test.what, _rests(test.status, test.source))] if test else []
    if more and more.settles_it and more.settles_it != "none" and test is None:
        tests.append(Settling("look", more.settles_it, _rests(more.status, more.source)))
    return Cause(
        id=one.slug,
        name=one.name,
        category=one.category,
        harmless=one.harmless,
        says=says,
        span=over,
        telling_sign=one.telling_sign,
        speaks_for=tuple(s for ratio, s in speaking if ratio > 1),
        speaks_against=tuple(s for ratio, s in speaking if ratio < 1),
        before=tuple(
            Reason(f"{lean.says[0].upper()}{lean.says[1:]}.", rests_on=JUDGEMENT)
            for lean in leanings(one, setting, weighed.told)
        ),
        settles=tuple(tests),
        do_now="nothing to do" if one.harmless else (more.do_now if more else ""),
        eat=more.eat if more else "",
        eat_rests_on=_rests(more.eat_status, more.source) if more and more.eat else None,
        report=report.says if report else "",
        rests_on=_rests(one.status, one.source),
    )


def _rests(status: str, source: str) -> RestsOn:
    known: dict[str, Status] = {"published": "published", "common practice": "common practice"}
    return RestsOn(known.get(status, "memory"), source or status)


def _speaking(id_: str, answers: Mapping[str, Answer], weighed: Weighed) -> list[tuple[float, Speaks]]:
    """Answers that tell this cause from the others, the strongest first."""
    out = []
    for sign, ratio in sorted(ratios(answers, weighed, id_).items(), key=lambda item: -abs(np.log(item[1]))):
        if 1 / SOME < ratio < SOME:
            continue
        row = grounds(id_, sign)
        seen = "Seen" if answers[sign] == "yes" else "Not there"
        strong = ratio >= STRONG or ratio <= 1 / STRONG
        ground = (
            RestsOn("published", row.source, "the sign; how often is our reading")
            if row and row.evidence == "published"
            else RestsOn("memory", "our reading of the guides")
        )
        says = f"{seen}: {signs()[sign].question}"
        often = " to ".join(reversed(readings(id_, sign)))
        made = Speaks(signs()[sign].slug, says, often, "strongly" if strong else "somewhat", ground)
        out.append((ratio, made))
    return out


def _next_sign(sign: str, weighed: Weighed, shown: Sequence[str]) -> NextSign:
    """One sign, with the small test by which it is seen on the spot, where a cause that is shown has one."""
    tests = [settles()[id_] for id_ in shown if id_ in settles()]
    return NextSign(
        sign=signs()[sign].slug,
        group=signs()[sign].group,
        question=signs()[sign].question,
        how=next((one.what for one in tests if one.sign == sign and one.how in _ON_THE_SPOT), ""),
        if_yes=_gains(weighed, if_answered(weighed, sign, "yes")),
        if_no=_gains(weighed, if_answered(weighed, sign, "no")),
    )


def _gains(weighed: Weighed, after: np.ndarray) -> str:
    """The cause that gains most by an answer."""
    best = rows()[int(np.argmax(after - weighed.middle))]
    return "something else" if best == OTHER else troubles()[best].name


def _stop(weighed: Weighed, ahead: Sequence[NextSign], least: float) -> tuple[str, bool]:
    """Whether to go on, in words; and whether what is known is enough."""
    first = weighed.order[0]
    chance = float(weighed.middle[rows().index(first)])
    if not weighed.told:
        return "Answer what you can see; 'can't tell' is always an answer.", False
    if least >= VERY_LIKELY and first != OTHER:
        return "Enough is known to act on. One small test, where one is named, makes sure.", True
    if not ahead:
        return "More questions would tell hardly anything: make the small test, or send a sample.", False
    if len(weighed.told) >= ENOUGH_ASKED and chance < LIKELY:
        return "So many answers and no cause that is likely: stop asking and send a sample.", False
    return "Go on: the next sign tells most.", False


def _two(pair: Pair | None) -> str:
    if pair is None:
        return ""
    names = " and ".join(troubles()[id_].name for id_ in (pair.first, pair.second))
    return f"Two at once explain clearly more than any one: {names}. The lines weigh each as if it were alone."


def _firm(answers: Mapping[str, Answer], setting: Setting, weighed: Weighed) -> str:
    if not weighed.told:
        return "Nothing is answered yet: this is only how common each cause is on such plants."
    hangs = [
        signs()[s].question + ("" if answers[s] == "yes" else " (not there)")
        for s in hangs_on(answers, setting, weighed)
    ]
    if len(hangs) == 1:
        return f"The first hangs on one sign: {hangs[0]}. Look at it once more."
    if hangs:
        return f"The first hangs on these signs, each alone: {'; '.join(hangs)}. Look at them once more."
    if holds(weighed) >= HOLDS:
        return "The first stays first however the words of the table are read, and whichever one answer is left out."
    return "The first depends on how the words of the table are read: take the first two or three together."


def _sample(first: str, question: Question, head: Heading) -> ToSend | None:
    category = "abiotic" if first == OTHER else troubles()[first].category
    if category in _NO_SAMPLE:
        return None
    row = samples().get(_SAMPLED.get(category, category))
    if row is None:
        return None
    by = None if question.first_seen is None else question.first_seen + timedelta(days=row.days)
    late = by is not None and by < head.on
    return ToSend(row.what, by, f"{'It may be too late: ' if late else ''}{row.says}")


def _cautions(shown: Sequence[str]) -> Iterator[str]:
    yield "These are odds from signs, not a finding. When in doubt ask the extension office or send a sample."
    categories = {troubles()[id_].category for id_ in shown if id_ != OTHER}
    if "herbicide" in categories:
        yield (
            "Plants hit by an unknown herbicide: agencies advise against eating what they bear. Keep no seed tubers, "
            "move no clippings and no compost until it is settled."
        )
    if categories & {"fungus", "oomycete", "bacterium", "virus", "insect", "mite", "oomycete/fungus"}:
        yield "Before anything is sprayed: the label is the law, and it stands above anything said here."


def _asked(sign: str, answer: Answer, question: Question) -> Asked:
    one = signs()[sign]
    proposed = "" if sign in question.answers else question.proposed.get(sign, "")
    return Asked(one.slug, one.group, one.question, answer, proposed)
