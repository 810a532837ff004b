"""Playbooks for what a class has been taught so far, danced in the middle of its lesson."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

import pytest

from caller.book.lessons import taught_now
from caller.dance.walls import Dance
from caller.session.bookmarks import Bookmark, within
from caller.session.so_far import so_far
from caller.teaching.drill import drill_of
from caller.teaching.running import begin
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.context import Effect, OrderContext
from caller.transport.order import Order
from caller.transport.respond import respond
from caller.transport.state import State
from tests.session.classroom import looked
from tests.session.lessons import Taught

FULL = Fraction(100)


def two_sections(dance: Dance) -> LessonPlan:
    """Two sections danced, and a third told."""
    first, second = ((("", number),) for number in (1, 2))
    words = Stage("one", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2), sections=first, count_in=4)
    then = Stage("two", StageKind.WORDS, Fraction(8), Fraction(16), Fraction(3, 5), 2, sections=second, count_in=4)
    told = Stage("three", StageKind.TELL, said=("third section.",), sections=(("", 3),))
    last = Stage("three danced", StageKind.WORDS, Fraction(16), Fraction(24), sections=(("", 3),), count_in=4)
    return LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (words, then, told, last))


def at_the_third() -> Taught:
    taught = Taught(two_sections)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "three")
    return taught


def test_what_was_taught_so_far_is_danced_from_the_top_over_and_over() -> None:
    taught = at_the_third()
    view = taught.order(Order.SO_FAR)
    assert (view.state, view.telling) == (State.TELLING, "from the top, as far as section two.")
    assert view.notices[-1] == "So far, sections 1 to 2, time 1."
    assert view.stage_place == ""
    taught.comes_to(State.RUNNING)
    assert (taught.take.start, taught.take.end, taught.tempo) == (0, 16, 50)
    taught.until(lambda view: view.stage == "So far, sections 1 to 2, time 2")
    again = taught.comes_to(State.RUNNING)
    assert again.glance is not None
    assert (taught.take.start, taught.take.end) == (0, 16)


def test_the_easier_way_holds_in_it_too() -> None:
    taught = Taught(two_sections)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "two, 2 of 2" and view.state is State.RUNNING)
    taught.order(Order.EASIER, Order.SO_FAR)
    assert "easier way" in taught.comes_to(State.RUNNING).holds


@pytest.mark.parametrize("order", [Order.SO_FAR, Order.NEXT])
def test_from_there_it_is_back_to_the_stage_that_was_under_way(order: Order) -> None:
    taught = at_the_third()
    taught.order(Order.SO_FAR)
    taught.comes_to(State.RUNNING)
    view = taught.order(order)
    assert (view.stage, view.stage_place) == ("three", "3 of 4")


def test_back_in_the_lesson_nothing_loops_though_it_or_the_stage_did() -> None:
    taught = Taught(two_sections)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "two, 2 of 2" and view.state is State.RUNNING)
    assert "looping this stage" in taught.order(Order.LOOP).holds
    assert "looping this stage" in taught.order(Order.SO_FAR).holds
    view = taught.order(Order.SO_FAR)
    assert (view.stage, view.state) == ("two, 2 of 2", State.COUNT_IN)
    assert "looping this stage" not in view.holds
    assert taught.until(lambda view: view.stage == "three").stage_place == "3 of 4"


def test_put_in_before_a_second_go_it_leads_back_to_that_and_not_to_the_first() -> None:
    taught = Taught(two_sections)
    taught.order(Order.GO)
    taught.until(lambda view: view.stage == "two, 2 of 2" and view.state is State.RUNNING)
    taught.order(Order.SO_FAR)
    taught.comes_to(State.RUNNING)
    assert taught.order(Order.SO_FAR).stage == "two, 2 of 2"
    taught.until(lambda view: view.stage == "three")


def test_out_of_its_loop_it_waits_and_then_the_lesson_goes_on() -> None:
    taught = at_the_third()
    taught.order(Order.SO_FAR)
    taught.comes_to(State.RUNNING)
    view = taught.order(Order.LOOP)
    assert view.notices[-1] == "On from here once this stage is over."
    taught.comes_to(State.WAITING)
    assert taught.order(Order.GO).stage_place == "3 of 4"


def test_other_stages_keep_their_numbers() -> None:
    taught = at_the_third()
    taught.order(Order.SO_FAR)
    taught.lesson.obey(Order.STAGE, 4)
    view = looked(taught.lesson)
    assert (view.stage, view.stage_place) == ("three danced", "4 of 4")
    taught = at_the_third()
    taught.order(Order.SO_FAR)
    assert taught.order(Order.PREVIOUS).stage_place == "2 of 4"


def test_where_a_stage_is_done_and_waits_what_comes_after_it_is_next() -> None:
    taught = Taught(two_sections)
    taught.order(Order.GO, Order.WAIT)
    taught.comes_to(State.WAITING)
    taught.order(Order.SO_FAR)
    taught.comes_to(State.RUNNING)
    assert taught.take.end == 8
    assert taught.order(Order.NEXT).stage_place == "2 of 4"


def test_before_any_section_was_danced_there_is_nothing() -> None:
    taught = Taught(two_sections)
    view = taught.order(Order.GO, Order.SO_FAR)
    assert view.notices[-1] == "No section has been taught so far."


def test_who_goes_on_from_last_week_may_begin_with_what_was_taught_then() -> None:
    taught = Taught(two_sections)
    taught.lesson.obey(Order.STAGE, 3)
    view = taught.order(Order.SO_FAR)
    assert view.stage.startswith("So far, sections 1 to 2")


def test_a_drill_is_no_lesson() -> None:
    taught = Taught(lambda dance: drill_of(dance, (Fraction(0), Fraction(8)), "Section 1", tempo=FULL))
    assert taught.order(Order.GO, Order.SO_FAR).notices[-1] == "Only a walkthrough teaches section by section."
    assert respond(OrderContext(State.RUNNING), Order.SO_FAR).effect is Effect.NOTHING


def test_what_is_said_first_is_made_ready_beforehand() -> None:
    taught = at_the_third()
    assert ("from the top, as far as section two.", 1.0) in taught.prepared.more


def test_the_book_and_the_evenings_place_know_it_for_no_stage_of_the_lesson() -> None:
    taught = at_the_third()
    taught.order(Order.SO_FAR)
    taught.until(lambda view: view.stage.endswith("time 2"))
    running = taught.lesson.programme.running
    entry = taught_now("Tuesday", running, taught.lesson.dance, FULL, FULL, datetime(2026, 3, 3, tzinfo=UTC))
    assert entry is not None
    assert (entry.way, entry.part, entry.stage, entry.stages) == ("drill", "So far, sections 1 to 2", 0, 0)
    place = within(Bookmark(0), taught.lesson.programme, None)
    assert (place.stage, place.goes) == (2, 0)


def test_of_a_walkthrough_it_is_as_far_as_its_sections_were_danced_and_as_fast_as_all_were() -> None:
    taught = at_the_third()
    lesson = walkthrough_of(taught.lesson.dance)
    names = [stage.name for stage in lesson.stages]
    stage = so_far(begin(lesson, names.index("Section 3, 1-4, told")), 8)
    added = lesson.stages[names.index("From the top to section 2")]
    assert (stage.start, stage.end, stage.speed) == (added.start, added.end, 1)
