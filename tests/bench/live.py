"""Live sound with both cores loaded and a busy thread in the program: underruns, drift, latency, screen against sound.

``python -m tests.bench.live [MINUTES] [--no-load]``: a minute by default. Needs PulseAudio and, for the pedal,
JACK; they are started here, without hardware. Printed, one line each:

- underruns and drift of a run of so many minutes, as captured from the sound server; beside it the baseline, clicks
  played on time with asyncio and ``sounddevice.play``, and the ratio of how far both are off the beat at worst;
- from a MIDI message that another process sends to the captured sound's first changed frame, in all and over what the
  device itself has queued;
- the count that the screen shows against the captured click.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import subprocess
import tempfile
import time
from bisect import bisect_left
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import numpy as np
import numpy.typing as npt

from caller.rig.pedal import open_pedal
from caller.rig.stream.live import DeviceSpeaker
from caller.session import Desk, Session
from caller.sound.mix import render
from caller.sound.score import RATE
from caller.transport.order import Order
from caller.transport.state import State
from caller.transport.tempo import Pace
from tests.bench.bench_live import baseline, ours
from tests.bench.load import busy
from tests.parts.jack import COMMAND, NAME, SETTINGS, missing
from tests.parts.live_class import lantern
from tests.parts.pulse import Capture, PulseServer
from tests.parts.test_pedal_real import Player
from tests.parts.test_sound_real import place_of
from tests.parts.waiting import until
from tests.session.classroom import Gestures, KnownVoice, Prepared

PEDAL = "bench-pedal"
TRIES = 20
LOOK_SECONDS, LISTEN_SECONDS = 0.05, 0.01  # as the screen does
LOUD = 0.02
NEAR = RATE // 10  # clicks come again: what was captured is looked for where the player tells that it was

Floats = npt.NDArray[np.float64]


def spin() -> None:
    while True:
        sum(number * number for number in range(1_000))


@contextmanager
def loaded_cores(load: bool) -> Iterator[None]:
    """As many busy processes as there are cores."""
    spawn = multiprocessing.get_context("spawn")
    workers = [spawn.Process(target=spin, daemon=True) for _ in range(os.cpu_count() or 2)] if load else []
    for worker in workers:
        worker.start()
    try:
        yield
    finally:
        for worker in workers:
            worker.kill()
            worker.join()


@contextmanager
def jack() -> Iterator[None]:
    os.environ.update({**SETTINGS, "CALLER_MIDI_API": "UNIX_JACK"})
    nothing = subprocess.DEVNULL
    # The tests' long cycle of 43 ms would be most of what is measured; 5 ms is what cards are run at.
    server = subprocess.Popen((*COMMAND[:-1], "256"), stdin=nothing, stdout=nothing, stderr=nothing)
    try:
        subprocess.run(("jack_wait", "-w", "-t", "10", "-s", NAME), check=True, capture_output=True)
        yield
    finally:
        server.terminate()
        server.wait(5)


class Screen:
    """Looks at a session as the screen does: the pedal a hundred times a second, the rest twenty times."""

    def __init__(self, session: Session) -> None:
        self.session = session
        self.seen: list[tuple[float, object]] = []
        self._next = 0.0

    def until(self, true: Callable[[], bool], seconds: float) -> None:
        ends = time.perf_counter() + seconds
        while not true() and time.perf_counter() < ends:
            now = time.perf_counter()
            if now >= self._next:
                view, self._next = self.session.look(), now + LOOK_SECONDS
                if view.glance is not None:
                    self.seen.append((now, (view.glance.counting_in, view.glance.section, view.glance.count)))
            else:
                self.session.listen()
            time.sleep(LISTEN_SECONDS)

    def changes(self) -> Floats:
        """When what shows changed."""
        return np.array([now for (now, place), (_, was) in zip(self.seen[1:], self.seen, strict=False) if place != was])


class CaptureClock:
    """When, on the program's clock, a captured frame was played: the soonest that frames near it were seen to come. (A
    virtual sink runs unevenly on a loaded machine, so that what holds a second later tells nothing.)"""

    def __init__(self, capture: Capture) -> None:
        self.capture = capture
        self._frames: list[int] = []
        self._began: list[float] = []  # where frame 0 would be, as seen at each look

    def look(self) -> bool:
        frames = self.capture.frames_so_far()
        if not self._frames or frames > self._frames[-1]:
            self._frames.append(frames)
            self._began.append(time.perf_counter() - frames / RATE)
        return False

    def seconds(self, frame: int) -> float:
        first, last = (bisect_left(self._frames, frame + beside * RATE // 4) for beside in (-1, 1))
        return min(self._began[first : max(last, first + 1)] or self._began[-1:]) + frame / RATE

    def frame(self, seconds: float) -> int:
        return round((seconds - self._began[-1]) * RATE)


def opened(server: PulseServer, pedal: object, tempo: int) -> tuple[DeviceSpeaker, Session]:
    speaker = DeviceSpeaker("pulse", server.folder / "sound.log")
    until(lambda: speaker.heard().heard > 0, 30, "the first frame heard")
    desk = Desk(speaker, KnownVoice(), Prepared(), pedal, time.perf_counter)  # type: ignore[arg-type]
    session = Session(lantern(), desk, Pace(Fraction(tempo)))
    session.look()
    return speaker, session


@dataclass(frozen=True, slots=True)
class Pause:
    """Milliseconds from the message's being sent: to the first silent frame as captured, as told, and as written."""

    captured: float
    told: float
    written: float


def pedal_to_sound(server: PulseServer) -> None:
    """What sounds is paused by a foot in another process, again and again."""
    player, pedal = Player(f"jack:{PEDAL}"), open_pedal(PEDAL)
    speaker, session = opened(server, pedal, 200)
    screen = Screen(session)
    screen.until(lambda: pedal.says.startswith("on "), 10)
    pauses = []
    for number in range(TRIES):
        screen.until(lambda: False, 0.3 + 0.013 * number)
        session.obey(Order.GO if session.state is State.READY else Order.SECTION_AGAIN)
        screen.until(lambda: session.state is State.RUNNING, 10)
        pause = one_pause(screen, speaker, player, server.capture())
        pauses += [pause] if pause is not None else []
    speaker.close()
    pedal.close()
    player.goes()
    line("foot to the first changed frame, as captured", [pause.captured for pause in pauses])
    line("the same as the player tells it", [pause.told for pause in pauses])
    line("of it over what the device had queued", [pause.written for pause in pauses])


def one_pause(screen: Screen, speaker: DeviceSpeaker, player: Player, capture: Capture) -> Pause | None:
    clock = CaptureClock(capture)
    screen.until(clock.look, 0.8)
    player.does("down")
    screen.until(clock.look, 0.08)
    sent, before = player.does("up"), speaker.heard()
    screen.until(lambda: clock.look() or screen.session.state is State.PAUSED, 2)
    screen.until(lambda: clock.look() or speaker.heard().hushed_at is not None, 2)
    hushed = speaker.heard().hushed_at
    screen.until(clock.look, 0.4)
    frames = capture.stop()
    if hushed is None or screen.session.state is not State.PAUSED:
        print("a press did not arrive", flush=True)  # a late cycle of the virtual MIDI server spoils what it hands over
        return None
    playing = screen.session.air.playing[-1]
    played = render(playing.piece.score, playing.piece_frame(hushed - RATE // 2), playing.piece_frame(hushed))
    near = max(clock.frame(before.at_seconds + (hushed - before.heard) / RATE) - len(played) - NEAR, 0)
    place = near + place_of(played, frames[near : near + len(played) + 2 * NEAR])
    captured = clock.seconds(place + len(played))
    told, written = (before.at_seconds + (hushed - frame) / RATE for frame in (before.heard, before.written))
    return Pause(*(1000 * (at - sent) for at in (captured, told, written)))


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


def line(what: str, ms: list[float]) -> None:
    low, middle, high = np.min(ms), np.median(ms), np.max(ms)
    print(f"{what}: median {middle:.1f} ms, {low:.1f} to {high:.1f} ms ({len(ms)} times)", flush=True)


def long_run(server: PulseServer, minutes: float) -> None:
    mine = ours(server, 60 * minutes, 1)
    theirs = baseline(server, 60 * minutes, 1)
    print(mine.line("caller"))
    print(theirs.line("baseline"))
    frame_ms = 1000 / RATE
    print(f"drift: {mine.drift} frames from the first click to the last")
    print(f"worst, baseline : caller = {theirs.worst / max(mine.worst, frame_ms):.0f} : 1 (no less than one frame)")
    lost = (theirs.asked - theirs.found, mine.asked - mine.found)
    print(f"clicks lost, baseline and caller: {lost[0]} and {lost[1]} of {mine.asked}")


def main() -> None:
    options = argparse.ArgumentParser(description="Live sound with both cores loaded.")
    options.add_argument("minutes", type=float, nargs="?", default=1.0)
    options.add_argument("--no-load", action="store_true", help="nothing else runs on the cores")
    asked = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        server = PulseServer(Path(folder))
        os.environ.update(server.environment)
        try:
            with loaded_cores(not asked.no_load):
                long_run(server, asked.minutes)
                with busy(1):
                    screen_against_sound(server, min(60 * asked.minutes, 60))
                if why := missing():
                    print(f"the pedal is left out: {why}")
                else:
                    with jack(), busy(1):
                        pedal_to_sound(server)
        finally:
            server.stop()


if __name__ == "__main__":
    main()
