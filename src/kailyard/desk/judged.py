"""What judging made of weather that has just come in, said line by line."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kailyard.units import Units, in_running_text
from kailyard.weather.judge import counted
from kailyard.weather.judging import Doubt, asked_about
from kailyard.weather.record import DailyRecord, SetAside

SHOWN = 5
"""So many of the lines set aside, and of the questions, are shown; the rest is counted."""


def judged(aside: Sequence[SetAside], asked: Sequence[Doubt], units: Units) -> list[str]:
    """What was set aside, by rule and the first line by line, then what is doubtful and asked about."""
    notes = [f"Set aside: {words}." for words in counted(aside)]
    notes += [str(each) for each in aside[:SHOWN]]
    if len(aside) > SHOWN:
        notes.append(f"... and {len(aside) - SHOWN} more.")
    notes += asked_about(asked[:SHOWN])
    if asked:
        more = f", {len(asked) - SHOWN} more among them" if len(asked) > SHOWN else ""
        notes.append(
            f"{len(asked)} to look at{more}: kept and used. What is wrong, leave out: `kailyard weather --aside`; what "
            "is right, say so: `kailyard weather --leave`."
        )
    return [in_running_text(note, units) for note in notes]


def bearing_on(asked: Sequence[Doubt], kept: DailyRecord) -> tuple[Doubt, ...]:
    """Those doubts on whose days the record that was kept says anything."""
    says = ~np.isnan(kept.tmin_c) | ~np.isnan(kept.tmax_c) | ~np.isnan(kept.rain_mm)
    first = kept.first.toordinal()
    return tuple(
        each
        for each in asked
        if says[max(0, each.first.toordinal() - first) : max(0, each.last.toordinal() - first + 1)].any()
    )
