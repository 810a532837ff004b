"""Live sound with both cores loaded and a busy thread in the program: underruns, drift, latency, screen against sound.

``python -m tests.bench.live [MINUTES] [--no-load]``: a minute by default. Needs PulseAudio and, for the pedal,
JACK; they are started here, without hardware. Printed, one line each:

- underruns and drift of a run of so many minutes, as captured from the sound server; beside it the baseline, clicks
  played on time with asyncio and ``sounddevice.play``, and the ratio of how far both are off the beat at worst;
- the count that the screen shows against the captured click;
- from an order (pause, mute) to the captured sound's first changed frame, in all and over what the device itself had
  queued; and from a MIDI message that another process sends, over the same, and from when it came in.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import signal
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np

from caller.cli.live import SWITCH_SECONDS
from caller.sound.score import RATE
from caller.transport.order import Order
from tests.bench.bench_live import baseline, ours
from tests.bench.load import busy
from tests.bench.silences import jack, orders_to_sound, pedal_to_sound
from tests.bench.watched import CaptureClock, Screen, line, opened
from tests.parts.jack import missing
from tests.parts.pulse import PulseServer
from tests.session.classroom import Gestures

LOUD = 0.02


def spin(parent: int) -> None:
    while os.getppid() == parent:  # whoever started it may be killed
        sum(number * number for number in range(1_000))


@contextmanager
def loaded_cores(load: bool) -> Iterator[None]:
    """As many busy processes as there are cores."""
    spawn = multiprocessing.get_context("spawn")
    cores = range(os.cpu_count() or 2) if load else range(0)
    workers = [spawn.Process(target=spin, args=(os.getpid(),), daemon=True) for _ in cores]
    for worker in workers:
        worker.start()
    try:
        yield
    finally:
        for worker in workers:
            worker.kill()
            worker.join()


def screen_against_sound(server: PulseServer, seconds: float) -> None:
    speaker, session = opened(server, Gestures(), 120)
    for _ in range(4):
        session.obey(Order.MANNER)  # no calls: only the count track sounds
    screen, capture = Screen(session), server.capture()
    clock = CaptureClock(capture)
    session.obey(Order.GO)
    screen.until(lambda: clock.look(), seconds)
    frames = capture.stop()
    speaker.close()
    loud = np.flatnonzero(np.abs(frames[:, 0]) > LOUD)
    onsets = np.array([clock.seconds(int(frame)) for frame in loud[np.diff(loud, prepend=-RATE) > RATE // 4]])
    sound_late = [1000 * float(onsets[np.argmin(np.abs(onsets - at))] - at) for at in screen.changes()[1:]]
    outside = sum(not -45 <= late <= 125 for late in sound_late)
    line("sound after the count that shows (capture's delay in it)", sound_late)
    print(f"outside ITU-R BT.1359-1's +45/-125 ms: {outside} of {len(sound_late)}")


def long_run(server: PulseServer, minutes: float) -> None:
    mine = ours(server, 60 * minutes, 1)
    print(mine.line("caller"))
    print(f"drift: {mine.drift} frames from the first click to the last", flush=True)
    theirs = baseline(server, 60 * minutes, 1)
    print(theirs.line("baseline"))
    frame_ms = 1000 / RATE
    print(f"worst, baseline : caller = {theirs.worst / max(mine.worst, frame_ms):.0f} : 1 (no less than one frame)")
    lost = (theirs.asked - theirs.found, mine.asked - mine.found)
    print(f"clicks lost, baseline and caller: {lost[0]} and {lost[1]} of {mine.asked}", flush=True)


def main() -> None:
    options = argparse.ArgumentParser(description="Live sound with both cores loaded.")
    options.add_argument("minutes", type=float, nargs="?", default=1.0)
    options.add_argument("--no-load", action="store_true", help="nothing else runs on the cores")
    asked = options.parse_args()
    sys.setswitchinterval(SWITCH_SECONDS)  # as a class has it
    signal.signal(signal.SIGTERM, lambda number, _: sys.exit(128 + number))  # so that all that was started is ended
    with tempfile.TemporaryDirectory() as folder:
        server = PulseServer(Path(folder))
        os.environ.update(server.environment)
        try:
            with loaded_cores(not asked.no_load):
                long_run(server, asked.minutes)
                with busy(1):
                    screen_against_sound(server, min(60 * asked.minutes, 60))
                    orders_to_sound(server)
                if why := missing():
                    print(f"the pedal is left out: {why}")
                else:
                    with jack(), busy(1):
                        pedal_to_sound(server)
        finally:
            server.stop()


if __name__ == "__main__":
    main()
