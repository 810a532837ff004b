"""Running states."""

from __future__ import annotations

from enum import Enum


class State(Enum):
    GETTING_READY = "getting ready"  # the voice is being rendered
    READY = "ready"
    TELLING = "telling"  # a stage's words, without a beat
    COUNT_IN = "count-in"
    RUNNING = "running"
    FINISHING = "finishing"  # dancing on to the end of the eight, where it pauses
    PAUSED = "paused"
    WAITING = "waiting"  # a stage is done; the teacher moves it on
    FINISHED = "finished"


# Something is told or danced, which a tap stops.
UNDER_WAY = frozenset({State.TELLING, State.COUNT_IN, State.RUNNING, State.FINISHING})


class GoOn(Enum):
    """Where the dance goes on after a pause, counted in."""

    BAR = "bar"
    SECTION = "section"
    WALL = "wall"
