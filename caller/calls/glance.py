"""What a glance at the screen tells at one frame of a take: a pure function of both, quick enough for every look.

Conventions: a count has been reached on the frame that the timeline gives it, so that what shows agrees with what
sounds. Words are as shown: numbers in figures, facings by the clock.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import tee
from math import ceil

from caller.calls.groups import shown_words
from caller.calls.places import (
    event_between,
    last_movement_before,
    movements_from,
    own_place,
    place_in_section,
    stretch_at,
    wall_at,
)
from caller.calls.plan import Call, CallKind, Manner
from caller.calls.take import Take
from caller.calls.wording import count_in_number, number_of, tag_name
from caller.clock.timeline import SECONDS_A_MINUTE
from caller.dance.walls import Dance, DancedStep, Wall, WallEvent
from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot

# How far ahead tags, restarts, changes and endings show, and how far a turn is looked for.
COMING_COUNTS = 16
_TURN_WITHIN = Fraction(32)
_STEPS_CALLED = (Manner.AHEAD, Manner.ON_COUNT)


@dataclass(frozen=True, slots=True)
class Coming:
    """Something ahead: kind "tag", "restart", "change", "ending" or "wall"; in_counts from now, the count under way not
    yet over (so 1 on the last count before it), those of a count-in among them; its words as shown."""

    kind: str
    in_counts: int
    words: str


@dataclass(frozen=True, slots=True)
class Glance:
    """at: counts of the dance before the one under way; its first while counted in, its last once it is over.
    count: the number to show, 1 up ("5" .. "8" while counted in); in_bar: 0-based place in the bar of ``bar`` counts;
    counting_in: before the first step, and to_first: counts until that, the one under way among them. now, next: the
    call, in full, of what is being danced (while counted in, about to be) and of what comes after it, "" past the last.
    saying: the words being spoken; of_step: they call what is danced; with_step: they do, with the notice of what
    stands there or without. said: the words that ``now`` is called by, "" where it is not, None where no step is. foot:
    the one that moves on the count under way, None where it is both; foot_next: none does yet, and it is the next to
    move. next_turn: what is left of the next turn, and the counts to where it begins, no turn and 0 where none is near;
    whole_turn: all of it, where several steps of a figure take it together. coming: nearest first.
    """

    wall: int
    walls: int
    part: str
    section: int
    section_name: str
    at: Fraction
    count: int
    in_bar: int
    bar: int
    counting_in: bool
    now: str
    next: str
    saying: str
    foot: Foot | None
    facing: Facing
    next_turn: Turn
    next_turn_in: Fraction
    wall_starts: Facing
    coming: tuple[Coming, ...]
    tempo: Fraction
    whole_turn: Turn = NO_TURN
    of_step: bool = False
    with_step: bool = False
    said: str | None = None
    to_first: int = 0
    foot_next: bool = False


def glance(take: Take, frame: int) -> Glance:
    """What shows at a frame of the take's own axis; any frame will do, before its first and after its last."""
    dance, meter = take.dance, take.dance.routine.header.meter
    reached = _reached(take, frame)
    beat = Fraction(ceil(reached) - 1)  # the whole count under way
    counting_in = beat < take.start
    shown = min(max(beat, take.start), take.end - 1)
    wall = wall_at(dance, shown)
    stretch = stretch_at(wall, shown)
    index, saying = _index_of_group(take, max(reached, take.start + _INSTANT)), _saying(take, frame)
    now, following = _called(take, index)
    facing, turning = tee(_movements(take, reached))
    foot, foot_next = _foot(_movements(take, beat), reached)
    turn, turn_in, whole_turn = _next_turn(take, reached, frame, turning)
    place = place_in_section(wall, shown)
    return Glance(
        wall=wall.number,
        walls=dance.walls[-1].number,
        part=wall.part,
        section=stretch.section,
        section_name=stretch.name,
        at=shown,
        count=count_in_number(take.start - beat, meter) if counting_in else number_of(place, meter),
        in_bar=int((place_in_section(wall, take.start) + beat - take.start if counting_in else place) % meter.counts),
        bar=meter.counts,
        counting_in=counting_in,
        now=now,
        next=following,
        saying=saying.utterance.words if saying else "",
        foot=foot,
        facing=_facing(take, reached, facing),
        next_turn=turn,
        next_turn_in=turn_in,
        wall_starts=wall.starts,
        coming=_coming(take, wall, beat),
        tempo=take.timeline.tempo_at(frame),
        whole_turn=whole_turn,
        of_step=saying is not None and saying.cue.kind is CallKind.STEP,
        with_step=saying is not None and saying.of_steps,
        said=_said(take, index),
        to_first=max(int(take.start - beat), 0),
        foot_next=foot_next,
    )


# Less than any part of a count that is danced: what is reached a moment after a count.
_INSTANT = Fraction(1, 1000)


def _reached(take: Take, frame: int) -> Fraction:
    """All counts below it have been reached on that frame: those that round to it or to one before."""
    half_frame = take.timeline.tempo_at(frame) / (2 * SECONDS_A_MINUTE * take.timeline.rate)
    return take.timeline.count_at(frame) + half_frame


def _index_of_group(take: Take, reached: Fraction) -> int:
    """The place of what is under way among what is called together; -1 before the first."""
    return bisect_right(take.groups, reached, key=lambda group: group.at) - 1


def _called(take: Take, index: int) -> tuple[str, str]:
    """The words of what is under way and of what comes after it, as they are called in full."""
    shown = [shown_words(group) for group in take.groups[max(index, 0) : index + 2]]
    return (shown[0] if index >= 0 else ""), (shown[-1] if index + 1 < len(take.groups) else "")


def _index(dance: Dance, wall: Wall) -> int:
    """A wall's place among the walls, which is not its number where a part of a wall comes again."""
    return bisect_left(dance.walls, wall.at, key=lambda other: other.at)


def _saying(take: Take, frame: int) -> Call | None:
    index = bisect_right(take.plan.calls, frame, key=lambda call: call.starts) - 1
    call = take.plan.calls[index] if index >= 0 else None
    return call if call is not None and frame < call.ends else None


def _said(take: Take, index: int) -> str | None:
    """What is said, before or on its counts, of what is called together; None in a manner that calls no steps."""
    if take.plan.manner not in _STEPS_CALLED:
        return None
    if not 0 <= index < len(take.groups):
        return ""
    first = take.groups[index].at
    last = take.groups[index + 1].at if index + 1 < len(take.groups) else take.end
    calls, places = take.plan.of_steps
    own = calls[bisect_left(places, first) : bisect_left(places, last)]
    return ", ".join(call.utterance.words for call in sorted(own, key=lambda call: call.starts))


def _movements(take: Take, reached: Fraction) -> Iterator[tuple[Wall, DancedStep]]:
    """The take's movements that are still to come, in order, with their walls; a pick-up to its first count is one."""
    for wall, danced in movements_from(take.dance, max(reached, take.start - 1)):
        place = own_place(wall, danced.at, danced.section) if danced.at.denominator != 1 else danced.at
        if place >= take.end:
            return
        if place >= take.start:
            yield wall, danced


def _foot(movements: Iterator[tuple[Wall, DancedStep]], reached: Fraction) -> tuple[Foot | None, bool]:
    """The foot of the last movement reached that takes one or moves the weight, else of the next, and whether that is
    only next; holds and claps are passed over. movements: from the count under way on."""
    now: Foot | None = None
    moved = False
    for _, danced in movements:
        movement = danced.step.movement
        moves, begun = movement.foot is not None or movement.weight is not None, danced.at < reached
        if moved and not begun:
            break
        if moves and not begun:
            return movement.foot, movement.foot is not None
        if moves:
            now, moved = movement.foot, True
    return now, False


def _facing(take: Take, reached: Fraction, movements: Iterator[tuple[Wall, DancedStep]]) -> Facing:
    coming = next(movements, None)
    if coming is not None:
        return coming[1].before.facing
    last = last_movement_before(take.dance, min(reached, take.end))
    return last.after.facing if last is not None else take.dance.walls[0].starts


def _next_turn(
    take: Take, reached: Fraction, frame: int, movements: Iterator[tuple[Wall, DancedStep]]
) -> tuple[Turn, Fraction, Turn]:
    """What is left of the next turn, the counts to its first movement, and all of it: a turn that one phrase takes step
    by step is one."""
    beyond = reached + _TURN_WITHIN
    for wall, danced in movements:
        if danced.at >= beyond:
            break
        if danced.step.movement.turn:
            turning = _turned_in_one(wall, danced)
            left = [one for one in turning if one.at >= reached]
            begins = max(turning[0].at - take.timeline.count_at(frame), Fraction(0))
            return _sum_of(left), begins, _sum_of(turning)
    return NO_TURN, Fraction(0), NO_TURN


def _turned_in_one(wall: Wall, danced: DancedStep) -> list[DancedStep]:
    """The turning movements of a phrase that go on from one another the same way, a count apart at most."""
    index = bisect_left(wall.movements, danced.at, key=lambda one: one.at)
    phrase = next((one for one in wall.phrases if one.first <= index <= one.last), None)
    own = wall.movements[phrase.first : phrase.last + 1] if phrase else (danced,)
    groups: list[list[DancedStep]] = []
    for one in (one for one in own if one.step.movement.turn):
        before = groups[-1][-1] if groups else None
        same_way = before and before.step.movement.turn.eighths * one.step.movement.turn.eighths > 0
        if before and same_way and one.at - before.at <= 1:
            groups[-1].append(one)
        else:
            groups.append([one])
    return next(group for group in groups if danced in group)


def _sum_of(turning: Iterable[DancedStep]) -> Turn:
    return Turn(sum(one.step.movement.turn.eighths for one in turning))


def events_ahead(
    dance: Dance, wall: Wall, beat: Fraction, within: tuple[Fraction, Fraction] | None = None
) -> Iterator[Coming]:
    """The events of this wall and the next that come in the next counts, in the order of their places; within: only
    those danced between these counts."""
    index = _index(dance, wall)
    for other in dance.walls[index : index + 2]:
        for event in other.events:
            ahead = other.at + event.after - beat
            if 0 < ahead <= COMING_COUNTS and (within is None or event_between(other, event, *within)):
                yield Coming(event.kind, int(ahead), _event_words(event))


def _coming(take: Take, wall: Wall, beat: Fraction) -> tuple[Coming, ...]:
    """What lies ahead in this wall and the next, and the next wall itself."""
    found = list(events_ahead(take.dance, wall, beat, (take.start, take.end)))
    index = _index(take.dance, wall)
    found += (
        Coming("wall", int(other.at - beat), _wall_words(other))
        for other in take.dance.walls[index : index + 2]
        if beat < other.at < take.end and other.number != wall.number
    )
    return tuple(sorted(found, key=lambda coming: coming.in_counts))


def _wall_words(wall: Wall) -> str:
    name = f"part {wall.part}" if wall.part else f"wall {wall.number}"
    return f"{name}, {wall.starts.clock}"


def _event_words(event: WallEvent) -> str:
    """The tag by its name and length, the rest by what they are."""
    if event.kind == "tag":
        return f"{tag_name(event.name)}, {event.counts} count{'' if event.counts == 1 else 's'}"
    return {"change": "step change"}.get(event.kind, event.kind)
