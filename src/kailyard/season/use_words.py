"""What the handbook says of a planting's use, in words, numbers and reasons."""

from __future__ import annotations

from kailyard.documents._parts import Reason
from kailyard.handbook.types import Fact
from kailyard.season.life import Life
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.uses import use_fact
from kailyard.season.view import SeasonView
from kailyard.units import in_running_text


def fact_for(view: SeasonView, life: Life, quantity: str) -> Fact | None:
    """What the handbook says of what a planting is picked for, else of its crop."""
    return use_fact(view.handbook, life.planting.crop, life.use, quantity)


def number_for(view: SeasonView, life: Life, quantity: str, default: float) -> float:
    """The number of `fact_for`, or `default`."""
    fact = fact_for(view, life, quantity)
    return default if fact is None else fact.number


def said_for(view: SeasonView, life: Life, quantity: str) -> str:
    """The words of `fact_for`, figures in the garden's units; '' where there are none."""
    fact = fact_for(view, life, quantity)
    return "" if fact is None else in_running_text(str(fact.value), view.garden.units)


def produce_for(view: SeasonView, life: Life) -> str:
    """What is picked: 'ripe peppers' where the use was said, else 'peppers'."""
    return said_for(view, life, "produce") or view.plants(life.planting)


def use_reasons(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """What was said of the planting's use, and how it moves the picking; () where nobody said."""
    said = life.sightings.of("use")
    out = [from_entry(said[-1], f"Picked for: {life.use}.")] if said and life.use else []
    named = {
        "use_after_days_min": "For this use it is ready at least so long after the crop's usual first picking.",
        "use_after_days_max": "And at most so long after it.",
    }
    found = ((view.handbook.get(f"{life.planting.crop}/{life.use}", q), says) for q, says in named.items())
    return (*out, *(from_fact(fact, view.handbook, says) for fact, says in found if fact is not None))
