"""What a synthesiser wrote, known by its first bytes."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.rig.speech.recording import NoRecording, read_recording
from tests.fakes.speech import tone


@pytest.mark.parametrize(
    ("format", "subtype"), [("WAV", "PCM_16"), ("AIFF", "PCM_16"), ("WAV", "FLOAT"), ("AIFF", "PCM_24")]
)
def test_sound_reads_alike_from_wave_and_aiff_whatever_the_suffix(tmp_path: Path, format: str, subtype: str) -> None:
    made = tone(0.2)
    file = tmp_path / "phrase.wav"
    soundfile.write(str(file), made.samples, made.rate, format=format, subtype=subtype)
    read = read_recording(file)
    assert read.rate == made.rate
    np.testing.assert_allclose(read.samples, made.samples, atol=1 / 32_768)


def test_several_channels_become_one(tmp_path: Path) -> None:
    file = tmp_path / "phrase.wav"
    soundfile.write(str(file), np.array([[0.5, 0.1], [-0.5, 0.1]]), 22_050, subtype="FLOAT")
    np.testing.assert_allclose(read_recording(file).samples, [0.3, -0.2], atol=1e-6)


@pytest.mark.parametrize(
    ("contents", "says"),
    [
        (b"", "empty"),
        (b"RIFF\x24\x00\x00\x00AVI LIST", "neither WAVE nor AIFF"),
        (b"<html>no sound</html>", "neither WAVE nor AIFF"),
        (b"RIFF\x24\x00\x00\x00WAVE", "damaged"),
        (b"FORM\x00\x00\x00\x24AIFFjunk", "damaged"),
    ],
)
def test_what_is_no_sound_says_what_it_is(tmp_path: Path, contents: bytes, says: str) -> None:
    file = tmp_path / "phrase.wav"
    file.write_bytes(contents)
    with pytest.raises(NoRecording, match=says):
        read_recording(file)


def test_a_file_that_is_not_there_is_no_recording(tmp_path: Path) -> None:
    with pytest.raises(NoRecording, match="no sound file"):
        read_recording(tmp_path / "phrase.wav")
