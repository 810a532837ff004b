"""The last wall is told: at its start where there is room, else between two calls of its first counts."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.last_wall import with_still_to_tell
from caller.calls.plan import CallKind, CallPlan, Cue, Manner
from caller.calls.planning import plan_calls
from caller.clock.timeline import Timeline
from tests.fakes.lexicon import MeasuredVoice

RATE = 48_000
WALL = 16
LONG = "a step that takes all of its time"
LAST = ("wall two, last wall, six o'clock", "last wall, six o'clock", "last wall")


def step(at: int, words: str = LONG) -> Cue:
    count = str(at % 8 + 1)
    return Cue(CallKind.STEP, 1 + at // WALL, Fraction(at), count, (words,), ahead_counts=Fraction(4), steps=True)


def planned(busy: range, after: tuple[int, ...], wordings: tuple[str, ...] = LAST) -> CallPlan:
    """busy: counts at which steps are called that leave no room; after: those of short calls."""
    wall = Cue(CallKind.WALL, 2, Fraction(WALL), "1", wordings, lead_counts=Fraction(3), ahead_counts=Fraction(14))
    cues = [*map(step, busy), *(step(at, "touch") for at in after), wall]
    cues.sort(key=lambda cue: cue.at - cue.lead_counts)
    return plan_calls(cues, Timeline.at_tempo(Fraction(80), RATE, Fraction(-8)), MeasuredVoice(RATE), Manner.AHEAD)


def told(plan: CallPlan) -> list[tuple[str, float]]:
    """What is said of walls, and how many counts after the wall's start it is over."""
    timeline = Timeline.at_tempo(Fraction(80), RATE, Fraction(-8))
    walls = [call for call in plan.calls if call.cue.kind is CallKind.WALL]
    return [(call.utterance.words, float(timeline.count_at(call.ends) - WALL)) for call in walls]


def test_where_there_is_room_it_is_told_at_its_start() -> None:
    ((words, over),) = told(planned(range(4, 9, 2), (18, 24)))
    assert words == LAST[0]
    assert -4 < over < 0


def test_where_there_is_none_it_is_told_within_it_and_no_step_is_lost_for_that() -> None:
    busy = range(2, 21, 2)
    plan = planned(busy, (26,))
    ((words, over),) = told(plan)
    assert words == "last wall"
    assert 4 < over < 10
    assert [call.cue.at for call in plan.calls if call.cue.steps] == [*busy, 26]
    assert plan.dropped == ()


@pytest.mark.parametrize(
    ("busy", "after", "wordings"),
    [(range(2, 21, 2), (26,), ("wall two, six o'clock", "wall two")), (range(2, 41, 2), (), LAST)],
    ids=["not the last", "no room within it either"],
)
def test_else_it_is_told_at_its_start_or_not_at_all(
    busy: range, after: tuple[int, ...], wordings: tuple[str, ...]
) -> None:
    plan = planned(busy, after, wordings)
    assert told(plan) == []
    assert [drop.cue.kind for drop in plan.dropped] == [CallKind.WALL]


@pytest.mark.parametrize(("from_count", "still"), [(0, True), (30, False)], ids=["still to be told", "told already"])
def test_what_is_planned_anew_in_a_class_tells_it_at_the_same_place(from_count: int, still: bool) -> None:
    plan = planned(range(2, 21, 2), (26,))
    frame = Timeline.at_tempo(Fraction(80), RATE, Fraction(-8)).frame_of(Fraction(from_count))
    wall = Cue(CallKind.WALL, 2, Fraction(WALL), "1", LAST)
    other = Cue(CallKind.RESTART, 2, Fraction(WALL), "1", ("restart, last wall", "restart"))
    wanted = with_still_to_tell([wall, other, step(26)], plan, frame)
    (at,) = [call.cue.at for call in plan.calls if call.utterance.words == "last wall"]
    kept = [(cue.kind, cue.at) for cue in wanted]
    own = [(CallKind.RESTART, Fraction(WALL)), (CallKind.STEP, Fraction(26))]
    assert kept == ([(CallKind.WALL, at), *own] if still else [(CallKind.WALL, Fraction(WALL)), *own])
