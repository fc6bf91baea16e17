"""A bitter March, a wet June, no rain in July: and everything got a second date on paper."""

from __future__ import annotations

from typing import Final

from kailyard.demo._daybook import Line, hurt, look, note, on, protect, work
from kailyard.demo._past import cut, cut_first, grown, lives, planted_lines

# id, bed, cultivar, place and length in the bed [m], sown, up, set out, flower, first, last, picked [kg or no.]
TABLE: Final = """
tomato-25-1    bed-3   Lanthorn_Red   0.0  3.6  03-22  04-01  05-23  06-21  08-04  10-12  32
tomato-25-2    bed-3   Low_Lamp       3.6  2.4  03-28  04-05  05-28  06-16  08-01  08-29  13.3
pepper-25-1    bed-3   Garth_Bell     6.0  2.4  03-12  03-26  05-30  06-13  08-03  10-07  6.3
pepper-25-2    bed-3   Wick           8.4  1.6  03-16  03-29  06-04  -      08-13  10-12  1.6
tomato-25-3    bed-12  Skerry_Bead    3.5  4.0  03-05  03-16  05-08  05-25  07-18  10-05  24.8
cucumber-25-1  bed-12  Long_Tide      0.0  1.8  04-26  05-04  05-23  07-02  07-19  08-15  22.9
squash-25-1    bed-7   Harbour_Lamp   2.6  3.6  05-03  05-11  05-28  06-20  09-12  09-12  5
zucchini-25-1  bed-7   Ferry_Green    6.2  2.0  04-28  05-04  05-26  06-27  06-30  08-31  8.3
cucumber-25-2  bed-7   Brine_Pip      8.2  1.5  05-31  06-06  -      07-23  07-31  08-18  5.6
corn-25-1      bed-9   Gannet_Gold    3.5  2.2  05-07  05-20  -      07-27  08-20  08-24  22
corn-25-2      bed-9   Gannet_Gold    5.7  2.2  05-29  06-05  -      08-06  09-03  09-09  20
bean-25-1      bed-6   Slack_Water    0.0  1.6  05-13  05-27  -      06-15  06-28  07-14  5.9
bean-25-2      bed-6   Merrow_Snap    1.6  1.6  06-09  06-21  -      07-07  07-18  07-31  5.9
bean-25-3      bed-6   Slack_Water    3.2  1.6  06-25  07-04  -      07-18  07-27  08-10  5.1
pea-25-1       bed-1   First_Packet   0.0  2.5  04-13  04-29  -      06-15  06-30  07-16  3.1
pea-25-2       bed-1   Green_Lantern  2.5  2.5  04-25  05-04  -      06-25  07-02  07-24  3
carrot-25-1    bed-1   Quay_Blunt     5.0  1.5  04-14  04-28  -      -      06-28  07-29  4.2
cabbage-25-1   bed-1   Cannonry       8.0  2.0  03-12  03-18  05-01  -      07-06  07-20  7
garlic-25-1    bed-2   Selkie         0.0  2.5  <10-12 -      -      -      06-06  06-08  6.2
garlic-25-2    bed-2   Nightwatch     2.5  2.0  <10-15 -      -      -      07-04  07-06  4.8
onion-25-1     bed-2   Ballast        5.0  2.4  02-11  02-22  04-23  -      08-07  08-11  9.5
onion-25-2     bed-2   Dunnage        7.6  1.8  04-13  04-28  -      -      07-14  07-18  6.4
potato-25-1    bed-8   Garth_Early    0.0  3.0  04-23  05-17  -      -      07-07  07-20  13.6
potato-25-2    bed-8   Keelstone      3.0  3.0  04-26  05-17  -      -      07-18  07-31  13.8
lettuce-25-1   bed-5   Foam_Edge      0.5  0.5  04-15  04-24  -      -      06-01  06-28  2.5
lettuce-25-2   bed-5   Foam_Edge      1.0  0.4  05-07  05-13  -      -      06-15  06-29  2.7
lettuce-25-3   bed-5   Foam_Edge      1.4  0.4  07-28  07-31  -      -      08-28  09-15  2
head-25-1      bed-5   Haven_Heart    2.2  0.3  03-06  03-13  04-16  -      05-28  06-08  8
head-25-2      bed-5   Haven_Heart    2.5  0.3  04-07  04-14  05-07  -      06-22  07-01  8
"""
ROWS: Final = grown(2025, TABLE)


def lines() -> list[Line]:
    """All of 2025."""
    return [
        *planted_lines(ROWS),
        *_told(),
    ]


def _told() -> list[Line]:
    return [
        *lives(ROWS),
        note(on(3, 9, 2025), "", "Fifteen below at the pier, the coldest night of the winter, in March."),
        work(on(3, 22, 2025), "bed-10", "weeded"),
        work(on(4, 26, 2025), "bed-6", "green rye dug in"),
        protect(on(5, 1, 2025), "cabbage-25-1", "insect mesh"),
        cut_first(2025),
        *cut(on(4, 28, 2025), 14, 0.8, last=on(6, 19, 2025)),
        note(on(6, 20, 2025), "", "26 mm, the third day like it this month. Nobody walks on bed 9."),
        look(on(6, 21, 2025), "potato-25-1", "no brown on any leaf of forty", sound=True),
        note(on(6, 25, 2025), "bean-25-3", "Third wave sown on the day it was written down for."),
        note(on(7, 20, 2025), "", "32 degrees and five millimetres since June. The butts are empty."),
        look(
            on(7, 26, 2025),
            "tomato-25-1",
            "black ends on six fruits of the second truss; watered every other day from now",
            sound=True,
        ),
        hurt(
            on(8, 21, 2025),
            "corn-25-2",
            "wind",
            0.4,
            text="Laid over by the storm, roots half out. Trodden firm again.",
        ),
        look(on(8, 28, 2025), "corn-25-2", "upright from the knee up, silks brown", sound=True),
        note(on(10, 3, 2025), "bed-11", "Dug out of the grass with two classes: for a second bed of asparagus."),
    ]
