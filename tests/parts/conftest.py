"""Real parts for the tests: each is started here, or says why not. With CALLER_PARTS=required, why not is a failure."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator

import pytest

from tests.parts import pulse as sound

# The parts that are started here are Linux's, and the terminals POSIX's.
collect_ignore_glob = ["*_real.py"] if sys.platform == "win32" else []


def need(missing: str) -> None:
    """Skip the test, or fail it, where something is missing."""
    if missing and os.environ.get("CALLER_PARTS") == "required":
        pytest.fail(missing)
    if missing:
        pytest.skip(missing)


@pytest.fixture(scope="session")
def pulse_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sound.PulseServer]:
    need(sound.missing())
    server = sound.PulseServer(tmp_path_factory.mktemp("pulse"))
    yield server
    server.stop()


@pytest.fixture
def pulse(pulse_server: sound.PulseServer, monkeypatch: pytest.MonkeyPatch) -> sound.PulseServer:
    """The sound server, up, and found by whatever this process starts."""
    pulse_server.ensure_up()
    for name in ("PULSE_SERVER", "PULSE_RUNTIME_PATH"):
        monkeypatch.setenv(name, pulse_server.environment[name])
    return pulse_server
