"""A score as a sound file: rendered in blocks, written to the end or not at all.

Conventions: the kind of file by its suffix; stereo, at the score's rate. WAV and FLAC hold the renderer's own samples
in 16 bits, the other kinds what a listener hears of them. A file is written beside its place and moved there when it is
whole, so that nobody meets half of one, and what was there before stays until then. soundfile and pydub are imported
when first needed; the second, and the ffmpeg program, for m4a alone.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
import numpy.typing as npt

from caller.children.starting import program
from caller.sound.mix import CHANNELS, render
from caller.sound.reel import Tape
from caller.sound.score import Samples, Score
from caller.storage.made import NotOurs, why_kept, write_made

BLOCK_FRAMES = 48_000
FULL_SCALE_16 = 32_768


class RecordingFailed(Exception):
    """Nothing was written: one sentence on why, and what to do."""


@dataclass(frozen=True, slots=True)
class SoundFormat:
    """A kind of file, in libsndfile's words. exact: holds 16-bit samples as they are."""

    container: str
    coding: str
    exact: bool


WAV = SoundFormat("WAV", "PCM_16", exact=True)
KINDS = {
    ".wav": WAV,
    ".flac": SoundFormat("FLAC", "PCM_16", exact=True),
    ".ogg": SoundFormat("OGG", "VORBIS", exact=False),
    ".mp3": SoundFormat("MP3", "MPEG_LAYER_III", exact=False),
}
# Written as WAV, then turned into this by pydub and ffmpeg.
BY_FFMPEG = ".m4a"
_FFMPEG_WORDS = {"format": "ipod", "codec": "aac", "bitrate": "160k"}


def check_path(path: Path, over: bool = False) -> None:
    """Raises RecordingFailed for a path that nothing can be recorded to, as far as can be told beforehand."""
    suffix = path.suffix.lower()
    if suffix not in (*KINDS, BY_FFMPEG):
        known = ", ".join(kind.removeprefix(".") for kind in (*KINDS, BY_FFMPEG))
        met = f'"{suffix.removeprefix(".")}"' if suffix else "nothing"
        raise RecordingFailed(f"{path}: the suffix says the kind of recording, one of {known}; this says {met}.")
    if path.is_dir():
        raise RecordingFailed(f"{path} is a folder; name the file to record to.")
    if (why := why_kept(path)) and not (over and path.is_file()):
        raise RecordingFailed(f"{path} is left as it is: {why}; --over overwrites it, another name keeps both.")
    if not path.parent.is_dir():
        raise RecordingFailed(f"{path}: there is no folder {path.parent}; make it first.")
    if not os.access(path.parent, os.W_OK):
        raise RecordingFailed(f"{path}: nothing may be written in {path.parent}; choose another folder.")
    if suffix == BY_FFMPEG and program("ffmpeg") is None:
        raise RecordingFailed(f"{path}: m4a needs the ffmpeg program, which isn't here; install it, or record mp3.")


def record(
    sound: Score | Tape,
    path: Path,
    *,
    title: str = "",
    channels: int = CHANNELS,
    finish: Callable[[Path], None] | None = None,
    over: bool = False,
) -> float:
    """Write a score, or several in turn, to a file; returns its length in seconds. over: in place of any other that is
    there; else only of one that this program made and nobody has changed.

    title: kept in the file. channels: 2, or 1 for a file of half the size (where there is no music both are the same
    anyhow). finish: what is still to be done to the whole file before it takes its place, such as tags; may raise
    OSError. Waits until it is written, which takes a thousandth of its length for WAV and a fortieth for MP3. Raises
    RecordingFailed; what was at ``path`` before is then still there.
    """
    check_path(path, over)
    if sound.frames <= 0:
        raise RecordingFailed(f"{path}: there is nothing to record.")

    def write(part: Path) -> None:
        _write_kind(sound, part, title, channels)
        if finish is not None:
            finish(part)

    try:
        write_made(path.resolve(), write, over=over)
    except NotOurs as fault:
        raise RecordingFailed(f"{fault}.") from fault
    except OSError as fault:
        raise RecordingFailed(f"{path} can't be written: {(fault.strerror or str(fault)).lower()}.") from fault
    return sound.frames / sound.rate


def _write_kind(sound: Score | Tape, part: Path, title: str, channels: int) -> None:
    """The whole recording, by its suffix, in a folder of its own. Raises OSError."""
    suffix = part.suffix.lower()
    if suffix != BY_FFMPEG:
        _write(sound, part, KINDS[suffix], title, channels)
        return
    plain = part.with_name("plain.wav")
    _write(sound, plain, WAV, title, channels)
    _turn_by_ffmpeg(plain, part, title)


def _write(sound: Score | Tape, part: Path, kind: SoundFormat, title: str, channels: int) -> None:
    import soundfile

    with part.open("wb") as bytes_file:
        kept = _FaultKept(bytes_file)
        try:
            with soundfile.SoundFile(kept, "w", sound.rate, channels, kind.coding, format=kind.container) as file:
                if title:
                    file.title = title
                for block in _blocks(sound, channels):
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


def _blocks(sound: Score | Tape, channels: int) -> Iterator[Samples]:
    block = sound.block if isinstance(sound, Tape) else partial(render, sound)
    for first in range(0, sound.frames, BLOCK_FRAMES):
        yield block(first, min(first + BLOCK_FRAMES, sound.frames))[:, :channels]


def _turn_by_ffmpeg(plain: Path, part: Path, title: str) -> None:
    from pydub import AudioSegment
    from pydub.exceptions import CouldntEncodeError

    AudioSegment.converter = program("ffmpeg")  # its own search would begin in the working folder on some systems
    words: dict[str, Any] = {**_FFMPEG_WORDS, "tags": {"title": title}} if title else dict(_FFMPEG_WORDS)
    try:
        AudioSegment.from_wav(str(plain)).export(str(part), **words).close()
    except CouldntEncodeError as fault:
        raise OSError("ffmpeg can't make m4a of it; record mp3 instead") from fault
