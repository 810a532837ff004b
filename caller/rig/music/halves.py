"""A whole recording at another speed, made by two processes at once: the library that stretches holds the interpreter.

Conventions: as in ``caller.rig.music.stretch``. Both write into one file that both have mapped; where the one's pieces
meet the other's, the seam is written once both are done. The second process is the same child with other words, and
ends with the first. It begins once the first has made a piece: the half minute that a class waits for is made beside
that, and has the other core until then.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import numpy as np

from caller.children.once import ended, started
from caller.children.starting import cores, python
from caller.outside import documents
from caller.rig.music.decode import NoMusic
from caller.rig.music.stretch import meet, pieces_into, seams_of
from caller.sound.score import Samples

# The first process has a limit of its own, and its end is the other's.
_MOST_SECONDS = 1800.0


def stretched_to(part: Path, recording: Path, speed: Fraction) -> None:
    """Writes it as ``numpy.save`` would. Raises NoMusic, OSError."""
    samples = np.load(recording, mmap_mode="r")
    shape = (round(len(samples) / speed), *samples.shape[1:])
    out = np.lib.format.open_memmap(part, mode="w+", dtype=np.float32, shape=shape)
    seams = seams_of(samples)
    if len(seams) > 3 and cores() > 1:
        _by_two(out, samples, speed, seams, (str(recording), str(speed), str(part)))
    else:
        pieces_into(out, samples, speed, seams)
    out.flush()


def pieces(recording: str, speed: str, out: str, seams: str) -> dict[str, object]:
    """What the second process does: the pieces from the beginning on, into a file that is there. seams: with commas
    between. Raises NoMusic."""
    made = np.lib.format.open_memmap(out, mode="r+")
    pieces_into(made, np.load(recording, mmap_mode="r"), Fraction(speed), [int(seam) for seam in seams.split(",")])
    made.flush()
    return {}


def _by_two(out: Samples, samples: Samples, speed: Fraction, seams: list[int], words: tuple[str, str, str]) -> None:
    others = (len(seams) - 2) // 2  # pieces
    own, at = seams[others:], ",".join(map(str, seams[: others + 1]))
    opening = pieces_into(out, samples, speed, own[:2])
    with started(python("caller.rig.music.child", "pieces", *words, at, ends_with_stdin=True)) as other:
        meet(out, pieces_into(out, samples, speed, own[1:]), speed, own[1])
        _check(ended(other, _MOST_SECONDS).last)
    meet(out, opening, speed, own[0])


def _check(last: bytes) -> None:
    """What the second told. Raises NoMusic."""
    try:
        fault = documents.json(last, dict[str, str]).get("fault", "")
    except documents.Unreadable as unread:
        raise NoMusic("making the music ready ended by itself; try again") from unread
    if fault:
        raise NoMusic(fault)
