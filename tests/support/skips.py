"""Say what was skipped and how to get it; where CI is set, a skip is a failure.

``scripts/test.py`` loads this as a pytest plugin.
"""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Generator

import pytest

NO_BROWSER = "no browser here; 'sudo apt install chromium' gets it"
NO_POSTGRESQL = "no PostgreSQL here; 'sudo apt install postgresql' gets it"

NOTHING_MAY_BE_SKIPPED = os.environ.get("CI", "").lower() not in {"", "0", "false"}

# One browser and one database serve all the tests of their folder, on one worker.
TOGETHER = ("browser", "postgres")


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep the tests that share a browser or a database on one worker."""
    for item in items:
        for folder in TOGETHER:
            if folder in item.path.parts:
                item.add_marker(pytest.mark.xdist_group(folder))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Turn a skipped test into a failed one where everything has to run."""
    report = yield
    if report.skipped and not hasattr(report, "wasxfail") and NOTHING_MAY_BE_SKIPPED:
        report.outcome = "failed"
        report.longrepr = f"skipped where CI is set: {_reason(report)}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Do the same for a file that skips itself while it is read."""
    report = yield
    if report.skipped and NOTHING_MAY_BE_SKIPPED:
        report.outcome = "failed"
        report.longrepr = f"skipped where CI is set: {_reason(report)}"
    return report


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print each reason once, with the number of tests that it kept from running."""
    skipped = terminalreporter.stats.get("skipped", [])
    for reason, count in Counter(_reason(report) for report in skipped).items():
        terminalreporter.write_line(f"Skipped {count}: {reason}")


def _reason(report: pytest.TestReport | pytest.CollectReport) -> str:
    said = report.longrepr[2] if isinstance(report.longrepr, tuple) else str(report.longrepr)
    return said.removeprefix("Skipped: ")
