"""From the key to the first sound, captured from a virtual sound server: with nothing kept of the voice, and with all.

``python -m tests.bench.bench_first_sound [TIMES]``: three times by default. ``dance`` and ``walkthrough`` are started
on a terminal as a teacher starts them, and Space is pressed as soon as the screen is there. Printed for each, cold and
warm in turn: seconds from the key and from the program's start, medians and the most, and how much later cold is than
warm.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import statistics
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from tests.bench.watched import CaptureClock
from tests.parts.pulse import PulseServer
from tests.parts.terminal import LEAVES, Terminal
from tests.parts.waiting import until

ROUTINE = "Lantern Row"
WAYS = ("dance", "walkthrough")
LOUD = 0.01
LIMIT_SECONDS = 60.0


def first_sound(server: PulseServer, way: str, home: Path) -> tuple[float, float, float]:
    """Seconds from the key and from the program's start, and the processor's until then."""
    folders = {f"XDG_{name}_HOME": str(home / name.lower()) for name in ("CACHE", "CONFIG", "DATA", "STATE")}
    capture = server.capture()
    clock = CaptureClock(capture)
    started = time.perf_counter()
    terminal = Terminal(["-m", "caller", way, ROUTINE, "--sound", "pulse"], {**server.environment, **folders})
    try:
        terminal.reads_until(b"\x1b[?1049h", LIMIT_SECONDS)  # the screen is taken over, and paints
        terminal.types(" ")
        pressed = time.perf_counter()
        heard: list[int] = []

        def sounds() -> bool:
            terminal.reads()
            clock.look()
            loud = np.flatnonzero(np.abs(capture.frames()[:, 0]) > LOUD)
            heard[:] = loud[:1].tolist()
            return bool(heard)

        until(sounds, LIMIT_SECONDS, f"the first sound of {way}")
        at, busy = clock.seconds(heard[0]), processor_seconds(terminal.process.pid)
        terminal.types(LEAVES)
        terminal.ends(LIMIT_SECONDS)
    finally:
        terminal.close()
        capture.stop()
    return at - pressed, at - started, busy


def processor_seconds(session: int) -> float:
    """What all processes of a session have used so far (Linux): on a loaded machine this tells more than the clock."""
    ticks = 0
    for file in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            fields = file.read_text().rsplit(")", 1)[1].split()
            ticks += int(fields[11]) + int(fields[12]) if int(fields[3]) == session else 0
    return ticks / os.sysconf("SC_CLK_TCK")


def main() -> None:
    times = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    with tempfile.TemporaryDirectory() as folder:
        server = PulseServer(Path(folder))
        os.environ.update(server.environment)
        home = Path(folder) / "home"
        try:
            for way in WAYS:
                found: dict[str, list[tuple[float, float, float]]] = {"cold": [], "warm": []}
                for _ in range(times):
                    shutil.rmtree(home, ignore_errors=True)
                    for cache, measured in found.items():
                        measured.append(first_sound(server, way, home))
                        if cache == "cold":  # what the class was left before could be kept
                            fill(server, way, home)
                for cache, measured in found.items():
                    keyed, begun, busy = ([each[n] for each in measured] for n in range(3))
                    print(
                        f"{way:12} {cache}: {statistics.median(keyed):.2f} s from the key (at most {max(keyed):.2f}), "
                        f"{statistics.median(begun):.2f} s from the start (at most {max(begun):.2f}); "
                        f"{statistics.median(busy):.2f} s of a processor until then",
                        flush=True,
                    )
                later = [cold[0] - warm[0] for cold, warm in zip(found["cold"], found["warm"], strict=True)]
                print(f"{way:12} cold later than warm by {statistics.median(later):.2f} s (median)", flush=True)
        finally:
            server.stop()


def fill(server: PulseServer, way: str, home: Path) -> None:
    """Let the voice be made ready to the end."""
    folders = {f"XDG_{name}_HOME": str(home / name.lower()) for name in ("CACHE", "CONFIG", "DATA", "STATE")}
    terminal = Terminal(["-m", "caller", way, ROUTINE, "--sound", "none"], {**server.environment, **folders})
    shelf = home / "cache" / "caller" / "speech"
    kept = [-1, 0]

    def settled() -> bool:
        terminal.reads()
        time.sleep(1.5)
        kept.append(sum(1 for _ in shelf.glob("**/*")) if shelf.is_dir() else 0)
        return kept[-1] > 0 and kept[-1] == kept[-2] == kept[-3]

    try:
        until(settled, 120, "the voice is made ready")
        terminal.types(LEAVES)
        terminal.ends(LIMIT_SECONDS)
    finally:
        terminal.close()


if __name__ == "__main__":
    main()
