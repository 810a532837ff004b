"""How fast: steps of the full tempo, half speed, the pedal held; a tempo tapped.

Conventions: tempo in counts a minute. STEP is small enough to creep up by and, from 67 counts a minute on, under the
6 % at which a change is noticed after one interval (Drake & Botte, 1993), so that a class is not thrown by one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from statistics import median

from caller.transport.order import Amounts, Order

STEP = 4
SLOWEST, FASTEST = 40, 220  # what steps reach; a sheet or the command line may ask for less or more
HALF, HELD = Fraction(1, 2), Fraction(3, 4)
# Slower, a step is held and not danced: common practice, a waltz a little quicker since its bars are short.
FLOOR, WALTZ_FLOOR = Fraction(60), Fraction(66)

# Taps further apart than a count at 30 a minute begin anew; the last eight intervals tell; fewer than two tell nothing.
LONGEST_INTERVAL_SECONDS = 2.0
FEWEST_TAPS, MOST_TAPS = 3, 9


def stepped(tempo: Fraction, order: Order) -> Fraction:
    """A full tempo after SLOWER or FASTER, never further off than it was from what steps reach; the same after any
    other order."""
    match order:
        case Order.SLOWER:
            return min(tempo, max(tempo - STEP, Fraction(SLOWEST)))
        case Order.FASTER:
            return max(tempo, min(tempo + STEP, Fraction(FASTEST)))
        case _:
            return tempo


def floor_of(bar: int) -> Fraction:
    """Counts a minute below which nothing is halved, for bars of so many counts."""
    return WALTZ_FLOOR if bar == 3 else FLOOR


@dataclass(frozen=True, slots=True)
class Slowing:
    """What is danced of the tempo that is asked for. half: half of it. held: slowed down while the pedal is down.
    share: of it, 1 or less, as an expression pedal has it."""

    half: bool = False
    held: bool = False
    share: Fraction = Fraction(1)

    def of(self, tempo: Fraction, floor: Fraction = Fraction(0)) -> Fraction:
        """What is danced of a tempo. floor: half speed goes no lower, though a slower tempo stays as it is."""
        half = max(tempo * HALF, min(tempo, floor)) if self.half else tempo
        return half * (HELD if self.held else 1) * self.share

    def after(self, order: Order, amounts: Amounts = ()) -> Slowing:
        """What an order leaves; the same for an order that is none of its business. A tempo that is typed or tapped is
        what is danced: half speed is over with it, and an expression pedal counts once it moves again."""
        match order:
            case Order.HALF:
                return replace(self, half=not self.half)
            case Order.SLOW_ON:
                return replace(self, held=True)
            case Order.SLOW_OFF:
                return replace(self, held=False)
            case Order.SHARE:
                return replace(self, share=amounts[0])
            case Order.TEMPO:
                return replace(self, half=False, share=Fraction(1))
            case _:
                return self


@dataclass(frozen=True, slots=True)
class Taps:
    """A tempo being tapped, once on each count. times: in seconds, of any one clock, the last ones only."""

    times: tuple[float, ...] = ()

    def after(self, now: float) -> Taps:
        """With one more tap. After a long wait it is the first of new ones."""
        if self.times and not 0 < now - self.times[-1] <= LONGEST_INTERVAL_SECONDS:
            return Taps((now,))
        return Taps((*self.times, now)[-MOST_TAPS:])

    @property
    def tempo(self) -> Fraction | None:
        """Counts a minute, whole, within what steps reach; None before it can be told. The median of the intervals, so
        that one tap missed or doubled does no harm."""
        if len(self.times) < FEWEST_TAPS:
            return None
        interval = median(later - earlier for earlier, later in pairwise(self.times))
        return Fraction(min(max(round(60 / interval), SLOWEST), FASTEST))
