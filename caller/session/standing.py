"""Where a class stands: one of six cases, each with what belongs to it and nothing else."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Generic, TypeVar

from caller.calls.take import Take
from caller.session.programme import Programme
from caller.teaching.play import Narration, Piece
from caller.transport.state import State

Whole = TypeVar("Whole", bound=Programme)


@dataclass(frozen=True, slots=True)
class Preparing:
    """The calls are being made ready. go: it is to start as soon as they are."""

    go: bool = False


@dataclass(frozen=True, slots=True)
class Ready:
    """piece: what is heard at the start. cannot: what can't be called at this tempo. fastest: the highest tempo at
    which every step is called, None where that is not told."""

    piece: Piece
    cannot: tuple[str, ...] = ()
    fastest: int | None = None


@dataclass(frozen=True, slots=True)
class Sounding(Generic[Whole]):
    """cut: the count at which it is to pause, None where it isn't. then: the programme of what is on the air after what
    is under way, None while nothing is."""

    cut: Fraction | None = None
    then: Whole | None = None


@dataclass(frozen=True, slots=True)
class Paused:
    """piece: what was stopped; place: at which count, or at which line of a telling."""

    piece: Piece
    place: Fraction


@dataclass(frozen=True, slots=True)
class Waiting:
    """A stage is done, and the teacher moves it on."""


@dataclass(frozen=True, slots=True)
class Finished:
    """All is done."""


Standing = Preparing | Ready | Sounding[Whole] | Paused | Waiting | Finished

_STILL = {
    Preparing: State.GETTING_READY,
    Ready: State.READY,
    Paused: State.PAUSED,
    Waiting: State.WAITING,
    Finished: State.FINISHED,
}


def state_of(stands: Standing[Whole], piece: Piece | None, frame: int) -> State:
    """The running state. piece, frame: what is heard, and where in it."""
    if not isinstance(stands, Sounding):
        return _STILL[type(stands)]
    if isinstance(piece, Narration):
        return State.TELLING
    if stands.cut is not None:
        return State.FINISHING
    begun = isinstance(piece, Take) and frame >= piece.timeline.frame_of(piece.start)
    return State.RUNNING if begun else State.COUNT_IN
