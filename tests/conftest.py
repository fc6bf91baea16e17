"""Shared by all tests: where the reference material lies, skipping only where it is absent, and what CI asks on top."""

from __future__ import annotations

from collections.abc import Generator
from pathlib import Path
from typing import Any

import pytest

SHARED = Path(__file__).resolve().parents[2] / "shared"
FLOOR = Path(__file__).parent / "house" / "collected.txt"


@pytest.fixture(scope="session")
def shared() -> Path:
    """The reference folder beside the checkout; tests that ask for it skip only where it is absent."""
    if not SHARED.is_dir():
        pytest.skip("needs the reference folder ../shared beside the checkout")
    return SHARED


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--whole",
        action="store_true",
        help="run as CI does: beside ../shared no test may skip; as many tests as last time or more",
    )
    parser.addoption(
        "--floor",
        type=Path,
        default=FLOOR,
        metavar="FILE",
        help="with --whole: the file that says how many tests there were last time; else tests/house/collected.txt",
    )


def pytest_sessionfinish(session: pytest.Session) -> None:
    """With --whole: too few tests fail the run, many more ask for the floor to be raised."""
    if not session.config.getoption("--whole") or hasattr(session.config, "workerinput"):
        return
    file: Path = session.config.getoption("--floor")
    floor = int(file.read_text(encoding="utf-8"))
    if session.testscollected < floor:
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
        _say(session, f"{session.testscollected} tests collected, {floor} last time: find out where the others went")
    elif session.testscollected > floor:
        _say(
            session,
            f"{session.testscollected} tests collected: write that number into tests/{file.parent.name}/{file.name}",
        )


def _say(session: pytest.Session, words: str) -> None:
    reporter: Any = session.config.pluginmanager.get_plugin("terminalreporter")
    reporter.ensure_newline()
    reporter.write_line(words, bold=True)


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item) -> Generator[None, Any, Any]:
    """With --whole and ../shared there: a skip is a failure."""
    report: pytest.TestReport = yield
    return _no_skip(report, item.config)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector: pytest.Collector) -> Generator[None, Any, Any]:
    """The same for a whole file that skips itself."""
    report: pytest.CollectReport = yield
    return _no_skip(report, collector.config)


def _no_skip(report: Any, config: pytest.Config) -> Any:
    if report.skipped and not hasattr(report, "wasxfail") and config.getoption("--whole") and SHARED.is_dir():
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome, report.longrepr = "failed", f"{reason}\nWith ../shared there nothing may skip."
    return report
