"""Tags, restarts, changes and endings: what each kind of event is made of, and what is missing of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from caller.routine.findings import Finding, Place
from caller.routine.layout.blocks import EventBlock, first_count
from caller.routine.layout.counted import shifted
from caller.routine.layout.happening import Event, Happening
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG
from caller.routine.layout.merge import merged
from caller.routine.meter import Feel
from caller.routine.notation.ending_places import in_their_place
from caller.routine.notation.lengths import counts_taken, sized
from caller.routine.notation.likely_place import likely_place
from caller.routine.notation.passage import Context, ReadPassage, read_passage
from caller.routine.notation.places import Places
from caller.routine.notation.remarks import clipped
from caller.routine.notation.replacements import changes_steps, read_replacements, where_restarts
from caller.routine.notation.sections import Laid
from caller.routine.notation.uncounted_steps import held_for, on_counts, plain_ending, told_last, without_last
from caller.routine.parts import Change, Cut, Ending, OrderItem, Replacement, Restart, Tag
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_SAME_AGAIN = re.compile(
    r"\b(?:the\s+same\s+again|(?:the|those)\s+same\s+(?:\w+\s+){1,2}(?:again|a\s+second\s+time|once\s+more)|same\s+again|all\s+that\s+again|and\s+repeat|once\s+more|do\s+(?:that|it)\s+twice)\b",
    re.IGNORECASE,
)


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
    found = merged(blocks, reader.places.after, reader.places.walls)
    reader.findings += found.findings
    cutting = [event for event in found.events if event.kind == RESTART and event.replaced]
    lines = [event.heading for event in cutting] + [b.heading for event in cutting for b in event.replaced]
    reader.replacing = {line.number for line in lines}
    reader.changing = {happening.wall for event in cutting for happening in event.happenings}
    for event in found.events:
        _READ[event.kind](reader, event)
    return reader.out, reader.findings


class _EventReader:
    def __init__(self, laid: Laid, order: Sequence[OrderItem], feel: Feel, vocabulary: Vocabulary) -> None:
        self.laid = laid
        self.places = Places(laid, order)
        self.order = order
        self.feel = feel
        self.vocabulary = vocabulary
        self.out = Events()
        self.findings: list[Finding] = []
        self.untold: set[int] = set()  # walls on which steps change that nobody could read
        self.replacing: set[int] = set()  # lines that tell a restart and its own step change
        self.changing: set[int] = set()  # the walls of such

    def _cut(self, happening: Happening, tag: bool = False) -> Cut:
        after = happening.after
        if after is not None and tag and not self.order and after >= self.laid.counts and after == self.laid.counts:
            after = None
        changed = happening.wall in self.untold
        told = happening.faced or happening.line
        return Cut(happening.wall, after, happening.facing, happening.sure, changed, told.place)

    # -- steps

    def _passage(self, lines: Sequence[Line], weight: Weight | None) -> ReadPassage:
        read = read_passage(lines, Context(self.feel, self.vocabulary), weight)
        self.findings += read.findings
        return read

    def _replaced(self, event: Event) -> tuple[Replacement, ...]:
        replacements, findings = read_replacements(event, self.places, self.feel, self.vocabulary)
        self.findings += findings
        return replacements

    # -- each kind

    def _tag(self, event: Event) -> None:
        place = event.heading.place
        if event.happenings and event.happenings[0].after is not None:
            weight = self.laid.weight_at(event.happenings[0].after)
        else:
            weight = self._weight_before_tag(event.name) if self.order else self.laid.weight_at(None)
        if not event.lines and event.words:
            event.lines = self._counted(event, weight)
        read = self._told_again(event, self._passage(event.lines, weight))
        self._length(event, read)
        if not event.happenings and not self.order:
            self._find(place, "event-place", "on which wall is this tag danced? Say, for one, 'Tag: after wall 2'")
            return
        danced: dict[tuple[int | None, int, int | None], list[Cut]] = {}  # first, times, after
        for h in event.happenings:
            cut = self._cut(h, tag=True)
            danced.setdefault((h.first, h.times, cut.after), []).append(cut)
        for (first, times, _), cuts in danced.items():
            self.out.tags.append(Tag(event.name, tuple(cuts), sized(read.passage, first, times), place))
        if not event.happenings:
            self.out.tags.append(Tag(event.name, (), read.passage, place))

    def _counted(self, event: Event, weight: Weight | None) -> list[Line]:
        """Steps told in a sentence without counts, on as many as they take."""
        words = held_for(event)
        fits = self._on_counts(event, words, weight)
        return [fits or Line(event.heading.number, event.heading.column, f"1-{event.long or 4}  {words}", False)]

    def _on_counts(self, event: Event, words: str, weight: Weight | None) -> Line | None:
        context = Context(self.feel, self.vocabulary)
        return on_counts(event.heading, words, event.long, lambda line: read_passage([line], context, weight))

    def _last_steps(self, event: Event, weight: Weight | None) -> list[Line]:
        """An ending's steps on counts: all that is told, else what is left of it without talk and without what stands
        last and can't be read, which is told in a finding, so that nothing is lost in silence."""
        if not event.words and event.block is not None:
            event.words = told_last(event.block.text)
        words = held_for(event)
        place = event.heading.place
        tried = [plain_ending(words), words] if words else []
        for one in tried:
            if (fits := self._on_counts(event, one, weight)) is not None:
                return [fits]
        for shorter, last in without_last(tried[0] if tried else ""):
            if (fits := self._on_counts(event, shorter, weight)) is not None:
                message = f"{last!r} is not known here and passed over; write it below if it is a step"
                self._find(place, "guess", message)
                return [fits]
        if words:
            message = f"what is danced in this ending can't be read, so it is not called: {clipped(words.strip())!r}"
            self._find(place, "unread", f"{message}; write it below, such as '1-2  Stomp R, hold'")
        return []

    def _told_again(self, event: Event, read: ReadPassage) -> ReadPassage:
        """ "Eight beats: step to the right and touch, ..., and then the same again": as often as fills them."""
        counts = read.passage.counts
        again = event.block is not None and _SAME_AGAIN.search(event.block.text) is not None
        if not again or not event.long or not counts or event.long % counts or event.long == counts:
            return read
        return replace(read, passage=sized(read.passage, None, event.long // counts))

    def _length(self, event: Event, read: ReadPassage) -> None:
        place = event.heading.place
        if not event.lines:
            self._find(
                place,
                "event-place",
                f"this {event.kind} has no steps; write them below it, such as '1-4  Sway R, L, R, L'",
            )
        elif event.long is not None and (taken := counts_taken(event, read.passage)) != event.long:
            if any(taken * h.times == event.long for h in event.happenings):
                return  # "the rocking chair twice, 8 counts"
            message = f"this {event.kind} is said to have {event.long} counts, and its steps take {taken}"
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
        told = len(self.findings)
        replacements = self._replaced(event)
        if event.replaced and not replacements and len(self.findings) == told and changes_steps(event):
            message = "it can't be read which steps change before it; write them as '7-8  Walk R, L' below"
            self._find(place, "unread", message)
        if event.unplaced or not event.happenings:
            self._find(
                place, "event-place", "on which wall is this restart? Say, for one, 'Restart on wall 3 after 16 counts'"
            )
            return
        if self._ends_early(event, replacements) or self._starts_again_there(event):
            return
        replacements = where_restarts(event, replacements, self.laid, self.out.changes)
        for happening in event.happenings:
            if happening.after is None and not self.order:
                self._take_likely(event, happening)
        if any(h.after is None for h in event.happenings):
            wall = event.happenings[0].wall
            self._find(
                place, "event-place", f"after how many counts? Say, for one, 'Restart on wall {wall} after 16 counts'"
            )
            return
        for after in dict.fromkeys(h.after for h in event.happenings):
            cuts = tuple(self._cut(h) for h in event.happenings if h.after == after)
            self.out.restarts.append(Restart(cuts, replacements, place))

    def _take_likely(self, event: Event, happening: Happening) -> None:
        """The one place that agrees with what is said of a restart, told as the guess that it is."""
        happening.after = likely_place(event, happening, self.laid, self.out.restarts)
        if happening.after is not None:
            place = f"Restart on wall {happening.wall} after {happening.after} counts"
            self._find(event.heading.place, "guess", f"the place is not told in counts; write '{place}' to be sure")

    def _change(self, event: Event) -> None:
        place = event.heading.place
        if event.unplaced or not event.happenings:
            if event.replaced:
                self._find(place, "event-place", "on which wall is this change? Say, for one, 'Change: wall 6'")
            return
        told = len(self.findings)
        replacements = self._replaced(event)
        if self._ends_early(event, replacements):
            return
        if not replacements:
            same = event.heading.number in self.replacing or {h.wall for h in event.happenings} <= self.changing
            if same:
                return  # told with the restart of the same sentence, or of the same wall
            self.untold.update(h.wall for h in event.happenings)
            if len(self.findings) == told:
                message = "it can't be read which steps change on this wall; write them as '7-8  Walk R, L' below"
                self._find(place, "unread", message)
            return
        self.out.changes.append(Change(tuple(h.wall for h in event.happenings), replacements, place))

    def _starts_again_there(self, event: Event) -> bool:
        """Whether the change of the same sentence has told that restart: "wall 5 has no section 4"."""
        walls = {h.wall for h in event.happenings if h.after is None}
        lines = {event.heading.number, event.block.heading.number if event.block is not None else 0}
        return bool(walls) and any(
            one.place.line in lines and walls == {cut.wall for cut in one.cuts} for one in self.out.restarts
        )

    def _ends_early(self, event: Event, replacements: Sequence[Replacement]) -> bool:
        """Whether what is left out is the wall's last: then the wall starts again before it."""
        if len(replacements) != 1 or not replacements[0].leaves_out or self.order:
            return False
        last = self.laid.sections[-1]
        if (replacements[0].section, replacements[0].last) != (last.number, last.passage.counts):
            return False
        after = self.laid.counts - (replacements[0].last - replacements[0].first + 1)
        cuts = tuple(self._cut(replace(h, after=after)) for h in event.happenings)
        self.out.restarts.append(Restart(cuts, (), event.heading.place))
        return True

    def _ending(self, event: Event) -> None:
        place = event.heading.place
        if self.out.ending is not None:
            line = self.out.ending.place.line
            self._find(place, "event-place", f"there is an ending already, on line {line}; a dance ends once")
            return
        happening = next((h for h in event.happenings if h.wall > 0), None)
        if happening is None:
            return  # an ending on a wall that only the music tells: kept as a note by the layout
        in_their_place(event, happening, self.laid)
        weight = self.laid.weight_at(happening.after)
        after = happening.after or 0
        if event.lines and after and (counted := self.laid.counted_on(first_count(event.lines[0]) or 1, after)):
            event.lines = [shifted(line, -counted) for line in event.lines]
        told = event.lines
        if not told:
            event.lines = self._last_steps(event, weight)
        read = self._passage(event.lines, weight)
        if told:
            self._length(event, read)
        self.out.ending = Ending(self._cut(happening), read.passage, place)

    def _find(self, place: Place, code: str, message: str) -> None:
        self.findings.append(Finding(place, code, message))


_READ: dict[str, Callable[[_EventReader, Event], None]] = {
    TAG: _EventReader._tag,
    RESTART: _EventReader._restart,
    CHANGE: _EventReader._change,
    ENDING: _EventReader._ending,
}
