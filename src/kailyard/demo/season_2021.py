"""The first season: stone picked, beds measured, peas that lay down before their sticks came."""

from __future__ import annotations

from typing import Final

from kailyard.demo._daybook import WENNA, Line, clear, hurt, look, note, on, plant, protect, seen, support, work
from kailyard.demo._past import grown, instead, lives, planted_lines

# id, bed, cultivar, place and length in the bed [m], sown, up, set out, flower, first, last, picked [kg or no.]
TABLE: Final = """
tomato-21-1    bed-4   Lanthorn_Red   0.0  3.6  03-22  03-30  05-24  06-21  08-18  10-12  24.8
tomato-21-2    bed-4   Low_Lamp       3.6  2.4  03-26  04-05  05-27  06-18  08-10  09-02  13.7
tomato-21-3    bed-12  Skerry_Bead    3.5  4.0  02-28  03-09  05-04  05-27  08-01  10-06  29.4
cucumber-21-1  bed-12  Long_Tide      0.0  1.8  04-24  04-30  05-21  06-28  07-21  08-21  21.6
squash-21-1    bed-8   Harbour_Lamp   0.0  3.6  05-04  05-11  05-29  06-20  09-13  09-13  5
zucchini-21-1  bed-8   Ferry_Green    3.6  2.0  05-02  05-08  05-30  06-29  07-08  08-29  8.7
corn-21-1      bed-7   Gannet_Gold    3.5  2.2  05-08  05-19  -      08-01  08-31  09-04  27
corn-21-2      bed-7   Gannet_Gold    5.7  2.2  05-25  06-03  -      08-03  09-03  09-09  28
bean-21-1      bed-7   Slack_Water    8.0  1.6  05-16  06-04  -      06-20  07-07  07-20  5.4
bean-21-2      bed-7   Slack_Water    9.6  1.6  06-03  06-17  -      07-05  07-19  08-02  5.3
pea-21-1       bed-2   First_Packet   0.0  2.5  04-14  04-27  -      06-13  06-26  07-08  2
carrot-21-1    bed-2   Quay_Blunt     5.0  1.5  04-15  05-06  -      -      07-05  08-21  4.6
carrot-21-2    bed-2   Quay_Blunt     6.5  1.5  06-21  06-29  -      -      08-20  09-07  4
cabbage-21-1   bed-2   Boulder_Bank   8.0  2.0  03-10  03-17  04-30  -      07-31  08-15  7
cabbage-21-2   bed-7   Boulder_Bank   0.0  3.5  06-10  06-18  07-22  -      11-19  11-29  8
onion-21-1     bed-3   Ballast        5.0  2.4  02-07  02-19  04-20  -      08-12  08-16  8.2
onion-21-2     bed-3   Dunnage        7.6  1.8  04-13  04-29  -      -      07-21  07-25  6.5
potato-21-1    bed-9   Garth_Early    0.0  3.0  04-26  05-18  -      -      07-12  07-25  13.6
potato-21-2    bed-9   Keelstone      3.0  3.0  04-25  05-20  -      -      07-26  08-08  12.9
lettuce-21-1   bed-5   Foam_Edge      0.5  0.5  04-17  04-24  -      -      06-04  06-22  2.3
lettuce-21-2   bed-5   Foam_Edge      1.0  0.4  05-06  05-10  -      -      06-13  07-03  2.7
lettuce-21-3   bed-5   Foam_Edge      1.4  0.4  08-02  08-05  -      -      09-01  09-26  2.6
head-21-1      bed-5   Haven_Heart    2.2  0.3  03-06  03-14  04-17  -      06-03  06-09  8
"""
ROWS: Final = grown(2021, TABLE)


def lines() -> list[Line]:
    """All of 2021."""
    return [
        *planted_lines(ROWS),
        *_told(),
    ]


def _told() -> list[Line]:
    return [
        *instead(
            lives(ROWS, unsupported=frozenset({"pea-21-1"})),
            clear(
                on(7, 11, 2021),
                "pea-21-1",
                "over",
                "Half of what the row might have given; the rest rotted on the ground.",
            ),
        ),
        work(on(3, 27, 2021), "bed-8", "stones picked", who=WENNA),
        plant(
            on(4, 17, 2021),
            "asparagus-1",
            44,
            "One-year crowns, in trenches a spade deep. Nothing to be cut before 2023.",
        ),
        seen(on(5, 19, 2021), "asparagus-1", "emerged", 0.6),
        note(on(5, 1, 2021), "", "White roofs at six. Only lettuce, onions and carrots are out, and they don't mind."),
        look(on(5, 30, 2021), "pea-21-1", "row leaning at a hand's height, sticks still in the hedge", sound=True),
        support(
            on(6, 8, 2021),
            "pea-21-1",
            "hazel sticks of 1.2 m",
            "Three weeks late: half the row lay over and would not be lifted.",
        ),
        note(
            on(7, 11, 2021), "pea-21-1", "Lesson: sticks are cut in winter and go in when the peas are a finger long."
        ),
        note(on(8, 23, 2021), "", "45 mm in a night. Every ripe tomato in bed 4 has split."),
        look(on(8, 24, 2021), "tomato-21-1", "eleven split fruits taken off, plants sound", sound=True),
        hurt(
            on(9, 10, 2021),
            "cabbage-21-2",
            "animals",
            0.3,
            text="Pigeons; leaves down to the ribs on four of fourteen.",
        ),
        protect(on(9, 10, 2021), "cabbage-21-2", "insect mesh", text="From the day it is set out, another year."),
        look(on(9, 20, 2021), "cabbage-21-2", "new leaves from the hearts", sound=True),
        note(
            on(10, 18, 2021),
            "",
            "Two degrees below at the pier. The season is over, and we have eaten from it since June.",
        ),
        work(on(11, 20, 2021), "asparagus-1", "yellow fern cut down"),
    ]
