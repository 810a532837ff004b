"""What is told in a dance without a beat: its steps, as they are called, and the way all face. Pure."""

from __future__ import annotations

from fractions import Fraction

from caller.calls.groups import groups_between, shown_words
from caller.calls.places import own_place
from caller.calls.wording import spoken_facing, spoken_number
from caller.dance.walls import Dance, Wall
from caller.session.route import section_at

NO_STEPS = "there are no steps here"


def wall_told(wall: Wall) -> str:
    """ "wall three, facing six o'clock."."""
    return f"wall {spoken_number(min(wall.number, 999))}, facing {spoken_facing(wall.starts)}."


def steps_of(dance: Dance, count: Fraction) -> tuple[str, ...]:
    """What is danced in the section that a count is in, as it is called, a sentence a figure."""
    wall, span = dance.wall_at(count), section_at(dance, count)
    groups = (group for group in groups_between(dance, span.first, span.last) if group.wall is wall)
    return tuple(map(shown_words, groups)) or (NO_STEPS,)


def call_at(dance: Dance, count: Fraction) -> str:
    """What is called of the figure that a count is in."""
    wall, span = dance.wall_at(count), section_at(dance, count)
    groups = [group for group in groups_between(dance, span.first, span.last) if group.wall is wall]
    begun = [group for group in groups if own_place(wall, group.at, group.section) <= count]
    return shown_words(begun[-1]) if begun else NO_STEPS
