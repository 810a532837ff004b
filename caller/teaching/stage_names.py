"""What stages of a lesson are called, on the screen and by the voice. Pure."""

from __future__ import annotations

from caller.calls.losses import TIMES
from caller.calls.wording import spoken_number
from caller.dance.walls import Stretch, Wall


def often_words(times: int) -> str:
    """How often it will be danced, where that is more than once."""
    return f", {TIMES[times]}" if times in TIMES else f", {spoken_number(times)} times" if times > 1 else ""


def own_sections(wall: Wall, sections: tuple[Stretch, ...]) -> tuple[tuple[str, int], ...]:
    """As a stage has those that it teaches."""
    return tuple((wall.part, stretch.section) for stretch in sections)


def shown_name(stretch: Stretch, wall: Wall) -> str:
    """ "Section 2", "Part B section 1"."""
    part = f"Part {wall.part} section" if wall.part else "Section"
    return f"{part} {stretch.section}"


def within_name(stretch: Stretch, wall: Wall) -> str:
    """The same within a name."""
    name = shown_name(stretch, wall)
    return f"{name[0].lower()}{name[1:]}"
