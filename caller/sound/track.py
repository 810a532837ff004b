"""The count track: a click on each count, and what an old score leaves sounding for a new one."""

from __future__ import annotations

from collections.abc import Iterable

from caller.sound.clicks import COUNT, click
from caller.sound.score import Placement, Score


def count_track(beats: Iterable[tuple[int, str]], kind: str = "wood", gain: float = 1.0) -> tuple[Placement, ...]:
    """Clicks at (frame, accent), the accent one of :mod:`caller.sound.clicks`'s. Raises KeyError for an unknown kind."""
    return tuple(Placement(frame, click(kind, accent or COUNT), gain, "count") for frame, accent in beats)


def in_order(*tracks: Iterable[Placement]) -> tuple[Placement, ...]:
    """Tracks as one, in order of frame; on one frame, in the order given."""
    return tuple(sorted((placement for track in tracks for placement in track), key=lambda placement: placement.frame))


def carried_over(old: Score, at: int) -> tuple[Placement, ...]:
    """What began before frame ``at`` of a score, on the same axis, sounding still or not: a new score that takes over there
    keeps it, so that what is half said is finished and nothing is heard twice."""
    return tuple(placement for placement in old.placements if placement.frame < at)
