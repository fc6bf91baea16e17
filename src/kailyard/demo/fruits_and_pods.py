"""Tomatoes to cucumbers, squashes, corn, the peas whose sticks came late and the beans that met the frost."""

from __future__ import annotations

from kailyard.demo._daybook import (
    IDONY,
    WENNA,
    Line,
    harden,
    hurt,
    look,
    not_yet,
    note,
    on,
    picked_for,
    protect,
    seen,
    set_out,
    sow,
    support,
    withdraw,
    work,
)


def tomatoes_and_peppers() -> list[Line]:
    """Raised from March; one row of tomatoes still without stakes."""
    return [
        sow(on(3, 25), "tomato-1", 16, "cells", under_cover=True),
        sow(on(3, 25), "tomato-2", 16, "cells", under_cover=True),
        sow(on(3, 27), "tomato-3", 16, "cells", under_cover=True),
        seen(on(4, 2), "tomato-1", "emerged", 0.8),
        seen(on(4, 3), "tomato-2", "emerged", 0.6),
        seen(on(4, 4), "tomato-3", "emerged", 0.7),
        work(on(4, 19), "tomato-1", "potted on", who=WENNA),
        work(on(4, 19), "tomato-2", "potted on", who=WENNA),
        work(on(4, 30), "tomato-3", "potted on", who=WENNA),
        note(on(5, 10), "tomato-1", "The warmth tempts. They stay in until after the middle of May, as every year."),
        harden(on(5, 16), "tomato-1"),
        harden(on(5, 16), "tomato-2"),
        harden(on(5, 17), "tomato-3"),
        not_yet(on(5, 20), "tomato-1", "first-flower"),
        set_out(on(5, 23), "tomato-1", 12),
        support(on(5, 23), "tomato-1", "stakes of 1.8 m"),
        set_out(on(5, 24), "tomato-2", 12, "Stakes ran out with the first row."),
        set_out(on(5, 24), "tomato-3", 12),
        support(on(5, 31), "tomato-3", "short stakes"),
        seen(on(6, 1), "tomato-1", "first-flower", 0.3),
        work(on(6, 11), "tomato-1", "tied in"),
        seen(on(6, 7), "tomato-3", "first-flower", 0.25),
        seen(on(6, 9), "tomato-2", "first-flower", 0.3),
        look(on(6, 10), "tomato-2", "45 cm, leaning from the wind, two stems on the ground", sound=True),
        sow(on(3, 1), "tomato-4", 14, "cells", under_cover=True),
        seen(on(3, 9), "tomato-4", "emerged", 0.9),
        work(on(4, 8), "tomato-4", "potted on", who=WENNA),
        set_out(on(5, 2), "tomato-4", 12, "Into the tunnel.", hardened=False),
        support(on(5, 4), "tomato-4", "strings to the tunnel bars"),
        protect(on(5, 13), "tomato-4", "fleece inside the tunnel", on(5, 16)),
        look(on(5, 16), "tomato-4", "tunnel held at 1 degree under double fleece, no mark", sound=True),
        seen(on(5, 18), "tomato-4", "first-flower", 0.4),
        not_yet(on(6, 10), "tomato-4", "first-harvest", "First trusses of full size and green."),
        sow(on(3, 14), "pepper-1", 20, "cells", under_cover=True),
        sow(on(3, 14), "pepper-2", 14, "cells", under_cover=True),
        sow(on(3, 14), "pepper-3", 14, "cells", under_cover=True),
        seen(on(3, 26), "pepper-1", "emerged", 0.6),
        seen(on(3, 27), "pepper-2", "emerged", 0.5),
        seen(on(3, 29), "pepper-3", "emerged", 0.5),
        *(work(on(5, 3), f"pepper-{n}", "potted on", who=WENNA) for n in (1, 2, 3)),
        harden(on(5, 21), "pepper-1"),
        harden(on(5, 21), "pepper-2"),
        harden(on(5, 21), "pepper-3"),
        set_out(on(5, 30), "pepper-1", 14),
        set_out(on(5, 30), "pepper-2", 10),
        set_out(on(5, 30), "pepper-3", 10),
        hurt(on(6, 4), "pepper-1", "animals", 0.15, 0.07, "Slugs after the storm: one eaten off, one gnawed."),
        look(on(6, 6), "bed-2", "nine slugs under the boards, carried away", next_look=on(6, 13)),
        not_yet(on(6, 9), "pepper-1", "first-flower"),
        seen(on(6, 11), "pepper-3", "first-flower", 0.1),
    ]


def cucumbers_and_squashes() -> list[Line]:
    """Cucumbers in the tunnel, in pots and in the ground; squashes and zucchini on the mucked bed."""
    return [
        sow(on(4, 20), "cucumber-1", 10, "cells", under_cover=True),
        seen(on(4, 26), "cucumber-1", "emerged", 0.9),
        set_out(on(5, 18), "cucumber-1", 8, "Into the tunnel.", hardened=None),
        support(on(5, 20), "cucumber-1", "strings to the tunnel bars"),
        seen(on(6, 8), "cucumber-1", "first-flower", 0.4, "The first with a fruit behind the flower."),
        not_yet(on(6, 11), "cucumber-1", "first-harvest"),
        sow(on(5, 22), "cucumber-2", 6, "cells", under_cover=True, who=WENNA),
        seen(on(5, 28), "cucumber-2", "emerged", 1.0),
        sow(on(5, 18), "cucumber-3", 9, "cells", under_cover=True),
        seen(on(5, 24), "cucumber-3", "emerged", 0.8),
        harden(on(6, 9), "cucumber-3", "Out by day, in by night."),
        harden(on(6, 11), "cucumber-2"),
        sow(on(6, 3), "cucumber-4", 12),
        picked_for(on(6, 3), "cucumber-4", "gherkin", "Small jars this year: these are for gherkins."),
        not_yet(on(6, 7), "cucumber-4", "emerged"),
        seen(on(6, 10), "cucumber-4", "emerged", 0.5),
        sow(on(4, 28), "zucchini-1", 4, "cells", under_cover=True),
        seen(on(5, 4), "zucchini-1", "emerged", 1.0),
        harden(on(5, 18), "zucchini-1"),
        set_out(on(5, 26), "zucchini-1", 2),
        protect(on(5, 26), "zucchini-1", "fleece on hoops", on(6, 1)),
        not_yet(on(6, 6), "zucchini-1", "first-flower", "Male flowers only."),
        seen(on(6, 11), "zucchini-1", "first-flower", 0.5, "A female flower open on one of the two."),
        sow(on(5, 20), "zucchini-2", 4),
        not_yet(on(5, 28), "zucchini-2", "emerged"),
        seen(on(6, 1), "zucchini-2", "emerged", 0.75),
        work(on(6, 8), "zucchini-2", "thinned", "To the two best."),
        sow(on(5, 2), "squash-1", 6, "cells", under_cover=True, who=WENNA),
        sow(on(5, 2), "squash-2", 6, "cells", under_cover=True, who=WENNA),
        seen(on(5, 8), "squash-1", "emerged", 0.8),
        seen(on(5, 9), "squash-2", "emerged", 0.8),
        harden(on(5, 20), "squash-1"),
        harden(on(5, 20), "squash-2"),
        set_out(on(5, 28), "squash-1", 4),
        set_out(on(5, 28), "squash-2", 4),
        protect(on(5, 28), "squash-1", "fleece on hoops", on(6, 2)),
        protect(on(5, 28), "squash-2", "fleece on hoops", on(6, 2)),
        look(on(6, 4), "squash-1", "leaves bruised by hail, growing points sound", sound=True),
        look(on(6, 9), "squash-2", "", sound=True),
        work(on(6, 9), "bed-9", "mulched", "Straw between the plants."),
    ]


def corn() -> list[Line]:
    """Two blocks of three; the first lay in the ground while it froze."""
    return [
        sow(on(5, 6), "corn-1", 140),
        not_yet(on(5, 14), "corn-1", "emerged", "Swollen, a finger's joint below the frost."),
        seen(on(5, 19), "corn-1", "emerged", 0.6),
        work(on(5, 28), "corn-1", "thinned", who=WENNA),
        work(on(6, 8), "corn-1", "fed"),
        look(on(6, 8), "bed-8", "no cut stems in five rows"),
        sow(on(5, 23), "corn-2", 140),
        not_yet(on(5, 29), "corn-2", "emerged"),
        seen(on(6, 2), "corn-2", "emerged", 0.6),
        work(on(6, 10), "corn-2", "thinned", who=WENNA),
    ]


def peas() -> list[Line]:
    """Two waves: sticks for the first a fortnight late, none yet for the second."""
    return [
        sow(on(4, 4), "pea-1", 140, text="Soil 5 degrees and sticky. Too soon by the book."),
        not_yet(on(4, 20), "pea-1", "emerged"),
        seen(on(4, 25), "pea-1", "emerged", 0.6),
        note(on(5, 6), "pea-1", "Tendrils. The sticks are still in the wood."),
        support(on(5, 22), "pea-1", "brushwood of 1 m", "Late: 30 cm, lying over. Lifted stem by stem; a few snapped."),
        look(on(5, 29), "pea-1", "climbing again", sound=True),
        seen(on(5, 24), "pea-1", "first-flower", 0.1, who=WENNA),
        withdraw(on(5, 26), "pea-1", "2026-05-24-stage-pea-1", "What the class saw on 24 May was a vetch in flower."),
        not_yet(on(5, 26), "pea-1", "first-flower"),
        seen(on(6, 2), "pea-1", "first-flower", 0.3),
        not_yet(on(6, 10), "pea-1", "first-harvest", "Pods as long as a finger, flat."),
        work(on(6, 10), "pea-1", "last metre kept for seed", "Tied with red wool."),
        sow(on(4, 20), "pea-2", 140),
        not_yet(on(4, 28), "pea-2", "emerged"),
        seen(on(5, 3), "pea-2", "emerged", 0.6),
        look(on(6, 8), "pea-2", "half the row lying over", sound=True, next_look=on(6, 13)),
        not_yet(on(6, 11), "pea-2", "first-flower"),
        work(on(6, 9), "bed-4", "weeded"),
    ]  # fmt: skip


def beans() -> list[Line]:
    """A wave sown in the warm spell and nipped, the insurance row, the second wave; three more are planned."""
    return [
        sow(
            on(4, 27), "bean-1", 60,
            text="A gamble on the warm spell, to show the class. Soil 15 degrees under black cover.",
        ),
        protect(on(4, 27), "bean-1", "fleece over black cover", on(5, 11)),
        not_yet(on(5, 8), "bean-1", "emerged"),
        seen(on(5, 11), "bean-1", "emerged", 0.6, "Fleece taken off."),
        protect(on(5, 14), "bean-1", "fleece", on(5, 16), text="Put on at dusk, after the first frost."),
        hurt(on(5, 15), "bean-1", "frost", 0.6, 0.3, "Black leaves on six in ten, half of those to the ground."),
        note(on(5, 16), "bean-1", "Kept: the lower buds are green. Insurance row to be sown beside it.", late=1),
        sow(on(5, 18), "bean-1b", 60, text="Insurance for the nipped row."),
        look(on(5, 21), "bean-1", "12 dead, 16 shooting from the lower buds", sound=True, next_look=on(5, 30)),
        look(on(5, 30), "bean-1", "28 plants, new leaves clean and slow", sound=True, next_look=on(6, 8)),
        look(on(6, 8), "bean-1", "28 plants, catching up, buds in the axils of ten", sound=True, next_look=on(6, 13)),
        not_yet(on(6, 8), "bean-1", "first-flower"),
        not_yet(on(6, 2), "bean-1b", "emerged"),
        seen(on(6, 5), "bean-1b", "emerged", 0.6, "Through a crust that the hail beat down; a few crooks broken."),
        look(on(6, 10), "bean-1b", "52 seedlings, clean", sound=True),
        sow(on(5, 28), "bean-2", 60),
        not_yet(on(6, 7), "bean-2", "emerged", who=WENNA),
        seen(on(6, 10), "bean-2", "emerged", 0.4),
    ]  # fmt: skip


def gatherings() -> list[Line]:
    """What concerns the whole garden."""
    return [
        note(on(1, 24), "", "Laid out the year bed by bed. Beans in five waves, corn in three blocks."),
        note(on(4, 22), "", "Warm since Tuesday. Everyone wants to sow everything."),
        note(on(5, 14), "", "White on the grass at five. Fleece counted: enough for a third of what stands."),
        note(on(5, 15), "", "The second frost, harder. In the hollow the grass crunched until seven."),
        note(on(6, 3), "", "Hail at three, pea-sized, ten minutes."),
        note(on(6, 11), "", "Shower at tea, wind going round to the north. It will be a clear night."),
        work(on(3, 14), "bed-8", "mucked"),
        work(on(3, 15), "bed-9", "mucked"),
        work(on(4, 9), "bed-5", "raked level", who=WENNA),
        look(on(6, 10), "bed-12", "", who=IDONY),
    ]


def lines() -> list[Line]:
    """All of this chapter."""
    return [
        *tomatoes_and_peppers(),
        *cucumbers_and_squashes(),
        *corn(),
        *peas(),
        *beans(),
        *gatherings(),
    ]
