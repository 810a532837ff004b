"""What is said on the count of each movement.

Conventions: fullest first; a movement that turns says how far, by itself where it is a step forward, a pivot or a
figure's own turn ("quarter, together, quarter"), else behind its word; where time is short without the side, then by
the turn alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from caller.calls.spelling import on_count_forms
from caller.calls.words import TurnWords, words_of_turn
from caller.dance.walls import Danced, DancedPhrase, Wall
from caller.routine.step import Movement

# Words that say no more than the turn does.
_ITS_TURN = frozenset(("step", "forward", "turn", "pivot", "paddle", "unwind", "spin", "walk", "change"))
_SAYS_TURN = re.compile(r"\b(eighths?|quarters?|half|halves|full|1/[248]|3/[48])\b")


def each_count(wall: Wall, phrase: DancedPhrase) -> Iterator[tuple[Danced, tuple[str, ...]]]:
    """A phrase's movements, each with what may be said on it; without those on which nothing is."""
    for danced, word in zip(wall.movements[phrase.first : phrase.last + 1], phrase.each, strict=True):
        if forms := word_forms(danced.step.movement, word):
            yield danced, forms


@lru_cache(maxsize=1024)
def word_forms(movement: Movement, word: str) -> tuple[str, ...]:
    """What may be said on a movement whose word is ``word``."""
    said = on_count_forms(word)
    if not said or not movement.turn or _SAYS_TURN.search(word):
        return said
    return tuple(dict.fromkeys(_turned(said[0], words_of_turn(movement.turn))))


def _turned(word: str, turn: TurnWords) -> Iterator[str]:
    own = "" if word in _ITS_TURN else f"{word} "
    yield f"{own}{turn.full}"
    yield f"{own}{turn.amount}"
    yield turn.amount
