"""Documents of an invented garden, for the tests of publishing: place, cultivars, dates and weather are invented."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

from kailyard.documents._parts import DayOdds, Reason, RestsOn
from kailyard.documents.climate import Climate, FrostLevel, MonthTrend, WarmthSoFar
from kailyard.documents.sheet import Line, NextLine, Sheet, WeatherDay, WorkLine
from kailyard.documents.stages import Stage, Stages
from kailyard.documents.table import Table
from kailyard.documents.why import Why

TODAY = date(2026, 6, 12)
GARDEN = "Thornwick Lock teaching garden"


def open_between(opens: date, shuts: date, *, spread: float = 2.0) -> DayOdds:
    """A window: the chance of each day that it is open, with soft ends."""
    first, n = opens - timedelta(days=14), (shuts - opens).days + 42

    def chance(day: int) -> float:
        up = 1 / (1 + math.exp(-(day - 14) / spread * 1.6))
        down = 1 / (1 + math.exp((day - 14 - (shuts - opens).days) / spread * 0.9))
        return round(up * down, 4)

    return DayOdds(opens, opens, shuts, 0.0, 0.0, first, tuple(chance(day) for day in range(n)))


def falls_near(middle: date, spread: float, *, never: float = 0.0) -> DayOdds:
    """A stage: the chance of each day that it falls on it."""
    reach = math.ceil(spread * 3)
    raw = [math.exp(-0.5 * (day / spread) ** 2) for day in range(-reach, reach + 1)]
    share = (1 - never) / sum(raw)
    wide = timedelta(days=round(1.28 * spread))
    chances = tuple(round(one * share, 5) for one in raw)
    return DayOdds(middle - wide, middle, middle + wide, never, 0.0, middle - timedelta(days=reach), chances)


REASONS = (
    Reason(
        "Warmth since the sowing",
        640.4,
        "°C·d",
        RestsOn("computed", "degree-days, single sine", "base 10 °C, ceiling 30 °C"),
        (
            Reason("Base temperature", 10.0, "°C", RestsOn("published", "An invented crop handbook (1999)", "Table 4")),
            Reason(
                "Sown",
                None,
                "",
                RestsOn("observed", "daybook", "entry 7f3a"),
                (Reason("The row was watered in", 12.0, "mm", RestsOn("yours", "daybook", "entry 7f3b")),),
            ),
        ),
    ),
    Reason("Rain on Monday is likely", 0.7, "chance", RestsOn("observed", "forecast typed on 12 June", "")),
)


def line(name: str, says: str, where: str, detail: str) -> Line:
    return Line(name, says, where, detail, REASONS)


def work(
    name: str,
    says: str,
    where: str,
    detail: str,
    minutes: float,
    lost: str,
    window: DayOdds,
    regret: float,
    late: bool = False,
) -> WorkLine:
    return WorkLine(name, says, where, detail, REASONS, minutes, lost, regret > 0.3, late, window, regret)


def weather_day(day: int, tmin: float, tmax: float, rain: float, chance: float, endangers: bool = False) -> WeatherDay:
    on = TODAY + timedelta(days=day)
    doubt = 0.8 + 0.7 * day
    kind = "forecast" if day < 5 else "usual"
    return WeatherDay(
        on, kind, tmin - doubt, tmin, tmin + doubt, tmax - doubt, tmax, tmax + doubt, rain, chance, endangers
    )


WEATHER = (
    weather_day(0, 14.1, 26.8, 0.0, 0.02),
    weather_day(1, 15.2, 29.4, 0.0, 0.04),
    weather_day(2, 17.3, 33.6, 0.0, 0.03, endangers=True),
    weather_day(3, 18.0, 34.2, 0.3, 0.15, endangers=True),
    weather_day(4, 17.1, 31.0, 9.0, 0.7),
    weather_day(5, 14.0, 26.0, 5.5, 0.5),
    weather_day(6, 12.5, 24.1, 2.0, 0.35),
)

HOLDS = (
    line(
        "hold.pick.asparagus-11",
        "Do not cut asparagus",
        "bed 11",
        "First year of the crowns: let the fern feed the root. 7 of 8 are up.",
    ),
    line(
        "hold.pick.cabbage-4",
        "Do not pick cabbage before Sunday 14 June",
        "bed 4",
        "Treated on 11 June; the label you typed asks for three days.",
    ),
    line(
        "hold.water.garlic-9",
        "Do not water the garlic",
        "bed 9",
        "Skins are setting; a dry week now is worth a month in store.",
    ),
)
NEAR = (
    line(
        "heat.lettuce-2",
        "34 °C on Sunday and Monday",
        "bed 2",
        "Shade the new lettuce from Saturday evening; flowers of tomato may drop and nothing need be done about it.",
    ),
    line("storm.pea-6", "Gusts with the rain on Tuesday", "bed 6", "Tie the tall peas to the top wire before then."),
    line("heat.frame-1", "The cold frame passes 40 °C by noon", "frame 1", "Prop it open from breakfast on."),
)
WORK = (
    work(
        "pick.pea-6a",
        "Pick shelling peas",
        "bed 6",
        "every second day; pods full but still bright, mornings",
        20,
        "starchy in 2–3 days: most of the next pick",
        open_between(date(2026, 6, 8), date(2026, 6, 29)),
        0.71,
    ),
    work(
        "lift.garlic-9",
        "Lift garlic ‘Lockkeeper’",
        "bed 9",
        "lower leaves brown on 17 of 20; two dry days, then rain on Tuesday",
        60,
        "after rain: some of the keeping",
        open_between(date(2026, 6, 11), date(2026, 6, 15), spread=1.0),
        0.42,
    ),
    work(
        "support.bean-10",
        "Stake and tie the pole beans",
        "bed 10",
        "poles went up on 9 June; lead each shoot to its own pole",
        25,
        "shoots tangle and tear: some of the crop",
        open_between(date(2026, 5, 20), date(2026, 6, 17), spread=4.0),
        0.33,
        late=True,
    ),
    work(
        "sow.bean-9-again",
        "Sow snap beans again",
        "bed 9, after garlic",
        "third wave is picked before frost 9 years in 10",
        15,
        "later than 6 July it pays in half the years",
        open_between(date(2026, 6, 16), date(2026, 7, 5), spread=4.0),
        0.12,
    ),
    work(
        "set-out.leek-2",
        "Set the leeks out",
        "bed 2",
        "pencil-thick on 3 June; soil warm enough",
        40,
        "little is lost by waiting a week",
        open_between(date(2026, 6, 1), date(2026, 7, 1), spread=5.0),
        0.05,
    ),
    work(
        "protect.squash-12",
        "Net the winter squash against pigeons",
        "bed 12",
        "until the leaves are a hand wide",
        15,
        "few plants",
        open_between(date(2026, 6, 3), date(2026, 6, 20)),
        0.05,
    ),
)
MORE_WORK = (
    work(
        "sow.carrot-5-again",
        "Sow the storing carrots",
        "bed 5, rows 3 to 6",
        "not before Thursday: the crust breaks after the rain",
        30,
        "roots stay small when later than 1 July",
        open_between(date(2026, 6, 17), date(2026, 7, 1)),
        0.04,
    ),
    work(
        "earth-up.potato-7",
        "Earth up the potatoes ‘Miller’s Blue’",
        "bed 7",
        "haulm stands 25 cm; second and last time",
        35,
        "some green tubers",
        open_between(date(2026, 6, 6), date(2026, 6, 24)),
        0.04,
    ),
    work(
        "thin.carrot-5",
        "Thin the early carrots",
        "bed 5, rows 1 and 2",
        "to two fingers; evening, and water after",
        25,
        "little, for a week",
        open_between(date(2026, 6, 4), date(2026, 6, 26)),
        0.03,
    ),
    work(
        "pick.lettuce-2a",
        "Cut the first lettuce",
        "bed 2",
        "hearts firm on 9 of 12; they bolt in the heat",
        10,
        "bolts in a week: some of it",
        open_between(date(2026, 6, 5), date(2026, 6, 19)),
        0.31,
    ),
)
LOOK = (
    line(
        "look.cabbage-4",
        "Cabbage",
        "beds 4 and 7",
        "under the outer leaves, all nine plants. Last look 9 June: 2 caterpillars.",
    ),
    line("look.pepper-3", "Peppers", "bed 3", "scorched by the hail of 2 June and kept: is the new growth sound?"),
    line("look.bean-10", "Pole beans", "bed 10", "nipped by the frost of 21 May; count the gaps, seed is left."),
    line("look.cucumber-1", "Cucumbers", "frame 1", "male flowers only so far, as is usual for a week more."),
)
LEAVE = (
    line("leave.onion-8", "Onions", "bed 8", "a third of the leaves are yellow. Feel the necks of twenty on Monday."),
    line("leave.tomato-1", "Tomatoes", "bed 1", "lower leaves roll in the heat. They always have."),
    line("leave.potato-7", "Potatoes", "bed 7", "a few flea-beetle holes do no harm at this size."),
)
CHANGED = (
    line("pick.pea-6a", "Peas are ready four days earlier", "bed 6", "first flower was entered on 24 May."),
    line("frost.last", "The last frost is behind us", "", "21 May, later than 8 years in 10."),
)
NEXT = (
    NextLine(
        "stage.tomato-1.first-harvest",
        "first tomatoes",
        "bed 1",
        "",
        REASONS,
        falls_near(date(2026, 7, 5), 3.6),
        "30 June to 9 July, 8 in 10",
    ),
    NextLine(
        "stage.corn-12.first-harvest",
        "sweet corn ‘Towpath’",
        "bed 12",
        "narrowed by the entry of 9 June",
        REASONS,
        falls_near(date(2026, 7, 14), 5.0),
        "7 to 20 July, 8 in 10",
    ),
    NextLine(
        "stage.carrot-5.mature",
        "main carrots ready",
        "bed 5",
        "sown in dry soil, so wide",
        REASONS,
        falls_near(date(2026, 7, 21), 8.0, never=0.05),
        "11 to 31 July, 8 in 10; never: 1 in 20",
    ),
    NextLine(
        "stage.onion-8.tops-down",
        "onion tops go down",
        "bed 8",
        "",
        REASONS,
        falls_near(date(2026, 7, 19), 6.0),
        "11 to 27 July, 8 in 10",
    ),
    NextLine(
        "sow.garlic-order",
        "order garlic to plant",
        "",
        "lists close in August",
        REASONS,
        falls_near(date(2026, 8, 2), 9.0),
        "22 July to 14 August, 8 in 10",
    ),
)
RESTS = (
    Reason("Weather record to 11 June", None, "", RestsOn("observed", "weather record", "thornwick.csv")),
    Reason("40 past years brought to today’s climate, forecast to Tuesday 16", None, "", None),
    Reason("212 entries; 3 of 118 facts are from memory", None, "", RestsOn("observed", "daybook", "")),
)
CAUTIONS = (
    "The product’s label is the law and stands above this sheet; licensed practice and local rules come first.",
)


def sheet(**other: object) -> Sheet:
    """An ordinary week."""
    whole = Sheet(
        garden=GARDEN,
        number=24,
        first=TODAY,
        last=TODAY + timedelta(days=6),
        as_known=None,
        units="metric",
        weather=WEATHER,
        holds=HOLDS[:2],
        near=NEAR[:1],
        work=WORK,
        more_work=0,
        look=LOOK[:3],
        leave=LEAVE[:2],
        changed=CHANGED[:1],
        next=NEXT[:3],
        minutes=175,
        rests=RESTS,
        cautions=CAUTIONS,
    )
    return replace(whole, **other)


def long_sheet(**other: object) -> Sheet:
    """As full as a sheet may be: it still fits one side."""
    full: dict[str, object] = {
        "holds": HOLDS,
        "near": NEAR,
        "work": WORK[:4] + MORE_WORK + WORK[4:],
        "more_work": 7,
        "look": LOOK,
        "leave": LEAVE,
        "changed": CHANGED,
        "next": NEXT,
        "minutes": 275,
    }
    return sheet(**{**full, **other})


def empty_sheet(**other: object) -> Sheet:
    """A week in January."""
    none: dict[str, object] = dict.fromkeys(
        ("weather", "holds", "near", "work", "look", "leave", "changed", "next", "rests", "cautions"), ()
    )
    return sheet(**{**none, "minutes": 0, **other})


def why() -> Why:
    one = WORK[3]
    return Why(GARDEN, TODAY, "metric", one.name, one.says, one.where, one.detail, one.window, REASONS)


def stages() -> Stages:
    nothing = DayOdds(None, None, None, 0.0, 0.0, date.min, ())

    def seen(stage: str, words: str, bbch: str, on: date, not_yet: date | None) -> Stage:
        return Stage(stage, words, bbch, on, not_yet, nothing, "", REASONS[:1])

    ahead = falls_near(date(2026, 7, 5), 3.6)
    later = falls_near(date(2026, 9, 20), 9.0, never=0.1)
    return Stages(
        GARDEN,
        TODAY,
        "metric",
        "tomato-1",
        "Tomato",
        "Wharf Lantern",
        "bed 1",
        (
            seen("sown", "sown", "00", date(2026, 4, 2), None),
            seen("emerged", "emerged", "09", date(2026, 4, 11), date(2026, 4, 9)),
            seen("set-out", "set out", "", date(2026, 5, 24), None),
            Stage("first-harvest", "first picking", "81", None, TODAY, ahead, "30 June to 9 July, 8 in 10", REASONS),
            Stage("last-harvest", "last picking", "", None, None, later, "9 September to 1 October, 8 in 10", REASONS),
        ),
    )


def climate() -> Climate:
    since = date(2026, 3, 1)
    days = tuple(since + timedelta(days=day) for day in range(245))

    def sums(scale: float) -> tuple[float, ...]:
        total, out = 0.0, []
        for day in range(245):
            total += max(0.0, scale * 12.5 * math.sin(math.pi * (day + 10) / 265) - 1.5)
            out.append(round(total, 1))
        return tuple(out)

    wavy = tuple(round(one * (1.0 + 0.05 * math.sin(i / 9)), 1) for i, one in enumerate(sums(1.05)[:103]))
    warmth = WarmthSoFar(
        "warmth for tomatoes", 10.0, since, wavy[-1], sums(0.86)[102], sums(1.0)[102], sums(1.13)[102],
        "warmer than 27 of 40 years", days, wavy, sums(0.86), sums(1.0), sums(1.13),
    )  # fmt: skip
    frost = (
        FrostLevel(0.0, "light frost", 1.0, date(2026, 5, 22), date(2026, 5, 7), date(2026, 4, 20),
                   date(2026, 9, 24), date(2026, 10, 8), date(2026, 10, 23), 128.0, 153.0, 180.0),
        FrostLevel(-2.2, "killing frost", 1.0, date(2026, 5, 8), date(2026, 4, 24), date(2026, 4, 7),
                   date(2026, 10, 6), date(2026, 10, 20), date(2026, 11, 6), 152.0, 178.0, 206.0),
        FrostLevel(-15.0, "hard freeze", 0.3, date(2026, 2, 3), None, None, date(2026, 12, 20), None, None,
                   None, None, None),
    )  # fmt: skip
    trend = tuple(MonthTrend(month, 0.21 + 0.02 * month, 0.17 - 0.03 * month, month % 4 > 0) for month in range(1, 13))
    return Climate(
        GARDEN, TODAY, "metric", tuple(range(1986, 2026)), True, frost, (warmth,), trend, 312.4, 340.0, REASONS
    )


def table() -> Table:
    return Table(
        "Beds of the garden",
        ("bed", "length m", "crop", "remark"),
        (
            ("1", "6.0", "tomato ‘Wharf Lantern’", "under glass until the end of May, then open on the south side"),
            ("12", "12.5", "sweet corn, winter squash", ""),
        ),
        ("2 beds.", "kailyard bed NAME shows one."),
    )


ALL = (sheet(), long_sheet(), empty_sheet(), why(), stages(), climate(), table())
