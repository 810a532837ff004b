"""Playbooks for an evening: items one after another, from one pedal, late and cut short."""

from __future__ import annotations

import contextlib
from dataclasses import replace
from fractions import Fraction

import pytest

from caller.evening.plan import Kind
from caller.screen.board import Large, board_of
from caller.screen.plain_lines import lines_between
from caller.screen.typing import obey_typed
from caller.session.bookmarks import Bookmark
from caller.session.evening import Evening
from caller.session.programme import CanNot, Passed, ProgrammeEvent
from caller.session.slots import Slot
from caller.session.taught import TaughtProgramme
from caller.session.whole import WholeDance
from caller.teaching.nudged import Nudged
from caller.teaching.stage import Stage, StageKind
from caller.transport.context import CONTEXTS, Effect, OrderContext
from caller.transport.foot import Gesture
from caller.transport.order import Order
from caller.transport.respond import respond
from caller.transport.state import State
from caller.transport.tempo import Slowing
from caller.transport.unit import Stroke
from tests.session.classroom import Prepared, looked
from tests.session.evenings import (
    CLOSES,
    FULL,
    STARTS,
    Hall,
    drill,
    drilled,
    evening_of,
    lesson,
    requested,
    rest,
    run,
    short,
)

SHORT = short()


def timed(evening: Evening, minutes: float) -> Evening:
    """So many minutes after it was to start."""
    return evening.after(ProgrammeEvent(Passed.TIMED, amounts=(Fraction(60 * STARTS) + Fraction(minutes) * 60,)))


def begun(evening: Evening) -> Evening:
    return timed(evening, 0).after(ProgrammeEvent(Order.GO))


def test_it_goes_from_a_run_through_a_lesson_and_a_break_to_the_end_by_taps_alone() -> None:
    hall = Hall(evening_of(run(SHORT), lesson(SHORT), rest(SHORT), run(SHORT)))

    def tap() -> None:
        hall.pedal.waiting.append(Stroke(Gesture.TAP))

    view = hall.comes_to(State.READY)
    assert view.plan[0] == "19:00  Lantern Row, run at 90%, 4 min"
    assert view.item == "item 1 of 4"
    titles = []
    for _ in range(4):
        tap()
        view = hall.until(lambda view: view.state not in (State.READY, State.WAITING))
        titles.append((view.item, view.stage_place))
        hall.comes_to(State.WAITING)
    tap()
    assert hall.comes_to(State.FINISHED).item == "item 4 of 4"
    assert titles == [("item 1 of 4", ""), ("item 2 of 4", "1 of 2"), ("item 3 of 4", ""), ("item 4 of 4", "")]
    assert [tempo for _, tempo in hall.done] == [108, 60, 60, 108]
    assert [evening.index for evening, _ in hall.done] == [0, 1, 1, 3]


def test_between_two_items_it_shows_what_comes_with_its_time_and_what_there_is_in_hand() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT), run(SHORT)))
    hall.order(Order.GO)
    view = hall.comes_to(State.WAITING)
    assert view.plan == (
        "19:00  Break, 10 min",
        "19:10  Lantern Row, run at 90%, 4 min",
        "19:15  ends; the hall closes at 19:30: 15 minutes in hand",
    )
    assert view.stage == "Lantern Row, run at 90%, done"
    assert (view.told_next, view.rest, view.to_mark) == ("break", "", "Lantern Row")
    hall.order(Order.GO)
    view = hall.until(lambda view: view.state is State.WAITING)
    assert (view.rest, view.stage, view.to_mark) == ("break until 19:10", "10 minutes", "Lantern Row")
    assert "8 shaky, 9 not done: Lantern Row;" in board_of(view).large.label
    assert view.plan[0] == "19:10  Lantern Row, run at 90%, 4 min"


def test_the_items_number_and_the_time_come_first_since_it_is_the_name_that_is_cut_off() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT)))
    hall.order(Order.GO)
    board = board_of(hall.comes_to(State.RUNNING))
    assert board.title == "Item 1 of 2: Lantern Row"
    assert board.section.startswith("19:00, until 19:04 · Section 1")


@pytest.mark.parametrize("ready", [True, False])
def test_the_first_item_is_skipped_before_it_has_begun_and_can_be_put_back(ready: bool) -> None:
    """Once the calls are ready, and while they are being prepared."""
    hall = Hall(evening_of(rest(SHORT), run(SHORT), lesson(SHORT)), preparing=Prepared(ready))
    assert hall.session.state is (State.READY if ready else State.GETTING_READY)
    view = hall.order(Order.NEXT_ITEM)
    assert (view.state, view.stage) == (State.WAITING, "Break, passed over")
    assert view.told_next == "Lantern Row, run at 90%"
    assert view.plan[0] == "19:00  Lantern Row, run at 90%, 4 min"
    assert hall.order(Order.PUT_BACK).plan[0] == "19:00  Break, 10 min"
    hall.order(Order.NEXT_ITEM)
    hall.order(Order.GO)
    assert (hall.session.programme.index, hall.session.programme.gone) == (1, 0)


def test_an_item_that_is_left_is_silent_at_once_and_the_next_one_waits() -> None:
    hall = Hall(evening_of(run(SHORT), run(SHORT), lesson(SHORT)))
    hall.order(Order.GO)
    hall.comes_to(State.RUNNING)
    view = hall.order(Order.NEXT_ITEM)
    assert (view.state, view.stage) == (State.WAITING, "Lantern Row, run at 90%, left")
    sound = hall.speaker.advance(48_000)
    assert not sound[2_000:].any()
    assert hall.done == []  # what was not danced to its end is none
    assert hall.order(Order.NEXT_ITEM).told_next == "Lantern Row, lesson"
    hall.order(Order.GO)
    assert hall.session.programme.index == 2
    view = hall.order(Order.ITEM, 1)
    assert (view.state, view.told_next) == (State.WAITING, "Lantern Row, run at 90%")
    hall.order(Order.ITEM, 9)
    assert hall.session.view(0).notices[-1] == "There is no item 9; there are 1 to 3."


def as_far_as(slot: Slot, until: int) -> Slot:
    assert isinstance(slot.programme, TaughtProgramme)
    return replace(slot, programme=replace(slot.programme, running=replace(slot.programme.running, until=until)))


def test_a_lesson_stops_where_it_was_planned_to_and_offers_the_next_item() -> None:
    """However the clock stands; a tap begins the next item, and P goes on with the lesson."""
    hall = Hall(evening_of(as_far_as(lesson(SHORT), 1), run(SHORT)))
    hall.order(Order.GO)
    view = hall.comes_to(State.WAITING)
    assert (view.stage, view.told_next) == ("Lantern Row, lesson, as far as planned", "Lantern Row, run at 90%")
    assert view.notices[-1] == "Lantern Row: taught as far as planned; P goes on with it: section 1, with words."
    assert hall.session.programme.facts.late.endswith("its run (4 min); P goes on with the lesson")
    assert hall.session.programme.after(ProgrammeEvent(Order.NEXT)).index == 1
    hall.order(Order.PREVIOUS)
    view = hall.comes_to(State.RUNNING)
    assert (view.item, view.stage_place) == ("item 1 of 2", "2 of 2")
    assert hall.comes_to(State.WAITING).stage == "Lantern Row, lesson, done"


def test_between_two_items_what_shows_is_the_one_that_comes() -> None:
    under_way = begun(evening_of(lesson(SHORT), run(SHORT)))
    between = under_way.after(ProgrammeEvent(Order.NEXT_ITEM))
    first, second = (slot.programme.shown(Slowing()) for slot in between.slots)
    assert first != second
    assert between.shown(Slowing()) == second
    assert under_way.shown(Slowing()) == under_way.own.shown(Slowing())


def test_what_hangs_on_a_lesson_that_is_left_is_proposed_to_be_taken_out_and_its_minutes_are_offered() -> None:
    """The run, and a drill of what was not danced by then; nothing is taken out but by an order."""
    slots = (lesson(SHORT), rest(SHORT), drilled(SHORT, 8, 16), drilled(SHORT, 0, 8), run(SHORT), requested(SHORT, "A"))
    evening = begun(evening_of(*slots, closes=STARTS + 23, catalogue=CATALOGUE))
    left = evening.after(ProgrammeEvent(Passed.DONE)).after(ProgrammeEvent(Order.NEXT_ITEM))
    told = "Lantern Row is not taught whole: X takes out its drills and its run (10 min)"
    assert (left.says, left.facts.late) == (f"{told}.", f"2 minutes over; {told}")
    assert left.slots == evening.slots
    cut = left.after(ProgrammeEvent(Order.CUT))
    assert [slot.item.kind for slot in cut.slots] == [Kind.LESSON, Kind.BREAK, Kind.REQUEST]
    assert cut.says == (
        "Taken out of Lantern Row: its drills and its run; it ends at 19:15 instead of 19:25; 8 minutes are in hand: "
        "P goes back into the lesson, /request asks for a dance."
    )
    assert cut.facts.late == ""
    back = cut.after(ProgrammeEvent(Order.PUT_BACK))
    assert back.slots[2].item == replace(slots[4].item, keep=True)  # what is put back is wanted
    assert back.facts.late == ""


def test_a_run_of_no_more_than_was_taught_stays() -> None:
    """The lesson's one section has been danced once, when it is left."""
    first, both = (run(SHORT, sections=number) for number in (1, 2))
    taught = lesson(SHORT)
    assert isinstance(taught.programme, TaughtProgramme)
    stages = taught.programme.stages
    further = Stage("Section 2, with words", StageKind.WORDS, Fraction(8), Fraction(16), sections=(("", 2),))
    longer = replace(stages, stages=(*stages.stages, further))
    taught = replace(taught, programme=TaughtProgramme.of(longer, SHORT))
    evening = begun(evening_of(taught, first, both, closes=STARTS + 60)).after(ProgrammeEvent(Passed.DONE))
    for _ in range(2):  # what is said first, and one go of it
        evening = evening.after(ProgrammeEvent(Passed.DONE))
    left = evening.after(ProgrammeEvent(Order.NEXT_ITEM))
    assert left.facts.late == "Lantern Row is not taught whole: X takes out its run (4 min)"
    cut = left.after(ProgrammeEvent(Order.CUT))
    assert [slot.item.sections for slot in cut.slots] == [None, 1]


def test_a_drill_of_what_was_danced_in_the_lesson_stays_and_so_does_all_where_only_the_full_tempo_was_left() -> None:
    slots = (lesson(SHORT), drilled(SHORT, 0, 8), run(SHORT), lesson(SHORT), run(SHORT))
    evening = begun(evening_of(*slots, closes=STARTS + 60)).after(ProgrammeEvent(Passed.DONE))
    for _ in range(2):  # what is said first, and one go of it
        evening = evening.after(ProgrammeEvent(Passed.DONE))
    left = evening.after(ProgrammeEvent(Order.NEXT_ITEM))
    assert left.facts.late == ""  # all that was left were repeats
    own = evening.own.stages  # type: ignore[union-attr]
    longer = (*own.stages, Stage("Section 2, told", StageKind.TELL), Stage("All", StageKind.WHOLE, end=Fraction(16)))
    half = replace(slots[0], programme=TaughtProgramme.of(replace(own, stages=longer), SHORT))
    evening = begun(evening_of(half, *slots[1:], closes=STARTS + 60)).after(ProgrammeEvent(Passed.DONE))
    for _ in range(2):
        evening = evening.after(ProgrammeEvent(Passed.DONE))
    left = evening.after(ProgrammeEvent(Order.NEXT_ITEM))
    assert left.facts.late == "Lantern Row is not taught whole: X takes out its run (4 min)"  # the lesson goes on later
    back = left.after(ProgrammeEvent(Order.PREVIOUS))
    while back.ahead is None:
        back = back.after(ProgrammeEvent(Passed.DONE))
    assert back.facts.late == ""


def test_to_leave_a_break_takes_nothing_out_of_the_plan() -> None:
    """A break lasts while it waits with what comes after it: what is left is the break, and once."""
    hall = Hall(evening_of(rest(SHORT), drill(SHORT), run(SHORT)))
    hall.order(Order.GO)
    view = hall.until(lambda view: view.state is State.WAITING)
    assert view.rest == "break until 19:10"
    view = hall.order(Order.NEXT_ITEM)
    assert (view.rest, view.told_next, view.item) == ("", "Lantern Row, recap", "item 2 of 3")
    assert view.notices[-1] == "Next item: Lantern Row, recap."
    assert view.plan[0].startswith("19:00  Lantern Row, recap")
    hall.order(Order.GO)
    assert hall.session.programme.index == 1
    told = Hall(evening_of(rest(SHORT), drill(SHORT), run(SHORT)))  # left while it is being told
    told.order(Order.GO)
    assert told.order(Order.NEXT_ITEM).told_next == "Lantern Row, recap"


def test_to_leave_a_request_that_nobody_makes_takes_nothing_else_out() -> None:
    hall = Hall(evening_of(rest(SHORT, Kind.REQUEST, 5), run(SHORT), catalogue=CATALOGUE))
    hall.order(Order.GO)
    assert hall.until(lambda view: view.state is State.WAITING).stage == "which dance is asked for?"
    assert hall.order(Order.NEXT_ITEM).told_next == "Lantern Row, run at 90%"
    hall.order(Order.GO)
    assert hall.session.programme.slot.title == "Lantern Row"


def test_what_is_passed_over_is_told_and_put_back() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT), lesson(SHORT)))
    hall.order(Order.GO)
    hall.order(Order.NEXT_ITEM)
    view = hall.order(Order.NEXT_ITEM)
    assert "Passed over: break; U puts it back." in view.notices
    assert view.told_next == "Lantern Row, lesson"
    view = hall.order(Order.PUT_BACK)
    assert view.notices[-1] == "Back in the plan: break; it ends at 19:12 instead of 19:02."
    assert view.told_next == "break"
    assert hall.order(Order.PUT_BACK).notices[-1] == "Nothing has been taken out."
    for _ in range(3):
        view = hall.order(Order.NEXT_ITEM)
    assert (view.told_next, view.notices[-2]) == ("the end of the evening", "There is no item after this one.")


def test_what_was_passed_over_comes_back_as_the_next_item_once_another_has_begun() -> None:
    """One after another with what was taken out, the last one first; each is where its words say."""
    slots = (run(SHORT), requested(SHORT, "Slow Water"), drill(SHORT), rest(SHORT), run(SHORT, 30))
    hall = Hall(evening_of(*slots))
    hall.order(Order.GO)
    for _ in range(3):  # the item under way, and the two after it
        hall.order(Order.NEXT_ITEM)
    hall.order(Order.GO)
    assert hall.session.programme.slot.item.kind is Kind.BREAK
    view = hall.order(Order.PUT_BACK)
    assert view.notices[-1].startswith("Back in the plan: Lantern Row, recap; it ends at 19:43 instead of 19:40")
    assert (view.item, hall.session.programme.slot.item.kind) == ("item 3 of 5", Kind.BREAK)
    view = hall.comes_to(State.WAITING)
    assert view.told_next == "Lantern Row, recap"
    view = hall.order(Order.PUT_BACK)  # while it waits with another
    assert (view.told_next, view.notices[-1].split(";")[0]) == (
        "Slow Water, request", "Back in the plan: Slow Water, request",
    )  # fmt: skip
    names = [slot.name for slot in hall.session.programme.slots]
    assert names == [slots[n].name for n in (0, 3, 1, 2, 4)]
    assert hall.order(Order.PUT_BACK).notices[-1] == "Nothing has been taken out."


def test_what_is_jumped_over_comes_back_too_and_not_where_it_is_gone_back_to() -> None:
    evening = begun(evening_of(run(SHORT), drill(SHORT), rest(SHORT), lesson(SHORT)))
    far = evening.after(ProgrammeEvent(Order.ITEM, amounts=(Fraction(4),))).after(ProgrammeEvent(Order.NEXT))
    assert far.slot.item.kind is Kind.LESSON
    assert far.after(ProgrammeEvent(Order.PUT_BACK)).says.startswith("Back in the plan: break;")
    again = far.after(ProgrammeEvent(Order.ITEM, amounts=(Fraction(2),)))
    with pytest.raises(CanNot, match="Nothing has been taken out"):
        again.after(ProgrammeEvent(Order.PUT_BACK))


def test_a_break_that_was_left_is_over_where_the_evening_goes_on_another_time() -> None:
    evening = begun(evening_of(rest(SHORT), run(SHORT))).after(ProgrammeEvent(Passed.DONE))
    assert evening.bookmark(None) == Bookmark(0, 1, began=Fraction(60 * STARTS))
    left = evening.after(ProgrammeEvent(Order.NEXT_ITEM))
    again = evening_of(rest(SHORT), run(SHORT)).at(left.bookmark(None))
    assert (again.index, again.slot.title) == (1, "Lantern Row")


def test_an_item_comes_again_and_a_section_of_it() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT)))
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    assert hall.order(Order.SECTION_AGAIN).state is State.COUNT_IN
    assert hall.session.programme.index == 0
    hall.comes_to(State.WAITING)
    assert hall.order(Order.SECTION, 2).state is State.COUNT_IN
    assert hall.session.programme.index == 0
    hall.comes_to(State.WAITING)
    first, again, part = (evening.own for evening, _ in hall.done)
    assert (first.since, again.since) == (0, 0)  # type: ignore[union-attr]
    assert part.since == 8  # type: ignore[union-attr]  # no whole dance


def test_in_a_lesson_a_foot_gives_what_a_lesson_needs_and_in_a_dance_what_a_dance() -> None:
    hall = Hall(evening_of(lesson(SHORT), run(SHORT)))
    hall.order(Order.GO)
    assert Order.SLOWER in hall.session.footing.orders(Stroke(Gesture.RELEASE))
    hall.comes_to(State.WAITING)
    assert Order.SLOW_OFF in hall.session.footing.orders(Stroke(Gesture.RELEASE))
    hall.order(Order.GO)
    assert Order.SLOW_ON in hall.session.footing.orders(Stroke(Gesture.HOLD))


# -- late


def late(minutes: float, closes: int = CLOSES) -> Evening:
    """A run of four minutes, a lesson of two (kept), a recap, a break, a request, a run: 28 minutes, begun."""
    slots = (run(SHORT), lesson(SHORT), drill(SHORT), rest(SHORT), rest(SHORT, Kind.REQUEST, 5), run(SHORT))
    return timed(begun(evening_of(*slots, closes=closes)), minutes)


def test_nothing_is_proposed_while_there_is_time() -> None:
    evening = late(0)
    assert (evening.over_by, evening.proposed) == (-2, None)
    with pytest.raises(CanNot, match="there are 2 minutes in hand"):
        evening.after(ProgrammeEvent(Order.CUT))


def test_where_it_is_late_what_is_missed_least_is_proposed_and_only_an_order_takes_it_out() -> None:
    evening = late(9)  # the run of four minutes is over by five
    assert evening.over_by == 3
    assert evening.proposed is evening.slots[4]
    assert evening.says == ("3 minutes over: X takes out request (5 min). Lantern Row, run at 90%: its time is over.")
    assert len(evening.slots) == 6
    cut = evening.after(ProgrammeEvent(Order.CUT))
    assert [slot.item.kind for slot in cut.slots] == [Kind.RUN, Kind.LESSON, Kind.RECAP, Kind.BREAK, Kind.RUN]
    assert cut.says == "Taken out: request; it ends at 19:28 instead of 19:33."
    assert cut.proposed is None
    back = cut.after(ProgrammeEvent(Order.PUT_BACK))
    assert back.slots == evening.slots
    with pytest.raises(CanNot, match="Nothing has been taken out"):
        back.after(ProgrammeEvent(Order.PUT_BACK))


def test_before_it_begins_the_plan_may_be_made_shorter_and_longer() -> None:
    """That is when a teacher has time for it; the item that it starts with stays."""
    slots = (run(SHORT), rest(SHORT, Kind.REQUEST, 5), rest(SHORT, Kind.REQUEST, 5), run(SHORT, 20))
    hall = Hall(evening_of(*slots, catalogue=CATALOGUE))
    view = hall.comes_to(State.READY)
    assert view.holds[0] == "4 minutes over: X takes out request (5 min)"
    view = hall.order(Order.CUT)
    assert (view.state, any("over" in words for words in view.holds)) == (State.READY, False)
    assert view.notices[-1] == "Taken out: request; it ends at 19:29 instead of 19:34."
    assert [line[7:] for line in view.plan[:3]] == [
        "Lantern Row, run at 90%, 4 min", "Request, 5 min", "Lantern Row, run at 90%, 20 min",
    ]  # fmt: skip
    assert hall.order(Order.REQUEST, 2).notices[-1].startswith("Slow Water: item 2, at 19:04, 5 min;")
    view = hall.order(Order.PUT_BACK)
    assert view.notices[-1].startswith("Back in the plan: request; it ends at 19:34")
    assert hall.order(Order.SHAKY).notices[-1] == "It has not begun."
    first = evening_of(requested(SHORT, "Chalk Line"), catalogue=CATALOGUE)
    assert asked(first, 1).says.startswith("Chalk Line is in the plan already, item 1: ask")
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    assert len(hall.session.programme.slots) == 4


def test_cut_after_cut_goes_up_to_what_is_kept() -> None:
    evening, kinds = late(60), []
    while evening.proposed is not None:
        kinds.append(evening.proposed.item.kind)
        evening = evening.after(ProgrammeEvent(Order.CUT))
    assert kinds == [Kind.REQUEST, Kind.RUN, Kind.RECAP, Kind.BREAK]
    assert [slot.item.kind for slot in evening.slots] == [Kind.RUN, Kind.LESSON]
    with pytest.raises(CanNot, match="there is nothing that may be"):
        evening.after(ProgrammeEvent(Order.CUT))


def test_what_is_proposed_is_told_once_and_taken_out_by_a_key_in_mid_dance() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT, Kind.REQUEST, 5), run(SHORT, 30)))
    hall.order(Order.GO)
    view = hall.until(lambda view: any("X takes out" in notice for notice in view.notices), 60)
    assert view.holds[0].endswith("X takes out request (5 min)")
    view = hall.comes_to(State.RUNNING)
    heard = hall.session.air.playout
    view = hall.order(Order.CUT)
    assert "Taken out: request;" in view.notices[-1]
    assert hall.session.air.playout == heard  # nobody hears anything of it
    view = hall.comes_to(State.WAITING)
    assert view.told_next == "Lantern Row, run at 90%"
    assert sum("X takes out request" in notice for notice in view.notices) == 1


def test_a_cut_in_the_last_second_of_a_stage_holds() -> None:
    """What follows is on the air by then."""
    hall = Hall(evening_of(lesson(SHORT), rest(SHORT, Kind.REQUEST, 5), run(SHORT, 60)))
    hall.order(Order.GO)
    hall.until(lambda view: getattr(hall.session.stands, "then", None) is not None)
    assert len(hall.order(Order.CUT).plan) == 0
    hall.comes_to(State.WAITING)
    assert [slot.item.kind for slot in hall.session.programme.slots] == [Kind.LESSON, Kind.RUN]


def test_a_lesson_is_as_long_as_its_stages_that_are_left() -> None:
    slot = lesson(SHORT, minutes=9)
    slot = replace(slot, seconds=(Fraction(240), Fraction(300)))
    evening = begun(evening_of(slot, run(SHORT)))
    assert evening.left == 9
    on = evening.after(ProgrammeEvent(Passed.DONE))  # the first stage, told
    assert on.own.running.index == 1  # type: ignore[union-attr]
    assert (on.left, timed(on, 7).left) == (5, 5)
    # Where it was given less than it takes, it is to be over by then.
    short_of_time = begun(evening_of(replace(slot, item=replace(slot.item, minutes=6)), run(SHORT)))
    assert timed(short_of_time, 4).left == 2


def test_that_an_items_time_is_over_is_told() -> None:
    evening = begun(evening_of(lesson(SHORT, 2), run(SHORT)))
    assert timed(evening, 1.9).says == ""
    assert timed(timed(evening, 1.9), 2.1).says == "Lantern Row, lesson: its time is over."


def test_of_an_item_that_was_left_it_is_not_told_that_its_time_is_over() -> None:
    evening = begun(evening_of(rest(SHORT, minutes=4), run(SHORT), closes=STARTS + 60)).after(
        ProgrammeEvent(Passed.DONE)
    )
    assert timed(evening, 4.1).says == "Break: its time is over."
    left = timed(evening, 2).after(ProgrammeEvent(Order.NEXT_ITEM))
    assert timed(left, 4.1).says == ""


def test_a_clock_that_is_put_back_takes_no_time_from_an_item_nor_gives_it_any() -> None:
    """Summer time ends: it is an hour earlier all at once, and what is under way has lasted as long as it has."""
    evening = timed(begun(evening_of(run(SHORT, 44), rest(SHORT), closes=STARTS + 120)), 10)
    assert evening.left == 34
    back = timed(evening, -50)
    assert back.left == 34
    assert timed(back, -40).left == 24
    assert back.says == ""


def test_that_the_hall_closes_soon_is_told_ten_minutes_before() -> None:
    evening = begun(evening_of(lesson(SHORT, 44), closes=STARTS + 45))
    assert timed(timed(evening, 34.8), 34.9).says == ""
    assert timed(timed(evening, 34.9), 35).says == "The hall closes in 10 minutes."
    assert timed(timed(evening, 44.9), 45).says == "It is 19:45: the hall closes now."


def test_what_comes_to_pass_at_one_moment_is_all_told() -> None:
    """At one look at the clock it is late, closing time, and an item's time is over."""
    evening = begun(evening_of(run(SHORT, 30), rest(SHORT, Kind.REQUEST, 5), run(SHORT, 2), closes=STARTS + 37))
    on = timed(timed(evening, 29.9), 37)
    assert on.says == (
        "7 minutes over: X takes out request (5 min). It is 19:37: the hall closes now. "
        "Lantern Row, run at 90%: its time is over."
    )
    assert timed(on, 37.2).news == on.news  # and once


# -- requests and marks


CATALOGUE = (requested(SHORT, "Chalk Line", 1), requested(SHORT, "Slow Water", 2))


def asked(evening: Evening, *amounts: int) -> Evening:
    return evening.after(ProgrammeEvent(Order.REQUEST, amounts=tuple(map(Fraction, amounts))))


def test_a_request_takes_the_next_open_place_and_without_one_comes_next() -> None:
    evening = begun(evening_of(run(SHORT), lesson(SHORT), rest(SHORT, Kind.REQUEST, 5), catalogue=CATALOGUE))
    first = asked(evening, 2)
    assert [slot.title for slot in first.slots] == ["Lantern Row", "Lantern Row", "Slow Water"]
    assert first.says == "Slow Water: item 3, at 19:06, 5 min; it still ends at 19:11."
    again = asked(first, 1)
    assert [slot.title for slot in again.slots] == ["Lantern Row", "Chalk Line", "Lantern Row", "Slow Water"]
    assert again.says == "Chalk Line: next, at 19:04, 5 min; it ends at 19:16 instead of 19:11."
    with pytest.raises(CanNot, match="There is no dance 3 to ask for; there are: 1 Chalk Line, 2 Slow Water"):
        asked(evening, 3)
    with pytest.raises(CanNot, match="Say which dance, by number or name: 1 Chalk Line, 2 Slow Water"):
        evening.after(ProgrammeEvent(Order.REQUEST))


def test_a_dance_is_asked_for_by_its_own_number_wherever_it_stands() -> None:
    """What is proposed first, and what of many is there at all, depends on the class; its number does not."""
    catalogue = (requested(SHORT, "Slow Water", 107), requested(SHORT, "Chalk Line", 3))
    hall = Hall(evening_of(run(SHORT), rest(SHORT, Kind.REQUEST, 5), catalogue=catalogue))
    assert looked(hall.session).plan[-1] == "/request and a number or name asks for: 3 Chalk Line, 107 Slow Water"
    assert obey_typed(hall.session, "request 1")[0] is Order.REQUEST
    assert (
        looked(hall.session).notices[-1] == "There is no dance 1 to ask for; there are: 3 Chalk Line, 107 Slow Water."
    )
    for typed in ("request 107", "request slow"):
        hall = Hall(evening_of(run(SHORT), rest(SHORT, Kind.REQUEST, 5), catalogue=catalogue))
        obey_typed(hall.session, typed)
        assert hall.session.programme.slots[1].title == "Slow Water"


def test_a_request_says_by_how_much_it_goes_beyond_the_closing_time() -> None:
    evening = begun(evening_of(run(SHORT), closes=STARTS + 6, catalogue=CATALOGUE))
    doubted = asked(evening, 1)
    assert doubted.says == (
        "Chalk Line would end it at 19:09, 3 minutes after the hall closes: ask for it once more to dance it next, "
        "or type request 1 last to dance it at the end."
    )
    assert doubted.slots == evening.slots
    taken = asked(doubted, 1)
    assert taken.says == (
        "Chalk Line: next, at 19:04, 5 min; it ends at 19:09 instead of 19:04, 3 minutes after the hall closes."
    )


def test_what_was_taken_over_time_is_not_proposed_to_be_taken_out_nor_late_for_that() -> None:
    """It was the teacher's wish; what comes to be later than that is, and then something else is taken out."""
    evening = begun(evening_of(run(SHORT), run(SHORT), closes=STARTS + 8, catalogue=CATALOGUE))
    taken = asked(asked(evening, 1, 1), 1, 1)
    assert (taken.over_by, taken.facts.late, taken.proposed) == (5, "", None)
    assert timed(taken, 1).says == taken.says
    with pytest.raises(CanNot, match="Nothing is taken out: it is no later than was asked for"):
        taken.after(ProgrammeEvent(Order.CUT))
    later = timed(taken, 7)
    assert later.facts.late == "8 minutes over: X takes out Lantern Row, run at 90% (4 min)"
    cut = later.after(ProgrammeEvent(Order.CUT))
    assert ([slot.title for slot in cut.slots], cut.facts.late) == (["Lantern Row", "Chalk Line"], "")


def test_what_was_asked_about_is_taken_where_the_same_is_asked_and_nothing_was_changed_meanwhile() -> None:
    evening = begun(evening_of(run(SHORT), run(SHORT), closes=STARTS + 6, catalogue=CATALOGUE))
    last = asked(evening, 1, 1)
    assert asked(last, 1).slots == evening.slots  # as the next one is another request
    assert len(asked(asked(evening, 1), 1, 1).slots) == 3  # at the end, as the answer says
    cut = last.after(ProgrammeEvent(Order.CUT))
    assert asked(cut, 1, 1).slots == cut.slots
    assert asked(last.after(ProgrammeEvent(Order.CUT)).after(ProgrammeEvent(Order.PUT_BACK)), 1, 1).slots == last.slots


def test_a_plan_of_exactly_its_minutes_is_in_time_in_the_minute_it_starts_in() -> None:
    plan = evening_of(run(SHORT), rest(SHORT), closes=STARTS + 14)
    for late in (0, 0.1, 0.9):
        there = timed(plan, late)
        assert there.facts.late == ""
        assert there.facts.plan[-1] == "19:14  ends; the hall closes at 19:14: 0 minutes in hand"
    assert timed(plan, 1).facts.late.startswith("1 minute over: X takes out ")


def test_a_request_is_danced_at_the_end_where_that_is_asked() -> None:
    slots = (run(SHORT), lesson(SHORT), rest(SHORT, Kind.REQUEST, 5))
    evening = asked(begun(evening_of(*slots, catalogue=CATALOGUE)), 2, 1)
    assert [slot.title for slot in evening.slots] == ["Lantern Row", "Lantern Row", "", "Slow Water"]
    assert evening.says == "Slow Water: item 4, at 19:11, 5 min; it ends at 19:16 instead of 19:11."
    late = begun(evening_of(*slots, closes=STARTS + 11, catalogue=CATALOGUE))
    doubted = asked(late, 2, 1)
    assert doubted.says.endswith("5 minutes after the hall closes: ask for it once more to dance it at the end.")
    assert [slot.title for slot in asked(doubted, 2, 1).slots][-1] == "Slow Water"
    assert len(asked(late, 2).slots) == 3  # in the place of the request that was planned for, there is time


def test_in_the_place_of_a_shorter_request_it_is_asked_about_too() -> None:
    slots = (run(SHORT), rest(SHORT, Kind.REQUEST, 3))
    evening = begun(evening_of(*slots, closes=STARTS + 8, catalogue=CATALOGUE))
    doubted = asked(evening, 2)
    assert doubted.slots == evening.slots
    assert doubted.says == (
        "Slow Water would end it at 19:09, 1 minute after the hall closes: "
        "ask for it once more to dance it in the place of the request."
    )
    assert [slot.title for slot in asked(doubted, 2).slots] == ["Lantern Row", "Slow Water"]
    on_time = begun(evening_of(*slots, closes=STARTS + 9, catalogue=CATALOGUE))
    assert len(asked(on_time, 2).slots) == 2


def test_a_double_is_asked_about_and_asked_for_once_more_it_is_taken() -> None:
    """To come, danced already, or under way: each in its own words, and nothing changes by asking."""
    slots = (requested(SHORT, "Chalk Line"), rest(SHORT), rest(SHORT, Kind.REQUEST, 5))
    evening = begun(evening_of(*slots, catalogue=CATALOGUE))
    during = asked(evening, 1)
    assert during.says == "Chalk Line is being danced now: ask for it once more to dance it twice."
    assert during.slots == evening.slots
    once = asked(evening, 2)
    double = asked(once, 2)
    assert double.says == "Slow Water is in the plan already, item 3, at 19:15: ask for it once more to dance it twice."
    assert [slot.title for slot in asked(double, 2).slots] == ["Chalk Line", "Slow Water", "", "Slow Water"]
    assert asked(timed(double, 3), 2).slots == double.slots  # some minutes later it may be somebody else who asks
    assert len(asked(asked(double, 1), 2).slots) == 3  # so is another in between
    done = evening.after(ProgrammeEvent(Passed.DONE))
    assert asked(done, 1).says.startswith("Chalk Line was danced this evening: ask")
    left = evening.after(ProgrammeEvent(Order.NEXT_ITEM))  # left half-way is not danced
    assert asked(left, 1).says.startswith("Chalk Line: item 3, at")


def test_an_answer_that_is_the_same_again_is_told_again() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT)))
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    hall.order(Order.SHAKY)
    assert hall.order(Order.SHAKY).notices[-2:] == ("Lantern Row: shaky.", "Lantern Row: shaky.")


def test_what_nobody_asks_for_is_what_the_class_has_not_danced_tonight() -> None:
    hall = Hall(evening_of(rest(SHORT, Kind.REQUEST, 5), catalogue=CATALOGUE))
    hall.order(Order.GO)
    view = hall.comes_to(State.WAITING)
    assert view.told_next == "Chalk Line, request"
    assert view.plan[-1] == "/request and a number or name asks for: 1 Chalk Line, 2 Slow Water"
    hall.order(Order.GO)
    assert hall.session.programme.slot.title == "Chalk Line"
    assert hall.session.state is State.COUNT_IN
    hall.comes_to(State.WAITING)
    assert hall.order(Order.GO).state is State.FINISHED


def test_asked_for_in_its_own_time_it_waits_for_the_tap() -> None:
    hall = Hall(evening_of(rest(SHORT, Kind.REQUEST, 5), run(SHORT), catalogue=CATALOGUE))
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    view = hall.order(Order.REQUEST, 2)
    assert (view.state, view.told_next) == (State.WAITING, "Slow Water, request")
    hall.order(Order.GO)
    assert hall.session.programme.slot.title == "Slow Water"


def test_a_mark_is_of_the_dance_that_was_just_danced() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT)))
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    view = hall.order(Order.SHAKY)
    assert view.notices[-1] == "Lantern Row: shaky."
    assert hall.session.programme.marked == (("Lantern Row", "shaky"),)
    assert hall.ordered[-1][1] is Order.SHAKY
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    assert hall.order(Order.LEARNT).notices[-1] == "Lantern Row: learnt."  # in the break, the dance before it
    assert (hall.ordered[-1][0].to_mark, hall.ordered[-1][1]) == ("Lantern Row", Order.LEARNT)
    cut_short = evening_of(run(SHORT), rest(SHORT)).at(hall.session.programme.bookmark(None))
    assert cut_short.to_mark == "Lantern Row"
    nothing_yet = Hall(evening_of(rest(SHORT), run(SHORT)))
    nothing_yet.order(Order.GO)
    nothing_yet.comes_to(State.WAITING)
    assert nothing_yet.order(Order.LEARNT).notices[-1].startswith("No routine has been danced yet")
    assert nothing_yet.ordered[-1][1] is Order.GO  # what can't be done is not kept


def test_what_was_danced_beside_it_is_marked_by_its_name() -> None:
    """It is said how: between the items, and when the first is marked."""
    from tests.session.test_beside import chalk

    slot = run(SHORT)
    assert isinstance(slot.programme, WholeDance)
    both = replace(slot, programme=WholeDance.on_one_floor(slot.programme, chalk()))
    hall = Hall(evening_of(both, rest(SHORT), catalogue=CATALOGUE))
    hall.order(Order.GO)
    view = hall.comes_to(State.WAITING)
    assert (view.to_mark, view.beside_to_mark) == ("Lantern Row", "Chalk Line")
    assert "8 shaky, 9 not done: Lantern Row, /learnt Chalk Line;" in board_of(view).large.label
    assert (
        "To mark, Lantern Row: learnt, shaky, not done; the dance beside it: learnt Chalk Line, shaky Chalk Line, "
        "not done Chalk Line."
    ) in lines_between(None, view)
    assert hall.order(Order.SHAKY).notices[-1] == (
        "Lantern Row: shaky. /shaky Chalk Line says so of the dance beside it."
    )
    obey_typed(hall.session, "not done chalk line")
    assert hall.session.view(0).notices[-1] == "Chalk Line: not done."
    assert hall.session.programme.marked == (("Lantern Row", "shaky"), ("Chalk Line", "not done"))
    obey_typed(hall.session, "learnt slow water")  # any dance of the evening, or that may be asked for
    assert hall.ordered[-1][0].marked[-1] == ("Slow Water", "learnt")
    assert obey_typed(hall.session, "learnt Long Lost") == (
        None, 'No one dance of this evening is called "Long Lost".',
    )  # fmt: skip
    assert len(hall.session.programme.marked) == 3
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    assert hall.session.view(0).beside_to_mark == "Chalk Line"  # in the break too


# -- cut short


def test_it_goes_on_at_the_wall_the_stage_and_the_go_where_it_was() -> None:
    slots = (run(SHORT), lesson(SHORT), rest(SHORT), run(SHORT))
    hall = Hall(evening_of(*slots))
    for _ in range(4):
        hall.order(Order.GO)
        hall.comes_to(State.WAITING)
    places = hall.places
    assert [(place.index, place.ahead) for place in places if place.ahead is not None] == [
        (0, 1), (1, 2), (2, 3), (3, 4),
    ]  # fmt: skip
    assert {place.count for place in places if place.index == 0} == {0, 32}
    assert {(place.stage, place.goes) for place in places if place.index == 1 and place.ahead is None} >= {
        (0, 0), (1, 0), (1, 1),
    }  # fmt: skip
    for place in places:
        again = evening_of(*slots).at(place)
        hall = Hall(again)
        view = hall.order(Order.GO)
        assert view.state in (State.TELLING, State.COUNT_IN)
        in_the_break = (place.index, place.ahead) == (2, 3)
        expected = place.index if place.ahead is None or in_the_break else min(place.ahead, 3)
        assert hall.session.programme.index == expected
        if place.ahead is None:
            assert hall.session.programme.bookmark(None) == replace(place, began=hall.session.programme.began)


def test_before_it_goes_on_it_shows_the_plan_that_is_left() -> None:
    """However long it was cut short: half of a dance is left, and a break lasts until it was to be over."""
    half = Bookmark(0, count=Fraction(32), tempo=FULL, began=Fraction(60 * STARTS))
    evening = timed(evening_of(run(SHORT, 8), rest(SHORT), run(SHORT)).at(half), 9)
    assert evening.facts.plan == (
        "19:09  Lantern Row, run at 90%, 4 min",
        "19:13  Break, 10 min",
        "19:23  Lantern Row, run at 90%, 4 min",
        "19:27  ends; the hall closes at 19:30: 3 minutes in hand",
    )
    ready = Hall(evening_of(run(SHORT, 8), rest(SHORT)).at(half))
    board = board_of(ready.comes_to(State.READY))
    assert board.listed[-4] == "This evening goes on:"
    assert (board.large.label, board.large.next[0]) == (
        "Goes on where it was cut short; ? shows every key", "Space or the pedal goes on",
    )  # fmt: skip
    on = evening.after(ProgrammeEvent(Order.GO))
    assert on.facts.plan == ()
    assert not on.facts.resumed
    assert (on.left, timed(on, 11).left) == (4, 2)
    resting = evening_of(rest(SHORT), run(SHORT)).at(Bookmark(0, 1, began=Fraction(60 * STARTS)))
    assert timed(resting, 7).facts.plan[0] == "19:07  Break, 3 min"
    assert timed(resting, 7).after(ProgrammeEvent(Order.GO)).began == Fraction(60 * STARTS)


def test_in_a_break_nothing_is_said_of_what_is_danced() -> None:
    evening = begun(evening_of(rest(SHORT), run(SHORT))).after(ProgrammeEvent(Passed.DONE))
    assert (evening.facts.rest, evening.facts.stage) == ("break until 19:10", "10 minutes")


def test_a_dance_that_goes_on_at_a_wall_was_danced_whole_once_it_ends() -> None:
    hall = Hall(evening_of(run(SHORT), rest(SHORT)).at(Bookmark(0, count=Fraction(32), tempo=Fraction(100))))
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    ((evening, tempo),) = hall.done
    assert (tempo, evening.own.since) == (100, 0)  # type: ignore[union-attr]


def test_a_lesson_goes_on_as_slow_as_it_was_made() -> None:
    place = Bookmark(0, stage=1, goes=1, nudged=Nudged(slow=Fraction(92, 100)), tempo=Fraction(100))
    evening = evening_of(lesson(SHORT)).at(place)
    running = evening.own.running  # type: ignore[union-attr]
    assert (running.index, running.goes, running.tempo, running.announced) == (1, 1, 46, True)
    assert running.since == 0
    jumped = begun(evening_of(lesson(SHORT))).after(ProgrammeEvent(Order.STAGE, amounts=(Fraction(2),)))
    kept = evening_of(lesson(SHORT)).at(jumped.bookmark(None)).own.running  # type: ignore[union-attr]
    assert (kept.index, kept.since) == (1, 1)


# -- orders


@pytest.mark.parametrize("order", [Order.NEXT_ITEM, Order.ITEM, Order.CUT, Order.PUT_BACK, Order.REQUEST, Order.LEARNT])
def test_without_an_evening_its_orders_say_so(order: Order) -> None:
    for context in CONTEXTS:
        response = respond(context, order)
        if not context.evening:
            assert response.effect is Effect.NOTHING
            assert response.tells == "There is no evening under way: 'caller evening' plans one."
        assert response.elsewhere is not context.evening


def test_when_it_is_over_nothing_begins_again() -> None:
    over = OrderContext(State.FINISHED, lesson=True, danced=False, evening=True, between=True)
    assert not any(
        respond(over, order).effect in (Effect.BEGIN, Effect.CHANGE) for order in Order if order not in _SLOW
    )
    hall = Hall(evening_of(rest(SHORT)))
    hall.order(Order.GO)
    hall.comes_to(State.WAITING)
    view = hall.order(Order.GO)
    assert (view.state, view.plan) == (State.FINISHED, ())
    assert board_of(view).large == Large(("the evening is over",), "Q leaves", ("",))
    for order in Order:
        if order is not Order.QUIT:
            hall.session.obey(order, *([1, 4][: 2 if "loop" in order.value else 1]))
            assert hall.session.state is State.FINISHED


# How slowly the pedal lets it be danced is the pedal's, whatever stands.
_SLOW = (Order.HALF, Order.SHARE, Order.SLOW_ON, Order.SLOW_OFF)


def test_each_order_at_each_moment_leaves_an_evening_that_goes_on() -> None:
    """Whatever is pressed, leaving item after item leads on to the end."""
    start = begun(evening_of(run(SHORT), lesson(SHORT), rest(SHORT), catalogue=CATALOGUE))
    running = ProgrammeEvent(Order.GO, count=Fraction(12))
    waiting = start.after(ProgrammeEvent(Passed.DONE))
    told = waiting.after(ProgrammeEvent(Order.NEXT))
    assert (start.waits, waiting.waits, told.index) == (False, True, 1)
    for order in Order:
        amounts = (Fraction(1), Fraction(4)) if "loop" in order.value else (Fraction(1),)
        for evening, count, line in ((start, Fraction(12), None), (told, None, 0), (waiting, None, None)):
            with contextlib.suppress(CanNot):
                evening = evening.after(replace(running, what=order, count=count, line=line, amounts=amounts))
            for _ in range(6):
                evening = evening.after(ProgrammeEvent(Order.NEXT_ITEM)).after(ProgrammeEvent(Order.NEXT))
            assert evening.over, (order, evening.index)


def test_the_tempo_of_a_dance_is_kept_as_it_was_danced() -> None:
    hall = Hall(evening_of(run(SHORT, tempo=Fraction(1)), rest(SHORT)))
    hall.order(Order.GO)
    hall.comes_to(State.RUNNING)
    hall.order(Order.SLOW_ON)
    hall.comes_to(State.WAITING)
    ((_, tempo),) = hall.done
    assert FULL * Fraction(3, 4) <= tempo < FULL
    assert tempo.denominator in (1, 2, 5, 10)
