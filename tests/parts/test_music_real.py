"""Dancing to a recording over a real sound server: what is captured has its clicks where the counts of the dance are.

The recording clicks half way between its counts, so that its clicks and the count track's are told apart.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
import soundfile
from scipy.signal import correlate

from caller.clock.grid import Grid
from caller.rig.music.making import Making, usual_tempos
from caller.rig.music.workshop import Workshop
from caller.rig.stream.live import DeviceSpeaker
from caller.session import Desk, Session, WholeDance
from caller.session.programme import Passed
from caller.sound.mix import render
from caller.sound.score import RATE
from caller.transport.order import Order
from tests.fakes.songs import click_song
from tests.parts.live_class import lantern
from tests.parts.pulse import PulseServer
from tests.parts.waiting import until
from tests.session.classroom import Gestures, NoVoice, Prepared, looked

pytestmark = [pytest.mark.parts, pytest.mark.alone]

TEMPO = Fraction(160)
HALF_COUNT = Fraction(60) / TEMPO / 2
FIRST = Fraction(1, 2)


def set_in(sound: npt.NDArray[np.float32], frame: int) -> int:
    """Where near a frame a sound sets in: the middle of its energy's rise."""
    start = frame - RATE // 50
    energy = np.convolve(sound[start : frame + RATE // 50] ** 2, np.ones(48) / 48, "same")
    return start + int(np.argmax(energy > energy.max() / 2))


def test_the_music_is_on_the_counts_before_and_after_a_new_tempo(pulse: PulseServer, tmp_path: Path) -> None:
    soundfile.write(tmp_path / "song.flac", click_song(TEMPO, 60, FIRST + HALF_COUNT), RATE)
    shop = Workshop(tmp_path / "kept")
    music = Making(shop, shop.read(tmp_path / "song.flac"), Grid(TEMPO, FIRST), usual_tempos(TEMPO))
    speaker = DeviceSpeaker("", tmp_path / "sound.log")
    desk = Desk(speaker, NoVoice(), Prepared(), Gestures(), time.perf_counter, music=music)
    session = Session(WholeDance.of(lantern(), TEMPO), desk)
    until(lambda: speaker.heard().fault == "" and speaker.heard().written > 0, 10, "sound")
    until(lambda: TEMPO / 2 in music.song.versions, 60, "the music at half speed")
    capture = pulse.capture()
    until(lambda: capture.frames_so_far() > RATE // 4, 5, "the capture's start")
    until_there(session, lambda: True)
    session.obey(Order.GO)
    until_there(session, lambda: at(session) > 4)
    full = session.air.playout.parts[-1]
    session.obey(Order.HALF)
    half = session.air.playout.parts[-1]
    until_there(session, lambda: at(session) > 12)
    heard = speaker.heard()
    session.close()
    live = capture.stop()[:, 0]
    # To the last count before the new tempo: a shorter piece is much like itself a count later.
    opening = render(full.piece.score, 0, full.piece.timeline.frame_of(Fraction(4)))[:, 0]
    shift = int(np.argmax(correlate(live, opening, mode="valid")))
    assert (heard.underruns, heard.late) == (0, 0)
    for piece, counts in ((full.piece, range(-4, 3)), (half.piece, range(6, 11))):
        for count in counts:
            on, between = (shift + piece.timeline.frame_of(count + Fraction(n, 2)) for n in (0, 1))
            assert abs(set_in(live, on) - on) <= RATE // 1000
            assert abs(set_in(live, between) - between) <= RATE // 1000


def at(session: Session) -> Fraction:
    return session._playback.outcome(Passed.WENT_ON).count or Fraction(0)


def until_there(session: Session, there: Callable[[], bool]) -> None:
    """Looks as a screen does until it is there."""

    def look() -> bool:
        looked(session)
        return there()

    until(look, 30, "the dance")
