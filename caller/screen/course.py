"""Where in the dance the class is: the wall as a strip of its sections, and the running order as a row of walls.

Conventions: counts into a wall start at 0 with its first step. A course is made once for a dance and asked at every
look. A wall of which a part is danced over and over comes as several walls of one number, each with a strip of its own;
in the running order it is one.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING

from caller.calls.group import Group
from caller.calls.groups import groups_between, shown_wordings, shown_words
from caller.calls.on_count import each_count
from caller.calls.places import movements_between, movements_from, own_place, place_in_section, stretch_at, wall_at
from caller.calls.wording import number_of, short_counts
from caller.routine.count import label_of
from caller.routine.facing import Facing, Turn
from caller.routine.naming import short_words
from caller.routine.step import Foot
from caller.takehome.drawing import FloorFigure, floor_figure
from caller.takehome.floor import footfalls
from caller.teaching.figures_told import moved_words
from caller.teaching.options import option_words, section_options
from caller.transport.state import GoOn

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Glance
    from caller.dance.walls import Dance, Stretch, Wall

EVENT_WORDS = {"tag": "tag", "restart": "restart", "change": "steps change", "ending": "ending"}


@dataclass(frozen=True, slots=True)
class CoursePiece:
    """A section ("1", "2"), tag or ending of a wall. changed: counts of it that differ this time, (from, to) from 0."""

    label: str
    counts: int
    changed: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Strip:
    """A wall as danced. danced: counts of it that have begun. ends: "restart" where it is cut short, else "".
    ahead: the next tag, restart, change or ending and how far it is, "" where none is left."""

    pieces: tuple[CoursePiece, ...]
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
class Floor:
    """Where the feet go in a section, as the front wall has them. now: the count under way, as the marks are labelled;
    "" before the first."""

    figure: FloorFigure
    now: str


@dataclass(frozen=True, slots=True)
class Resumed:
    """call: "" where there is none. facing, free: None where that is not known; the foot that is free then. counts:
    what is danced in the next four counts (in threes three), in wordings, longest first."""

    call: str
    facing: Facing | None
    free: Foot | None
    counts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EasierWay:
    """first, last: its counts, from 1 within the section. words: "rock left forward, recover"."""

    section: int
    first: int
    last: int
    words: str

    @property
    def counts(self) -> int:
        return self.last - self.first + 1


@dataclass(frozen=True, slots=True)
class Course:
    """A dance as it is shown. said: what will be called, a sentence a section and event. forms: of each call in full,
    all its forms, fullest first. calls: all that is said of steps, as it is said. groups: what is called together."""

    dance: Dance
    order: tuple[OrderWall, ...]
    strips: tuple[Strip, ...]
    said: tuple[str, ...]
    forms: Mapping[str, tuple[str, ...]]
    calls: frozenset[str]
    groups: tuple[Group, ...]
    _floors: dict[Fraction, FloorFigure] = field(default_factory=dict, compare=False, repr=False)

    def place(self, glance: Glance) -> Fraction | None:
        """The count under way, in counts since the dance's first step; None where the glance is of another dance."""
        known = 0 <= glance.at < self.dance.counts and wall_at(self.dance, glance.at).number == glance.wall
        return glance.at if known else None

    def order_of_the_sheet(self, turned: Turn) -> tuple[OrderWall, ...]:
        """The walls as the sheet has them, where everybody is turned from that."""
        if not turned:
            return self.order
        return tuple(replace(wall, starts=wall.starts + -turned) for wall in self.order)

    def strip(self, glance: Glance, until: Fraction | None = None) -> Strip | None:
        """until: the count of the dance at which it is over (None: with the dance); what comes later is not ahead."""
        place = self.place(glance)
        if place is None:
            return None
        index = bisect_right(self.dance.walls, place, key=lambda wall: wall.at) - 1
        strip = self.strips[index]
        begun = 0 if glance.counting_in else int(place - self.dance.walls[index].at) + 1
        return Strip(strip.pieces, strip.ends, begun, self._ahead(place, until, glance.to_first))

    def resumes(self, glance: Glance, go_on: GoOn) -> Resumed | None:
        """How the dance goes on after a pause; None where that is not known. Bars are counted from their section's
        first count."""
        place = self.place(glance)
        if place is None:
            return None
        begin = _begin(self.dance, place, go_on, max(glance.bar, 1))
        first = next((danced for _, danced in movements_from(self.dance, begin)), None)
        # Who goes back a whole wall faces as the sheet says there, whatever was danced over and over before.
        told = go_on is not GoOn.WALL or len(self.order) == len(self.dance.walls)
        facing = first.before.facing if first and told else None
        free = first.before.weight.free_foot if first and first.before.weight else None
        return Resumed(self._call_at(begin), facing, free, counts_from(self.dance, begin))

    def floor(self, glance: Glance) -> Floor | None:
        """The floor of the section, tag or ending under way; None where it is not known or no foot goes anywhere."""
        place = self.place(glance)
        if place is None:
            return None
        wall = wall_at(self.dance, place)
        stretch = stretch_at(wall, place)
        if stretch.at not in self._floors:
            ends = stretch.at + stretch.counts
            own = [m for m in wall.movements if stretch.at <= own_place(wall, m.at, m.section) < ends]
            self._floors[stretch.at] = floor_figure(footfalls(own)[0])
        figure = self._floors[stretch.at]
        now = "" if glance.counting_in else str(int(place_in_section(wall, place)) + 1)
        return Floor(figure, now) if figure.marks else None

    def easier(self, glance: Glance, until: Fraction | None = None) -> EasierWay | None:
        """The easier way on the counts that are danced, or else the first that comes within a bar, in the next section
        too; None where there is none. until: the count of the dance at which it is over (None: with the dance)."""
        place = self.place(glance)
        if place is None:
            return None
        ends = Fraction(self.dance.counts) if until is None else until
        ahead = min(place + 1 + max(glance.bar, 1), ends)
        return next((way for at, way in self._ways() if at < ahead and place < at + way.counts), None)

    def _ways(self) -> Iterator[tuple[Fraction, EasierWay]]:
        """All easier ways in the order in which they are danced, each with its first count."""
        for wall in self.dance.walls:
            for stretch in wall.stretches:
                ways = section_options(self.dance.routine, wall.part, stretch.section)
                for way in sorted(ways, key=lambda way: way.first):
                    if way.first <= stretch.counts:
                        shown = EasierWay(stretch.section, way.first, way.last, option_words(way))
                        yield stretch.at + way.first - 1, shown

    def _call_at(self, place: Fraction) -> str:
        """The call under way on the count that begins at ``place``; "" without any."""
        index = bisect_right(self.groups, place, key=lambda group: group.at) - 1
        return shown_words(self.groups[max(index, 0)]) if self.groups else ""

    def _ahead(self, place: Fraction, until: Fraction | None, to_first: int) -> str:
        """The nearest event after the count under way, however far, with the counts to it. to_first: counts of a
        count-in that come before."""
        for wall in self.dance.walls:
            for event in sorted(wall.events, key=lambda e: e.after):
                far = wall.at + event.after - place
                if far > 0 and (until is None or place + far < until):
                    return f"{EVENT_WORDS.get(event.kind, event.kind)} in {int(far) + to_first}"
        return ""


def counts_from(dance: Dance, begin: Fraction) -> tuple[str, ...]:
    """ "5 rock left forward, 6 recover, 7 left back, & right together, 8 left back": what is danced from a count on, as
    far as a teacher goes by, in wordings, longest first."""
    meter, feel = dance.routine.header.meter, dance.routine.header.feel
    found: tuple[list[str], list[str]] = ([], [])
    for wall, danced in movements_between(dance, begin, begin + short_counts(meter)):
        place = place_in_section(wall, danced.at)
        number = str(number_of(place, meter)) if place.denominator == 1 else label_of(place, feel)[-1:]
        movement = danced.step.movement
        for words, told in zip(found, (moved_words(movement), short_words(movement)), strict=True):
            words.append(f"{number} {told}")
    return tuple(dict.fromkeys(", ".join(words) for words in found if words))


def _begin(dance: Dance, place: Fraction, go_on: GoOn, bar: int) -> Fraction:
    """The count from which it goes on."""
    wall = wall_at(dance, place)
    if go_on is GoOn.WALL:
        return next(other.at for other in dance.walls if other.number == wall.number)
    section = stretch_at(wall, place).at
    return section if go_on is GoOn.SECTION else section + (place - section) // bar * bar


# -- made once for a dance


def course_of(dance: Dance, said: tuple[str, ...] = ()) -> Course:
    groups = tuple(groups_between(dance, Fraction(0), Fraction(dance.counts)))
    forms = {shown_words(group): shown_wordings(group) for group in groups}
    phrases = ((wall, phrase) for wall in dance.walls for phrase in wall.phrases)
    each = (word for wall, phrase in phrases for _, words in each_count(wall, phrase) for word in words)
    calls = frozenset((*each, *(words for wordings in forms.values() for words in wordings)))
    order = tuple(_order_wall(list(walls)) for _, walls in groupby(dance.walls, lambda wall: wall.number))
    return Course(dance, order, tuple(map(_strip, dance.walls)), said, forms, calls, groups)


def _order_wall(walls: Sequence[Wall]) -> OrderWall:
    kinds = dict.fromkeys(event.kind for wall in walls for event in wall.events)
    return OrderWall(walls[0].number, walls[0].part, walls[0].starts, tuple(kinds))


def _strip(wall: Wall) -> Strip:
    ends = "restart" if any(event.kind == "restart" for event in wall.events) else ""
    return Strip(tuple(_piece(wall, stretch) for stretch in wall.stretches), ends)


def _piece(wall: Wall, stretch: Stretch) -> CoursePiece:
    begins = int(stretch.at - wall.at)
    kinds = [e.kind for e in wall.events if e.after == begins and e.kind in ("tag", "ending")]
    label = str(stretch.section) if stretch.section else next(iter(kinds), stretch.name)
    changed = (
        (max(event.after - begins, 0), min(event.after + event.counts - begins, stretch.counts))
        for event in wall.events
        if event.kind == "change" and stretch.section
    )
    return CoursePiece(label, stretch.counts, tuple((first, last) for first, last in changed if first < last))
