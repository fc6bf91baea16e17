"""What of a trouble can be met before it comes again, and until when: kinds that stand it, place, time, cover."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.remedies import Course, codes, courses, remedies, remedies_for
from kailyard.handbook.troubles import Trouble, crop_words, trouble, troubles
from kailyard.season.measures import day_words
from kailyard.season.safety import midsummer_after
from kailyard.troubles.keep_away import FOR_GOOD_YEARS
from kailyard.troubles.marks import as_status
from kailyard.troubles.met import Met, met

TOLERANCE = "tolerance, not immunity"
SELLS_OUT_BEFORE_MIDSUMMER_DAYS = 147
"""Resistant kinds are sold out by late winter: so long before midsummer's split of frosts; 27 February in the north."""
LAST_SEASONS = 1
"""Troubles of this year and so many before it are thought of when seed is chosen."""
REMAINS = ("clear ", "debris", "destroy", "bury", "culls", "remove ", "rake", "cut and")
"""Words of the ways to meet a trouble that speak of what is left of the plants."""


@dataclass(frozen=True, slots=True)
class NextStep:
    """One step for the next season."""

    id: str
    says: str
    by: str
    """Until when it can be taken, in words."""
    reasons: tuple[Reason, ...]


def next_steps(
    trouble_id: str,
    crop: str,
    plants: str,
    *,
    today: date,
    latitude: float = 45.0,
    climbs: bool = True,
    lasts: bool = False,
    flown: tuple[date, date] | None = None,
) -> tuple[NextStep, ...]:
    """Steps against a trouble of a crop; keeping away only from what lives in the soil or what is left in the bed.

    Parameters
    ----------
    latitude
        Of the garden, for the winter in which seed is ordered. [degrees]
    climbs : bool
        Whether the crop is given a support.
    lasts : bool
        Whether it stands for years: only what lives in the soil keeps its next planting out.
    flown
        From when to when a pest comes that the next planting can be begun past.
    """
    known = trouble(trouble_id)
    course = courses().get(known.id) or courses().get(known.cause)
    if course is None:
        return ()
    found: list[NextStep] = []
    mine = codes_for(course, crop)
    if mine:
        listed = any_of(mine)
        ground = RestsOn(as_status(course.code_status), course.source, "codes of the seed trade")
        found.append(
            NextStep(
                "resistant-kind",
                f"Ask for {plants} with {listed} on the packet: {TOLERANCE}",
                f"by {day_words(_sold_out(today, latitude))}: such kinds sell out",
                tuple(Reason(f"{code}: {meaning}.", rests_on=ground) for code, meaning in mine.items()),
            )
        )
    ground = RestsOn(as_status(course.status), course.source, f"course of {course.trouble.replace('_', ' ')}")
    if course.timing:
        why = Reason(f"Common ways to meet it: {course.cultural}.", rests_on=ground)
        found.append(NextStep("timing", f"{course.timing[0].upper()}{course.timing[1:]}", _flies(flown), (why,)))
    if (years := keep_away_years(course)) and (course.lives_in_soil or not lasts):
        says = f"Keep {plants} and other hosts of it out of this bed for {years}"
        where = "It lives on in the soil." if course.lives_in_soil else "It lives on in what is left in the bed."
        away = RestsOn(as_status(course.away_status or course.status), course.source, "years away")
        found.append(NextStep("rotation", says, _from_year(course, today), (Reason(where, rests_on=away),)))
    if _by_wetness(known):
        why = Reason(f"Common ways to meet it: {course.cultural}.", rests_on=ground)
        says = "Space and a support" if climbs else "Space"
        found.append(NextStep("trellis", f"{says}, so that leaves dry", "before they are planted", (why,)))
    elif "space" in course.cultural:
        why = Reason(f"Common ways to meet it: {course.cultural}.", rests_on=ground)
        found.append(NextStep("space", "Space, for sun and air", "when they are planted", (why,)))
    if "row cover" in course.cultural or any(p.startswith(("net", "fine net")) for p in course.cultural.split("; ")):
        why = Reason(
            "On ground where it did not spend the winter: else it is shut in. Off when flowers need bees.",
            rests_on=ground,
        )
        found.append(
            NextStep(
                "row-cover",
                "A cover from planting on, in another bed" if course.lives_in_soil else "A cover from planting on",
                "on the day of planting",
                (why,),
            )
        )
    found += _before_sowing(known)
    return tuple(found)


SEED_AND_SOIL = {
    "hotwater_seed": ("hot-water-seed", "Buy clean seed, or put your own through hot water", "before it is sown"),
    "solarize": ("solarize", "Clear film over the empty, moist bed", "for four to six weeks about midsummer"),
}
"""What is done to the seed or to the empty ground, by remedy: name, what it is, and when."""


def _before_sowing(known: Trouble) -> list[NextStep]:
    """Hot water for own seed, and the sun under film, for what they help against."""
    steps = []
    for each in remedies_for(known.id) or remedies_for(known.cause):
        if each.remedy not in SEED_AND_SOIL:
            continue
        how = remedies()[each.remedy].facts["crop_cautions"]
        ground = RestsOn(as_status(how.status), how.source, f"{each.remedy}, crop cautions".replace("_", " "))
        steps.append(
            NextStep(*SEED_AND_SOIL[each.remedy], (Reason(f"{how.value[0].upper()}{how.value[1:]}.", rests_on=ground),))
        )
    return steps


def _flies(flown: tuple[date, date] | None) -> str:
    """When the pest comes, by the possible seasons."""
    if flown is None:
        return "when sowing is planned"
    return f"it comes from about {day_words(flown[0])} to {day_words(flown[1])} {flown[1].year}, by warmth"


def _sold_out(today: date, latitude: float) -> date:
    """The day by which resistant kinds are sold out, of the coming winter."""
    gone = midsummer_after(today.toordinal(), latitude) - SELLS_OUT_BEFORE_MIDSUMMER_DAYS
    if gone < today.toordinal():
        gone = midsummer_after(today.toordinal() + 365, latitude) - SELLS_OUT_BEFORE_MIDSUMMER_DAYS
    return date.fromordinal(gone)


def _from_year(course: Course, today: date) -> str:
    """From when hosts may come back, counted from today."""
    assert course.away_years is not None
    low, high = (round(y) for y in course.away_years)
    if low >= FOR_GOOD_YEARS:
        return "when beds are planned"
    low = max(low, 1)
    later = f", better {today.year + high}" if high > low else ""
    return f"not before {today.year + low}{later}"


def _by_wetness(known: Trouble) -> bool:
    """Whether leaves and fruit that dry sooner hinder it. Powdery mildew needs no free water, and no insect does."""
    if not known.category.startswith(("fungus", "oomycete", "bacterium")):
        return False
    against = remedies_for(known.id) or remedies_for(known.cause)
    course = courses().get(known.id) or courses().get(known.cause)
    cultural = course.cultural if course is not None else ""
    return any(a.remedy == "trellis" and "dry" in a.note for a in against) or any(
        word in cultural for word in ("trellis", "stake")
    )


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


def any_of(codes: Iterable[str]) -> str:
    """'Px, Gc or PM', each once."""
    each = list(dict.fromkeys(codes))
    return " or ".join(part for part in (", ".join(each[:-1]), each[-1]) if part)


def winters_in_remains(one: Met) -> bool:
    """Whether a trouble is carried over in what is left of the plants, so that clearing it away helps."""
    course = one.course
    if course is None:
        return False
    return course.away_years is not None or course.lives_in_soil or any(w in course.cultural for w in REMAINS)


def support_helps(one: Met) -> bool:
    """Whether it takes wet leaves and fruit on the ground, so that tying up hinders it."""
    return _by_wetness(one.trouble)


def lay_on_the_ground(garden: Garden, planting: Planting, today: date) -> Met | None:
    """What was found last on plants of the same kind that no support was entered for, and that a support hinders."""
    kind = crop_words(planting.crop).words[0]
    for one in reversed(met(garden, today)):
        if one.day.year < today.year - LAST_SEASONS:
            return None
        if not one.planting or one.planting == planting.id or crop_words(one.crop).words[0] != kind:
            continue
        propped = any(e.kind == "support" for e in garden.entries_of(one.planting))
        if not propped and support_helps(one):
            return one
    return None


def keep_away_years(course: Course) -> str:
    """How long its hosts stay away; '' where that does not help."""
    if course.away_years is None or course.away_years[1] <= 0:
        return ""
    low, high = (round(y) for y in course.away_years)
    if low >= FOR_GOOD_YEARS:
        return "good"
    if low == 0:
        return f"{high} year{'s' if high > 1 else ''}"
    return f"{low} years" if low == high else f"{low} to {high} years"


def wanted_codes(
    entries: Iterable[Entry], crop: str, crop_of: dict[str, str], today: date
) -> dict[str, tuple[str, ...]]:
    """Trouble -> codes, for what was found on this crop, of any use or size, this year and last: what to look for.

    Parameters
    ----------
    crop_of : dict
        Crop by planting.
    """
    found: dict[str, tuple[str, ...]] = {}
    kind = crop_words(crop).words[0]
    for e in entries:
        if e.kind != "found" or e.happened.year < today.year - LAST_SEASONS or e.happened > today:
            continue
        known = troubles().get(str(e.payload.get("trouble", "")).replace("-", "_"))
        if known is None or e.target not in crop_of or crop_words(crop_of[e.target]).words[0] != kind:
            continue
        course = courses().get(known.id) or courses().get(known.cause)
        if course is not None and (mine := codes_for(course, crop)):
            found[known.name] = tuple(mine)
    return found
