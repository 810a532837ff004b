"""What will be called, told before the start: a sentence for each section, tag, restart, change and ending.

Conventions: calls as the sheet or the caller words them, in full; shorter wordings are the plan's business.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.calls.groups import groups_between, shown_words
from caller.calls.plan import Manner
from caller.dance.wall_map import map_walls

if TYPE_CHECKING:
    from caller.dance.walls import Dance

_INSTEAD = {
    Manner.COUNTS: "Called: the counts alone, walls and events.",
    Manner.PROMPTS: "Called: walls, tags, restarts, changes and the ending alone.",
    Manner.QUIET: "Called: nothing; the count track alone.",
}


def what_is_said(dance: Dance, manner: Manner) -> tuple[str, ...]:
    """Sentences, the sections of each part in their order, then the events wall by wall."""
    sections = [_INSTEAD[manner]] if manner in _INSTEAD else list(dict.fromkeys(_sections(dance)))
    events = (f"Wall {w.number}: {'; '.join(w.events)}." for w in map_walls(dance).walls if w.events)
    return (*sections, *(() if manner is Manner.QUIET else events))


def _sections(dance: Dance) -> Iterator[str]:
    calls: dict[tuple[str, int], list[str]] = {}
    walls: dict[tuple[str, int], int] = {}  # the first in which each section is danced
    for group in groups_between(dance, Fraction(0), Fraction(dance.counts)):
        place = (group.wall.part, group.section)
        if group.section and walls.setdefault(place, group.wall.number) == group.wall.number:
            calls.setdefault(place, []).append(shown_words(group))
    for (part, section), own in calls.items():
        yield f"{f'Part {part}, section' if part else 'Section'} {section}: {' · '.join(own)}."
