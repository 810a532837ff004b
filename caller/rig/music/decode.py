"""A recording, read: whatever kind of file it is, at ``RATE``.

Conventions: samples are float32, shape (n,) where there is one channel or both are the same, else (n, 2); of more than
two channels, all are mixed to one. WAV, FLAC, OGG and MP3 by soundfile; m4a and what else it doesn't know by the ffmpeg
program and pydub, where that is installed. All are imported when first needed, and in a child process only. What a file
says of its rate, channels and length is looked at before anything of it is read, and no more is read than that allows:
a few kilobytes may say that they hold hours. Another program is given a file by a whole path behind "file:", so that no
name can be taken for an option, and may open nothing but files.
"""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from caller.children.starting import program
from caller.outside import documents, numbers
from caller.sound.score import RATE, Samples

SHORTEST_SECONDS, LONGEST_SECONDS = 10, 20 * 60
SLOWEST_RATE, QUICKEST_RATE = 8_000, 192_000
MOST_CHANNELS = 8
# Of one channel: twenty minutes at 96 kHz, 460 MB while they are read.
MOST_FRAMES = LONGEST_SECONDS * 96_000
BLOCK_FRAMES = 1 << 18
PROBE_SECONDS = 20.0
UNREADABLE = "{} is damaged, or holds no music: save it anew as wav, flac, ogg or mp3."
# -60 dBFS: softer than the noise of any recording that can be danced to.
SILENT = 0.001


class NoMusic(Exception):
    """The file can't be danced to: one sentence on why, and what to do."""


def check_file(file: Path) -> None:
    """Raises NoMusic where there is none."""
    if not file.is_file():
        raise NoMusic(f"{file}: {'it is no plain file' if file.exists() else 'there is no such file'}.")
    if not file.stat().st_size:
        raise NoMusic(f"{file} is empty: copy or save it anew.")


def decoded(file: Path) -> Samples:
    """The sound of a file. Raises NoMusic."""
    check_file(file)
    samples, rate = _by_soundfile(file) or _by_ffmpeg(file)
    _check_length(file, len(samples) / rate)
    if not np.isfinite(samples).all():
        raise NoMusic(f"{file} is damaged: it holds numbers that are no sound.")
    if np.abs(samples).max() < SILENT:
        raise NoMusic(f"{file} is silent: name a recording that can be heard.")
    if rate == RATE:
        return samples
    import soxr

    return np.asarray(soxr.resample(samples, rate, RATE, quality="VHQ"), np.float32)


def check_told(file: Path, rate: float, channels: int, seconds: float) -> None:
    """Of what a file says that it holds. Raises NoMusic."""
    if not SLOWEST_RATE <= rate <= QUICKEST_RATE or not 1 <= channels <= MOST_CHANNELS:
        raise NoMusic(
            f"{file} says that it has {channels} channels at {rate / 1000:g} kHz, which no music has; save it "
            "as stereo at 44.1 or 48 kHz."
        )
    _check_length(file, seconds)
    if seconds * rate > MOST_FRAMES:
        raise NoMusic(f"{file} is too much to read at {rate / 1000:g} kHz: save it at 44.1 or 48 kHz.")


def _by_soundfile(file: Path) -> tuple[Samples, int] | None:
    """Samples and rate; None where it doesn't know the kind."""
    import soundfile

    try:
        with soundfile.SoundFile(str(file.resolve())) as source:
            check_told(file, source.samplerate, source.channels, source.frames / source.samplerate)
            kept = source.channels if source.channels <= 2 else 1
            samples = np.concatenate([*_blocks(source, file), np.zeros((0, kept), np.float32)])
            return one_if_alike(samples), int(source.samplerate)
    except (soundfile.LibsndfileError, RuntimeError):
        return None


def one_if_alike(samples: Samples) -> Samples:
    """Two channels that are the same, or one, shape (n, 1), as one; else as they are."""
    if (samples == samples[:, :1]).all():
        return np.ascontiguousarray(samples[:, 0])
    return samples


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


def _by_ffmpeg(file: Path) -> tuple[Samples, int]:
    ffmpeg, ffprobe = program("ffmpeg"), program("ffprobe")
    if ffmpeg is None or ffprobe is None:
        raise NoMusic(
            f"{file} is no wav, flac, ogg or mp3, or is damaged; save it as one of these, or install the ffmpeg "
            "program, which reads m4a and others."
        )
    from pydub import AudioSegment

    rate, channels = _probed(file, ffprobe)
    raw = _raw(ffmpeg, file, (LONGEST_SECONDS + 1) * rate * channels * 2)
    raw = raw[: len(raw) - len(raw) % (2 * channels)]
    if not raw:
        raise NoMusic(UNREADABLE.format(file))
    segment = AudioSegment(raw, sample_width=2, frame_rate=rate, channels=channels)
    segment = segment if channels <= 2 else segment.set_channels(1)
    samples: Samples = np.array(segment.get_array_of_samples(), np.float32) / np.float32(32_768)
    return one_if_alike(samples.reshape(-1, segment.channels)), rate


def _probed(file: Path, ffprobe: str) -> tuple[int, int]:
    """Rate and channels, once they and the length are known to be such as can be read. Raises NoMusic."""
    asked = ["-select_streams", "a:0", "-show_entries", "stream=sample_rate,channels,duration:format=duration"]
    command = [ffprobe, "-v", "error", *_only_files(file), *asked, "-of", "json"]
    try:
        told = subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, timeout=PROBE_SECONDS).stdout
        document = documents.json(told, dict[str, Any])
        stream = document["streams"][0]
        rate = numbers.whole(stream["sample_rate"], 1, 2**31, "a rate")
        channels = numbers.whole(stream["channels"], 1, 2**16, "channels")
        length = stream.get("duration") or document.get("format", {}).get("duration")
        # Where none is told, the limit on what is read holds alone.
        seconds = float(numbers.number(length, 0, 2**31)) if length is not None else float(SHORTEST_SECONDS)
    except (OSError, subprocess.TimeoutExpired, ValueError, LookupError, TypeError, AttributeError) as fault:
        raise NoMusic(UNREADABLE.format(file)) from fault
    check_told(file, rate, channels, seconds)
    return rate, channels


def _raw(ffmpeg: str, file: Path, most_bytes: int) -> bytes:
    """16-bit samples as they come, no more than that many bytes."""
    limits = ["-map", "0:a:0", "-t", str(LONGEST_SECONDS + 1), "-f", "s16le", "-acodec", "pcm_s16le", "pipe:1"]
    command = [ffmpeg, "-nostdin", "-v", "error", *_only_files(file), *limits]
    with subprocess.Popen(
        command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    ) as decoding:
        assert decoding.stdout is not None
        raw = decoding.stdout.read(most_bytes)
        decoding.kill()
    return raw


def _only_files(file: Path) -> list[str]:
    """The input as ffmpeg's words: the whole path, and nothing else to be opened than files (a playlist may name an
    address)."""
    return ["-protocol_whitelist", "file,pipe", "-i", f"file:{file.resolve()}"]


def _check_length(file: Path, seconds: float) -> None:
    if seconds < SHORTEST_SECONDS:
        raise NoMusic(f"{file} lasts {seconds:.1f} s: name a whole song, {SHORTEST_SECONDS} s at least.")
    if seconds > LONGEST_SECONDS:
        raise NoMusic(f"{file} lasts {seconds / 60:.0f} minutes: name one song, {LONGEST_SECONDS // 60} at most.")
