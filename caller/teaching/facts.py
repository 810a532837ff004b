"""A routine's facts, before anybody has danced a step: what it is, what is hard in it, what comes between its walls.

Conventions: sentences as they are spoken, numbers and signs in words.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from caller.calls.group import Group
from caller.calls.groups import groups_between, shown_words
from caller.calls.read_aloud import read_aloud
from caller.calls.spelling import spoken
from caller.calls.wording import spoken_counts, spoken_facing, spoken_number, tag_name
from caller.dance.walls import Dance, Event, Stretch, Wall
from caller.teaching.standing import facing_at

_EVENT_NAMES = {"restart": "the restart", "change": "the step change", "ending": "the ending"}
# More events than this are not listed before anybody has danced a step.
_MOST_EVENTS = 4
# What a group must come to, to be the one to watch: an eighth of a turn is one, a movement between two counts two.
_HARD = 6


def introduction(dance: Dance) -> tuple[str, ...]:
    """Title, counts, walls, level, start foot, what is hard, tags and restarts, as facts."""
    return tuple(_introduction(dance))


def _introduction(dance: Dance) -> Iterator[str]:
    routine = dance.routine
    header = routine.header
    yield f"{read_aloud(header.title) or header.title}."
    counts = spoken_counts(min(header.counts or routine.counts, 999))
    walls = f", {_walls(header.walls)}" if header.walls else ""
    level = f", {header.level}" if header.level else ""
    yield f"{counts}{walls}{level}."
    if header.starts:
        yield f"we start on the {header.starts.word} foot."
    if header.intro:
        yield f"the intro is {spoken_counts(min(header.intro, 999))}."
    if hard := _hardest(dance.walls[0], groups_between(dance, Fraction(0), dance.walls[0].end)):
        stretch, group = hard
        yield f"the one to watch is in {stretch_name(stretch, dance.walls[0].part)}: {spoken(shown_words(group))}."
    yield from _events(dance)


def _events(dance: Dance) -> Iterator[str]:
    events = [(wall, event) for wall in dance.walls for event in wall.events]
    if not events:
        yield "no tags and no restarts."
    for wall, event in events[:_MOST_EVENTS]:
        article = "an" if event.kind == "ending" else "a"
        yield f"there is {article} {event_name(event).removeprefix('the ')} {event_place(dance, wall, event)}."
    if len(events) > _MOST_EVENTS:
        yield f"and {spoken_number(len(events) - _MOST_EVENTS)} more, which we'll come to."


def event_place(dance: Dance, wall: Wall, event: Event) -> str:
    """ "at the end of wall three, facing nine o'clock, eight counts, first right heel, home"."""
    at = wall.at + event.after
    closes = event.kind == "tag" and not any(stretch.section for stretch in wall.stretches if stretch.at >= at)
    number = spoken_number(wall.number)
    after = f" after {spoken_counts(event.after)}" if event.after else ""
    place = f"at the end of wall {number}" if closes else f"on wall {number}{after}"
    facing = f", facing {spoken_facing(facing_at(dance, at))}"
    lasts = f", {spoken_counts(event.counts)}" if event.kind == "tag" else ""
    return f"{place}{facing}{lasts}{_begins_with(dance, wall, event)}"


def _begins_with(dance: Dance, wall: Wall, event: Event) -> str:
    """What is danced there first; a restart begins as every wall does."""
    at = wall.at + event.after
    groups = groups_between(dance, at, at + max(event.counts, 1)) if event.kind != "restart" else []
    return f", first {spoken(shown_words(groups[0]))}" if groups and groups[0].at == at else ""


def _walls(walls: int) -> str:
    return f"{spoken_number(min(walls, 999))} wall{'' if walls == 1 else 's'}"


def event_name(event: Event) -> str:
    """ "the tag", "the restart"."""
    return _EVENT_NAMES.get(event.kind, f"the {tag_name(event.name)}")


def stretch_name(stretch: Stretch, part: str) -> str:
    """ "section two, rock back"; "part B section one"."""
    if not stretch.section:
        return read_aloud(stretch.name)
    own = f"section {spoken_number(stretch.section)}"
    return f"part {part} {own}" if part else own


def turned_in(group: Group) -> int:
    """How far a group turns, in eighths, either way."""
    return sum(abs(one.movement.turn.eighths) for one in group.placed)


def _hardness(group: Group) -> int:
    """How far it turns and how much of it lies between the counts. A figure that has a name is known with its half
    counts, and a pivot by itself is the plainest of turns."""
    turned = turned_in(group)
    between = 0 if group.names else sum(one.offset.denominator != 1 for one in group.placed)
    if not between and not group.syncopated and any(one.movement.action == "pivot" for one in group.placed):
        turned -= max(abs(one.movement.turn.eighths) for one in group.placed if one.movement.action == "pivot")
    return turned + 2 * (between + (group.syncopated and turned > 0))


def _hardest(wall: Wall, groups: list[Group]) -> tuple[Stretch, Group] | None:
    """What is truly hard in a wall; None where nothing is."""
    group = max(groups, key=_hardness, default=None)
    if group is None or _hardness(group) < _HARD:
        return None
    return next((stretch, group) for stretch in wall.stretches[::-1] if stretch.at <= max(group.at, wall.at))
