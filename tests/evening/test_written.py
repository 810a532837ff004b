"""A plan as a file to edit, and read back."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.plan import Manner
from caller.evening.plan import Item, Kind, Plan
from caller.evening.written import LEVELS, Hours, PlanFault, closing_after, plan_document, plan_text, read_plan
from tests.outside.test_documents import HOSTILE_TOML

NAMES = st.text(
    st.characters(min_codepoint=33, max_codepoint=0x17E, exclude_categories=["C", "Z"]), min_size=1, max_size=20
)
ITEMS = st.builds(
    Item,
    st.sampled_from(Kind),
    st.integers(0, 240),
    NAMES,
    NAMES | st.just(""),
    st.integers(25, 150).map(lambda percent: Fraction(percent, 100)),
    st.sampled_from(Manner),
    st.none() | st.integers(1, 200),
    st.integers(1, 500),
    st.sampled_from(LEVELS),
    st.sampled_from(("", "section 2", "part b section 1", "tag", "ending")),
    NAMES | st.just(""),
    st.booleans(),
    st.none() | st.integers(1, 100),
    NAMES | st.just(""),
)
PLANS = st.builds(
    lambda name, starts, minutes, items, day: Plan(name, starts, starts + minutes, tuple(items), date=day),
    NAMES | st.just(""),
    st.integers(0, 1439),
    st.integers(1, 1440),
    st.lists(ITEMS, min_size=1, max_size=5),
    st.none() | st.dates(),
)


@given(PLANS)
def test_a_plan_comes_back_as_it_was_written(plan: Plan) -> None:
    assert read_plan(plan_text(plan)) == plan


def test_a_plan_is_edited_in_the_words_of_a_teacher() -> None:
    plan = read_plan(
        'class = "Tuesday"\nstarts = "19:00"\ncloses = "21.30"\n'
        '[[item]]\nroutine = "Lantern Row"\ntempo = "90%"\nmanner = "prompts"\n'
        '[[item]]\nkind = "lesson"\nroutine = "Slow Water"\nlevel = "beginner"\nstage = 8\nkeep = true\n'
        '[[item]]\nkind = "break"\nminutes = 10\n[[item]]\nkind = "request"\n'
    )
    assert (plan.class_name, plan.starts, plan.closes) == ("Tuesday", 1140, 1290)
    assert [item.name for item in plan.items] == [
        "Lantern Row, run at 90%", "Slow Water, lesson from stage 8", "break", "request",
    ]  # fmt: skip
    assert plan.items[1].keep


def test_a_run_of_a_half_taught_dance_is_as_far_as_it_was_taught() -> None:
    head = 'starts = "19:00"\ncloses = "20:00"\n[[item]]\nroutine = "Lantern Row"\n'
    assert read_plan(f"{head}sections = 2\n").items[0].name == "Lantern Row, run of sections 1 to 2"
    slow = read_plan(f'{head}sections = 1\ntempo = "90%"\n').items[0]
    assert (slow.name, slow.sections) == ("Lantern Row, run of section 1 at 90%", 1)
    with pytest.raises(PlanFault, match="line 5: item 1: sections is a whole number from 1 to 100"):
        read_plan(f"{head}sections = 0\n")


def test_a_run_may_have_another_dance_beside_it() -> None:
    head = 'starts = "19:00"\ncloses = "20:00"\n[[item]]\nroutine = "Lantern Row"\n'
    item = read_plan(f'{head}beside = "Chalk Line"\ntempo = "90%"\n').items[0]
    assert (item.beside, item.name) == ("Chalk Line", "Lantern Row, run beside Chalk Line at 90%")


def test_a_hall_may_close_after_midnight() -> None:
    assert closing_after(1320, 30) == 1470
    plan = Plan("", 1320, 1470, (Item(Kind.BREAK, 10),))
    assert read_plan(plan_text(plan)) == plan
    assert (plan_document(plan)["closes"], plan_document(plan)["spare_minutes"]) == ("00:30", 140)


HEAD = 'starts = "19:00"\ncloses = "21:00"\n'


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (HEAD, "it has no items"),
        (HEAD + "item = 3\n", "it has no items"),
        ('starts = "19:00"\n[[item]]\nkind = "break"\n', "the head: closes is a time such as 19:05, not ''"),
        ('starts = "25:00"\ncloses = "26:00"\n[[item]]\nkind = "break"\n', "the head: starts is a time"),
        ('starts = "18:75"\ncloses = "21:00"\n[[item]]\nkind = "break"\n', "the head: starts is a time"),
        (HEAD + '[[item]]\nkind = "break"\n' * 61, "it has 61 items: 1 to 60 tables headed [[item]] are wanted"),
        (
            HEAD + '[[item]]\nkind = "dance"\n',
            "item 1: kind is one of run, lesson, recap, drill, request, break, not 'dance'",
        ),
        (HEAD + '[[item]]\nkind = "run"\n', "item 1 is a run of no routine"),
        (HEAD + '[[item]]\nkind = "break"\nminuts = 5\n', "item 1 has 'minuts', which means nothing here"),
        (HEAD + '[[item]]\nkind = "break"\nminutes = 900\n', "item 1: minutes is a whole number from 0 to 240"),
        (HEAD + '[[item]]\nkind = "break"\nminutes = "ten"\n', "item 1: minutes is a whole number"),
        (HEAD + '[[item]]\nroutine = "A"\ntempo = "9%"\n', 'item 1: tempo is per cent from 25 to 150, such as "90%"'),
        (HEAD + '[[item]]\nroutine = "A"\nlevel = "easy"\n', "item 1: level is one of absolute, beginner"),
        (HEAD + "[[item]]\nroutine = 5\n", "item 1: routine is words, not 5"),
        (HEAD + '[[item]]\nroutine = "A"\nkeep = "yes"\n', "item 1: keep is true or false"),
        (HEAD + "item = [5]\n", "item 1 is no table"),
        (HEAD + '[[item]]\nkind = "drill"\n', "item 1 is a drill of no routine"),
        (HEAD + '[[item]]\nroutine = "A"\nplace = "the end"\n', "item 1: place is section 2, part B section 1, tag"),
        (HEAD + 'date = "Tuesday"\n[[item]]\nkind = "break"\n', "the head: date is a day such as 2026-03-31"),
        ("starts", "it is no TOML"),
    ],
)
def test_what_is_wrong_is_told_in_one_sentence_with_its_item(text: str, told: str) -> None:
    with pytest.raises(PlanFault) as fault:
        read_plan(text)
    assert told in str(fault.value)
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize("kind", HOSTILE_TOML)
def test_a_hostile_file_is_told(kind: str) -> None:
    with pytest.raises(PlanFault) as fault:
        read_plan(HOSTILE_TOML[kind])
    assert len(str(fault.value)) < 400


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('closes = "21:00"\n# early\nstarts = "25:00"\n[[item]]\nkind = "break"\n', 3),
        (HEAD + '[[item]]\nkind = "break"\n\n[[item]]\n# the slow one\nroutine = "A"\nminutes = 900\n', 9),
        (HEAD + '[[item]]\nkind = "break"\n[[ item ]]\nroutin = "A"\n', 6),
        (HEAD + '[[item]]\nkind = "break"\n[[item]]\nkind = "run"\nminutes = 4\n', 5),  # what is missing: its item's
    ],
)
def test_a_mistake_is_told_with_its_line(text: str, line: int) -> None:
    with pytest.raises(PlanFault) as fault:
        read_plan(text)
    assert str(fault.value).startswith(f"line {line}: ")


def test_what_is_no_toml_is_told_with_its_line_too() -> None:
    with pytest.raises(PlanFault, match="at line 3"):
        read_plan(HEAD + '[[item]\nkind = "break"\n')


@pytest.mark.parametrize(
    ("head", "told", "expected"),
    [
        ("", None, (1100, 1190)),
        ("", 1150, (1150, 1240)),
        ('closes = "21:00"\n', None, (1100, 1260)),
        ('starts = "19:00"\n', None, (1140, 1230)),
        ('starts = "19:00"\n', 1200, (1200, 1290)),
        (HEAD, 1200, (1200, 1260)),
        (HEAD, None, (1140, 1260)),
    ],
)
def test_hours_that_a_plan_does_not_say_are_those_of_an_evening_that_begins_now(
    head: str, told: int | None, expected: tuple[int, int]
) -> None:
    plan = read_plan(f'{head}[[item]]\nkind = "break"\n', Hours(told, 1100, 90))
    assert (plan.starts, plan.closes) == expected
    with pytest.raises(PlanFault, match="line 1: the head: starts is a time"):
        read_plan('starts = "soon"\n[[item]]\nkind = "break"\n', Hours(told, 1100, 90))
