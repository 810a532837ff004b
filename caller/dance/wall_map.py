"""The wall map: which facing each wall starts at, through all tags, restarts, changes and the ending.

Conventions: as a table, one line a wall; as a drawing, a square room seen from above with the front wall (12:00) at the
top, and on each side the numbers of the walls that start facing it. Both are plain text, a list of lines.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from caller.dance.walls import Dance, Wall, WallEvent
from caller.routine.facing import CLOCK, Facing

_ROOM_WIDTH = 30  # inside, in characters
_ROOM_HEIGHT = 7  # inside, at least
_SIDE_WIDTH = 18  # of what stands beside the room
_LEFT, _RIGHT = ("10:30", "9:00", "7:30"), ("1:30", "3:00", "4:30")


@dataclass(frozen=True, slots=True)
class MappedWall:
    """One wall: where it starts and ends, how long it is, and its events in words."""

    number: int
    part: str
    starts: Facing
    ends: Facing
    counts: int
    events: tuple[str, ...]
    kinds: tuple[str, ...]  # of its events, without the changes that turn nothing: "tag", "restart", "ending"

    @property
    def label(self) -> str:
        """ "5", "5 B", "5 restart" """
        return " ".join((str(self.number), *([self.part] if self.part else []), "+".join(self.kinds))).strip()


@dataclass(frozen=True, slots=True)
class WallMap:
    title: str
    walls: tuple[MappedWall, ...]

    def starting(self, facing: Facing) -> tuple[MappedWall, ...]:
        return tuple(wall for wall in self.walls if wall.starts == facing)


def map_walls(dance: Dance) -> WallMap:
    """The map of a dance as it is danced."""
    return WallMap(dance.routine.header.title, tuple(_mapped(wall) for wall in dance.walls))


def _mapped(wall: Wall) -> MappedWall:
    words = tuple(_event_words(event) for event in wall.events)
    kinds = tuple(dict.fromkeys(event.kind for event in wall.events))
    return MappedWall(wall.number, wall.part, wall.starts, wall.ends, wall.counts, words, kinds)


def _event_words(event: WallEvent) -> str:
    """ "tag B after 32 counts, 4 counts long", "change on counts 5-8", "restart after 16 counts"."""
    name = f"{event.kind} {event.name}".strip()
    if event.kind == "change":
        if not event.counts:
            return f"{name} after {_counted(event.after)}: steps left out"
        last = event.after + event.counts
        return f"{name} on counts {event.after + 1}-{last}" if event.counts > 1 else f"{name} on count {last}"
    place = f"{name} after {_counted(event.after)}"
    return f"{place}, {_counted(event.counts)} long" if event.counts else place


def _counted(counts: int) -> str:
    return "1 count" if counts == 1 else f"{counts} counts"


# -- as a table


def wall_table(walls: WallMap) -> list[str]:
    """A heading, then a line for each wall: number, part, where it starts and ends, counts, events."""
    phrased = any(wall.part for wall in walls.walls)
    rows = [("wall", "part", "starts", "ends", "counts", "events")]
    rows += [
        (str(w.number), w.part, w.starts.clock, w.ends.clock, str(w.counts), "; ".join(w.events)) for w in walls.walls
    ]
    kept = [n for n in range(len(rows[0])) if n != 1 or phrased]
    widths = [max(len(row[n]) for row in rows) for n in kept]
    return ["  ".join(_cell(row[n], n, width) for n, width in zip(kept, widths, strict=True)).rstrip() for row in rows]


def _cell(text: str, column: int, width: int) -> str:
    """Words to the left, what is counted or told by the clock to the right."""
    return text.ljust(width) if column in (1, 5) else text.rjust(width)


# -- as a drawing


def wall_drawing(walls: WallMap) -> list[str]:
    """The room from above. Each side has its clock facing, and below it the walls that start there."""
    sides = {clock: _side(walls, clock) for clock in CLOCK}
    left, right = ([line for clock in column for line in sides[clock]] for column in (_LEFT, _RIGHT))
    height = max(_ROOM_HEIGHT, len(left), len(right))
    indent = _SIDE_WIDTH + 1
    wall = " " * indent + "+" + "-" * _ROOM_WIDTH + "+"
    inside = _centred_lines(("front: 12:00", "", *_title(walls.title)), height)
    beside = zip(_spread(sides, _LEFT, height), inside, _spread(sides, _RIGHT, height), strict=True)
    rows = [f"{one.rjust(_SIDE_WIDTH)} |{middle}| {other}".rstrip() for one, middle, other in beside]
    top, bottom = (_above(sides[clock], indent) for clock in ("12:00", "6:00"))
    return [*top, wall, *rows, wall, *bottom]


def _side(walls: WallMap, clock: str) -> list[str]:
    """The clock facing and the labels of its walls, no wider than a side; nothing at a corner that no wall faces."""
    labels = [wall.label for wall in walls.starting(Facing(CLOCK.index(clock)))]
    if not labels and CLOCK.index(clock) % 2:
        return []
    listed = textwrap.wrap(", ".join(label.replace(" ", "\u00a0") for label in labels), _SIDE_WIDTH)
    return [clock, *(line.replace("\u00a0", " ") for line in listed)]


def _spread(sides: dict[str, list[str]], column: Sequence[str], height: int) -> list[str]:
    """What stands beside the room: one facing at the upper corner, one in the middle, one at the lower corner."""
    upper, middle, lower = (sides[clock] for clock in column)
    free = height - len(upper) - len(middle) - len(lower)
    before = max(0, min(free, (height - len(middle)) // 2 - len(upper)))
    return [*upper, *[""] * before, *middle, *[""] * (free - before), *lower]


def _above(lines: Iterable[str], indent: int) -> list[str]:
    width = _ROOM_WIDTH + 2
    return [(" " * indent + line.center(width)).rstrip() for line in lines]


def _title(title: str) -> list[str]:
    return textwrap.wrap(title, _ROOM_WIDTH - 2)[:2]


def _centred_lines(lines: Sequence[str], height: int) -> list[str]:
    before = (height - len(lines)) // 2
    filled = [*[""] * before, *lines, *[""] * height][:height]
    return [line[:_ROOM_WIDTH].center(_ROOM_WIDTH) for line in filled]
