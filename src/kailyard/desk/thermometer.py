"""What the garden's own thermometer has taught: how its nights differ from the station's, and how surely."""

from __future__ import annotations

from kailyard.desk.desk import Desk
from kailyard.desk.station_record import station_record
from kailyard.desk.view import garden_nights
from kailyard.documents.table import Table
from kailyard.errors import DataError
from kailyard.publish.units import figure
from kailyard.units import in_running_text
from kailyard.weather.garden import COLD_NIGHT_C, PRIOR_NIGHTS, SEASONS

COLUMNS = ("the night's lowest, garden against station", "by")


def thermometer(desk: Desk) -> Table | None:
    """What it has taught; None where there is no record to set it against."""
    garden = desk.garden()
    try:
        record, _ = station_record(desk, garden, None)
    except DataError:
        return None
    site = garden_nights(record, garden, desk.today(garden))

    def apart(degrees_c: float) -> str:
        return figure(degrees_c, "°C difference", garden.units, 1)

    rows = [("as you stated it", apart(site.stated_c))]
    notes = []
    if site.read_c is None:
        cold = figure(COLD_NIGHT_C, "°C", garden.units)
        notes.append(
            f"No cold night was read in the garden yet, so what you stated stands. Nights of {cold} or less at the "
            f"station teach; {PRIOR_NIGHTS:.0f} of them weigh as much as what you stated."
        )
    else:
        nights = f"{site.nights} cold night{'s' if site.nights > 1 else ''}"
        rows.append((f"as read, mean of {nights}", apart(site.read_c)))
        rows.append((f"taken now, the readings weighing {site.weight:.0%}", apart(site.offset_c)))
        rows += [
            (f"in {name}", apart(site.offset_c + more) if more else "")
            for name, more in zip(SEASONS, site.by_season_c, strict=True)
        ]
        if site.clear_c:
            rows.append(("after a clear night", apart(site.offset_c + site.clear_c * (1 - site.clear_share))))
            rows.append(("after one that is not", apart(site.offset_c - site.clear_c * site.clear_share)))
        notes.append(
            "A night is taken for clear where the station's day had a wide range. A season without a figure was not "
            "read yet and goes by what is taken now."
        )
    rows.append(("it may be wrong by (standard error)", apart(site.error_c)))
    notes += [in_running_text(note, garden.units) for note in site.not_used]
    return Table("The garden's own thermometer", COLUMNS, tuple(rows), tuple(notes))
