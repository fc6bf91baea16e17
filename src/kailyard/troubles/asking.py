"""What is worth asking next: what tells most, of what can be seen on this crop, at its age, by now."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from kailyard.handbook.signs import causes, readings, signs
from kailyard.handbook.troubles import NOT_THE_MOST, crop_words, fit
from kailyard.troubles.leanings import Setting
from kailyard.troubles.likelihood import columns
from kailyard.troubles.weighing import Answer, Weighed, information

WORTH_ASKING = 0.04
"""An answer that is expected to tell less says hardly anything. [bits]"""

APART = 12
"""So many of the likeliest causes are told apart by the next sign, and all others as one."""

LATER_DAYS = 7
"""What only time shows is asked for from so many days after the first sight."""

_SHOWS = frozenset({"always", "often", "sometimes"})
_LATER = frozenset({"new_leaves_normal", "spreads_for_weeks", "spots_fall_out"})
_OF_FRUIT = frozenset({"fruit_only", "holes_in_fruit", "one_bite_fruit", "flowers_drop"})
_OF_MORE_THAN_FRUIT = frozenset({"bitter_taste", "fruit_cracks"})
_BEFORE_FRUIT = frozenset({"seedling", "growing"})
_ONLY_ON: Mapping[str, frozenset[str]] = MappingProxyType(
    {"ears_stripped": frozenset({"corn"}), "stem_pimples_roots": frozenset({"tomato", "pepper", "eggplant"})}
)
"""Of signs that causes of all plants make on these alone."""
_IMPLIED: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "insects_seen": (
            "beetles_seen",
            "bugs_seen",
            "caterpillars_seen",
            "hoppers_sideways",
            "soft_clusters",
            "white_flies_rise",
            "slim_insects_neck",
        ),
        "uniform_yellow": ("plain_yellow_no_spots",),
        "root_galls": ("lumps_rub_off",),
    }
)
"""What is seen already by whoever has seen one of these."""


def worth_asking(
    answers: Mapping[str, Answer], weighed: Weighed, setting: Setting, days_since: int | None
) -> tuple[str, ...]:
    """Signs not answered yet that tell something, those that tell most first.

    Parameters
    ----------
    days_since
        Days since the trouble was first seen; None where it is not known.
    """
    bits = information(weighed, APART if weighed.told else None)
    open_ = [
        s
        for s in columns()
        if s not in answers
        and bits[columns()[s]] >= WORTH_ASKING
        and can_be_seen(s, setting, days_since)
        and (weighed.told or s not in _LATER)
        and not any(answers.get(one) == "yes" for one in _IMPLIED.get(s, ()))
    ]
    return tuple(sorted(open_, key=lambda s: (-bits[columns()[s]], s)))


def can_be_seen(sign: str, setting: Setting, days_since: int | None) -> bool:
    """Whether a sign can be looked for on this crop, at its age, by now; what the record knows is not asked for."""
    if sign in _LATER and days_since is not None and days_since < LATER_DAYS:
        return False
    if sign in setting.weather:
        return False
    if _is_of_fruit(sign) and (not crop_words(setting.crop).fruit or setting.stage in _BEFORE_FRUIT):
        return False
    only = _ONLY_ON.get(sign)
    return sign in _of_crop(setting.crop) and (only is None or bool(only & set(crop_words(setting.crop).words)))


def _is_of_fruit(sign: str) -> bool:
    return sign in _OF_FRUIT or (signs()[sign].group == "fruit" and sign not in _OF_MORE_THAN_FRUIT)


@cache
def _of_crop(crop: str) -> frozenset[str]:
    """Signs that some cause of this crop shows now and then at least."""
    mine = [cause for cause in causes() if fit(cause, crop) >= NOT_THE_MOST]
    return frozenset(s for s in signs() if any(_SHOWS & set(readings(cause, s)) for cause in mine))
