"""An expression pedal's values to a share of the full tempo. Pure: time is told.

Conventions: times in seconds; shares of the full tempo, 1 all of it, in whole per cents; a pedal's values are a
controller's, 0 to 127. A pedal that sends 14 bits sends the coarse half under its own number (0 to 31) and the fine one
under the number 32 above it (MIDI 1.0 Detailed Specification, Table 3): the coarse half alone is over a hundred steps,
more than a change of tempo needs, so the fine one isn't listened to.

Between its limits the share goes by RUNG_PERCENT, so that each change is one of 2 % or more. What follows a change is
told TELL_SECONDS after it at the earliest, and then only what it has come to: each costs a take made anew. Values that
waver by PLAY to both sides do nothing, and what stands within END_VALUES of an end stands at it, since pedals wear.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from caller.transport.switch import controlled

EXPRESSION = 11
RUNG_PERCENT = 2
TELL_SECONDS = 0.25
PLAY = 1
END_VALUES = 3
LEAST_PERCENT, MOST_PERCENT = 25, 100
LEAST_APART_PERCENT = 4
LEAST_TRAVEL = 32  # values between heel and toe

_NEVER = float("-inf")


@dataclass(frozen=True, slots=True)
class Limits:
    """Per cents of the full tempo with the heel down and with the toe down. Usually more pedal is more tempo, up to
    what the dance is to be danced at and never beyond; with heel above toe it slows down as it is pressed.

    Raises ValueError for what is out of reach, or too near to each other.
    """

    heel: int = 50
    toe: int = 100

    def __post_init__(self) -> None:
        if not all(LEAST_PERCENT <= one <= MOST_PERCENT for one in (self.heel, self.toe)):
            raise ValueError(f"not from {LEAST_PERCENT} to {MOST_PERCENT} %: {self.heel}, {self.toe}")
        if abs(self.toe - self.heel) < LEAST_APART_PERCENT:
            raise ValueError(f"less than {LEAST_APART_PERCENT} % apart: {self.heel}, {self.toe}")

    def share(self, way: Fraction) -> Fraction:
        """Of the full tempo, ``way`` of the way from heel (0) to toe (1): the nearest rung, both limits among them."""
        rungs = abs(self.toe - self.heel) // RUNG_PERCENT
        rung = round(way * rungs)
        up = RUNG_PERCENT if self.toe > self.heel else -RUNG_PERCENT
        return Fraction(self.toe if rung == rungs else self.heel + up * rung, 100)


USUAL_LIMITS = Limits()


@dataclass(frozen=True, slots=True)
class Expression:
    """What is known of an expression pedal. heel, toe: the values that it sends there; toe may be the lower one.

    Raises ValueError for what is no controller's, or has hardly any travel.
    """

    number: int = EXPRESSION
    heel: int = 0
    toe: int = 127

    def __post_init__(self) -> None:
        if not all(0 <= one <= 127 for one in (self.number, self.heel, self.toe)):
            raise ValueError(f"no controller's: {self.number}, {self.heel}, {self.toe}")
        if abs(self.toe - self.heel) < LEAST_TRAVEL:
            raise ValueError(f"from {self.heel} to {self.toe} is hardly any way")

    def way(self, value: int) -> Fraction:
        """How far from heel to toe, 0 to 1."""
        travel = abs(self.toe - self.heel) - 2 * END_VALUES
        along = (value - self.heel) * (1 if self.toe > self.heel else -1) - END_VALUES
        return min(max(Fraction(along, travel), Fraction(0)), Fraction(1))


@dataclass(frozen=True, slots=True)
class Lean:
    """The expression pedal asks for another share of the full tempo."""

    share: Fraction


@dataclass(frozen=True, slots=True)
class Lever:
    """Where an expression pedal stands. at: its value but for wavering, None before it has told any. told: the share
    that was told last, at told_at."""

    known: Expression
    limits: Limits
    at: int | None = None
    told: Fraction | None = None
    told_at: float = _NEVER

    @property
    def share(self) -> Fraction | None:
        """What it asks for; None before it has moved: nobody can ask a pedal where it stands."""
        return None if self.at is None else self.limits.share(self.known.way(self.at))

    def heard(self, message: bytes, now: float) -> tuple[Lever, tuple[Lean, ...]]:
        """After one message. Survives any bytes."""
        value = controlled(message, self.known.number)
        if value is None:
            return self.later(now)
        at = value if self.at is None else min(max(self.at, value - PLAY), value + PLAY)
        return replace(self, at=at).later(now)

    def later(self, now: float) -> tuple[Lever, tuple[Lean, ...]]:
        """As time passes: what it has come to meanwhile."""
        share = self.share
        if share is None or share == self.told or now - self.told_at < TELL_SECONDS:
            return self, ()
        return replace(self, told=share, told_at=now), (Lean(share),)
