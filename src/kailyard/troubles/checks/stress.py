"""Are the plants thirsty, or does the spray dry too slowly or too fast?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.science.air_moisture import delta_t_c
from kailyard.troubles.case import ON_THE_SPOT, Case, asked, by_rule, by_weather
from kailyard.troubles.verdict import Finding

NAME = "thirst and drying"
TOO_DRY_C, MARGINAL_C, TOO_MOIST_C = 10.0, 8.0, 2.0
"""Bounds of Delta T, air temperature less that of the wet bulb. (rules S10 to S12)"""


def check(case: Case) -> Iterator[Finding]:
    """Thirst is seen on the spot, and where the bed's water or an entry tells of it; drying follows from Delta T."""
    says = "Wilted or thirsty plants burn: water first, and wait until they stand."
    yield asked(case, NAME, "well-watered", says)
    if case.wilted is not None:
        words = (
            f"Seen wilted on {case.wilted:%d %B}, and no watering since: water, enter it, and wait until they stand."
        )
        yield Finding(NAME, "not now", words.replace(" 0", " "), ON_THE_SPOT)
    if case.thirsty:
        words = f"{case.bed[0].upper()}{case.bed[1:]} is short of water by the reckoning: water first, and enter it."
        yield Finding(NAME, "not now", words, RestsOn("computed", "water of the beds", ""))
    hour = case.at
    if hour is None or hour.temp_c is None or hour.humidity_pct is None:
        yield Finding(NAME, "unknown", "How fast it would dry is unknown: no humidity for that hour.", by_weather(case))
        return
    dry = float(delta_t_c(hour.temp_c, hour.humidity_pct))
    if dry > TOO_DRY_C:
        says = f"The air is too dry (Delta T {dry:.0f} °C): drops dry before they wet the leaf."
        yield Finding(NAME, "not now", says, by_rule("S11"))
    elif dry < TOO_MOIST_C:
        says = f"The air is nearly full (Delta T {dry:.1f} °C): fine drops hang in it, and the leaf dries slowly."
        yield Finding(NAME, "not now", says, by_rule("S12"))
    else:
        yield Finding(
            NAME, "may", f"It would dry neither too fast nor too slowly (Delta T {dry:.0f} °C).", by_rule("S10")
        )
        if dry > MARGINAL_C:
            yield Finding(NAME, "may", "Dry: coarser drops and more water.", by_rule("S11"), beside=True)
