"""docs/reference/shares-of-status.md: on what ground the handbook's rows and a year of sheets stand."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, date, datetime
from pathlib import Path

from kailyard.demo import DEMO_DATE
from kailyard.desk.demo import write_demo
from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.documents._parts import Reason
from kailyard.documents.sheet import Sheet
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Fact, Handbook
from kailyard.season.reasons import JUDGEMENT
from kailyard.season.sheet import compose

PAGE = "docs/reference/shares-of-status.md"
STATUSES = ("published", "common practice", "memory")
OURS = "judgement of ours"
BY_USE = "## By use: a year of sheets"
TOLERANCE = 5.0
"""Points by which a share may have moved, and per cent by which a count may have, before the page is written anew."""
USE_TOLERANCE = 10.0
"""Points by which a share by use may have moved: one new kind of work that speaks every week moves it by so much."""
HEAD = """# What the figures rest on

Made from the program by `make docs`; do not edit it here. `published`: seen in a source or in a copy of its table.
`common practice`: a rule of the trade. `memory`: recalled, not checked. `kailyard handbook gaps` ranks what is most
worth finding for your own sheet.

## By rows: the handbook as it ships

Every value counts once, whether a sheet uses it or not. A leg of development counts by its values. Counts may have
moved by a twentieth and shares by five points since the page was made; a check holds it to that.
"""
USE_HEAD = f"""{BY_USE}

The demo garden's sheets of the first of each month through a year from March. Every ground under a line counts, once
a line: a value that ten lines lean on weighs ten times. `computed` are figures worked out from others here, `observed`
the daybook and the weather, `yours` the packets and own facts of that garden. A share may have moved by
{USE_TOLERANCE:g} points since the page was made.
"""


def page() -> str:
    """The whole page."""
    return "\n".join((by_rows(load_handbook()), by_use(shares(figures_of_a_year()))))


def by_rows(book: Handbook) -> str:
    """The first part: every value of the tables counted once."""
    crops = [crop for crop in book.crops if crop not in book.plants]
    groups = {
        "all": _every(book, book.facts, legs=True),
        "facts of crops": _every(book, crops),
        "development of crops": [f for c in crops for leg in book.legs.get(c, ()) for f in leg.facts.values()],
        "plants for bees and butterflies": _every(book, book.plants),
        "work, covers, green manures, soils and water": _every(book, [s for s in book.facts if s not in book.crops]),
    }
    lines = [HEAD, _heads("part", "rows"), *(_row(name, facts) for name, facts in groups.items()), ""]
    lines += ["Crop by crop, the most recalled first:", "", _heads("crop", "rows")]
    each = {crop: _every(book, [crop], legs=True) for crop in crops}
    for crop in sorted(crops, key=lambda c: (-_share(each[c], "memory"), c)):
        lines.append(_row(f"{book.text(crop, 'common_name')} (`{crop}`)", each[crop]))
    return "\n".join([*lines, ""])


def by_use(found: Mapping[str, float]) -> str:
    """The second part, from shares in per cent."""
    order = (*STATUSES, OURS, "computed", "observed", "yours")
    rows = [f"| {name} | {found.get(name, 0.0):.0f} % |" for name in order]
    ground = sum(found.get(name, 0.0) for name in (*STATUSES, OURS))
    of = [f"{100 * found.get(name, 0.0) / ground:.0f} % {name}" for name in (*STATUSES, OURS)]
    said = f"Of what rests on the handbook or on a judgement: {', '.join(of)}."
    return "\n".join([USE_HEAD, "| rests on | share of reasons |", "| --- | ---: |", *rows, "", said, ""])


def shares(counted: Mapping[str, int]) -> dict[str, float]:
    """Counts as per cent of all."""
    whole = sum(counted.values())
    return {name: 100 * n / whole for name, n in counted.items()}


def figures_of_a_year() -> Counter[str]:
    """Reasons under the lines of the demo's sheets, first of month by first of month, by what they rest on."""
    with tempfile.TemporaryDirectory() as folder:
        noon = datetime(DEMO_DATE.year, DEMO_DATE.month, DEMO_DATE.day, 12, tzinfo=UTC)
        desk = Desk(Path(folder) / "garden", clock=lambda: noon)
        try:
            write_demo(desk)
            days = [date(DEMO_DATE.year + (month > 12), (month - 1) % 12 + 1, 1) for month in range(3, 15)]
            found = Counter[str]()
            for day in days:
                found.update(figures(compose(season_view(desk, on=day))))
        finally:
            desk.close()
    return found


def figures(sheet: Sheet) -> Counter[str]:
    """What the reasons of one sheet rest on; the same ground under one line counts once."""
    found: Counter[str] = Counter()
    for part in (sheet.holds, sheet.near, sheet.work, sheet.look, sheet.leave, sheet.changed, sheet.next):
        for line in part:
            grounds = {r.rests_on: None for r in _flat(line.reasons) if r.rests_on is not None}
            judged = {r.says for r in _flat(line.reasons) if r.rests_on == JUDGEMENT}
            found.update(ground.status for ground in grounds if ground != JUDGEMENT)
            found[OURS] += len(judged)
    return found


def _flat(reasons: Iterable[Reason]) -> Iterator[Reason]:
    for reason in reasons:
        yield reason
        yield from _flat(reason.because)


def _every(book: Handbook, subjects: Iterable[str], *, legs: bool = False) -> list[Fact]:
    found = [fact for subject in subjects for fact in book.facts[subject].values()]
    if legs:
        found += [f for s in subjects for leg in book.legs.get(s, ()) for f in leg.facts.values()]
    return found


def _share(facts: list[Fact], status: str) -> float:
    return sum(fact.status == status for fact in facts) / max(len(facts), 1)


def _heads(first: str, second: str) -> str:
    return "\n".join((f"| {first} | {second} | {' | '.join(STATUSES)} |", f"| --- | ---: |{' ---: |' * len(STATUSES)}"))


def _row(name: str, facts: list[Fact]) -> str:
    return f"| {name} | {len(facts)} | {' | '.join(f'{100 * _share(facts, s):.0f} %' for s in STATUSES)} |"
