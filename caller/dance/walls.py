"""The dance as danced.

Conventions: ``at`` is counts since the dance's first step (wall 1, count 1 = 0) as an exact fraction; a movement's
place in its wall is ``at - wall.at``. A wall runs from its first step to the next wall's: tags danced in or after it
are its own, so wall lengths add up. ``ends`` is therefore where the next wall starts.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from caller.routine.facing import Facing
from caller.routine.named_figures import FigureCalled
from caller.routine.parts import Routine
from caller.routine.passages import Step
from caller.routine.step import Body


@dataclass(frozen=True, slots=True)
class DancedStep:
    """One movement in the running: where it falls, and how the dancer stands before and after."""

    at: Fraction
    step: Step
    before: Body
    after: Body
    section: int  # number of the section, 0 in a tag or ending


@dataclass(frozen=True, slots=True)
class DancedPhrase:
    """Movements called together. first, last: indices into the wall's movements, both included. call: the sheet's own
    quoted words, "" where it has none; figure: what all of it is, where it is one."""

    at: Fraction
    first: int
    last: int
    name: str
    wordings: tuple[str, ...]
    each: tuple[str, ...]
    section: int
    call: str = ""
    figure: FigureCalled | None = None


@dataclass(frozen=True, slots=True)
class WallEvent:
    """A tag, restart, change or ending. after: counts into its wall where it begins; counts: how long it lasts."""

    kind: str
    after: int
    counts: int
    name: str


@dataclass(frozen=True, slots=True)
class Stretch:
    """A section, tag or ending as it is danced in one wall: ``at`` its first count, ``counts`` those danced."""

    at: Fraction
    counts: int
    section: int
    name: str
    starts: Facing


@dataclass(frozen=True, slots=True)
class Wall:
    number: int
    part: str
    at: Fraction
    counts: int
    starts: Facing
    ends: Facing
    movements: tuple[DancedStep, ...]
    phrases: tuple[DancedPhrase, ...]
    stretches: tuple[Stretch, ...]
    events: tuple[WallEvent, ...]

    @property
    def end(self) -> Fraction:
        return self.at + self.counts


@dataclass(frozen=True, slots=True)
class Dance:
    """``ended`` = the last wall closes with the routine's ending."""

    routine: Routine
    walls: tuple[Wall, ...]
    ended: bool

    @property
    def counts(self) -> int:
        return sum(wall.counts for wall in self.walls)

    def wall_at(self, at: Fraction) -> Wall:
        """The wall danced at that count; the first before the dance, the last after it."""
        found = self.walls[0]
        for wall in self.walls:
            if wall.at > at:
                break
            found = wall
        return found
