"""Recordings that say, or hold, more than any song: refused before anything of them is read, by their own process."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from caller.children.starting import environment, python
from caller.rig.music.decode import NoMusic
from caller.rig.music.workshop import Workshop
from caller.sound.score import RATE
from tests.fakes.recordings import decoded
from tests.fakes.songs import click_song

POSIX = pytest.mark.skipif(sys.platform == "win32", reason="the doubles of ffmpeg are shell scripts")


def peak_bytes(*words: str) -> tuple[int, bytes]:
    """What a child took in memory at most, and what it told."""
    measured = "import resource, subprocess, sys; subprocess.run(sys.argv[1:], stdin=subprocess.DEVNULL);"
    measured += "print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * 1024)"
    told = subprocess.run(
        [sys.executable, "-I", "-c", measured, *words], capture_output=True, env=environment(), timeout=120
    ).stdout.splitlines()
    return int(told[-1]), b"".join(told[:-1])


def test_one_channel_at_a_rate_that_no_music_has_is_told_as_one(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "slow.wav", np.ones(60_000, np.float32) / 2, 6_000)
    with pytest.raises(NoMusic, match=r"slow\.wav says that it has 1 channel at 6 kHz, which no music has; save it as"):
        decoded(tmp_path / "slow.wav")


@pytest.mark.skipif(sys.platform != "linux", reason="memory is measured as Linux tells it")
def test_8_channels_at_655_khz_are_refused_before_they_are_read(tmp_path: Path) -> None:
    """348 kB of FLAC, 1.4 GB in memory once."""
    path = tmp_path / "wide.flac"
    with soundfile.SoundFile(path, "w", 655_350, 8, "PCM_16") as file:
        for _ in range(60):
            file.write(np.zeros((655_350, 8), np.int16))
    assert path.stat().st_size < 1_000_000
    with pytest.raises(NoMusic, match=r"8 channels at 655.35 kHz"):
        decoded(path)
    peak, told = peak_bytes(*python("caller.rig.music.child", "read", str(path), str(tmp_path)))
    assert b"no music has" in told
    assert peak < 300_000_000


@pytest.mark.parametrize(("rate", "channels"), [(192_000, 2), (4_000, 1), (48_000, 9)])
def test_what_is_beyond_any_song_is_told(tmp_path: Path, rate: int, channels: int) -> None:
    """Twenty minutes at 192 kHz; a telephone; nine channels."""
    path = tmp_path / "song.flac" if channels < 9 else tmp_path / "song.wav"
    with soundfile.SoundFile(path, "w", rate, channels, "PCM_16") as file:
        for _ in range(1_200 if rate == 192_000 else 12):
            file.write(np.zeros((rate, channels), np.int16))
    with pytest.raises(NoMusic, match=r"no music has|too much to read"):
        decoded(path)


def test_a_head_that_tells_too_little_is_not_believed(tmp_path: Path) -> None:
    """The file goes on for longer than it says."""
    path = tmp_path / "song.flac"
    with soundfile.SoundFile(path, "w", 8_000, 1, "PCM_16") as file:
        file.write(np.zeros(8_000 * 1_300, np.int16))
    whole = bytearray(path.read_bytes())
    # STREAMINFO: 36 bits of total samples end the eight bytes from byte 18 of the file on (FLAC format, RFC 9639).
    told = int.from_bytes(whole[18:26], "big")
    whole[18:26] = (told >> 36 << 36 | 8_000 * 20).to_bytes(8, "big")
    path.write_bytes(whole)
    with pytest.raises(NoMusic):
        decoded(path)


@pytest.mark.skipif(sys.platform != "linux", reason="other systems don't hold to such a limit")
def test_what_takes_more_memory_than_a_song_may_is_told_in_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "song.wav"
    soundfile.write(path, click_song(104, 600, 0.5).astype(np.float32), RATE)
    monkeypatch.setattr("caller.rig.music.workshop.MEMORY_BYTES", 200_000_000)
    monkeypatch.setenv("OPENBLAS_NUM_THREADS", "1")
    with pytest.raises(NoMusic, match=r"not enough memory|ended by itself"):
        Workshop(tmp_path / "cache").read(path)


@pytest.mark.skipif(sys.platform != "linux", reason="memory is measured as Linux tells it")
def test_a_long_recording_takes_no_more_memory_than_a_short_one(tmp_path: Path) -> None:
    """Both channels differ, at another rate: 20 s, and six minutes, which come to 138 MB."""
    peaks = []
    for name, times in (("short", 1), ("long", 18)):
        with soundfile.SoundFile(tmp_path / f"{name}.wav", "w", 44_100, 2, "PCM_16") as file:
            one = click_song(104, 20, 0.5)[: 20 * 44_100]
            for _ in range(times):
                file.write(np.stack([one, 0.5 * one], 1))
        words = ["read", str(tmp_path / f"{name}.wav"), str(tmp_path)]
        peak, told = peak_bytes(*python("caller.rig.music.child", *words))
        assert b"recorded" in told
        peaks.append(peak)
    assert peaks[1] < peaks[0] + 30_000_000


# -- files that another program reads


PROBE = """#!{python}
import json, os, sys
open({asked!r}, "a").write(json.dumps(sys.argv[1:]) + "\\n")
print(json.dumps({told}))
"""
DECODE = """#!{python}
import json, sys
open({asked!r}, "a").write(json.dumps(sys.argv[1:]) + "\\n")
sys.stdout.buffer.write((b"\\x00\\x10\\x00\\xf0" * 24_000) * {seconds})
"""


@pytest.fixture
def ffmpeg(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Path]:
    """Doubles of ffmpeg and ffprobe that note what they are asked; returns where."""
    folder, asked = tmp_path / "bin", tmp_path / "asked"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))

    def made(seconds: int = 20, **told: object) -> Path:
        stream = {"sample_rate": "48000", "channels": 1, "duration": "20.0", **told}
        document = {"streams": [stream], "format": {}}
        for name, script in (("ffprobe", PROBE), ("ffmpeg", DECODE)):
            text = script.format(python=sys.executable, asked=str(asked), told=repr(document), seconds=seconds)
            (folder / name).write_text(text)
            (folder / name).chmod(0o755)
        return asked

    return made


@POSIX
@pytest.mark.parametrize(
    "told",
    [{"duration": "36000.0"}, {"channels": 64}, {"sample_rate": "655350"}, {"sample_rate": "9" * 5000},
     {"duration": "1e99999999"}, {"channels": "-1"}, {"sample_rate": None}],
    ids=str,
)  # fmt: skip
def test_ten_hours_of_alac_are_refused_before_they_are_decoded(
    tmp_path: Path, ffmpeg: Callable[..., Path], told: dict[str, object]
) -> None:
    """1.6 MB of it once filled the memory."""
    asked = ffmpeg(**told)
    path = tmp_path / "song.m4a"
    path.write_bytes(b"no kind that soundfile knows")
    with pytest.raises(NoMusic):
        decoded(path)
    assert len(asked.read_text().splitlines()) == 1  # ffprobe; ffmpeg never


@POSIX
def test_no_more_is_taken_than_may_be_however_much_comes(tmp_path: Path, ffmpeg: Callable[..., Path]) -> None:
    ffmpeg(seconds=5_000, duration=None)
    path = tmp_path / "song.m4a"
    path.write_bytes(b"no kind that soundfile knows")
    began = time.perf_counter()
    with pytest.raises(NoMusic, match="20 minutes"):
        decoded(path)
    assert time.perf_counter() - began < 20


@POSIX
@pytest.mark.parametrize("name", ["-i.m4a", "--help.m4a", "-vn", "http:x.m4a", "concat:a|b.m4a", "naïve '\" 🙂.m4a"])
def test_no_file_name_reaches_an_option_of_another_program(
    tmp_path: Path, ffmpeg: Callable[..., Path], name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = ffmpeg()
    (tmp_path / name).write_bytes(b"no kind that soundfile knows")
    monkeypatch.chdir(tmp_path)
    assert len(decoded(Path(name))) == 20 * RATE
    for line in asked.read_text().splitlines():
        words = json.loads(line)
        assert words[words.index("-i") + 1] == f"file:{tmp_path.resolve() / name}"
        assert words[words.index("-protocol_whitelist") + 1] == "file,pipe"
        assert name not in words


@POSIX
def test_the_same_of_wav_under_such_a_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    soundfile.write(tmp_path / "song.wav", click_song(104, 20, 0.5).astype(np.float32), RATE)
    os.rename(tmp_path / "song.wav", tmp_path / "-o.wav")
    assert Workshop(tmp_path / "cache").read(Path("-o.wav")).seconds == pytest.approx(20, abs=0.1)


@pytest.mark.parametrize("make", [lambda path: os.mkfifo(path), lambda path: path.symlink_to("/dev/zero"), Path.mkdir])
@POSIX
def test_what_is_no_file_is_told_and_not_waited_on(tmp_path: Path, make: Callable[[Path], object]) -> None:
    make(tmp_path / "song.wav")
    with pytest.raises(NoMusic, match="no plain file"):
        Workshop(tmp_path / "cache").read(tmp_path / "song.wav")
