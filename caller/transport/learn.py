"""Learning a pedal: it is pressed and let go PRESSES times, then left alone, and what it sent tells what it is.

Conventions: times in seconds, given with each message. Pressed three times, a switch that springs back changes six
times and one that latches three times; a program change comes three times. Which way the first change went tells
whether "down" is sent for a press or for letting go.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from caller.transport.foot import DEBOUNCE_SECONDS
from caller.transport.switch import Edge, Kind, Setting, Switch, edge_of

PRESSES = 3
QUIET_SECONDS = 2.0


@dataclass(frozen=True, slots=True)
class Lesson:
    """The changes so far, each with its time; repeats and bouncing are left out."""

    changes: tuple[tuple[Edge, float], ...] = ()

    def after(self, message: bytes, now: float) -> Lesson:
        """With one more message. Survives any bytes."""
        edge = edge_of(message)
        if edge is None:
            return self
        last = next(((e, at) for e, at in reversed(self.changes) if e.switch == edge.switch), None)
        if last is not None and (_repeats(last[0], edge) or now - last[1] < DEBOUNCE_SECONDS):
            return self
        return Lesson((*self.changes, (edge, now)))

    def over(self, now: float) -> bool:
        """Something was heard, and then nothing for QUIET_SECONDS."""
        return bool(self.changes) and now - self.changes[-1][1] >= QUIET_SECONDS


def _repeats(last: Edge, edge: Edge) -> bool:
    return edge.switch.kind is not Kind.PROGRAM and last.down == edge.down


def learnt(lesson: Lesson) -> Setting | None:
    """What an ended lesson tells; None where no switch was pressed PRESSES times: it is then begun anew. A switch that
    tells when it is let go is preferred to one that doesn't: it can be held."""
    edges = [edge for edge, _ in lesson.changes]
    by_switch = {switch: [e for e in edges if e.switch == switch] for switch in dict.fromkeys(e.switch for e in edges)}
    found = [_setting(switch, changes) for switch, changes in by_switch.items() if switch.kind is not Kind.PROGRAM]
    springing = [setting for setting in found if setting is not None and not setting.latching]
    return next(iter([*springing, *_some(found), *_some([_programs(edges)])]), None)


def _some(settings: Iterable[Setting | None]) -> list[Setting]:
    return [setting for setting in settings if setting is not None]


def _setting(switch: Switch, changes: list[Edge]) -> Setting | None:
    if len(changes) == 2 * PRESSES:
        return Setting((switch,), latching=False, inverted=not changes[0].down)
    return Setting((switch,), latching=True) if len(changes) == PRESSES else None


def _programs(edges: list[Edge]) -> Setting | None:
    """Some pedals send the same program each time, others the next one."""
    numbers = [edge.switch.number for edge in edges if edge.switch.kind is Kind.PROGRAM]
    if len(numbers) != PRESSES:
        return None
    return Setting((Switch(Kind.PROGRAM, numbers[0] if len(set(numbers)) == 1 else None),), latching=False)
