"""The round as it is walked: what each planting's counts cover, what calls for more, and words that fit the host."""

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest
from gardens import entry, look_ahead, plot

from kailyard.documents.scout import Lookout, Scout
from kailyard.garden.model import Bed, Entry, Planting
from kailyard.handbook.diseases import diseases
from kailyard.handbook.insects import insects, thresholds_of
from kailyard.handbook.looks import all_looks, look_on
from kailyard.handbook.troubles import crop_words, trouble
from kailyard.season.fitting import fitting as answers_of
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView
from kailyard.troubles.counted import acts, judge, read_count, said
from kailyard.troubles.scouting import host_stage, pressing, scout, troubles_of, verdict_on

_A = Planting(id="zucchini-1", crop="zucchini", bed="bed-5", start="sown", count=5, cultivar="Lantern")
_B = Planting(id="squash-1", crop="winter-squash-maxima", bed="bed-5", start="sown", count=7, cultivar="Drum")
_BEGUN = (entry("sow", "zucchini-1", date(2026, 5, 20)), entry("sow", "squash-1", date(2026, 5, 20)))
_DAY = date(2026, 6, 24)


def _view(today: date, *entries: Entry, plantings: tuple[Planting, ...] = (_A, _B)) -> SeasonView:
    mine = tuple(
        e
        for e in (*_BEGUN, *entries)
        if e.happened <= today and e.target in {p.id for p in plantings} | {p.bed for p in plantings}
    )
    return look_ahead(plot(*plantings, entries=mine), today)


def _find(found: Scout, name: str) -> Lookout:
    return next(k for stop in found.stops for k in stop.lookouts if k.trouble == name)


def _count(day: date, target: str = "zucchini-1", **payload: object) -> Entry:
    return entry("count", target, day, **{"trouble": "squash-bug", "looked_at": 5, **payload})


def test_a_count_of_one_planting_covers_that_planting_and_no_other() -> None:
    one = _find(scout(_view(_DAY, _count(_DAY, total=0, what="egg masses"))), "squash-bug")
    # Five of the five zucchini: no doubt is left of them; the squash beside them were not looked at.
    assert "5 of 5 looked at" in one.counts[0]
    assert one.counts[0].startswith("zucchini ‘Lantern’: ")
    assert one.counts[0].endswith("below")
    assert one.due
    both = _find(scout(_view(_DAY, _count(_DAY, "bed-5", total=0, what="egg masses"))), "squash-bug")
    assert "5 of 12 looked at" in both.counts[0]
    assert not both.due


def test_none_on_a_plant_is_none_on_its_stems_and_leaves() -> None:
    # Colorado potato beetle: 1 adult, 1.5 large and 4 small larvae a stem (Penn State). None on ten
    # plants is none on ten stems at least: 0.6 a stem at most, by twice Garwood's 3.0 for a count of none.
    fits = thresholds_of("colorado_potato_beetle")
    seen = read_count(_count(_DAY, trouble="colorado-potato-beetle", looked_at=10, found_on=0), 76)
    judged = judge(seen, fits)
    assert judged is not None
    assert judged[1].verdict == "below"
    assert judged[1].interval.high == pytest.approx(0.6, abs=0.002)
    few = judge(read_count(_count(_DAY, looked_at=2, found_on=0), 76), fits)
    assert few is not None
    assert few[1].verdict == "undecided"
    # Some found on plants says nothing of how many there are on a stem: it is said what to count.
    some = read_count(_count(_DAY, looked_at=10, found_on=3), 76)
    assert judge(some, [t for t in fits if t.low is not None and t.unit == "per stem"]) is None
    assert "adults or large larvae or small larvae" in said([some], [t for t in fits if t.unit == "per stem"])[0]


def test_hornworms_are_acted_on_at_sight() -> None:
    # Reference: 'larvae seen, 1 per plant, hand-pick at once': one on twelve plants is one to pick off.
    fits = thresholds_of("tomato_hornworm")
    one = read_count(_count(_DAY, trouble="tomato-hornworm", looked_at=12, found_on=1), 12)
    none = read_count(_count(_DAY, trouble="tomato-hornworm", looked_at=12, found_on=0), 12)
    assert "on sight" in acts([one], fits)
    assert acts([none], fits) == ""
    assert "on sight" in said([one], fits)[0]


def test_a_count_above_leads_on_and_the_sheet_has_its_line_until_something_was_put_on() -> None:
    many = _count(_DAY, "zucchini-1", total=9, found_on=4, what="egg masses")
    view = _view(_DAY + timedelta(days=1), many)
    act = _find(scout(view), "squash-bug").act
    assert [(a.planting, a.on) for a in act] == [("zucchini-1", _DAY)]
    name = f"options/zucchini-1/squash-bug/{_DAY.isoformat()}"
    line = next(line for line in compose(view, whole=True).look if line.name == name)
    assert "worth acting from 1 on" in line.detail
    assert "zucchini ‘Lantern’" in line.says
    treated = _view(_DAY + timedelta(days=1), many, entry("treat", "zucchini-1", _DAY, trouble="squash-bug"))
    assert not [k for k in compose(treated, whole=True).look if k.name.startswith("options/")]
    below = _view(_DAY + timedelta(days=1), many, _count(_DAY + timedelta(days=1), total=0, what="egg masses"))
    assert _find(scout(below), "squash-bug").act == ()


def test_undecided_asks_for_more_plants_and_leads_nowhere_yet() -> None:
    some = _find(scout(_view(_DAY, _count(_DAY, "bed-5", looked_at=3, total=4, what="egg masses"))), "squash-bug")
    assert "undecided" in some.counts[0]
    assert some.act == ()
    assert 3 < some.look_at <= 12


def test_natural_enemies_change_what_is_advised() -> None:
    plain = _count(_DAY, "bed-5", looked_at=12, total=30, found_on=9, what="egg masses")
    spared = replace(plain, payload={**plain.payload, "enemies": "tachinid flies"})
    alone, together = (_find(scout(_view(_DAY, e)), "squash-bug") for e in (plain, spared))
    assert together.next_look < alone.next_look
    assert together.act[0].enemies == "tachinid flies"
    assert any("look again in a few days" in line for line in together.counts)
    detail = next(k for k in compose(_view(_DAY, spared), whole=True).look if k.name.startswith("options/")).detail
    assert "Seen with it: tachinid flies" in detail


def _corn(today: date, *entries: Entry) -> SeasonView:
    corn = Planting(id="corn-1", crop="sweet-corn", bed="bed-8", start="sown", count=60)
    begun = (entry("sow", "corn-1", date(2026, 5, 1)), *entries)
    return look_ahead(plot(corn, entries=begun), today)


def _close_days() -> list[date]:
    days = [date(2026, 5, 20) + timedelta(days=d) for d in range(60)]
    return [d for d in days if any(k.due and k.effort == "closely" for _, k in pressing(_corn(d)))]


def test_done_on_the_sheet_is_an_entry_that_ends_the_round_where_nothing_was_found() -> None:
    day = _close_days()[0]
    view = _corn(day)
    line = next(k for k in compose(view, whole=True).look if k.name == "scout/round")
    made = answers_of(line.name, line.of, "done", view.garden)
    assert [(fit.kind, fit.target, fit.asks) for fit in made] == [("round", "bed-8", "found")]
    walked = entry("round", "bed-8", day, sound=True)
    found = entry("round", "bed-8", day, sound=False, found="small holes")
    assert not any(k.name == "scout/round" for k in compose(_corn(day, walked), whole=True).look)
    assert any(k.name == "scout/round" for k in compose(_corn(day, found), whole=True).look)
    # It comes again by the days that the source has, while the step of life is near.
    later = [d for d in (day + timedelta(days=n) for n in range(1, 8)) if d in _close_days()]
    again = [d for d in later if any(k.due and k.effort == "closely" for _, k in pressing(_corn(d, walked)))]
    assert not again or min(again) >= day + timedelta(days=4)


def test_a_borer_of_corn_is_not_looked_for_in_the_ears_of_beans() -> None:
    bean = look_on("european_corn_borer", crop_words("snap-bean-bush"))
    assert bean is not None
    assert not re.search(r"\bears?\b|tassel|pepper", f"{bean.where} {bean.how}")
    # Iowa State: its eggs come to beans about the time of bloom, so young beans are not asked about.
    assert "young" not in bean.host_stages


_PARTS = {
    **{part: {"corn"} for part in ("ear", "ears", "silk", "tassel", "whorl")},
    **{part: {"potato"} for part in ("tuber", "tubers")},
    **{part: {"bean", "pea", "okra", "pepper"} for part in ("pod", "pods")},
    **{part: {"asparagus"} for part in ("spears", "fern")},
    **{part: {"pepper"} for part in ("cap", "caps")},
    "truss": {"tomato"},
    "vining": {"squash", "melon", "cucumber", "pumpkin", "watermelon"},
}
_CROPS = (
    *(
        "corn",
        "pepper",
        "bean",
        "tomato",
        "squash",
        "potato",
    ),
    *(
        "cabbage",
        "spinach",
        "strawberry",
        "cucumber",
        "onion",
        "lettuce",
    ),
    *(
        "pea",
        "asparagus",
    ),
)
_GROWN = (
    *(
        "sweet-corn",
        "snap-bean-bush",
        "snap-bean-pole",
        "pepper-sweet",
        "tomato-determinate",
        "potato",
    ),
    *(
        "zucchini",
        "cucumber",
        "cabbage",
        "kale",
        "radish",
        "carrot",
    ),
    *(
        "beet",
        "onion",
        "garlic",
        "leek",
        "spinach",
        "chard",
    ),
    *(
        "lettuce-leaf",
        "pea",
        "asparagus",
        "strawberry",
        "melon",
        "pumpkin",
    ),
    *("eggplant",),
)


@pytest.mark.parametrize("crop", _GROWN)
def test_no_host_is_told_to_look_on_parts_or_crops_that_it_is_not(crop: str) -> None:
    words = crop_words(crop)
    assert troubles_of(crop)
    for id_ in troubles_of(crop):
        look, insect = look_on(id_, words), insects().get(id_)
        text = f"{insect.where_to_look} {insect.how_to_look}" if insect else diseases()[id_].first_seen_where
        if look and look.where:
            text = f"{look.where} {look.how}"
        for token in re.findall(r"[a-z]+", text.lower()):
            for named in _CROPS:
                assert token not in (named, f"{named}s", f"{named}es") or named in words.words, (id_, token, text)
            assert token not in _PARTS or _PARTS[token] & set(words.words), (id_, token, text)


def test_what_both_tables_have_is_looked_for_once() -> None:
    for crop in _GROWN:
        names = [trouble(id_).cause or id_ for id_ in troubles_of(crop)]
        assert names.count("root_knot") <= 1, crop


def test_every_row_of_looks_by_crop_keeps_its_mark() -> None:
    for one in all_looks():
        assert one.status in ("published", "common practice", "memory"), one
        assert one.source
        assert set(one.host_stages) <= {"young", "growing", "flowering", "bearing"}
        assert one.where or one.host_stages, f"{one.trouble}: the row says nothing"


def test_diseases_of_fruiting_plants_wait_for_their_stage_and_say_so() -> None:
    early = scout(_view(date(2026, 6, 10), plantings=(_A,)))
    assert not any(k.trouble == "powdery-mildew-cucurbit" for s in early.stops for k in s.lookouts)
    assert any("powdery mildew" in line and "once they flower" in line for line in early.not_yet)
    found = entry("found", "zucchini-1", date(2026, 6, 9), trouble="powdery-mildew-cucurbit")
    assert _find(scout(_view(date(2026, 6, 10), found, plantings=(_A,))), "powdery-mildew-cucurbit").effort == "closely"


def test_a_disease_of_tunnels_is_looked_for_under_cover_only() -> None:
    tomato = Planting(id="tomato-1", crop="tomato-determinate", bed="bed-1", start="raised", count=6)
    begun = (entry("sow", "tomato-1", date(2026, 4, 1)), entry("set-out", "tomato-1", date(2026, 5, 25)))
    garden = plot(tomato, entries=begun)
    for cover, there in (("none", False), ("tunnel", True)):
        bed = Bed("bed-1", "bed 1", 4, 1.2, cover=cover)  # type: ignore[arg-type]  # one of the two words
        found = scout(look_ahead(replace(garden, beds={**garden.beds, "bed-1": bed}), date(2026, 7, 20)))
        assert any(k.trouble == "leaf-mold-tomato" for s in found.stops for k in s.lookouts) is there


def test_weather_for_a_disease_is_a_reason_to_look() -> None:
    day = date(2026, 7, 10)
    plain, told = (
        scout(_view(day)),
        scout(_view(day), weather={"downy_mildew_cucurbit": "weather for it, 6 in 10 on Mon"}),
    )
    assert _find(plain, "downy-mildew-cucurbit").effort == "in passing"
    lifted = _find(told, "downy-mildew-cucurbit")
    assert lifted.effort == "as usual"
    assert "6 in 10" in lifted.why


def test_the_verdict_of_a_planting_is_that_of_the_count_that_covers_it_last() -> None:
    # 9 egg masses on the 5 zucchini, above 1 a plant. None on all 12 of the bed a day later: below.
    many = _count(_DAY, "zucchini-1", total=9, found_on=4, what="egg masses")
    none = _count(_DAY + timedelta(days=1), "bed-5", looked_at=12, total=0, what="egg masses")
    today = _DAY + timedelta(days=1)
    first, both = _view(today, many), _view(today, many, none)
    assert [verdict_on(first, first.lives[id_], {"squash_bug"}) for id_ in ("zucchini-1", "squash-1")] == ["above", ""]
    assert [verdict_on(both, both.lives[id_], {"squash_bug"}) for id_ in ("zucchini-1", "squash-1")] == ["below"] * 2


def test_as_many_plants_are_asked_for_as_the_words_say_and_never_more_than_stand() -> None:
    potato = Planting(id="potato-1", crop="potato", bed="bed-7", start="planted", count=40)
    begun = entry("plant", "potato-1", date(2026, 4, 20))
    many = scout(look_ahead(plot(potato, entries=(begun,)), date(2026, 6, 24)))
    assert _find(many, "european-corn-borer").look_at == 15  # "look over 15 plants" (Maine: 1 egg mass in 15 plants)
    few = scout(look_ahead(plot(replace(potato, count=6), entries=(begun,)), date(2026, 6, 24)))
    assert _find(few, "european-corn-borer").look_at == 6


def test_what_comes_again_each_year_is_not_young_in_high_summer() -> None:
    bed = Planting(id="asparagus-1", crop="asparagus", bed="bed-9", start="planted", count=10)
    view = look_ahead(plot(bed, entries=(entry("plant", "asparagus-1", date(2021, 4, 20)),)), date(2026, 7, 25))
    assert host_stage(view, view.lives["asparagus-1"]) != "young"
    assert not any(k.trouble == "cutworms" for s in scout(view).stops for k in s.lookouts)
