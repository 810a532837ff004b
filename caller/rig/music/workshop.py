"""Recordings and their versions, made once and kept in the user's cache folder.

Conventions: a recording is known by the digest of its samples as decoded (two decoders may differ by 50 ms), a file by
the digest of its bytes. Everything here may wait for seconds: call it from a thread of its own. Versions are mapped,
not read: a song takes 40 MB, stereo 80, which the player's process maps too.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from fractions import Fraction
from math import floor
from pathlib import Path

import numpy as np

from caller.children.once import GivenUp, TooLong, never, run
from caller.children.starting import python
from caller.clock.grid import Grid
from caller.outside import documents
from caller.rig.music.decode import NoMusic, check_file
from caller.sound.score import Clip
from caller.storage.whole import write_text

__all__ = ["GivenUp", "Recorded", "Workshop", "never"]

# Raised whenever reading, evening or stretching changes: what was kept before is then made anew.
FORMAT = 6
# Fewer are no music.
MIN_BEATS = 16
ROOM_BYTES = 2 * 1024**3
# Beyond these music is a blur, or a scurry.
SLOWEST, QUICKEST = Fraction(2, 5), Fraction(2)
# A second or so before the place that is danced, since a count-in goes back a bar.
EXCERPT, EXCERPT_BEFORE_SECONDS = "-from-", 4
# Of the processor: what takes more has gone astray (twenty minutes of music take half of it). By the clock it may take
# far longer, on a machine that has other things to do.
MOST_CPU_SECONDS, MOST_SECONDS = 300, 1800.0
_PIECE_BYTES = 1 << 20
# Far more than any song takes to be read or slowed down (some 400 MB); a machine with many cores sets aside address
# space for each.
MEMORY_BYTES = 6 << 30
# While a class goes on, so that the loudspeaker's process comes first on a machine with few cores. A machine that is
# busy all the same gives such work a fortieth of its time.
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


@dataclass(frozen=True, slots=True)
class Tracked:
    """See :class:`caller.sound.pulse.Pulse`."""

    grid: Grid
    clear: float
    on_beat: float
    speech: bool = False


@dataclass(frozen=True, slots=True)
class Again:
    """What was heard from an earlier start on comes again so many counts beside a start: alike there, and here at the
    start itself, -1 to 1."""

    by: int
    there: float
    here: float


@dataclass(frozen=True, slots=True)
class Phrases:
    """new: how much each count of a recording, from its count 1 on, begins something new, in spreads (see
    :func:`caller.sound.phrase.newness`). again: by start, all but the first (:func:`caller.sound.phrase.beside`)."""

    new: dict[int, float]
    again: dict[int, Again]


class Workshop:
    """folder: made when first needed. nice: how far its work stands back behind others', 0 where it is waited for."""

    def __init__(self, folder: Path, room_bytes: int = ROOM_BYTES, nice: int = 0) -> None:
        self._folder, self._room_bytes, self._nice = folder, room_bytes, nice

    def read(self, file: Path, given_up: Callable[[], bool] = never) -> Recorded:
        """A file's recording. Raises NoMusic, GivenUp."""
        told = self._folder / f"{_digest(file)}.{FORMAT}.json"
        with contextlib.suppress(OSError, documents.Unreadable):
            kept = documents.json(documents.read_bytes(told), Recorded)
            if self._path(kept, Fraction(1)).exists():
                return kept
        recorded = self._done(["read", str(file.resolve()), str(self._folder.resolve())], given_up).recorded
        if recorded is None:
            raise NoMusic(f"{file} was read, but nothing was told of it; try again")
        with contextlib.suppress(OSError):
            write_text(told, json.dumps(asdict(recorded)), private=True)
        return recorded

    def version(
        self,
        recorded: Recorded,
        speed: Fraction,
        given_up: Callable[[], bool] = never,
        *,
        hurry: bool = False,
        excerpt_at: Fraction | None = None,
    ) -> Clip:
        """A recording ``speed`` times as fast, in memory as far as there is room. hurry: its work stands back behind
        nobody's. excerpt_at: of it an excerpt at that time is there, or is being made. Raises NoMusic, GivenUp."""
        if not SLOWEST <= speed <= QUICKEST:
            raise NoMusic(f"music can't be danced to at {float(speed):.0%} of its speed")
        path = self._path(recorded, speed)
        if not path.exists():
            source = self._path(recorded, Fraction(1))
            words = ["stretch", str(source), str(speed), str(path)]
            if excerpt_at is not None:
                words += map(str, _excerpt(path, excerpt_at))
            self._done(words, given_up, hurry)
        return self._mapped(path)

    def excerpt(
        self, recorded: Recorded, speed: Fraction, at_seconds: Fraction, given_up: Callable[[], bool] = never
    ) -> Clip | None:
        """The half minute of a version that begins a little before a time of the recording, silent before and after it:
        made before the whole, and standing back behind nobody's work. None where the whole is there, or can't be
        made. Raises NoMusic, GivenUp."""
        path = self._path(recorded, speed)
        if path.exists() or not SLOWEST <= speed <= QUICKEST:
            return None
        seconds, path = _excerpt(path, at_seconds)
        if not path.exists():
            source = self._path(recorded, Fraction(1))
            self._done(["excerpt", str(source), str(speed), str(seconds), str(path)], given_up, hurry=True)
        return self._mapped(path)

    def _mapped(self, path: Path) -> Clip:
        try:
            _warm(path)
            os.utime(path)  # what was used last is thrown away last
            samples = np.load(path, mmap_mode="r")
        except (OSError, ValueError) as fault:
            path.unlink(missing_ok=True)
            raise NoMusic(f"what was kept of the music is damaged ({path}); start again and it is made anew") from fault
        return Clip(f"music {path.stem}", samples)

    def beats(
        self,
        recorded: Recorded,
        near_tempo: Fraction | None = None,
        near_first: float | None = None,
        meter: int = 4,
        intro: int | None = None,
        given_up: Callable[[], bool] = never,
    ) -> Tracked:
        """Where beats are found; see :func:`caller.sound.pulse.pulse_of`. Raises NoMusic, GivenUp."""
        words = ["" if near_tempo is None else str(float(near_tempo)), "" if near_first is None else str(near_first)]
        words += [str(meter), "" if intro is None else str(intro)]
        told = self._done(["beats", str(self._path(recorded, Fraction(1))), *words], given_up).found
        if told is None or len(told.beats) < MIN_BEATS:
            return Tracked(Grid(Fraction(60), Fraction(0)), 0.0, 0.0)
        tempo, first_seconds = Fraction(f"{told.tempo:.4f}"), Fraction(f"{told.first_seconds:.4f}")
        beats = tuple(Fraction(f"{at:.3f}") for at in told.beats)
        grid = Grid(tempo, first_seconds, beats, told.first, told.sure)
        if not told.even:
            grid = Grid.of_beats(beats, told.first, told.sure)
        return Tracked(grid, told.clear, told.on_beat, told.speech)

    def phrases(self, recorded: Recorded, grid: Grid, meter: int, starts: Sequence[int]) -> Phrases:
        """How its counts begin phrases. starts: counts at which the dance begins again. Raises NoMusic."""
        counts = range(int(grid.count_at(Fraction(str(round(recorded.seconds, 3))))))
        beats = self._folder / f"{recorded.digest}.beats.npy"
        np.save(beats, np.array([float(grid.seconds_of(Fraction(count))) for count in counts]))
        within = [start for start in starts if 0 <= start < len(counts)]
        words = [str(self._path(recorded, Fraction(1))), str(beats), str(meter), ",".join(map(str, within))]
        told = self._done(["newness", *words], never)
        again = {start: Again(*one) for start, one in zip(within[1:], told.beside, strict=True)}
        return Phrases(dict(zip(counts, told.newness, strict=True)), again)

    def evened(
        self, recorded: Recorded, grid: Grid, given_up: Callable[[], bool] = never, *, hurry: bool = False
    ) -> Recorded:
        """The recording with all its counts evenly apart, its count 1 where it was: itself, where they are so. Raises
        NoMusic, GivenUp."""
        if grid.even:
            return recorded
        times = np.array([float(at) for at in grid.beats])
        places = float(grid.first_seconds) + (np.arange(len(times)) - grid.first) * 60 / float(grid.tempo)
        # What would come before the beginning is left out.
        heard = places > 0
        told = np.stack([times[heard], places[heard]])
        digest = hashlib.sha256(f"{recorded.digest} {FORMAT}".encode() + np.round(told, 4).tobytes()).hexdigest()[:40]
        found = replace(recorded, digest=digest)
        path = self._path(found, Fraction(1))
        if not path.exists():
            beats = path.with_suffix(".beats.npy")
            np.save(beats, told)
            words = ["even", str(self._path(recorded, Fraction(1))), str(beats), str(path)]
            self._done(words, given_up, hurry)
        return found

    def tidy(self) -> None:
        """Throws away excerpts, and the versions used least lately until the rest fits the room."""
        room = self._room_bytes
        with contextlib.suppress(OSError):
            for path in self._folder.glob(f"*{EXCERPT}*.npy"):
                path.unlink()
            for path in sorted(self._folder.glob("*.npy"), key=lambda path: path.stat().st_mtime, reverse=True):
                room -= path.stat().st_size
                if room < 0:
                    path.unlink()

    def _done(self, words: list[str], given_up: Callable[[], bool], hurry: bool = False) -> _ChildReport:
        """What a child has made. Raises NoMusic, GivenUp."""
        limits = {"memory_bytes": MEMORY_BYTES, "cpu_seconds": MOST_CPU_SECONDS, "nice": 0 if hurry else self._nice}
        command = python("caller.rig.music.child", *words, **limits, ends_with_stdin=True)
        try:
            ended = run(command, MOST_SECONDS, given_up)
            told = documents.json(ended.last, _ChildReport)
        except TooLong as fault:
            raise NoMusic(
                f"the music isn't ready after {MOST_SECONDS / 60:.0f} minutes; close other programs, or name a shorter "
                "recording"
            ) from fault
        except documents.Unreadable as fault:
            raise NoMusic(
                f"reading the music ended by itself (exit {ended.status}); try another kind of file"
            ) from fault
        if told.fault:
            raise NoMusic(told.fault)
        return told

    def _path(self, recorded: Recorded, speed: Fraction) -> Path:
        tail = "" if speed == 1 else f"-{speed.numerator}-{speed.denominator}-{FORMAT}"
        return self._folder / f"{recorded.digest}{tail}.npy"


@dataclass(frozen=True, slots=True)
class BeatsFound:
    """As a child tells it; see :class:`caller.sound.pulse.Pulse`."""

    beats: tuple[float, ...]
    sure: tuple[int, ...]
    first: int
    tempo: float
    clear: float
    on_beat: float
    speech: bool
    even: bool
    first_seconds: float


def _excerpt(version: Path, at_seconds: Fraction) -> tuple[int, Path]:
    """The second from which on an excerpt holds it, and where it is kept."""
    seconds = max(floor(at_seconds - EXCERPT_BEFORE_SECONDS), 0)
    return seconds, version.with_name(f"{version.stem}{EXCERPT}{seconds}.npy")


def _digest(file: Path) -> str:
    try:
        check_file(file)
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


@dataclass(frozen=True, slots=True)
class _ChildReport:
    """What a child prints."""

    fault: str = ""
    recorded: Recorded | None = None
    found: BeatsFound | None = None
    newness: tuple[float, ...] = ()
    beside: tuple[tuple[int, float, float], ...] = ()
