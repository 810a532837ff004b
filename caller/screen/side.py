"""What stands at the side: count, foot, facing and turn; a pure function of a view."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.screen.words import in_words, turn_words
from caller.transport.state import State

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Glance
    from caller.screen.course import Course
    from caller.session import View

_DANCED = frozenset({State.COUNT_IN, State.RUNNING, State.FINISHING, State.PAUSED})


@dataclass(frozen=True, slots=True)
class Side:
    """count: "" before there is one. in_bar, bar: as in the glance; bar 0 = none. foot_next: the foot moves after the
    count that shows, not on it. facing: None before there is one. facing_class: seen by a teacher who faces the class,
    not by the dancers."""

    count: str = ""
    in_bar: int = 0
    bar: int = 0
    foot: Foot | None = None
    facing: Facing | None = None
    turn: Turn = NO_TURN
    turn_amount: str = ""
    turn_when: str = ""
    facing_class: bool = False
    foot_next: bool = False


def side_of(view: View, course: Course | None, facing_class: bool) -> Side:
    side = _side(view, view.glance, course) if view.glance else Side()
    return replace(side, facing_class=facing_class)


def _side(view: View, glance: Glance, course: Course | None) -> Side:
    """By heart neither foot nor turn, which are steps; where a stage waits or the class is paused, how all stand."""
    if view.state not in _DANCED:
        waits = view.state is State.WAITING
        return Side(facing=(view.stood[0] if waits else None) or glance.facing)
    counted = Side(str(glance.count), glance.in_bar, glance.bar, facing=glance.facing)
    resumed = course.resumes(glance, view.go_on) if course and view.state is State.PAUSED and not view.telling else None
    if resumed is not None and resumed.call:
        return replace(counted, foot=None if view.by_heart else resumed.free, foot_next=True, facing=resumed.facing)
    if view.by_heart:
        return counted
    return replace(
        counted,
        foot=glance.foot,
        foot_next=glance.foot_next,
        turn=glance.next_turn,
        turn_amount=turn_words(glance.whole_turn or glance.next_turn),
        turn_when=f"{in_words(glance.next_turn_in)}, to {glance.facing + glance.next_turn}" if glance.next_turn else "",
    )
