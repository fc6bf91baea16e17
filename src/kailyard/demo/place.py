"""Lanthorn Garth as measured: twelve beds, and the cultivars on its packets."""

from __future__ import annotations

from datetime import date
from typing import Final

from kailyard.demo._daybook import IDONY, Line, said
from kailyard.garden.model import Bed, Cultivar

BEGUN: Final = date(2021, 3, 6)
"""The day the daybook was opened and the garden measured."""
ENLARGED: Final = date(2025, 10, 3)
"""The day the eleventh bed was dug out of the grass."""

GARDEN: Final = {
    "name": "Lanthorn Garth teaching garden",
    "latitude": 44.2,
    "longitude": -38.6,
    "elevation_m": 62.0,
    "timezone": "Etc/GMT+2",
    "units": "metric",
    "minimum_offset_c": -1.5,
}

BEDS: Final = (
    Bed("bed-1", "bed 1", 12.0, 1.2, height_m=0.4, orientation_deg=90.0, east_m=7.0, north_m=18.0, soil="loam, raised"),
    Bed("bed-2", "bed 2", 10.0, 1.2, height_m=0.4, orientation_deg=90.0, east_m=6.0, north_m=19.9, soil="loam, raised"),
    Bed("bed-3", "bed 3", 10.0, 1.2, east_m=2.0, north_m=10.0, soil="sandy loam"),
    Bed("bed-4", "bed 4", 12.0, 1.2, east_m=3.9, north_m=10.0, soil="sandy loam"),
    Bed("bed-5", "bed 5", 3.2, 3.2, "round", height_m=0.25, east_m=14.5, north_m=2.6, soil="loam and leaf mould"),
    Bed("bed-6", "bed 6", 10.0, 1.2, height_m=0.15, east_m=5.8, north_m=10.0, soil="loam, well drained"),
    Bed("bed-7", "bed 7", 12.0, 1.5, east_m=7.9, north_m=10.0, soil="loam, limed in no year"),
    Bed("bed-8", "bed 8", 9.0, 4.0, east_m=15.6, north_m=10.0, soil="loam, mucked in March"),
    Bed("bed-9", "bed 9", 12.0, 2.4, east_m=11.0, north_m=10.0, soil="loam, mucked in March"),
    Bed("bed-10", "bed 10", 10.0, 1.2, orientation_deg=90.0, east_m=6.0, north_m=1.0, soil="sand", perennial=True),
    Bed("bed-11", "bed 11", 10.0, 1.2, orientation_deg=90.0, east_m=6.0, north_m=2.8, soil="sand", perennial=True),
    Bed("bed-12", "bed 12", 8.0, 2.0, orientation_deg=85.0, east_m=19.0, north_m=18.9, soil="loam", cover="tunnel"),
)
"""Bed 10 and bed 11 lie at the foot of the hollow, bed 1 and bed 2 on the terrace under the wall."""

CULTIVARS: Final = (
    Cultivar("asparagus", "Spindrift", habit="all-male, thick spears"),
    Cultivar("bean-bush", "Merrow Snap", 55, resistance=("BCMV",), habit="bush, 45 cm, green round pods"),
    Cultivar("bean-bush", "Slack Water", 52, resistance=("BCMV", "Psp"), habit="bush, 40 cm, flat pods"),
    Cultivar("cabbage", "Boulder Bank", 95, "set-out", resistance=("Foc:1",), habit="round, stands into frost"),
    Cultivar("cabbage", "Cannonry", 65, "set-out", resistance=("Foc:1",), habit="pointed, early"),
    Cultivar("carrot", "Quay Blunt", 65, habit="blunt, bunching"),
    Cultivar("carrot", "Winter Keel", 85, resistance=("Ad",), habit="long, keeps"),
    Cultivar("cucumber-pickling", "Brine Pip", 53, resistance=("Ccu", "CMV"), habit="short vine"),
    Cultivar("cucumber-slicing", "Long Tide", 62, resistance=("Ccu", "CMV", "Px"), habit="long vine, trained"),
    Cultivar("garlic", "Nightwatch", habit="hardneck, scapes, late"),
    Cultivar("garlic", "Selkie", habit="softneck, early"),
    Cultivar("lettuce-head", "Haven Heart", 62, resistance=("LMV",), habit="butterhead"),
    Cultivar("lettuce-head", "Long Night", 70, habit="butterhead, stands into the cold"),
    Cultivar("lettuce-leaf", "Foam Edge", 45, resistance=("LMV",), habit="cut and come again, curled"),
    Cultivar("onion-long-day", "Ballast", 105, "set-out", resistance=("Fob",), habit="round, brown, keeps"),
    Cultivar("onion-long-day", "Dunnage", 90, "planted", habit="flat, from sets"),
    Cultivar("pea", "First Packet", 58, resistance=("Fop:1",), habit="shelling, 70 cm"),
    Cultivar("pea", "Green Lantern", 68, resistance=("Fop:1", "Ep"), habit="shelling, 120 cm"),
    Cultivar("pepper-hot", "Wick", 75, "set-out", resistance=("TMV",), habit="upright, thin-walled"),
    Cultivar("pepper-sweet", "Garth Bell", 70, "set-out", resistance=("TMV:0",), habit="bell, 60 cm"),
    Cultivar("pepper-sweet", "Long Candle", 68, "set-out", habit="long, tapering"),
    Cultivar("potato", "Garth Early", 75, "planted", habit="first early"),
    Cultivar("potato", "Keelstone", 95, "planted", resistance=("Ro1",), habit="second early"),
    Cultivar("potato", "Winter Ration", 120, "planted", resistance=("Ro1", "PVY"), habit="maincrop, keeps"),
    Cultivar("sweet-corn", "Gannet Gold", 76, resistance=("Ps",), habit="1.6 m, two ears"),
    Cultivar("sweet-corn", "Late Gannet", 85, resistance=("Ps", "Et"), habit="2.0 m"),
    Cultivar("tomato-determinate", "Low Lamp", 68, "set-out", resistance=("Fol:0,1", "Va", "Vd"), habit="bush"),
    Cultivar("tomato-indeterminate", "Lanthorn Red", 75, "set-out", resistance=("Fol:0,1", "Va", "Vd"), habit="cordon"),
    Cultivar("tomato-indeterminate", "Ruddock", 82, "set-out", habit="cordon, ribbed fruit"),
    Cultivar("tomato-indeterminate", "Skerry Bead", 60, "set-out", resistance=("ToMV", "Ff"), habit="cordon, cherry"),
    Cultivar("winter-squash-maxima", "Harbour Lamp", 95, habit="long vines, 3 kg"),
    Cultivar("winter-squash-moschata", "Tallowneck", 105, resistance=("Px",), habit="long vines, 1.5 kg"),
    Cultivar("zucchini", "Ferry Green", 50, resistance=("ZYMV", "Px"), habit="open bush"),
    Cultivar("zucchini", "Ferry Lamp", 54, habit="bush, yellow fruit"),
)

SEED_ORDER: Final = date(2026, 1, 17)


def lines() -> list[Line]:
    """The garden's settings and its beds, as entered."""
    opened = [Line(BEGUN, "garden", who=IDONY, text="Measured with the class; origin at the gate.", payload=GARDEN)]
    beds = [
        Line(ENLARGED if bed.id == "bed-11" else BEGUN, "bed", bed.id, who=IDONY, payload=said(bed)) for bed in BEDS
    ]
    return opened + beds
