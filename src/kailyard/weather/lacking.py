"""What one record has that another lacks: computed days, or days made of hours, never win over a thermometer's."""

from __future__ import annotations

import numpy as np

from kailyard.weather.record import DailyRecord, read_only


def only_gaps(record: DailyRecord, station: DailyRecord) -> tuple[DailyRecord, int]:
    """`record` without each value that `station` has, and how many of its days still say anything."""
    at = station.first.toordinal() - record.first.toordinal()
    columns = {}
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        values, own = getattr(record, name).copy(), getattr(station, name)
        lo, hi = max(0, at), min(len(values), at + len(own))
        if lo < hi:
            values[lo:hi][~np.isnan(own[lo - at : hi - at])] = np.nan
        columns[name] = read_only(values)
    left = DailyRecord(record.first, **columns, source=record.source, set_aside=record.set_aside)
    says = ~np.isnan(left.tmin_c) | ~np.isnan(left.tmax_c) | ~np.isnan(left.rain_mm)
    return left, int(np.count_nonzero(says))
