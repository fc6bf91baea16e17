"""The demo: Lanthorn Garth, a teaching garden on Merrowsay, up to the morning of Friday 12 June 2026.

Merrowsay is an island on no map, set down in mid-ocean at the latitude of 44 degrees, warm and dry for where it lies
and far colder in winter than any real island there would be. The garden lies in a hollow away from the pier's weather
station, so that its clear nights are colder than the station's. Idony keeps it; Perrin works the beds; Wenna takes the
classes. Place, people, cultivars, weather and every entry are invented. Crops and what befalls them are the trade's.

`story.demo_entries()` is the daybook, `weather.demo_record()` the station's record.
"""

from __future__ import annotations

from datetime import date
from typing import Final

DEMO_DATE: Final = date(2026, 6, 12)
"""The day whose sheet the demo prints. The record ends the evening before."""
