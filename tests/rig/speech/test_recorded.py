"""Recorded words on disk: named by what is said, whole, and quicker at the same pitch."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import example, given
from hypothesis import strategies as st

from caller.rig.speech.own_voice import NoOwnVoice, keep_own_voice, own_voice
from caller.rig.speech.recorded import LONGEST_NAME, keep_words, recorded_files, squeezed, words_file
from caller.rig.speech.recording import Recording
from caller.rig.speech.voices import find_voice
from caller.sound.score import RATE
from tests.fakes.speech import tone


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("rock back, recover", "rock-back-recover.wav"),
        ("Rock  back RECOVER!", "rock-back-recover.wav"),
        ("wall five, twelve o'clock", "wall-five-twelve-o-clock.wav"),
        ("../../etc", "etc.wav"),
        ("chassé", "chassé.wav"),
    ],
)
def test_a_file_is_named_by_its_words(words: str, name: str) -> None:
    assert words_file(Path("anna"), words) == Path("anna", name)


@given(st.text(min_size=1, max_size=300))
@example("\U00010400" * 40)
@example("step " * 60)
def test_whatever_is_said_the_name_stays_in_the_folder_and_short(words: str) -> None:
    file = words_file(Path("anna"), words)
    assert file.parent == Path("anna")
    assert len(file.name.encode("utf-8", "replace")) <= LONGEST_NAME + 4


def test_words_are_kept_as_sound_and_nothing_is_left_half_written(tmp_path: Path) -> None:
    made = tone(0.3, RATE).samples
    file = keep_words(tmp_path / "anna", "walk, walk", made)
    read, rate = soundfile.read(str(file), dtype="float32")
    assert rate == RATE
    np.testing.assert_allclose(read, made, atol=1 / 32_768)
    assert [path.name for path in (tmp_path / "anna").iterdir()] == ["walk-walk.wav"]


def test_a_folder_that_can_not_be_written_is_an_error_of_the_system(tmp_path: Path) -> None:
    (tmp_path / "anna").write_text("in the way")
    with pytest.raises(OSError, match="anna"):
        keep_words(tmp_path / "anna", "walk", tone(0.3, RATE).samples)


@pytest.mark.parametrize("speed", [1.15, 1.35])
def test_a_quicker_phrase_is_shorter_by_its_speed_and_at_the_same_pitch(speed: float) -> None:
    pytest.importorskip("python_stretch")
    made = tone(1.0, RATE)
    quick = squeezed(made, speed)
    loud = np.flatnonzero(np.abs(quick.samples) > 0.1)
    assert (loud[-1] - loud[0]) / RATE == pytest.approx(1 / speed, rel=0.05)
    middle = quick.samples[loud[0] + 4_800 : loud[-1] - 4_800]
    spectrum = np.abs(np.fft.rfft(middle * np.hanning(len(middle))))
    assert np.argmax(spectrum) * RATE / len(middle) == pytest.approx(440, abs=5)


def test_at_its_own_speed_a_recording_is_left_alone() -> None:
    made = Recording(tone(0.1).samples, 22_050)
    assert squeezed(made, 1.0) is made


def test_an_own_voice_is_a_recorded_one_in_the_last_folder_written_when_it_is_kept(tmp_path: Path) -> None:
    shipped, own = tmp_path / "shipped", tmp_path / "own"
    shipped.mkdir()
    (shipped / "standard.toml").write_text('rate = 170\n[says]\n"R" = "right"', encoding="utf-8")
    voice = own_voice("anna", (shipped, own))
    assert (voice.engine, voice.rate, voice.spoken("touch R")) == ("recorded", 170, "touch right")
    assert not own.exists()
    for _ in range(2):
        keep_own_voice(voice)
    read = find_voice("anna", (shipped, own))
    assert (read.engine, read.otherwise, read.rate, read.recordings) == ("recorded", "standard", 170, own / "anna")
    assert read.spoken("touch R") == "touch right"
    assert recorded_files(read) == ()
    file = keep_words(own / "anna", "walk", tone(0.1, RATE).samples)
    assert recorded_files(own_voice("anna", (shipped, own))) == (file,)


@pytest.mark.parametrize("name", ["", "Anna", "an/na", "..", "a b", "-a", "a" * 41])
def test_a_name_that_is_no_file_name_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(NoOwnVoice, match="small letters"):
        own_voice(name, (tmp_path,))


def test_a_name_that_another_voice_has_is_refused(tmp_path: Path) -> None:
    (tmp_path / "hill.toml").write_text("", encoding="utf-8")
    (tmp_path / "dale.toml").write_text("rate = 1", encoding="utf-8")
    with pytest.raises(NoOwnVoice, match="already"):
        own_voice("hill", (tmp_path,))
    with pytest.raises(NoOwnVoice, match=r"dale\.toml, line 1"):
        own_voice("dale", (tmp_path,))
