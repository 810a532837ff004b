"""A recording, read: whatever kind of file it is, at ``RATE``.

Conventions: samples are float32, shape (n,) where there is one channel or all are the same, else (n, 2): of more than
two channels, all mixed to both. WAV, FLAC, OGG and MP3 by soundfile; m4a and what else it doesn't know by
pydub and the ffmpeg program, where that is installed. All are imported when first needed, and in a child process only.
"""

from __future__ import annotations

from pathlib import Path
from shutil import which

import numpy as np

from caller.sound.score import RATE, Samples

SHORTEST_SECONDS, LONGEST_SECONDS = 10, 20 * 60
# -60 dBFS: softer than the noise of any recording that can be danced to.
SILENT = 0.001


class NoMusic(Exception):
    """The file can't be danced to: one sentence on why, and what to do."""


def decoded(file: Path) -> Samples:
    """The sound of a file. Raises NoMusic."""
    if not file.is_file():
        raise NoMusic(f"{file}: there is no such file.")
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


def _by_soundfile(file: Path) -> tuple[Samples, int] | None:
    """Samples and rate; None where it doesn't know the kind."""
    import soundfile

    try:
        with soundfile.SoundFile(str(file)) as source:
            _check_length(file, source.frames / source.samplerate)
            samples = source.read(dtype="float32", always_2d=True)
            return two_at_most(samples), int(source.samplerate)
    except (soundfile.LibsndfileError, RuntimeError):
        return None


def _by_ffmpeg(file: Path) -> tuple[Samples, int]:
    if which("ffmpeg") is None:
        raise NoMusic(
            f"{file} is no wav, flac, ogg or mp3, or is damaged; save it as one of these, or install the ffmpeg "
            "program, which reads m4a and others."
        )
    from pydub import AudioSegment
    from pydub.exceptions import CouldntDecodeError

    try:
        segment = AudioSegment.from_file(str(file)).set_sample_width(2)
    except (CouldntDecodeError, OSError, IndexError) as fault:
        raise NoMusic(f"{file} can't be read as music: save it as wav, flac, ogg or mp3.") from fault
    samples: Samples = np.array(segment.get_array_of_samples(), np.float32) / np.float32(32_768)
    return two_at_most(samples.reshape(-1, segment.channels)), int(segment.frame_rate)


def two_at_most(samples: Samples) -> Samples:
    """Channels of a recording, shape (n, channels), as they are kept."""
    if samples.shape[1] == 1 or (samples == samples[:, :1]).all():
        return np.ascontiguousarray(samples[:, 0])
    return samples if samples.shape[1] == 2 else np.ascontiguousarray(samples.mean(axis=1, dtype=np.float32))


def _check_length(file: Path, seconds: float) -> None:
    if seconds < SHORTEST_SECONDS:
        raise NoMusic(f"{file} lasts {seconds:.1f} s: name a whole song, {SHORTEST_SECONDS} s at least.")
    if seconds > LONGEST_SECONDS:
        raise NoMusic(f"{file} lasts {seconds / 60:.0f} minutes: name one song, {LONGEST_SECONDS // 60} at most.")
