"""When the parts of a call begin: in the rhythm of the steps, or a little sooner where they come close."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

from caller.calls.plan import Cue, Utterance

# The least between two parts: a short breath after the one, what is silent before any word before the other.
_AIR_SECONDS = 0.055


class SpokenPart(NamedTuple):
    """A part as the voice says it, how many counts after the first part's movement its own comes."""

    utterance: Utterance
    after: Fraction


def offsets_of(cue: Cue, parts: tuple[SpokenPart, ...], frame_of: Callable[[Fraction], int], rate: int) -> list[int]:
    """How many frames after the first part each begins."""
    starts = part_starts(cue, parts, frame_of, rate)
    return [start - starts[0] for start in starts]


def part_starts(cue: Cue, parts: tuple[SpokenPart, ...], frame_of: Callable[[Fraction], int], rate: int) -> list[int]:
    """Where each part begins, in frames after the cue's count: all are over on their movements' counts, or sooner
    where the next has to begin."""
    first = frame_of(cue.at) if len(parts) > 1 else 0
    air = round(_AIR_SECONDS * rate)
    starts: list[int] = []
    for part in reversed(parts):
        over = frame_of(cue.at + part.after) - first if len(parts) > 1 else 0
        starts.append(min([over, *(start - air for start in starts[-1:])]) - part.utterance.frames)
    return starts[::-1]
