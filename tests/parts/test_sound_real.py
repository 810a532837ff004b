"""Live sound against the offline render, through a real sound server.

The check from outside is the capture: PulseAudio's own recorder on the sink that the player plays to. The sink keeps
16 bits, so a sample may be off by half a step of 1/32768 and, as PulseAudio scales by 32767 or 32768, one part in
32767.
"""

from __future__ import annotations

import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from scipy.signal import correlate

from caller.rig.devices import LIBRARY_VARIABLE, PORTAUDIO, PULSE, portaudio_missing, pulse_there, sound_report
from caller.rig.stream.keeper import SILENT_SECONDS
from caller.rig.stream.live import DeviceSpeaker
from caller.rig.stream.player import WRITE_LIMIT_SECONDS
from caller.sound.reel import Reel, Splice, render_reel
from caller.sound.score import RATE, Score
from caller.sound.speaker import Heard
from tests.parts.conftest import need
from tests.parts.pulse import Capture, PulseServer, missing
from tests.parts.waiting import until
from tests.rig.scores import score_of, steady, tone

pytestmark = [pytest.mark.parts, pytest.mark.alone]

Frames = npt.NDArray[np.float32]
WITHIN = 0.5 / 32768 + 1 / 32767 * 0.6 + 1e-6  # no sample here is above 0.6

# Where the sound was cut off is told as well as a device tells how much it holds.
TOLD_WITHIN = RATE // 25

# A virtual sink that has just been made stands still or runs fast for a moment, until its own clock is even.
CATCHING_UP_SECONDS = 0.1
SETTLING_SECONDS = 2.2


@pytest.fixture(params=[PORTAUDIO, PULSE])
def library(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """What plays: PortAudio, or the sound server's own library."""
    monkeypatch.setenv(LIBRARY_VARIABLE, request.param)
    need("" if pulse_there() or not portaudio_missing() else "no PortAudio library: apt install libportaudio2")
    return str(request.param)


@pytest.fixture
def speaker(pulse: PulseServer, library: str, tmp_path: Path) -> Iterator[DeviceSpeaker]:
    made = DeviceSpeaker("", tmp_path / "sound.log")
    until(lambda: made.heard().fault == "" and made.heard().written > 0, 10, "sound")
    yield made
    made.close()


def clicks(tempo: float, counts: int) -> Score:
    click = tone(960, 7, 0.5)
    return score_of(*((round(n * 60 * RATE / tempo), click) for n in range(counts)))


def heard_past(speaker: DeviceSpeaker, frame: int, within: float = 5) -> None:
    until(lambda: speaker.heard().heard >= frame, within, f"frame {frame} heard")


def place_of(piece: Frames, whole: Frames) -> int:
    """The frame of ``whole`` at which ``piece`` fits best."""
    return int(np.argmax(correlate(whole[:, 0], piece[:, 0], mode="valid")))


def test_the_report_finds_the_sound_server_and_says_what_plays(pulse: PulseServer, library: str) -> None:
    report = sound_report()
    assert (report.best, report.sentence) == ("pulse", "")
    plays = {PORTAUDIO: "PortAudio V19", PULSE: "the sound server's own library"}
    assert report.library.startswith(plays[library])


def test_a_captured_live_run_is_the_offline_render_sample_for_sample(
    pulse: PulseServer, speaker: DeviceSpeaker
) -> None:
    capture = pulse.capture()
    until(lambda: len(capture.frames()) > 0, 5, "the capture's start")
    first, again, faster = steady(60 * RATE, 1), steady(60 * RATE, 2), clicks(150, 60)
    began = speaker.splice(first, 0, speaker.earliest(0.25))
    heard_past(speaker, began + RATE)
    speaker.hush()
    until(lambda: speaker.heard().hushed_at is not None, 1, "the hush")
    stopped = speaker.heard().hushed_at
    assert stopped is not None
    resumed = speaker.splice(again, stopped - began, speaker.earliest(0.25))
    heard_past(speaker, resumed + RATE)
    changed = speaker.splice(faster, 4_321, speaker.earliest(0.25))
    ended = speaker.splice(None, 0, changed + RATE)
    heard_past(speaker, ended + RATE // 2)
    live = capture.stop()

    before = render_reel(Reel((Splice(began, first, 0),)), began, stopped - TOLD_WITHIN)
    place = place_of(before, live)
    assert np.abs(live[place : place + len(before)] - before).max() <= WITHIN
    goes_on = (Splice(resumed, again, stopped - began), Splice(changed, faster, 4_321), Splice(ended, None, 0))
    after = render_reel(Reel(goes_on), resumed, ended + RATE // 4)
    assert np.abs(after).max() > 0.2
    place_after = place_of(after, live)
    assert np.abs(live[place_after : place_after + len(after)] - after).max() <= WITHIN
    assert not live[place + len(before) + 2 * TOLD_WITHIN : place_after].any(), "silent where it says"
    assert (speaker.heard().underruns, speaker.heard().late) == (0, 0)


def behind_the_clock(before: Heard, after: Heard) -> float:
    """Seconds by which the sound has fallen behind from one moment to the other."""
    return after.at_seconds - before.at_seconds - (after.heard - before.heard) / RATE


def returns(speaker: DeviceSpeaker, capture: Capture, whole: Frames) -> tuple[Heard, int, Frames]:
    """Once sound is captured for half a second: what is heard, the frame of ``whole`` at the capture's end, and the
    capture."""
    until(lambda: np.count_nonzero(capture.frames()) > RATE, 15, "sound")
    time.sleep(0.5)
    heard = speaker.heard()
    got = capture.frames()
    piece = got[-RATE // 4 :]
    return heard, place_of(piece, whole) + len(piece), got


def sounded(speaker: DeviceSpeaker) -> tuple[Score, int, Frames]:
    """A minute of sound, spliced in: where, and its render."""
    minute = steady(60 * RATE)
    at = speaker.splice(minute, 0, speaker.earliest(0.1))
    heard_past(speaker, at + RATE // 2)
    return minute, at, render_reel(Reel((Splice(0, minute, 0),)), 0, 60 * RATE)


def test_a_killed_sound_server_is_told_and_sound_returns_at_the_right_place(
    pulse: PulseServer, speaker: DeviceSpeaker
) -> None:
    _, at, whole = sounded(speaker)
    pulse.kill()
    until(lambda: speaker.heard().fault != "", 2, "a word about the loss")
    before = speaker.heard()
    assert before.fault.endswith(".")
    pulse.start()
    capture = pulse.capture()
    heard, place, got = returns(speaker, capture, whole)
    capture.stop()
    assert heard.fault == ""
    assert abs(behind_the_clock(before, heard)) < CATCHING_UP_SECONDS
    assert abs(place - (heard.heard - at)) < 0.05 * RATE
    exact = whole[place - RATE // 4 : place]
    assert np.abs(got[-len(exact) :] - exact).max() <= WITHIN


def test_a_frozen_sound_server_is_told_and_sound_returns_when_it_thaws(
    pulse: PulseServer, speaker: DeviceSpeaker
) -> None:
    _, at, whole = sounded(speaker)
    pulse.freeze()
    try:
        until(lambda: speaker.heard().fault != "", WRITE_LIMIT_SECONDS + 2, "a word about the stall")
        before = speaker.heard()
    finally:
        pulse.thaw()
    capture = pulse.capture()
    until(lambda: speaker.heard().fault == "", 15, "sound again")
    heard, place, _ = returns(speaker, capture, whole)
    capture.stop()
    assert abs(behind_the_clock(before, heard)) < CATCHING_UP_SECONDS
    assert abs(place - (heard.heard - at)) < 0.05 * RATE


@pytest.mark.skipif(sys.platform == "win32", reason="uses POSIX signals")
def test_a_player_that_is_stopped_is_replaced_and_sound_returns_at_the_right_place(
    pulse: PulseServer, speaker: DeviceSpeaker
) -> None:
    _, at, whole = sounded(speaker)
    stopped = speaker._keeper._child
    assert stopped is not None
    before = speaker.heard()
    stopped.send_signal(signal.SIGSTOP)  # never let on again
    told = until(lambda: speaker.heard().fault != "", 5, "a word about the stop")
    assert SILENT_SECONDS - 0.5 < told < SILENT_SECONDS + 1
    until(lambda: speaker.heard().fault == "", 10, "sound again")
    capture = pulse.capture()
    heard, place, _ = returns(speaker, capture, whole)
    capture.stop()
    assert abs(behind_the_clock(before, heard)) < CATCHING_UP_SECONDS
    assert abs(place - (heard.heard - at)) < 0.05 * RATE


def test_the_default_device_may_change_and_the_old_one_go(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Sound comes back on the new one by itself, at the place where the class has got to."""
    need(missing())
    server = PulseServer(tmp_path)  # of its own: the sink that the others use is taken away
    try:
        for name in ("PULSE_SERVER", "PULSE_RUNTIME_PATH"):
            monkeypatch.setenv(name, server.environment[name])
        speaker = DeviceSpeaker("", tmp_path / "sound.log")
        until(lambda: speaker.heard().fault == "" and speaker.heard().written > 0, 10, "sound")
        _, at, whole = sounded(speaker)
        server.add_sink("other")
        server.make_default("other")
        capture = server.capture("other")
        time.sleep(SETTLING_SECONDS)
        before = speaker.heard()
        server.remove_first_sink()
        heard, place, _ = returns(speaker, capture, whole)
        capture.stop()
        speaker.close()
    finally:
        server.stop()
    assert heard.fault == ""
    assert abs(behind_the_clock(before, heard)) < CATCHING_UP_SECONDS
    assert abs(place - (heard.heard - at)) < 0.05 * RATE


def test_a_rate_that_the_device_refuses_is_told_and_the_clock_goes_on(
    pulse: PulseServer, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(LIBRARY_VARIABLE, PORTAUDIO)  # the server itself resamples anything
    speaker = DeviceSpeaker("pulse", tmp_path / "sound.log", rate=3)
    until(lambda: "starting" not in speaker.heard().fault, 10, "a word from the player")
    told = speaker.heard()
    until(lambda: speaker.heard().heard > told.heard + 2, 5, "a second by the clock")
    speaker.close()
    assert told.fault.startswith("The sound device pulse won't open (")


def test_a_pause_asked_for_while_there_is_no_server_holds_when_it_is_back(
    pulse: PulseServer, speaker: DeviceSpeaker
) -> None:
    sounded(speaker)
    pulse.kill()
    until(lambda: speaker.heard().fault != "", 2, "a word about the loss")
    speaker.hush()
    until(lambda: speaker.heard().hushed_at is not None, 3, "the hush")
    pulse.start()
    until(lambda: speaker.heard().fault == "", 15, "a device again")
    capture = pulse.capture()
    until(lambda: len(capture.frames()) > RATE // 2, 5, "half a second")
    assert not capture.stop().any()


def test_a_speaker_that_plays_ends_within_a_second_and_without_a_click(
    pulse: PulseServer, speaker: DeviceSpeaker
) -> None:
    capture = pulse.capture()
    sounded(speaker)
    began = time.perf_counter()
    speaker.close()
    assert time.perf_counter() - began < 1
    until(lambda: not capture.frames()[-RATE // 10 :].any(), 2, "silence")
    live = capture.stop()
    last = int(np.flatnonzero(live[:, 0])[-1])
    assert np.abs(live[last - 10 : last + 1]).max() < 0.05  # the noise is at 0.25: it has faded
