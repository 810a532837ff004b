"""A JACK server without hardware, for MIDI ports that are real but for the socket."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager

PROGRAMS = ("jackd", "jack_wait")
NAME = "caller-tests"
SETTINGS = {"JACK_NO_AUDIO_RESERVATION": "1", "JACK_DEFAULT_SERVER": NAME, "JACK_NO_START_SERVER": "1"}


@contextmanager
def jack_server() -> Iterator[None]:
    """A server of its own name, with its settings in the environment meanwhile."""
    environment = os.environ | SETTINGS
    command = ["jackd", "--no-realtime", "--name", NAME, "-d", "dummy", "--rate", "48000", "--period", "1024"]
    server = subprocess.Popen(
        command, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    try:
        subprocess.run(
            ["jack_wait", "-w", "-t", "10", "-s", NAME], env=environment, check=True, capture_output=True, timeout=15
        )
        yield
    finally:
        server.terminate()
        try:
            server.wait(5)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
