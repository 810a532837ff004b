"""A class that is left at any moment, on a busy machine: how it ends, and how soon.

Run: ``python -m tests.bench.bench_leaving [--times 100] [--beside 20] [--busy 2]``. Each time a class whose voice has
still to be rendered is started on a terminal of its own, beside so many busy processes, and left by its key at a moment
drawn by lot. Printed beside the same program ended by the interpreter. Ends with status 1 where the program itself
ended with any other status than 0, or later than a second and a half.
"""

from __future__ import annotations

import argparse
import os
import random
import statistics
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.parts.terminal import LEAVES, Terminal

WORDS = ("dance", "Lantern Row", "--sound", "none", "--pedal", "none")
OURS = f"import sys; sys.argv = {['caller', *WORDS]!r}; from caller.__main__ import program; program()"
INTERPRETERS = f"from caller.cli import main; raise SystemExit(main({list(WORDS)!r}))"
BUSY = "import os; os.nice(5)\nwhile True: sum(range(1000))"
SCREEN_UP = b"\x1b[?1049h"
LATEST_SECONDS, LIMIT_SECONDS = 4.0, 1.5


@contextmanager
def busy(processes: int) -> Iterator[None]:
    running = [subprocess.Popen([sys.executable, "-c", BUSY]) for _ in range(processes)]
    try:
        yield
    finally:
        for one in running:
            one.kill()
            one.wait()


def left(program: str, after_seconds: float) -> tuple[float, int]:
    """The seconds from the key to the end, and the exit status."""
    with tempfile.TemporaryDirectory() as folder:
        homes = {f"XDG_{kind}_HOME": str(Path(folder, kind)) for kind in ("CONFIG", "CACHE", "DATA", "STATE")}
        terminal = Terminal(("-c", program), {**os.environ, **homes})
        try:
            terminal.reads_until(SCREEN_UP, 60)
            terminal.reads_for(after_seconds)
            terminal.types(LEAVES)
            return terminal.ends(20), terminal.process.returncode
        finally:
            terminal.close()


def main() -> int:
    asked = argparse.ArgumentParser()
    asked.add_argument("--times", type=int, default=100)
    asked.add_argument("--beside", type=int, default=20, help="how often the interpreter's own end is tried")
    asked.add_argument("--busy", type=int, default=2)
    words = asked.parse_args()
    sound = True
    with busy(words.busy):
        for name, program, times in (
            ("ended by itself", OURS, words.times),
            ("ended by the interpreter", INTERPRETERS, words.beside),
        ):
            chance = random.Random(0)
            ends = [left(program, LATEST_SECONDS * chance.random()) for _ in range(times)]
            took, statuses = [seconds for seconds, _ in ends], Counter(status for _, status in ends)
            print(
                f"{name}: {times} times beside {words.busy} busy processes; exit status "
                + ", ".join(f"{status}: {count}" for status, count in sorted(statuses.items()))
                + f"; {statistics.median(took):.2f} s by the middle, {max(took):.2f} at most",
                flush=True,
            )
            if program is OURS:
                sound = set(statuses) == {0} and max(took) < LIMIT_SECONDS
    return 0 if sound else 1


if __name__ == "__main__":
    raise SystemExit(main())
