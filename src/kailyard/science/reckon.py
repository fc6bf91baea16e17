"""Reckoners: science functions whose annotations carry unit and range, so that a command, a form and the docs follow.

A function becomes a reckoner by its decorator alone; `reckoners` finds them by walking this folder::

    WARMTH_C = Quantity("°C", -60, 60)

    @reckoner(gives={"pressure": "kPa"}, source="FAO-56, eq. 11", status="published", example={"temp_c": 20})
    def saturation_vapour_pressure_kpa(temp_c: Annotated[ArrayLike, WARMTH_C]) -> FloatArray:
        t = WARMTH_C.hold("temp_c", temp_c)

The range stands once, in the `Quantity`: the annotation shows it and `hold` enforces it.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
import textwrap
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal, TypeVar, get_type_hints

from numpy.typing import ArrayLike

from kailyard.science._inputs import INPUTS
from kailyard.science.checks import FloatArray, InputError, seen_within, within

Status = Literal["published", "common practice", "memory"]
_OF_ARRAYS = r"\s*\[[^\]]*\]$|,? (?:days )?along the last axis|; broadcasts with `\w+`|, shape \(\.\.\.\)"
"""In a parameter's words what a page leaves away: the unit, and how its array lies."""
F = TypeVar("F", bound=Callable[..., Any])


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number with its unit ('' for pure numbers) and the range in which the formula is used."""

    unit: str
    low: float
    high: float
    series: bool = False
    """True where the function wants a run of days (or years), not one value."""
    off_label: bool = False
    """True where the value is read off a product's label: no form and no example may put one in the user's mouth."""

    def hold(self, name: str, values: ArrayLike) -> FloatArray:
        """The values as a new float64 array; InputError where one lies outside the range, NaN passes."""
        return within(name, values, self.low, self.high, self.unit)

    def see(self, name: str, values: ArrayLike) -> FloatArray:
        """As `hold`, but a view that cannot be written to where no copy is needed; for formulas that only read."""
        return seen_within(name, values, self.low, self.high, self.unit)

    def hold_number(self, name: str, value: float) -> float:
        """One number inside the range; InputError where it lies outside, is missing, or is more than one."""
        x = self.hold(name, value)
        if x.ndim or x != x:
            raise InputError(f"{name}: one number from {self.low:g} to {self.high:g} {self.unit} is needed.")
        return float(x)


@dataclass(frozen=True, slots=True)
class Choice:
    """One word out of a few."""

    words: tuple[str, ...]

    def hold(self, name: str, word: str) -> str:
        """The word; InputError naming the words to choose from where it is none of them."""
        if word not in self.words:
            raise InputError(f"{name}: '{word}' is none of {', '.join(self.words)}.")
        return word


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a reckoner."""

    name: str
    kind: Quantity | Choice
    required: bool
    default: object
    """What holds where nothing is given; None where `required`."""


@dataclass(frozen=True)
class Reckoner:
    """A science function with what a command, a form or a page needs to know of it."""

    function: Callable[..., Any]
    gives: Mapping[str, str]
    """Each result with its unit, in order; one entry for a function that returns one array."""
    source: str
    status: Status
    example: Mapping[str, Any] = field(hash=False)
    """Inputs that work: what a form shows at first, and what the walking test calls."""

    @property
    def name(self) -> str:
        """The function's name."""
        return self.function.__name__

    @property
    def module(self) -> str:
        """Name of the module in the science folder."""
        return self.function.__module__.rpartition(".")[2]

    @property
    def summary(self) -> str:
        """First line of the docstring."""
        return (inspect.getdoc(self.function) or "").partition("\n")[0]

    @property
    def formula(self) -> str:
        """The equation as printed, or the steps of a procedure, line by line; '' where the docstring has none."""
        return textwrap.dedent(self.section("Formula")).strip()

    def section(self, name: str) -> str:
        """What stands in the docstring under a heading; '' where there is no such heading."""
        doc = inspect.getdoc(self.function) or ""
        found = re.search(rf"^{name}\n-+\n(.*?)(?=^\w[\w ]*\n-+\n|\Z)", doc, re.M | re.S)
        return found[1].rstrip() if found else ""

    def meaning(self, name: str) -> str:
        """What an input is: what the docstring says of it alone, else what its name means everywhere.

        Range, unit and what concerns arrays are left away: `Quantity` has the first two.
        """
        heads = r"^(\w[\w ,\n]*?)(?: :[^\n]*)?\n((?:    [^\n]*\n?)+)"
        for names, text in re.findall(heads, self.section("Parameters") + "\n", re.M):
            if names.strip() == name and not text.strip().startswith("As `"):
                said = re.sub(_OF_ARRAYS, "", " ".join(text.split()))
                said = re.sub(rf"(?:^|,? ){self._range_of(name)}(?=$|[^\d.]|\.(?!\d))", "", said).strip(" ,;.:")
                if said:
                    return said[0].upper() + said[1:] + "."
        known = INPUTS.get(name, "")
        return f"{known[0].upper()}{known[1:]}." if known else ""

    def _range_of(self, name: str) -> str:
        kind = next(each.kind for each in self.inputs if each.name == name)
        if isinstance(kind, Choice):
            return "(?!)"
        ends = ({f"{end:g}", f"{end:,.10g}", f"{end:.10g}"} for end in (kind.low, kind.high))
        low, high = ("|".join(map(re.escape, sorted(each))) for each in ends)
        return f"(?:{low}) to (?:{high})"

    @cached_property
    def inputs(self) -> tuple[Input, ...]:
        """Every parameter in order, with its `Quantity` or `Choice`; TypeError where one carries neither."""
        hints = get_type_hints(self.function, include_extras=True)
        found = []
        for parameter in inspect.signature(self.function).parameters.values():
            marks = getattr(hints[parameter.name], "__metadata__", ())
            kinds = [mark for mark in marks if isinstance(mark, Quantity | Choice)]
            if len(kinds) != 1:
                raise TypeError(f"{self.name}: parameter {parameter.name} needs one Quantity or Choice")
            required = parameter.default is parameter.empty
            found.append(Input(parameter.name, kinds[0], required, None if required else parameter.default))
        return tuple(found)


_REGISTER: dict[str, Reckoner] = {}


def reckoner(*, gives: Mapping[str, str], source: str, status: Status, example: Mapping[str, Any]) -> Callable[[F], F]:
    """Enter the decorated function in the register and hand it back unchanged."""

    def enter(function: F) -> F:
        _REGISTER[function.__name__] = Reckoner(function, gives, source, status, example)
        return function

    return enter


def reckoners() -> tuple[Reckoner, ...]:
    """Every reckoner of the science folder, by module and name; imports the whole folder."""
    folder = importlib.import_module(__package__)
    for module in pkgutil.iter_modules(folder.__path__):
        importlib.import_module(f"{__package__}.{module.name}")
    return tuple(sorted(_REGISTER.values(), key=lambda r: (r.module, r.name)))
