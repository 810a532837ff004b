"""MIDI clock out through a real MIDI server: how unevenly its pulses come in another process.

``python -m tests.bench.bench_clock_out [SECONDS] [--busy THREADS]``. The virtual server hands messages over once a
cycle, 256 frames or 5.3 ms, which is part of what is measured. Beside it a baseline: the same pulses from a loop that
sleeps 20.833 ms between two.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import threading
import time
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from caller.clock.pulses import CLOCK
from caller.clock.timeline import HeardTimeline, Timeline
from caller.rig.clock_out import ClockOut, MidiOut
from caller.sound.score import RATE
from tests.bench.load import busy
from tests.bench.silences import jack

NAME = "bench-lights"
TEMPO = Fraction(120)
INTERVAL = 60 / 24 / float(TEMPO)

Floats = npt.NDArray[np.float64]


class Listener:
    def __init__(self) -> None:
        command = [sys.executable, "-m", "tests.bench.clock_listener", NAME]
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
        assert self._process.stdout is not None
        self._process.stdout.readline()

    def heard(self) -> list[tuple[float, str]]:
        written, _ = self._process.communicate(timeout=20)
        return [(float(at), kind) for at, kind in (line.split() for line in written.splitlines())]


def ours(seconds: float) -> list[tuple[float, str]]:
    listener, clock = Listener(), ClockOut(MidiOut(NAME))
    began = time.perf_counter() + 0.2
    beat = HeardTimeline(Timeline.at_tempo(TEMPO, RATE), began, Fraction(0), Fraction(10_000), 1)
    while time.perf_counter() < began + seconds:
        clock.follow(beat)
        time.sleep(0.05)
    clock.close()
    return listener.heard()


def baseline(seconds: float) -> list[tuple[float, str]]:
    listener, out = Listener(), MidiOut(NAME)
    ends = time.perf_counter() + seconds

    def send() -> None:
        while time.perf_counter() < ends:
            out.send(CLOCK)
            time.sleep(INTERVAL)

    thread = threading.Thread(target=send)
    thread.start()
    thread.join()
    time.sleep(0.1)
    out.close()
    return listener.heard()


def off_ms(heard: list[tuple[float, str]]) -> Floats:
    """How far each pulse is from where it should be, counted from the first, less the median."""
    at = np.array([seconds for seconds, kind in heard if kind == "clock"])
    off = 1000 * (at - INTERVAL * np.arange(len(at)))
    return np.asarray(off - np.median(off))


def line(name: str, heard: list[tuple[float, str]]) -> float:
    off = np.abs(off_ms(heard))
    intervals = 1000 * np.diff([seconds for seconds, kind in heard if kind == "clock"])
    print(
        f"{name:9} {len(off)} pulses, off their place by {np.median(off):.2f} ms (median), {off.max():.2f} ms (worst); "
        f"intervals {intervals.mean():.3f} ms, deviating by {intervals.std():.2f} ms"
    )
    return float(off.max())


def main() -> None:
    options = argparse.ArgumentParser(description="MIDI clock out, as it comes in another process.")
    options.add_argument("seconds", type=float, nargs="?", default=20)
    options.add_argument("--busy", type=int, default=0, help="busy threads in the program that sends")
    asked = options.parse_args()
    with jack(), busy(asked.busy):
        mine = line("caller", ours(asked.seconds))
        theirs = line("baseline", baseline(asked.seconds))
    print(f"worst, baseline : caller = {theirs / mine:.1f} : 1")


if __name__ == "__main__":
    main()
