"""Walks every reckoner, so that one that is added is held to the same."""

import subprocess
import sys
from typing import Annotated, Any, get_type_hints

import numpy as np
import pytest
from numpy.typing import ArrayLike

from kailyard.science import reckon
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Choice, Quantity, Reckoner, reckoners

_EVERY = reckoners()


def _named(every: tuple[Reckoner, ...]) -> list[str]:
    return [f"{r.module}.{r.name}" for r in every]


@pytest.mark.parametrize("reckoner", _EVERY, ids=_named(_EVERY))
def test_says_its_source_its_results_and_what_each_input_is(reckoner: Reckoner) -> None:
    assert reckoner.source
    assert reckoner.status in ("published", "common practice", "memory")
    assert reckoner.summary.endswith((".", ":"))
    assert reckoner.gives
    assert reckoner.inputs
    for entry in reckoner.inputs:
        if isinstance(entry.kind, Quantity):
            assert entry.kind.low < entry.kind.high
            assert np.isfinite([entry.kind.low, entry.kind.high]).all()
        else:
            assert len(set(entry.kind.words)) == len(entry.kind.words) > 1
    required = {entry.name for entry in reckoner.inputs if entry.required}
    assert required <= set(reckoner.example) <= {entry.name for entry in reckoner.inputs}


@pytest.mark.parametrize("reckoner", _EVERY, ids=_named(_EVERY))
def test_its_example_works_and_gives_what_is_promised(reckoner: Reckoner) -> None:
    got = reckoner.function(**reckoner.example)
    results = got if isinstance(got, tuple) else (got,)
    assert len(results) == len(reckoner.gives)
    assert all(np.isfinite(np.asarray(result, dtype=np.float64)).all() for result in results)
    if hasattr(got, "_fields"):
        assert got._fields == tuple(reckoner.gives)


def _spoilt(example: Any, kind: Quantity | Choice, side: str) -> object:
    if isinstance(kind, Choice):
        return "none such"
    value = kind.high + abs(kind.high) * 0.01 + 0.5 if side == "high" else kind.low - abs(kind.low) * 0.01 - 0.5
    return [*example, value] if isinstance(example, list) else value


@pytest.mark.parametrize("side", ["low", "high"])
@pytest.mark.parametrize("reckoner", _EVERY, ids=_named(_EVERY))
def test_refuses_what_is_out_of_range_and_names_input_and_range(reckoner: Reckoner, side: str) -> None:
    for entry in reckoner.inputs:
        given = {**reckoner.example, entry.name: _spoilt(reckoner.example.get(entry.name), entry.kind, side)}
        if entry.name == "opt_high_c" or entry.name == "ceiling_c":
            given["response"] = "trapezoid"  # the others do not look at it
        with pytest.raises(InputError) as caught:
            reckoner.function(**given)
        message = str(caught.value)
        assert message.startswith(f"{entry.name}: "), message
        if isinstance(entry.kind, Quantity):
            assert f"{entry.kind.low:g} to {entry.kind.high:g} {entry.kind.unit}".rstrip() in message
        else:
            assert ", ".join(entry.kind.words) in message


@pytest.mark.parametrize("reckoner", _EVERY, ids=_named(_EVERY))
def test_never_writes_into_what_it_was_given(reckoner: Reckoner) -> None:
    given = {k: v if isinstance(v, str) else np.array(v, dtype=np.float64) for k, v in reckoner.example.items()}
    for value in given.values():
        if isinstance(value, np.ndarray):
            value.setflags(write=False)
    got = reckoner.function(**given)
    for result in got if isinstance(got, tuple) else (got,):
        for value in given.values():
            assert not (isinstance(value, np.ndarray) and np.shares_memory(value, np.asarray(result)))


def test_an_input_without_unit_and_range_is_a_fault_of_the_reckoner(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reckon, "_REGISTER", {})

    def bare(temp_c: ArrayLike, wind_m_s: Annotated[ArrayLike, Quantity("m/s", 0, 60)]) -> FloatArray:
        return np.asarray(temp_c)

    reckon.reckoner(gives={"temp": "°C"}, source="none", status="memory", example={})(bare)
    with pytest.raises(TypeError, match="bare: parameter temp_c needs one Quantity or Choice"):
        _ = reckon._REGISTER["bare"].inputs


def test_science_stands_alone_on_numpy() -> None:
    # In a process of its own: every module of the folder loaded, and no third-party package but numpy, nor ours.
    program = """
import sys
before = set(sys.modules)
from kailyard.science import degree_days
from kailyard.science.reckon import reckoners
assert reckoners()
loaded = {name.partition(".")[0] for name in set(sys.modules) - before}
print(sorted(name for name in loaded if name not in sys.stdlib_module_names))
print(sorted(n for n in sys.modules if n.startswith("kailyard.") and not n.startswith("kailyard.science")))
"""
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert run.stdout.splitlines() == ["['kailyard', 'numpy']", "[]"]


def _taking_arrays(reckoner: Reckoner) -> list[str]:
    """Inputs that take arrays value by value: neither a word, nor one number for all, nor a run."""
    hints = get_type_hints(reckoner.function)
    return [
        entry.name
        for entry in reckoner.inputs
        if isinstance(entry.kind, Quantity) and not entry.kind.series and hints[entry.name] is not float
    ]


_VALUE_BY_VALUE = [
    r
    for r in _EVERY
    if not any(isinstance(e.kind, Quantity) and e.kind.series for e in r.inputs) and len(_taking_arrays(r)) > 0
]


@pytest.mark.parametrize("reckoner", _VALUE_BY_VALUE, ids=_named(tuple(_VALUE_BY_VALUE)))
def test_a_missing_value_stays_missing_and_spoils_no_other(reckoner: Reckoner) -> None:
    for name in _taking_arrays(reckoner):
        if reckoner.example.get(name) is None:
            continue
        whole = reckoner.function(**reckoner.example)
        gappy = reckoner.function(**{**reckoner.example, name: [np.nan, reckoner.example[name]]})
        pairs = zip(*(x if isinstance(x, tuple) else (x,) for x in (whole, gappy)), strict=True)
        touched = False
        for one, two in pairs:
            if np.shape(two) == (2,):  # a result that does not rest on this input keeps its shape
                touched = True
                assert np.isnan(two[0]), name
                assert two[1] == pytest.approx(float(one), rel=1e-12), name
        assert touched, name


@pytest.mark.parametrize("reckoner", _VALUE_BY_VALUE, ids=_named(tuple(_VALUE_BY_VALUE)))
def test_shapes_broadcast(reckoner: Reckoner) -> None:
    names = [n for n in _taking_arrays(reckoner) if reckoner.example.get(n) is not None]
    if len(names) < 2:
        names = names * 2
    spread = {names[0]: np.full((2, 1), reckoner.example[names[0]], dtype=float)}
    if names[1] != names[0]:
        spread[names[1]] = np.full(3, reckoner.example[names[1]], dtype=float)
    got = reckoner.function(**{**reckoner.example, **spread})
    shape = (2, 3) if len(spread) == 2 else (2, 1)
    shapes = {np.shape(x) for x in (got if isinstance(got, tuple) else (got,))}
    assert shape in shapes
    assert all(np.broadcast_shapes(s, shape) == shape for s in shapes)
