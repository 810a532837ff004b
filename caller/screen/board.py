"""What stands where on the screen: a pure function of a view, one row of a table for each running state.

Conventions: strings are one line of plain text each; "" leaves its place empty. A place for block letters takes
wordings, longest first, of which the first that fits is shown. ``large`` are the two places whose letters fill much of
the screen (see :mod:`caller.screen.pace`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.screen.plain_text import plain_text
from caller.screen.words import (
    call_wordings,
    coming_words,
    first_key,
    in_words,
    nearest,
    number,
    section_words,
    speed_words,
    tempo_words,
    turn_words,
    wall_words,
)
from caller.transport.order import Order
from caller.transport.state import State

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Glance
    from caller.session import View

# Two sections of eight: far enough ahead to be told, near enough to be counted down.
WARNED_COUNTS = 16


@dataclass(frozen=True, slots=True)
class Large:
    """call: what is danced now, or the state in a word. label: what ``next`` is, in small letters. Both large ones in
    wordings, longest first."""

    call: tuple[str, ...]
    label: str
    next: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Side:
    """count: "" before there is one. in_bar, bar: as in the glance; bar 0 = none. facing: None before there is one."""

    count: str = ""
    in_bar: int = 0
    bar: int = 0
    foot: Foot | None = None
    facing: Facing | None = None
    turn: Turn = NO_TURN
    turn_amount: str = ""
    turn_when: str = ""


@dataclass(frozen=True, slots=True)
class Board:
    """All places. listed: sentences below the large words; status: tempo, sound, voice, pedal."""

    title: str
    section: str
    wall: tuple[str, ...]
    tempo: tuple[str, ...]
    large: Large
    side: Side
    coming: str
    listed: tuple[str, ...]
    status: tuple[str, ...]


def board_of(view: View) -> Board:
    glance = view.glance
    ahead = nearest(glance.coming, WARNED_COUNTS) if glance and view.state in _MOVING else None
    return Board(
        title=plain_text(view.title),
        section=section_words(glance) if glance else "",
        wall=(wall_words(glance), f"Wall {glance.wall}") if glance and view.state in _DANCED else ("",),
        tempo=(" ".join(part for part in (number(view.tempo), speed_words(view.speed)) if part),),
        large=_LARGE[view.state](view),
        side=_side(view.state, glance) if glance else Side(),
        coming=coming_words(ahead) if ahead else "",
        listed=_listed(view) if view.state is State.READY else (),
        status=(
            tempo_words(view),
            f"Sound: {plain_text(view.sound)}",
            f"Voice: {plain_text(view.voice)}",
            f"Pedal: {plain_text(view.pedal)}",
        ),
    )


def _listed(view: View) -> tuple[str, ...]:
    cannot = tuple(map(plain_text, view.cannot))
    return (f"Can't be called in time at {number(view.tempo)}:", *cannot) if cannot else ()


def _side(state: State, glance: Glance) -> Side:
    if state not in _DANCED:
        return Side(facing=glance.facing)
    return Side(
        count=str(glance.count),
        in_bar=glance.in_bar,
        bar=glance.bar,
        foot=glance.foot,
        facing=glance.facing,
        turn=glance.next_turn,
        turn_amount=turn_words(glance.next_turn),
        turn_when=f"{in_words(glance.next_turn_in)}, to {glance.facing + glance.next_turn}" if glance.next_turn else "",
    )


def _getting_ready(view: View) -> Large:
    return Large(("getting ready",), f"voice: {plain_text(view.voice)}", ("the calls are being prepared", "one moment"))


def _ready(view: View) -> Large:
    key = first_key(Order.GO)
    return Large(
        ("ready",), f"{first_key(Order.HELP)} shows every key", (f"{key} or the pedal starts", f"{key} starts")
    )


def _count_in(view: View) -> Large:
    if view.glance is None or not view.glance.now:
        return Large(call_wordings(view.glance.next if view.glance else "ready"), "", ("",))
    return _running(view)


def _running(view: View) -> Large:
    if view.glance is None:
        return Large(("",), "", ("",))
    return Large(call_wordings(view.glance.now), "then" if view.glance.next else "", call_wordings(view.glance.next))


def _paused(view: View) -> Large:
    key = first_key(Order.GO)
    stopped = f"stopped in: {plain_text(view.glance.now)}" if view.glance and view.glance.now else ""
    return Large(("paused",), stopped, (f"{key} or the pedal goes on, counted in", f"{key} goes on, counted in"))


def _finished(view: View) -> Large:
    key = first_key(Order.GO)
    return Large(
        ("finished",),
        f"{first_key(Order.QUIT)} leaves",
        (f"{key} or the pedal dances it again", f"{key} dances it again"),
    )


_LARGE: dict[State, Callable[[View], Large]] = {
    State.GETTING_READY: _getting_ready,
    State.READY: _ready,
    State.COUNT_IN: _count_in,
    State.RUNNING: _running,
    State.PAUSED: _paused,
    State.FINISHED: _finished,
}
_MOVING = frozenset({State.COUNT_IN, State.RUNNING})
_DANCED = _MOVING | {State.PAUSED}
