"""A score as a sound file: rendered in blocks, written to the end or not at all.

Conventions: the kind of file by its suffix; stereo, at the score's rate. WAV and FLAC hold the renderer's own samples
in 16 bits, the other kinds what a listener hears of them. A file is written beside its place and moved there when it is
whole, so that nobody meets half of one, and what was there before stays until then. soundfile and pydub are imported
when first needed; the second, and the ffmpeg program, for m4a alone.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from shutil import which
from typing import Any, BinaryIO

import numpy as np
import numpy.typing as npt

from caller.sound.mix import CHANNELS, render
from caller.sound.score import Samples, Score

BLOCK_FRAMES = 48_000
FULL_SCALE_16 = 32_768


class RecordingFailed(Exception):
    """Nothing was written: one sentence on why, and what to do."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of file, in libsndfile's words. exact: holds 16-bit samples as they are."""

    container: str
    coding: str
    exact: bool


WAV = Kind("WAV", "PCM_16", exact=True)
KINDS = {
    ".wav": WAV,
    ".flac": Kind("FLAC", "PCM_16", exact=True),
    ".ogg": Kind("OGG", "VORBIS", exact=False),
    ".mp3": Kind("MP3", "MPEG_LAYER_III", exact=False),
}
# Written as WAV, then turned into this by pydub and ffmpeg.
BY_FFMPEG = ".m4a"
_FFMPEG_WORDS = {"format": "ipod", "codec": "aac", "bitrate": "160k"}


def check_path(path: Path) -> None:
    """Raises RecordingFailed for a path that nothing can be recorded to, as far as can be told beforehand."""
    suffix = path.suffix.lower()
    if suffix not in (*KINDS, BY_FFMPEG):
        known = ", ".join(kind.removeprefix(".") for kind in (*KINDS, BY_FFMPEG))
        met = f'"{suffix.removeprefix(".")}"' if suffix else "nothing"
        raise RecordingFailed(f"{path}: the suffix says the kind of recording, one of {known}; this says {met}.")
    if path.is_dir():
        raise RecordingFailed(f"{path} is a folder; name the file to record to.")
    if not path.parent.is_dir():
        raise RecordingFailed(f"{path}: there is no folder {path.parent}; make it first.")
    if not os.access(path.parent, os.W_OK):
        raise RecordingFailed(f"{path}: nothing may be written in {path.parent}; choose another folder.")
    if suffix == BY_FFMPEG and which("ffmpeg") is None:
        raise RecordingFailed(f"{path}: m4a needs the ffmpeg program, which isn't here; install it, or record mp3.")


def record(
    score: Score,
    path: Path,
    *,
    title: str = "",
    channels: int = CHANNELS,
    finish: Callable[[Path], None] | None = None,
) -> float:
    """Write a score to a file, in place of any other there; returns its length in seconds.

    title: kept in the file. channels: 2, or 1 for a file of half the size (both are the same anyhow). finish: what is
    still to be done to the whole file before it takes its place, such as tags; may raise OSError. Waits until it is
    written, which takes a thousandth of its length for WAV and a fortieth for MP3. Raises RecordingFailed; what was at
    ``path`` before is then still there.
    """
    check_path(path)
    if score.frames <= 0:
        raise RecordingFailed(f"{path}: there is nothing to record.")
    try:
        # A folder of its own rather than a file: mkstemp makes files that only their maker may read.
        with tempfile.TemporaryDirectory(prefix=".recording-", dir=path.parent, ignore_cleanup_errors=True) as folder:
            part = _written(score, Path(folder), path.suffix.lower(), title, channels)
            if finish is not None:
                finish(part)
            os.replace(part, path)
    except OSError as fault:
        raise RecordingFailed(f"{path} can't be written: {(fault.strerror or str(fault)).lower()}.") from fault
    return score.frames / score.rate


def _written(score: Score, folder: Path, suffix: str, title: str, channels: int) -> Path:
    """The whole recording in a passing folder. Raises OSError."""
    part = folder / f"whole{suffix}"
    if suffix != BY_FFMPEG:
        _write(score, part, KINDS[suffix], title, channels)
        return part
    plain = folder / "plain.wav"
    _write(score, plain, WAV, title, channels)
    _turn_by_ffmpeg(plain, part, title)
    return part


def _write(score: Score, part: Path, kind: Kind, title: str, channels: int) -> None:
    import soundfile

    with part.open("wb") as bytes_file:
        kept = _FaultKept(bytes_file)
        try:
            with soundfile.SoundFile(kept, "w", score.rate, channels, kind.coding, format=kind.container) as file:
                if title:
                    file.title = title
                for block in _blocks(score, channels):
                    file.write(sixteen_bits(block) if kind.exact else block)
        except (soundfile.SoundFileError, AssertionError) as fault:  # the second: fewer frames written than given
            raise kept.fault or OSError(str(fault)) from fault
        if kept.fault:
            raise kept.fault


class _FaultKept:
    """A file for libsndfile to write to. It passes on no exception and, when it closes a file, no failure at all; here
    the first is kept, to be raised afterwards."""

    def __init__(self, file: BinaryIO) -> None:
        self.fault: OSError | None = None
        self.tell = file.tell
        self._file = file

    def write(self, content: bytes) -> int:
        return self._tried(lambda: self._file.write(content))

    def seek(self, place: int, whence: int = os.SEEK_SET) -> int:
        return self._tried(lambda: self._file.seek(place, whence))

    def _tried(self, act: Callable[[], int]) -> int:
        try:
            return act()
        except OSError as fault:
            self.fault = self.fault or fault
            return 0


def sixteen_bits(samples: Samples) -> npt.NDArray[np.int16]:
    """The nearest 16-bit samples; what the renderer makes never reaches full scale."""
    steps: npt.NDArray[np.int16] = np.rint(samples * np.float32(FULL_SCALE_16)).astype(np.int16)
    return steps


def _blocks(score: Score, channels: int) -> Iterator[Samples]:
    for first in range(0, score.frames, BLOCK_FRAMES):
        yield render(score, first, min(first + BLOCK_FRAMES, score.frames))[:, :channels]


def _turn_by_ffmpeg(plain: Path, part: Path, title: str) -> None:
    from pydub import AudioSegment
    from pydub.exceptions import CouldntEncodeError

    words: dict[str, Any] = {**_FFMPEG_WORDS, "tags": {"title": title}} if title else dict(_FFMPEG_WORDS)
    try:
        AudioSegment.from_wav(str(plain)).export(str(part), **words).close()
    except CouldntEncodeError as fault:
        raise OSError("ffmpeg can't make m4a of it; record mp3 instead") from fault
