"""A week of frost at the end of April, onion seed two years too old, and corn sown too late for a short summer."""

from __future__ import annotations

from typing import Final

from kailyard.demo._daybook import WENNA, Line, clear, hurt, look, note, on, protect, work
from kailyard.demo._past import cut, cut_first, grown, lives, planted_lines

# id, bed, cultivar, place and length in the bed [m], sown, up, set out, flower, first, last, picked [kg or no.]
TABLE: Final = """
tomato-23-1    bed-1   Lanthorn_Red   0.0  3.6  03-23  03-31  05-29  07-04  08-26  09-21  26.5
tomato-23-2    bed-1   Low_Lamp       3.6  2.4  03-25  04-03  05-30  06-26  08-19  09-21  10.8
pepper-23-1    bed-1   Garth_Bell     6.0  2.4  03-11  03-24  06-03  06-23  09-03  09-21  4.1
tomato-23-3    bed-12  Skerry_Bead    3.5  4.0  03-04  03-15  05-12  06-16  08-09  09-21  28.8
cucumber-23-1  bed-12  Long_Tide      0.0  1.8  04-27  05-03  05-24  07-13  08-01  09-11  19.4
squash-23-1    bed-9   Harbour_Lamp   0.0  3.6  05-12  05-19  06-06  07-02  09-21  09-21  5
zucchini-23-1  bed-9   Ferry_Green    3.6  2.0  05-04  05-09  06-01  07-09  07-16  08-19  8.9
cucumber-23-2  bed-9   Brine_Pip      5.6  1.5  06-07  06-18  -      08-06  08-16  09-07  6.5
corn-23-1      bed-8   Gannet_Gold    3.5  2.2  05-17  06-03  -      08-16  09-21  09-21  30
corn-23-2      bed-8   Gannet_Gold    5.7  2.2  05-28  06-11  -      08-15  -      -      0
bean-23-1      bed-3   Slack_Water    0.0  1.6  05-20  06-11  -      07-03  07-11  07-29  4.5
bean-23-2      bed-3   Slack_Water    1.6  1.6  06-05  06-24  -      07-12  07-24  08-10  4.5
bean-23-3      bed-3   Slack_Water    3.2  1.6  06-30  07-11  -      07-27  08-04  08-20  4.6
pea-23-1       bed-4   First_Packet   0.0  2.5  04-14  05-08  -      06-24  07-04  07-19  3.3
pea-23-2       bed-4   First_Packet   2.5  2.5  05-02  05-22  -      07-03  07-13  07-24  3.5
carrot-23-1    bed-4   Quay_Blunt     5.0  1.5  04-18  05-10  -      -      07-18  08-05  4.1
carrot-23-2    bed-4   Quay_Blunt     6.5  1.5  06-18  06-27  -      -      08-19  09-29  4.7
cabbage-23-1   bed-4   Cannonry       8.0  2.0  03-06  03-13  04-30  -      07-14  08-03  8
cabbage-23-2   bed-8   Boulder_Bank   0.0  3.5  06-05  06-13  07-17  -      10-25  11-25  14
garlic-23-1    bed-6   Selkie         0.0  2.5  <10-14 -      -      -      06-04  06-06  4.8
garlic-23-2    bed-6   Nightwatch     2.5  2.0  <10-14 -      -      -      06-26  06-28  3.9
onion-23-1     bed-6   Ballast        5.0  2.4  02-08  02-18  04-25  -      08-03  08-07  3.3
onion-23-2     bed-6   Dunnage        7.6  1.8  04-16  05-04  -      -      07-24  07-28  6.8
potato-23-1    bed-7   Garth_Early    0.0  3.0  04-26  05-23  -      -      07-16  07-29  15.2
potato-23-2    bed-7   Keelstone      3.0  3.0  04-26  06-03  -      -      08-07  08-20  12.9
lettuce-23-1   bed-5   Foam_Edge      0.5  0.5  04-19  05-04  -      -      06-20  07-17  2.2
lettuce-23-2   bed-5   Foam_Edge      1.0  0.4  05-10  05-17  -      -      06-22  07-21  2.5
lettuce-23-3   bed-5   Foam_Edge      1.4  0.4  07-28  07-30  -      -      08-27  09-09  2.1
head-23-1      bed-5   Haven_Heart    2.2  0.3  03-05  03-11  04-20  -      06-11  06-20  8
head-23-2      bed-5   Haven_Heart    2.5  0.3  04-12  04-19  05-12  -      07-05  07-12  7
lettuce-23-4   bed-12  Foam_Edge      0.0  3.0  09-18  09-22  -      -      >03-20 >04-10 10.6
"""
ROWS: Final = grown(2023, TABLE)


def lines() -> list[Line]:
    """All of 2023."""
    return [
        *planted_lines(ROWS),
        *_told(),
    ]


def _told() -> list[Line]:
    return [
        *lives(ROWS),
        work(on(3, 18, 2023), "bed-10", "weeded"),
        note(
            on(2, 20, 2023),
            "onion-23-1",
            "Thirty of ninety up. The packet is of 2020; onion seed is good for one year, two at most.",
        ),
        look(on(3, 4, 2023), "onion-23-1", "no more have come; gaps in two cells of three"),
        note(
            on(3, 5, 2023),
            "",
            "Lesson: what is older than its kind keeps is tried in a damp cloth in January, in time to order.",
        ),
        note(
            on(4, 25, 2023),
            "",
            "Frost every night since Saturday, two degrees at the pier and more here. Nothing tender is out.",
        ),
        look(on(4, 29, 2023), "pea-23-1", "under the soil still, shoots white and sound", sound=True),
        protect(on(4, 30, 2023), "cabbage-23-1", "insect mesh"),
        cut_first(2023),
        *cut(on(5, 8, 2023), 6, 0.4, last=on(5, 28, 2023)),
        note(on(5, 28, 2023), "asparagus-1", "Stopped after three weeks: its first year of cutting."),
        protect(on(7, 17, 2023), "cabbage-23-2", "insect mesh"),
        note(
            on(8, 15, 2023),
            "corn-23-2",
            "The second block only now in tassel. Sown on 28 May, it has a cold September ahead of it.",
        ),
        note(
            on(9, 22, 2023),
            "",
            "White in the hollow, a fortnight before the usual. Tomatoes and peppers came in green last night.",
        ),
        hurt(on(10, 8, 2023), "corn-23-2", "frost", 1.0, 1.0, "Ears in milk, frozen through."),
        clear(
            on(10, 9, 2023),
            "corn-23-2",
            "frosted unripe",
            "Lesson: no corn after the third week of May, unless it is a quick kind.",
        ),
        work(on(10, 9, 2023), "bed-2", "cover crop sown", "Rye, where nothing stood this year.", who=WENNA),
        work(on(11, 25, 2023), "asparagus-1", "yellow fern cut down"),
    ]
