"""Climate normals as a service states them, with the garden's own means of the same years beside them."""

from __future__ import annotations

import calendar
import re

from kailyard.desk.desk import Desk
from kailyard.desk.weather_aside import in_use
from kailyard.documents.table import Table
from kailyard.garden.model import Garden
from kailyard.publish.units import figure
from kailyard.weather.normals import FEWEST_OF_A_MONTH, Normals, OwnMeans, own_means
from kailyard.weather.record import merge

COLUMNS = ("month", "low", "own low", "high", "own high", "rain", "own rain")
_YEARS = re.compile(r"(\d{4})\D+(\d{4})")


def normals_kept(desk: Desk) -> tuple[Table, ...]:
    """Every station's stated normals."""
    garden = desk.garden()
    return tuple(normals_beside(desk, garden, kept.normals) for kept in desk.store.normals())


def normals_beside(desk: Desk, garden: Garden, normals: Normals) -> Table:
    """Stated means by month, and the own record's of the same years where it has enough of them."""
    records, years = in_use(desk, garden.entries), _YEARS.search(normals.period)
    own = own_means(merge(records), int(years[1]), int(years[2])) if records and years else None
    columns = COLUMNS if own and own.years else ("month", "low", "high", "rain")
    stated = (normals.tmin_c, normals.tmax_c, normals.rain_mm)
    rows = []
    for m in range(12):
        cells = [calendar.month_name[m + 1]]
        for k, unit in enumerate(("°C", "°C", "mm")):
            cells.append(_said(stated[k][m], unit, garden))
            if own and own.years:
                cells.append(_said((own.tmin_c, own.tmax_c, own.rain_mm)[k][m], unit, garden))
        rows.append(tuple(cells))
    notes = ("Stated means, to compare with; no odds are made from them.", _own_words(own), normals.credit)
    title = f"Climate normals {normals.period} of {normals.station}"
    return Table(title, columns, tuple(rows), tuple(note for note in notes if note))


def _own_words(own: OwnMeans | None) -> str:
    if own is None:
        return ""
    if not own.years:
        return f"The own record has no month in {FEWEST_OF_A_MONTH} of these years, so no own means stand beside them."
    return (
        f"Own: means of your record over the same years, {own.years} of them at least for each month said. Where they "
        "lie steadily apart, the place differs, or the hour at which the day is read."
    )


def _said(value: float | None, unit: str, garden: Garden) -> str:
    return "" if value is None else figure(value, unit, garden.units)
