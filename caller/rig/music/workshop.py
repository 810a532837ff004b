"""Recordings and their versions, made once and kept in the user's cache folder.

Conventions: a recording is known by the digest of its samples as decoded (two decoders may differ by 50 ms), a file by
the digest of its bytes. Everything here may wait for seconds: call it from a thread of its own. Versions are mapped,
not read: a song takes 40 MB, which the player's process maps too.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from collections.abc import Callable
from dataclasses import asdict, dataclass
from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.children.once import GivenUp, TooLong, never, run
from caller.children.starting import python
from caller.outside import documents
from caller.rig.music.decode import NoMusic
from caller.sound.score import Clip
from caller.storage.whole import write_text

__all__ = ["GivenUp", "Recorded", "Workshop", "never"]

# Raised whenever reading or stretching changes: what was kept before is then made anew.
FORMAT = 1
ROOM_BYTES = 2 * 1024**3
# Beyond these music is a blur, or a scurry.
SLOWEST, QUICKEST = Fraction(2, 5), Fraction(2)
READ_SECONDS, STRETCH_SECONDS = 120.0, 300.0
_PIECE_BYTES = 1 << 20
# Far more than any song takes to be read (20 minutes at 96 kHz: 1 GB) or slowed down; a machine with many cores sets
# aside address space for each.
MEMORY_BYTES = 6 << 30
# So that the loudspeaker's process comes first on a machine with few cores.
NICENESS = 10
# A song of 20 minutes at 96 kHz in 24 bits has 700 MB.
MOST_FILE_BYTES = 1 << 30


@dataclass(frozen=True, slots=True)
class Recorded:
    """A recording as read. digest: of its samples. gain: the factor that it is played with; loudest_lufs: with it."""

    digest: str
    gain: float
    loudest_lufs: float
    seconds: float


class Workshop:
    """folder: made when first needed."""

    def __init__(self, folder: Path, room_bytes: int = ROOM_BYTES) -> None:
        self._folder, self._room_bytes = folder, room_bytes

    def read(self, file: Path, given_up: Callable[[], bool] = never) -> Recorded:
        """A file's recording. Raises NoMusic, GivenUp."""
        told = self._folder / f"{_digest(file)}.{FORMAT}.json"
        with contextlib.suppress(OSError, documents.Unreadable):
            kept = documents.json(documents.read_bytes(told), Recorded)
            if self._path(kept, Fraction(1)).exists():
                return kept
        recorded = _done(["read", str(file.resolve()), str(self._folder.resolve())], READ_SECONDS, given_up).recorded
        if recorded is None:
            raise NoMusic(f"{file} was read, but nothing was told of it; try again")
        with contextlib.suppress(OSError):
            write_text(told, json.dumps(asdict(recorded)), private=True)
        return recorded

    def version(self, recorded: Recorded, speed: Fraction, given_up: Callable[[], bool] = never) -> Clip:
        """A recording ``speed`` times as fast, in memory as far as there is room. Raises NoMusic, GivenUp."""
        if not SLOWEST <= speed <= QUICKEST:
            raise NoMusic(f"music can't be danced to at {float(speed):.0%} of its speed")
        path = self._path(recorded, speed)
        if not path.exists():
            source = self._path(recorded, Fraction(1))
            _done(["stretch", str(source), str(speed), str(path)], STRETCH_SECONDS, given_up)
        try:
            _warm(path)
            os.utime(path)  # what was used last is thrown away last
            samples = np.load(path, mmap_mode="r")
        except (OSError, ValueError) as fault:
            path.unlink(missing_ok=True)
            raise NoMusic(f"what was kept of the music is damaged ({path}); start again and it is made anew") from fault
        return Clip(f"music {path.stem}", samples)

    def tidy(self) -> None:
        """Throws away the versions used least lately until the rest fits the room."""
        room = self._room_bytes
        with contextlib.suppress(OSError):
            for path in sorted(self._folder.glob("*.npy"), key=lambda path: path.stat().st_mtime, reverse=True):
                room -= path.stat().st_size
                if room < 0:
                    path.unlink()

    def _path(self, recorded: Recorded, speed: Fraction) -> Path:
        tail = "" if speed == 1 else f"-{speed.numerator}-{speed.denominator}-{FORMAT}"
        return self._folder / f"{recorded.digest}{tail}.npy"


def _digest(file: Path) -> str:
    try:
        if not file.is_file():
            raise NoMusic(f"{file}: there is no such file.")
        if file.stat().st_size > MOST_FILE_BYTES:
            raise NoMusic(f"{file} is too large to be one song: save it at 44.1 or 48 kHz.")
        with file.open("rb") as source:
            return hashlib.file_digest(source, "sha256").hexdigest()[:40]
    except OSError as fault:
        raise NoMusic(f"{file} can't be read ({fault.strerror}).") from fault


def _warm(path: Path) -> None:
    """Reads a file through, so that the player, which maps it, doesn't wait for the disk in the middle of a block."""
    piece = bytearray(_PIECE_BYTES)
    with path.open("rb", buffering=0) as file:
        while file.readinto(piece):
            pass


def _done(words: list[str], limit_seconds: float, given_up: Callable[[], bool]) -> _Told:
    """What a child has made. Raises NoMusic, GivenUp."""
    command = python("caller.rig.music.child", *words, memory_bytes=MEMORY_BYTES, nice=NICENESS, ends_with_stdin=True)
    try:
        ended = run(command, limit_seconds, given_up)
        told = documents.json(ended.last, _Told)
    except TooLong as fault:
        raise NoMusic(f"the music isn't ready after {limit_seconds:.0f} s; name a shorter recording") from fault
    except documents.Unreadable as fault:
        raise NoMusic(f"reading the music ended by itself (exit {ended.status}); try another kind of file") from fault
    if told.fault:
        raise NoMusic(told.fault)
    return told


@dataclass(frozen=True, slots=True)
class _Told:
    """What a child prints."""

    fault: str = ""
    recorded: Recorded | None = None
