"""How fast: the full tempo, half speed, and the pedal held.

Conventions: tempo in counts a minute. STEP is small enough to creep up by and, from 67 counts a minute on, under the
6 % at which a change is noticed after one interval (Drake & Botte, 1993), so that a class is not thrown by one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from caller.transport.order import Order

STEP = 4
SLOWEST, FASTEST = 40, 220  # what steps reach; a sheet or the command line may ask for less or more
HALF, HELD = Fraction(1, 2), Fraction(3, 4)


@dataclass(frozen=True, slots=True)
class Pace:
    """tempo: the full one. half: at half speed. held: slowed down while the pedal is down."""

    tempo: Fraction
    half: bool = False
    held: bool = False

    @property
    def effective(self) -> Fraction:
        """What is danced now, in counts a minute."""
        return self.tempo * (HALF if self.half else 1) * (HELD if self.held else 1)

    def after(self, order: Order) -> Pace:
        """The pace that an order leaves; the same for an order that is none of its business."""
        match order:
            case Order.SLOWER:
                return replace(self, tempo=min(self.tempo, max(self.tempo - STEP, Fraction(SLOWEST))))
            case Order.FASTER:
                return replace(self, tempo=max(self.tempo, min(self.tempo + STEP, Fraction(FASTEST))))
            case Order.HALF:
                return replace(self, half=not self.half)
            case Order.SLOW_ON:
                return replace(self, held=True)
            case Order.SLOW_OFF:
                return replace(self, held=False)
            case _:
                return self
