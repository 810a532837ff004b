"""An evening that is late when nothing more may be taken out: its lesson is stopped short, where that is ordered."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.evening.plan import Item, Kind
from caller.session.evening import Evening
from caller.session.programme import CanNot, Passed, ProgrammeEvent
from caller.session.slots import Slot
from caller.session.taught import TaughtProgramme
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.walkthrough import walkthrough_of
from caller.transport.order import Order
from tests.session.classroom import lantern
from tests.session.evenings import STARTS, evening_of, rest

CUT = ProgrammeEvent(Order.CUT)
GO = ProgrammeEvent(Order.GO)


def _lesson() -> Slot:
    plan, dance = walkthrough_of(lantern()), lantern()
    seconds = stage_seconds(plan, Floors.of(dance))
    item = Item(Kind.LESSON, int(sum(seconds) / 60) + 1, "Lantern Row", keep=True, why="new")
    return Slot(item, TaughtProgramme.of(plan, dance), seconds)


def _timed(evening: Evening, minutes: int) -> Evening:
    """So many minutes after it was to start."""
    return evening.after(ProgrammeEvent(Passed.TIMED, amounts=(Fraction(60 * (STARTS + minutes)),)))


def _late(late: int, *before: Slot) -> Evening:
    """Begun so late, with nothing after the lesson."""
    lesson = _lesson()
    slots = (*before, lesson)
    closes = STARTS + sum(slot.item.minutes for slot in slots)
    return _timed(_timed(evening_of(*slots, closes=closes), late).after(GO), late)


def test_the_lesson_under_way_is_offered_to_stop_at_a_section_and_stops_there() -> None:
    late = _late(12)
    assert late.over_by > 0
    assert late.facts.late.startswith("11 minutes over: X shortens the lesson of Lantern Row: to section ")
    assert late.facts.late.endswith("min less)")
    short = late.after(CUT)
    assert short.says.startswith("The lesson of Lantern Row is shorter: to section ")
    assert short.over_by <= 0
    assert short.facts.late == ""
    assert short.slot.item.why.startswith("new, to section ")
    own = short.own
    assert isinstance(own, TaughtProgramme)
    assert own.running.until is not None
    for _ in range(2000):
        if short.ahead is not None:
            break
        short = short.after(ProgrammeEvent(Passed.DONE))
    assert isinstance(short.own, TaughtProgramme)
    assert short.own.stopped
    assert "P goes on with it" in short.says
    on = short.after(ProgrammeEvent(Order.PREVIOUS))
    assert on.ahead is None


def test_so_is_a_lesson_that_is_still_to_come() -> None:
    late = _late(9, replace(rest(lantern(), minutes=10), item=Item(Kind.BREAK, 10, keep=True)))
    assert late.ahead is None
    assert "X shortens the lesson of Lantern Row" in late.facts.late
    short = late.after(CUT)
    assert short.over_by <= 0
    programme = short.slots[1].programme
    assert isinstance(programme, TaughtProgramme)
    assert programme.running.until is not None
    assert short.slots[1].item.minutes < late.slots[1].item.minutes


def test_what_may_be_taken_out_comes_first_and_in_time_nothing_is_offered() -> None:
    lesson = _lesson()
    plan = evening_of(lesson, rest(lantern(), Kind.REQUEST, 5), closes=STARTS + lesson.item.minutes + 5)
    late = _timed(_timed(plan, 8).after(GO), 8)
    assert "X takes out request" in late.facts.late
    less = late.after(CUT)
    assert "X shortens the lesson" in less.facts.late
    with pytest.raises(CanNot, match="Nothing is taken out"):
        _late(0).after(CUT)


def test_a_lesson_that_is_too_late_for_any_section_stops_after_the_first() -> None:
    short = _late(500).after(CUT)
    assert "to section 1 of 4" in short.says
    with pytest.raises(CanNot, match="Nothing is taken out: there is nothing that may be"):
        short.after(CUT)


def test_it_is_told_once_though_the_minutes_go_by() -> None:
    late = _late(12)
    told = 0
    for seconds in range(0, 300, 5):
        at = Fraction(60 * (STARTS + 12) + seconds)
        after = late.after(ProgrammeEvent(Passed.TIMED, amounts=(at,)))
        told += after.news > late.news and "X shortens the lesson" in after.says
        late = after
    assert 1 <= told <= 2
