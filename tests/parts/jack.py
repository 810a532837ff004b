"""A JACK server without hardware, for MIDI ports that are real but for the socket.

For a test: import the fixtures ``jack_server`` (one for all of a module's tests) and ``jack`` (its settings in the
environment of one test), and ask for ``jack``.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Iterator

import pytest

from tests.parts.conftest import need


def _may_be_real_time() -> bool:
    try:
        os.sched_setscheduler(0, os.SCHED_FIFO, os.sched_param(1))
        os.sched_setscheduler(0, os.SCHED_OTHER, os.sched_param(0))
    except (OSError, AttributeError):
        return False
    return True


# RtMidi hears JACK within JACK's cycle, and has to wait for the interpreter there: a cycle that is late for it loses
# what it was to hand over, unless the server may run in real time.
_TIMING = "--realtime" if _may_be_real_time() else "--no-realtime"
NAME = f"caller-tests-{os.getpid()}"
SETTINGS = {"JACK_NO_AUDIO_RESERVATION": "1", "JACK_DEFAULT_SERVER": NAME, "JACK_NO_START_SERVER": "1"}
COMMAND = ("jackd", _TIMING, "--name", NAME, "-d", "dummy", "--rate", "48000", "--period", "2048")


def missing() -> str:
    """What keeps the server from being started, in one sentence, or ""."""
    lacks = [program for program in ("jackd", "jack_wait") if shutil.which(program) is None]
    return f"{', '.join(lacks)} not found: apt install jackd2" if lacks else ""


@pytest.fixture(scope="module")
def jack_server() -> Iterator[None]:
    """The server, up."""
    need(missing())
    environment = os.environ | SETTINGS
    nothing = subprocess.DEVNULL
    server = subprocess.Popen(COMMAND, env=environment, stdin=nothing, stdout=nothing, stderr=nothing)
    try:
        up = ("jack_wait", "-w", "-t", "10", "-s", NAME)
        subprocess.run(up, env=environment, check=True, capture_output=True, timeout=15)
        yield
    finally:
        server.terminate()
        try:
            server.wait(5)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()


@pytest.fixture
def jack(jack_server: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """The server, found by whatever this process starts, and by the pedal."""
    for name, value in {**SETTINGS, "CALLER_MIDI_API": "UNIX_JACK"}.items():
        monkeypatch.setenv(name, value)
