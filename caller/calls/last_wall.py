"""That a wall is the last, told within it where there was no room for it at its start. Pure.

Conventions: what is true only of the wall that begins ("wall nine, six o'clock") can't wait; that it is the last one
stays true, so that is said between two calls of its first counts, in as few words as it takes.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from caller.calls.plan import CallKind, CallPlan, Cue
from caller.calls.wording import LAST_WALL

# For so many counts of it a wall is news.
_NEWS_COUNTS = Fraction(16)
# Two steps called so far apart leave room for a word or two; so many places are tried.
_LEAST_GAP, _MOST_TRIED = Fraction(2), 4


def told_later(cues: Sequence[Cue], plan: CallPlan) -> Iterator[list[Cue]]:
    """The cues with that told at other places, the roomiest first; none where the plan tells it, or no cue does."""
    last = next((cue for cue in cues if LAST_WALL in cue.wordings[0]), None)
    if last is None or any(LAST_WALL in call.utterance.words for call in plan.calls):
        return
    rest = [cue for cue in cues if cue is not last or cue.kind is not CallKind.WALL]
    steps = [cue for cue in rest if cue.steps and last.at <= cue.at <= last.at + _NEWS_COUNTS]
    gaps = [(after.at - before.at, after) for before, after in pairwise(steps)]
    roomy = sorted((gap for gap in gaps if gap[0] >= _LEAST_GAP), key=lambda gap: (-gap[0], gap[1].at))
    for length, after in roomy[:_MOST_TRIED]:
        told = _told_before(after, length, last)
        place = rest.index(after)
        yield [*rest[:place], told, *rest[place:]]


def with_still_to_tell(wanted: Sequence[Cue], plan: CallPlan, at_frame: int) -> list[Cue]:
    """What is wanted from a frame on, first that the wall is the last where the plan has still to tell it within it; as
    in that plan, no cue of a wall's start tells it besides."""
    told = [call.cue for call in plan.calls if call.starts >= at_frame and call.cue.wordings == (LAST_WALL,)]
    if not told:
        return list(wanted)
    return [*told, *(cue for cue in wanted if cue.kind is not CallKind.WALL or LAST_WALL not in cue.wordings[0])]


def _told_before(after: Cue, length: Fraction, last: Cue) -> Cue:
    """Said behind the call before it, which is over as its own step begins."""
    return Cue(
        CallKind.WALL,
        last.wall,
        after.at,
        after.count,
        (LAST_WALL,),
        lead_counts=length,
        ahead_counts=length + Fraction(1, 2),
    )


def is_better(plan: CallPlan, before: CallPlan) -> bool:
    """Whether it is told, and for that no other is lost or late."""
    told = any(LAST_WALL in call.utterance.words for call in plan.calls)
    return told and {drop.cue for drop in plan.dropped} <= {drop.cue for drop in before.dropped}
