"""A child process that answers line by line, with a hard limit on how long it may take.

Conventions: limits in seconds. Spawned, never forked; call from one thread at a time; ``ask`` waits, up to its limit.
"""

from __future__ import annotations

import contextlib
import queue
import subprocess
import threading
from collections.abc import Sequence
from typing import IO

from caller.children.starting import creation_flags, environment

_LONGEST_LINE = 1 << 20
_END_SECONDS = 1.0


class Hung(Exception):
    """No answer within the limit."""


class Gone(Exception):
    """The process has ended."""


class Child:
    """One running process. Raises OSError where it can't be started."""

    def __init__(self, command: Sequence[str]) -> None:
        self._process = subprocess.Popen(
            list(command),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment(),
            creationflags=creation_flags(),
        )
        # One answer at a time is all that is ever owed: what a babbling child says beyond that is let fall.
        self._lines: queue.Queue[bytes] = queue.Queue(maxsize=2)
        assert self._process.stdout is not None
        threading.Thread(target=_listen, args=(self._process.stdout, self._lines), daemon=True).start()

    def ask(self, line: str, limit: float) -> str:
        """The next line that the child writes after reading ``line``. Raises Hung after ``limit`` seconds, Gone at
        its end."""
        assert self._process.stdin is not None
        try:
            self._process.stdin.write(line.encode() + b"\n")
            self._process.stdin.flush()
        except (OSError, ValueError) as fault:
            raise Gone from fault
        try:
            answer = self._lines.get(timeout=limit)
        except queue.Empty:
            raise Hung from None
        if not answer:
            raise Gone
        return answer.decode(errors="replace")

    def kill(self) -> None:
        """End it at once; may be called twice."""
        self._process.kill()
        self._reap()

    def close(self) -> None:
        """Let it end by itself; kill it where it does not within a second."""
        with contextlib.suppress(OSError):
            if self._process.stdin is not None:
                self._process.stdin.close()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(_END_SECONDS)
        self.kill()

    def _reap(self) -> None:
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(_END_SECONDS)
        with contextlib.suppress(OSError):
            if self._process.stdin is not None:
                self._process.stdin.close()


def _listen(source: IO[bytes], lines: queue.Queue[bytes]) -> None:
    """Hand on each line, and an empty one at the end."""
    line = b"-"
    with source:
        while line:
            line = source.readline(_LONGEST_LINE)
            with contextlib.suppress(queue.Full):
                lines.put_nowait(line)
