"""What a class knows, and what is due."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction

from hypothesis import given

from caller.book.entries import Mark, Note, Pages, Standing, Taught, missing_from, moment, moment_text
from caller.book.known import due, known, last_rung, weak_places
from caller.book.spelling import folded, joined, spellings
from tests.book.books import PAGES, START, pages

DAY = timedelta(days=1)


def lesson(day: int, stage: int = 3, stages: int = 12, routine: str = "Lantern Row", **more: object) -> Taught:
    return Taught("Tuesday", START + day * DAY, routine, "walkthrough", f"part {stage}", stage, stages, **more)  # type: ignore[arg-type]


def whole(day: int) -> Taught:
    """As walkthroughs were kept before their end was a dance."""
    return replace(lesson(day, 12), part="The whole dance")


def test_a_class_knows_a_routine_as_far_as_it_ever_got_and_as_fast_as_it_ever_went() -> None:
    taught = (
        lesson(0, 3, tempo=Fraction(54), full=Fraction(108)),
        lesson(0, 5, tempo=Fraction(81), full=Fraction(108)),
        lesson(7, 2, tempo=Fraction(60), full=Fraction(108)),
    )
    (one,) = known(Pages(("Tuesday",), taught))
    assert (one.furthest, one.stages, one.part, one.top_tempo, one.full) == (5, 12, "part 5", 81, 108)
    assert (one.lessons, one.last, one.whole) == (2, START + 7 * DAY, False)


def test_a_stage_that_was_jumped_to_counts_once_all_before_it_have_been_taught() -> None:
    first, jumped = (lesson(0, n) for n in (2, 3)), (lesson(0, n, since=8) for n in (8, 9))
    taught = (*first, *jumped)
    (one,) = known(Pages(("Tuesday",), taught))
    assert (one.furthest, one.part, one.whole) == (3, "part 3", False)
    (end,) = known(Pages(("Tuesday",), (*taught, lesson(0, 12, since=10))))
    assert (end.furthest, end.whole) == (3, False)  # the last stage, seen in passing
    (between,) = known(Pages(("Tuesday",), (*taught, lesson(7, 7, since=4))))
    assert (between.furthest, between.part) == (9, "part 9")
    (jumped_only,) = known(Pages(("Tuesday",), (lesson(0, 9, since=8),)))
    assert (jumped_only.furthest, jumped_only.stages, jumped_only.part) == (0, 12, "")


def test_how_far_a_class_got_is_carried_over_to_a_walkthrough_of_other_stages() -> None:
    """The sheet was changed, or the level is another: it went on about as far on as it had got."""
    (one,) = known(Pages(("Tuesday",), (lesson(0, 6, 12), lesson(7, 15, 24, since=14))))
    assert (one.furthest, one.stages) == (15, 24)
    (jumped,) = known(Pages(("Tuesday",), (lesson(0, 6, 12), lesson(7, 22, 24, since=20))))
    assert (jumped.furthest, jumped.stages) == (12, 24)
    for since, furthest in ((15, 15), (16, 12)):  # a tenth of its stages further on is still about there
        (one,) = known(Pages(("Tuesday",), (lesson(0, 6, 12), lesson(7, since, 24, since=since))))
        assert one.furthest == furthest


def test_the_routines_own_tempo_is_the_one_that_was_told_last() -> None:
    taught = (lesson(0, full=Fraction(100)), lesson(7, full=Fraction(108)))
    assert known(Pages(("Tuesday",), taught))[0].full == 108


def test_a_whole_dance_of_which_the_tempo_is_half_known_counts_as_danced_at_it() -> None:
    dance = replace(whole(0), way="dance", tempo=Fraction(90))
    assert known(Pages(("Tuesday",), (dance,)))[0].whole


def test_notes_on_a_routine_stand_with_it_and_notes_on_the_class_do_not() -> None:
    notes = (Note("Tuesday", START, "Lantern Row", "left pivot"), Note("Tuesday", START, "", "cold hall"))
    (one,) = known(Pages(("Tuesday",), (lesson(0),), notes))
    assert one.notes == ("left pivot",)


def test_what_was_left_half_taught_is_due_at_the_next_class() -> None:
    book = Pages(("Tuesday",), tuple(lesson(7 * n) for n in range(4)))
    assert known(book)[0].due == START + 28 * DAY


def test_what_is_known_whole_waits_longer_with_each_lesson() -> None:
    waits = []
    for lessons in range(1, 7):
        book = Pages(("Tuesday",), tuple(whole(7 * n) for n in range(lessons)))
        (one,) = known(book)
        assert one.whole
        waits.append((one.due - one.last).days)
    assert waits == [7, 14, 28, 56, 112, 112]


def test_a_day_on_which_it_was_only_danced_through_is_a_run() -> None:
    run = replace(lesson(9, 0, 0), way="dance")
    (one,) = known(Pages(("Tuesday",), (lesson(1), run, lesson(16), replace(run, at=lesson(16).at))))
    assert (one.lessons, one.runs) == (3, 1)
    (taught,) = known(Pages(("Tuesday",), (whole(1),)))
    assert taught.runs == 0, "at the end of its walkthrough it is a lesson's"


def test_a_drill_alone_is_no_whole_routine_and_a_dance_is() -> None:
    drill = Taught("Tuesday", START, "Chalk Line", "drill", "section 2")
    dance = Taught("Tuesday", START, "Chalk Line", "dance", "whole dance")
    assert not known(Pages(("Tuesday",), (drill,)))[0].whole
    assert known(Pages(("Tuesday",), (drill, dance)))[0].whole


def test_the_longest_overdue_comes_first_and_what_can_wait_is_left_out() -> None:
    book = Pages(("Tuesday",), (lesson(3, routine="B"), lesson(0, routine="A"), lesson(20, routine="C")))
    assert [one.routine for one in due(book, START + 11 * DAY)] == ["A", "B"]
    assert due(book, START + 6 * DAY) == ()
    assert [one.routine for one in due(book, START + 10 * DAY)] == ["A", "B"]


def test_what_nobody_attended_is_not_known_and_not_due() -> None:
    book = Pages(("Tuesday",), (lesson(0, 3), lesson(7, 12, attended=False), lesson(7, routine="B", attended=False)))
    (one,) = known(book)
    assert (one.routine, one.lessons, one.last, one.furthest, one.whole) == ("Lantern Row", 1, START, 3, False)


def marked(day: float, mark: Standing) -> Mark:
    return Mark("Tuesday", START + day * DAY, "Lantern Row", mark)


def test_what_is_due_goes_by_what_the_teacher_says() -> None:
    walked = tuple(whole(7 * n) for n in range(3))  # to its end, three times: four weeks by itself
    for marks, days, holds in (
        ((), 28, ""),
        ((marked(14, "shaky"),), 3, "shaky"),
        ((marked(14, "shaky"), marked(15, "learnt")), 28, "learnt"),
        ((marked(15, "not done"),), 1, "not done"),
    ):
        (one,) = known(Pages(("Tuesday",), walked, (), marks))
        assert (one.due - one.last, one.mark) == (days * DAY, holds)


def test_learnt_waits_longer_though_its_walkthrough_never_got_to_its_end() -> None:
    (one,) = known(Pages(("Tuesday",), (lesson(0, 3), lesson(7, 5)), (), (marked(7, "learnt"),)))
    assert (one.due - one.last, one.whole) == (14 * DAY, False)


def test_what_was_not_done_is_due_at_once_until_it_is() -> None:
    (one,) = known(Pages(("Tuesday",), (), (), (marked(3, "not done"),)))
    assert (one.lessons, one.last, one.due, one.part) == (0, START + 3 * DAY, START + 3 * DAY, "")
    (one,) = known(Pages(("Tuesday",), (lesson(10),), (), (marked(3, "not done"),)))
    assert (one.due, one.mark) == (START + 17 * DAY, "")


def practised(day: float, part: str, stage: int = 0, **more: object) -> Taught:
    at = START + day * DAY
    return Taught("at home", at, "Lantern Row", "practice", part, stage, 5 if stage else 0, **more)  # type: ignore[arg-type]


def test_the_rung_that_last_went_well_is_the_newest_and_not_the_highest() -> None:
    rungs = practised(0, "90%, went well", 4), practised(30, "70%, went well", 2), practised(31, "80%")
    assert last_rung(Pages(("at home",), rungs), "at home", "Lantern Row") == 2
    assert last_rung(Pages(("at home",), rungs[2:]), "at home", "Lantern Row") == 0
    assert last_rung(Pages(("at home",), rungs), "at home", "Chalk Line") == 0
    assert last_rung(Pages(("at home",), (practised(0, "x", 3, attended=False),)), "at home", "Lantern Row") == 0


def test_weak_places_are_those_gone_over_most_often_of_late() -> None:
    often = [practised(day, "Section 2, a weak place") for day in (10, 11)]
    taught = (*often, practised(12, "Section 4, a weak place"), practised(1, "Section 3, a weak place"))
    taught += (practised(12, "Part B section 12, a weak place"), practised(12, "90%, from wall one"))
    assert weak_places(Pages(("at home",), taught), "at home", "Lantern Row", START + 5 * DAY) == (2, 4, 12)


@given(pages())
def test_each_routine_of_each_class_is_told_once(book: Pages) -> None:
    found = known(book)
    kept = (*(entry for entry in book.taught if entry.attended), *book.marks)
    told = sorted((one.class_name, folded(one.routine)) for one in found)
    assert told == sorted({(e.class_name, folded(e.routine)) for e in kept})
    assert set(due(book, datetime(2100, 1, 1, tzinfo=UTC))) == set(found)


@given(pages(), pages())
def test_what_is_missing_and_what_is_there_make_the_whole(book: Pages, wanted: Pages) -> None:
    fresh = missing_from(book, wanted)
    grown = Pages(*(getattr(book, of) + getattr(fresh, of) for of in ("classes", "taught", "notes", "marks")))
    assert missing_from(grown, wanted) == Pages()
    assert missing_from(Pages(), wanted) == wanted


def test_instants_are_written_in_utc_to_the_second() -> None:
    assert moment_text(START) == "2026-03-31T18:45:00Z"
    assert moment("2026-03-31T18:45:00Z") == START
    assert all(moment(moment_text(entry.at)) == entry.at for entry in PAGES.taught)


def test_the_section_that_was_gone_over_most_often_is_known_where_one_stands_out() -> None:
    def often(*parts: str) -> str:
        taught = tuple(Taught("Tuesday", START, "Lantern Row", "walkthrough", part, 3, 30) for part in parts)
        return known(Pages(("Tuesday",), taught))[0].often

    usual = ("Section 1, words on the count",) * 2 + ("Section 2, words on the count",) * 3
    assert often(*usual) == ""  # one more is how a lesson goes
    assert often(*usual, "Section 2, words on the count") == "section 2"
    assert often(*usual, *["Section 1"] * 3) == "section 1"  # a drill has it by that name
    assert often(*["Part B section 2, words on the count"] * 2) == "part b section 2"
    assert often("The whole wall", "The whole wall", "Into section 2", "Into section 2") == ""


def part(day: int) -> Taught:
    """A dance that was left before its end."""
    return Taught("Tuesday", START + day * DAY, "Lantern Row", "drill", "3 of 9 walls", tempo=Fraction(108))


def test_a_part_that_was_danced_is_no_whole_run_and_puts_off_what_is_due_by_a_week_at_most() -> None:
    runs = tuple(whole(7 * n) for n in range(3))  # due four weeks after the last one
    for days, due_after in (((15,), 42), ((15, 22, 29), 42), ((40,), 47), ((49, 56), 63)):
        (one,) = known(Pages(("Tuesday",), (*runs, *map(part, days))))
        assert (one.due - START, one.lessons, one.last) == (due_after * DAY, 3 + len(days), START + days[-1] * DAY)
    (alone,) = known(Pages(("Tuesday",), tuple(part(7 * n) for n in range(4))))
    assert (alone.whole, alone.slowly, alone.due, alone.part) == (False, False, START + 28 * DAY, "3 of 9 walls")


def test_what_its_teacher_calls_learnt_waits_longer_though_it_is_left_before_its_end() -> None:
    (one,) = known(Pages(("Tuesday",), (whole(0), part(7), part(14)), (), (marked(7, "learnt"),)))
    assert one.due - one.last == 28 * DAY


def test_how_far_a_class_got_is_all_of_the_dance_though_a_part_was_danced_since() -> None:
    run = Taught("Tuesday", START, "Lantern Row", "dance", "9 walls")
    (one,) = known(Pages(("Tuesday",), (run, part(7))))
    assert (one.part, one.whole) == ("9 walls", True)


def test_one_routine_under_two_spellings_of_case_is_one_and_nothing_of_it_is_lost() -> None:
    runs = tuple(replace(one, routine=title) for one, title in ((whole(0), "LANTERN ROW"), (whole(7), "Lantern Row")))
    notes = (Note("Tuesday", START, "lantern row", "left pivot"), Note("Monday", START, "lantern  ROW", "other class"))
    marks = tuple(replace(marked(day, mark), routine=title) for day, mark, title in _MARKS)
    pages = Pages(("Monday", "Tuesday"), runs, notes, marks)
    (one,) = known(pages)
    assert (one.routine, one.lessons, one.mark, one.notes) == ("Lantern Row", 2, "shaky", ("left pivot",))
    assert [replace(entry, routine="x") for entry in joined(pages).notes] == [
        replace(entry, routine="x") for entry in notes
    ]
    assert joined(pages).classes == pages.classes
    practice = replace(practised(0, "90%, went well", 4), routine="LANTERN ROW")
    assert last_rung(Pages(("at home",), (practice,)), "at home", "Lantern Row") == 4


_MARKS: tuple[tuple[int, Standing, str], ...] = ((0, "learnt", "Lantern row"), (8, "shaky", "LANTERN ROW"))


def test_a_routine_that_was_never_danced_is_called_as_it_was_last_marked_else_noted() -> None:
    noted, first = Note("Tuesday", START + 9 * DAY, "slate yard", "x"), marked(0, "shaky")
    assert spellings(Pages(("Tuesday",), (), (noted,))) == {"slate yard": "slate yard"}
    again = replace(marked(1, "learnt"), routine="Slate Yard")
    found = spellings(Pages(("Tuesday",), (), (noted,), (again, replace(first, routine="SLATE YARD"))))
    assert found == {"slate yard": "Slate Yard"}
