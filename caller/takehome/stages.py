"""A recording of a programme: its stages as chapters."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from caller.clock.timeline import round_half_up
from caller.sound.reel import Tape
from caller.sound.score import Score
from caller.takehome.chapters import MOST_CHAPTERS, Chapter, milliseconds
from caller.takehome.tagging import Tags


def stage_chapters(begins: Sequence[tuple[str, int]], sound: Score | Tape) -> tuple[Chapter, ...]:
    """begins: each stage's name and first frame, in order. No more than a table of contents holds."""
    kept = begins[:MOST_CHAPTERS]
    edges = [milliseconds(frame, sound.rate) for _, frame in kept] + [milliseconds(sound.frames, sound.rate)]
    return tuple(Chapter(name, *times) for (name, _), times in zip(kept, pairwise(edges), strict=True))


def stage_tags(title: str, way: str, tempo: Fraction, pieces: int) -> Tags:
    return Tags(f"{title}, {way}", title, 1, 1, round_half_up(tempo), f"{pieces} pieces", "")
