"""Where an evening is, so that it can go on there another time. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from caller.session.slots import Inner
from caller.session.so_far import is_put_in
from caller.session.taught import TaughtProgramme
from caller.session.whole import WholeDance
from caller.teaching.nudged import NOT_NUDGED, Nudged
from caller.teaching.paced import with_nudges
from caller.teaching.running import at_stage


@dataclass(frozen=True, slots=True)
class Bookmark:
    """Where an evening is, so that it can go on there. index: of the item; ahead: of the one that it waits with, None
    while one is under way. stage, goes, nudged: of a lesson; count: of a run, of its sheet. since: the count, or a
    lesson's stage, from which nothing was left out. tempo: the full one. began: when the item did."""

    index: int
    ahead: int | None = None
    stage: int = 0
    goes: int = 0
    nudged: Nudged = NOT_NUDGED
    count: Fraction = Fraction(0)
    since: Fraction = Fraction(0)
    tempo: Fraction | None = None
    began: Fraction | None = None


def within(place: Bookmark, own: Inner, count: Fraction | None) -> Bookmark:
    """The place, with where the item under way is. count: of what is danced, as it stands; None where nothing is."""
    if isinstance(own, TaughtProgramme):
        running = own.running
        own_goes = 0 if is_put_in(running) else running.goes
        there = replace(place, stage=running.index, goes=own_goes, since=Fraction(running.since))
        return replace(there, nudged=running.nudged, tempo=running.programme.tempo)
    if isinstance(own, WholeDance):
        at = own.start if count is None else count
        return replace(place, count=own.wall(at).at, since=own.since, tempo=own.tempo)
    return place


def gone_on(own: Inner, place: Bookmark) -> Inner:
    """An item from its start, where the place has it: a lesson at its stage and go, a dance at its wall."""
    if isinstance(own, TaughtProgramme):
        return _lesson_at(own, place)
    return own.at(place.count, place.since, place.tempo or own.tempo) if isinstance(own, WholeDance) else own


def _lesson_at(lesson: TaughtProgramme, place: Bookmark) -> TaughtProgramme:
    """A lesson at the stage and the go where it was."""
    running = at_stage(lesson.running, place.stage)
    running = replace(running, since=min(int(place.since), running.index))
    if not running.over:
        running = replace(running, goes=place.goes, announced=place.goes > 0)
    return replace(lesson, running=with_nudges(running, place.nudged, place.tempo))
