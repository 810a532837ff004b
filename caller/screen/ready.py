"""What will be called, told before the start: a sentence for each section, tag, restart, change and ending.

Conventions: calls as the sheet or the caller words them, in full; shorter wordings are the plan's business.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from caller.calls.plan import Manner
from caller.dance.wall_map import map_walls

if TYPE_CHECKING:
    from caller.dance.walls import Dance, Wall

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
    told: set[tuple[str, int]] = set()
    for wall in dance.walls:
        for section in dict.fromkeys(stretch.section for stretch in wall.stretches if stretch.section):
            if (wall.part, section) not in told:
                told.add((wall.part, section))
                part = f"Part {wall.part}, section" if wall.part else "Section"
                yield f"{part} {section}: {' · '.join(_calls(wall, section))}."


def _calls(wall: Wall, section: int) -> Iterator[str]:
    return (phrase.wordings[0] for phrase in wall.phrases if phrase.section == section)
