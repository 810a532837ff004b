"""The count track: a click on each count, and tracks put together.

Conventions: frames on the score's axis; a click begins on its frame.
"""

from __future__ import annotations

from collections.abc import Iterable

from caller.sound.clicks import CLICK_GAIN, click
from caller.sound.score import Placement


def count_track(
    beats: Iterable[tuple[int, str]], kind: str = "wood", gain: float = CLICK_GAIN
) -> tuple[Placement, ...]:
    """A click of ``kind`` at each (frame, accent); the accents are those of :mod:`caller.sound.clicks`.

    Raises KeyError for a kind or an accent that is not there.
    """
    return tuple(Placement(frame, click(kind, accent), gain, "count") for frame, accent in beats)


def in_order(*tracks: Iterable[Placement]) -> tuple[Placement, ...]:
    """Tracks as one, in order of frame; on one frame, in the order given."""
    return tuple(sorted((placement for track in tracks for placement in track), key=lambda placement: placement.frame))
