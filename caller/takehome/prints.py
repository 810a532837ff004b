"""Where footprints are drawn: each at its place, but for those that would cover one another, which stand beside it.

Conventions: as in :mod:`caller.takehome.drawing`, whose drawing units these are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from caller.routine.step import Foot
from caller.takehome.floor import Footfall

STEP = 60
# left, top, right, bottom
Box = tuple[float, float, float, float]
Point = tuple[float, float]
# Of what another print covers of one that is still made out: toes on heels, and not a foot upon a foot.
_COVERED = 70.0
# Where a print is moved to, told for the right foot: to its own side first; nearest first.
_ASIDE = ((1, 0), (0, -1), (0, 1), (-1, 0), (1, -1), (1, 1), (-1, -1), (-1, 1))
_FAR = (17, 25, 34)


def places_of(prints: Sequence[Footfall]) -> list[Point]:
    """The middle of each print, in turn."""
    own = [_point(fall) for fall in prints]
    placed: list[Point] = []
    boxes = [print_box(fall, at) for fall, at in zip(prints, own, strict=True)]
    for n, fall in enumerate(prints):
        others = (*boxes[:n], *boxes[n + 1 :])
        # What comes later makes room itself, where this one stands at its own place.
        clear = max((overlap(boxes[n], box) for box in boxes[:n]), default=0.0) <= _COVERED
        at = own[n] if clear else min(_aside(fall, own[n]), key=lambda to: _hidden(fall, to, others))
        placed.append(at)
        boxes[n] = print_box(fall, at)
    return placed


def print_box(fall: Footfall, at: Point) -> Box:
    x, y = at
    quarter = fall.facing.eighths % 4
    half_wide, half_high = {0: (8, 16), 2: (16, 8)}.get(quarter, (13, 13))
    return x - half_wide, y - half_high, x + half_wide, y + half_high


def overlap(one: Box, other: Box) -> float:
    """The area that two boxes share."""
    wide = min(one[2], other[2]) - max(one[0], other[0])
    high = min(one[3], other[3]) - max(one[1], other[1])
    return max(wide, 0.0) * max(high, 0.0)


def _point(fall: Footfall) -> Point:
    return round(STEP * fall.spot.x, 1), round(-STEP * fall.spot.y, 1)


def _aside(fall: Footfall, at: Point) -> Iterator[Point]:
    own = 1 if fall.foot is Foot.RIGHT else -1
    for far in _FAR:
        for right, down in _ASIDE:
            yield round(at[0] + own * right * far, 1), round(at[1] + down * far, 1)


def _hidden(fall: Footfall, at: Point, others: Sequence[Box]) -> float:
    """How much of it, or of others, would be covered there."""
    return sum(overlap(print_box(fall, at), box) for box in others)
