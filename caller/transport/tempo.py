"""How fast: the full tempo, half speed, the pedal held; a tempo typed or tapped.

Conventions: tempo in counts a minute. STEP is small enough to creep up by and, from 67 counts a minute on, under the
6 % at which a change is noticed after one interval (Drake & Botte, 1993), so that a class is not thrown by one.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from statistics import median

from caller.transport.order import Order

STEP = 4
SLOWEST, FASTEST = 40, 220  # what steps reach; a sheet or the command line may ask for less or more
HALF, HELD = Fraction(1, 2), Fraction(3, 4)
LEAST_TYPED, MOST_TYPED = 20, 400

# Taps further apart than a count at 30 a minute begin anew; the last eight intervals tell; fewer than two tell nothing.
LONGEST_INTERVAL_SECONDS = 2.0
FEWEST_TAPS, MOST_TAPS = 3, 9


@dataclass(frozen=True, slots=True)
class Pace:
    """tempo: the full one. half: at half speed. held: slowed down while the pedal is down. share: of it, 1 or less, as
    an expression pedal has it."""

    tempo: Fraction
    half: bool = False
    held: bool = False
    share: Fraction = Fraction(1)

    @property
    def effective(self) -> Fraction:
        """What is danced now, in counts a minute."""
        return self.tempo * (HALF if self.half else 1) * (HELD if self.held else 1) * self.share

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

    def at(self, tempo: Fraction) -> Pace:
        """That tempo as what is danced: half speed is over with it, and an expression pedal counts once it moves
        again."""
        return replace(self, tempo=tempo, half=False, share=Fraction(1))

    def leaning(self, share: Fraction) -> Pace:
        """At that share of the full tempo, as an expression pedal has it."""
        return replace(self, share=share)


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


_TYPED = re.compile(r"(?:tempo\s+)?(\d{2,3}(?:\.\d{1,3})?)", re.IGNORECASE)


def tempo_typed(line: str) -> Fraction | None:
    """The tempo of a typed line ("96", "tempo 96", "97.5"), in counts a minute; None where it is none or out of
    reach."""
    typed = _TYPED.fullmatch(line.strip())
    tempo = Fraction(typed[1]) if typed else Fraction(0)
    return tempo if LEAST_TYPED <= tempo <= MOST_TYPED else None
