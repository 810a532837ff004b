"""How soon a pause or mute is heard: from the order, and from a foot in another process.

Conventions: milliseconds, to the first captured frame that is not what would have sounded (how loud the cut is, tells
``tests.bench.bench_cut``). The MIDI server of the tests is no part of the program: what it loses on its way is told
apart, and tried again, and so is how long it takes.
"""

from __future__ import annotations

import os
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial

import numpy as np

from caller.rig.pedal import open_pedal
from caller.rig.pedal.port import Message, MidoPorts, Port
from caller.rig.stream.live import DeviceSpeaker
from caller.session import Session
from caller.sound.mix import render
from caller.sound.score import RATE
from caller.transport.order import Order
from caller.transport.state import State
from tests.bench.watched import CaptureClock, Screen, line, opened
from tests.parts.jack import COMMAND, NAME, SETTINGS
from tests.parts.pulse import PulseServer
from tests.parts.test_pedal_real import Player
from tests.parts.test_sound_real import WITHIN, place_of
from tests.session.classroom import Gestures

PEDAL = "bench-pedal"
TRIES, MOST_LOST = 20, 40
NEAR = RATE // 10  # clicks come again: what was captured is looked for where the player tells that it was
DOWN_SECONDS = 0.08
LIMIT_SECONDS = 5.0


@dataclass(frozen=True, slots=True)
class Silence:
    """Milliseconds from the order to the first changed frame: as captured, and as the player tells it."""

    captured: float
    told: float


@dataclass
class Stage:
    """What sounds, and how it is looked at."""

    server: PulseServer
    speaker: DeviceSpeaker
    session: Session
    screen: Screen

    def sounds(self, number: int) -> None:
        """It sounds again, for longer each time, so that silences fall anywhere between two blocks."""
        self.screen.until(lambda: False, 0.3 + 0.013 * number)
        self.session.obey(Order.GO if self.session.state is State.READY else Order.SECTION_AGAIN)
        self.screen.until(lambda: self.session.state is State.RUNNING, 10)

    def silence(self, order: Callable[[CaptureClock], float]) -> Silence | None:
        """From an order, which returns when it was given; None where it was not obeyed within LIMIT_SECONDS."""
        capture = self.server.capture()
        clock = CaptureClock(capture)
        self.screen.until(clock.look, 0.8)
        hushes = self.speaker._hushes
        given = order(clock)
        before = self.speaker.heard()
        self.screen.until(lambda: clock.look() or self._silent_since(hushes) is not None, LIMIT_SECONDS)
        hushed = self._silent_since(hushes)
        self.screen.until(clock.look, 0.4)
        frames = capture.stop()
        if hushed is None:
            return None
        playing = self.session.air.playout.parts[-1]
        first, last = hushed - RATE // 2, hushed + NEAR
        whole = render(playing.piece.score, playing.piece_frame(first), playing.piece_frame(last))
        before_it = whole[: RATE // 2 - NEAR]
        near = max(clock.frame(before.at_seconds + (first - before.heard) / RATE) - NEAR, 0)
        place = near + place_of(before_it, frames[near : near + len(before_it) + 2 * NEAR])
        heard = frames[place : place + len(whole)]
        cut = int(np.argmax(np.abs(heard - whole[: len(heard)]).max(axis=1) > WITHIN))
        captured = clock.seconds(place + cut) - given
        told = before.at_seconds + (hushed - before.heard) / RATE - given
        return Silence(1000 * captured, 1000 * told)

    def _silent_since(self, hushes: int) -> int | None:
        return self.speaker.heard().hushed_at if self.speaker._hushes > hushes else None


def told(what: str, silences: list[Silence]) -> None:
    line(f"{what} to the first changed frame, as captured", [silence.captured for silence in silences])
    line("  the same as the player tells it", [silence.told for silence in silences])


def orders_to_sound(server: PulseServer) -> None:
    """What sounds is paused and muted by an order, as a key gives it, again and again."""
    speaker, session = opened(server, Gestures(), 200)
    stage = Stage(server, speaker, session, Screen(session))
    for order in (Order.GO, Order.MUTE):
        silences = []
        for number in range(TRIES):
            stage.sounds(number)
            silence = stage.silence(partial(_given, session, order))
            assert silence is not None, f"{order} was not obeyed; {session.state}, {speaker.heard()}"
            silences.append(silence)
            if order is Order.MUTE:
                session.obey(Order.MUTE)
        told({Order.GO: "pause", Order.MUTE: "mute"}[order], silences)
    speaker.close()


def _given(session: Session, order: Order, _: CaptureClock) -> float:
    now = time.perf_counter()
    session.obey(order)
    return now


class HeardPorts(MidoPorts):
    """The real ports; what they hand over is written down besides."""

    def __init__(self) -> None:
        super().__init__()
        self.came: list[Message] = []

    def open(self, name: str) -> Port:
        return HeardPort(super().open(name), self.came)


class HeardPort:
    def __init__(self, port: Port, came: list[Message]) -> None:
        self._port, self._came = port, came
        self.close = port.close

    def pending(self, now: float) -> tuple[Message, ...]:
        messages = self._port.pending(now)
        self._came.extend(messages)
        return messages


def pedal_to_sound(server: PulseServer) -> None:
    """What sounds is paused by a foot in another process, again and again."""
    ports = HeardPorts()
    player, pedal = Player(f"jack:{PEDAL}"), open_pedal(PEDAL, lambda: ports)
    speaker, session = opened(server, pedal, 200)
    stage = Stage(server, speaker, session, Screen(session))
    stage.screen.until(lambda: pedal.says.startswith("on "), 10)
    sent: list[Silence] = []
    came: list[float] = []
    lost = 0
    while len(sent) < TRIES and lost < MOST_LOST:
        stage.sounds(len(sent) + lost)
        ports.came.clear()
        when: list[float] = []
        silence = stage.silence(partial(_trodden, stage, player, when))
        if len(ports.came) < 2:
            lost += 1
            player.does("up")  # so that the foot is off it, whatever was lost
            if session.state is not State.PAUSED:
                session.obey(Order.GO)
            continue
        assert silence is not None, f"what came in was not obeyed: {ports.came}, and then {session.state}"
        sent.append(silence)
        came.append(1000 * (ports.came[-1][1] - when[0]))
    speaker.close()
    pedal.close()
    player.goes()
    told("foot", sent)
    line("  from the foot until the MIDI server handed it over", came)
    print(f"taps that the MIDI server lost on the way: {lost} of {lost + len(sent)}", flush=True)


def _trodden(stage: Stage, player: Player, when: list[float], clock: CaptureClock) -> float:
    """A tap; what it orders it orders when the foot is lifted."""
    player.does("down")
    stage.screen.until(clock.look, DOWN_SECONDS)
    when.append(player.does("up"))
    return when[0]


@contextmanager
def jack() -> Iterator[None]:
    """A MIDI server with a cycle of 5 ms, which cards are run at (the tests' long one of 43 ms would be most of what is
    measured)."""
    os.environ.update({**SETTINGS, "CALLER_MIDI_API": "UNIX_JACK"})
    nothing = subprocess.DEVNULL
    server = subprocess.Popen((*COMMAND[:-1], "256"), stdin=nothing, stdout=nothing, stderr=nothing)
    try:
        subprocess.run(("jack_wait", "-w", "-t", "10", "-s", NAME), check=True, capture_output=True)
        yield
    finally:
        server.terminate()
        server.wait(5)
