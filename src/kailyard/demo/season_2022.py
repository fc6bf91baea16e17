"""A June that would not stop raining, and a second sowing of beans that was never made."""

from __future__ import annotations

from typing import Final

from kailyard.demo._daybook import Line, look, note, on, protect, work
from kailyard.demo._past import grown, lives, planted_lines

# id, bed, cultivar, place and length in the bed [m], sown, up, set out, flower, first, last, picked [kg or no.]
TABLE: Final = """
tomato-22-1    bed-3   Lanthorn_Red   0.0  3.6  03-22  04-01  05-21  06-24  08-15  10-12  31.1
tomato-22-2    bed-3   Low_Lamp       3.6  2.4  03-26  04-06  05-24  06-20  08-14  09-14  8.4
pepper-22-1    bed-3   Garth_Bell     6.0  2.4  03-13  03-27  05-29  06-15  08-12  10-07  7.2
tomato-22-3    bed-12  Skerry_Bead    3.5  4.0  02-27  03-08  04-30  06-07  07-30  10-04  26.5
cucumber-22-1  bed-12  Long_Tide      0.0  1.8  04-19  04-26  05-16  07-06  07-28  09-01  23.3
squash-22-1    bed-7   Harbour_Lamp   2.6  3.6  05-05  05-11  05-30  06-20  09-16  09-16  6
zucchini-22-1  bed-7   Ferry_Green    6.2  2.0  04-30  05-07  05-28  06-27  07-03  08-14  9.6
corn-22-1      bed-9   Gannet_Gold    3.5  2.2  05-08  05-28  -      08-08  09-10  09-19  29
corn-22-2      bed-9   Gannet_Gold    5.7  2.2  05-21  06-01  -      07-29  08-26  09-01  23
bean-22-1      bed-6   Slack_Water    0.0  1.6  05-14  06-07  -      06-27  07-08  07-20  4.9
pea-22-1       bed-1   First_Packet   0.0  2.5  04-07  05-02  -      06-21  06-30  07-14  3.3
pea-22-2       bed-1   First_Packet   2.5  2.5  04-24  05-06  -      06-20  06-29  07-15  3
carrot-22-1    bed-1   Quay_Blunt     5.0  1.5  04-12  04-30  -      -      07-05  07-22  3.1
cabbage-22-1   bed-1   Boulder_Bank   8.0  2.0  03-10  03-17  04-27  -      08-01  08-16  7
cabbage-22-2   bed-9   Boulder_Bank   0.0  3.5  06-06  06-13  07-18  -      10-19  11-20  13
garlic-22-1    bed-2   Selkie         0.0  2.5  <10-14 -      -      -      05-31  06-02  5.3
onion-22-1     bed-2   Ballast        5.0  2.4  02-09  02-21  04-19  -      08-01  08-05  10
onion-22-2     bed-2   Dunnage        7.6  1.8  04-08  04-25  -      -      07-15  07-19  6.7
potato-22-1    bed-8   Garth_Early    0.0  3.0  04-19  05-15  -      -      07-10  07-23  16.1
potato-22-2    bed-8   Keelstone      3.0  3.0  04-19  05-17  -      -      07-28  08-10  10.7
lettuce-22-1   bed-5   Foam_Edge      0.5  0.5  04-12  04-22  -      -      06-06  06-24  2.3
lettuce-22-2   bed-5   Foam_Edge      1.0  0.4  05-02  05-07  -      -      06-19  07-06  2.4
head-22-1      bed-5   Haven_Heart    2.2  0.3  03-03  03-08  04-11  -      06-03  06-11  7
lettuce-22-3   bed-12  Foam_Edge      0.0  3.0  09-23  09-27  -      -      >02-27 >03-26 11.2
"""
ROWS: Final = grown(2022, TABLE)


def lines() -> list[Line]:
    """All of 2022."""
    return [
        *planted_lines(ROWS),
        *_told(),
    ]


def _told() -> list[Line]:
    return [
        *lives(ROWS),
        work(on(3, 19, 2022), "bed-10", "weeded"),
        protect(on(4, 27, 2022), "cabbage-22-1", "insect mesh"),
        note(on(6, 12, 2022), "bed-6", "28 mm. The beans of the second wave were meant for today; the ground is soup."),
        note(on(6, 17, 2022), "bed-6", "29 mm more. Not today either."),
        note(on(6, 29, 2022), "", "48 mm since noon. The path between beds 3 and 4 is a brook."),
        look(on(6, 30, 2022), "potato-22-2", "water stands between the ridges; drained with a hoe", sound=True),
        note(
            on(8, 6, 2022),
            "bed-6",
            "No beans since 20 July. The second sowing was put off twice in June and then forgotten. "
            "Lesson: a day that is missed gets another day, on paper.",
        ),
        look(on(7, 22, 2022), "carrot-22-1", "forked and short: a crust from June, then six millimetres in all July"),
        note(
            on(7, 31, 2022),
            "",
            "Six millimetres in the month. Watered from the butts until they were empty on the 19th.",
        ),
        look(on(8, 10, 2022), "potato-22-2", "one tuber in five rotten at the heel, sorted out"),
        protect(on(7, 18, 2022), "cabbage-22-2", "insect mesh", text="From the first day, this time."),
        look(on(9, 15, 2022), "cabbage-22-2", "no caterpillars under the mesh, two hearts firm", sound=True),
        work(on(11, 19, 2022), "asparagus-1", "yellow fern cut down"),
    ]
