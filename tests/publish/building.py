"""Documents made up by hypothesis from the dataclasses alone, so that a new document or field is tried by itself."""

from __future__ import annotations

import dataclasses
import types
from datetime import date
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from hypothesis import strategies as st

from kailyard.documents._parts import Reason, RestsOn

_FLOATS = st.floats(-1e6, 1e6, allow_nan=False)
_DATES = st.dates(date(1990, 1, 1), date(2090, 12, 31))


def _reasons() -> st.SearchStrategy[Reason]:
    plain = st.builds(
        Reason,
        says=st.text(max_size=30),
        figure=st.none() | _FLOATS,
        unit=st.sampled_from(["", "°C", "mm", "days", "chance"]) | st.text(max_size=5),
        rests_on=st.none() | of(RestsOn),
    )

    def opened(inner: st.SearchStrategy[Reason]) -> st.SearchStrategy[Reason]:
        return st.builds(Reason, says=st.text(max_size=30), because=st.lists(inner, max_size=2).map(tuple))

    return st.recursive(plain, opened, max_leaves=4)


def of(kind: Any) -> st.SearchStrategy[Any]:
    """Values of the type `kind`, as the documents use types."""
    if kind is Reason:
        return _reasons()
    origin, args = get_origin(kind), get_args(kind)
    if origin is Literal:
        return st.sampled_from(args)
    if origin in (Union, types.UnionType):
        return st.one_of([of(arg) for arg in args])
    if origin is tuple:
        assert args[1] is Ellipsis
        return st.lists(of(args[0]), max_size=3).map(tuple)
    if dataclasses.is_dataclass(kind):
        hints = get_type_hints(kind)
        return st.builds(kind, **{field.name: of(hints[field.name]) for field in dataclasses.fields(kind)})
    simple: dict[Any, st.SearchStrategy[Any]] = {
        type(None): st.none(),
        str: st.text(max_size=40),
        float: _FLOATS,
        int: st.integers(-10_000, 10_000),
        bool: st.booleans(),
        date: _DATES,
    }
    return simple[kind]
