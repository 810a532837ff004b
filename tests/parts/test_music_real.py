"""Dancing to a recording over a real sound server: what is captured has its clicks where the counts of the dance are.

The recording clicks half way between its counts, so that its clicks and the count track's are told apart.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
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


def over_a_song(folder: Path) -> tuple[DeviceSpeaker, Session[WholeDance]]:
    """A class that plays and has its music at half speed too."""
    soundfile.write(folder / "song.flac", click_song(TEMPO, 60, FIRST + HALF_COUNT), RATE)
    shop = Workshop(folder / "kept")
    music = Making(shop, shop.read(folder / "song.flac"), Grid(TEMPO, FIRST), usual_tempos(TEMPO))
    speaker = DeviceSpeaker("", folder / "sound.log")
    desk = Desk(speaker, NoVoice(), Prepared(), Gestures(), time.perf_counter, music=music)
    session = Session(WholeDance.of(lantern(), TEMPO), desk)
    until(lambda: speaker.heard().fault == "" and speaker.heard().written > 0, 10, "sound")
    until(lambda: TEMPO / 2 in music.song.versions, 60, "the music at half speed")
    return speaker, session


def test_the_music_is_on_the_counts_before_and_after_a_new_tempo(pulse: PulseServer, tmp_path: Path) -> None:
    speaker, session = over_a_song(tmp_path)
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


def struck(live: npt.NDArray[np.float32]) -> list[int]:
    """The frames on which clicks set in, each once: where sound comes to a tenth of the loudest after 50 ms without."""
    energy = np.convolve(live**2, np.ones(48) / 48, "same")
    loud = np.flatnonzero(energy > 0.01 * energy.max())
    firsts = loud[np.diff(loud, prepend=-RATE) > RATE // 20]
    return [set_in(live, int(first)) for first in firsts if RATE // 50 < first < len(live) - RATE // 50]


def rises_again(live: npt.NDArray[np.float32], frame: int) -> bool:
    """Whether a second click comes upon one that set in, before it has died away."""
    energy = np.convolve(live[frame : frame + RATE // 12] ** 2, np.ones(240) / 240, "valid")
    after = energy[RATE // 100 :]
    return bool((after[RATE // 200 :] > 2 * np.minimum.accumulate(after)[: -RATE // 200] + 0.02 * energy.max()).any())


def test_over_a_loop_a_jump_and_a_new_tempo_each_beat_is_struck_once_and_in_time(
    pulse: PulseServer, tmp_path: Path
) -> None:
    speaker, session = over_a_song(tmp_path)
    capture = pulse.capture()
    until(lambda: capture.frames_so_far() > RATE // 4, 5, "the capture's start")
    until_there(session, lambda: True)
    session.obey(Order.GO)
    until_there(session, lambda: at(session) > 3)
    session.obey(Order.LOOP)
    until_there(session, lambda: at(session) > 20)  # round twice and more
    assert danced(session) < 8
    session.obey(Order.LOOP)
    session.obey(Order.NEXT)  # counts in anew on the next click, wherever it is pressed
    until_there(session, lambda: at(session) > 28)
    assert danced(session) > 8
    session.obey(Order.HALF)
    ordered = time.perf_counter()
    until_there(session, lambda: at(session) > 30)
    began, from_count = time.perf_counter(), at(session)
    until_there(session, lambda: at(session) > 35)
    lasted, counts = time.perf_counter() - began, at(session) - from_count
    heard = speaker.heard()
    session.close()
    live = capture.stop()[:, 0]
    assert (heard.underruns, heard.late) == (0, 0)
    frames = struck(live)
    gaps = [(later - sooner) / RATE for sooner, later in pairwise(frames)]
    full, half = float(HALF_COUNT), 2 * float(HALF_COUNT)
    assert not any(rises_again(live, frame) for frame in frames[:-1])
    # Two clicks a count: the count track's on it and the music's half-way, over each seam as before and after it.
    begun = next(n for n, gap in enumerate(gaps) if abs(gap - full) < 0.002)
    slow = next(n for n, gap in enumerate(gaps) if n > begun and abs(gap - half) < 0.002)
    assert slow - begun > 2 * 20
    assert max(abs(gap - full) for gap in gaps[begun : slow - 1]) <= 0.002
    assert max(abs(gap - half) for gap in gaps[slow:-1]) <= 0.002
    # By the clock: counts last as long as that tempo says, and it holds from the next count on.
    assert lasted == pytest.approx(float(counts) * 2 * half, rel=0.02)
    assert began - ordered < 4 * half + 0.5


def at(session: Session) -> Fraction:
    return session._playback.outcome(Passed.WENT_ON).count or Fraction(0)


def danced(session: Session) -> Fraction:
    """The count of the sheet."""
    assert isinstance(session.programme, WholeDance)
    return session.programme.route.sheet_count(at(session))


def until_there(session: Session, there: Callable[[], bool]) -> None:
    """Looks as a screen does until it is there."""

    def look() -> bool:
        looked(session)
        return there()

    until(look, 30, "the dance")
