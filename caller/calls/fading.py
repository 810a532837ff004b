"""Fading: a section is called with fuller words the first time through, shorter ones later, and the last time the
dancers are left to it.

Conventions: times through are counted over the whole dance, whatever stretch of it a take is, so that going back
calls a wall as it was called before. Where a section comes only once or twice, no time is left without its calls.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable

from caller.calls.shorten import Forms
from caller.dance.walls import Dance, DancedPhrase, Wall

_Place = tuple[str, int]  # part and section; all tags and the ending are section 0 of theirs

# From so many times through on, the last one is danced without calls.
_ENOUGH_TIMES = 3


def faded(dance: Dance) -> Callable[[Wall, DancedPhrase, Forms], Forms | None]:
    """What is left of a phrase's forms in a wall: all, the shorter ones, or none."""
    times: Counter[_Place] = Counter()
    nth: dict[tuple[int, _Place], int] = {}
    for wall in dance.walls:
        for place in {(wall.part, phrase.section) for phrase in wall.phrases}:
            times[place] += 1
            nth[wall.number, place] = times[place]

    def left(wall: Wall, phrase: DancedPhrase, forms: Forms) -> Forms | None:
        place = (wall.part, phrase.section)
        # A tag or ending comes too seldom to be danced unprompted.
        if nth[wall.number, place] == 1 or not phrase.section:
            return forms
        if times[place] >= _ENOUGH_TIMES and nth[wall.number, place] == times[place]:
            return None
        return forms.shorter()

    return left
