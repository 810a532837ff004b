"""A pedal unit: one switch or two, and an expression pedal beside them. Pure.

Conventions: times in seconds, given with each message and each look. Every part hears every message and keeps to those
that its setting names; each has a state of its own, so that the bouncing of one never swallows the other's press.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from caller.transport import foot as feet
from caller.transport.expression import USUAL_LIMITS, Expression, Lean, Lever, Limits
from caller.transport.foot import SUSTAIN_PEDAL, FootState, Gesture, Gestures
from caller.transport.switch import SOFT, SOSTENUTO, Setting, Switch, SwitchKind


class Which(Enum):
    FIRST = "first"
    SECOND = "second"


@dataclass(frozen=True, slots=True)
class Stroke:
    """A gesture, on one pedal of the unit."""

    gesture: Gesture
    pedal: Which = Which.FIRST


Footwork = tuple[Stroke | Lean, ...]

# The other pedals of a unit like a piano's, until another second one is learnt.
OTHER_PIANO_PEDALS = Setting((Switch(SwitchKind.CONTROL, SOFT), Switch(SwitchKind.CONTROL, SOSTENUTO)))


@dataclass(frozen=True, slots=True)
class Unit:
    """What is known of a unit. second, expression: None where it has none."""

    first: Setting = SUSTAIN_PEDAL
    second: Setting | None = OTHER_PIANO_PEDALS
    expression: Expression | None = None


@dataclass(frozen=True, slots=True)
class UnitState:
    """Where each part of a unit stands."""

    first: FootState
    second: FootState | None
    lever: Lever | None

    @staticmethod
    def on(unit: Unit, limits: Limits = USUAL_LIMITS) -> UnitState:
        """Nobody's foot on it yet. limits: of the expression pedal."""
        lever = Lever(unit.expression, limits) if unit.expression else None
        return UnitState(FootState(unit.first), FootState(unit.second) if unit.second else None, lever)

    @property
    def down(self) -> bool:
        """Whether a foot is on one of the switches."""
        return self.first.down or (self.second is not None and self.second.down)

    def heard(self, message: bytes, now: float) -> tuple[UnitState, Footwork]:
        """After one message, and what was done. Survives any bytes."""
        first, made = feet.on_message(self.first, message, now)
        second, more = feet.on_message(self.second, message, now) if self.second else (None, ())
        lever, leant = self.lever.heard(message, now) if self.lever else (None, ())
        return UnitState(first, second, lever), (*_strokes(made, more), *leant)

    def later(self, now: float) -> tuple[UnitState, Footwork]:
        """As time passes."""
        first, made = feet.on_time(self.first, now)
        second, more = feet.on_time(self.second, now) if self.second else (None, ())
        lever, leant = self.lever.later(now) if self.lever else (None, ())
        return UnitState(first, second, lever), (*_strokes(made, more), *leant)

    def lifted(self) -> tuple[UnitState, Footwork]:
        """The unit is gone: what was held is let go. The tempo stays as the expression pedal left it: a class that is
        suddenly at full tempo is thrown."""
        first, made = feet.lifted(self.first)
        second, more = feet.lifted(self.second) if self.second else (None, ())
        return replace(self, first=first, second=second), _strokes(made, more)


def _strokes(first: Gestures, second: Gestures) -> tuple[Stroke, ...]:
    return (*(Stroke(one) for one in first), *(Stroke(one, Which.SECOND) for one in second))
