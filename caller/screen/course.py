"""Where in the dance the class is: the wall as a strip of its sections, and the running order as a row of walls.

Conventions: counts into a wall start at 0 with its first step. A course is made once for a dance and asked at every
look; a place in it is found from a glance alone, so it follows whatever is being danced.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.calls.places import place_in_section
from caller.calls.wording import number_of
from caller.routine.facing import Facing

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Glance
    from caller.dance.walls import Dance, Stretch, Wall
    from caller.routine.parts import Meter

EVENT_WORDS = {"tag": "tag", "restart": "restart", "change": "steps change", "ending": "ending"}


@dataclass(frozen=True, slots=True)
class Piece:
    """A section ("1", "2"), tag or ending of a wall. changed: counts of it that differ this time, (from, to) from 0."""

    label: str
    counts: int
    changed: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Strip:
    """A wall as danced. danced: counts of it that have begun. ends: "restart" where it is cut short, else "".
    ahead: the next tag, restart, change or ending and how far it is, "" where none is left."""

    pieces: tuple[Piece, ...]
    ends: str
    danced: int = 0
    ahead: str = ""


@dataclass(frozen=True, slots=True)
class OrderWall:
    """One wall of the running order. events: "tag", "restart", "change", "ending", each once."""

    number: int
    part: str
    starts: Facing
    events: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Course:
    """A dance as it is shown. said: what will be called, a sentence a section and event. forms: of each call in full,
    all its forms, fullest first."""

    dance: Dance
    order: tuple[OrderWall, ...]
    strips: tuple[Strip, ...]
    said: tuple[str, ...]
    forms: Mapping[str, tuple[str, ...]]

    def place(self, glance: Glance) -> Fraction | None:
        """The count under way, in counts since the dance's first step; None where the glance is of another dance."""
        walls = self.dance.walls
        if not 1 <= glance.wall <= len(walls):
            return None
        wall = walls[glance.wall - 1]
        to_next = next((c.in_counts for c in glance.coming if c.kind == "wall"), None)
        if to_next is not None and glance.wall < len(walls):
            return max(wall.at, min(walls[glance.wall].at - to_next, wall.end - 1))
        return _told_place(wall, glance, self.dance.routine.header.meter)

    def strip(self, glance: Glance) -> Strip | None:
        place = self.place(glance)
        if place is None:
            return None
        strip, wall = self.strips[glance.wall - 1], self.dance.walls[glance.wall - 1]
        begun = 0 if glance.counting_in else int(place - wall.at) + 1
        return Strip(strip.pieces, strip.ends, begun, self._ahead(place))

    def resumes(self, glance: Glance) -> str:
        """The call with which a bar, counted from its section's first count, goes on; "" where that is not known."""
        place = self.place(glance)
        if place is None:
            return ""
        wall = self.dance.walls[glance.wall - 1]
        begin = max((s.at for s in wall.stretches if s.at <= place), default=wall.at)
        bar = max(glance.bar, 1)
        return _call_at(wall, begin + (place - begin) // bar * bar)

    def _ahead(self, place: Fraction) -> str:
        """The nearest event after the count under way, however far, with the counts to it."""
        for wall in self.dance.walls:
            for event in sorted(wall.events, key=lambda e: e.after):
                far = wall.at + event.after - place
                if far > 0:
                    return f"{EVENT_WORDS.get(event.kind, event.kind)} in {int(far)}"
        return ""


def _told_place(wall: Wall, glance: Glance, meter: Meter) -> Fraction | None:
    """Where a glance's section, count and call are in a wall that has none after it: by the count shown, and where a
    long section counts the same number twice, by the call and how near the next turn is."""
    spots = [
        stretch.at + count
        for stretch in wall.stretches
        if (stretch.section, stretch.name) == (glance.section, glance.section_name)
        for count in range(stretch.counts)
    ]
    counted = [spot for spot in spots if number_of(place_in_section(wall, spot), meter) == glance.count] or spots
    called = [spot for spot in counted if _call_at(wall, spot) == glance.now]
    return min(called or counted, key=lambda spot: abs(_to_turn(wall, spot) - glance.next_turn_in), default=None)


def _to_turn(wall: Wall, place: Fraction) -> Fraction:
    """Counts from ``place``, which is reached, to the wall's next turn, 0 where none is left."""
    turns = (danced.at - place for danced in wall.movements if danced.step.movement.turn and danced.at > place)
    return next(turns, Fraction(0))


def _call_at(wall: Wall, place: Fraction) -> str:
    """The call under way on the count that begins at ``place``; before the wall's first, that one; "" without any."""
    begun = [phrase for phrase in wall.phrases if phrase.at <= place] or list(wall.phrases[:1])
    return begun[-1].wordings[0] if begun else ""


# -- made once for a dance


def course_of(dance: Dance, said: tuple[str, ...] = ()) -> Course:
    forms = {phrase.wordings[0]: phrase.wordings for wall in dance.walls for phrase in wall.phrases}
    return Course(dance, tuple(map(_order_wall, dance.walls)), tuple(map(_strip, dance.walls)), said, forms)


def _order_wall(wall: Wall) -> OrderWall:
    return OrderWall(wall.number, wall.part, wall.starts, tuple(dict.fromkeys(e.kind for e in wall.events)))


def _strip(wall: Wall) -> Strip:
    ends = "restart" if any(event.kind == "restart" for event in wall.events) else ""
    return Strip(tuple(_piece(wall, stretch) for stretch in wall.stretches), ends)


def _piece(wall: Wall, stretch: Stretch) -> Piece:
    begins = int(stretch.at - wall.at)
    kinds = [e.kind for e in wall.events if e.after == begins and e.kind in ("tag", "ending")]
    label = str(stretch.section) if stretch.section else next(iter(kinds), stretch.name)
    changed = (
        (max(event.after - begins, 0), min(event.after + event.counts - begins, stretch.counts))
        for event in wall.events
        if event.kind == "change" and stretch.section
    )
    return Piece(label, stretch.counts, tuple((first, last) for first, last in changed if first < last))
