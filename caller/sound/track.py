"""The count track: a click on each count."""

from __future__ import annotations

from collections.abc import Iterable

from caller.sound.clicks import COUNT, click
from caller.sound.score import Placement


def count_track(beats: Iterable[tuple[int, str]], kind: str = "wood", gain: float = 1.0) -> tuple[Placement, ...]:
    """Clicks at (frame, accent), the accent one of :mod:`caller.sound.clicks`'s. Raises KeyError for an unknown kind."""
    return tuple(Placement(frame, click(kind, accent or COUNT), gain, "count") for frame, accent in beats)


def in_order(*tracks: Iterable[Placement]) -> tuple[Placement, ...]:
    """Tracks as one, in order of frame; on one frame, in the order given."""
    return tuple(sorted((placement for track in tracks for placement in track), key=lambda placement: placement.frame))
