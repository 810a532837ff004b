"""One event told in several places is one event: announced in the header, marked where it is danced, its steps below a
heading of their own. What two places say of it must agree; where it does not, both lines are named.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product

from caller.routine.findings import Finding
from caller.routine.layout.blocks import EventBlock
from caller.routine.layout.happening import Event, Happening, Merged, faced_on
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG
from caller.routine.layout.one_sentence import heads, share_place, share_walls

_MOST_EVENTS = 400


After = Callable[[EventBlock], int | None]


def merged(blocks: Sequence[EventBlock], after: After, walls_of: Callable[[EventBlock], tuple[int, ...]]) -> Merged:
    """after: counts into the wall of a block's place, None where it has none; walls_of: its walls, with those told by
    "every odd" or a facing."""
    merging = _Merging(list(blocks)[:_MOST_EVENTS], after, walls_of)
    merging.inherit()
    merging.tags()
    for kind in (RESTART, CHANGE, ENDING):
        merging.cuts(kind)
    merging.out.events.sort(key=lambda event: (event.kind == RESTART, event.heading.number))
    return merging.out


class _Merging:
    def __init__(
        self, blocks: list[EventBlock], after: After, walls_of: Callable[[EventBlock], tuple[int, ...]]
    ) -> None:
        self.blocks = blocks
        self.after = after
        self.walls_of = walls_of
        self.out = Merged()

    def of(self, kind: str) -> list[EventBlock]:
        return [b for b in self.blocks if b.mention.kind == kind]

    def inherit(self) -> None:
        """ "On wall 3 replace 7&8 with walk, walk, and restart": the second event is on the walls of the first."""
        for before, block in zip(self.blocks, self.blocks[1:], strict=False):
            kinds = {before.mention.kind, block.mention.kind}
            if before.heading.number == block.heading.number and kinds == {CHANGE, RESTART}:
                share_walls(before.mention, block.mention)
                change, restart = (before, block) if block.mention.kind == RESTART else (block, before)
                share_place(change, restart.mention)
        for restart, change in product(self.of(RESTART), self.of(CHANGE)):
            if heads(restart, change):
                share_walls(restart.mention, change.mention)
                share_place(change, restart.mention)
        for cut in self.of(RESTART):
            own = next((t for t in self.of(TAG) if t.heading is cut.heading and t.mention.told), None)
            if own is not None and not own.mention.ends and not cut.mention.told:
                if cut.mention.here and cut.here is None:
                    cut.here = own.here  # "stomp R, stomp L (2 extra counts) and restart from here"
                    own.mention.here = own.mention.here or not own.mention.placed
                cut.mention.stand_where(own.mention)
                cut.here = cut.here or (own.here if cut.mention.here else None)
        for tag in self.of(TAG):
            own = next((b for b in self.of(RESTART) if b.heading is tag.heading and b.mention.told), None)
            if own is not None and not tag.mention.told and (tag.lines or tag.words):
                tag.mention.stand_where(own.mention)

    # -- tags

    def tags(self) -> None:
        """Those with steps, each with the walls that it is danced on from wherever they are told."""
        blocks = self.of(TAG)
        with_steps = [b for b in blocks if b.lines] or [b for b in blocks if b.words]
        events = {id(b): self._event(b) for b in with_steps}
        for b in with_steps:
            self._happen(events[id(b)], b)
        for b in blocks:
            if id(b) in events:
                continue
            target = self._target(b, with_steps)
            if b.within < 0 and with_steps and not (b.mention.told or b.mention.name or target):
                continue  # "2 tags, 1 restart (see bottom)"
            if target is not None:
                self._add_to_tag(events[id(target)], b, target)
            else:
                self._alone(b, blocks)
        self.out.events += events.values()

    def _event(self, b: EventBlock) -> Event:
        return Event(b.mention.kind, b.heading, b.mention.name, [], b.lines, b.replaced, b, b.words, b.mention.long)

    def _target(self, b: EventBlock, with_steps: list[EventBlock]) -> EventBlock | None:
        name = b.mention.name
        named = [t for t in with_steps if name and t.mention.name == name]
        if named:
            return next((t for t in named if not t.mention.told), named[0])
        untold = [t for t in with_steps if not t.mention.told]
        if not name or not any(t.mention.name for t in with_steps):
            same = [t for t in with_steps if set(self.walls_of(t)) & set(self.walls_of(b))]
            if same and not untold:
                return same[0]
            return untold[0] if untold else with_steps[0] if len(with_steps) == 1 else None
        return None

    def _add_to_tag(self, event: Event, b: EventBlock, target: EventBlock) -> None:
        mention = b.mention
        if mention.long is not None and event.long is None:
            event.long = mention.long
        if mention.name and not event.name and not target.mention.name:
            event.name = ""
        walls = self.walls_of(b)
        known = {h.wall: h for h in event.happenings}
        of_line = {wall for o in self.of(TAG) if o.heading.number == b.heading.number for wall in self.walls_of(o)}
        announced = b.within < 0 and target.mention.told and mention.first is None and b.heading is not target.heading
        if announced and walls and known and not of_line & set(known) and len(walls) == len(known):
            self._contradict(event, known[min(known)], b, f"wall {walls[0]}", f"wall {min(known)}")
            return
        if mention.told or mention.here:
            self._happen(event, b)

    def _alone(self, b: EventBlock, blocks: list[EventBlock]) -> None:
        """A tag whose steps stand nowhere: told by another block of the same walls, or missing."""
        twin = next((o for o in self.out.events if o.kind == TAG and o.name == b.mention.name), None)
        if twin is not None:
            self._happen(twin, b)
            return
        event = self._event(b)
        self._happen(event, b)
        self.out.events.append(event)

    # -- restarts, changes, endings

    def cuts(self, kind: str) -> None:
        blocks = self.of(kind)
        told = [b for b in blocks if self.walls_of(b)]
        marks = [b for b in blocks if not self.walls_of(b)]
        events: list[Event] = []
        for b in told:
            self._told(b, events, kind)
        open_walls = [(e, h) for e in events for h in e.happenings if h.after is None and kind != CHANGE]
        for n, mark in enumerate(marks):
            self._mark(mark, events, open_walls, n, len(marks))
        self.out.events += events

    def _told(self, b: EventBlock, events: list[Event], kind: str) -> None:
        event = self._event(b)
        for wall in self.walls_of(b):
            twin = next(
                (
                    (e, h)
                    for e in events
                    for h in e.happenings
                    if h.wall == wall and not (kind == CHANGE and e.replaced and b.replaced)
                ),
                None,
            )
            if twin is None:
                event.happenings.append(self._happening(wall, b))
                continue
            other, h = twin
            apart = kind == CHANGE or (kind == RESTART and not other.replaced and self.after(b) is not None)
            if apart and b.replaced and not {x.wall for x in other.happenings} <= set(self.walls_of(b)):
                other.happenings.remove(h)  # "both with a step change: walls 3 and 5", and each has its own below
                event.happenings.append(self._happening(wall, b))
            elif b.mention.after_change:
                h.after = None
            elif self.after(b) == h.after and self._claims_again(other, b):
                event.happenings.append(self._happening(wall, b))
            elif self._agree(other, h, b):
                other.add(b)
                h.face(b)
        if event.happenings:
            events.append(event)

    def _agree(self, other: Event, h: Happening, b: EventBlock) -> bool:
        """Takes on the place that the block tells; False, with a finding, where the two contradict each other."""
        after = self.after(b)
        if after is not None and h.after is not None and after != h.after:
            if self._changes(b, other):
                h.after = max(after, h.after)  # before and after the steps that change
            elif b.mention.kind != CHANGE:
                self._contradict(other, h, b, f"after {after} counts", f"after {h.after}")
                return False
        if h.after is None:
            h.after = after
        return True

    def _changes(self, b: EventBlock, other: Event) -> bool:
        """Whether steps change there, in the event's own words or in its sentence."""
        lines = {b.heading.number, other.heading.number}
        return bool(b.replaced or other.replaced) or any(
            x.replaced and x.heading.number in lines for x in self.of(CHANGE)
        )

    def _claims_again(self, other: Event, b: EventBlock) -> bool:
        """Two headings below the steps that claim one place: one of them is wrong."""
        blocks = [x for x in (other.block, b) if x is not None]
        return (
            len({x.heading.text.strip().lower() for x in blocks}) == 1
            and all(x.mention.after is not None for x in blocks)
            and bool(b.replaced or not other.replaced)
        )

    def _mark(
        self, mark: EventBlock, events: list[Event], waiting: list[tuple[Event, Happening]], index: int, marks: int
    ) -> None:
        """A place in the steps, or steps, of an event whose walls are told elsewhere."""
        after = self.after(mark)
        open_now = [(e, h) for e, h in waiting if h.after is None]
        if (mark.lines or mark.replaced) and _lends_its_steps(mark, events, after):
            return
        if after is not None and open_now:
            one_each = marks > 1 and marks - index <= len(open_now)
            for _, h in open_now[:1] if one_each else open_now:
                h.after = after
            return
        if _told_elsewhere(mark, events, after):
            return
        event = self._event(mark)
        if mark.mention.kind == RESTART and events and events[0].happenings and after is not None:
            other = events[0]
            if self._changes(mark, other) and after > (other.happenings[0].after or after):
                other.happenings[0].after = after  # "until count 10, then instead ... and restart (12 counts danced)"
                return
            message = (
                f"a restart is marked here, after {after} counts, but line {other.heading.number} says it is after "
                f"{other.happenings[0].after}; make them agree"
            )
            self.out.findings.append(Finding(mark.heading.place, "event-place", message))
            return
        event.unplaced = True
        events.append(event)

    # -- both

    def _happening(self, wall: int, b: EventBlock) -> Happening:
        m = b.mention
        faced = faced_on(b) if m.facing is not None else None
        return Happening(wall, self.after(b), b.heading, m.facing, m.times, m.first, m.sure, faced)

    def _happen(self, event: Event, b: EventBlock) -> None:
        known = {(h.wall, h.first) for h in event.happenings}
        for wall in self.walls_of(b):
            if (wall, b.mention.first) not in known:
                event.happenings.append(self._happening(wall, b))
                continue
            h = next(h for h in event.happenings if (h.wall, h.first) == (wall, b.mention.first))
            after = self.after(b)
            if after is not None and h.after is not None and after != h.after:
                self._contradict(event, h, b, f"after {after} counts", f"after {h.after}")
            h.after = h.after if h.after is not None else after
            h.face(b)
            h.times = max(h.times, b.mention.times)

    def _contradict(self, event: Event, known: Happening, b: EventBlock, one: str, other: str) -> None:
        first, second = sorted((b.heading.number, known.line.number))
        said, again = (one, other) if b.heading.number == first else (other, one)
        place = b.heading if b.heading.number == second else known.line
        message = f"line {first} says this {event.kind} is {said}, line {second} {again}; make them agree"
        self.out.findings.append(Finding(place.place, "event-place", message))


def _lends_its_steps(mark: EventBlock, events: list[Event], after: int | None) -> bool:
    """The steps told at the mark given to the first event without any; False where each has its own."""
    target = next((e for e in events if not (e.lines or e.replaced)), None)
    if target is None:
        return False
    target.lines, target.replaced, target.heading = mark.lines, mark.replaced, mark.heading
    target.long = target.long or mark.mention.long
    if after is not None:
        for happening in target.happenings:
            happening.after = happening.after if happening.after is not None else after
    return True


def _told_elsewhere(mark: EventBlock, events: list[Event], after: int | None) -> bool:
    """Whether the mark only announces what other lines tell."""
    kind = mark.mention.kind
    if after is not None and any(h.after == after for e in events for h in e.happenings):
        return True
    if not (mark.lines or mark.replaced) and after is None and (events or kind != RESTART):
        return True
    return (kind == CHANGE and not mark.replaced) or (kind == ENDING and bool(events) and not mark.lines)
