"""What the class screen sends down a line, and what becomes of a class where the line is slow.

Run: ``python -m tests.bench.bench_link [--seconds 20]``. Of each kind and size of terminal: bytes of the first picture,
bytes a second of a dance, bytes of a burst (what is written at one go), beside a screen painted anew at each look, as a
program would send that keeps no account of what stands. Then the same class over lines of so many bytes a second, with
200 ms each way: how much is still under way, in seconds of the line, and how soon its key ends it. Ends with status 1
where a class over the slowest line doesn't end within a second and a half.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

from tests.parts.terminal import LEAVES, Terminal

WORDS = ("-m", "caller", "dance", "Lantern Row", "--sound", "none", "--pedal", "none")
KINDS = (
    ("linux", (24, 80)),
    ("linux", (37, 100)),
    ("xterm-16color", (24, 80)),
    ("xterm-256color", (24, 80)),
    ("xterm-256color", (40, 120)),
)
LOOKS_A_SECOND = 20
SCREEN_UP, SHOWN = b"\x1b[?1049h", "█".encode()
# Bytes a second: a mobile network at its worst, a serial line of 38,400 and of 9,600 bits.
LINES = (30_000, 3_840, 960)
ONE_WAY_SECONDS = 0.2
SLICE_SECONDS = 0.05
LATEST_END_SECONDS = 1.5


@dataclass(slots=True)
class Sent:
    """Of a class: first: bytes until its screen stood; bursts: of each that came while it was danced."""

    first: int
    seconds: float
    bursts: list[int] = field(default_factory=list)

    @property
    def a_second(self) -> float:
        return sum(self.bursts) / self.seconds


def started(folder: str, kind: str, size: tuple[int, int]) -> Terminal:
    homes = {f"XDG_{name}_HOME": str(Path(folder, name)) for name in ("CONFIG", "CACHE", "DATA", "STATE")}
    return Terminal(WORDS, {**os.environ, **homes}, kind, size)


def sent(kind: str, size: tuple[int, int], seconds: float) -> Sent:
    with tempfile.TemporaryDirectory() as folder:
        terminal = started(folder, kind, size)
        try:
            terminal.reads_until(SCREEN_UP, 60)
            terminal.reads_for(5)
            counted = Sent(len(terminal.written), seconds)
            terminal.types(" ")
            terminal.reads_for(3)  # the count-in, and the first wall's own picture
            over = time.perf_counter() + seconds
            while (left := over - time.perf_counter()) > 0:
                before = len(terminal.written)
                terminal.reads_for(min(left, 1 / LOOKS_A_SECOND))
                if burst := len(terminal.written) - before:
                    counted.bursts.append(burst)
            return counted
        finally:
            terminal.close()


def over_line(bytes_a_second: int, seconds: float) -> tuple[float, float]:
    """How many bytes still wait at the end of so many seconds, as seconds of the line; and how long after its key it
    ended, the way there and back included."""
    with tempfile.TemporaryDirectory() as folder:
        terminal = started(folder, "xterm-256color", (24, 80))
        try:
            _through(terminal, bytes_a_second, 10)
            terminal.types(" ")
            _through(terminal, bytes_a_second, seconds)
            waiting = terminal.waiting() / bytes_a_second
            time.sleep(ONE_WAY_SECONDS)
            began = time.perf_counter()
            terminal.types(LEAVES)
            while terminal.process.poll() is None and time.perf_counter() - began < 10:
                _through(terminal, bytes_a_second, SLICE_SECONDS)
            return waiting, time.perf_counter() - began + ONE_WAY_SECONDS
        finally:
            terminal.close()


def _through(terminal: Terminal, bytes_a_second: int, seconds: float) -> None:
    over = time.perf_counter() + seconds
    while time.perf_counter() < over:
        terminal.takes(max(1, round(bytes_a_second * SLICE_SECONDS)))
        time.sleep(SLICE_SECONDS)


def main() -> int:
    asked = argparse.ArgumentParser()
    asked.add_argument("--seconds", type=float, default=20)
    seconds = asked.parse_args().seconds
    for kind, size in KINDS:
        told = sent(kind, size, seconds)
        anew = told.first / 2 * LOOKS_A_SECOND  # the splash and the room
        print(
            f"{kind} {size[1]}x{size[0]}: {told.first} bytes until it stands, then {told.a_second:.0f} a second in "
            f"{len(told.bursts) / seconds:.1f} bursts of {statistics.median(told.bursts):.0f} by the middle, "
            f"{max(told.bursts)} at most; {anew / told.a_second:.0f} times less than painted anew at each look",
            flush=True,
        )
    ended = 0.0
    for line in LINES:
        waiting, ended = over_line(line, seconds)
        print(
            f"a line of {line} bytes a second, {1000 * ONE_WAY_SECONDS:.0f} ms each way: {waiting:.2f} s of it wait, "
            f"ended {ended:.2f} s after the key",
            flush=True,
        )
    return 0 if ended < LATEST_END_SECONDS else 1


if __name__ == "__main__":
    sys.exit(main())
