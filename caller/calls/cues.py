"""What wants to be said in a stretch of the dance, by manner of calling.

Conventions: a stretch runs from ``start`` on to before ``end``, in counts since the dance's first step; ``count_in``
counts are clicked before it. Cues come in the order in which they are wished: first the call before the count-in and
the count-in's numbers; then each at its count less its lead; at one moment walls before steps, and notices ahead after
them. The plan keeps that order. Walls and notices ahead are wished where the steps near their moment leave the most
time between two calls. What stands at the place of a tag, restart, change or ending is called with the notice of it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from caller.calls.announce import (
    WARNING_LEAD,
    ahead_cue,
    event_cue,
    notices,
    wall_cues,
)
from caller.calls.contrary import contraries
from caller.calls.forms import Forms
from caller.calls.free_foot import is_free, leaves_open
from caller.calls.group import Group, group_forms, swaps_foot
from caller.calls.groups import groups_between, shown_wordings
from caller.calls.meters import counting
from caller.calls.noticed import noticed
from caller.calls.on_count import each_count
from caller.calls.opening import count_in_cues, opening_cue, told_before
from caller.calls.places import movements_between, own_place, phrases_between, place_in_section, wall_at
from caller.calls.plan import CallKind, CountIn, Cue, Fading, Manner
from caller.calls.thinning import Fullness, changes, fullness, is_called
from caller.calls.waiting import STEP_LEAD, waiting
from caller.calls.wording import spoken_count
from caller.dance.walls import Dance, Wall, WallEvent
from caller.routine.count import label_of

ON_BEAT = Fraction(0)

# Groups that the call before the count-in may be for.
_MOST_OPENED = 4


@dataclass(frozen=True)
class _Stretch:
    dance: Dance
    start: Fraction
    end: Fraction
    count_in: int
    fading: Fading
    how: CountIn

    @cached_property
    def groups(self) -> list[Group]:
        return groups_between(self.dance, self.start, self.end)

    @cached_property
    def opens(self) -> int:
        """How many groups are called before the count-in."""
        return (
            told_before(self.groups[:_MOST_OPENED], self.start, self.dance.routine.header, self.how)
            if self.count_in
            else 0
        )


# The cues of one sort in a stretch of a dance.
_Source = Callable[[_Stretch], Iterator[Cue]]


def _steps(of: _Stretch) -> Iterator[Cue]:
    """Each group, to be called before its first movement, with the notice of what stands there."""
    how_full = fullness(of.dance, of.fading)
    placed = _events_at(of)
    ahead = counting(of.dance.routine.header.meter).ahead_counts
    before: Group | None = None
    told: set[tuple[object, ...]] = set()  # of what turns
    danced: set[tuple[object, ...]] = set()  # figures on their foot
    footed = next((n for n, group in enumerate(of.groups) if any(one.movement.foot for one in group.placed)), 0)
    for index, (group, contrary) in enumerate(zip(of.groups, contraries(of.groups), strict=True)):
        here = placed.get(own_place(group.wall, group.at, group.section), ())
        how = Fullness.FULL if here else how_full(group)
        called = is_called(group, of.groups[index - 1] if index else None, how, of.dance) or index == 0
        # A likeness holds to what has just been called.
        if not called or index < of.opens:
            before = None if not called else group
            continue
        # Which foot is free first, and after words that nobody could read, nobody knows; nor that one moves which bears
        # the weight.
        unsure = index in (0, footed) or leaves_open(of.groups[index - 1]) or not is_free(group)
        marked = bool(here) or unsure or changes(group)
        # A likeness holds to what has just been called.
        like = group.like and before is not None and not here
        turned = (group.names, group.placed)
        sided = turned in told and not here
        figure = (group.names, group.figure.lead) if group.names and group.figure else ()
        thin, first = how > Fullness.FULL, bool(figure) and figure not in danced
        forms = group_forms(
            replace(group, like=like),
            thin=thin,
            marked=marked,
            sided=sided,
            first=first,
            contrary=contrary,
            swaps=swaps_foot(before, group),
        )
        told.add(turned)
        danced.add(figure)
        before = group
        cue = _cue(group, forms, ahead)
        yield noticed(of.dance, of.start, of.count_in, cue, here) if here else cue


def _cue(group: Group, forms: Forms, ahead: Fraction) -> Cue:
    return Cue(
        CallKind.STEP,
        group.wall.number,
        group.at,
        group.wall.movements[group.first].step.count,
        forms.wordings,
        lead_counts=STEP_LEAD,
        ahead_counts=ahead,
        lost=forms.lost,
        in_parts=forms.in_parts,
        steps=True,
    )


def _events_at(of: _Stretch) -> dict[Fraction, list[tuple[Wall, WallEvent, bool]]]:
    """The events by their place, each with whether it has been announced ahead."""
    found: dict[Fraction, list[tuple[Wall, WallEvent, bool]]] = {}
    for notice in notices(of.dance, of.start, of.end):
        warned = ahead_cue(of.dance, notice, of.start, of.count_in) is not None
        for event in notice.events:
            found.setdefault(notice.wall.at + event.after, []).append((notice.wall, event, warned))
    return found


def _events(of: _Stretch) -> Iterator[Cue]:
    """The notices ahead; and those at the place where nothing is called with them."""
    for notice in notices(of.dance, of.start, of.end):
        first = next((group for group in of.groups if group.at >= notice.at), None)
        known = notice.events[0].kind == "restart" or first is None or first.at != notice.at  # how a wall begins
        words = "" if first is None or known else min(shown_wordings(first), key=len)
        ahead = ahead_cue(of.dance, notice, of.start, of.count_in, words)
        if ahead is not None:
            yield ahead


def _events_first(of: _Stretch) -> Iterator[Cue]:
    """The notices ahead; of what comes so soon that a notice would take the room of words on their counts, before the
    numbers of the count-in, where that is long enough."""
    bar = of.dance.routine.header.meter.counts
    for cue in _events(of):
        since = cue.at - of.start
        if of.count_in > bar and since <= WARNING_LEAD:
            before = since + of.count_in
            yield replace(cue, lead_counts=before, ahead_counts=before, heard_counts=since + bar + Fraction(1, 2))
        else:
            yield cue


def _bare_notices(of: _Stretch) -> Iterator[Cue]:
    """The notices at the place, without a step: where steps are not called ahead, or none is danced there."""
    for here in _events_at(of).values():
        for wall, event, warned in here:
            yield event_cue(of.dance, wall, event, must=not warned and wall.at + event.after > of.start)


def _stepless_notices(of: _Stretch) -> Iterator[Cue]:
    places = {own_place(group.wall, group.at, group.section) for group in of.groups}
    yield from (cue for cue in _bare_notices(of) if cue.at not in places)


def _words(of: _Stretch) -> Iterator[Cue]:
    """One word on each movement."""
    for wall, phrase in phrases_between(of.dance, of.start, of.end):
        for danced, forms in each_count(wall, phrase):
            yield Cue(CallKind.STEP, wall.number, danced.at, danced.step.count, forms, lead_counts=ON_BEAT)


def _counts(of: _Stretch) -> Iterator[Cue]:
    """The number of each whole count, and "and" for the movements between."""
    header = of.dance.routine.header
    whole = {of.start + n for n in range(int(of.end - of.start))}
    between = {danced.at for _, danced in movements_between(of.dance, of.start, of.end)}
    for at in sorted(whole | between):
        wall = wall_at(of.dance, at)
        place = place_in_section(wall, at)
        label = label_of(place, header.feel)
        yield Cue(
            CallKind.COUNT, wall.number, at, label, (spoken_count(label, place, header.meter),), lead_counts=ON_BEAT
        )


def _count_in(of: _Stretch) -> Iterator[Cue]:
    wall = wall_at(of.dance, of.start).number
    return count_in_cues(of.dance, wall, of.start, of.count_in, of.how)


def _whole_count_in(of: _Stretch) -> Iterator[Cue]:
    """Where no call takes the place of its last numbers."""
    wall = wall_at(of.dance, of.start).number
    return count_in_cues(of.dance, wall, of.start, of.count_in, CountIn.NUMBERS)


def _opening(of: _Stretch) -> Iterator[Cue]:
    if (cue := opening_of(of)) is not None:
        yield cue


def opening_of(of: _Stretch) -> Cue | None:
    """The call before the count-in; where the first figure is called in it, only if there is room."""
    groups = of.groups[: max(of.opens, 1)]
    cue = opening_cue(groups, of.dance, of.start, of.how, of.count_in) if of.count_in else None
    return cue if cue is None or of.opens or of.count_in >= cue.heard_counts + STEP_LEAD else None


def _walls(of: _Stretch) -> Iterator[Cue]:
    return wall_cues(of.dance, of.start, of.end)


_SOURCES: dict[Manner, tuple[_Source, ...]] = {
    Manner.AHEAD: (_opening, _count_in, _events, _stepless_notices, _walls, _steps),
    Manner.ON_COUNT: (_whole_count_in, _events_first, _bare_notices, _walls, _words),
    Manner.COUNTS: (_whole_count_in, _counts),
    Manner.PROMPTS: (_whole_count_in, _events, _bare_notices, _walls),
    Manner.QUIET: (),
}


def cues_for(
    dance: Dance,
    manner: Manner,
    start: Fraction,
    end: Fraction,
    count_in: int = 0,
    fading: Fading = Fading.USUAL,
    how: CountIn = CountIn.LEVEL,
) -> tuple[Cue, ...]:
    """The cues of a stretch in the order in which they are wished. fading: of the steps called ahead; how: the count-in
    ends."""
    stretch = _Stretch(dance, start, end, count_in, fading, how)
    cues = [cue for source in _SOURCES[manner] for cue in source(stretch)]
    steps = sorted(cue.at - cue.lead_counts for cue in cues if cue.kind is CallKind.STEP or cue.steps)
    return tuple(sorted((waiting(cue, steps) for cue in cues), key=_order(start)))


def opening_for(
    dance: Dance, manner: Manner, start: Fraction, end: Fraction, count_in: int, how: CountIn
) -> Cue | None:
    """The call before the count-in of a stretch."""
    if manner is not Manner.AHEAD:
        return None
    return opening_of(_Stretch(dance, start, end, count_in, Fading.USUAL, how))


def _order(start: Fraction) -> Callable[[Cue], tuple[int, Fraction, bool]]:
    def order(cue: Cue) -> tuple[int, Fraction, bool]:
        # What is to be heard before the count-in, the count-in, the rest.
        before = cue.heard_counts > 0 and cue.at - cue.heard_counts < start
        first = 0 if before else 1 if cue.kind is CallKind.COUNT_IN else 2
        # A notice ahead can wait for a step wished at the same moment; a step can't wait for the notice.
        return first, cue.at - cue.lead_counts, cue.heard_counts > 0

    return order
