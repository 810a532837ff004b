"""A pytest plugin of ``bench_mutants``: which tests run which lines, and those tests alone, the quick ones first.

``MUTANTS_LEARN=FILE`` writes ``{"seconds": {test: seconds}, "lines": {module: {line: [tests]}}}``; a line that runs
while modules are loaded has no tests of its own. ``MUTANTS_TESTS=FILE`` runs the tests that FILE lists, in its order.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path

import coverage
import pytest


class Learning:
    def __init__(self, kept: Path, watched: str) -> None:
        self._kept = kept
        self._watched = coverage.Coverage(data_file=None, include=[watched], config_file=False)
        self._seconds: dict[str, float] = {}
        self._watched.start()

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self._watched.switch_context(item.nodeid)
        try:
            return (yield)
        finally:
            self._watched.switch_context("")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self._seconds[report.nodeid] = self._seconds.get(report.nodeid, 0.0) + report.duration

    def pytest_sessionfinish(self) -> None:
        self._watched.stop()
        known = self._watched.get_data()
        lines = {
            str(Path(module).relative_to(Path.cwd())): {
                line: [test for test in tests if test] for line, tests in known.contexts_by_lineno(module).items()
            }
            for module in known.measured_files()
        }
        self._kept.write_text(json.dumps({"seconds": self._seconds, "lines": lines}), encoding="utf-8")


def pytest_configure(config: pytest.Config) -> None:
    if kept := os.environ.get("MUTANTS_LEARN"):
        config.pluginmanager.register(Learning(Path(kept), str(Path.cwd() / "caller" / "*")))


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if chosen := os.environ.get("MUTANTS_TESTS"):
        place = {test: at for at, test in enumerate(json.loads(Path(chosen).read_text(encoding="utf-8")))}
        items[:] = sorted((item for item in items if item.nodeid in place), key=lambda item: place[item.nodeid])
