"""Recordings: whole or not there, and what the renderer made is what is in them."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.sound.clicks import ACCENT, COUNT, count_track
from caller.sound.mix import CHANNELS, render
from caller.sound.score import RATE, Clip, Placement, Score
from caller.storage.made import note_made
from caller.takehome.recording import BLOCK_FRAMES, BY_FFMPEG, KINDS, RecordingFailed, check_path, record, sixteen_bits

TITLE = "Quarry Hall — née"
EXACT = [suffix for suffix, kind in KINDS.items() if kind.exact]
LOSSY = [suffix for suffix, kind in KINDS.items() if not kind.exact]


def a_score(seconds: float = 2.5) -> Score:
    """Clicks and a noise over them; its length is no whole number of blocks."""
    noise = np.random.default_rng(1).uniform(-0.3, 0.3, RATE // 2).astype(np.float32)
    frames = round(seconds * RATE) + 17
    clicks = count_track((n * RATE // 4, COUNT if n % 4 else ACCENT) for n in range(int(4 * seconds)))
    return Score((*clicks, Placement(RATE, Clip("noise", noise), 0.5, "call")), frames)


def read(path: Path) -> tuple[np.ndarray, int]:
    samples, rate = soundfile.read(path, dtype="float64", always_2d=True)
    return samples, rate


@pytest.mark.parametrize("suffix", KINDS)
def test_a_recording_is_as_long_as_its_score_and_bears_its_title(suffix: str, tmp_path: Path) -> None:
    score, path = a_score(), tmp_path / f"take{suffix}"
    assert record(score, path, title=TITLE) == score.frames / RATE
    with soundfile.SoundFile(path) as file:
        assert (file.frames, file.samplerate, file.channels) == (score.frames, RATE, CHANNELS)
        assert (file.format, file.title) == (KINDS[suffix].container, TITLE)


@pytest.mark.parametrize("suffix", EXACT)
def test_an_exact_kind_holds_the_renderers_samples_to_half_a_step(suffix: str, tmp_path: Path) -> None:
    score, path = a_score(), tmp_path / f"take{suffix}"
    assert score.frames % BLOCK_FRAMES
    record(score, path)
    samples, _ = read(path)
    rendered = render(score, 0, score.frames)
    assert np.abs(samples - rendered).max() <= 0.5 / 32_768
    np.testing.assert_array_equal(samples * 32_768, sixteen_bits(rendered))


@pytest.mark.parametrize("suffix", LOSSY)
def test_a_lossy_kind_sounds_the_same_on_the_same_frames(suffix: str, tmp_path: Path) -> None:
    # Clicks alone: noise is what such a coding rightly throws away.
    score = Score(count_track((n * RATE // 2, COUNT if n % 4 else ACCENT) for n in range(8)), 4 * RATE)
    record(score, tmp_path / f"take{suffix}")
    samples, rate = read(tmp_path / f"take{suffix}")
    rendered = render(score, 0, score.frames)[:, 0].astype(float)
    assert rate == RATE
    size = 2 * len(rendered)
    crossed = np.fft.irfft(np.fft.rfft(samples[:, 0], size) * np.fft.rfft(rendered, size).conj(), size)
    assert crossed.argmax() == 0, "frames late"
    error = samples[:, 0] - rendered
    assert 10 * np.log10((rendered**2).sum() / (error**2).sum()) > 15


@pytest.mark.parametrize("name", ["TAKE.WAV", "take one.Flac", "näve.ogg"])
def test_a_suffix_may_be_written_large_and_a_name_hold_anything(name: str, tmp_path: Path) -> None:
    record(a_score(0.1), tmp_path / name)
    assert soundfile.info(tmp_path / name).frames == a_score(0.1).frames


def test_a_recording_takes_the_place_of_an_older_one_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    path = tmp_path / "take.wav"
    record(a_score(0.2), path)
    record(a_score(0.1), path)
    assert soundfile.info(path).frames == a_score(0.1).frames
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes")
def test_a_recording_may_be_read_by_whoever_may_read_other_files_there(tmp_path: Path) -> None:
    (tmp_path / "plain").touch()
    record(a_score(0.1), tmp_path / "take.wav")
    assert (tmp_path / "take.wav").stat().st_mode == (tmp_path / "plain").stat().st_mode


@pytest.mark.parametrize(
    ("name", "told"), [("take.aiff", '"aiff"'), ("take", "nothing"), ("take.", "nothing"), (".wav", "nothing")]
)
def test_an_unknown_suffix_is_refused_with_those_there_are(name: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(RecordingFailed) as failed:
        record(a_score(0.1), tmp_path / name)
    assert str(failed.value).endswith(f"one of wav, flac, ogg, mp3, m4a; this says {told}.")
    assert not list(tmp_path.iterdir())


def test_a_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(RecordingFailed, match=r"there is no folder .*nowhere; make it first"):
        record(a_score(0.1), tmp_path / "nowhere" / "take.wav")


def test_a_folder_in_the_files_place_is_named(tmp_path: Path) -> None:
    (tmp_path / "take.wav").mkdir()
    with pytest.raises(RecordingFailed, match=r"take\.wav is a folder"):
        check_path(tmp_path / "take.wav")


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_named(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(RecordingFailed, match="nothing may be written in"):
        record(a_score(0.1), tmp_path / "take.wav")


def test_a_score_without_frames_is_no_recording(tmp_path: Path) -> None:
    with pytest.raises(RecordingFailed, match="nothing to record"):
        record(Score((), 0), tmp_path / "take.wav")


@contextmanager
def little_room(most_bytes: int) -> Iterator[None]:
    """Files may grow to no more than so many bytes: what a full disk does."""
    resource = pytest.importorskip("resource", reason="Windows has no such limits")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most_bytes, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize("suffix", KINDS)
@pytest.mark.parametrize("most_bytes", [0, 5_000])
def test_a_full_disk_is_told_and_the_older_recording_stays(suffix: str, most_bytes: int, tmp_path: Path) -> None:
    path = tmp_path / f"take{suffix}"
    path.write_bytes(b"older")
    note_made(path)
    with little_room(most_bytes), pytest.raises(RecordingFailed, match="can't be written: file too large"):
        record(a_score(), path)
    assert path.read_bytes() == b"older"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("lacking", [1, 100, 3_000])
@pytest.mark.parametrize("suffix", KINDS)
def test_a_disk_that_fills_up_at_the_very_end_is_told(suffix: str, lacking: int, tmp_path: Path) -> None:
    record(a_score(), tmp_path / f"whole{suffix}")
    room = (tmp_path / f"whole{suffix}").stat().st_size - lacking
    with little_room(room), pytest.raises(RecordingFailed, match="can't be written: file too large"):
        record(a_score(), tmp_path / f"take{suffix}")
    assert not (tmp_path / f"take{suffix}").exists()


def test_m4a_without_ffmpeg_says_what_is_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(RecordingFailed, match="m4a needs the ffmpeg program"):
        record(a_score(0.1), tmp_path / f"take{BY_FFMPEG}")


@pytest.mark.skipif(shutil.which("ffmpeg") is None, reason="needs the ffmpeg program")
def test_m4a_by_ffmpeg_is_as_long_as_its_score(tmp_path: Path) -> None:
    score, path = a_score(), tmp_path / f"take{BY_FFMPEG}"
    assert record(score, path, title=TITLE) == score.frames / RATE
    assert list(tmp_path.iterdir()) == [path]
    subprocess.run(["ffmpeg", "-v", "error", "-i", path, tmp_path / "heard.wav"], check=True)
    heard = soundfile.info(tmp_path / "heard.wav")
    assert heard.samplerate == RATE
    assert heard.frames == pytest.approx(score.frames, abs=1_100)  # AAC's blocks hold 1024


@pytest.mark.skipif(sys.platform == "win32", reason="a script as a program")
def test_an_ffmpeg_that_fails_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "ffmpeg"
    program.write_text("#!/bin/sh\nexit 1\n")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    (tmp_path / "kept").mkdir()
    with pytest.raises(RecordingFailed, match="ffmpeg can't make m4a"):
        record(a_score(0.1), tmp_path / "kept" / "take.m4a")
    assert not list((tmp_path / "kept").iterdir())


def test_sixteen_bits_are_the_nearest() -> None:
    steps = np.array([0.4, 0.6, -0.4, -0.6, 29_000.3], np.float32)
    assert sixteen_bits(steps / np.float32(32_768)).tolist() == [0, 1, 0, -1, 29_000]
