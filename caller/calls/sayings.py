"""Every way in which a cue may be said: its wordings, how fast, with how much silence round it, and what that loses."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from caller.calls.plan import UNTOLD, CallKind, Cue, Part

SPEEDS = (1.0, 1.15, 1.35)
UTMOST = SPEEDS[-1]
# Half of the silence between two calls, each side of a call: as wished, where time is short, and where it is shorter
# still. Words on the beat need hardly any.
BREATH_SECONDS, _FAIR_BREATH_SECONDS, SHORT_BREATH_SECONDS = 0.175, 0.1, 0.05
ON_BEAT_BREATH_SECONDS = 0.005
# Per cent lost: by wording, fullest first (the last for all further ones), where a cue doesn't say; by less breath; by
# speed.
_FEWER_WORDS = (0, 5, 10, 30)
_FAIRLY_SHORT, _SHORT_OF_BREATH = 4, 10
_AT_SPEED = {1.0: 0, 1.15: 20, 1.35: 45}
MOST_LOST = 90
_BREATHS = ((BREATH_SECONDS, 0), (_FAIR_BREATH_SECONDS, _FAIRLY_SHORT), (SHORT_BREATH_SECONDS, _SHORT_OF_BREATH))
_AT_ONCE = Fraction(0)


class Saying(NamedTuple):
    """One way to say a cue, at once or in parts. lost: per cent of its worth; breath: silence each side, in seconds."""

    parts: tuple[Part, ...]
    speed: float
    lost: int
    breath: float


def sayings(cue: Cue) -> tuple[Saying, ...]:
    """Every way in which a cue may be said, best first of each wording."""
    if cue.on_beat:
        return _on_beat_sayings(cue.wordings)
    found = _ahead_sayings(cue.wordings, cue.lost, cue.in_parts)
    # A wall's number gabbled helps nobody.
    return tuple(one for one in found if one.speed < UTMOST) if cue.kind is CallKind.WALL else found


@lru_cache(maxsize=1024)
def _on_beat_sayings(wordings: tuple[str, ...]) -> tuple[Saying, ...]:
    return tuple(
        Saying((Part(words, _AT_ONCE),), speed, _by_order(index) + _AT_SPEED[speed], ON_BEAT_BREATH_SECONDS)
        for index, words in enumerate(wordings)
        for speed in SPEEDS
    )


@lru_cache(maxsize=1024)
def _ahead_sayings(
    wordings: tuple[str, ...],
    lost: tuple[int, ...],
    in_parts: tuple[tuple[tuple[Part, ...], int], ...],
) -> tuple[Saying, ...]:
    """Only the shortest wording is hurried, and the shortest that leaves out nothing: any other gives way to a shorter
    one first, but for one whose pause is worth more than the voice's pace."""
    ways = [((Part(words, _AT_ONCE),), lost[n] if lost else _by_order(n)) for n, words in enumerate(wordings)]
    hurried = {min(range(len(ways)), key=lambda n: len(wordings[n]))}
    telling = [n for n, (_, fewer) in enumerate(ways) if fewer < UNTOLD]
    if telling:
        shortest = min(telling, key=lambda n: len(wordings[n]))
        hurried |= {n for n in (shortest, *telling) if n == shortest or _paused(ways, shortest, n)}
    found = []
    for index, (parts, fewer) in enumerate((*ways, *in_parts)):
        most = MOST_LOST if fewer < UNTOLD else fewer + MOST_LOST
        for breath, short in _BREATHS:
            found.append(Saying(parts, 1.0, min(fewer + short, most), breath))
        if index in hurried or index >= len(ways):
            for speed in SPEEDS[1:]:
                loses = min(fewer + _SHORT_OF_BREATH + _AT_SPEED[speed], most)
                found.append(Saying(parts, speed, loses, SHORT_BREATH_SECONDS))
    return tuple(found)


def _paused(ways: Sequence[tuple[tuple[Part, ...], int]], shortest: int, other: int) -> bool:
    """Whether another is the shortest with its pauses, and better even where it is hurried."""
    (short, loses), (words, lost) = ((parts[0].words, less) for parts, less in (ways[shortest], ways[other]))
    return words.replace(",", "") == short.replace(",", "") and lost + _AT_SPEED[SPEEDS[1]] < loses


def _by_order(index: int) -> int:
    return _FEWER_WORDS[min(index, len(_FEWER_WORDS) - 1)]
