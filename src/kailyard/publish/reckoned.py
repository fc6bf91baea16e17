"""What can be reckoned and what came out, in words that text and HTML share."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import prod

from kailyard.documents.methods import Method, MethodInput
from kailyard.documents.reckoning import Computed, Reckoning, Taken

_DIGITS = 6


def figure(value: float | str | None) -> str:
    """A number to six digits with a true minus sign, a word as it is, a dash where a value is missing."""
    if value is None:
        return "–"
    return value if isinstance(value, str) else f"{value:.{_DIGITS}g}".replace("-", "−")


def takes(each: MethodInput) -> str:
    """'-60 to 60 °C', 'one of short, tall'."""
    if each.words:
        return f"one of {', '.join(each.words)}"
    span = f"{figure(each.low)} to {figure(each.high)} {each.unit}".rstrip()
    return f"a run of {span}" if each.run else span


def otherwise(each: MethodInput) -> str:
    """What holds where nothing is given."""
    return "needed" if each.required else "may be left out" if each.default is None else f"else {figure(each.default)}"


def gives(method: Method) -> str:
    """'et [mm]', every result with its unit."""
    return ", ".join(f"{each.name} [{each.unit}]" if each.unit else each.name for each in method.gives)


def tried(method: Method) -> str:
    """The example as somebody types it, with LABEL where a value is read off a product's label."""
    words = method.example
    for each in method.inputs:
        if each.off_label:
            words = re.sub(rf"(?<= )({re.escape(each.name)})=('[^']*'|\S+)", r"\1=LABEL", words)
    return words


def named(name: str, unit: str) -> str:
    """A column's head."""
    return f"{name} [{unit}]" if unit else name


def grids(document: Reckoning) -> tuple[Taken, ...]:
    """The inputs that span a teaching table; at most two."""
    return tuple(each for each in document.inputs if each.how == "grid")


def numbers(value: float | str | tuple[float | None, ...] | None) -> tuple[float | str | None, ...]:
    """All values, one or many."""
    return value if isinstance(value, tuple) else (value,)


def rows(document: Reckoning) -> Iterator[tuple[str, tuple[str, ...], list[tuple[str, ...]]]]:
    """Tables of what came out: a title ('' where none is needed), heads, and rows."""
    axes = grids(document)
    if len(axes) == 2 and all(each.shape == _shape(axes) for each in document.results):
        for each in document.results:
            yield _teaching(each, axes)
        return
    lone = [each for each in document.results if not each.shape]
    if lone:
        yield "", ("gives", "value", "unit"), [(each.name, figure(_one(each)), each.unit) for each in lone]
    shapes = dict.fromkeys(each.shape for each in document.results if each.shape)
    for shape in shapes:
        alike = [each for each in document.results if each.shape == shape and len(numbers(each.value)) == prod(shape)]
        beside = [i for i in document.inputs if isinstance(i.value, tuple) and (len(i.value),) == shape]
        heads = [*(named(i.name, i.unit) for i in beside), *(named(each.name, each.unit) for each in alike)]
        columns = [*(numbers(i.value) for i in beside), *(numbers(each.value) for each in alike)]
        if any(i.how == "grid" for i in beside):  # its values say the place
            yield "", tuple(heads), [tuple(map(figure, line)) for line in zip(*columns, strict=True)]
            continue
        places = [_place(at, shape) for at in range(prod(shape))] if columns else []
        made = [(place, *map(figure, line)) for place, line in zip(places, zip(*columns, strict=True), strict=True)]
        yield "", ("", *heads), made


def given(document: Reckoning) -> list[tuple[str, str, str, str]]:
    """Each input: its name, its value or how many values, its unit, and how it was come by."""
    return [
        (
            each.name,
            figure(each.value) if not isinstance(each.value, tuple) else f"{len(each.value)} values",
            each.unit,
            each.how,
        )
        for each in document.inputs
        if each.value is not None
    ]


def _shape(axes: tuple[Taken, ...]) -> tuple[int, ...]:
    return tuple(len(numbers(each.value)) for each in axes)


def _one(each: Computed) -> float | str | None:
    found = numbers(each.value)
    return found[0] if found else None


def _teaching(each: Computed, axes: tuple[Taken, ...]) -> tuple[str, tuple[str, ...], list[tuple[str, ...]]]:
    down, across = axes
    wide = len(numbers(across.value))
    values = [figure(value) for value in numbers(each.value)]
    title = f"{named(each.name, each.unit)}; across: {named(across.name, across.unit)}"
    heads = (named(down.name, down.unit), *map(figure, numbers(across.value)))
    starts = range(0, len(values), wide) if wide else range(0)
    lines = [tuple(values[start : start + wide]) for start in starts]
    return title, heads, [(figure(v), *line) for v, line in zip(numbers(down.value), lines, strict=False)]


def _place(at: int, shape: tuple[int, ...]) -> str:
    """'3' for the third of a run; '2, 14' where there are rows of runs. Counted from 1."""
    found = []
    for size in reversed(shape):
        found.append(at % size + 1)
        at //= size
    return ", ".join(str(place) for place in reversed(found))
