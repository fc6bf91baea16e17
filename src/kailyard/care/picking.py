"""What would be lost if nothing could be picked for a while: of any planting, in any span of days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.care.bearing import Bearing, FloatArray, bearing, grounds, ledger
from kailyard.care.yields import current, rate_kg, standing_of
from kailyard.documents._parts import Reason, RestsOn
from kailyard.errors import DataError
from kailyard.season.life import Life
from kailyard.season.measures import in_ten, span_words
from kailyard.season.odds import BEYOND
from kailyard.season.reasons import from_fact
from kailyard.season.view import SeasonView

NOTHING = 0.005
"""A smaller share than this of what is still to come is said as nothing."""


@dataclass(frozen=True, slots=True)
class Lost:
    """What a span without picking costs. Shares are of all that this planting still has to give this season."""

    share: float
    """Expected share that is lost. [0 to 1]"""
    least: float
    """One in ten possible seasons loses less. [0 to 1]"""
    most: float
    """One in ten loses more. [0 to 1]"""
    waits: float
    """Share that comes ready in the span, or waits already, and is still good after it. [0 to 1]"""
    kg: float | None
    """Expected weight lost; None where the garden's own weights do not carry it. [kg]"""
    known: bool
    """False: nobody can foresee when it bears, so `share` says nothing."""
    words: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Spell:
    """A span without picking, by sample: shares of a full season, (traces, draws)."""

    over: FloatArray
    """Goes over on the plants, or freezes with them."""
    unset: FloatArray
    """Does not set because what has gone over hangs on the plants."""
    waits: FloatArray
    left: FloatArray
    """All that is still to be picked from today on, without the spell."""


def lost_if_not_picked(view: SeasonView, life: Life, first: date, last: date) -> Lost:
    """What is lost of a planting if nothing can be picked from `first` to `last`, both included.

    It is taken to be picked on the day before `first` and again on the day after `last`; in a spell that begins today
    what the daybook says was picked last counts. What keeps on the plant until then is not lost. What goes over is, and
    what the plants do not set while it hangs on them.

    Parameters
    ----------
    first, last
        Days before today count for nothing.

    Returns
    -------
    Lost
        All zero where nothing is to come, with the reason; `known` is False where its bearing cannot be foreseen.

    Raises
    ------
    DataError
        If `last` lies before `first`.
    """
    if last < first:
        raise DataError(f"Nothing is picked from {first} to {last}: the end comes first. Give the days in order.")
    b = bearing(view, life)
    if b is None:
        ended = life.sightings.ended is not None
        why = "Nothing more is to come: it has ended." if ended else "Nothing is known of when it is picked."
        return _none(why, known=ended, ground=RestsOn("computed", "handbook and daybook", life.planting.id))
    if last < view.today or b.finished:
        why = "Nothing more is to come of it." if b.finished else "Those days are over."
        return _none(why, known=True, ground=RestsOn("observed", "daybook", life.planting.id))
    s = spell(b, max(first, view.today), last, unset_share=_unset(view, life), fruit_days=_fruit_days(view, life))
    left = float(s.left.mean())
    if left <= 0.0:
        return _none(
            "Nothing of it comes ready any more.", known=True, ground=RestsOn("computed", "odds of its stages")
        )
    total = s.over + s.unset
    each = np.divide(total, s.left, out=np.zeros_like(total), where=s.left > 0)
    bearing_now = each[s.left > 0]
    share, waits = float(total.mean()) / left, float(s.waits.mean()) / left
    least, most = (float(np.quantile(bearing_now, q)) for q in (0.1, 0.9))
    words = _words(share, waits, float(s.unset.mean()) / left)
    return Lost(
        share=share,
        least=least,
        most=most,
        waits=waits,
        kg=_kg(view, life, b, total),
        known=True,
        words=words,
        reasons=_reasons(view, life, b, s, max(first, view.today), last),
    )


def spell(b: Bearing, first: date, last: date, *, unset_share: float, fruit_days: float) -> Spell:
    """What a span without picking does, sample by sample.

    Parameters
    ----------
    unset_share
        Part of what would set that does not while what has gone over hangs on the plants. [0 to 1]
    fruit_days
        Days from the flower to the picking. [days]
    """
    now = ledger(b)
    begin, end = float(first.toordinal()), float(last.toordinal())
    cleared = b.last_picked if begin <= b.today else max(begin - 1.0, b.last_picked)
    good = np.maximum(b.gone_by(begin), cleared)
    """Lots that came ready by then had been picked, or had gone over before the spell began."""
    frozen = (b.cut < b.last) & (b.cut <= end)  # the killing night finds the crop on the plants
    goes = np.where(frozen, end, b.gone_by(end + 1.0))
    over = np.maximum(b.ready(goes) - b.ready(good), 0.0)
    ready = np.maximum(b.ready(end) - b.ready(good), 0.0)
    hangs = b.good_until(np.maximum(good + 1.0, b.first))
    lost_set = b.ready(end + fruit_days) - b.ready(np.maximum(hangs + fruit_days - 1.0, end))
    unset = np.where((over > 0) & (hangs <= end) & ~frozen, unset_share * np.maximum(lost_set, 0.0), 0.0)
    return Spell(over, unset, ready - over, now.waiting + now.coming)


def _kg(view: SeasonView, life: Life, b: Bearing, share: FloatArray) -> float | None:
    """Expected weight of a share of a full season; None until the garden's own weights carry it. [kg]"""
    garden = standing_of(view, life.planting.crop, life.use)
    if not garden.carries:
        return None
    rate = rate_kg(view, life, b, garden, current(view, life))
    return None if rate is None else float(np.mean(rate * share)) * b.standing


def _none(why: str, *, known: bool, ground: RestsOn) -> Lost:
    return Lost(0.0, 0.0, 0.0, 0.0, 0.0 if known else None, known, why, (Reason(why, rests_on=ground),))


def _unset(view: SeasonView, life: Life) -> float:
    return view.number(life.planting, "unpicked_setting_loss", 0.0)


def _fruit_days(view: SeasonView, life: Life) -> float:
    """Days from flower to picking, the middle of its range."""
    return float(np.mean([view.number(life.planting, f"flower_to_harvest_days_{end}", 0.0) for end in ("min", "max")]))


def _words(share: float, waits: float, unset: float) -> str:
    if share < NOTHING:
        kept = "what comes ready then keeps on the plants" if waits >= NOTHING else "nothing comes ready then"
        return f"nothing is lost: {kept}"
    less = ", part of it because unpicked plants set less" if unset > NOTHING else ""
    keeps = f"; {_percent(waits)} comes ready and keeps" if waits >= 0.03 else ""
    return f"{part_words(share)} of what is still to come is lost ({_percent(share)}){less}{keeps}"


def part_words(share: float) -> str:
    """A part in words, before 'of what is still to come'."""
    for limit, word in ((0.03, "hardly any"), (0.12, "a little"), (0.35, "some"), (0.65, "about half"), (0.9, "most")):
        if share < limit:
            return word
    return "nearly all"


def _percent(share: float) -> str:
    return f"{share:.0%}".replace("%", " %") if share >= 0.01 else "under 1 %"


def _reasons(view: SeasonView, life: Life, b: Bearing, s: Spell, first: date, last: date) -> tuple[Reason, ...]:
    left = float(s.left.mean())
    bears = float(np.mean((b.first <= last.toordinal()) & (b.cut >= first.toordinal()) & (b.first < BEYOND)))
    spell_of = Reason(
        f"Of what is still to come, comes ready or waits {span_words(first, last)}.",
        100 * float((s.over + s.waits).mean()) / left,
        "%",
        RestsOn("computed", "odds of the first and last picking, over the possible seasons", life.planting.id),
    )
    out = [
        Reason(
            f"It bears in that time: {in_ten(bears)}.",
            rests_on=RestsOn("computed", "odds of its stages", life.planting.id),
        ),
        spell_of,
        Reason(
            "Goes over or freezes before it can be picked.",
            100 * float(s.over.mean()) / left,
            "%",
            RestsOn("computed", "days it keeps on the plant, and the killing night", life.planting.id),
        ),
    ]
    unset = view.fact(life.planting, "unpicked_setting_loss")
    if unset is not None and s.unset.any():
        out.append(from_fact(unset, view.handbook, "Does not set while what has gone over hangs on the plants."))
    late = view.fact(life.planting, "pick_late_loss")
    if late is not None:
        out.append(from_fact(late, view.handbook, "What waiting does"))
    return (*out, *grounds(view, life))
