"""Running states."""

from __future__ import annotations

from enum import Enum


class State(Enum):
    GETTING_READY = "getting ready"  # the voice is being rendered
    READY = "ready"
    COUNT_IN = "count-in"
    RUNNING = "running"
    PAUSED = "paused"
    FINISHED = "finished"
