"""The dial: where the class faces, as seen from above, and which way it turns next.

Conventions: 12:00 is up, directions are eighths clockwise from it. Squares as in :mod:`caller.screen.letters`. Meaning
is by shape: a thick clock hand points where the class faces, a trail of dots runs the way of the next turn, its end is
a larger square.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from caller.routine.facing import CLOCK, EIGHTHS, Facing, Turn
from caller.screen.letters import half_blocks

LABEL = max(map(len, CLOCK))
# The hand and the boss it starts from, in parts of the ring's radius; the hand ends short of the trail.
_HAND_HALF, _BOSS, _SHORT = 0.17, 0.28, 1.5
_LEAST_BOSS = 1.6
_DOTS_AN_EIGHTH = 2


@lru_cache(maxsize=256)
def dial(facing: Facing, turn: Turn, width: int, rows: int, facing_class: bool = False) -> tuple[str, ...]:
    """The dial in ``width`` cells and ``rows`` rows, all eight clock directions written round it.

    turn: the next one, or none. facing_class: as seen by a teacher who stands at the front and faces the class, so
    12:00 is below and 3:00 to the left. The room is turned, not mirrored: a right turn runs clockwise from either
    side. Returns nothing where there is too little room (under 21 cells or 7 rows).
    """
    radius = min(width - 2 * LABEL - 1, 2 * rows - 5) / 2
    if radius < 4.5 or width < 21:
        return ()
    seen = facing + Turn(EIGHTHS // 2) if facing_class else facing
    lit = [[False] * width for _ in range(2 * rows)]
    middle_x, middle_y = (width - 1) / 2, rows - 0.5
    for y, row in enumerate(lit):
        for x in range(width):
            row[x] = _in_hand(x - middle_x, middle_y - y, seen, radius)
    for right, up in _trail(seen, turn, radius):
        lit[_nearest(middle_y - up)][_nearest(middle_x + right)] = True
    return tuple(half_blocks(lit, dict(_labels(width, rows, radius, EIGHTHS // 2 if facing_class else 0))))


def _in_hand(right: float, up: float, facing: Facing, radius: float) -> bool:
    angle = facing.eighths * math.tau / EIGHTHS
    along = right * math.sin(angle) + up * math.cos(angle)
    across = abs(right * math.cos(angle) - up * math.sin(angle))
    boss = math.hypot(right, up) <= max(_LEAST_BOSS, radius * _BOSS)
    return boss or (0 <= along <= radius - _SHORT and across <= max(0.75, radius * _HAND_HALF))


def _trail(facing: Facing, turn: Turn, radius: float) -> Iterator[tuple[float, float]]:
    """Squares of the way round, right and up from the middle; at its end, two by two. Once round at most."""
    eighths = max(-EIGHTHS, min(EIGHTHS, turn.eighths))
    dots = abs(eighths) * _DOTS_AN_EIGHTH
    for dot in range(1, dots + 1):
        angle = (facing.eighths + eighths * dot / dots) * math.tau / EIGHTHS
        x, y = radius * math.sin(angle), radius * math.cos(angle)
        yield x, y
        if dot == dots:
            yield from ((x - 1, y), (x, y - 1), (x - 1, y - 1))


def _labels(width: int, rows: int, radius: float, turned: int) -> Iterator[tuple[tuple[int, int], str]]:
    for eighths, label in enumerate(CLOCK):
        angle = (eighths + turned) * math.tau / EIGHTHS
        right, up = math.sin(angle), math.cos(angle)
        row = min(rows - 1, max(0, _nearest((rows - 1) / 2 - up * (radius + 1.5) / 2)))
        edge = (width - 1) / 2 + right * (radius + 2)
        start = edge if right > 0.1 else edge - len(label) + 1 if right < -0.1 else (width - len(label)) / 2
        start = min(width - len(label), max(0, _nearest(start)))
        yield from (((row, start + place), character) for place, character in enumerate(label))


def _nearest(place: float) -> int:
    """The nearest whole place, a half always down, so that what lies level stays level."""
    return math.ceil(place - 0.5 - 1e-6)
