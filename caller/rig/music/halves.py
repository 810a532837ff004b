"""A whole recording at another speed, made by two processes at once: the library that stretches holds the interpreter.

Conventions: as in ``caller.rig.music.stretch``. A run is what one process makes without a gap, told by its seams. Both
write into one file that both have mapped; where the one's runs meet the other's, the seam is written once both are
done. The second process is the same child with other words, and ends with the first.

The half minute that a class waits for is made beside the whole, by a third, which has the other core at first: so the
second begins once the first has made a piece, and has that much less to make. The half minute is made once: the whole
takes it from there, and so goes on as it was where it takes its place.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.children.once import ended, started
from caller.children.starting import cores, python
from caller.outside import documents
from caller.rig.music.decode import NoMusic
from caller.rig.music.excerpt import take_into, taken_of
from caller.rig.music.stretch import NEAR_FRAMES, SEAM_FRAMES, meet, meeting_near, pieces_into, seams_of
from caller.sound.score import Samples

# The first process has a limit of its own, and its end is the other's.
_MOST_SECONDS = 1800.0
# For less it isn't worth starting another.
_LEAST_FRAMES = 4 * NEAR_FRAMES

Seams = Sequence[int]


def stretched_to(part: Path, recording: Path, speed: Fraction, excerpt: Path | None = None, at: float = 0.0) -> None:
    """Writes it as ``numpy.save`` would. excerpt: from the second ``at`` on, there or still being made. Raises NoMusic,
    OSError."""
    samples = np.load(recording, mmap_mode="r")
    shape = (round(len(samples) / speed), *samples.shape[1:])
    out = np.lib.format.open_memmap(part, mode="w+", dtype=np.float32, shape=shape)
    first, last = (0, 0) if excerpt is None else taken_of(samples, at)
    waits = excerpt is not None and not excerpt.exists()
    others, own = shared(samples, first, last, waits)
    if others and cores() > 1:
        words = str(recording), str(speed), str(part), ";".join(",".join(map(str, seams)) for seams in others)
        _by_two(out, samples, speed, own, last, waits, words)
    else:
        runs_into(out, samples, speed, [*others, *own], last)
    if excerpt is not None:
        _take(out, samples, speed, first, last, excerpt)


def pieces(recording: str, speed: str, out: str, runs: str) -> dict[str, object]:
    """What the second process does, into a file that is there. runs: seams with commas between, each run with a
    semicolon; they begin at the recording's beginning or where an excerpt ends. Raises NoMusic."""
    made = np.lib.format.open_memmap(out, mode="r+")
    told = [[int(seam) for seam in run.split(",")] for run in runs.split(";")]
    runs_into(made, np.load(recording, mmap_mode="r"), Fraction(speed), told, told[-1][0])
    return {}


def shared(samples: Samples, first: int, last: int, waits: bool) -> tuple[list[Seams], list[Seams]]:
    """What the second process makes, which may be nothing, and what the first: all but what is taken between two
    frames. waits: until that is made, the second doesn't begin."""
    before, after = (0, first), (last, len(samples))
    spans = [span for span in (before, after) if span[1] > span[0]]
    free = sum(end - begin for begin, end in spans)
    at = (free - (last - first if waits else 0)) // 2
    if free < 4 * _LEAST_FRAMES or at < _LEAST_FRAMES:
        return [], [seams_of(samples, *span) for span in spans]
    # The frame on which the first takes over; where that is next to what is taken, behind it.
    cut = at if at < first else at + last - first
    if any(begin + _LEAST_FRAMES < cut < end - _LEAST_FRAMES for begin, end in spans):
        cut = meeting_near(samples, cut)
    elif len(spans) == 2:
        cut = last
    parted = [[(begin, min(end, cut)), (max(begin, cut), end)] for begin, end in spans]
    sides = zip(*parted, strict=True)
    others, own = ([*(seams_of(samples, *span) for span in side if span[0] < span[1])] for side in sides)
    return [*others], [*own]


def runs_into(out: Samples, samples: Samples, speed: Fraction, runs: Sequence[Seams], taken_until: int) -> None:
    """One run after the other, and where they meet. Changes ``out``. Raises NoMusic."""
    _meet(out, speed, _openings(out, samples, speed, runs, taken_until))


Openings = list[tuple[int, Samples]]


def _openings(out: Samples, samples: Samples, speed: Fraction, runs: Sequence[Seams], taken_until: int) -> Openings:
    """Makes runs, and tells what is yet to be written at the seams before them; behind what is taken from elsewhere,
    nothing is. Changes ``out``. Raises NoMusic."""
    found = []
    for seams in runs:
        opening = pieces_into(out, samples, speed, seams)
        if seams[0] == taken_until:
            since = round(seams[0] / speed)
            out[since : since + len(opening)] = opening
        else:
            found.append((seams[0], opening))
    return found


def _meet(out: Samples, speed: Fraction, openings: Openings) -> None:
    for seam, opening in openings:
        meet(out, opening, speed, seam)


def _by_two(
    out: Samples,
    samples: Samples,
    speed: Fraction,
    own: Sequence[Seams],
    taken_until: int,
    waits: bool,
    words: tuple[str, str, str, str],
) -> None:
    head, rest = ([own[0][:2]], [own[0][1:], *own[1:]]) if waits else ([], own)
    openings = _openings(out, samples, speed, head, taken_until)
    with started(python("caller.rig.music.child", "pieces", *words, ends_with_stdin=True)) as other:
        openings += _openings(out, samples, speed, [seams for seams in rest if len(seams) > 1], taken_until)
        _check(ended(other, _MOST_SECONDS).last)
    _meet(out, speed, openings)


def _take(out: Samples, samples: Samples, speed: Fraction, first: int, last: int, excerpt: Path) -> None:
    """What is between two frames of the recording, from the excerpt, or made here where there is none after all.
    Changes ``out``. Raises NoMusic."""
    until = round(last / speed)
    after = out[until : until + SEAM_FRAMES].copy()
    try:
        opening = take_into(out, excerpt, speed, first, last)
    except (OSError, ValueError):
        opening = pieces_into(out, samples, speed, [first, last])
    meet(out, opening, speed, first)
    meet(out, after, speed, last)


def _check(last: bytes) -> None:
    """What the second told. Raises NoMusic."""
    try:
        fault = documents.json(last, dict[str, str]).get("fault", "")
    except documents.Unreadable as unread:
        raise NoMusic("making the music ready ended by itself; try again") from unread
    if fault:
        raise NoMusic(fault)
