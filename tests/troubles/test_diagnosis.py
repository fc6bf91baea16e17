"""A diagnosis as its page says it."""

from __future__ import annotations

from datetime import date

import pytest

from kailyard.documents.diagnosis import Diagnosis
from kailyard.handbook.signs import causes, how_often, report_first, samples, signs
from kailyard.handbook.troubles import troubles
from kailyard.publish import render
from kailyard.troubles.diagnosis import Heading, Question, diagnose, span, word
from kailyard.troubles.leanings import Setting
from kailyard.troubles.weighing import Answer

HEAD = Heading("Nether Wold", date(2026, 7, 10), "metric", "zucchini-1", "zucchini", "bed 3")


def asked(
    crop: str, *, yes: str = "", no: str = "", unclear: str = "", seen: date | None = None, **proposed: str
) -> Diagnosis:
    answers: dict[str, Answer] = {
        **dict.fromkeys(yes.split(), "yes"),
        **dict.fromkeys(no.split(), "no"),
        **dict.fromkeys(unclear.split(), "can't tell"),
    }
    return diagnose(Question(answers, Setting(crop), proposed, seen), HEAD)


def test_chances_are_said_in_words_and_ranges_never_in_per_cent() -> None:
    assert [word(c) for c in (0.95, 0.8, 0.6, 0.2, 0.05)] == [
        "very likely", "very likely", "likely", "possible", "unlikely",
    ]  # fmt: skip
    assert span(0.2, 0.7) == "possible to likely"
    assert span(0.85, 0.95) == "very likely"
    text = render(asked("zucchini", yes="white_powder_upper old_leaves_first"), "text")
    assert "%" not in text


def test_what_is_normal_says_that_there_is_nothing_to_do() -> None:
    found = asked("zucchini", yes="no_small_fruit_behind_flower flowers_drop plant_thrives")
    assert (found.causes[0].id, found.causes[0].harmless) == ("male-flowers-first", True)
    assert found.causes[0].do_now == "nothing to do"
    assert "nothing to do" in render(found, "text")
    assert found.sample is None


def test_nodules_and_mottle_are_not_taken_for_trouble() -> None:
    assert asked("pea", yes="root_galls lumps_rub_off plant_thrives").causes[0].id == "legume-nodules"
    assert (
        asked("zucchini", yes="silver_along_veins_symmetric", no="white_powder_upper").causes[0].id == "natural-mottle"
    )


def test_evidence_says_what_speaks_for_and_against_with_its_ground() -> None:
    found = asked("cucumber-slicing", yes="angular_spots fuzz_underside after_wet", no="white_powder_upper")
    first, second = found.causes[:2]
    assert first.id == "downy-mildew-cucurbit"
    fuzz = next(s for s in first.speaks_for if s.sign == "fuzz-underside")
    assert (fuzz.strength, fuzz.rests_on.status) == ("strongly", "published")
    assert "Colucci" in fuzz.rests_on.source
    assert second.id == "angular-leaf-spot"
    assert "fuzz-underside" in {s.sign for s in second.speaks_against}


def test_the_next_sign_is_one_that_parts_the_rivals() -> None:
    found = asked("tomato-determinate", yes="strap_narrow twist_down new_growth_first many_families")
    assert {c.id for c in found.causes[:2]} == {"gr-drift", "gr-residue"}
    assert {"after-manure-mulch", "spray-season"} & {n.sign for n in found.next}
    answered = {a.sign for a in found.answered}
    assert not answered & {n.sign for n in found.next}


def test_cannot_tell_is_not_asked_again() -> None:
    before = asked("zucchini", yes="wilt_day_recover")
    first = before.next[0].sign
    after = asked("zucchini", yes="wilt_day_recover", unclear=first.replace("-", "_"))
    assert first not in {n.sign for n in after.next}
    assert [c.id for c in after.causes] == [c.id for c in before.causes]


def test_the_bioassay_is_named_where_residue_is_suspected() -> None:
    found = asked("tomato-determinate", yes="strap_narrow cup_up new_growth_first many_families after_manure_mulch")
    assert found.causes[0].id == "gr-residue"
    (test,) = found.causes[0].settles
    assert test.how == "bioassay"
    assert "beans" in test.what
    assert any("advise against eating" in caution for caution in found.cautions)


@pytest.mark.parametrize("cause", sorted(report_first()))
def test_what_is_regulated_says_report_first(cause: str) -> None:
    telling = {
        "bacterial_canker": ("tomato-determinate", "birds_eye_fruit one_side_of_plant leaf_edges_tips"),
        "leaf_curl_virus": ("tomato-determinate", "cup_up stunted new_growth_first flowers_drop uniform_yellow"),
        "bacterial_wilt_solanaceous": ("tomato-determinate", "wilt_sudden_stays ooze_threads vascular_brown"),
        "clubroot": ("cabbage", "root_galls stunted wilt_day_recover"),
        "japanese_beetle": ("rose", "beetles_seen lace_leaf"),
        "late_blight": ("tomato-determinate", "water_soaked_greasy fuzz_underside after_wet fruit_firm_brown"),
        "tobamovirus": ("tomato-determinate", "mosaic_mottle strap_narrow along_row"),
        "white_rot": ("garlic", "fluffy_white_mould hard_black_bodies stem_base_rot"),
    }
    crop, yes = telling[cause]
    found = asked(crop, yes=yes)
    mine = next(c for c in found.causes if c.id == cause.replace("_", "-"))
    assert mine.report == report_first()[cause].says
    assert "Report first" in render(found, "text", width=400)


def test_a_sample_has_its_last_day_and_says_when_it_may_be_too_late() -> None:
    signs = "mosaic_mottle stunted"
    fresh = asked("tomato-determinate", yes=signs, seen=date(2026, 7, 6)).sample
    late = asked("tomato-determinate", yes=signs, seen=date(2026, 5, 1)).sample
    unknown = asked("tomato-determinate", yes=signs).sample
    assert fresh
    assert late
    assert unknown
    assert fresh.by == date(2026, 7, 6 + samples()["virus"].days)
    assert "too late" not in fresh.says
    assert late.says.startswith("It may be too late")
    assert unknown.by is None


def test_asking_stops_when_enough_is_known_and_when_nothing_helps() -> None:
    sure = asked("zucchini", yes="frass stem_hollow wilt_day_recover scattered_single caterpillars_seen")
    assert sure.causes[0].id == "squash-vine-borer"
    assert sure.stop.startswith("Enough is known")
    assert sure.sample is None
    odd = asked(
        "tomato-determinate",
        yes="tuber_green ears_stripped slime thin_spears bulb_split rust_pustules lace_leaf web",
        no="old_leaves_first new_growth_first plant_thrives one_host_group stunted",
    )
    assert "send a sample" in odd.stop
    assert "other" in {c.id for c in odd.causes[:2]}


def test_what_the_record_proposes_is_marked_and_the_gardener_stands_above_it() -> None:
    plain = asked("tomato-determinate", yes="strap_narrow")
    said = asked("tomato-determinate", yes="strap_narrow", many_families="the daybook has bean-1 hit in the same days")
    against = asked(
        "tomato-determinate", yes="strap_narrow", no="many_families", many_families="the daybook has bean-1"
    )
    (one,) = [a for a in said.answered if a.sign == "many-families"]
    assert (one.answer, bool(one.proposed)) == ("yes", True)
    (two,) = [a for a in against.answered if a.sign == "many-families"]
    assert (two.answer, two.proposed) == ("no", "")
    where = [[c.id for c in d.causes].index("gr-drift") for d in (said, plain)]
    assert where[0] <= where[1]
    assert where[0] < 2


def test_a_bitter_squash_and_a_green_potato_are_not_called_safe() -> None:
    squash = asked("zucchini", yes="bitter_taste").causes[0]
    assert squash.id == "bitter-fruit"
    assert "not even cooked" in squash.eat
    assert squash.eat_rests_on is not None
    assert squash.eat_rests_on.status == "published"
    potato = asked("potato", yes="tuber_green").causes[0]
    assert potato.id == "green-tubers"
    assert "none for small children" in potato.eat


def test_without_an_answer_it_says_what_the_order_is() -> None:
    found = asked("tomato-determinate")
    assert found.firm.startswith("Nothing is answered yet")
    assert len(found.causes) >= 3
    assert found.sample is None
    assert all(not c.speaks_for and not c.speaks_against for c in found.causes)


@pytest.mark.parametrize("cause", causes())
def test_every_cause_leads_when_all_that_it_always_and_often_shows_is_seen(cause: str) -> None:
    """On its own host, every sign with these words said: the cause is among the first three.

    Salt burn has no sign of its own in the table (brown edges, as drought and cold make them): it is among those shown.
    """
    yes = " ".join(s for s in signs() if how_often(cause, s) in ("always", "often"))
    crop = next((h for h in troubles()[cause].hosts if not h.startswith(("all", "most"))), "tomato")
    found = asked(crop.removesuffix(" most"), yes=yes)
    assert troubles()[cause].slug in [c.id for c in found.causes[: 6 if cause == "salt_burn" else 3]]
