"""Playbooks for half the hall on the easier way: told once, before the first go in which it comes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.easier import Way
from caller.dance.walls import Dance
from caller.session import View
from caller.teaching.options import ways_told
from caller.teaching.running import Waits
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.transport.order import Order
from caller.transport.state import State
from tests.session.classroom import Class, lantern, looked
from tests.session.lessons import Taught

HALF, ONE = "half the hall the easier way.", "an easier way, on one to two: two quarters instead of the half."
WHERE = "an easier way, section four, one to two: two quarters instead of the half."


def stages(dance: Dance) -> LessonPlan:
    """Section 3, which has no easier way; section 4, which has one, on its first two counts; both; section 4 again."""

    def stage(name: str, start: int, end: int, said: tuple[str, ...] = ()) -> Stage:
        return Stage(name, StageKind.WORDS, Fraction(start), Fraction(end), said=said, count_in=4)

    told = Stage("told", StageKind.TELL, Fraction(16), Fraction(16), said=("third section.",))
    laid = (told, stage("three", 16, 24), stage("four", 24, 32, ("with words.",)), stage("both", 16, 32, ("both.",)))
    return LessonPlan("Lantern Row", "walkthrough", Fraction(100), len(dance.walls), laid)


def told_by(taught: Taught, name: str) -> tuple[str, ...]:
    """Whatever is told from now on until a stage is danced, each sentence once."""
    said: dict[str, None] = {}

    def dances(view: View) -> bool:
        said.update(dict.fromkeys([view.telling] if view.telling else []))
        return view.state is State.RUNNING and view.stage.startswith(name)

    taught.until(dances)
    return tuple(said)


@pytest.mark.parametrize("pressed_in", ["told", "three", "four"])
def test_it_is_told_before_the_first_go_it_comes_in_whichever_stage_it_is_asked_in(pressed_in: str) -> None:
    taught = Taught(stages)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == pressed_in)
    taught.order(Order.BOTH_WAYS)
    said = told_by(taught, "four")
    assert [words for words in said if words in (HALF, ONE)] == [HALF, ONE]
    assert said.index(HALF) > said.index("with words."), "right before it is danced"
    assert HALF not in told_by(taught, "both"), "once"


def test_asked_while_it_is_danced_it_is_told_before_the_go_after_that_with_its_section() -> None:
    taught = Taught(stages)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "four" and view.state is State.RUNNING)
    taught.order(Order.BOTH_WAYS)
    said = told_by(taught, "both")
    assert (HALF in said, WHERE in said) == (True, True)


def test_a_stage_danced_again_or_looped_tells_it_first() -> None:
    for orders in ([(Order.SECTION_AGAIN,)], [(Order.LOOP_COUNTS, 1, 4)]):
        taught = Taught(stages, waits=Waits.STAGES)
        taught.order(Order.GO)
        taught.until(lambda view: view.stage == "told" and view.state is State.WAITING)
        taught.lesson.obey(Order.STAGE, 3)
        taught.until(lambda view: view.stage == "four" and view.state is State.RUNNING)
        taught.order(Order.BOTH_WAYS)
        for order, *amounts in orders:
            taught.lesson.obey(order, *amounts)
        assert looked(taught.lesson).telling == HALF


def test_its_words_are_made_ready_before_it_is_asked_for() -> None:
    taught = Taught(stages)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "four")
    assert {(HALF, 1.0), (ONE, 1.0)} <= set(taught.prepared.more)


def test_only_ways_on_the_counts_that_are_danced_are_told() -> None:
    way = Way("", 4, 0)
    assert set(ways_told(lantern(), Fraction(24), Fraction(26))) == {way}
    assert ways_told(lantern(), Fraction(26), Fraction(32)) == {}
    assert ways_told(lantern(), Fraction(20), Fraction(28))[way][0] == WHERE


def test_a_way_of_the_one_section_that_is_danced_is_told_without_its_section() -> None:
    assert ways_told(lantern(), Fraction(24), Fraction(32))[Way("", 4, 0)][0] == ONE


def test_in_a_dance_it_is_said_that_it_is_shown_and_why_it_is_not_called() -> None:
    room = Class()
    looked(room.session)
    room.order(Order.GO)
    room.danced(8)
    view = room.order(Order.BOTH_WAYS)
    assert view.both
    assert view.notices[-1] == (
        "Half the hall the easier way: shown where it comes; not called, since the calls are the full steps."
    )
    assert "half the hall: easier way, not called" in view.holds
    assert room.order(Order.BOTH_WAYS).notices[-1] == "All of the hall one way again."


def test_in_a_lesson_it_is_said_that_it_is_told() -> None:
    taught = Taught(stages)
    taught.order(Order.GO)
    view = taught.order(Order.BOTH_WAYS)
    assert view.notices[-1] == "Half the hall the easier way: told once, and shown where it comes."
    assert "half the hall: easier way" in view.holds
