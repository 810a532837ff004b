"""Practice alone: within its minutes, from last time's rung on, weak places by themselves."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from caller.calls.plan import Manner
from caller.teaching.alone import ANSWER_SECONDS, WEAK_TIMES, Asked, practice_alone, weak_stage
from caller.teaching.drill import RUNGS, NotThere
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.own_stages import by_itself_first
from caller.teaching.rungs import not_well, went_well
from caller.teaching.running import StageOutcome, begin, next_stage
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from tests.takehome.packets import shipped_dance

LANTERN = shipped_dance("lantern-row")
ROUTINES = ("lantern-row", "chalk-line", "slow-water", "tin-roof-swing")


def rungs(programme: LessonPlan) -> list[Stage]:
    return [stage for stage in programme.stages if stage.kind is StageKind.PRACTICE]


def made(**asked: object) -> LessonPlan:
    return practice_alone(LANTERN, None, Asked(**asked))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", ROUTINES)
def test_it_takes_as_many_minutes_as_there_are_and_more_of_them_give_more(name: str) -> None:
    dance = shipped_dance(name)
    floors, taken = Floors.of(dance), []
    for minutes in (5, 10, 15):
        programme = practice_alone(dance, None, Asked(minutes=minutes))
        taken.append(sum(stage_seconds(programme, floors)) + ANSWER_SECONDS * len(rungs(programme)))
        assert taken[-1] <= 60 * minutes
        assert len(rungs(programme)) >= 2
        assert rungs(programme)[-1].speed == 1
    assert taken == sorted(taken)


def test_what_no_way_is_short_enough_for_is_as_short_as_can_be() -> None:
    assert [(stage.speed, len(stage.manners)) for stage in made(minutes=1).stages] == [(RUNGS[0], 2)]


def test_events_are_met_early_and_slowly_with_a_word_on_each_movement() -> None:
    rung, first, second, *rest = made().stages
    assert [stage.kind for stage in (rung, first, second)] == [StageKind.PRACTICE, StageKind.EVENT, StageKind.EVENT]
    assert (first.manners, first.times, first.speed) == ((Manner.ON_COUNT,), 1, Fraction(56, 100))
    assert first.name.startswith("Tag in wall ")
    assert rest[0].kind is StageKind.PRACTICE


def test_the_steps_are_told_first_where_that_is_asked() -> None:
    kinds = [stage.kind for stage in made(told=True).stages]
    assert kinds[:4] == [StageKind.TELL] * 4
    assert StageKind.TELL not in [stage.kind for stage in made().stages]


def test_it_begins_with_the_rung_that_last_went_well_and_events_are_known_by_then() -> None:
    assert [stage.speed for stage in rungs(made(first=3))] == [Fraction(9, 10), 1]
    assert made(first=3).stages[0].kind is StageKind.PRACTICE
    with pytest.raises(ValueError, match="there are 0 to 4"):
        made(first=5)
    with pytest.raises(NotThere):
        made(wall=9)


def test_weak_places_come_by_themselves_before_rungs_in_turn() -> None:
    stages = made(weak=(3, 1)).stages
    before = [(one.name, one.speed, one.times) for one, then in pairwise(stages) if then.kind is StageKind.PRACTICE]
    assert [stage.kind for stage in stages[2:4]] == [StageKind.EVENT, StageKind.EVENT]
    assert before == [
        (f"Section {section}, a weak place", speed, WEAK_TIMES)
        for section, speed in zip((3, 1, 3, 1, 3), RUNGS, strict=True)
    ]
    assert weak_stage(LANTERN, LANTERN.walls[0], 9, Fraction(1)) is None
    assert [stage.kind for stage in made(weak=(9,), first=4).stages] == [StageKind.PRACTICE, StageKind.WHOLE]


def test_a_rung_waits_until_it_went_well_unless_it_is_not_to() -> None:
    assert {stage.moves_on for stage in rungs(made())} == {MovesOn.PEDAL}
    assert {stage.moves_on for stage in rungs(made(waits=False))} == {MovesOn.PAUSE}


def test_an_event_among_the_rungs_waits_as_they_do() -> None:
    events = [stage for stage in made().stages if stage.kind is StageKind.EVENT]
    assert events
    assert {stage.moves_on for stage in events} == {MovesOn.PEDAL}


def test_said_during_a_go_the_rung_is_left_once_that_is_done() -> None:
    running = next_stage(begin(made(first=3)), StageOutcome.DONE)
    assert running.announced
    well = went_well(running)
    assert (well.index, well.well) == (0, (0,))
    on = next_stage(well, StageOutcome.DONE)
    assert (on.index, on.waiting, len(on.done)) == (1, False, 1)


def test_said_once_it_waits_the_rung_is_left_at_once_and_taken_back_it_begins_again() -> None:
    running = begin(made(first=3))
    while not running.waiting:
        running = next_stage(running, StageOutcome.DONE)
    assert [go.manner for go in running.done] == [Manner.AHEAD, Manner.PROMPTS, Manner.QUIET]
    on = went_well(running)
    assert (on.index, on.well, on.waiting) == (1, (0,), False)
    back = not_well(on)
    assert (back.index, back.well, back.goes, back.fade) == (0, (), 0, 0)


def test_a_weak_place_comes_first_and_then_the_rung_again_with_its_calls() -> None:
    running = next_stage(next_stage(begin(made(first=3)), StageOutcome.DONE), StageOutcome.DONE)
    weak = weak_stage(LANTERN, LANTERN.walls[0], 2, running.speed)
    assert weak is not None
    on = by_itself_first(running, weak)
    assert (on.stage.name, on.index) == ("Section 2, a weak place", 0)
    while on.index == 0:
        on = next_stage(on, StageOutcome.DONE)
    assert (on.stage.kind, on.goes, on.stage.manners) == (StageKind.PRACTICE, 0, (Manner.AHEAD,))
