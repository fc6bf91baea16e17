"""Visits in words: who will be here when, and how much time there is."""

from __future__ import annotations

from kailyard.documents.sheet import Sheet, Visit
from kailyard.publish import words


def visits(sheet: Sheet) -> str:
    """'Visits: Sun 14 June, 2 people for 3 h, open day; next Sat 20 June'."""
    here = [visit for visit in sheet.visits if visit.day <= sheet.last]
    then = [visit for visit in sheet.visits if visit.day > sheet.last]
    said = [_said(visit) for visit in here]
    if then:
        said.append(f"next {_said(then[0])}" if here else f"nobody before {_said(then[0])}")
    return f"Visits: {'; '.join(said)}"


def time(sheet: Sheet) -> str:
    """'; there are 6 h'; '' where nobody said how long the visits last."""
    return "" if sheet.time is None else f"; there {'is' if sheet.time < 120 else 'are'} {words.duration(sheet.time)}"


def _said(visit: Visit) -> str:
    parts = [words.day_of_week(visit.day)]
    people = "1 person" if visit.hands == 1 else f"{visit.hands} people"
    if visit.minutes is not None and visit.hands:
        parts.append(f"{people} for {words.duration(visit.minutes / visit.hands)}")
    elif visit.hands != 1:
        parts.append(people)
    if visit.what:
        parts.append(words.clean(visit.what))
    return ", ".join(parts)
