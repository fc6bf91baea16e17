"""hypothesis strategies: entries of every kind, and whole daybooks with chains of corrections. All invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from hypothesis import strategies as st

from kailyard.garden.identifiers import name_problem, text_problem
from kailyard.garden.model import Entry

BEDS = ("bed-1", "bed-2", "bed-3")
PLANTINGS = ("pea-1", "pea-2", "leek-1")
GARDEN = Entry(
    "garden-0",
    "garden",
    1,
    date(2026, 1, 1),
    datetime(2026, 1, 1, tzinfo=UTC),
    payload={"name": "Nether Wold", "latitude": 51.0, "longitude": 4.5},
)

names = st.text(min_size=1, max_size=12).filter(lambda t: not name_problem(t))
texts = st.text(max_size=20).filter(lambda t: not text_problem(t))
days = st.dates(date(2025, 1, 1), date(2026, 12, 31))
moments = st.integers(0, 5000).map(lambda n: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=n))
shares = st.floats(0, 1)
celsius = st.floats(-40, 45)
json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | st.floats(allow_nan=False, allow_infinity=False) | texts,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=6,
)


def some(**optional: st.SearchStrategy[object]) -> st.SearchStrategy[dict[str, object]]:
    return st.fixed_dictionaries({}, optional=optional)


def said(kind: str, target: st.SearchStrategy[str], payload: st.SearchStrategy[dict[str, object]], **more: object):
    fixed = {key: value if isinstance(value, st.SearchStrategy) else st.just(value) for key, value in more.items()}
    return st.builds(
        Entry,
        id=st.just("x"),
        kind=st.just(kind),
        version=st.just(1),
        happened=days,
        written=moments,
        who=st.just("") | names,
        target=target,
        payload=payload,
        **{"text": texts, **fixed},
    )


plantings = st.sampled_from(PLANTINGS)
beds = st.sampled_from(BEDS)
nowhere = st.just("")
things = plantings | beds
KINDS = {
    "bed": said(
        "bed",
        beds,
        st.fixed_dictionaries(
            {"name": names, "length_m": st.floats(0.5, 30), "width_m": st.floats(0.5, 3)},
            optional={"height_m": st.floats(0, 2), "perennial": st.booleans(), "removed": st.booleans()},
        ),
    ),
    "cultivar": said(
        "cultivar",
        nowhere,
        st.fixed_dictionaries(
            {"crop": st.sampled_from(("pea", "leek")), "name": st.sampled_from(("Early 'Owl'", "Tall Tam"))},
            optional={
                "days_to_maturity": st.floats(20, 200),
                "resistance": st.lists(names, max_size=2),
                "removed": st.booleans(),
            },
        ),
    ),
    "planting": said(
        "planting",
        plantings,
        st.fixed_dictionaries(
            {"crop": st.sampled_from(("pea", "leek")), "bed": beds, "start": st.sampled_from(("sown", "raised"))},
            optional={"count": st.integers(1, 500), "planned": days.map(str), "note": texts, "removed": st.booleans()},
        ),
    ),
    "sow": said("sow", plantings, some(under_cover=st.booleans())),
    "stage": said(
        "stage",
        plantings,
        st.fixed_dictionaries(
            {"stage": st.sampled_from(("emerged", "first-flower"))},
            optional={"state": st.sampled_from(("seen", "not yet")), "share": shares},
        ),
    ),
    "pick": said("pick", plantings, some(last=st.booleans()), quantity=st.floats(0, 50), unit="kg"),
    "look": said("look", things, some(found=texts, sound=st.none() | st.booleans(), next_look=days.map(str))),
    "hurt": said("hurt", plantings, st.fixed_dictionaries({"cause": st.just("frost"), "share": shares})),
    "rain": said("rain", nowhere, some(), quantity=st.floats(0, 90), unit="mm"),
    "soil-temperature": said(
        "soil-temperature", nowhere | beds, some(depth_cm=st.floats(0, 50)), quantity=st.floats(-5, 35), unit="°C"
    ),
    "air-temperature": said("air-temperature", nowhere, st.fixed_dictionaries({"tmin_c": celsius})),
    "weather-aside": said("weather-aside", nowhere, st.fixed_dictionaries({"record": st.just("3f9c2a71")})),
    "weather-left": said(
        "weather-left",
        nowhere,
        st.fixed_dictionaries(
            {"record": st.just("own-gauge"), "first": st.just("2026-05-01"), "last": st.just("2026-05-02")}
        ),
    ),
    "note": said("note", nowhere | things, some(), text=names),
    "moon-phase": said("moon-phase", nowhere | things, st.dictionaries(texts, json_values, max_size=3)),
}
"""By kind; 'moon-phase' is unknown to the program."""


@st.composite
def daybooks(draw: st.DrawFn, *, most: int = 25) -> list[Entry]:
    """A garden's entries: the garden itself, then any, some of them superseding or withdrawing others or nothing."""
    drawn = draw(st.lists(st.one_of(*KINDS.values()), max_size=most))
    entries = [GARDEN]
    for n, entry in enumerate(drawn):
        named = draw(st.just("") | st.sampled_from([f"e{k}" for k in range(max(1, len(drawn)))]))
        named = "" if named == f"e{n}" else named
        if named and draw(st.integers(0, 4)) == 0:
            entry = said_as_withdrawal(entry)
        entries.append(replace(entry, id=f"e{n}", supersedes=named))
    return entries


def said_as_withdrawal(entry: Entry) -> Entry:
    return replace(entry, kind="withdraw", payload={}, quantity=None, unit="")
