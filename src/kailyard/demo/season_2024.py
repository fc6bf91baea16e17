"""A hot July, a rabbit in the beans, and brown tomatoes after a week of August rain."""

from __future__ import annotations

from typing import Final

from kailyard.demo._daybook import WENNA, Line, clear, hurt, look, note, on, protect, work
from kailyard.demo._past import cut, cut_first, grown, instead, lives, planted_lines

# id, bed, cultivar, place and length in the bed [m], sown, up, set out, flower, first, last, picked [kg or no.]
TABLE: Final = """
tomato-24-1    bed-4   Lanthorn_Red   0.0  3.6  03-24  04-03  05-20  06-20  08-06  08-17  6.4
tomato-24-2    bed-4   Low_Lamp       3.6  2.4  03-28  04-06  05-23  06-12  07-27  08-27  12.1
pepper-24-1    bed-4   Garth_Bell     6.0  2.4  03-11  03-23  05-24  06-08  08-04  09-29  5.6
pepper-24-2    bed-4   Wick           8.4  1.6  03-15  03-29  05-29  -      08-12  09-29  1.8
tomato-24-3    bed-12  Skerry_Bead    3.5  4.0  03-04  03-13  05-02  05-26  07-20  09-29  25.1
cucumber-24-1  bed-12  Long_Tide      0.0  1.8  04-22  04-30  05-19  06-29  07-17  08-31  21.8
squash-24-1    bed-8   Harbour_Lamp   0.0  3.6  05-02  05-10  05-27  06-18  09-16  09-16  5
zucchini-24-1  bed-8   Ferry_Green    3.6  2.0  04-27  05-03  05-25  06-27  07-02  08-18  8
cucumber-24-2  bed-8   Brine_Pip      5.6  1.5  05-28  06-04  -      07-18  07-22  08-23  7.5
corn-24-1      bed-7   Gannet_Gold    3.5  2.2  05-08  05-20  -      07-22  08-27  08-31  26
corn-24-2      bed-7   Gannet_Gold    5.7  2.2  05-19  05-30  -      07-30  09-13  09-19  29
bean-24-1      bed-7   Slack_Water    8.0  1.6  05-12  06-01  -      06-20  07-04  07-24  5.4
bean-24-2      bed-7   Merrow_Snap    9.6  1.6  06-04  06-15  -      06-30  07-10  07-29  2.7
pea-24-1       bed-2   First_Packet   0.0  2.5  04-02  04-19  -      06-05  06-17  06-29  3.4
pea-24-2       bed-2   Green_Lantern  2.5  2.5  04-24  05-09  -      06-26  07-03  07-15  2.8
carrot-24-1    bed-2   Quay_Blunt     5.0  1.5  04-10  05-07  -      -      07-10  08-18  5
carrot-24-2    bed-2   Winter_Keel    6.5  1.5  06-20  06-30  -      -      09-05  09-30  5
cabbage-24-1   bed-2   Cannonry       8.0  2.0  03-12  03-19  04-26  -      07-02  07-09  7
cabbage-24-2   bed-7   Boulder_Bank   0.0  3.5  06-08  06-17  07-20  -      11-26  12-06  12
garlic-24-1    bed-3   Selkie         0.0  2.5  <10-15 -      -      -      06-23  06-25  5
garlic-24-2    bed-3   Nightwatch     2.5  2.0  <10-10 -      -      -      07-02  07-04  3.9
onion-24-1     bed-3   Ballast        5.0  2.4  02-10  02-19  04-17  -      08-02  08-06  10.5
onion-24-2     bed-3   Dunnage        7.6  1.8  04-08  04-24  -      -      07-18  07-22  8.1
potato-24-1    bed-9   Garth_Early    0.0  3.0  04-20  05-16  -      -      07-10  07-23  15
potato-24-2    bed-9   Keelstone      3.0  3.0  04-22  05-16  -      -      07-20  08-02  12.8
lettuce-24-1   bed-5   Foam_Edge      0.5  0.5  04-07  04-20  -      -      06-02  06-18  2.4
lettuce-24-2   bed-5   Foam_Edge      1.0  0.4  04-28  05-03  -      -      06-08  07-02  2
lettuce-24-3   bed-5   Foam_Edge      1.4  0.4  07-27  07-29  -      -      08-27  09-25  2
head-24-1      bed-5   Haven_Heart    2.2  0.3  03-04  03-09  04-09  -      06-06  06-15  8
head-24-2      bed-5   Haven_Heart    2.5  0.3  04-05  04-12  05-05  -      06-22  07-02  7
lettuce-24-4   bed-12  Foam_Edge      0.0  3.0  09-23  09-29  -      -      >04-07 >04-20 10.9
"""
ROWS: Final = grown(2024, TABLE)


def lines() -> list[Line]:
    """All of 2024."""
    return [
        *planted_lines(ROWS),
        *_told(),
    ]


def _told() -> list[Line]:
    return [
        *instead(
            lives(ROWS),
            clear(
                on(8, 20, 2024), "tomato-24-1", "blighted", "Plants and fruit carried off the ground, not to the heap."
            ),
        ),
        work(on(3, 23, 2024), "bed-10", "weeded"),
        work(on(4, 20, 2024), "bed-2", "green rye dug in"),
        note(on(4, 25, 2024), "", "A degree and a half below at the pier, after a week in shirtsleeves."),
        protect(on(4, 26, 2024), "cabbage-24-1", "insect mesh"),
        cut_first(2024),
        *cut(on(4, 29, 2024), 12, 0.6, last=on(6, 14, 2024)),
        hurt(on(6, 24, 2024), "bean-24-2", "animals", 0.5, 0.1, "A rabbit under the fence: rows grazed to the stalk."),
        look(on(6, 29, 2024), "bean-24-2", "new leaves in the axils of four plants in ten", next_look=on(7, 6, 2024)),
        look(on(7, 6, 2024), "bean-24-2", "leaves on all but six plants", sound=True),
        note(on(7, 6, 2024), "bean-24-2", "Kept. Mesh dug in a hand deep along the fence, the same evening."),
        note(on(7, 21, 2024), "", "34 degrees. Lettuce watered at five in the morning, classes moved under the trees."),
        look(
            on(7, 23, 2024), "tomato-24-1", "flowers of the fourth truss dropped in the heat, plants sound", sound=True
        ),
        note(on(8, 13, 2024), "", "56 mm by evening."),
        look(
            on(8, 17, 2024),
            "tomato-24-1",
            "brown stains on stems and fruit of nine plants; a sample sent in",
            sound=False,
        ),
        note(
            on(8, 20, 2024),
            "tomato-24-1",
            "Late blight, the laboratory says. Lesson: wider rows, and leaves kept dry. None in the tunnel.",
        ),
        note(on(8, 20, 2024), "", "Potatoes turned over in the store: none soft."),
        protect(on(7, 20, 2024), "cabbage-24-2", "insect mesh"),
        note(on(10, 1, 2024), "", "Four below at the pier, after 0.7 the night before. All that was tender is black."),
        work(on(10, 5, 2024), "bed-6", "cover crop sown", "Rye and vetch.", who=WENNA),
        work(on(11, 23, 2024), "asparagus-1", "yellow fern cut down"),
    ]
