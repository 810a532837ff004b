"""What orders set beside the tempo and the levels: how it is called and danced, and what the screen says of it all.

Conventions: values are frozen, an order makes another; words are short phrases without a full stop.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from caller.calls.plan import Manner
from caller.sound.score import Score
from caller.transport.levels import Levels
from caller.transport.order import Order

MANNER_WORDS = {
    Manner.AHEAD: "each step ahead of its beat",
    Manner.ON_COUNT: "a word on each movement",
    Manner.COUNTS: "numbers only",
    Manner.PROMPTS: "walls, tags and restarts only",
    Manner.QUIET: "none",
}
_MANNERS = tuple(Manner)
# By whether it is told.
_BOTH = {
    True: "Half the hall the easier way: told once, and shown where it comes.",
    False: "Half the hall the easier way: shown where it comes; not called, since the calls are the full steps.",
}


def next_manner(manner: Manner) -> Manner:
    """The one after it; the first after the last."""
    return _MANNERS[(_MANNERS.index(manner) + 1) % len(_MANNERS)]


@dataclass(frozen=True, slots=True)
class Calling:
    """manner: of calling. easier: the sheet's options are danced. looping: the section comes again and again, or
    so many counts of the teacher's own choice. waiting: each stage of a lesson, once done. both: half the hall dances
    the options, which are shown beside the steps; both_told: and told before a go, which a dance doesn't stop for.
    wrong_foot: what is looped ends on the foot that it begins with."""

    manner: Manner = Manner.AHEAD
    easier: bool = False
    looping: bool = False
    counts: int = 0
    waiting: bool = False
    both: bool = False
    both_told: bool = False
    wrong_foot: bool = False

    def after(self, order: Order) -> Calling:
        """What an order leaves; the same for an order that is none of its business."""
        match order:
            case Order.MANNER:
                return replace(self, manner=next_manner(self.manner))
            case Order.EASIER:
                return replace(self, easier=not self.easier, both=False)
            case Order.BOTH_WAYS:
                return replace(self, both=not self.both, easier=False)
            case Order.LOOP:
                return replace(self, looping=not self.looping, counts=0)
            case _:
                return self


def told(before: tuple[Calling, Levels], after: tuple[Calling, Levels], part: str = "section") -> Iterator[str]:
    """A sentence on each thing that an order has set. part: what is looped."""
    (old, was), (new, now) = before, after
    if old.manner is not new.manner:
        yield f"Calls: {MANNER_WORDS[new.manner]}."
    if old.easier != new.easier:
        yield "The easier way from here on." if new.easier else "The full steps again."
    if old.both != new.both:
        yield _BOTH[new.both_told] if new.both else "All of the hall one way again."
    yield from _looped(old, new, part)
    if old.waiting != new.waiting:
        yield "Waits after each stage." if new.waiting else "Goes on from stage to stage by itself."
    if was.muted != now.muted:
        yield "Muted." if now.muted else "Sound again."
    if was.count_db != now.count_db:
        yield f"Count track: {now.count_db:+.0f} dB."
    if was.call_db != now.call_db:
        yield f"Calls: {now.call_db:+.0f} dB."
    if was.music_db != now.music_db:
        yield f"Music: {now.music_db:+.0f} dB."


def _looped(old: Calling, new: Calling, part: str) -> Iterator[str]:
    if (old.looping, old.counts) != (new.looping, new.counts):
        again = f"{new.counts} counts over and over." if new.counts else f"This {part} over and over."
        over = f"these {old.counts} counts are" if old.counts else f"this {part} is"
        yield again if new.looping else f"On from here once {over} over."
    if new.wrong_foot and not old.wrong_foot:
        yield "Before each time round the class changes weight."


def holds(calling: Calling, levels: Levels, part: str = "section") -> Iterator[str]:
    """What is not as usual, for as long as it is. part: what is looped."""
    if levels.muted:
        yield "muted"
    if calling.looping:
        yield f"looping {calling.counts} counts" if calling.counts else f"looping this {part}"
    if calling.easier:
        yield "easier way"
    if calling.both:
        yield f"half the hall: easier way{'' if calling.both_told else ', not called'}"
    if calling.waiting:
        yield "waits after each stage"
    if calling.manner is not Manner.AHEAD:
        yield f"calls: {MANNER_WORDS[calling.manner]}"


def levelled(score: Score, levels: Levels) -> Score:
    """The score as loud as asked, muting apart. Where music is made louder than the calls, it is ducked deeper by as
    much, so that they still stand over it."""
    if (levels.count_db, levels.call_db, levels.music_db) == (0, 0, 0):
        return score
    placements = tuple(replace(placed, gain=placed.gain * levels.gain(placed.kind)) for placed in score.placements)
    deeper = max(levels.music_db - levels.call_db, 0.0) if any(p.kind == "music" for p in placements) else 0.0
    return replace(score, placements=placements, duck_db=score.duck_db + deeper)
