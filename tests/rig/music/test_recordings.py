"""Recordings as teachers have them: read whatever their kind, refused in one sentence, slowed down with every count
in its place."""

from __future__ import annotations

import io
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import soundfile
import soxr

from caller.rig.music.decode import NoMusic
from caller.rig.music.stretch import stretched
from caller.rig.music.workshop import GivenUp, Recorded, Workshop
from caller.sound.loudness import MUSIC_LUFS, loudness
from caller.sound.score import RATE, Samples
from tests.fakes.recordings import decoded
from tests.fakes.songs import click_song, tune

TEMPO, FIRST = 104, 0.5


def write(path: Path, samples: Samples, rate: int = RATE) -> Path:
    soundfile.write(path, samples, rate)
    return path


def click_times(samples: Samples, around: list[float]) -> list[float]:
    """In seconds: where the sound sets in near each place. A click that is stretched is smeared on both sides, so it is
    known by the middle of its energy's rise."""
    found = []
    for place in around:
        start = round((place - 0.03) * RATE)
        energy = np.convolve(samples[start : start + round(0.06 * RATE)] ** 2, np.ones(48) / 48, "same")
        found.append((start + int(np.argmax(energy > energy.max() / 2))) / RATE)
    return found


@pytest.mark.parametrize(
    ("suffix", "rate"), [("wav", 48_000), ("wav", 44_100), ("flac", 44_100), ("ogg", 48_000), ("mp3", 44_100)]
)
def test_every_kind_is_read_to_the_same_clicks(tmp_path: Path, suffix: str, rate: int) -> None:
    length, apart = 20 * rate, Fraction(60 * rate, TEMPO)
    sound = np.zeros(length, np.float32)
    time = np.arange(rate // 25) / rate
    for n in range(30):
        at = round(FIRST * rate + n * apart)
        sound[at : at + len(time)] += (0.6 * np.exp(-time * 150) * np.cos(2 * np.pi * 1_200 * time)).astype(np.float32)
    samples = decoded(write(tmp_path / f"song.{suffix}", np.stack([sound, sound], axis=1), rate))[:, 0]
    assert samples.dtype == np.float32
    assert len(samples) == pytest.approx(20 * RATE, abs=1)
    expected = [FIRST + 60 * n / TEMPO for n in range(30)]
    np.testing.assert_allclose(click_times(samples, expected), expected, atol=0.001)


SECONDS = Fraction(210)  # 3:30


@pytest.mark.parametrize(
    # 3:30 at 0.9 and 0.7 of its speed: arithmetic.
    ("speed", "lasts"),
    [("9/10", 233.3), ("7/10", 300.0)],
)
def test_slowed_down_a_song_lasts_as_long_as_it_should(speed: str, lasts: float) -> None:
    heard = stretched(np.zeros(int(SECONDS * RATE), np.float32), Fraction(speed))
    assert len(heard) / RATE == pytest.approx(lasts, abs=0.05)
    assert abs(len(heard) - SECONDS * RATE / Fraction(speed)) <= 1


@pytest.mark.parametrize("speed", [Fraction(3, 4), Fraction(4, 5), Fraction(1), Fraction(5, 4)])
def test_slowed_down_every_click_is_within_a_millisecond_of_its_count(speed: Fraction) -> None:
    heard = stretched(click_song(TEMPO, 40, FIRST), speed)
    expected = [(FIRST + 60 * n / TEMPO) / float(speed) for n in range(60)]
    off = np.array(click_times(heard, expected)) - expected
    assert np.abs(off).max() <= 0.001
    assert abs(off[-20:].mean() - off[:20].mean()) < 0.0003  # and none drifts


def test_slowed_down_the_pitch_is_kept() -> None:
    tone = (0.3 * np.sin(2 * np.pi * 440 * np.arange(5 * RATE) / RATE)).astype(np.float32)
    heard = stretched(tone, Fraction(3, 4))[RATE : 5 * RATE]
    spectrum = np.abs(np.fft.rfft(heard * np.hanning(len(heard))))
    assert np.argmax(spectrum) * RATE / len(heard) == pytest.approx(440, abs=1)


BAD = {
    "a word.wav": b"this is no sound at all, but a line of text",
    "empty.flac": b"",
    "cut short.mp3": b"\xff\xfb\x90\x00" * 3,
}


@pytest.mark.parametrize("name", sorted(BAD))
def test_what_is_no_music_is_told_in_one_sentence(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(BAD[name])
    with pytest.raises(NoMusic, match=r"save it (as|anew)|lasts 0\.0 s") as told:
        decoded(tmp_path / name)
    assert str(tmp_path / name) in str(told.value)
    assert "\n" not in str(told.value)


def lasting(samples: Samples, cut: float) -> bytes:
    """A FLAC file, of which the rest is missing."""
    whole = io.BytesIO()
    soundfile.write(whole, samples, RATE, format="FLAC")
    return whole.getvalue()[: round(cut * len(whole.getvalue()))]


def test_under_another_kinds_name_it_is_read(tmp_path: Path) -> None:
    (tmp_path / "song.mp3").write_bytes(lasting(click_song(TEMPO, 40, FIRST), 1))
    assert len(decoded(tmp_path / "song.mp3")) == 40 * RATE


@pytest.mark.parametrize("ffmpeg", [True, False])
def test_cut_short_it_is_told_and_not_danced_to(ffmpeg: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the ffmpeg program, if it is here, and without."""
    if not ffmpeg:
        monkeypatch.setattr("caller.rig.music.decode.program", lambda name: None)
    song = click_song(TEMPO, 40, FIRST)
    (tmp_path / "half.flac").write_bytes(lasting(song, 0.5))
    with pytest.raises(
        NoMusic, match=r"half\.flac breaks off: it says that it lasts 0:40, and 0:1\d of it is there; copy"
    ):
        decoded(tmp_path / "half.flac")
    (tmp_path / "head.flac").write_bytes(lasting(song, 1)[:60])
    with pytest.raises(NoMusic, match="save it"):
        decoded(tmp_path / "head.flac")


@pytest.mark.parametrize(
    ("kind", "written", "told"),
    [
        ("wav", "PCM_16", "lasts 0:40, and 0:19"),
        ("aiff", "PCM_16", "lasts 0:39, and 0:19"),
        ("mp3", "MPEG_LAYER_III", "lasts 0:40, and 0:20"),
        ("ogg", "VORBIS", "breaks off after 0:"),
        ("ogg", "OPUS", "breaks off after 0:"),
    ],
)
def test_of_each_kind_it_is_known_that_its_end_is_missing(kind: str, written: str, told: str, tmp_path: Path) -> None:
    path = tmp_path / f"song.{kind}"
    soundfile.write(path, click_song(TEMPO, 40, FIRST), RATE, subtype=written)
    assert len(decoded(path)) == pytest.approx(40 * RATE, abs=RATE // 10)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(NoMusic, match=told):
        decoded(path)


def test_a_length_left_open_says_nothing(tmp_path: Path) -> None:
    """As programs write it that don't know yet how much will come."""
    path = tmp_path / "piped.wav"
    soundfile.write(path, click_song(TEMPO, 20, FIRST), RATE, subtype="PCM_16")
    whole = bytearray(path.read_bytes())
    at = whole.index(b"data")
    whole[4:8] = whole[at + 4 : at + 8] = b"\xff" * 4
    path.write_bytes(whole)
    assert len(decoded(path)) == 20 * RATE


@pytest.mark.parametrize(("rate", "gain"), [(8_000, 1.0), (96_000, 1.0), (RATE, 0.003), (RATE, 30.0)])
def test_telephone_studio_very_quiet_and_clipped_recordings_are_read(tmp_path: Path, rate: int, gain: float) -> None:
    song = np.clip(gain * soxr.resample(click_song(TEMPO, 20, FIRST), RATE, rate), -1, 1)
    soundfile.write(tmp_path / "song.wav", song, rate)
    assert len(decoded(tmp_path / "song.wav")) == pytest.approx(20 * RATE, abs=RATE // 100)


@pytest.mark.parametrize(
    ("samples", "words"),
    [
        (np.zeros(20 * RATE, np.float32), "is silent"),
        (click_song(TEMPO, 4, FIRST), "lasts 4.0 s: name a whole song"),
        (np.full(20 * RATE, np.nan, np.float32), "holds numbers that are no sound"),
    ],
)
def test_what_can_not_be_danced_to_is_told(tmp_path: Path, samples: Samples, words: str) -> None:
    soundfile.write(tmp_path / "song.wav", samples, RATE, subtype="FLOAT")
    with pytest.raises(NoMusic, match=words):
        decoded(tmp_path / "song.wav")


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(NoMusic, match="there is no such file"):
        Workshop(tmp_path / "kept").read(tmp_path / "song.wav")


def song(folder: Path) -> tuple[Workshop, Recorded]:
    shop = Workshop(folder / "kept")
    return shop, shop.read(write(folder / "song.flac", tune(TEMPO, 15, FIRST)))


def test_a_recording_is_read_once_and_kept_as_loud_as_music_is_to_be(tmp_path: Path) -> None:
    shop, found = song(tmp_path)
    clip = shop.version(found, Fraction(1))
    assert found.seconds == 15
    assert loudness(clip.samples * np.float32(found.gain)) == pytest.approx(MUSIC_LUFS, abs=0.1)
    (tmp_path / "song.flac").rename(tmp_path / "another name.flac")
    before = sorted((tmp_path / "kept").iterdir())
    assert shop.read(tmp_path / "another name.flac") == found
    assert sorted((tmp_path / "kept").iterdir()) == before


def test_a_version_is_mapped_and_made_once(tmp_path: Path) -> None:
    shop, found = song(tmp_path)
    slow = shop.version(found, Fraction(4, 5))
    assert isinstance(slow.samples, np.memmap)
    assert slow.frames == 15 * RATE * 5 // 4
    path = Path(str(slow.samples.filename))
    made = path.stat().st_ino
    again = shop.version(found, Fraction(4, 5))
    assert (again.key, path.stat().st_ino) == (slow.key, made)
    assert again.key != shop.version(found, Fraction(1)).key


def test_what_is_not_wanted_any_more_is_given_up(tmp_path: Path) -> None:
    shop, found = song(tmp_path)
    with pytest.raises(GivenUp):
        shop.version(found, Fraction(1, 2), lambda: True)
    assert len(list((tmp_path / "kept").glob("*.npy"))) == 1


def test_beyond_what_can_be_listened_to_is_told(tmp_path: Path) -> None:
    shop, found = song(tmp_path)
    with pytest.raises(NoMusic, match="25%"):
        shop.version(found, Fraction(1, 4))


def test_a_damaged_version_is_thrown_away_and_told(tmp_path: Path) -> None:
    shop, found = song(tmp_path)
    path = Path(str(shop.version(found, Fraction(1)).samples.filename))
    path.write_bytes(b"\0" * 100)
    with pytest.raises(NoMusic, match="start again"):
        shop.version(found, Fraction(1))
    assert not path.exists()


def test_the_folder_is_kept_within_its_room(tmp_path: Path) -> None:
    shop, found = song(tmp_path)
    kept = [Path(str(shop.version(found, Fraction(n, 10)).samples.filename)) for n in (9, 8)]
    room = sum(path.stat().st_size for path in kept)
    Workshop(tmp_path / "kept", room).tidy()
    assert [path.exists() for path in kept] == [True, True]
    assert len(list((tmp_path / "kept").glob("*.npy"))) == 2
