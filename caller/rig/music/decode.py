"""A recording, read: whatever kind of file it is, at ``RATE``.

Conventions: samples are float32, shape (n,) where there is one channel or both are the same, else (n, 2); of more than
two channels, all are mixed to one. WAV, FLAC, OGG and MP3 by soundfile; m4a and what else it doesn't know by the ffmpeg
program, where that is installed. All is read block by block, so that a long recording needs no more memory than a short
one. Libraries are imported when first needed, and in a child process only. What a file says of its rate, channels and
length is looked at before anything of it is read, and no more is read than that allows: a few kilobytes may say that
they hold hours. Another program is given a file by a whole path behind "file:", so that no
name can be taken for an option, and may open nothing but files.
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from math import isfinite
from pathlib import Path
from typing import Any, TypeVar

import numpy as np

from caller.children.starting import program
from caller.outside import documents, numbers
from caller.rig.music.cut import cut_off, missing
from caller.rig.music.kept import peak_of
from caller.sound.score import RATE, Samples

SHORTEST_SECONDS, LONGEST_SECONDS = 10, 20 * 60
SLOWEST_RATE, QUICKEST_RATE = 8_000, 192_000
MOST_CHANNELS = 8
# Twenty minutes at 96 kHz.
MOST_FRAMES = LONGEST_SECONDS * 96_000
BLOCK_FRAMES = 1 << 18
PROBE_SECONDS = 20.0
# Kinds of files, as ffprobe calls them, that say exactly how long they last.
EXACT_KINDS = ("flac", "mov,mp4,m4a")
UNREADABLE = "{} is damaged, or holds no music: save it anew as wav, flac, ogg or mp3."
# -60 dBFS: softer than the noise of any recording that can be danced to.
SILENT = 0.001
_Made = TypeVar("_Made")


class NoMusic(Exception):
    """The file can't be danced to: one sentence on why, and what to do."""


def check_file(file: Path) -> None:
    """Raises NoMusic where there is none."""
    if not file.is_file():
        raise NoMusic(f"{file}: {'it is no plain file' if file.exists() else 'there is no such file'}.")
    if not file.stat().st_size:
        raise NoMusic(f"{file} is empty: copy or save it anew.")


class _Unknown(Exception):
    """No kind of file that soundfile knows."""


def decoded(file: Path, take: Callable[[Iterator[Samples]], _Made]) -> _Made:
    """What ``take`` makes of the sound of a file, which comes in blocks of shape (n, 1) or (n, 2); it is called anew
    where another program has to read the file from the beginning. Raises NoMusic."""
    check_file(file)
    try:
        return take(_by_soundfile(file))
    except _Unknown:
        return take(_by_ffmpeg(file))


def _checked(file: Path, blocks: Iterator[Samples], rate: int) -> Iterator[Samples]:
    """At ``RATE``. Raises NoMusic, at the end too."""
    import soxr

    frames, peak, last, resampling = 0, 0.0, None, None
    for block in blocks:
        highest = peak_of(block)
        if not isfinite(highest):
            raise NoMusic(f"{file} is damaged: it holds numbers that are no sound.")
        frames, peak = frames + len(block), max(peak, highest)
        if rate == RATE:
            yield block
            continue
        resampling = resampling or soxr.ResampleStream(rate, RATE, block.shape[1], dtype="float32", quality="VHQ")
        yield resampling.resample_chunk(np.ascontiguousarray(block))
        last = block[:0]
    if resampling is not None and last is not None:
        yield resampling.resample_chunk(np.ascontiguousarray(last), last=True)
    _check_length(file, frames / rate)
    if peak < SILENT:
        raise NoMusic(f"{file} is silent: name a recording that can be heard.")


def check_told(file: Path, rate: float, channels: int, seconds: float) -> None:
    """Of what a file says that it holds. Raises NoMusic."""
    if not SLOWEST_RATE <= rate <= QUICKEST_RATE or not 1 <= channels <= MOST_CHANNELS:
        many = f"{channels} channel{'' if channels == 1 else 's'}"
        raise NoMusic(
            f"{file} says that it has {many} at {rate / 1000:g} kHz, which no music has; save it "
            "as stereo at 44.1 or 48 kHz."
        )
    _check_length(file, seconds)
    if seconds * rate > MOST_FRAMES:
        raise NoMusic(f"{file} is too much to read at {rate / 1000:g} kHz: save it at 44.1 or 48 kHz.")


def _by_soundfile(file: Path) -> Iterator[Samples]:
    """Raises _Unknown where it doesn't know the kind, or what is in it."""
    import soundfile

    try:
        with soundfile.SoundFile(str(file.resolve())) as source:
            check_told(file, source.samplerate, source.channels, source.frames / source.samplerate)
            yield from _checked(file, _blocks(source, file), int(source.samplerate))
            if fault := cut_off(file, source, source.tell()):
                raise NoMusic(fault)
    except (soundfile.LibsndfileError, RuntimeError) as fault:
        raise _Unknown from fault


def _blocks(source: Any, file: Path) -> Iterator[Samples]:
    """Block by block, more than two channels mixed; no more than there may be, whatever the file's head says."""
    from soundfile import LibsndfileError

    frames = 0
    try:
        for block in source.blocks(BLOCK_FRAMES, dtype="float32", always_2d=True):
            frames += len(block)
            check_told(file, source.samplerate, source.channels, max(frames / source.samplerate, SHORTEST_SECONDS))
            yield block if block.shape[1] <= 2 else block.mean(axis=1, keepdims=True)
    except LibsndfileError:
        if not frames or program("ffmpeg") is not None:  # which may get on beyond what is damaged
            raise


def _by_ffmpeg(file: Path) -> Iterator[Samples]:
    ffmpeg, ffprobe = program("ffmpeg"), program("ffprobe")
    if ffmpeg is None or ffprobe is None:
        raise NoMusic(
            f"{file} is no wav, flac, ogg or mp3, or is damaged; save it as one of these, or install the ffmpeg "
            "program, which reads m4a and others."
        )
    rate, channels, told = _probed(file, ffprobe)
    frames = 0
    for block in _checked(file, _heard(ffmpeg, file, rate, channels), rate):
        frames += len(block)
        yield block
    if told is not None and (fault := missing(file, frames / RATE, told)):
        raise NoMusic(fault)


def _heard(ffmpeg: str, file: Path, rate: int, channels: int) -> Iterator[Samples]:
    """As another program decodes it."""
    frames = 0
    for raw in _raw(ffmpeg, file, BLOCK_FRAMES * channels * 2, (LONGEST_SECONDS + 1) * rate * channels * 2):
        whole = np.frombuffer(raw[: len(raw) - len(raw) % (2 * channels)], "<i2").reshape(-1, channels)
        block = whole.astype(np.float32) / np.float32(32_768)
        frames += len(block)
        yield block if channels <= 2 else block.mean(axis=1, keepdims=True)
    if not frames:
        raise NoMusic(UNREADABLE.format(file))


def _probed(file: Path, ffprobe: str) -> tuple[int, int, float | None]:
    """Rate, channels, and how many seconds it says that it lasts where its kind says that exactly, once they are known
    to be such as can be read. Raises NoMusic."""
    entries = "stream=sample_rate,channels,duration:format=duration,format_name"
    asked = ["-select_streams", "a:0", "-show_entries", entries]
    command = [ffprobe, "-v", "error", *_only_files(file), *asked, "-of", "json"]
    try:
        told = subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, timeout=PROBE_SECONDS).stdout
        document = documents.json(told, dict[str, Any])
        stream = document["streams"][0]
        rate = numbers.whole(stream["sample_rate"], 1, 2**31, "a rate")
        channels = numbers.whole(stream["channels"], 1, 2**16, "channels")
        length = stream.get("duration") or document.get("format", {}).get("duration")
        exact = str(document.get("format", {}).get("format_name", "")).startswith(EXACT_KINDS)
        # Where none is told, the limit on what is read holds alone.
        seconds = float(numbers.number(length, 0, 2**31)) if length is not None else float(SHORTEST_SECONDS)
    except (OSError, subprocess.TimeoutExpired, ValueError, LookupError, TypeError, AttributeError) as fault:
        raise NoMusic(UNREADABLE.format(file)) from fault
    check_told(file, rate, channels, seconds)
    return rate, channels, seconds if exact and length is not None else None


def _raw(ffmpeg: str, file: Path, piece_bytes: int, most_bytes: int) -> Iterator[bytes]:
    """16-bit samples as they come, in pieces, no more than that many bytes."""
    limits = ["-map", "0:a:0", "-t", str(LONGEST_SECONDS + 1), "-f", "s16le", "-acodec", "pcm_s16le", "pipe:1"]
    command = [ffmpeg, "-nostdin", "-v", "error", *_only_files(file), *limits]
    with subprocess.Popen(
        command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as decoding:
        assert decoding.stdout is not None
        try:
            while most_bytes > 0 and (raw := decoding.stdout.read(min(piece_bytes, most_bytes))):
                most_bytes -= len(raw)
                yield raw
        finally:
            decoding.kill()


def _only_files(file: Path) -> list[str]:
    """The input as ffmpeg's words: the whole path, and nothing else to be opened than files (a playlist may name an
    address)."""
    return ["-protocol_whitelist", "file,pipe", "-i", f"file:{file.resolve()}"]


def _check_length(file: Path, seconds: float) -> None:
    if seconds < SHORTEST_SECONDS:
        raise NoMusic(f"{file} lasts {seconds:.1f} s: name a whole song, {SHORTEST_SECONDS} s at least.")
    if seconds > LONGEST_SECONDS:
        raise NoMusic(f"{file} lasts {seconds / 60:.0f} minutes: name one song, {LONGEST_SECONDS // 60} at most.")
