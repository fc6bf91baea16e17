"""What is said beside every piece of advice that can hurt somebody."""

from __future__ import annotations

LABEL = (
    "The label is the law: crop, rate, days to picking and entry come from it alone. Local rules and licensed practice "
    "come first.",
    "Wear what the label asks for; wash hands before eating; wash clothes apart; never eat or smoke while at it.",
    "Children and pets stay out until the label's time; keep it locked, in its own container; nothing into water or "
    "drains.",
    "Never on open flowers. Organic is not harmless: natural materials too burn leaves, kill bees and hurt eyes.",
)
"""Beside anything that is sprayed, dusted or baited."""
ALWAYS = ("Nothing here says that something is safe to eat. In doubt send a sample, or ask the extension office.",)
BITTER = "Bitter squash, zucchini, pumpkin, cucumber or melon: do not eat it, not even cooked."
GREEN = "Green or sprouted potatoes: peel thick; very green or bitter ones out, and none for small children."
MANURE = (
    "Raw manure goes under 120 days before picking what touches soil, 90 days otherwise; hay, straw, manure and "
    "clippings may carry weedkiller: try beans in them first."
)
WEEDKILLER = (
    "Agencies advise against eating what an unknown weedkiller has hit: nobody knows a safe amount. Follow its label, "
    "if it is known, and ask the extension office."
)
LEAD = "Where children garden, have the soil tested for lead once."
_CUCURBITS = ("zucchini", "squash", "pumpkin", "winter-squash", "cucumber", "melon", "watermelon")
_SUSPECT = frozenset({"gr_drift", "gr_residue", "glyphosate", "bleacher", "contact_herbicide"})


def cautions(crop: str, trouble: str, *, sprayed: bool, children: bool | None) -> tuple[str, ...]:
    """The words that belong beside advice on a crop's trouble.

    Parameters
    ----------
    sprayed : bool
        Something that needs a label is among what is advised.
    children : bool or None
        Whether children garden here; None: not said, and then they may.
    """
    said = [*(LABEL if sprayed else ()), *ALWAYS]
    if crop.startswith(_CUCURBITS):
        said.append(BITTER)
    if crop.startswith("potato"):
        said.append(GREEN)
    if trouble.replace("-", "_") in _SUSPECT:
        said.append(WEEDKILLER)
    if trouble.replace("-", "_") in _SUSPECT or trouble.replace("-", "_").endswith("_deficiency"):
        said.append(MANURE)
    if children is not False:
        said.append(LEAD)
    return tuple(said)
