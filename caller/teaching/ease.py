"""How hard a dance is to learn, as far as its sheet tells, so that the easiest can come first. Pure.

Conventions: what is compared is told the easiest first; common practice, no published source.
"""

from __future__ import annotations

import re
from fractions import Fraction

from caller.dance.walls import Dance
from caller.teaching.dosage import LEVELS

# Other words for a level, so that a dance is not taken for another by how its author calls those who dance it.
_ALIKE = {"newcomer": "beginner", "novice": "beginner", "starter": "beginner", "basic": "beginner"}
_NAMES = tuple(name for name, _ in LEVELS)
_UNTOLD = "improver"
# "high beginner", "beginner+"; "low intermediate", "easy improver".
_HIGH, _LOW = re.compile(r"\b(?:high|higher|upper)\b|\+\s*$"), re.compile(r"\b(?:low|lower|easy)\b")
_BELOW, _PLAIN, _ABOVE = 0, 1, 2

# The level's rank, and where within it; eighths turned in a wall; counts a minute; counts of a wall.
HowHard = tuple[int, int, int, Fraction, int]


def level_rank(level: str) -> tuple[int, int]:
    """A level's rank, the lowest 0, and where within it. A level of two names ("beginner/improver") is the higher one,
    below the middle of it: it comes between both."""
    told = level.lower()
    for word, name in _ALIKE.items():
        told = told.replace(word, name)
    told = re.sub(r"\babsolute\s+beginner", "absolute", told)
    ranks = [rank for rank, name in enumerate(_NAMES) if name in told]
    if not ranks:
        return _NAMES.index(_UNTOLD), _PLAIN
    if len(ranks) > 1:
        return ranks[-1], _BELOW
    return ranks[0], _ABOVE if _HIGH.search(told) else _BELOW if _LOW.search(told) else _PLAIN


def how_hard(dance: Dance, tempo: Fraction) -> HowHard:
    """By its level, then by how much a wall turns, how fast it is and how long. tempo: counts a minute."""
    wall = dance.walls[0]
    turned = sum(abs(danced.step.movement.turn.eighths) for danced in wall.movements)
    return (*level_rank(dance.routine.header.level), turned, tempo, int(wall.counts))
