"""What of a trouble can be met before it comes again, and until when: kinds that stand it, place, time, cover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.garden.model import Entry
from kailyard.handbook.remedies import Course, codes, courses
from kailyard.handbook.troubles import crop_words, trouble, troubles

TOLERANCE = "tolerance, not immunity"
LAST_SEASONS = 1
"""Troubles of this year and so many before it are thought of when seed is chosen."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """One step for the next season."""

    id: str
    says: str
    by: str
    """Until when it can be taken, in words."""
    reasons: tuple[Reason, ...]


def next_steps(trouble_id: str, crop: str, plants: str) -> tuple[NextStep, ...]:
    """Steps against a trouble of a crop; keeping away only from what lives in the soil or what is left in the bed."""
    known = trouble(trouble_id)
    course = courses().get(known.id) or courses().get(known.cause)
    if course is None:
        return ()
    found: list[NextStep] = []
    mine = codes_for(course, crop)
    if mine:
        listed = ", ".join(mine)
        ground = RestsOn(_status(course.code_status), course.source, "codes of the seed trade")
        found.append(
            NextStep(
                "resistant-kind",
                f"Ask for {plants} with {listed} on the packet: {TOLERANCE}",
                "while seed is ordered; such kinds sell out by late winter",
                tuple(Reason(f"{code}: {meaning}.", rests_on=ground) for code, meaning in mine.items()),
            )
        )
    ground = RestsOn(_status(course.status), course.source, f"course of {course.trouble.replace('_', ' ')}")
    if course.timing:
        why = Reason(f"Common ways to meet it: {course.cultural}.", rests_on=ground)
        found.append(
            NextStep("timing", f"{course.timing[0].upper()}{course.timing[1:]}", "when sowing is planned", (why,))
        )
    if years := keep_away_years(course):
        says = f"Keep {plants} and their kin out of this bed for {years}"
        where = "It lives on in the soil." if course.lives_in_soil else "It lives on in what is left in the bed."
        away = RestsOn(_status(course.away_status or course.status), course.source, "years away")
        found.append(NextStep("rotation", says, "when beds are planned", (Reason(where, rests_on=away),)))
    if "trellis" in course.cultural or "space" in course.cultural:
        why = Reason(f"Common ways to meet it: {course.cultural}.", rests_on=ground)
        found.append(NextStep("trellis", "Space and a trellis, so that leaves dry", "before the vines run", (why,)))
    if "row cover" in course.cultural or "net" in course.cultural.split("; "):
        why = Reason("On ground where it did not spend the winter; off at the first female flower.", rests_on=ground)
        found.append(NextStep("row-cover", "A cover from planting on", "on the day of planting", (why,)))
    return tuple(found)


def codes_for(course: Course, crop: str) -> dict[str, str]:
    """Resistance codes of a trouble that packets of the crop may carry, with what they mean there."""
    words = set(crop_words(crop).words) | {crop.replace("-", " ")}
    family = crop_words(crop).family
    found: dict[str, str] = {}
    for code in codes():
        if code.code not in course.codes:
            continue
        crops = code.crops.replace(";", ",")
        listed = {w.strip() for w in crops.split(",")}
        kin = (family == "Cucurbitaceae" and "cucurbits" in listed) or (
            family == "Brassicaceae" and "cabbage family" in listed
        )
        if listed & words or kin or "all" in listed:
            found[code.code] = code.meaning
    return found


def keep_away_years(course: Course) -> str:
    """How long its hosts stay away; '' where that does not help."""
    if course.away_years is None or course.away_years[1] <= 0:
        return ""
    low, high = (round(y) for y in course.away_years)
    if low >= 50:
        return "good"
    return f"{low} years" if low == high else f"{low} to {high} years"


def wanted_codes(
    entries: Iterable[Entry], crop: str, crop_of: dict[str, str], today: date
) -> dict[str, tuple[str, ...]]:
    """Trouble -> codes, for what was found on this crop this year and last: what a new kind should carry.

    Parameters
    ----------
    crop_of : dict
        Crop by planting.
    """
    found: dict[str, tuple[str, ...]] = {}
    for e in entries:
        if e.kind != "found" or e.happened.year < today.year - LAST_SEASONS or e.happened > today:
            continue
        name = str(e.payload.get("trouble", "")).replace("-", "_")
        known = troubles().get(name)
        if known is None or crop_of.get(e.target) != crop:
            continue
        course = courses().get(known.id) or courses().get(known.cause)
        if course is not None and (mine := codes_for(course, crop)):
            found[known.name] = tuple(mine)
    return found


def _status(text: str) -> Status:
    return "published" if text == "published" else "memory" if text == "memory" else "common practice"
