"""Lettuce in waves, cabbage under hail, carrots, garlic coming ripe, onions, potatoes, and the two asparagus beds."""

from __future__ import annotations

from kailyard.demo._daybook import (
    IDONY,
    WENNA,
    Line,
    clear,
    harden,
    hurt,
    look,
    not_yet,
    note,
    on,
    pick,
    plant,
    protect,
    seen,
    set_out,
    sow,
    work,
)
from kailyard.demo.plantings import GARLIC_DAY


def standing_in_autumn() -> list[Line]:
    """What was sown last summer for the winter, and what became of it by spring."""
    return [
        sow(on(7, 5, 2025), "carrot-25", 400),
        pick(on(10, 18, 2025), "carrot-25", 2.4),
        pick(on(11, 15, 2025), "carrot-25", 3.1),
        protect(on(11, 16, 2025), "carrot-25", "straw and fleece", on(3, 14)),
        pick(on(1, 10), "carrot-25", 2.2),
        pick(on(3, 14), "carrot-25", 1.6, text="Two in five split by frost.", last=True),
        clear(on(3, 14), "carrot-25", "lifted"),
        sow(on(6, 9, 2025), "cabbage-25", 18, "cells", under_cover=True, who=WENNA),
        harden(on(7, 13, 2025), "cabbage-25"),
        set_out(on(7, 20, 2025), "cabbage-25", 14),
        protect(on(7, 20, 2025), "cabbage-25", "insect mesh"),
        work(on(8, 2, 2025), "carrot-25", "thinned"),
        look(on(10, 4, 2025), "cabbage-25", "hearts firm, no caterpillars under ten leaves", sound=True),
        pick(on(11, 8, 2025), "cabbage-25", 6, "count"),
        pick(on(12, 6, 2025), "cabbage-25", 5, "count"),
        pick(on(12, 18, 2025), "cabbage-25", 3, "count", last=True),
        clear(on(12, 18, 2025), "cabbage-25", "all cut"),
        sow(on(9, 20, 2025), "lettuce-25", 300),
        pick(on(11, 12, 2025), "lettuce-25", 0.8),
        look(on(1, 14), "lettuce-25", "leaves limp but rooted after 15 degrees of frost outside", sound=True),
        pick(on(3, 18), "lettuce-25", 1.2),
        pick(on(4, 2), "lettuce-25", 1.9),
        pick(on(4, 16), "lettuce-25", 2.1, last=True),
        clear(on(4, 24), "lettuce-25", "running to seed", "Made room for the tunnel tomatoes."),
        sow(on(8, 30, 2025), "head-25", 40, under_cover=True),
        set_out(on(10, 11, 2025), "head-25", 28, hardened=None),
        look(on(2, 11), "head-25", "four lost to grey mould, pulled; 24 sound", sound=True),
        pick(on(4, 22), "head-25", 7, "count"),
        pick(on(5, 2), "head-25", 9, "count"),
        pick(on(5, 10), "head-25", 8, "count", last=True),
        clear(on(5, 12), "head-25", "all cut", "Made room for the cucumbers."),
    ]  # fmt: skip


def lettuce() -> list[Line]:
    """This year's lettuce."""
    return [
        sow(on(3, 2), "lettuce-0", 120, who=WENNA, text="The first class of the year, in the tunnel."),
        seen(on(3, 10), "lettuce-0", "emerged", 0.6),
        pick(on(4, 20), "lettuce-0", 0.5),
        pick(on(5, 4), "lettuce-0", 0.9),
        pick(on(5, 18), "lettuce-0", 1.0),
        pick(on(5, 29), "lettuce-0", 0.6, text="Bitter.", last=True),
        clear(on(6, 2), "lettuce-0", "bolted"),
        sow(on(4, 10), "lettuce-1", 100),
        not_yet(on(4, 16), "lettuce-1", "emerged"),
        seen(on(4, 19), "lettuce-1", "emerged", 0.5),
        work(on(5, 8), "lettuce-1", "thinned"),
        look(on(5, 16), "lettuce-1", "edges marked by the frost, hearts sound", sound=True),
        seen(on(5, 30), "lettuce-1", "first-harvest", 0.5),
        pick(on(5, 30), "lettuce-1", 0.6),
        pick(on(6, 5), "lettuce-1", 0.9),
        pick(on(6, 11), "lettuce-1", 1.1),
        sow(on(5, 2), "lettuce-2", 100),
        seen(on(5, 7), "lettuce-2", "emerged", 0.7),
        work(on(5, 26), "lettuce-2", "thinned"),
        not_yet(on(6, 10), "lettuce-2", "first-harvest", "Leaves of a hand's breadth, not two."),
        sow(on(5, 24), "lettuce-3", 100, who=WENNA),
        seen(on(5, 29), "lettuce-3", "emerged", 0.8),
        sow(on(3, 2), "head-1", 16, "cells", under_cover=True),
        seen(on(3, 8), "head-1", "emerged", 0.9),
        harden(on(4, 2), "head-1"),
        set_out(on(4, 10), "head-1", 9),
        protect(on(4, 10), "head-1", "fleece", on(4, 24)),
        not_yet(on(5, 26), "head-1", "first-harvest", "Hearts soft under the thumb."),
        seen(on(6, 3), "head-1", "first-harvest", 0.3),
        pick(on(6, 3), "head-1", 3, "count"),
        pick(on(6, 9), "head-1", 3, "count", "Three left; one is lifting in the middle."),
        sow(on(4, 5), "head-2", 16, "cells", under_cover=True),
        seen(on(4, 11), "head-2", "emerged", 0.9),
        harden(on(4, 28), "head-2"),
        set_out(on(5, 5), "head-2", 8),
        protect(on(5, 13), "head-2", "fleece", on(5, 16)),
        not_yet(on(6, 9), "head-2", "first-harvest", "Hearts turning in."),
        sow(on(5, 10), "head-3", 12, "cells", under_cover=True),
        seen(on(5, 15), "head-3", "emerged", 0.9),
        harden(on(6, 2), "head-3"),
        set_out(on(6, 8), "head-3", 6),
        work(on(6, 9), "head-3", "watered"),
    ]


def cabbage_and_carrots() -> list[Line]:
    """The spring cabbage, holed by hail and kept; two of three waves of carrots."""
    return [
        sow(on(3, 8), "cabbage-1", 16, "cells", under_cover=True),
        seen(on(3, 15), "cabbage-1", "emerged", 0.9),
        work(on(4, 6), "cabbage-1", "potted on"),
        harden(on(4, 16), "cabbage-1"),
        set_out(on(4, 25), "cabbage-1", 10),
        protect(on(4, 25), "cabbage-1", "insect mesh"),
        look(on(5, 16), "cabbage-1", "frost on the mesh, plants untouched", sound=True),
        work(on(6, 3), "cabbage-1", "weeded", "Mesh off at noon and not yet back on when the hail came."),
        hurt(on(6, 3), "cabbage-1", "hail", 0.6, text="Outer leaves holed on six of ten. Kept; mesh back on."),
        look(
            on(6, 6), "cabbage-1", "outer leaves in ribbons, hearts whole on all ten", sound=True, next_look=on(6, 12)
        ),
        look(on(6, 9), "cabbage-1", "two caterpillars, taken off", next_look=on(6, 12)),
        not_yet(on(6, 9), "cabbage-1", "first-harvest", "Hearts begin to firm."),
        sow(
            on(6, 10),
            "cabbage-2",
            24,
            "cells",
            under_cover=True,
            text="Ten days early, so that six can stand in for what the hail took.",
        ),
        sow(on(4, 11), "carrot-1", 400),
        not_yet(on(4, 22), "carrot-1", "emerged"),
        seen(on(4, 27), "carrot-1", "emerged", 0.5),
        protect(on(4, 27), "carrot-1", "insect mesh"),
        work(on(5, 18), "carrot-1", "thinned"),
        work(on(5, 30), "carrot-1", "weeded"),
        not_yet(on(6, 8), "carrot-1", "first-harvest", "Thick as a pencil at the shoulder."),
        sow(on(5, 9), "carrot-2", 400),
        not_yet(on(5, 18), "carrot-2", "emerged"),
        seen(on(5, 23), "carrot-2", "emerged", 0.6),
        protect(on(5, 23), "carrot-2", "insect mesh"),
        work(on(6, 8), "carrot-2", "thinned", "In the evening, thinnings carried off.", who=WENNA),
    ]


def garlic_and_onions() -> list[Line]:
    """Garlic from October on, the early kind now browning; onions from seed and from sets."""
    return [
        plant(GARLIC_DAY, "garlic-1", 100),
        plant(GARLIC_DAY, "garlic-2", 80, "Cloves from the drying loft, the largest.", who=WENNA),
        not_yet(on(10, 24, 2025), "garlic-1", "emerged"),
        seen(on(11, 2, 2025), "garlic-1", "emerged", 0.5),
        seen(on(11, 16, 2025), "garlic-2", "emerged", 0.4),
        work(on(11, 22, 2025), "bed-6", "mulched", "Straw, a hand deep."),
        look(on(2, 11), "garlic-1", "97 of 100 up through the straw", sound=True),
        look(on(2, 11), "garlic-2", "78 of 80 up, tips browned by the cold", sound=True),
        work(on(3, 28), "bed-6", "fed"),
        work(on(5, 2), "bed-6", "weeded", who=WENNA),
        not_yet(on(5, 30), "garlic-1", "mature", "Tips yellow, no leaf brown to the stem."),
        seen(on(6, 6), "garlic-1", "mature", 0.2, "Three lower leaves brown on four of twenty."),
        seen(on(6, 11), "garlic-1", "mature", 0.55, "Three lower leaves brown on eleven of twenty; a bulb is full."),
        work(on(6, 8), "garlic-2", "scapes cut", "At the second curl, eighty for the kitchen."),
        not_yet(on(6, 11), "garlic-2", "mature", "One lower leaf brown on four of twenty."),
        sow(on(2, 8), "onion-1", 200, under_cover=True),
        seen(on(2, 18), "onion-1", "emerged", 0.7),
        harden(on(4, 8), "onion-1"),
        set_out(on(4, 18), "onion-1", 120),
        work(on(5, 16), "onion-1", "weeded"),
        work(on(6, 5), "onion-1", "weeded", who=WENNA),
        not_yet(on(6, 8), "onion-1", "bulb-start"),
        plant(on(4, 6), "onion-2", 80),
        seen(on(4, 22), "onion-2", "emerged", 0.6),
        look(on(5, 30), "onion-2", "two of eighty sending up flower stems, pulled"),
        not_yet(on(5, 30), "onion-2", "bulb-start"),
        seen(on(6, 8), "onion-2", "bulb-start", 0.3, "Necks half as thick as the base."),
    ]


def potatoes() -> list[Line]:
    """Three kinds; the first two caught by the frost with leaves up, the third still below."""
    return [
        plant(on(4, 20), "potato-1", 22, "Soil 9 degrees at a hand's depth."),
        plant(on(4, 20), "potato-2", 22),
        plant(on(4, 25), "potato-3", 32, who=WENNA),
        not_yet(on(5, 2), "potato-1", "emerged"),
        seen(on(5, 6), "potato-1", "emerged", 0.5),
        seen(on(5, 9), "potato-2", "emerged", 0.5),
        work(on(5, 13), "potato-1", "earthed up"),
        protect(on(5, 13), "potato-1", "fleece", on(5, 16)),
        note(on(5, 13), "potato-2", "The fleece ended at potato-1. Earth drawn over what would take it."),
        hurt(on(5, 15), "potato-1", "frost", 0.2, text="Leaf edges black where the fleece touched."),
        hurt(on(5, 15), "potato-2", "frost", 0.5, text="Black to the ground on half. They come again from below."),
        not_yet(on(5, 15), "potato-3", "emerged"),
        seen(on(5, 19), "potato-3", "emerged", 0.5),
        look(on(5, 26), "potato-2", "new shoots on every plant but two", sound=True),
        work(on(5, 31), "bed-7", "earthed up"),
        look(on(6, 7), "potato-1", "no beetles under forty leaves, buds at the top", sound=True),
        look(on(6, 10), "potato-2", "", sound=True),
    ]


ASPARAGUS_PICKS = (
    (4, 24, 0.4), (4, 27, 0.7), (4, 30, 0.9), (5, 3, 1.2), (5, 6, 1.4), (5, 9, 1.5), (5, 12, 1.3), (5, 19, 0.5),
    (5, 22, 0.9), (5, 25, 1.0), (5, 28, 1.0), (5, 31, 11.0), (6, 3, 0.9), (6, 5, 0.8), (6, 8, 0.6), (6, 10, 0.5),
)  # fmt: skip
"""Month, day, kilograms from the old bed; the weight of 31 May is a slip, put right the next day."""


def asparagus() -> list[Line]:
    """The old bed, cut since 24 April and going thin; the young one, not to be touched."""
    picks = [pick(on(month, day), "asparagus-1", kg) for month, day, kg in ASPARAGUS_PICKS]
    return [
        *picks,
        Line(
            on(5, 31), "pick", "asparagus-1", "1.1, not 11.", IDONY, 1.1, "kg", late=1,
            supersedes="2026-05-31-pick-asparagus-1",
        ),
        work(on(11, 29, 2025), "asparagus-1", "yellow fern cut down"),
        work(on(11, 29, 2025), "bed-10", "marked", "A stub of cane at each end of the rows.", who=WENNA),
        work(on(3, 21), "bed-10", "weeded"),
        not_yet(on(4, 18), "asparagus-1", "emerged"),
        seen(on(4, 21), "asparagus-1", "emerged", 0.3),
        seen(on(4, 24), "asparagus-1", "first-harvest", 0.4),
        hurt(on(5, 15), "asparagus-1", "frost", 0.4, text="Standing spears glassy; cut and thrown away."),
        look(on(5, 24), "bed-10", "two asparagus beetles on twenty spears, picked off", next_look=on(6, 7)),
        look(on(6, 7), "bed-10", ""),
        look(on(6, 10), "asparagus-1", "one spear in five is thin", who=IDONY, next_look=on(6, 13)),
        plant(on(4, 18), "asparagus-2", 44, "One-year crowns, in trenches, by two classes.", who=WENNA),
        not_yet(on(5, 6), "asparagus-2", "emerged"),
        seen(on(5, 13), "asparagus-2", "emerged", 0.3),
        look(on(5, 16), "asparagus-2", "ten tips frosted, others coming behind them", sound=True),
        seen(on(5, 27), "asparagus-2", "emerged", 0.8),
        work(on(5, 27), "bed-11", "weeded", who=WENNA),
        look(on(6, 8), "asparagus-2", "40 of 44 up and opening into fern", sound=True),
    ]  # fmt: skip


def lines() -> list[Line]:
    """All of this chapter."""
    return [
        *standing_in_autumn(),
        *lettuce(),
        *cabbage_and_carrots(),
        *garlic_and_onions(),
        *potatoes(),
        *asparagus(),
    ]
