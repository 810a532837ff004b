"""A programme, running, at another tempo than it was: typed, set for all of it, or kept from another time. Pure."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from caller.teaching.nudged import Nudged
from caller.teaching.running import Running


def at_tempo(running: Running, tempo: Fraction) -> Running:
    """The stage at that tempo, counts a minute; slower than it was, it is as after SLOWER."""
    speed = tempo / (running.programme.tempo * running.ease)
    slower = running if speed >= running.speed else replace(running, fade=0, clean=False)
    return replace(slower, speed=speed)


def with_tempo(running: Running, tempo: Fraction) -> Running:
    """The whole programme with another full tempo, counts a minute; a stage at the speed of its own keeps its floor."""
    return _begun_alike(running, replace(running, programme=replace(running.programme, tempo=tempo)))


def with_nudges(running: Running, nudged: Nudged, tempo: Fraction | None = None) -> Running:
    """The whole programme slowed down, or quickened, as it had been; at another full tempo."""
    there = running if tempo is None else with_tempo(running, tempo)
    return _begun_alike(there, replace(there, nudged=nudged))


def _begun_alike(before: Running, after: Running) -> Running:
    """A stage at the speed that it begins at, at the one that it begins at now; else at its own."""
    own = before.speed == before.speed_at_first(before.index)
    return replace(after, speed=after.speed_at_first(after.index)) if own else after
