"""A child that does one thing, prints what came of it, and ends: waited for, within limits.

Conventions: the last line that it prints is what it tells (libraries may print before it). Call from a thread that may
wait; ``given_up`` is asked while it waits.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from caller.children.starting import creation_flags, environment

LOOK_SECONDS = 0.05


class TooLong(Exception):
    """It was not done within its limit, and was ended."""


class GivenUp(Exception):
    """It is not wanted any more."""


@dataclass(frozen=True, slots=True)
class Ended:
    """last: the last line printed, b"" where there is none."""

    last: bytes
    status: int


def never() -> bool:
    return False


def run(command: Sequence[str], limit_seconds: float, given_up: Callable[[], bool] = never) -> Ended:
    """Raises TooLong, GivenUp, and OSError where it can't be started."""
    with started(command) as child:
        return ended(child, limit_seconds, given_up)


@contextmanager
def started(command: Sequence[str]) -> Iterator[subprocess.Popen[bytes]]:
    """A child at work, for whoever does something else meanwhile; it is ended with the block. Raises OSError."""
    child = subprocess.Popen(
        command,
        stdin=subprocess.PIPE,  # its end tells the child of ours
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        env=environment(),
        creationflags=creation_flags(),
    )
    try:
        yield child
    finally:
        child.kill()
        child.wait()
        for pipe in (child.stdin, child.stdout):
            if pipe is not None:
                pipe.close()


def ended(child: subprocess.Popen[bytes], limit_seconds: float, given_up: Callable[[], bool] = never) -> Ended:
    """Once it has ended. Raises TooLong, GivenUp."""
    lines = _printed(child, limit_seconds, given_up).splitlines()
    return Ended(lines[-1] if lines else b"", child.returncode)


def _printed(child: subprocess.Popen[bytes], limit_seconds: float, given_up: Callable[[], bool]) -> bytes:
    """All of it. (communicate() would close the child's input at once.)"""
    assert child.stdout is not None
    gathered: list[bytes] = []
    reader = _PipeReader(child.stdout.read, gathered)
    for _ in range(max(1, round(limit_seconds / LOOK_SECONDS))):
        if reader.done(LOOK_SECONDS):
            child.wait()
            return b"".join(gathered)
        if given_up():
            raise GivenUp
    raise TooLong


class _PipeReader:
    """Reads a pipe to its end on a thread of its own."""

    def __init__(self, read: Callable[[], bytes], gathered: list[bytes]) -> None:
        import threading

        self._thread = threading.Thread(target=lambda: gathered.append(read()), name="child", daemon=True)
        self._thread.start()

    def done(self, within_seconds: float) -> bool:
        self._thread.join(within_seconds)
        return not self._thread.is_alive()
