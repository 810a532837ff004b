"""What a synthesiser wrote, read back: known by its first bytes, never by its name.

Conventions: samples are float32, mono, shape (n,), in -1..1, at the file's own rate. soundfile is imported when first
needed.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from caller.sound.score import Samples

# RIFF (WAVE) from espeak and Windows, FORM (AIFF or AIFF-C) from macOS, which writes it whatever the suffix.
_MAGIC = {b"RIFF": b"WAVE", b"FORM": b"AIF"}


# A minute of eight channels at 48 kHz: a phrase is a second or two.
MOST_SAMPLES = 60 * 48_000 * 8


class NoRecording(Exception):
    """The file holds no sound: one phrase on why."""


@dataclass(frozen=True, eq=False, slots=True)
class Recording:
    """samples: shape (n,), mono. rate: frames a second."""

    samples: Samples = field(repr=False)
    rate: int


def read_recording(file: Path) -> Recording:
    """The sound in a WAVE or AIFF file, several channels mixed to one. Raises NoRecording where there is none."""
    import soundfile

    _know(file)
    try:
        with soundfile.SoundFile(str(file)) as source:
            rate = source.samplerate
            if source.frames * source.channels > MOST_SAMPLES:
                raise NoRecording("far more sound than a phrase has")
            samples = source.read(MOST_SAMPLES // source.channels, dtype="float32", always_2d=True)
    except (soundfile.LibsndfileError, RuntimeError) as fault:
        raise NoRecording(f"a damaged sound file ({fault})") from fault
    if not len(samples):
        raise NoRecording("an empty sound file")
    return Recording(samples.mean(axis=1), int(rate))


def _know(file: Path) -> None:
    try:
        with file.open("rb") as start:
            head = start.read(12)
    except OSError as fault:
        raise NoRecording("no sound file") from fault
    if not head:
        raise NoRecording("an empty sound file")
    if head[:4] not in _MAGIC or not head[8:].startswith(_MAGIC[head[:4]]):
        raise NoRecording("a file that is neither WAVE nor AIFF")
