"""The dance that is danced beside the one that is called, as a screen shows it: one line. Pure."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from fractions import Fraction

from caller.calls.glance import events_ahead
from caller.calls.group import Group
from caller.calls.groups import groups_between, shown_words
from caller.calls.places import movements_from, place_in_section, stretch_at, wall_at
from caller.calls.wording import number_of
from caller.dance.walls import Dance


@dataclass(frozen=True, slots=True)
class Beside:
    """groups: what is called together in it."""

    dance: Dance
    groups: tuple[Group, ...]

    @classmethod
    def of(cls, dance: Dance) -> Beside:
        return cls(dance, tuple(groups_between(dance, Fraction(0), Fraction(dance.counts))))

    def words(self, at: Fraction) -> str:
        """ "Chalk Line: wall 3, section 1, count 5, facing 6:00: vine right". at: the count under way, since the first
        step."""
        wall = wall_at(self.dance, at)
        stretch = stretch_at(wall, at)
        section = f"section {stretch.section}" if stretch.section else stretch.name
        count = number_of(place_in_section(wall, at), self.dance.routine.header.meter)
        coming = next(movements_from(self.dance, at), None)
        facing = coming[1].before.facing if coming else wall.ends
        index = bisect_right(self.groups, at, key=lambda group: group.at) - 1
        call = f": {shown_words(self.groups[max(index, 0)])}" if self.groups else ""
        ahead = next(events_ahead(self.dance, wall, at), None)
        call += f"; {ahead.words} in {ahead.in_counts}" if ahead else ""
        title = self.dance.routine.header.title
        return f"{title}: wall {wall.number}, {section}, count {count}, facing {facing}{call}"
