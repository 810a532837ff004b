"""The microphone through a real sound server: a known sound is played into a null sink, and its monitor recorded.

The check from outside is the sound itself: it is played by PulseAudio's own player, not by ours. The sink keeps 16
bits, and may lose the first moment of a stream: so sound is played after a little silence.
"""

from __future__ import annotations

import io
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pyloudnorm
import pytest
import soundfile
from scipy.signal import correlate

from caller.cli.dictation import walk_through
from caller.rig.recorder import DeviceRecorder, RecorderLost
from caller.rig.speech.own_voice import own_voice
from caller.rig.speech.recorded import words_file
from caller.sound.loudness import SPEECH_LUFS
from caller.sound.score import RATE, Samples
from tests.parts.pulse import PulseServer
from tests.rig.speech.test_listening import quiet, voice

pytestmark = pytest.mark.parts

SPOKEN = np.concatenate([quiet(0.3), voice(1.2, 0.1), quiet(0.3)])
NOISE = np.random.default_rng(3).uniform(-0.3, 0.3, RATE).astype(np.float32)


@pytest.fixture
def microphone(pulse: PulseServer) -> Iterator[DeviceRecorder]:
    made = DeviceRecorder()
    yield made
    made.close()


def play(pulse: PulseServer, sound: Samples, file: Path) -> subprocess.Popen[bytes]:
    soundfile.write(str(file), sound, RATE, subtype="PCM_16")
    return subprocess.Popen(["paplay", "--device=ci", str(file)], env=pulse.environment)


def test_what_is_played_is_what_is_recorded(pulse: PulseServer, microphone: DeviceRecorder, tmp_path: Path) -> None:
    assert microphone.device == "pulse"
    blocks = microphone.blocks()
    next(blocks)
    player = play(pulse, np.concatenate([quiet(0.5), NOISE]), tmp_path / "noise.wav")
    heard = np.concatenate([next(blocks) for _ in range(300)])
    player.wait(10)
    at = int(np.argmax(correlate(heard, NOISE, mode="valid")))
    # Within half a step of 16 bits each way, and the scaling by 32767 or 32768.
    np.testing.assert_allclose(heard[at : at + RATE], NOISE, atol=3 / 32_768)


class Teacher:
    """Presses Enter, and speaks each time words are shown: a stream of orders that plays a sound with each line but the
    first, which is for the room."""

    def __init__(self, pulse: PulseServer, folder: Path) -> None:
        self._pulse, self._folder = pulse, folder
        self.said: list[subprocess.Popen[bytes]] = []
        self._asked = 0

    def readline(self) -> str:
        self._asked += 1
        if self._asked > 1:
            self.said.append(play(self._pulse, SPOKEN, self._folder / f"said{self._asked}.wav"))
        return "\n"


def test_a_phrase_spoken_into_the_microphone_is_kept_trimmed_and_as_loud_as_speech(
    pulse: PulseServer, microphone: DeviceRecorder, tmp_path: Path
) -> None:
    anna, teacher, shown = own_voice("anna", (tmp_path,)), Teacher(pulse, tmp_path), io.StringIO()
    kept = walk_through(anna, ["walk", "rock back"], microphone, teacher, shown)  # type: ignore[arg-type]
    for player in teacher.said:
        player.wait(10)
    assert kept == 2, shown.getvalue()
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan")
    for words in ("walk", "rock back"):
        samples, rate = soundfile.read(str(words_file(tmp_path / "anna", words)))
        assert rate == RATE
        assert len(samples) / RATE == pytest.approx(1.2, abs=0.2)
        # ITU-R BS.1770 by pyloudnorm; a mono clip sounds from both channels.
        assert meter.integrated_loudness(np.stack([samples, samples], axis=1)) == pytest.approx(SPEECH_LUFS, abs=0.5)


def test_a_microphone_that_is_not_there_is_told_with_those_that_are(pulse: PulseServer) -> None:
    with pytest.raises(RecorderLost, match=r'none is called "trumpet"; there are: .*pulse'):
        DeviceRecorder("trumpet")
