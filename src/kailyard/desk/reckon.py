"""One formula of the science at a time: listed, described, computed, with its source."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from difflib import get_close_matches
from itertools import product
from typing import Any

import numpy as np

from kailyard.desk.reckon_words import Grid, bare, lengths, meant, plain, read
from kailyard.desk.typed import shown
from kailyard.documents.methods import Method, MethodInput, MethodResult, Methods
from kailyard.documents.reckoning import Computed, Reckoning, Taken
from kailyard.errors import NotFound, UsageError
from kailyard.science.checks import InputError
from kailyard.science.reckon import Choice, Quantity, Reckoner, reckoners

ALIASES = {
    "eto": "fao_reference_et_mm",
    "et0": "fao_reference_et_mm",
    "etr": "asce_reference_et_mm",
    "gdd": "simple_degree_days",
    "vpd": "vapour_pressure_deficit_kpa",
}
"""What the trade calls some of them for short. Any method may also be named without its unit, or by its first words,
where that names one alone."""


_SPELT = {"fao": "FAO", "asce": "ASCE", "et": "evapotranspiration", "kc": "Kc", "utah": "Utah"}
"""Parts of names that a title spells otherwise."""


def methods() -> Methods:
    """Every formula that can be asked."""
    every = reckoners()
    return Methods(tuple(_described(each, every) for each in every))


def method(name: str) -> Methods:
    """One formula: its inputs with unit, range and default, what it gives, its source, and an example."""
    return Methods((_described(named(name), reckoners()),))


def reckon(name: str, words: Sequence[str]) -> Reckoning:
    """Compute one formula from `name=value` words; UsageError names an input that is bad or missing, with its range."""
    found = named(name)
    given = read(found, words)
    axes = {key: value.values for key, value in given.items() if isinstance(value, Grid)}
    fixed = {key: value for key, value in given.items() if not isinstance(value, Grid)}
    if axes:
        results = _over_grid(found, fixed, axes)
    else:
        try:
            results = [np.asarray(one, dtype=np.float64) for one in _called(found, fixed)]
        except UsageError as err:
            raise UsageError(f"{err} {lengths(given)}.") if _uneven(err) else err from None
    made = tuple(
        Computed(key, _values(value), unit, value.shape)
        for (key, unit), value in zip(found.gives.items(), results, strict=True)
    )
    inputs = tuple(
        Taken(each.name, _taken(each.name, given, each.default), _unit(each.kind), _how(each.name, given))
        for each in found.inputs
    )
    return Reckoning(
        method=found.name,
        says=found.summary,
        value=made[0].value,
        unit=made[0].unit,
        inputs=inputs,
        source=found.source,
        status=found.status,
        results=made,
    )


_SIZES = "the runs are of different lengths:"


def _uneven(err: UsageError) -> bool:
    return str(err).endswith(_SIZES)


def _called(found: Reckoner, given: dict[str, Any]) -> tuple[Any, ...]:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", RuntimeWarning)  # a missing value among others says so by itself
            result = found.function(**given)
    except InputError as err:
        raise UsageError(str(err)) from None
    except ValueError:
        if len({len(value) for value in given.values() if isinstance(value, list)}) < 2:
            raise
        raise UsageError(f"{found.name}: {_SIZES}") from None
    return result if isinstance(result, tuple) else (result,)


def _over_grid(found: Reckoner, fixed: dict[str, Any], axes: dict[str, tuple[float, ...]]) -> list[Any]:
    """Every result over the axes. A place where the formula has no answer (a minimum above its maximum) is missing."""
    shape = tuple(len(values) for values in axes.values())
    results = [np.full(shape, np.nan) for _ in found.gives]
    refused: UsageError | None = None
    answered = False
    for at, values in zip(np.ndindex(shape), product(*axes.values()), strict=True):
        try:
            computed = _called(found, fixed | dict(zip(axes, values, strict=True)))
        except UsageError as err:
            refused = err
            continue
        answered = True
        for whole, one in zip(results, computed, strict=True):
            if np.ndim(one):
                raise UsageError(f"{', '.join(axes)}: {found.name} answers with a run, which has no place in a grid.")
            whole[at] = float(one)
    if refused is not None and not answered:
        raise refused
    return results


def _values(value: Any) -> float | tuple[float | None, ...] | None:
    made = plain(value)
    assert not isinstance(made, str)  # results are numbers
    return made


def _taken(name: str, given: dict[str, Any], default: object) -> float | str | tuple[float | None, ...] | None:
    value = given.get(name, default)
    return plain(value.values if isinstance(value, Grid) else value)


def _how(name: str, given: dict[str, Any]) -> Any:
    return "default" if name not in given else "grid" if isinstance(given[name], Grid) else "given"


def _unit(kind: Quantity | Choice) -> str:
    return kind.unit if isinstance(kind, Quantity) else ""


def named(name: str) -> Reckoner:
    """The formula of that name, in full or short; NotFound where it is none, or not one alone."""
    every = {r.name: r for r in reckoners()}
    key = ALIASES.get(name.lower(), name)
    found = meant(key, every)
    if len(found) == 1:
        return every[found[0]]
    if found:
        raise NotFound(f"{shown(name)} may be {' or '.join(sorted(found))}. Write one of them.")
    near = get_close_matches(key.replace("-", "_"), every, n=2)
    hint = f"Did you mean {' or '.join(near)}?" if near else "The reckoner lists them."
    raise NotFound(f"There is no method {shown(name)}. {hint}")


def _title(name: str) -> str:
    words = [_SPELT.get(word, word) for word in name.split("_")]
    return " ".join([words[0][0].upper() + words[0][1:], *words[1:]])


def _described(found: Reckoner, every: Sequence[Reckoner]) -> Method:
    names = [each.name for each in every]
    short = [alias for alias, name in ALIASES.items() if name == found.name]
    own = bare(found.name)
    if own != found.name and meant(own, names) == [found.name]:
        short.append(own)
    words = " ".join(f"{key}={typed(value)}" for key, value in found.example.items())
    return Method(
        name=found.name,
        title=_title(own),
        short=tuple(short),
        subject=found.module.replace("_", " "),
        says=found.summary,
        inputs=tuple(
            MethodInput(
                each.name,
                _unit(each.kind),
                each.kind.low if isinstance(each.kind, Quantity) else None,
                each.kind.high if isinstance(each.kind, Quantity) else None,
                each.kind.words if isinstance(each.kind, Choice) else (),
                isinstance(each.kind, Quantity) and each.kind.series,
                each.required,
                _default(each.default),
                bare(each.name).replace("_", " "),
                found.meaning(each.name),
                isinstance(each.kind, Quantity) and each.kind.off_label,
            )
            for each in found.inputs
        ),
        gives=tuple(MethodResult(key, unit) for key, unit in found.gives.items()),
        formula=found.formula,
        source=found.source,
        status=found.status,
        example=f"kailyard reckon {found.name} {words}",
    )


def _default(value: object) -> float | str | None:
    made = plain(value)
    assert not isinstance(made, tuple)  # a default is one value
    return made


def typed(value: Any) -> str:
    """A value of an example as somebody types it."""
    if isinstance(value, str):
        return f"'{value}'" if " " in value else value
    return ",".join(f"{x:.10g}" for x in np.atleast_1d(np.asarray(value, dtype=np.float64)).ravel())
