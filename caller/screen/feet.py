"""The foot that moves, told by shape, place and word; one that is only the next to move by place and small words.

Conventions: squares as in :mod:`caller.screen.letters`; a print is drawn for a left foot seen from above, toes up, and
mirrored for a right one.
"""

from __future__ import annotations

from collections.abc import Iterator

from caller.routine.step import Foot
from caller.screen.letters import fit, fit_first, half_blocks

# By the rows there are for it. The big toe is at the right.
_PRINTS = {
    3: ("..##", ".###", "####", "###.", ".##.", ".##."),
    5: ("..##", ".###", "####", "####", "####", "###.", ".##.", ".##.", ".###", ".##."),
}
_OTHER, _GAP = "▁▁", "  "


def foot_lines(foot: Foot, width: int, rows: int, facing_class: bool = False) -> Iterator[str]:
    """The foot's print and word at its own edge of ``width`` cells, a flat mark for the other foot at the other edge.

    facing_class: as seen by a teacher who stands at the front and faces the class: the dancers' right foot is at the
    left, toes down. Where there are no 3 or 5 rows, the word alone.
    """
    at_right = (foot is Foot.RIGHT) is not facing_class
    shape = tuple(_footprint(foot, rows, facing_class))
    room = width - len(shape[0]) - len(_GAP) if shape else width
    place = "right" if at_right else "left"
    words = fit_first((f"{foot.word} foot", foot.word), room, rows, place=place).lines
    for row in range(rows):
        word = words[row] if row < len(words) else " " * room
        if row == rows - 1:  # where the word leaves room for it
            beside, rest = (word[:3], word[3:]) if at_right else (word[-3:], word[:-3])
            if not beside.strip():
                word = f"{_OTHER} {rest}" if at_right else f"{rest} {_OTHER}"
        yield _GAP.join((word, *shape[row : row + 1]) if at_right else (*shape[row : row + 1], word))


def next_foot_lines(foot: Foot, width: int, rows: int, facing_class: bool = False) -> Iterator[str]:
    """The foot that moves after the count that shows: in words at its own edge, without a print, so that nobody takes
    it for the foot of that count."""
    at_right = (foot is Foot.RIGHT) is not facing_class
    words = fit(f"next: {foot.word}", width, rows, "right" if at_right else "left")
    above = 0 if words.height else (rows - len(words.lines)) // 2
    yield from ([" " * width] * above + [*words.lines] + [" " * width] * rows)[:rows]


def _footprint(foot: Foot, rows: int, facing_class: bool) -> Iterator[str]:
    squares = [[mark == "#" for mark in row] for row in _PRINTS.get(rows, ())]
    if facing_class:
        squares = [row[::-1] for row in squares[::-1]]
    if foot is Foot.RIGHT:
        squares = [row[::-1] for row in squares]
    return half_blocks(squares, {}) if squares else iter(())
