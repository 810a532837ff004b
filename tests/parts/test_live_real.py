"""A class live on a real sound server, against the offline render of the same orders at the same frames.

The check from outside is PulseAudio's own recorder; see ``test_sound_real`` on how near to a render it can be. How soon
orders are heard is measured in ``tests.bench.live``; here only that they are heard, and where.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from caller.rig.pedal import open_pedal
from caller.rig.stream.live import DeviceSpeaker
from caller.session import Session
from caller.sound.reel import render_reel
from caller.sound.score import RATE
from caller.transport.order import Order
from caller.transport.state import State
from tests.parts.jack import jack, jack_server  # noqa: F401
from tests.parts.live_class import (
    PedalAgain,
    ToldAgain,
    WrittenDown,
    WrittenPedal,
    furthest_off,
    played,
    played_again,
    session_on,
)
from tests.parts.pulse import PulseServer
from tests.parts.test_pedal_real import NAME, Player
from tests.parts.test_sound_real import WITHIN
from tests.parts.waiting import until
from tests.session.classroom import looked

pytestmark = [pytest.mark.parts, pytest.mark.alone]

TEMPO = 200
SCRIPT = [
    (Order.GO, 4.0),
    (Order.FASTER, 0.7),
    (Order.COUNT_SOFTER, 0.6),
    (Order.HALF, 1.1),
    (Order.HALF, 0.6),
    (Order.LOOP, 2.8),
    (Order.MUTE, 0.7),
    (Order.CALLS_LOUDER, 0.8),
    (Order.GO, 0.5),
    (Order.GO, 1.8),
    (Order.EASIER, 0.5),
    (Order.MANNER, 0.9),
    (Order.NEXT, 2.0),
    (Order.LOOP, 0.5),
    (Order.SLOWER, 0.5),
    (Order.STOP_AT_EIGHT, 3.0),
]


@pytest.fixture
def live(pulse: PulseServer, tmp_path: Path) -> Iterator[WrittenDown]:
    speaker = DeviceSpeaker("pulse", tmp_path / "sound.log")
    until(lambda: speaker.heard().fault == "" and speaker.heard().written > 0, 10, "sound")
    yield WrittenDown(speaker)
    speaker.close()


def test_a_class_with_every_kind_of_order_is_its_offline_render_sample_for_sample(
    pulse: PulseServer, live: WrittenDown
) -> None:
    capture = pulse.capture()
    until(lambda: len(capture.frames()) > 0, 5, "the capture's start")
    session = session_on(live, TEMPO)
    looked(session)
    done = played(session, SCRIPT)
    heard = live.speaker.heard()
    captured = capture.stop()
    assert session.state is State.PAUSED

    again = ToldAgain(deque(live.told))
    other = session_on(again, TEMPO)
    looked(other)
    played_again(other, done)
    assert not again.told
    first, last = again.reel.splices[0].at, heard.heard - RATE // 4
    offline = render_reel(again.reel, first, last)
    assert len(again.reel.splices) >= len(SCRIPT) - 3  # mute, and what is set while muted, splice nothing
    assert np.abs(offline).max() > 0.2
    assert (heard.underruns, heard.late) == (0, 0)
    assert furthest_off(again.reel, first, last, captured) <= WITHIN


def test_another_processs_foot_starts_and_pauses_what_is_captured(
    pulse: PulseServer,
    live: WrittenDown,
    jack: None,  # noqa: F811
) -> None:
    player = Player(f"jack:{NAME}")
    pedal = open_pedal(NAME)
    session = session_on(live, TEMPO, WrittenPedal(pedal, live.told))
    capture = pulse.capture()
    try:
        until(lambda: looked(session).pedal.startswith("on "), 10, "the pedal is found")
        after_a_tap(session, player, State.COUNT_IN)
        until(lambda: looked(session).state is State.RUNNING, 10, "the first step")
        after_a_tap(session, player, State.PAUSED)
        until(lambda: live.heard().hushed_at is not None, 2, "the silence")
        paused = live.speaker.heard()
        until(lambda: live.speaker.heard().heard > paused.written + RATE // 4, 5, "a moment of silence")
    finally:
        captured = capture.stop()
        player.goes()
        pedal.close()
    again = ToldAgain(deque(live.told))
    other = session_on(again, TEMPO, PedalAgain(again))
    while any(what == "poll" for what, _ in again.told):
        looked(other)
    assert other.state is State.PAUSED
    offline = render_reel(again.reel, again.reel.splices[0].at, paused.written + RATE // 8)
    assert offline[: RATE * 2].any()
    assert not offline[-RATE // 10 :].any()
    assert furthest_off(again.reel, again.reel.splices[0].at, paused.written + RATE // 8, captured) <= WITHIN


def after_a_tap(session: Session, player: Player, state: State) -> None:
    player.does("taps 1")
    until(lambda: looked(session).state is state, 5, f"{state} after a tap")


def test_the_count_that_shows_is_the_count_that_is_heard(pulse: PulseServer, live: WrittenDown) -> None:
    """Against the captured clicks: a count shows no more than 125 ms before and 45 ms after it is heard (ITU-R
    BT.1359-1, the limits at which it is noticed), by a screen that looks twenty times a second. The capture's own
    delay, some 10 ms, is part of it."""
    session = session_on(live, 120)
    looked(session)
    for _ in range(4):
        session.obey(Order.MANNER)  # no calls: the clicks alone are heard
    capture = pulse.capture()
    until(lambda: len(capture.frames()) > 0, 5, "the capture's start")
    session.obey(Order.GO)
    shown, ages = [], []
    last = None
    ends = time.perf_counter() + 12
    while time.perf_counter() < ends:
        view, now = looked(session), time.perf_counter()
        assert view.glance is not None
        place = view.glance.counting_in, view.glance.section, view.glance.count
        if place != last and last is not None:
            shown.append(now)
        last = place
        ages.append(now - capture.frames_so_far() / RATE)
        time.sleep(max(0.0, now + 0.05 - time.perf_counter()))
    began = min(ages)  # the clock at the capture's frame 0, as near as its blocks let it be told
    captured = capture.stop()
    loud = np.flatnonzero(np.abs(captured[:, 0]) > 0.02)
    onsets = loud[np.diff(loud, prepend=-RATE) > RATE // 4] / RATE + began
    early = [float(onsets[np.argmin(np.abs(onsets - at))] - at) for at in shown]
    assert len(shown) >= 20
    assert min(early) > -0.045
    assert max(early) < 0.125
    assert abs(np.median(early)) < 0.05
