"""Learning a pedal: it is pressed and let go PRESSES times, then left alone, and what it sent tells what it is.

Conventions: times in seconds, given with each message. Pressed three times, a switch that springs back changes six
times and one that latches three times; a program change comes three times. Which way the first change went tells
whether "down" is sent for a press or for letting go.

An expression pedal, rocked instead, shows by MANY values between its ends, and is left with the toe down, which tells
the ends apart. Controllers 64 to 69 are switches whatever they send (MIDI 1.0 Detailed Specification, Table 3): a
sustain pedal that can be half down sends many values too. Those from 32 to 63 are the fine halves of the ones 32 below.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from caller.transport.expression import LEAST_TRAVEL, Expression
from caller.transport.foot import DEBOUNCE_SECONDS
from caller.transport.switch import Edge, Setting, Switch, SwitchKind, controlled, edge_of
from caller.transport.unit import Unit

PRESSES = 3
QUIET_SECONDS = 2.0
MANY = 8
WAVERING = 2
SWITCHES = range(64, 70)
FINE = range(32, 64)


@dataclass(frozen=True, slots=True)
class Lesson:
    """changes: so far, each with its time; repeats and bouncing are left out. moved: each controller's values, wavering
    left out, but for how far it went. last: when something came that counts."""

    changes: tuple[tuple[Edge, float], ...] = ()
    moved: tuple[tuple[int, int], ...] = ()
    last: float | None = None

    def after(self, message: bytes, now: float) -> Lesson:
        """With one more message. Survives any bytes."""
        edge = edge_of(message)
        if edge is None:
            return self
        return self._moved(edge.switch.number or 0, message, now)._changed(edge, now)

    def _moved(self, number: int, message: bytes, now: float) -> Lesson:
        value = controlled(message, number)
        before = [v for n, v in self.moved if n == number]
        if value is None or (before and abs(value - before[-1]) <= WAVERING and min(before) <= value <= max(before)):
            return self
        return replace(self, moved=(*self.moved, (number, value)), last=now)

    def _changed(self, edge: Edge, now: float) -> Lesson:
        last = next(((e, at) for e, at in reversed(self.changes) if e.switch == edge.switch), None)
        if last is not None and (_repeats(last[0], edge) or now - last[1] < DEBOUNCE_SECONDS):
            return self
        return replace(self, changes=(*self.changes, (edge, now)), last=now)

    def over(self, now: float) -> bool:
        """Something was heard, and then nothing for QUIET_SECONDS."""
        return self.last is not None and now - self.last >= QUIET_SECONDS


@dataclass(frozen=True, slots=True)
class Learnt:
    """What is known of a unit so far, part by part."""

    first: Setting | None = None
    second: Setting | None = None
    expression: Expression | None = None

    @property
    def whole(self) -> bool:
        return None not in (self.first, self.second, self.expression)

    def with_part(self, part: Setting | Expression) -> Learnt | None:
        """With one more; None where it is known already, or there is one of its kind."""
        if isinstance(part, Expression):
            return replace(self, expression=part) if self.expression is None else None
        if any(known is not None and known.hears(one) for known in (self.first, self.second) for one in part.switches):
            return None
        if self.first is None:
            return replace(self, first=part)
        return replace(self, second=part) if self.second is None else None

    @property
    def unit(self) -> Unit:
        """With the usual switches, where none has been learnt."""
        if self.first is None:
            return replace(Unit(), expression=self.expression)
        return Unit(self.first, self.second, self.expression)


def _repeats(last: Edge, edge: Edge) -> bool:
    return edge.switch.kind is not SwitchKind.PROGRAM and last.down == edge.down


def learnt(lesson: Lesson) -> Setting | Expression | None:
    """What an ended lesson tells; None where no switch was pressed PRESSES times and nothing was rocked: it is then
    begun anew. A switch that tells when it is let go is preferred to one that doesn't: it can be held."""
    rocked = _rocked(lesson)
    no_switch = {*rocked, *(number + 32 for number in rocked)}
    edges = [
        e for e, _ in lesson.changes if e.switch.kind is not SwitchKind.CONTROL or e.switch.number not in no_switch
    ]
    by_switch = {switch: [e for e in edges if e.switch == switch] for switch in dict.fromkeys(e.switch for e in edges)}
    found = [_setting(switch, made) for switch, made in by_switch.items() if switch.kind is not SwitchKind.PROGRAM]
    springing = [setting for setting in found if setting is not None and not setting.latching]
    levers = [_expression(number, values) for number, values in rocked.items() if number not in FINE]
    parts: list[Setting | Expression] = [*springing, *_some(found), *_some([_programs(edges)]), *levers]
    return parts[0] if parts else None


def _some(settings: Iterable[Setting | None]) -> list[Setting]:
    return [setting for setting in settings if setting is not None]


def _rocked(lesson: Lesson) -> dict[int, list[int]]:
    """The values of each controller that was rocked, the one with the longest way first."""
    every = {number: [v for n, v in lesson.moved if n == number] for number, _ in lesson.moved}
    rocked = [(number, values) for number, values in every.items() if _is_rocked(number, values)]
    return dict(sorted(rocked, key=lambda one: min(one[1]) - max(one[1])))


def _is_rocked(number: int, values: list[int]) -> bool:
    many = len(set(values)) >= MANY and max(values) - min(values) >= LEAST_TRAVEL
    return many and number not in SWITCHES


def _expression(number: int, values: list[int]) -> Expression:
    low, high = min(values), max(values)
    up = values[-1] - low >= high - values[-1]
    return Expression(number, low, high) if up else Expression(number, high, low)


def _setting(switch: Switch, changes: list[Edge]) -> Setting | None:
    # What sends values on its way first says where it stands.
    changes = changes[1:] if len(changes) == 2 * PRESSES + 1 else changes
    if len(changes) == 2 * PRESSES:
        return Setting((switch,), latching=False, inverted=not changes[0].down)
    return Setting((switch,), latching=True) if len(changes) == PRESSES else None


def _programs(edges: list[Edge]) -> Setting | None:
    """Some pedals send the same program each time, others the next one."""
    numbers = [edge.switch.number for edge in edges if edge.switch.kind is SwitchKind.PROGRAM]
    if len(numbers) != PRESSES:
        return None
    return Setting((Switch(SwitchKind.PROGRAM, numbers[0] if len(set(numbers)) == 1 else None),), latching=False)
