"""Live sound beside a busy interpreter, captured from a virtual sound server, against the baseline.

``python -m tests.bench.bench_live [--seconds N] [--busy THREADS]``. Printed: underruns, clicks lost, how far intervals
are off the beat (and how many times as far the baseline's are), how soon an order is written and heard, how soon the
first sound comes, and what the player costs.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from caller.rig.stream.live import DeviceSpeaker
from caller.sound.score import RATE, Clip, Placement, Samples, Score
from tests.bench.load import busy
from tests.bench.sounds import click, off_the_beat_ms, onsets
from tests.parts.pulse import PulseServer
from tests.parts.waiting import until

TEMPO = 120.0
ORDERS = 20
# Before the first click, so that the crossing over at a splice leaves it whole.
LEAD_FRAMES = 4_800


@dataclass(frozen=True, slots=True)
class Clicks:
    """asked, found: how many. worst, usual: furthest and median distance from the beat, in ms. drift: frames that the
    last click is off its beat, counted from the first."""

    asked: int
    found: int
    worst: float
    usual: float
    drift: int

    @classmethod
    def of(cls, captured: Samples, asked: int) -> Clicks:
        found = onsets(captured)
        off = off_the_beat_ms(found, TEMPO)
        usual = float(np.median(off)) if len(off) else 0.0
        beat = 60 * RATE / TEMPO
        span = int(found[-1] - found[0]) if len(found) else 0
        return cls(asked, len(found), float(off.max(initial=0)), usual, span - round(round(span / beat) * beat))

    def line(self, name: str) -> str:
        off = f"off the beat by {self.usual:.3f} ms (median), {self.worst:.3f} ms (worst)"
        return f"{name:10} {self.found} of {self.asked} clicks, {off}"


def click_score(counts: int) -> Score:
    clip = Clip("click", click())
    beat = 60 * RATE / TEMPO
    places = (LEAD_FRAMES + round(n * beat) for n in range(counts))
    return Score(tuple(Placement(frame, clip, 1.0, "count") for frame in places), round(counts * beat))


def ours(server: PulseServer, seconds: float, threads: int) -> Clicks:
    counts = int(seconds * TEMPO / 60)
    capture = server.capture()
    with busy(threads):
        began = time.perf_counter()
        speaker = DeviceSpeaker("pulse", server.folder / "sound.log")
        until(lambda: speaker.heard().heard > 0, 30, "the first frame heard")
        print(f"start to first sound: {1000 * (time.perf_counter() - began):.0f} ms")
        score = click_score(counts)
        at = speaker.splice(score, 0, speaker.earliest(0.2))
        cost, wall = _processor_seconds(speaker), time.perf_counter()
        until(lambda: speaker.heard().heard > at + score.frames, seconds + 30, "the end")
        share = (_processor_seconds(speaker) - cost) / (time.perf_counter() - wall)
        clicks = Clicks.of(capture.stop(), counts)
        heard = speaker.heard()
        print(f"underruns: {heard.underruns}; late: {heard.late}; the player costs {100 * share:.1f} % of a core")
        _time_orders(speaker)
        speaker.close()
    return clicks


def _time_orders(speaker: DeviceSpeaker) -> None:
    """From a hush and from a splice to the frame where it takes hold, as written and as heard."""
    late = speaker.heard().late
    waits: dict[str, list[int]] = defaultdict(list)
    score = click_score(4)
    for number in range(ORDERS):
        time.sleep(0.1 + 0.007 * number)
        before = speaker.heard()
        speaker.hush()
        until(lambda: speaker.heard().hushed_at is not None, 2, "a hush")
        hushed = speaker.heard().hushed_at or 0
        waits["hush, written"].append(hushed - before.written)
        waits["hush, heard"].append(hushed - before.heard)
        time.sleep(0.05)
        before = speaker.heard()
        spliced = speaker.splice(score)
        waits["splice, written"].append(spliced - before.written)
        waits["splice, heard"].append(spliced - before.heard)
    for what, frames in waits.items():
        wait = np.array(frames) * 1000 / RATE
        print(f"order to first changed frame ({what}): {np.median(wait):.0f} ms, at most {wait.max():.0f}")
    print(f"late among {ORDERS} splices at the earliest frame: {speaker.heard().late - late}")


def _processor_seconds(speaker: DeviceSpeaker) -> float:
    """What the player's process has used so far (Linux)."""
    child = speaker._keeper._child
    assert child is not None
    fields = Path(f"/proc/{child.pid}/stat").read_text().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def baseline(server: PulseServer, seconds: float, threads: int) -> Clicks:
    capture = server.capture()
    program = [sys.executable, "-m", "tests.bench.asyncio_clicks", str(seconds), str(TEMPO), str(threads)]
    subprocess.run(program, check=True, stderr=subprocess.DEVNULL)
    return Clicks.of(capture.stop(), int(seconds * TEMPO / 60))


def main() -> None:
    options = argparse.ArgumentParser(description="Live sound beside a busy interpreter.")
    options.add_argument("--seconds", type=float, default=30)
    options.add_argument("--busy", type=int, default=1, help="busy threads in the program that orders the sound")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        server = PulseServer(Path(folder))
        os.environ.update(server.environment)
        try:
            mine = ours(server, asked.seconds, asked.busy)
            theirs = baseline(server, asked.seconds, asked.busy)
        finally:
            server.stop()
    print(mine.line("caller"))
    print(theirs.line("baseline"))
    frame_ms = 1000 / RATE
    print(f"worst, baseline : caller = {theirs.worst / max(mine.worst, frame_ms):.0f} : 1 (no less than one frame)")


if __name__ == "__main__":
    main()
