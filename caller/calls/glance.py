"""What a glance at the screen tells at one frame of a take: a pure function of both."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.routine.facing import Facing, Turn
from caller.routine.step import Foot


@dataclass(frozen=True, slots=True)
class Coming:
    """Something ahead: kind "tag", "restart", "change", "ending" or "wall"; in_counts from now; its words as shown."""

    kind: str
    in_counts: int
    words: str


@dataclass(frozen=True, slots=True)
class Glance:
    """count: the number to show, 1 up ("5" .. "8" while counted in); in_bar: 0-based place in the bar; counting_in:
    before the first step. now, next: words of the phrase being danced and the one after it. next_turn: the next turn
    and the counts to it.
    """

    wall: int
    walls: int
    part: str
    section: int
    section_name: str
    count: int
    counts_in_section: int
    in_bar: int
    bar: int
    counting_in: bool
    now: str
    next: str
    saying: str
    foot: Foot | None
    facing: Facing
    next_turn: Turn
    next_turn_in: Fraction
    wall_starts: Facing
    coming: tuple[Coming, ...]
    tempo: Fraction
    finished: bool
