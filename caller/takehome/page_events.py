"""Tags, restarts, changes and the ending on the page to print: what each box says, and behind which section."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate

from caller.dance.walls import Dance
from caller.routine.parts import Cut, Replacement, Routine, Section
from caller.takehome.page_lines import PageBlock, PageLayout


@dataclass(frozen=True, slots=True)
class EventBox:
    """behind: the section, from 0, where it is danced first."""

    behind: int
    block: PageBlock


def events_of(dance: Dance, reader: PageLayout) -> Iterator[EventBox]:
    """Each tag, restart, change and the ending, with the section behind which it is danced first."""
    routine = dance.routine
    for tag in routine.tags:
        when = f": {_walls(tag.cuts, 'after ')}{_facing(dance, 'tag', tag.cuts)}" if tag.cuts else ""
        block = PageBlock("tag", f"{f'Tag {tag.name}'.strip()}{when}", reader.lines(tag.passage))
        yield EventBox(_behind(dance, tag.cuts), block)
    for restart in routine.restarts:
        when = f"{_walls(restart.cuts, 'in ')}{_facing(dance, 'restart', restart.cuts)}"
        block = PageBlock("restart", f"Restart: {when}", reader.replaced(restart.replacements))
        yield EventBox(_behind(dance, restart.cuts), block)
    for change in routine.changes:
        walls = f"wall{'s' if len(change.walls) > 1 else ''} {_listed(change.walls)}"
        block = PageBlock("change", f"Step change: {walls}", reader.replaced(change.replacements))
        yield EventBox(_changed(routine, change.replacements), block)
    if (ending := routine.ending) is not None:
        when = f"{_walls((ending.cut,), 'in ')}{_facing(dance, 'ending', (ending.cut,))}"
        block = PageBlock("ending", f"Ending: {when}", reader.lines(ending.passage))
        yield EventBox(_behind(dance, (ending.cut,)), block)


def _behind(dance: Dance, cuts: Sequence[Cut]) -> int:
    """The section at whose end, or within which, the first of some cuts is; the last one where that is not told."""
    sections = dance.routine.sections
    last = len(sections) - 1
    if not cuts:
        return last
    part = next((wall.part for wall in dance.walls if wall.number == cuts[0].wall), "")
    own = [n for n, section in enumerate(sections) if section.part == part] or [last]
    ends = accumulate(sections[n].passage.counts for n in own)
    after = cuts[0].after
    return next((n for n, end in zip(own, ends, strict=True) if after is not None and after <= end), own[-1])


def _changed(routine: Routine, replacements: Sequence[Replacement]) -> int:
    """The section that is first changed."""
    places = [(section.part, section.number) for section in routine.sections]
    first = (replacements[0].part, replacements[0].section)
    return places.index(first) if first in places else len(places) - 1


def _facing(dance: Dance, kind: str, cuts: Sequence[Cut]) -> str:
    """ ", facing 3:00": the way they face there, each wall's where that differs; "" where no wall has it."""
    faced: list[str] = []
    for wall in dance.walls:
        for event in wall.events if wall.number in [cut.wall for cut in cuts] else ():
            if event.kind == kind:
                at = wall.at + event.after
                faced.append(next((m.before.facing for m in wall.movements if m.at >= at), wall.ends).clock)
    clocks = faced if len(set(faced)) > 1 else faced[:1]
    return f", facing {_and(clocks)}" if clocks else ""


def _walls(cuts: Sequence[Cut], before: str) -> str:
    """ "in wall 5 after 16 counts"; a tag at a wall's end is "after wall 2"."""
    after = cuts[0].after
    walls = f"{'walls' if len(cuts) > 1 else 'wall'} {_listed([cut.wall for cut in cuts])}"
    return f"{before}{walls}" if after is None else f"in {walls} after {after} counts"


def _listed(numbers: Sequence[int]) -> str:
    return _and([str(number) for number in numbers])


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def happens_in(section: Section, routine: Routine) -> Iterator[str]:
    """The tags and restarts of its counts that no heading tells of where they stand: within it, and elsewhere than the
    first time."""
    before = sum(s.passage.counts for s in routine.sections if s.part == section.part and s.number < section.number)
    for kind, events in (("Tag", routine.tags), ("Restart", routine.restarts)):
        for first, cut in ((event.cuts[0], cut) for event in events for cut in event.cuts if not section.part):
            after = None if cut.after is None else cut.after - before
            if after == section.passage.counts and cut.after != first.after:
                yield f"{kind} here in wall {cut.wall}"
            elif after is not None and 0 < after < section.passage.counts:
                yield f"{kind} in wall {cut.wall} after count {after}"
