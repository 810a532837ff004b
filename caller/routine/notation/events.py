"""Tags, restarts, changes and endings: their places in the routine, and their steps."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from caller.routine.count import read_counts
from caller.routine.facing import Facing
from caller.routine.findings import Finding, Place
from caller.routine.layout.blocks import EventBlock, ReplacedLines
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG
from caller.routine.layout.merge import Event, Happening, merged
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.parts import (
    Change,
    Cut,
    Ending,
    Feel,
    OrderItem,
    Passage,
    Replacement,
    Restart,
    Section,
    Step,
    Tag,
)
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_MOST_TOLD = 16  # counts that steps without counts may take
_WALLS_AHEAD = 12  # walls that "every odd wall" reaches: more than any song has
_EVERY = {"odd": (1, 2), "even": (2, 2), "all": (1, 1)}


@dataclass(slots=True)
class Laid:
    """The sections read so far. after: the weight after each; bases: the counts that each one's numbers run on from;
    start: the weight before the first step."""

    start: Weight
    sections: list[Section] = field(default_factory=list)
    after: list[Weight | None] = field(default_factory=list)
    bases: list[int] = field(default_factory=list)

    @property
    def counts(self) -> int:
        return sum(section.passage.counts for section in self.sections)

    def counts_before(self, index: int) -> int:
        """Counts of its part before the section of this index."""
        if not self.sections:
            return 0
        part = self.sections[min(index, len(self.sections) - 1)].part
        return sum(section.passage.counts for section in self.sections[:index] if section.part == part)

    def weight_at(self, after: int | None) -> Weight | None:
        """The weight after so many counts of the sections, None = after all of them."""
        if after is None:
            return self.after[-1] if self.after else self.start
        return self._within(list(zip(self.sections, self.after, strict=True)), after)

    def part_end(self, part: str, counts: int | None) -> Weight | None:
        """The weight after a part, or its first so many counts."""
        own = [(s, w) for s, w in zip(self.sections, self.after, strict=True) if s.part == part]
        if not own:
            return self.start
        return own[-1][1] if counts is None else self._within(own, counts)

    def _within(self, sections: Sequence[tuple[Section, Weight | None]], counts: int) -> Weight | None:
        weight: Weight | None = self.start
        passed = 0
        for section, after in sections:
            if passed + section.passage.counts > counts:
                return weight_before(section.passage, Fraction(counts - passed), weight)
            passed += section.passage.counts
            weight = after
        return weight


def weight_before(passage: Passage, at: Fraction, weight: Weight | None) -> Weight | None:
    """The weight before the step at this position, entering with ``weight``; None after something unread."""
    for step in passage.steps:
        if step.at >= at:
            break
        weight = None if step.movement.action == "unread" else step.movement.weight or weight
    return weight


@dataclass(slots=True)
class Events:
    tags: list[Tag] = field(default_factory=list)
    restarts: list[Restart] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    ending: Ending | None = None


def read_events(
    blocks: Sequence[EventBlock], laid: Laid, order: Sequence[OrderItem], feel: Feel, vocabulary: Vocabulary
) -> tuple[Events, list[Finding]]:
    """The events of a sheet whose sections are laid already."""
    reader = _EventReader(laid, order, feel, vocabulary)
    found = merged(blocks, reader.after, reader.walls)
    reader.findings += found.findings
    reader.replacing = {line for event in found.events if event.kind == RESTART for line in _lines_of(event)}
    for event in found.events:
        _READ[event.kind](reader, event)
    return reader.out, reader.findings


def _lines_of(event: Event) -> list[int]:
    """The lines of a restart's own step change."""
    return [one.heading.number for one in event.replaced]


class _EventReader:
    def __init__(self, laid: Laid, order: Sequence[OrderItem], feel: Feel, vocabulary: Vocabulary) -> None:
        self.laid = laid
        self.order = order
        self.feel = feel
        self.vocabulary = vocabulary
        self.out = Events()
        self.findings: list[Finding] = []
        self.untold: set[int] = set()  # walls on which steps change that nobody could read
        self.replacing: set[int] = set()  # lines that tell a restart and its own step change

    # -- where

    def walls(self, block: EventBlock) -> tuple[int, ...]:
        """The walls that a block tells, "every odd wall" and "each time you face the back" as numbers."""
        mention = block.mention
        if mention.walls:
            return mention.walls
        if mention.every:
            first, by = _EVERY[mention.every]
            return tuple(range(first, _WALLS_AHEAD + 1, by))
        if mention.facing_walls is not None:
            turned = sum(
                step.movement.turn.eighths
                for section in self.laid.sections
                for step in section.passage.steps
                if step.movement.turn
            )
            facings = [Facing(turned * (n - 1)) for n in range(1, _WALLS_AHEAD + 1)]
            return tuple(n for n, facing in enumerate(facings, 1) if facing == mention.facing_walls)
        if mention.last_wall:
            return (self._last_wall(),)
        return ()

    def _last_wall(self) -> int:
        parts = sum(1 for item in self.order if item.part)
        return parts or 0

    def after(self, block: EventBlock) -> int | None:
        """Counts into the wall, None = at its end, or not told."""
        mention = block.mention
        standing = self._standing(block)
        if mention.section is not None:
            return self._after_section(mention.section, mention.within)
        if mention.after is not None:
            within = block.here[1] - self._base(block.here[0]) if block.here is not None else None
            if standing is not None and mention.here and standing != mention.after and within == mention.after:
                return standing
            if standing is not None and mention.kind == RESTART and within == mention.after and self._inside(block):
                return standing
            return mention.after
        if mention.here or (mention.kind == RESTART and not mention.ends and not self._at_the_end(block)):
            return standing
        return None

    def _at_the_end(self, block: EventBlock) -> bool:
        """Whether the line stands below all that is danced, and so at no place of it."""
        if block.here is None:
            return True
        index, _count = block.here
        return index + 1 >= len(self.laid.sections) and not (index < len(self.laid.sections) and self._inside(block))

    def _base(self, index: int) -> int:
        return self.laid.bases[index] if index < len(self.laid.bases) else 0

    def _standing(self, block: EventBlock) -> int | None:
        if block.here is None or block.here[0] >= len(self.laid.sections):
            return None
        index, count = block.here
        return self.laid.counts_before(index) + count - self._base(index)

    def _inside(self, block: EventBlock) -> bool:
        """Whether more of the section is danced after the line."""
        assert block.here is not None
        index, count = block.here
        return count - self._base(index) < self.laid.sections[index].passage.counts

    def _after_section(self, number: int, within: int | None) -> int | None:
        for index, section in enumerate(self.laid.sections):
            if section.number == number:
                before = self.laid.counts_before(index)
                if within is None:
                    return before + section.passage.counts
                base = self._base(index)
                return before + (within - base if base and within > base else within)
        return None

    def _cut(self, happening: Happening, tag: bool = False) -> Cut:
        after = happening.after
        if after is not None and tag and not self.order and after >= self.laid.counts and after == self.laid.counts:
            after = None
        changed = happening.wall in self.untold
        return Cut(happening.wall, after, happening.facing, happening.sure, changed, happening.line.place)

    # -- steps

    def _passage(self, lines: Sequence[Line], weight: Weight | None) -> ReadPassage:
        return self._read(lines, Context(self.feel, self.vocabulary), weight)

    def _read(self, lines: Sequence[Line], context: Context, weight: Weight | None) -> ReadPassage:
        read = read_passage(lines, context, weight)
        self.findings += read.findings
        return read

    # -- each kind

    def _tag(self, event: Event) -> None:
        place = event.heading.place
        if event.happenings and event.happenings[0].after is not None:
            weight = self.laid.weight_at(event.happenings[0].after)
        else:
            weight = self._weight_before_tag(event.name) if self.order else self.laid.weight_at(None)
        if not event.lines and event.words:
            event.lines = self._counted(event, weight)
        read = self._passage(event.lines, weight)
        self._length(event, read)
        if not event.happenings and not self.order:
            self._find(place, "event-place", "on which wall is this tag danced? Say, for one, 'Tag: after wall 2'")
            return
        for first in dict.fromkeys((h.first, h.times) for h in event.happenings):
            happenings = [h for h in event.happenings if (h.first, h.times) == first]
            passage = _sized(read.passage, first[0], first[1])
            cuts = tuple(self._cut(h, tag=True) for h in happenings)
            self.out.tags.append(Tag(event.name, cuts, passage, place))
        if not event.happenings:
            self.out.tags.append(Tag(event.name, (), read.passage, place))

    def _counted(self, event: Event, weight: Weight | None) -> list[Line]:
        """Steps told in a sentence without counts, on as many as they take."""
        line, words = event.heading, event.words
        lengths = [event.long] if event.long else []
        fits: Line | None = None
        for long in (*lengths, *range(1, _MOST_TOLD + 1)):
            counted = Line(line.number, line.column, f"{f'1-{long}' if long > 1 else '1'}  {words}", False)
            read = read_passage([counted], Context(self.feel, self.vocabulary), weight)
            if read.findings or any(s.movement.action == "unread" for s in read.passage.steps):
                continue
            if event.long or len(read.passage.steps) == long:
                return [counted]
            fits = fits or counted
        if fits is not None:
            return [fits]
        return [Line(line.number, line.column, f"1-{event.long or 4}  {words}", False)]

    def _length(self, event: Event, read: ReadPassage) -> None:
        place = event.heading.place
        if not event.lines:
            self._find(
                place,
                "event-place",
                f"this {event.kind} has no steps; write them below it, such as '1-4  Sway R, L, R, L'",
            )
        elif event.long is not None and read.passage.counts != event.long:
            message = f"this {event.kind} is said to have {event.long} counts, and its steps take {read.passage.counts}"
            self._find(place, "counts-total", message)

    def _weight_before_tag(self, name: str) -> Weight | None:
        """In a phrased order: after the part that stands before the tag."""
        before: OrderItem | None = None
        for item in self.order:
            if item.tag is not None and item.tag in (name, "") and before is not None:
                return self.laid.part_end(before.part, before.counts)
            if item.part:
                before = item
        return self.laid.start

    def _restart(self, event: Event) -> None:
        place = event.heading.place
        replacements = self._replacements(event)
        if event.unplaced or not event.happenings:
            self._find(
                place, "event-place", "on which wall is this restart? Say, for one, 'Restart on wall 3 after 16 counts'"
            )
            return
        for happening in event.happenings:
            changed = self._change_ends(happening.wall)
            if happening.after is None:
                happening.after = self._after_replaced(replacements)
            elif changed is not None and happening.after < changed:
                happening.after = changed  # "dance 14 counts, then a coaster instead, and restart"
            elif replacements and happening.after == self._before_replaced(replacements):
                happening.after = self._after_replaced(replacements)
        if any(h.after is None for h in event.happenings):
            wall = event.happenings[0].wall
            self._find(
                place, "event-place", f"after how many counts? Say, for one, 'Restart on wall {wall} after 16 counts'"
            )
            return
        self.out.restarts.append(Restart(tuple(self._cut(h) for h in event.happenings), replacements, place))

    def _change_ends(self, wall: int) -> int | None:
        """Counts into the wall after which its changed steps end."""
        ends = [
            self.laid.counts_before(index) + one.last
            for change in self.out.changes
            if wall in change.walls
            for one in change.replacements
            for index, s in enumerate(self.laid.sections)
            if (s.number, s.part) == (one.section, one.part)
        ]
        return max(ends, default=None)

    def _before_replaced(self, replacements: tuple[Replacement, ...]) -> int | None:
        """Counts into a wall before the first changed step, None where its section is not there."""
        first = replacements[0]
        for index, s in enumerate(self.laid.sections):
            if (s.number, s.part) == (first.section, first.part):
                return self.laid.counts_before(index) + first.first - 1
        return None

    def _after_replaced(self, replacements: tuple[Replacement, ...]) -> int | None:
        """A restart told together with a step change comes after the changed steps."""
        change = self.out.changes[-1].replacements if not replacements and self.out.changes else replacements
        if not change:
            return None
        last = change[-1]
        index = next(
            (n for n, s in enumerate(self.laid.sections) if (s.number, s.part) == (last.section, last.part)), None
        )
        return self.laid.counts_before(index) + last.last if index is not None else None

    def _change(self, event: Event) -> None:
        place = event.heading.place
        if event.unplaced or not event.happenings:
            if event.replaced:
                self._find(place, "event-place", "on which wall is this change? Say, for one, 'Change: wall 6'")
            return
        replacements = self._replacements(event)
        if not event.replaced:
            if event.heading.number in self.replacing:
                return  # told with the restart of the same sentence
            self.untold.update(h.wall for h in event.happenings)
            self._find(
                place, "unread", "it is not said which steps change on this wall; write them as '7-8  Walk R, L' below"
            )
            return
        self.out.changes.append(Change(tuple(h.wall for h in event.happenings), replacements, place))

    def _ending(self, event: Event) -> None:
        place = event.heading.place
        if self.out.ending is not None:
            line = self.out.ending.place.line
            self._find(place, "event-place", f"there is an ending already, on line {line}; a dance ends once")
            return
        happening = next((h for h in event.happenings if h.wall > 0), None)
        if happening is None:
            return  # an ending on a wall that only the music tells: kept as a note by the layout
        read = self._passage(event.lines, self.laid.weight_at(happening.after))
        if event.lines:
            self._length(event, read)
        self.out.ending = Ending(self._cut(happening), read.passage, place)

    # -- steps that take the place of a section's

    def _replacements(self, event: Event) -> tuple[Replacement, ...]:
        return tuple(r for block in event.replaced if (r := self._replacement(block, event)) is not None)

    def _replacement(self, block: ReplacedLines, event: Event) -> Replacement | None:
        numbers = [b.number for line in block.lines if (c := read_counts(line.text)) for b in c.beats if not b.part]
        index = self._section_index(block, event, numbers)
        place = block.heading.place
        if index is None:
            name = f"section {block.section}" if block.section else "section that these counts stand in"
            message = f"there is no {name} in this routine; it has {len(self.laid.sections)}"
            self._find(place, "event-place", message)
            return None
        if not numbers:
            self._passage(block.lines, None)
            return None
        section = self.laid.sections[index]
        base = self.laid.bases[index] if min(numbers) > self.laid.bases[index] else 0
        if not base and min(numbers) > section.passage.counts:
            base = self.laid.counts_before(index)
        first, last = min(numbers) - base, max(numbers) - base
        context = Context(self.feel, self.vocabulary, base, last - first + 1, first_count=first)
        before = weight_before(section.passage, Fraction(first - 1), self._enters(index))
        read = self._read(block.lines, context, before)
        return Replacement(section.number, first, last, read.passage, section.part, place)

    def _enters(self, index: int) -> Weight | None:
        """The weight before a section."""
        sections = self.laid.sections
        goes_on = index > 0 and sections[index - 1].part == sections[index].part
        return self.laid.after[index - 1] if goes_on else self.laid.start

    def _section_index(self, block: ReplacedLines, event: Event, numbers: list[int]) -> int | None:
        sections = self.laid.sections
        if block.section:
            parts = (block.part,) if block.part else tuple(s.part for s in sections)
            return next((n for n, s in enumerate(sections) if s.number == block.section and s.part in parts), None)
        if numbers and sections and max(numbers) > max(s.passage.counts for s in sections):  # counts of the whole wall
            return next(
                (
                    n
                    for n in range(len(sections))
                    if min(numbers) <= self.laid.counts_before(n) + sections[n].passage.counts
                ),
                None,
            )
        after = next((h.after for h in event.happenings if h.after is not None), None)
        if after is None and event.block is not None:
            after = self._standing(event.block)
            if after is None and event.block.within >= 0 and event.block.here is None:
                return min(event.block.within, len(sections) - 1)
        for n in range(len(sections)):
            if after is not None and after <= self.laid.counts_before(n) + sections[n].passage.counts:
                return n
        return 0 if len(sections) == 1 else None

    def _find(self, place: Place, code: str, message: str) -> None:
        self.findings.append(Finding(place, code, message))


def _sized(passage: Passage, first: int | None, times: int) -> Passage:
    """The first so many counts of a passage, or all of it so many times."""
    if first is not None and first < passage.counts:
        steps = tuple(step for step in passage.steps if step.at < first)
        phrases = tuple(phrase for phrase in passage.phrases if phrase.last < len(steps))
        return replace(passage, counts=first, steps=steps, phrases=phrases, claims=())
    if times < 2:
        return passage
    steps_: list[Step] = []
    phrases_ = []
    for time in range(times):
        shift, moved = passage.counts * time, len(passage.steps) * time
        steps_ += [replace(step, at=step.at + shift) for step in passage.steps]
        phrases_ += [replace(p, first=p.first + moved, last=p.last + moved) for p in passage.phrases]
    return replace(passage, counts=passage.counts * times, steps=tuple(steps_), phrases=tuple(phrases_), claims=())


_READ: dict[str, Callable[[_EventReader, Event], None]] = {
    TAG: _EventReader._tag,
    RESTART: _EventReader._restart,
    CHANGE: _EventReader._change,
    ENDING: _EventReader._ending,
}
