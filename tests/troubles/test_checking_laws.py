"""Laws of the checking: a reason against never helps, unknown never becomes yes, no forecast allows no hour."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from spraying import FIT, NOW, TODAY, WHOLE, at, case, record, treated, weather

from kailyard.documents._parts import RestsOn
from kailyard.garden.entries.label import MAY_BE_SILENT
from kailyard.troubles.case import QUESTIONS, Weather
from kailyard.troubles.checking import check
from kailyard.troubles.spray_hours import next_fit, spray_hours
from kailyard.troubles.verdict import STERNNESS, Finding, verdict

ANSWERS = sorted(STERNNESS)
GROUND = RestsOn("memory", "made up", "")
ACTIVES = ("sulfur", "mineral oil", "copper octanoate", "spinosad", "essence of moonlight")
BLANK = {"crops": (), "troubles": (), "active": "", "number": "", "registered_in": "", "days_to_picking": None,
         "entry_hours": None, "most_uses": None, "least_interval_days": None, "temp_max_c": None, "group": "",
         "organic": None, "none_stated": ()}  # fmt: skip

findings = st.builds(
    Finding,
    check=st.sampled_from(("a", "b", "c")),
    answer=st.sampled_from(ANSWERS),
    says=st.just("x"),
    rests_on=st.just(GROUND),
    until=st.one_of(st.none(), st.integers(0, 100).map(lambda h: NOW + timedelta(hours=h))),
    beside=st.booleans(),
)


def stern(answer):
    return STERNNESS[answer]


@given(st.lists(findings), findings)
def test_one_reason_more_never_makes_it_more_permissive(some, one):
    before, after = verdict(some), verdict([*some, one])
    if one.answer != "may" and not one.beside and before.answer != "unknown":
        assert stern(after.answer) <= stern(before.answer)
    if some and any(not f.beside for f in some):
        assert stern(after.answer) <= stern(before.answer)


@given(st.lists(findings))
def test_may_is_said_only_where_every_finding_says_so(some):
    counted = [f for f in some if not f.beside]
    assert (verdict(some).answer == "may") == (bool(counted) and all(f.answer == "may" for f in counted))


@given(st.permutations(ANSWERS))
def test_never_stands_above_not_now_above_unknown_above_may(order):
    some = [Finding("a", a, "x", GROUND) for a in order]
    assert [verdict(some[n:]).answer for n in range(1)] == ["never"]
    assert stern("never") < stern("not now") < stern("unknown") < stern("may")


@given(st.lists(findings, min_size=1))
def test_an_end_is_named_only_where_every_not_now_has_one(some):
    found = verdict(some)
    if found.until is not None:
        ends = [f.until for f in some if f.answer == "not now" and not f.beside]
        assert found.answer == "not now"
        assert None not in ends
        assert found.until == max(ends)


@given(st.sets(st.sampled_from(sorted(BLANK)), min_size=1))
def test_blanking_a_fact_of_the_label_never_makes_it_more_permissive(names):
    blanked = record(**{"none_stated": WHOLE.none_stated, **{n: BLANK[n] for n in names}})
    found = check(case(record=blanked))
    assert found.answer != "may"
    assert stern(found.answer) <= stern("unknown")


@given(st.sampled_from(sorted(QUESTIONS)), st.booleans())
def test_an_answer_on_the_spot_that_is_missing_is_never_yes(key, refused):
    seen = {k: True for k in QUESTIONS if k != key}
    if refused:
        seen[key] = False
    assert check(case(spot=seen)).answer != "may"


treatments = st.lists(
    st.builds(
        lambda days, active, known, n: treated(
            TODAY - timedelta(days=days), record(name=active, active=active) if known else None, entry=f"t{n}"
        ),
        st.integers(1, 120),
        st.sampled_from(ACTIVES),
        st.booleans(),
        st.integers(0, 10**6),
    ),
    max_size=5,
)


@settings(deadline=None, max_examples=60)
@given(treatments, treatments.filter(bool))
def test_one_more_treatment_of_the_past_never_makes_it_more_permissive(some, more):
    """But for the change of group alone: a spray of another group between two is what that rule asks for."""

    def answers(these):
        ordered = tuple(sorted(these, key=lambda t: t.day))
        found = check(case(treatments=ordered))
        return verdict(f for f in found.findings if f.check != "change of group").answer

    assert stern(answers([*some, more[0]])) <= stern(answers(some))


@settings(deadline=None, max_examples=40)
@given(treatments, st.integers(1, 120))
def test_one_more_of_the_same_or_an_unknown_group_never_helps_the_change_of_group(some, days):
    def answer(these):
        found = check(case(treatments=tuple(sorted(these, key=lambda t: t.day))))
        return verdict(f for f in found.findings if f.check == "change of group").answer

    day = TODAY - timedelta(days=days)
    for one in (treated(day, record(), entry="more"), treated(day, None, entry="more")):
        assert stern(answer([*some, one])) <= stern(answer(some))


@settings(deadline=None, max_examples=30)
@given(st.integers(0, 23), st.sets(st.sampled_from(("temp_c", "humidity_pct", "wind_m_s", "rain_mm")), min_size=1))
def test_an_hour_of_which_anything_is_unknown_is_never_fit(hour, lacking):
    known = weather()
    when = at(TODAY, hour)
    one = replace(known.hours[when], **dict.fromkeys(lacking))
    made = case(weather=replace(known, hours={**known.hours, when: one}), record=record(temp_min_c=10.0))
    (found,) = spray_hours(made, [when])
    assert found.answer != "may"


def test_without_a_forecast_no_hour_is_allowed():
    made = case(weather=Weather({}, {}, {}, {}))
    hours = [at(TODAY, h) for h in range(72)]
    assert {h.answer for h in spray_hours(made, hours)} <= {"unknown", "never", "not now"}
    assert next_fit(made, hours) is None
    assert check(replace(made, hour=None)).answer == "unknown"


def test_beyond_the_forecast_everything_is_unknown():
    known = weather(days=2)
    made = case(weather=known, spot={})
    states = spray_hours(made, [at(TODAY, 15), at(TODAY, 24 + 15), at(TODAY, 72 + 15)])
    assert [s.answer for s in states] == ["may", "may", "unknown"]
    assert states[-1].state == "unknown"


def test_the_next_fit_hour_is_the_first_after_the_heat():
    known = weather()
    hot = {TODAY: 36.0, TODAY + timedelta(days=1): 36.0}
    made = case(weather=replace(known, tmax_c={**known.tmax_c, **hot}), spot={})
    hours = [h for h in sorted(known.hours) if h >= NOW]
    fit = next_fit(made, hours)
    assert fit is not None
    assert fit.date() == TODAY + timedelta(days=2)
    assert check(replace(made, hour=FIT)).answer == "not now"
    assert check(replace(made, hour=fit, day=fit.date())).answer == "unknown", "what is seen on the spot is still asked"


def test_every_fact_that_may_be_silent_is_a_field_of_the_label():
    assert set(MAY_BE_SILENT) <= {f.name for f in fields(WHOLE)}
