"""The error of forecasts is learnt: a known law of error comes back, and the odds made with it hold."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from weather_files import changed, invented_record

from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.forecast import SKILL_BY_LEAD, STATED, WET_MM, ForecastDay
from kailyard.weather.record import DailyRecord, read_only
from kailyard.weather.skill import FEWEST_MET, PRIOR_MET, Learnt, learn

FIRST, TODAY = date(1990, 1, 1), date(2026, 6, 1)
RECORD = invented_record(FIRST, TODAY - timedelta(days=1))
BASE = FIRST.toordinal()
NAN = float("nan")


def usual(n: int) -> np.ndarray:
    """The wave from which `invented_record` is made, before its noise. [°C]"""
    return 10 - 10 * np.cos(2 * np.pi * (BASE + np.arange(n) - 15) / 365.2425)


def issued(met: int, lead: int, *, rho: float, bias_c: float, seed: int = 3, source: str = "s") -> list[ForecastDay]:
    """Forecasts of a known law: departure from the usual of correlation `rho` with what came, and a bias.

    Every other day, so that pairs are nearly independent.
    """
    rng = np.random.default_rng(seed)
    n = len(RECORD)
    out = []
    mid = usual(n)
    for k in range(met):
        i = n - 1 - 2 * k
        low = RECORD.tmin_c[i] - (mid[i] - 4)
        high = RECORD.tmax_c[i] - (mid[i] + 4)
        spread = 3.2  # 3 °C of the mean and 1.15 °C of the half range (uniform 2 to 6), in quadrature
        said = [rho * d + np.sqrt(1 - rho**2) * rng.normal(0, spread) + bias_c for d in (low, high)]
        # Correlation rho with equal spread: var(rho d + √(1-rho²) e) = var d.
        day = date.fromordinal(BASE + i)
        out.append(
            ForecastDay(day - timedelta(days=lead), day, mid[i] - 4 + said[0], mid[i] + 4 + said[1], NAN, source)
        )
    return out


def learnt(days: list[ForecastDay], record: DailyRecord = RECORD) -> Learnt:
    return learn(days, record, today=TODAY)["s"]


@pytest.mark.parametrize("rho", [0.35, 0.7, 0.95])
@pytest.mark.parametrize("bias_c", [-2.0, 0.0, 1.5])
def test_a_known_law_of_error_comes_back_within_its_sampling_error(rho: float, bias_c: float) -> None:
    met, lead = 1500, 4
    got = learnt(issued(met, lead, rho=rho, bias_c=bias_c))
    for q in (0, 1):
        error_sd = 3.2 * np.sqrt(2 - 2 * rho)  # of f - o for equal spreads of correlation rho
        assert got.met[q, lead - 1] == met
        assert got.off_c[q, lead - 1] == pytest.approx(bias_c, abs=4 * error_sd / np.sqrt(met))
        assert got.miss_c[q, lead - 1] == pytest.approx(error_sd, rel=4 / np.sqrt(2 * met))
        # Standard errors of a slope and of a residual deviation (any textbook of regression).
        assert got.belief.skill[q, lead - 1] == pytest.approx(rho, abs=4 * np.sqrt((1 - rho**2) / met) + 0.02)
        assert got.belief.left[q, lead - 1] == pytest.approx(np.sqrt(1 - rho**2), rel=4 / np.sqrt(2 * met) + 0.03)
        other = [n for n in range(10) if n != lead - 1]
        assert np.array_equal(got.belief.skill[q, other], STATED.skill[q, other])


def test_few_forecasts_hardly_move_what_is_stated() -> None:
    lead, rho = 2, 0.3
    skill = []
    for met in (FEWEST_MET, 40, 200, 1500):
        got = learnt(issued(met, lead, rho=rho, bias_c=3.0))
        skill.append(got.belief.skill[0, lead - 1])
        assert got.belief.bias_c[0, lead - 1] == pytest.approx(
            got.off_c[0, lead - 1] * met / (met + PRIOR_MET), abs=1e-9
        )
    assert SKILL_BY_LEAD[lead - 1] > skill[0] > skill[1] > skill[2] > skill[3] > rho - 0.05
    assert skill[0] > 0.5


def test_under_the_fewest_the_stated_stands() -> None:
    assert learn(issued(FEWEST_MET - 1, 2, rho=0.3, bias_c=3.0), RECORD, today=TODAY) == {}
    spread_out = [f for lead in (1, 2) for f in issued(FEWEST_MET - 1, lead, rho=0.3, bias_c=3.0)]
    got = learnt(spread_out)
    assert np.array_equal(got.belief.skill, STATED.skill)
    assert not got.learning(0, 1)


def test_nothing_of_today_or_later_teaches() -> None:
    days = issued(60, 3, rho=0.5, bias_c=1.0)
    early = days[-1].day + timedelta(days=21)
    got = learn(days, RECORD, today=early)["s"]
    assert got.met[0, 2] == sum(d.day < early for d in days)


def test_sources_are_learnt_apart() -> None:
    good, bad = issued(300, 3, rho=0.95, bias_c=0.0, source="good"), issued(300, 3, rho=0.2, bias_c=4.0, source="bad")
    got = learn(good + bad, RECORD, today=TODAY)
    assert got["good"].belief.skill[0, 2] > 0.85
    assert got["bad"].belief.skill[0, 2] < 0.4
    assert got["bad"].belief.bias_c[1, 2] > 3


@pytest.mark.parametrize("rho", [0.4, 0.8])
def test_the_odds_of_a_learnt_forecast_hold(rho: float) -> None:
    """The day that came must be the like of the possible seasons: its rank among them equally often anywhere.

    Forecasts twice as bad as stated and off by 2 °C; the odds made with what is stated must fail the same check.
    """
    lead, days = 3, issued(2400, 3, rho=rho, bias_c=2.0)
    belief = {"s": learnt(days[1200:]).belief}  # from the older half; the ranks from the newer
    ranks: dict[bool, list[float]] = {True: [], False: []}
    for each in days[:1200:12]:
        for known in (True, False):
            made = build_ensemble(
                RECORD, today=each.issued, start=each.issued, forecast=(each,), beliefs=belief if known else None,
                horizon_days=lead + 2, use_trend=False,
            )  # fmt: skip
            runs = made.tmin_c[:, made.today_index + lead]
            ranks[known].append(float(np.mean(runs < RECORD.tmin_c[each.day.toordinal() - BASE])))
    # A uniform rank of 100 has mean 0.5 ± 0.029 and standard deviation 0.289 ± 0.02 or so.
    assert np.mean(ranks[True]) == pytest.approx(0.5, abs=0.1)
    assert np.std(ranks[True]) == pytest.approx(0.289, abs=0.06)
    assert np.mean(ranks[False]) < 0.4


def rain(met: int, lead: int, *, if_wet: float, if_dry: float) -> tuple[list[ForecastDay], DailyRecord]:
    """A record whose verified days rained with the given chances where rain was said and where it was not."""
    rng = np.random.default_rng(5)
    mm = RECORD.rain_mm.copy()
    days = []
    for k in range(met):
        i = len(RECORD) - 1 - k
        said = rng.random() < 0.4
        mm[i] = 5.0 if rng.random() < (if_wet if said else if_dry) else 0.0
        day = date.fromordinal(BASE + i)
        days.append(ForecastDay(day - timedelta(days=lead), day, NAN, NAN, 6.0 if said else 0.0, "s"))
    return days, changed(RECORD, rain_mm=mm)


@pytest.mark.parametrize("lead", [1, 8])
def test_the_chance_of_rain_that_was_counted_comes_out_of_the_seasons(lead: int) -> None:
    days, record = rain(3000, lead, if_wet=0.7, if_dry=0.1)
    got = learnt(days, record)
    hit, false, right, missed = got.rain[:, lead - 1]
    assert hit / (hit + false) == pytest.approx(0.7, abs=0.06)
    known = record.rain_mm[~np.isnan(record.rain_mm)]
    usual_wet = float(np.mean(known >= WET_MM))
    wet, dry = got.belief.said_wet[lead - 1], got.belief.said_dry[lead - 1]
    assert wet + (1 - wet) * usual_wet == pytest.approx(0.7, abs=0.06)
    assert (1 - dry) * usual_wet == pytest.approx(0.1, abs=0.03)
    assert right > missed


def test_a_forecast_that_knows_nothing_of_rain_is_not_believed() -> None:
    days, record = rain(3000, 1, if_wet=0.3, if_dry=0.3)
    got = learnt(days, record)
    assert got.belief.said_wet[0] < 0.1
    assert got.belief.said_dry[0] < 0.15


def test_a_record_without_rain_teaches_nothing_of_rain() -> None:
    days, _ = rain(100, 1, if_wet=0.7, if_dry=0.1)
    dry = changed(RECORD, rain_mm=read_only(np.full(len(RECORD), np.nan)))
    assert np.array_equal(learnt(days, dry).belief.said_wet, STATED.said_wet)
