"""Playbooks for the large letters: they are of what is danced, in a loop, after it, and the easier way."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

import pytest

from caller.dance.walls import Dance
from caller.session import View
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.transport.order import Order
from caller.transport.state import State
from tests.session.classroom import Class
from tests.session.lessons import Taught
from tests.session.test_lesson import two_stages

Place = tuple[int, int]


def place_of(view: View) -> Place:
    """The section and its count: what is danced there is the same in each wall of the sheet used here, but for its
    change."""
    assert view.glance is not None
    return view.glance.section, view.glance.count


@cache
def of_the_sheet() -> dict[Place, str]:
    """The letters at each place of the first wall, danced straight through."""
    room, letters = Class(), {}
    room.danced(0)
    room.order(Order.GO)
    room.danced(8)
    for _ in range(32):
        view = room.danced(1)
        assert view.glance is not None
        letters[place_of(view)] = view.glance.now
    assert len(set(letters.values())) > 10
    return letters


def begun() -> Class:
    room = Class()
    room.danced(0)
    room.order(Order.GO)
    room.danced(8)
    return room


def danced(room: Class, counts: int) -> list[Place]:
    """So many counts, the letters at each of them as the sheet has them; where they were danced."""
    places = []
    for _ in range(counts):
        view = room.danced(1)
        assert view.glance is not None
        assert view.glance.now == of_the_sheet()[place_of(view)], place_of(view)
        places.append(place_of(view))
    return places


def test_in_a_section_over_and_over_and_after_it_the_letters_are_of_what_is_danced() -> None:
    room = begun()
    danced(room, 4)
    room.order(Order.LOOP)
    places = danced(room, 24)
    assert {section for section, _ in places} == {1}, "three rounds of it and a half"
    room.order(Order.LOOP)
    places = danced(room, 20)
    assert [section for section, _ in places[-16:]] == [2] * 8 + [3] * 8


def test_in_a_loop_of_counts_and_after_it_the_letters_are_of_what_is_danced() -> None:
    room = begun()
    danced(room, 2)
    room.session.obey(Order.LOOP_COUNTS, 5, 8)
    room.danced(4)
    assert set(danced(room, 14)) == {(1, 5), (1, 6), (1, 7), (1, 8)}
    room.order(Order.LOOP)
    assert [section for section, _ in danced(room, 18)[-16:]] == [2] * 8 + [3] * 8


def test_in_a_loop_of_the_teachers_own_and_after_it_the_letters_are_of_what_is_danced() -> None:
    room = begun()
    danced(room, 9)
    room.order(Order.LOOP_FROM)
    danced(room, 4)
    room.order(Order.LOOP_TO)
    assert {section for section, _ in danced(room, 20)} == {2}
    room.order(Order.LOOP)
    assert {section for section, _ in danced(room, 16)} == {2, 3, 4}


def test_danced_the_easier_way_the_letters_are_of_that_at_once() -> None:
    room = begun()
    room.danced(23)
    room.order(Order.EASIER)
    view = room.danced(2)
    assert view.glance is not None
    assert place_of(view) == (4, 1)
    assert view.glance.now not in ("", of_the_sheet()[4, 1])
    room.order(Order.EASIER)
    assert [section for section, _ in danced(room, 12)[-5:]] == [1] * 5


def test_the_easier_way_in_a_loop_the_letters_are_of_it_round_after_round() -> None:
    room = begun()
    room.danced(25)
    room.order(Order.LOOP)
    danced(room, 2)
    room.order(Order.EASIER)
    danced(room, 5)
    for _ in range(2):
        eased = [room.danced(1).glance for _ in range(8)]
        assert all(glance is not None and glance.section == 4 for glance in eased)
        now = [glance.now for glance in eased if glance is not None]
        assert of_the_sheet()[4, 1] not in now[:2]
        assert now[2:] == [of_the_sheet()[4, count] for count in range(3, 9)]


def in_a_lesson() -> Taught:
    """Half-way through a go of the first two sections."""
    taught = Taught(two_stages)
    taught.order(Order.GO, Order.NEXT, Order.NEXT)
    taught.comes_to(State.RUNNING)
    taught.goes_on(2)
    return taught


def last_section(dance: Dance) -> LessonPlan:
    """The section that has an easier way, danced at once."""
    stage = Stage("last", StageKind.WORDS, Fraction(24), Fraction(32), Fraction(1, 2), 2, count_in=8)
    return LessonPlan("Lantern Row", "walkthrough", Fraction(100), len(dance.walls), (stage,))


def letters_seen(taught: Taught, seconds: float) -> list[Place]:
    """Where it was danced in so many seconds, the letters as the sheet has them."""
    places: list[Place] = []
    for _ in range(round(seconds / 0.2)):
        view = taught.goes_on(0.2)
        if view.state is State.RUNNING and view.glance is not None:
            assert view.glance.now == of_the_sheet()[place_of(view)], place_of(view)
            places.append(place_of(view))
    return places


@pytest.mark.parametrize("rounds", [0, 1, 2])
def test_in_a_lesson_the_letters_after_a_loop_of_counts_are_of_what_is_danced(rounds: int) -> None:
    taught = in_a_lesson()
    taught.lesson.obey(Order.LOOP_COUNTS, 5, 8)
    taught.comes_to(State.RUNNING)
    assert set(letters_seen(taught, 9 * rounds + 1)) <= {(1, n) for n in (5, 6, 7, 8)}
    taught.comes_to(State.RUNNING)
    taught.order(Order.LOOP)
    assert {section for section, _ in letters_seen(taught, 30)} == {1, 2}


def test_in_a_lesson_the_letters_are_of_the_easier_way_at_once() -> None:
    taught = Taught(last_section)
    taught.order(Order.GO)
    taught.comes_to(State.COUNT_IN)
    taught.order(Order.EASIER)
    view = taught.goes_on(0.5)
    assert view.state is State.COUNT_IN
    assert view.glance is not None
    assert view.glance.now != of_the_sheet()[4, 1]
    view = taught.comes_to(State.RUNNING)
    assert view.glance is not None
    assert view.glance.now not in ("", of_the_sheet()[4, 1])
