"""A terminal without a screen: a program on a pseudo-terminal, and all that it wrote."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import struct
import subprocess
import sys
import termios
import time
from collections.abc import Mapping, Sequence

# Ctrl+Q, which ends a class wherever it is.
LEAVES = "\x11"


class Terminal:
    """before, now: the terminal's settings, as the kernel has them. size: rows and columns."""

    def __init__(
        self,
        command: Sequence[str],
        environment: Mapping[str, str],
        kind: str = "xterm-256color",
        size: tuple[int, int] = (40, 120),
    ) -> None:
        self.control, self.line = pty.openpty()
        fcntl.ioctl(self.line, termios.TIOCSWINSZ, struct.pack("HHHH", *size, 0, 0))
        self.before = termios.tcgetattr(self.line)
        self.written = b""
        self.process = subprocess.Popen(
            [sys.executable, *command],
            stdin=self.line,
            stdout=self.line,
            stderr=self.line,
            env={**environment, "TERM": kind},
            start_new_session=True,
        )

    @property
    def now(self) -> list[object]:
        return termios.tcgetattr(self.line)

    def types(self, text: str) -> None:
        os.write(self.control, text.encode())

    def reads(self) -> None:
        """Takes in what has been written, so that the program can write on."""
        while self._read(0.0):
            pass

    def takes(self, most: int) -> None:
        """Takes in so many bytes of what is there, and no more: a slow line."""
        if select.select([self.control], [], [], 0)[0]:
            self.written += os.read(self.control, most)

    def waiting(self) -> int:
        """Bytes that have been written and not yet taken in."""
        return int.from_bytes(fcntl.ioctl(self.control, termios.FIONREAD, bytes(4)), sys.byteorder)

    def reads_for(self, seconds: float) -> None:
        """Takes in what is written meanwhile, and time passes."""
        over = time.perf_counter() + seconds
        while (left := over - time.perf_counter()) > 0:
            self._read(left)

    def reads_until(self, wanted: bytes, seconds: float) -> float:
        """How long it took to be written. Raises TimeoutError where it is not in time."""
        began = time.perf_counter()
        while wanted not in self.written:
            if time.perf_counter() - began > seconds:
                raise TimeoutError(f"{wanted!r} was not written; the last was {self.written[-500:]!r}")
            self._read(0.02)
        return time.perf_counter() - began

    def ends(self, seconds: float) -> float:
        """How long it took to end. Raises TimeoutError."""
        began = time.perf_counter()
        while self.process.poll() is None:
            if time.perf_counter() - began > seconds:
                raise TimeoutError(f"it goes on after {seconds} s; the last was {self.written[-500:]!r}")
            self._read(0.01)
        took = time.perf_counter() - began
        while self._read(0.05):
            pass
        return took

    def hangs_up(self) -> None:
        """As when its window is closed."""
        os.close(self.control)
        os.close(self.line)
        self.control = self.line = -1

    def close(self) -> None:
        if self.process.poll() is None:
            self.process.kill()
        self.process.wait()
        if self.control >= 0:
            os.close(self.control)
            os.close(self.line)

    def _read(self, seconds: float) -> bool:
        if self.control < 0:
            select.select([], [], [], seconds)
            return False
        ready, _, _ = select.select([self.control], [], [], seconds)
        if ready:
            self.written += os.read(self.control, 65_536)
        return bool(ready)
