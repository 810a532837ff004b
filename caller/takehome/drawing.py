"""Drawings for a page: feet on the floor and the wall map, as numbers that a template puts into SVG.

Conventions: SVG's own axes, x to the right and y down; the front wall (12:00) is at the top. Lengths are in drawing
units, ``prints.STEP`` to a step's length. Told apart without colour: a right foot is filled, a left one is an outline;
one that bears no weight is its ball alone where it touches the floor, and an arrowhead where it is lifted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from textwrap import wrap

from caller.dance.wall_map import WallMap
from caller.routine.facing import CLOCK, EIGHTHS, Facing
from caller.routine.step import Foot
from caller.takehome.floor import Footfall
from caller.takehome.prints import Box, Point, overlap, places_of, print_box

# Of the lines of a wall map's side: how high they are, and how many letters half its width has room for.
_LINE_HIGH, _SIDE_LETTERS = 20, 13
LABEL_HIGH = 17
_LETTER_WIDE = 10.5
_MARGIN = 12
_LEAST_ACROSS = 150
# How far a label keeps from the middle of its foot.
_FOOT_REACH = 14
# Where a label is tried, best first: on the foot's own side (told for the right), then round it.
_AROUND = ((1, 0), (1, -1), (1, 1), (0, -1), (0, 1), (-1, 0), (-1, -1), (-1, 1))
# A dancer's feet at one place are one mark; two marks nearer than this would hide each other.
_SAME_PLACE = 0.08


@dataclass(frozen=True, slots=True)
class FloorMark:
    """A footprint. degrees: clockwise from pointing up. shape: "foot", "ball" or "lifted". label: the counts on which
    the foot comes there, its middle at label_x, label_y."""

    x: float
    y: float
    degrees: int
    foot: str
    shape: str
    label: str
    label_x: float
    label_y: float


@dataclass(frozen=True, slots=True)
class FloorFigure:
    """A floor drawing: view is SVG's viewBox, path the points where the weight goes, in order."""

    view: tuple[float, float, float, float]
    marks: tuple[FloorMark, ...]
    path: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class MapSide:
    """One facing of the wall map: where its words stand, and the walls that start there, in lines, each with its y."""

    clock: str
    x: float
    y: float
    anchor: str
    walls: tuple[tuple[str, float], ...]


def floor_figure(falls: Sequence[Footfall]) -> FloorFigure:
    """Footfalls as marks, those of a foot at one place as one, and the path of the weight through them."""
    groups: list[list[Footfall]] = []
    own: list[int] = []  # the group of each footfall
    for fall in falls:
        n = next((n for n, group in enumerate(groups) if _same_place(group[0], fall)), len(groups))
        if n == len(groups):
            groups.append([])
        groups[n].append(fall)
        own.append(n)
    places = places_of([group[0] for group in groups])
    boxes = [print_box(group[0], at) for group, at in zip(groups, places, strict=True)]
    marks = []
    for group, at in zip(groups, places, strict=True):
        mark, box = _mark(group, at, boxes)
        marks.append(mark)
        boxes.append(box)
    weight = [places[n] for fall, n in zip(falls, own, strict=True) if fall.bears]
    return FloorFigure(_view(boxes), tuple(marks), tuple(at for at, _ in groupby(weight)))


def map_sides(walls: WallMap, across: float) -> tuple[MapSide, ...]:
    """The facings that walls start at, and always the four sides, round a square room ``across`` wide whose upper left
    corner is at (0, 0)."""
    sides = []
    for clock in CLOCK:
        started = walls.starting(Facing(CLOCK.index(clock)))
        if not started and CLOCK.index(clock) % 2:
            continue
        x, y, anchor = _PLACES[clock]
        labels = ", ".join(wall.label.replace(" ", "\u00a0") for wall in started)
        # Two sides share the room's width but for those in the middle, whose lines go upwards from the lower wall.
        lines = wrap(labels, _SIDE_LETTERS if anchor != "middle" else 2 * _SIDE_LETTERS)
        first = y * across - _LINE_HIGH * len(lines) if y > 0.5 else y * across + _LINE_HIGH
        walls_told = tuple((line, first + n * _LINE_HIGH) for n, line in enumerate(lines))
        sides.append(MapSide(clock, x * across, y * across, anchor, walls_told))
    return tuple(sides)


# Where the words of each facing stand, in room widths from its upper left corner.
_PLACES = {
    "12:00": (0.5, 0.12, "middle"),
    "1:30": (0.96, 0.12, "end"),
    "3:00": (0.97, 0.5, "end"),
    "4:30": (0.96, 0.88, "end"),
    "6:00": (0.5, 0.88, "middle"),
    "7:30": (0.04, 0.88, "start"),
    "9:00": (0.03, 0.5, "start"),
    "10:30": (0.04, 0.12, "start"),
}


def _same_place(one: Footfall, other: Footfall) -> bool:
    if (one.foot, _shape(one), one.facing) != (other.foot, _shape(other), other.facing):
        return False
    return abs(one.spot.x - other.spot.x) < _SAME_PLACE and abs(one.spot.y - other.spot.y) < _SAME_PLACE


def _mark(group: Sequence[Footfall], at: Point, taken: Sequence[Box]) -> tuple[FloorMark, Box]:
    """The mark, its label where least else stands, and the label's box."""
    first, (x, y) = group[0], at
    label = ", ".join(dict.fromkeys(fall.count for fall in group))
    wide = _LETTER_WIDE * len(label)
    own = 1 if first.foot is Foot.RIGHT else -1
    ways = [(own * right, down) for right, down in _AROUND]
    dx, dy = min(ways, key=lambda way: sum(overlap(_label_box(x, y, wide, *way), box) for box in taken))
    box = _label_box(x, y, wide, dx, dy)
    degrees = first.facing.eighths * 360 // EIGHTHS
    middle_x, middle_y = round((box[0] + box[2]) / 2, 1), round((box[1] + box[3]) / 2, 1)
    return FloorMark(x, y, degrees, first.foot.value, _shape(first), label, middle_x, middle_y), box


def _shape(fall: Footfall) -> str:
    return "foot" if fall.bears else "lifted" if fall.lifted else "ball"


def _label_box(x: float, y: float, wide: float, dx: int, dy: int) -> Box:
    """A label beside (dx -1 or 1) or above or below (dy) the mark at x, y, clear of it."""
    middle_x = x + dx * (_FOOT_REACH + wide / 2)
    middle_y = y + dy * (_FOOT_REACH + LABEL_HIGH / 2)
    return middle_x - wide / 2, middle_y - LABEL_HIGH / 2, middle_x + wide / 2, middle_y + LABEL_HIGH / 2


def _view(boxes: Sequence[Box]) -> tuple[float, float, float, float]:
    """All marks and labels with room round them, no smaller than a few steps across."""
    left, top, right, low = (
        pick(edges)
        for pick, edges in zip((min, min, max, max), zip(*(boxes or [(0, 0, 0, 0)]), strict=True), strict=True)
    )
    wide = max(right - left + 2 * _MARGIN, _LEAST_ACROSS)
    high = max(low - top + 2 * _MARGIN, _LEAST_ACROSS)
    return (
        round((left + right - wide) / 2, 1),
        round((top + low - high) / 2, 1),
        round(wide, 1),
        round(high, 1),
    )
