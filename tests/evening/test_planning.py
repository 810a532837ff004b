"""What an evening is made of, and what there is time for."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.book.entries import Mark, Pages, Standing, Taught
from caller.book.known import known
from caller.calls.plan import Manner
from caller.evening.fitting import LEAST_SECOND, fitted
from caller.evening.plan import Item, Kind, Plan, plan_lines
from caller.evening.planning import GOES_ON, HARDEST, SHAKY, SHAKY_RECAP_MINUTES, Wishes, wishes
from tests.book.books import START

WEEK = timedelta(days=7)
NOW = START + 8 * WEEK
ON_HAND = ("Chalk Line", "Lantern Row", "Slow Water", "Tin Roof Swing")


def danced(routine: str, *weeks_ago: float, stage: int = 30) -> list[Taught]:
    """By stages of its walkthrough, of which the last is the whole dance."""
    part = "The whole dance" if stage == 30 else "a part"
    return [Taught("Tuesday", NOW - week * WEEK, routine, "walkthrough", part, stage, 30) for week in weeks_ago]


def wanted(*taught: Taught, marks: tuple[Mark, ...] = (), new: str | None = None) -> Wishes:
    return wishes(known(Pages(("Tuesday",), taught, (), marks)), ON_HAND, NOW, new)


def marked(routine: str, mark: Standing) -> Mark:
    return Mark("Tuesday", NOW - WEEK, routine, mark)


def of_kind(wishes: Wishes, kind: Kind) -> list[Item]:
    return [item for item in wishes.items if item.kind is kind]


def routines(wishes: Wishes, kind: Kind) -> list[str]:
    return [item.routine for item in of_kind(wishes, kind)]


def test_it_opens_with_the_easiest_dance_that_is_known() -> None:
    """Though it is not due: it comes first, and has the time first, so that a short evening is not begun cold."""
    known_ones = (*danced("Slow Water", 1, 2), *danced("Chalk Line", 2, 3, 4, 5), *danced("Lantern Row", 3, 4, 5))
    ease = {"chalk line": (1, 16), "lantern row": (2, 32), "slow water": (2, 48)}
    found = wishes(known(Pages(("Tuesday",), known_ones)), ON_HAND[:3], NOW, ease=lambda title: ease[title.lower()])
    assert routines(found, Kind.RUN) == ["Chalk Line", "Slow Water"]
    assert [item.why for item in of_kind(found, Kind.RUN)] == ["to warm up, danced 2 weeks ago", "danced last week"]
    items = tuple(replace(item, minutes=4) for item in found.items)
    assert [item.name for item in fitted(Wishes(items), "", 0, 55).items][:2] == [
        "Chalk Line, run at 90%", "Slow Water, run at 90%",
    ]  # fmt: skip
    assert [item.name for item in fitted(Wishes(items), "", 0, 5).items] == ["Chalk Line, run at 90%"]


def test_what_is_shaky_is_no_warm_up_while_another_dance_is_known() -> None:
    """However easy it is, and though it was danced last; where all is shaky, the easiest of it."""
    ease = {"chalk line": (1, 24), "lantern row": (2, 32), "slow water": (3, 48)}
    pages = Pages(("Tuesday",), (*danced("Chalk Line", 1, 2), *danced("Lantern Row", 2, 3), *danced("Slow Water", 2)))

    def runs(*shaky: str) -> list[tuple[str, str]]:
        marks = tuple(marked(title, "shaky") for title in shaky)
        found = wishes(known(replace(pages, marks=marks)), ON_HAND[:3], NOW, ease=lambda title: ease[title])
        return [(item.routine, item.why) for item in of_kind(found, Kind.RUN)]

    assert runs()[0] == ("Chalk Line", "danced last week")  # it comes first in any case
    assert runs("Chalk Line")[:2] == [
        ("Lantern Row", "to warm up, danced 2 weeks ago"), ("Chalk Line", "shaky, danced last week"),
    ]  # fmt: skip
    assert runs("Chalk Line", "Lantern Row")[0] == ("Slow Water", "to warm up, danced 2 weeks ago")
    assert runs("Chalk Line", "Lantern Row", "Slow Water")[0] == ("Chalk Line", "shaky, danced last week")


def test_no_evening_begins_with_a_drill() -> None:
    """What is shaky is danced before it is drilled; a drill whose run has no time comes after the lesson."""
    run, drill, lesson = Item(Kind.RUN, 4, "A"), Item(Kind.DRILL, 3, "A", SHAKY), Item(Kind.LESSON, 12, "B")

    def order(*items: Item) -> list[Kind]:
        return [item.kind for item in fitted(Wishes(items), "", 0, 40).items]

    assert order(lesson, drill, run) == [Kind.RUN, Kind.DRILL, Kind.LESSON]
    assert order(lesson, drill) == [Kind.LESSON, Kind.DRILL]
    other = replace(run, routine="C")
    assert order(lesson, other, drill, run) == [Kind.RUN, Kind.DRILL, Kind.RUN, Kind.LESSON]


def test_a_class_that_knows_nothing_begins_with_what_was_begun_or_the_easiest() -> None:
    hard, easy = (Item(Kind.LESSON, 20, title) for title in ("Slow Water", "Chalk Line"))
    half, ease = replace(hard, stage=9, routine="Lantern Row"), {"Slow Water": (3,), "Chalk Line": (1,), "A": (2,)}

    def first(*items: Item) -> str:
        plan = fitted(Wishes(items), "", 0, 80, ease=lambda routine: ease.get(routine, (2,)))
        return next(item.routine for item in plan.items if item.kind is Kind.LESSON)

    assert first(hard, easy) == "Chalk Line"
    assert first(hard, half, easy) == "Lantern Row"
    assert first(hard, easy, Item(Kind.RUN, 4, "A")) == "Slow Water"  # there is a run to open with


def test_a_class_that_knows_nothing_is_taught_the_first_on_hand() -> None:
    found = wanted()
    assert routines(found, Kind.LESSON) == ["Chalk Line"]
    assert routines(found, Kind.RECAP) == []
    assert routines(found, Kind.RUN) == ["Chalk Line"]  # once more, after the break


def test_last_weeks_dance_comes_first_as_a_run_under_its_tempo_with_prompts_only() -> None:
    found = wanted(*danced("Lantern Row", 1, 2, 3), *danced("Slow Water", 8))
    first, *_ = of_kind(found, Kind.RUN)
    assert (first.routine, first.tempo, first.manner) == ("Lantern Row", Fraction(9, 10), Manner.PROMPTS)
    assert first.why == "danced last week"
    assert first.name == "Lantern Row, run at 90%"


def test_then_what_is_due_the_longest_overdue_first_and_what_can_wait_is_left_out() -> None:
    found = wanted(*danced("Chalk Line", 7), *danced("Slow Water", 8), *danced("Lantern Row", 1, 2, 3))
    assert routines(found, Kind.RUN)[:1] == ["Lantern Row"]  # three weeks' wait, but danced last
    assert routines(found, Kind.RUN)[-2:] == ["Slow Water", "Chalk Line"]
    learnt = wanted(*danced("Chalk Line", 2, 3, 4, 5), *danced("Lantern Row", 1))
    assert "Chalk Line" not in routines(learnt, Kind.RUN)
    shaky = wanted(*danced("Chalk Line", 2, 3, 4, 5), *danced("Lantern Row", 1), marks=(marked("Chalk Line", "shaky"),))
    (again,) = [item for item in of_kind(shaky, Kind.RUN) if item.routine == "Chalk Line"]
    assert again.why == "shaky, danced 2 weeks ago"


def test_what_is_due_by_the_end_of_the_evening_is_danced_and_what_is_due_the_day_after_is_not() -> None:
    def runs(hours: float) -> list[str]:
        once = replace(danced("Chalk Line", 1)[0], at=NOW - WEEK + timedelta(hours=hours))
        return routines(wanted(once, *danced("Lantern Row", 0.9)), Kind.RUN)

    assert "Chalk Line" in runs(11.5)
    assert "Chalk Line" not in runs(12.5)


def test_five_dances_that_are_due_are_enough_of_one_evening() -> None:
    titles = [f"Dance {n}" for n in range(7)]
    book = Pages(("Tuesday",), tuple(one for title in titles for one in danced(title, 8)))
    runs = routines(wishes(known(book), titles, NOW), Kind.RUN)
    assert len([title for title in runs if title in titles]) == 5


def test_what_was_left_half_taught_is_gone_on_with_after_a_recap() -> None:
    found = wanted(*danced("Slow Water", 1, stage=12), *danced("Lantern Row", 1, 2))
    (lesson,), (recap,) = of_kind(found, Kind.LESSON), of_kind(found, Kind.RECAP)
    assert (lesson.routine, lesson.stage, lesson.why) == ("Slow Water", 13, "got to stage 12 of 30")
    assert (recap.routine, recap.why) == ("Slow Water", GOES_ON)
    assert recap.name == "Slow Water, recap as far as stage 12"
    assert routines(found, Kind.RUN) == ["Lantern Row", "Slow Water"]


def test_what_goes_on_has_its_recap_though_another_dance_was_danced_later() -> None:
    """Another one was had for the first time since, or left half taught: that is gone over besides, as far as it was
    taught."""
    half, later = danced("Slow Water", 2, stage=12), danced("Chalk Line", 1)
    found = wanted(*half, *later)
    assert [(item.routine, item.why, item.stage) for item in of_kind(found, Kind.RECAP)] == [
        ("Slow Water", GOES_ON, 13), ("Chalk Line", "for those who missed it", 1),
    ]  # fmt: skip
    both = wanted(*half, *danced("Lantern Row", 1, stage=20), new="Slow Water")
    assert [(item.routine, item.stage) for item in of_kind(both, Kind.RECAP)] == [
        ("Slow Water", 13),
        ("Lantern Row", 21),
    ]
    second = [item for item in wanted(*half, *danced("Lantern Row", 1, stage=20)).more if item.routine == "Slow Water"]
    assert [(item.kind, item.why) for item in second[:2]] == [
        (Kind.LESSON, "got to stage 12 of 30"), (Kind.RECAP, GOES_ON),
    ]  # fmt: skip


@pytest.mark.parametrize("why", [SHAKY, GOES_ON])
def test_each_lesson_that_goes_on_comes_right_after_its_recap(why: str) -> None:
    """A second has the least of one beside its own, or is not begun, and nothing of it gone over."""
    first = (Item(Kind.LESSON, 20, "A", stage=9), Item(Kind.RECAP, 5, "A", why, stage=9), Item(Kind.BREAK, 10))
    other = Item(Kind.RECAP, 5, "C", "for those who missed it")
    second = (Item(Kind.LESSON, 25, "B", stage=4), Item(Kind.RECAP, 5, "B", why, stage=4))

    def planned(minutes: int) -> list[str]:
        plan = fitted(Wishes((*first, Item(Kind.RUN, 4, "D"), other), second), "", 0, minutes)
        return [f"{item.kind.value} {item.routine}".strip() for item in plan.items]

    opening, first_lesson = ["run D", "recap C"], ["recap A", "lesson A"]
    assert planned(80) == [*opening, *first_lesson, "break", "recap B", "lesson B"]
    assert planned(68) == [*opening, "break", *first_lesson]  # 19 minutes would be left for the lesson


def test_what_is_shaky_and_half_taught_goes_on_with_its_lesson_and_more_recap() -> None:
    """The mark is of what was taught: nobody can run a dance whose last section was never shown."""
    begun = (*danced("Slow Water", 1, stage=26), *danced("Chalk Line", 2, stage=12), *danced("Lantern Row", 1, 2))
    found = wanted(*begun, marks=(marked("Slow Water", "shaky"),))
    (lesson,), (recap,) = of_kind(found, Kind.LESSON), of_kind(found, Kind.RECAP)
    assert (lesson.name, lesson.why) == ("Slow Water, lesson from stage 27", "got to stage 26 of 30, shaky")
    assert (recap.name, recap.why) == ("Slow Water, recap as far as stage 26", "shaky")
    assert recap.minutes == SHAKY_RECAP_MINUTES
    assert [(item.name, item.why) for item in of_kind(found, Kind.RUN) if item.routine == "Slow Water"] == [
        ("Slow Water, run", "once more")
    ]
    whole = wanted(*danced("Slow Water", 2), *begun, marks=(marked("Slow Water", "shaky"),))
    assert "Slow Water" in routines(whole, Kind.RUN)  # it has been danced to its end
    assert "Slow Water" not in routines(whole, Kind.LESSON)


def test_a_short_evening_goes_over_what_is_shaky_before_it_goes_on_with_it() -> None:
    """As far as the least of a lesson is left beside it; the lesson comes first."""
    shaky = [Item(Kind.LESSON, 19, "A", "x, shaky", stage=9), Item(Kind.RECAP, 6, "A", SHAKY, stage=9)]
    items = (*shaky, Item(Kind.RUN, 4, "B"))

    def planned(minutes: int) -> list[tuple[str, int]]:
        return [(item.name, item.minutes) for item in fitted(Wishes(items), "", 0, minutes).items]

    run, recap, lesson = ("B, run", 4), ("A, recap as far as stage 8", 6), "A, lesson from stage 9"
    assert planned(20) == [run, recap, (lesson, 10)]
    assert planned(18) == [run, (lesson, 14)]


def test_what_is_shaky_comes_before_what_was_learnt_as_long_ago() -> None:
    marks = (marked("Chalk Line", "learnt"), marked("Slow Water", "shaky"), marked("Tin Roof Swing", "learnt"))
    known_ones = [one for title in ("Chalk Line", "Slow Water", "Tin Roof Swing") for one in danced(title, 1)]
    last = replace(danced("Lantern Row", 1)[0], at=NOW - timedelta(days=6))
    runs = routines(wanted(*known_ones, last, marks=marks), Kind.RUN)
    assert [title for title in runs if title != "Lantern Row"][:3] == ["Slow Water", "Chalk Line", "Tin Roof Swing"]


def test_a_dance_that_was_only_drilled_comes_after_the_one_that_was_left_half_taught() -> None:
    """A minute of its tag, danced later that evening, is no lesson to go on with."""
    tag = replace(
        danced("Tin Roof Swing", 1)[0], at=NOW - timedelta(days=1), way="drill", part="Tag", stages=0, stage=0
    )
    found = wanted(*danced("Slow Water", 1, stage=12), tag)
    first, second = [item for item in (*found.items, *found.more) if item.kind is Kind.LESSON][:2]
    assert (first.routine, first.stage, first.why) == ("Slow Water", 13, "got to stage 12 of 30")
    assert (second.routine, second.stage, second.why) == ("Tin Roof Swing", 1, "not taught yet")
    assert routines(found, Kind.RECAP) == ["Slow Water"]
    jumped = Taught("Tuesday", NOW - timedelta(minutes=20), "Slow Water", "walkthrough", "a part", 20, 30, since=20)
    (anew,) = [item for item in wanted(jumped).items if item.kind is Kind.LESSON]
    assert (anew.routine, anew.stage, anew.why) == ("Slow Water", 1, "hardly begun")  # nothing of it in turn
    hardly = replace(tag, way="walkthrough", part="a part", stage=3, stages=30)
    assert routines(wanted(*danced("Slow Water", 1, stage=12), hardly), Kind.LESSON)[0] == "Slow Water"


def test_what_the_teacher_marked_as_not_done_is_taught_and_not_run() -> None:
    found = wanted(*danced("Slow Water", 2, 3), marks=(marked("Slow Water", "not done"),))
    (lesson,) = of_kind(found, Kind.LESSON)
    assert (lesson.routine, lesson.why, lesson.stage) == ("Slow Water", "not done", 1)
    assert of_kind(found, Kind.RECAP) == []  # the lesson goes over it from its start
    assert [item.why for item in of_kind(found, Kind.RUN)] == ["once more"]


def test_a_new_dance_is_the_one_that_is_named_else_the_first_that_the_class_has_not_had() -> None:
    known_ones = danced("Chalk Line", 1, 2)
    assert routines(wanted(*known_ones), Kind.LESSON) == ["Lantern Row"]
    assert routines(wanted(*known_ones, new="Tin Roof Swing"), Kind.LESSON) == ["Tin Roof Swing"]


def test_a_dance_had_once_is_recapped_for_those_who_missed_it_and_an_old_one_is_not() -> None:
    assert routines(wanted(*danced("Chalk Line", 1)), Kind.RECAP) == ["Chalk Line"]
    assert routines(wanted(*danced("Chalk Line", 1, 2)), Kind.RECAP) == []


def test_a_dance_that_was_hardly_begun_is_begun_anew_and_not_gone_over() -> None:
    """One section danced of a whole dance is no lesson to go on from a week later."""
    found = wanted(*danced("Slow Water", 1, stage=3))
    (lesson,) = [item for item in of_kind(found, Kind.LESSON) if item.keep]
    assert (lesson.routine, lesson.stage, lesson.why) == ("Slow Water", 1, "hardly begun")
    assert routines(found, Kind.RECAP) == []
    assert of_kind(wanted(*danced("Slow Water", 1, stage=8)), Kind.LESSON)[0].stage == 9


@pytest.mark.parametrize("stage", [3, 12])
def test_what_was_begun_this_evening_is_gone_on_with_and_not_gone_over(stage: int) -> None:
    begun = Taught("Tuesday", NOW - timedelta(minutes=20), "Slow Water", "walkthrough", "a part", stage, 30)
    found = wanted(begun, *danced("Lantern Row", 1, 2))
    (lesson,) = [item for item in of_kind(found, Kind.LESSON) if item.keep]
    assert (lesson.routine, lesson.stage) == ("Slow Water", stage + 1)
    assert routines(found, Kind.RECAP) == []


def test_what_was_danced_this_evening_is_not_planned_again() -> None:
    just = Taught("Tuesday", NOW - timedelta(hours=1), "Lantern Row", "dance", "4 walls")
    found = wanted(just, *danced("Lantern Row", 1), *danced("Chalk Line", 3))
    assert "Lantern Row" not in {item.routine for item in (*found.items, *found.more)}
    assert routines(found, Kind.RUN)[0] == "Chalk Line"


def test_what_nobody_was_there_for_is_not_planned_by() -> None:
    alone = [replace(entry, attended=False) for entry in danced("Slow Water", 1, stage=12)]
    found = wanted(*alone)
    (lesson,) = [item for item in of_kind(found, Kind.LESSON) if item.keep]
    assert (lesson.routine, lesson.why, routines(found, Kind.RECAP)) == ("Chalk Line", "new", [])


def test_time_that_is_left_is_filled_the_best_first() -> None:
    """A shaky place, requests, what is known and not due, the new dance's hardest place, a second dance, the new one to
    end with, and what was run under its tempo at all of it."""
    marks = (marked("Tin Roof Swing", "shaky"),)
    known_ones = (*danced("Chalk Line", 2, 3, 4, 5), *danced("Tin Roof Swing", 2, 3), *danced("Lantern Row", 1, 2))
    again = [replace(danced("Tin Roof Swing", 2)[0], way="drill", part="Section 3", stage=0, stages=0)] * 3
    found = wishes(known(Pages(("Tuesday",), (*known_ones, *again), (), marks)), (*ON_HAND, "Long Lane"), NOW)
    assert [item.name for item in found.more] == [
        "Tin Roof Swing, drill of section 3", "request", "request", "Chalk Line, run at 90%", "Slow Water, drill",
        "Long Lane, lesson", "Long Lane, run", "Slow Water, run", "Lantern Row, run", "Tin Roof Swing, run", "request",
        "Long Lane, drill", "Long Lane, run",
    ]  # fmt: skip
    assert [item.why for item in found.more if item.kind is Kind.DRILL] == ["shaky", HARDEST, HARDEST]
    assert not any(item.keep for item in found.more)
    assert found.all_in


def test_what_has_no_sheet_on_hand_is_told() -> None:
    found = wanted(*danced("Long Lost", 1))
    assert found.left_out == (("Long Lost", "its sheet is not on hand"),)
    assert "Long Lost" not in {item.routine for item in found.items}


# -- what there is time for

MADE = st.lists(st.builds(Item, st.sampled_from(Kind), st.integers(1, 60), st.sampled_from("AB")), max_size=9)

ITEMS = (
    Item(Kind.LESSON, 24, "Slow Water", keep=True),
    Item(Kind.RUN, 4, "Lantern Row"),
    Item(Kind.BREAK, 10),
    Item(Kind.RECAP, 5, "Chalk Line"),
    Item(Kind.RUN, 4, "Slow Water"),
    Item(Kind.RUN, 4, "Chalk Line"),
    Item(Kind.RUN, 4, "Tin Roof Swing"),
    Item(Kind.REQUEST, 5),
    Item(Kind.REQUEST, 5),
)


def plan(minutes: int, items: tuple[Item, ...] = ITEMS) -> Plan:
    return fitted(Wishes(items), "Tuesday", 19 * 60, 19 * 60 + minutes)


def test_revision_comes_first_then_what_is_new_a_break_and_the_rest() -> None:
    assert [item.name for item in plan(90).items] == [
        "Lantern Row, run", "Chalk Line, run", "Chalk Line, recap", "Slow Water, lesson", "break", "Slow Water, run",
        "Tin Roof Swing, run", "request", "request",
    ]  # fmt: skip


def test_where_time_is_short_the_lesson_has_it_first_and_what_has_none_is_told() -> None:
    short = plan(30)
    assert [item.name for item in short.items] == ["Lantern Row, run", "Slow Water, lesson"]
    assert short.left_out == tuple(
        (name, "there is no time for it")
        for name in ("Chalk Line, recap", "Slow Water, run", "Chalk Line, run", "Tin Roof Swing, run")
    )


def test_a_lesson_that_is_too_long_is_begun_and_its_dance_not_run() -> None:
    short = plan(20)
    assert [(item.name, item.minutes) for item in short.items] == [("Lantern Row, run", 4), ("Slow Water, lesson", 16)]
    assert plan(9).items == (ITEMS[1], ITEMS[3])  # too little to begin a lesson for, and so to dance it
    assert [item.name for item in plan(15, ITEMS[:1]).items] == ["Slow Water, lesson"]
    assert [item.name for item in plan(9, (ITEMS[0], *ITEMS[4:])).items] == ["Chalk Line, run", "Tin Roof Swing, run"]


def test_a_lesson_that_fills_the_evening_comes_after_a_run_where_there_is_time_for_both() -> None:
    long = replace(ITEMS[0], minutes=80)
    filled = plan(60, (long, *ITEMS[1:]))
    assert [(item.name, item.minutes) for item in filled.items] == [("Lantern Row, run", 4), ("Slow Water, lesson", 56)]


def part_run(lesson: Item) -> Item | None:
    """A section in five minutes, two minutes of it danced, for a lesson of eight and more."""
    if lesson.minutes < 8:
        return None
    return Item(Kind.RUN, 2, lesson.routine, sections=lesson.minutes // 5)


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [
        (13, [("Lantern Row, run", 4), ("Chalk Line, run", 4), ("Chalk Line, recap", 5)]),  # no lesson of 9 minutes
        (14, [("Lantern Row, run", 4), ("Slow Water, lesson", 10)]),
        (16, [("Lantern Row, run", 4), ("Slow Water, lesson", 10), ("Slow Water, run of sections 1 to 2", 2)]),
        (22, [("Lantern Row, run", 4), ("Slow Water, lesson", 16), ("Slow Water, run of sections 1 to 3", 2)]),
        (28, [("Lantern Row, run", 4), ("Slow Water, lesson", 24)]),  # all of it, with its own run at the end
    ],
)
def test_a_short_evening_has_a_warm_up_a_lesson_that_is_cut_and_a_run_of_what_was_taught(
    minutes: int, expected: list[tuple[str, int]]
) -> None:
    made = fitted(Wishes(ITEMS), "", 0, minutes, part_run=part_run)
    assert [(item.name, item.minutes) for item in made.items] == expected


def test_a_lesson_of_which_half_is_given_is_worth_its_while() -> None:
    short = replace(ITEMS[0], minutes=8)
    assert [item.minutes for item in plan(9, (short, ITEMS[1])).items] == [4, 5]
    assert [item.minutes for item in plan(7, (short, ITEMS[1])).items] == [4]


MORE = (
    Item(Kind.DRILL, 4, "Tin Roof Swing", place="section 3"),
    Item(Kind.REQUEST, 5),
    Item(Kind.DRILL, 2, "Slow Water", place="restart"),
    Item(Kind.LESSON, 30, "Long Lane"),
    Item(Kind.RUN, 4, "Long Lane"),
)


def test_what_is_left_is_filled_and_a_drill_comes_before_its_dance() -> None:
    full = fitted(Wishes(ITEMS[:7], MORE), "Tuesday", 19 * 60, 21 * 60)
    assert [item.name for item in full.items] == [
        "Lantern Row, run", "Chalk Line, run", "Chalk Line, recap", "Slow Water, lesson", "break",
        "Slow Water, drill of the restart", "Slow Water, run", "Long Lane, lesson", "Long Lane, run",
        "Tin Roof Swing, drill of section 3", "Tin Roof Swing, run", "request",
    ]  # fmt: skip
    assert [item.minutes for item in full.items if item.kind is Kind.LESSON] == [24 + 12, 30 + 3]
    assert full.items[3].why == "12 min of it for questions"
    assert (full.closes - full.ends, full.free) == (5, "a little stays in hand")
    fuller = fitted(Wishes(ITEMS[:7], MORE), "Tuesday", 19 * 60, 22 * 60)
    assert fuller.free == "that is all that the class knows or could learn here; 'caller add FILE' adds a dance"
    assert full.left_out == ()  # what only fills is not missed


def test_what_is_run_twice_comes_last_the_second_time() -> None:
    items = (*ITEMS[:2], Item(Kind.RUN, 4, "Slow Water", why="once more"), Item(Kind.REQUEST, 5))
    more = (Item(Kind.RUN, 4, "Slow Water", why="to end with"), Item(Kind.RUN, 4, "Lantern Row", why="again"))
    full = fitted(Wishes(items, more), "", 0, 60)
    assert [item.name for item in full.items] == [
        "Lantern Row, run", "Slow Water, lesson", "Slow Water, run", "request", "Slow Water, run", "Lantern Row, run",
    ]  # fmt: skip
    assert full.items[-2].why == "to end with"


@pytest.mark.parametrize("minutes", [57, 90, 120, 150])
@pytest.mark.parametrize("weeks", [(), (1,), (1, 2, 3)])
def test_an_evening_of_usual_length_is_filled(minutes: int, weeks: tuple[int, ...]) -> None:
    """Whether the class knows nothing, one dance or three: no more is left free than a dance takes; of a very long
    evening no more than a tenth or so."""
    had_by_class = [entry for title, n in zip(ON_HAND, weeks, strict=False) for entry in danced(title, n, n + 1)]
    on_hand = (*ON_HAND, "Long Lane", "Hall Door")
    lengths = {Kind.LESSON: 18, Kind.RUN: 4, Kind.RECAP: 5, Kind.DRILL: 3}
    found = wishes(known(Pages(("Tuesday",), tuple(had_by_class))), on_hand, NOW)

    def timed(items: tuple[Item, ...]) -> tuple[Item, ...]:
        return tuple(replace(item, minutes=item.minutes or lengths[item.kind]) for item in items)

    full = fitted(replace(found, items=timed(found.items), more=timed(found.more)), "Tuesday", 0, minutes)
    assert 0 <= full.closes - full.ends <= (16 if minutes > 120 else 5)
    bare = sum(item.kind is Kind.REQUEST for item in full.items)
    assert bare * 5 <= minutes / 4


def test_a_second_dance_is_begun_only_where_it_is_worth_while() -> None:
    for minutes, told in ((10 + LEAST_SECOND - 1, []), (10 + LEAST_SECOND, [LEAST_SECOND]), (41, [30])):
        found = fitted(Wishes((Item(Kind.LESSON, 10, "Slow Water"),), MORE[3:]), "", 0, minutes)
        assert [item.minutes for item in found.items if item.routine == "Long Lane"] == told


def test_why_nothing_more_is_danced_is_told() -> None:
    assert plan(30).free == "what else there is takes 4 minutes or more"
    assert plan(28).free == ""
    enough = fitted(Wishes(ITEMS[:1], (), all_in=False), "", 0, 90)
    assert enough.free.startswith("more than this is seldom kept")
    assert "Left free: 2 minutes; what else there is takes 4 minutes or more" in list(plan_lines(plan(30)))


@given(MADE)
def test_with_time_enough_all_that_is_wished_for_is_danced_once(items: list[Item]) -> None:
    """Whatever is drilled, run or taught, in whatever order; but for a break that nothing follows."""
    made = fitted(Wishes(tuple(items)), "", 0, 2_000)
    wanted_ones = [item for item in items if item.kind is not Kind.BREAK]
    danced_ones = [item for item in made.items if item.kind is not Kind.BREAK]
    assert Counter((item.kind, item.routine) for item in danced_ones) == Counter(
        (item.kind, item.routine) for item in wanted_ones
    )
    longer = {item.kind for item in danced_ones if item.why}
    assert longer <= {Kind.LESSON}


def test_a_break_comes_near_the_middle_of_what_is_danced() -> None:
    """Not after a lesson of six minutes with an hour and a quarter to come, and not between a drill and its run."""

    def around(*items: Item) -> tuple[int, int, Kind]:
        minutes = sum(item.minutes for item in items) + 15
        made = fitted(Wishes((*items, Item(Kind.BREAK, 10))), "", 0, max(minutes, 60)).items
        place = next(n for n, item in enumerate(made) if item.kind is Kind.BREAK)
        before, after = (sum(item.minutes for item in part) for part in (made[:place], made[place + 1 :]))
        return before, after, made[place - 1].kind

    short_one = [Item(Kind.LESSON, 6, "A"), Item(Kind.DRILL, 3, "A"), Item(Kind.RUN, 4, "A")]
    longer = [Item(Kind.LESSON, 22, "B"), Item(Kind.DRILL, 3, "B"), Item(Kind.RUN, 4, "B")]
    before, after, last = around(*short_one, *longer, *[Item(Kind.REQUEST, 5)] * 4)
    assert last is Kind.LESSON
    assert abs(before - after) <= 15
    assert around(*[Item(Kind.RUN, 4, title) for title in "CDEFGH"]) == (12, 12, Kind.RUN)
    drill = [Item(Kind.DRILL, 9, "C"), Item(Kind.RUN, 9, "C"), Item(Kind.BREAK, 10)]
    drilled = fitted(Wishes((Item(Kind.RUN, 4, "B"), *drill)), "", 0, 60)
    assert [item.kind for item in drilled.items] == [Kind.RUN, Kind.BREAK, Kind.DRILL, Kind.RUN]
    cold = fitted(Wishes(tuple(drill)), "", 0, 60)
    assert [item.kind for item in cold.items] == [Kind.RUN, Kind.DRILL]


@given(MADE)
def test_a_drill_and_its_run_have_no_break_between_them(items: list[Item]) -> None:
    made = fitted(Wishes((*items, Item(Kind.BREAK, 10))), "", 0, 2_000).items
    for before, after in pairwise(made):
        assert not (before.kind is Kind.DRILL and after.kind is Kind.BREAK)


def test_a_break_comes_before_something_and_in_long_evenings_only() -> None:
    assert Kind.BREAK not in {item.kind for item in plan(59).items}
    alone = plan(90, (Item(Kind.LESSON, 24, "Slow Water"), Item(Kind.BREAK, 10)))
    assert [item.kind for item in alone.items] == [Kind.LESSON]


@given(MADE, MADE, st.integers(0, 240))
def test_a_plan_never_goes_beyond_the_closing_time_and_loses_nothing(
    items: list[Item], more: list[Item], minutes: int
) -> None:
    made = fitted(Wishes(tuple(items), tuple(more)), "", 0, minutes)
    assert made.ends <= made.closes
    assert len(made.items) <= len(items) + len(more)
    assert bool(made.free) is (made.ends < made.closes)


def test_the_plan_is_shown_with_times_what_is_in_hand_and_what_is_left_out() -> None:
    lines = list(plan_lines(plan(30)))
    assert lines[:3] == [
        "19:00  Lantern Row, run, 4 min",
        "19:04  Slow Water, lesson, 24 min",
        "19:28  ends; the hall closes at 19:30: 2 minutes in hand",
    ]
    assert lines[4] == "Left out: Chalk Line, recap (there is no time for it)"
    late = replace(plan(30), closes=19 * 60 + 27)
    assert list(plan_lines(late))[2].endswith("1 minute too long")
