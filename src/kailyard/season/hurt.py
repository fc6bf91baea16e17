"""Keep, watch, pull or replace: one decision about a planting that was hurt, with what each choice is worth.

Worths are shares of a whole crop of this planting. The unknown is whether what was hurt recovers, well or badly; the
next look tells. Watching is worth more than deciding now as long as a replacement still pays by then.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry, HowStarted
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.paying import Paying, still_pays
from kailyard.season.reasons import from_judgement
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView

Choice = Literal["keep", "watch", "pull", "replace"]

RECOVERS = {"frost": 0.6, "hail": 0.7, "drift": 0.4, "animals": 0.6, "wind": 0.75, "other": 0.6}
"""Chance, by cause, that a plant which was hurt and not killed grows on well."""

SOUND_RECOVERS = 0.9
"""The same once a look has found sound new growth."""

UNSOUND_RECOVERS = 0.2
"""And once a look has found it unsound."""

WELL = 0.9
"""Share of its crop that a plant still gives where it recovers well."""

BADLY = 0.25
"""And where it recovers badly."""

GAP_LOSES = 0.8
"""A plant that is gone costs so much of its share: its neighbours make up for the rest."""

ANEW_COSTS = 0.15
"""Seed, work and the weeks by which the old planting is ahead make a replacement worth so much less."""

WAIT_COSTS = 0.01
"""A replacement begun a day later gives so much less: pickings are lost at the end."""

LOOK_AFTER_DAYS = {"frost": 7, "hail": 10, "drift": 14, "animals": 5, "wind": 7, "other": 7}
"""New growth shows by cause after so many days whether plants recover."""

PULL_UNDER = 0.12
"""A planting that is worth less than this, and nothing can replace, had better make room."""

SURELY = 0.8
"""A replacement's last day is given as the last that pays in so many of the possible seasons."""


@dataclass(frozen=True, slots=True, eq=False)
class Decision:
    """What each choice is worth, and by when it must be made."""

    best: Choice
    worth: dict[Choice, float]
    """Expected share of a whole crop."""
    next_look: date
    replace_by: date | None
    """Last day on which a replacement pays in eight of ten possible seasons; None where none does or none is known."""
    reasons: tuple[Reason, ...]
    today: date

    @property
    def says(self) -> str:
        """The decision in one line."""
        kept = _tenths(self.worth["keep"])
        replaced = _tenths(self.worth["replace"]) if "replace" in self.worth else ""
        until = f"; a replacement pays until {day_words(self.replace_by)}, 8 in 10" if self.replace_by else ""
        look = "look again " + ("today" if self.next_look == self.today else f"on {day_words(self.next_look)}")
        if self.best == "replace":
            return f"Replace it: begun anew now {replaced} of a crop, kept {kept}{until}."
        if self.best == "pull":
            return f"Pull it: kept {kept} of a crop, and nothing sown anew now pays."
        if self.best == "watch":
            return f"Watch it and {look}: kept {kept} of a crop{until}."
        beside = f", begun anew {replaced}" if replaced else ""
        return f"Keep it: {kept} of a crop{beside}; {look}."


def decide(view: SeasonView, life: Life, hurt: Entry, look: Entry | None) -> Decision:
    """The decision about a planting that was hurt, from the entry that says so and the last look since."""
    way = life.timeline
    cause = str(hurt.payload.get("cause", "other"))
    recovers = RECOVERS.get(cause, RECOVERS["other"])
    if look is not None and look.payload.get("sound") is not None:
        recovers = SOUND_RECOVERS if look.payload["sound"] else UNSOUND_RECOVERS
    ripens = 1.0 if way is None else 1.0 - life.stages[way.harvest].never
    share, killed = float(hurt.payload.get("share") or 0.0), float(hurt.payload.get("killed") or 0.0)
    next_look = _next_look(view, hurt, look, cause)
    paying = None if view.perennial(life.planting) else _anew(view, life)
    now = later = None
    if paying is not None:
        wait = (next_look - view.today).days
        now = paying.share_on(view.today) * (1.0 - ANEW_COSTS)
        later = paying.share_on(next_look) * max(1.0 - ANEW_COSTS - WAIT_COSTS * wait, 0.0)
    worth = worths(share=share, killed=killed, recovers=recovers, ripens=ripens, now=now, later=later)
    by = None if paying is None else paying.until(SURELY, view.today)
    return Decision(best(worth), worth, next_look, by, _reasons(cause, recovers, look, worth, paying), view.today)


def worths(
    *, share: float, killed: float, recovers: float, ripens: float, now: float | None, later: float | None
) -> dict[Choice, float]:
    """What each choice is worth, as a share of a whole crop.

    Parameters
    ----------
    share, killed
        Parts of the plants hurt, the killed among them, and killed. [0 to 1]
    recovers
        Chance that those hurt and not killed grow on well. [0 to 1]
    ripens
        Chance that the planting comes to its harvest at all. [0 to 1]
    now, later
        What a replacement is worth, begun today and at the next look; None where there is none. [0 to 1]
    """
    hurt, living = max(share - killed, 0.0), 1.0 - killed

    def kept(left: float) -> float:
        own = living - hurt * (1.0 - left)
        # The gaps are filled as far as what lives beside them is strong.
        return own * (1.0 + killed * (1.0 - GAP_LOSES)) * ripens

    well, badly = kept(WELL), kept(BADLY)
    out: dict[Choice, float] = {"keep": recovers * well + (1.0 - recovers) * badly, "pull": 0.0}
    if now is None or later is None:
        out["watch"] = out["keep"]
        return out
    out["replace"] = now
    out["watch"] = recovers * max(well, later) + (1.0 - recovers) * max(badly, later)
    return out


def best(worth: dict[Choice, float]) -> Choice:
    """The choice that is worth most; of equals the one that leaves most open and costs least work."""
    replace = worth.get("replace", 0.0)
    if max(worth["watch"], replace) < PULL_UNDER:
        return "pull"
    if replace > worth["watch"] + 0.02:
        return "replace"
    return "watch" if worth["watch"] > worth["keep"] + 0.02 else "keep"


def _anew(view: SeasonView, life: Life) -> Paying | None:
    start: HowStarted = "bought" if life.planting.start == "raised" else life.planting.start
    today = np.full((view.shape[0], 1), view.today.toordinal(), dtype=np.int32)
    return still_pays(view, life, start=start, begin=today)


def _next_look(view: SeasonView, hurt: Entry, look: Entry | None, cause: str) -> date:
    meant = None if look is None else as_day(look.payload.get("next_look"))
    days = LOOK_AFTER_DAYS.get(cause, LOOK_AFTER_DAYS["other"])
    due = meant or (hurt if look is None else look).happened + timedelta(days=days)
    return max(due, view.today)


def _reasons(
    cause: str, recovers: float, look: Entry | None, worth: dict[Choice, float], paying: Paying | None
) -> tuple[Reason, ...]:
    ground = RestsOn("computed", "keep, watch, pull or replace", "docs/explanation/how-a-season-is-foreseen.md")
    seen = "what the last look found" if look is not None and look.payload.get("sound") is not None else cause
    under = (
        from_judgement(f"Chance that what was hurt grows on well, by {seen}.", recovers, "chance"),
        *(paying.reasons if paying is not None else ()),
    )
    order: tuple[Choice, ...] = ("keep", "watch", "replace", "pull")
    said = {"keep": "Kept", "watch": "Watched until the next look", "replace": "Begun anew now", "pull": "Pulled"}
    return tuple(
        Reason(
            f"{said[choice]}: expected share of a whole crop.",
            round(worth[choice], 2),
            "share",
            ground,
            under if n == 0 else (),
        )
        for n, choice in enumerate(c for c in order if c in worth)
    )


def _tenths(share: float) -> str:
    n = round(share * 10)
    return "nothing" if n == 0 else "all" if n == 10 else "a tenth" if n == 1 else "half" if n == 5 else f"{n} tenths"
