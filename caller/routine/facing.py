"""Facing and turning.

Conventions: turns are whole eighths, right (clockwise) positive. A facing is told by the clock, 12:00 being the wall
that the class starts on, and is held as eighths from 12:00 (0 to 7). ``Facing + Turn`` is a facing.
"""

from __future__ import annotations

from dataclasses import dataclass

EIGHTHS = 8
CLOCK = ("12:00", "1:30", "3:00", "4:30", "6:00", "7:30", "9:00", "10:30")


@dataclass(frozen=True, slots=True, order=True)
class Turn:
    """A turn in eighths, right positive; more than 8 is more than once round."""

    eighths: int

    def __add__(self, other: Turn) -> Turn:
        return Turn(self.eighths + other.eighths)

    def __neg__(self) -> Turn:
        return Turn(-self.eighths)

    def __bool__(self) -> bool:
        return self.eighths != 0


NO_TURN = Turn(0)


@dataclass(frozen=True, slots=True, order=True)
class Facing:
    """Where a dancer faces: eighths clockwise from 12:00, always 0 to 7."""

    eighths: int = 0

    def __post_init__(self) -> None:
        object.__setattr__(self, "eighths", self.eighths % EIGHTHS)

    def __add__(self, turn: Turn) -> Facing:
        return Facing(self.eighths + turn.eighths)

    def __sub__(self, other: Facing) -> Turn:
        """The shorter turn from ``other`` to here, in -3..4 eighths."""
        return Turn((self.eighths - other.eighths + 3) % EIGHTHS - 3)

    @property
    def clock(self) -> str:
        return CLOCK[self.eighths]

    def __str__(self) -> str:
        return self.clock


FRONT = Facing(0)
