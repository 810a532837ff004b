"""What can be promised before the start: which steps and warnings can't be called at this tempo, and how fast all can.

Conventions: sentences are short, each once. Working out the highest tempo takes a while: it is kept.
"""

from __future__ import annotations

from caller.calls.plan import CallKind, Fading, Lexicon, Manner
from caller.calls.planning import highest_tempo
from caller.calls.take import Take
from caller.dance.walls import Dance

MOST_CANNOT = 6


def cannot(ready: Take) -> tuple[str, ...]:
    """Steps and warnings that the plan before the start can't say. (A count-in's last numbers give way to the first
    call as a matter of course.)"""
    sentences = dict.fromkeys(
        f"{d.cue.wordings[0]}: {d.why}" for d in ready.plan.dropped if d.cannot or d.cue.kind is CallKind.STEP
    )
    listed = list(sentences)[:MOST_CANNOT]
    more = len(sentences) - len(listed)
    return (*listed, f"and {more} more: 'caller calls' lists them") if more else tuple(listed)


class Fastest:
    """The highest tempo at which every step is called; worked out once for each dance and way of calling."""

    def __init__(self) -> None:
        self._of: tuple[Dance, Manner] | None = None
        self._found: int | None = None

    def of(self, dance: Dance, manner: Manner, lexicon: Lexicon, count_in: int, fading: Fading) -> int | None:
        if self._of is None or self._of[0] is not dance or self._of[1] is not manner:
            self._of = (dance, manner)
            self._found = highest_tempo(dance, manner, lexicon, count_in=count_in, fading=fading)
        return self._found
