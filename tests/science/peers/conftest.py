"""Side by side with general libraries: what each test measured is printed as a table at the end.

Not part of `make test`: the libraries bring more than a gigabyte and disagree about pandas. `make peers` makes two
environments (`peers` and `peers-xclim` in pyproject.toml) and runs in each the files that belong to it.
"""

from collections.abc import Callable

import numpy as np
import pytest

_LINES: list[str] = []


@pytest.fixture
def largest() -> Callable[[str, object, object, float], None]:
    """Records the largest difference of two arrays under a name and holds it to a bound."""

    def hold(what: str, ours: object, theirs: object, bound: float) -> None:
        a, b = np.broadcast_arrays(np.asarray(ours, dtype=float), np.asarray(theirs, dtype=float))
        assert a.size
        assert not np.isnan(a - b).any(), what
        worst = float(np.abs(a - b).max())
        _LINES.append(f"| {what} | {a.size:,} | {worst:.2g} | {bound:g} |")
        assert worst <= bound, (what, worst)

    return hold


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if _LINES:
        terminalreporter.write_line("\n| what | values | largest difference | held to |\n| --- | --- | --- | --- |")
        for line in _LINES:
            terminalreporter.write_line(line)
