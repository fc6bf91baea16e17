"""Is it labelled for a home food garden? What is sold for lawns, ornamentals or farms is not."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.verdict import Finding

NAME = "site"
HOME = ("home", "residential", "kitchen garden", "allotment", "household")
"""Words by which a label says that it is for home gardens."""
FOOD = ("food", "vegetable", "edible", "fruit", "kitchen", "allotment", "home garden", "herb")
OTHER = ("ornamental", "flower", "rose", "lawn", "turf", "golf", "indoor", "house plant", "houseplant", "non-crop",
         "noncrop", "aquatic", "right-of-way", "pasture")  # fmt: skip
"""Sites that are no beds of food."""
TRADE = ("professional", "commercial", "agricultur", "farm", "restricted", "licen", "certified")
"""What is not for home gardens."""
_GROUND = RestsOn(
    "published",
    "Pacific Northwest handbook: a home garden product must be labelled for home use and the crop",
    "cautions",
)


def check(case: Case) -> Iterator[Finding]:
    """By the sites of the label record, in its words; a word that says neither is unknown."""
    sites = [" ".join(s.casefold().split()) for s in case.label.sites]
    if not sites:
        yield read_it(case, NAME, "the sites it is for: home garden, vegetable garden, lawn, ornamentals")
        return
    allowed = [s for s in sites if not _no(s)]
    trade = [s for s in sites if _any(TRADE, s)]
    if not any(_any(HOME, s) for s in allowed):
        if trade:
            says = f"Its label is for {trade[0]}: not for a home garden. Licensed practice has rules of its own."
            yield Finding(NAME, "never", says, _GROUND)
        else:
            says = f"Whether it is for home gardens its sites do not say ({', '.join(case.label.sites)}): read on."
            yield Finding(NAME, "unknown", says, _GROUND)
    if case.edible is False:
        yield Finding(NAME, "may", "Nothing of the plants is eaten.", typed(case))
    elif any(_any(FOOD, s) and not _any(OTHER, s) for s in allowed):
        yield Finding(NAME, "may", f"For {', '.join(case.label.sites)}.", typed(case))
    elif all(_any(OTHER, s) or _no(s) for s in sites):
        says = f"Its label is for {', '.join(case.label.sites)}: never on what is eaten."
        yield Finding(NAME, "never", says, typed(case))
    else:
        says = f"Whether it is for beds of food its sites do not say ({', '.join(case.label.sites)}): read on."
        yield Finding(NAME, "unknown", says, typed(case))


def _any(words: tuple[str, ...], said: str) -> bool:
    return any(w in said for w in words)


def _no(said: str) -> bool:
    """'not for home gardens', 'except vegetables': the words themselves then speak against it."""
    return re.search(r"\b(?:not|no|never|except|other than)\b", said) is not None or _any(TRADE, said)
