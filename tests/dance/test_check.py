"""What the check holds against the running order: where events stand, what the sheet says of its own lengths, and on
which foot a dancer goes on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from caller.dance.check import check
from caller.dance.check.events import events
from caller.dance.unroll import unroll
from caller.dance.wall_map import map_walls, wall_drawing
from caller.routine.notation.read import read_sheet

HEAD = "Title: Test Piece\nTempo: 100\nStarts: right\n"
WALKS = "Section 1\n1-4 Walk R, L, R, L\n5-8 Walk R, L, R, L\nSection 2\n1-4 Walk R, L, R, L\n5-8 Walk R, L, R, L\n"
TAG = "1-2 Sway R, L\n"


def found(text: str) -> list[tuple[str, int, str]]:
    return [(one.code, one.place.line, one.message) for one in check(read_sheet(text)) if one.code != "header"]


@pytest.mark.parametrize(
    ("events", "told"),
    [
        ("Restart: wall 3 after 4 counts\nTag: wall 3 after 8 counts\n" + TAG, "restarts after 4 counts, before this"),
        ("Restart: wall 4 after 12 counts\nEnding: wall 4 after 8 counts\n" + TAG, "ends on wall 4 before it"),
        ("Tag: wall 4\n" + TAG + "Ending: wall 4 after 8 counts\n" + TAG, "ends on wall 4 before it"),
    ],
)
def test_an_event_that_no_dancer_gets_to_is_told_once(events: str, told: str) -> None:
    [(code, _, message)] = found(HEAD + WALKS + events)
    assert code == "event-place"
    assert told in message


def test_a_wall_is_cut_once() -> None:
    routine = read_sheet(HEAD + WALKS + "Restart: wall 3 after 4 counts\n").routine
    later = read_sheet(HEAD + WALKS + "\nRestart: wall 3 after 8 counts\n").routine
    both = replace(routine, restarts=(*routine.restarts, *later.restarts))
    assert [(one.place.line, one.message) for one in events(both)] == [
        (11, "this restart can't be danced: wall 3 is cut already, after 4 counts")
    ]


def test_a_section_has_the_counts_that_it_is_said_to_have() -> None:
    [(code, line, message)] = found(HEAD + WALKS.replace("Section 1", "Section 1 (6 counts)"))
    assert (code, line) == ("counts-total", 4)
    assert "section 1 is said to have 6 counts, and its steps take 8" in message
    assert found(HEAD + WALKS.replace("Section 1", "Section 1 (8 counts)")) == []


def test_an_event_is_told_where_the_dance_faces_there() -> None:
    turning = WALKS.replace("1-4 Walk R, L, R, L\n", "1-2 Walk R, L\n3-4 Step R forward, pivot 1/4 left\n", 1)
    for event, faces in (
        ("Tag: after wall 2, facing 1:30", "6:00"),
        ("Tag: wall 1 after 2 counts, facing 6:00", "12:00"),
        ("Tag: wall 1 after 6 counts, facing 6:00", "9:00"),
    ):
        [(code, _, message)] = found(HEAD + turning + f"{event}\n{TAG}")
        assert code == "facing"
        assert f"the dance faces {faces} there" in message


def test_events_that_follow_one_another_in_a_wall_are_sound() -> None:
    assert found(HEAD + WALKS + "Tag: wall 4 after 4 counts\n" + TAG + "Ending: wall 4 after 8 counts\n" + TAG) == []
    assert found(HEAD + WALKS + "Tag: wall 3 after 4 counts\n" + TAG + "Restart: wall 3 after 8 counts\n") == []


def test_after_a_change_it_is_the_change_that_has_to_fit() -> None:
    changed = "Change: wall 2\nS1 7-8  Walk R, touch L\n"
    [(code, line, message)] = found(HEAD + WALKS + changed)
    assert (code, line) == ("wrong-foot", 10)
    assert "around this change" in message


def test_two_tags_in_one_section_are_danced_each_in_its_place_and_no_stretch_is_empty() -> None:
    tags = "Tag A: wall 1 after 8 counts\n1-2 Sway R, L\nTag B: wall 1 after 12 counts\n1-4 Sway R, L, R, L\n"
    wall = unroll(read_sheet(HEAD + WALKS + tags).routine, 1).walls[0]
    assert [(event.name, event.after) for event in wall.events] == [("A", 8), ("B", 14)]
    assert [(one.section, one.counts) for one in wall.stretches] == [(1, 8), (0, 2), (2, 4), (0, 4), (2, 4)]


def test_a_long_title_stands_in_the_drawing_in_two_lines() -> None:
    head = HEAD.replace("Test Piece", "The very long way round the mill pond and home again before the lamps are lit")
    drawn = "\n".join(wall_drawing(map_walls(unroll(read_sheet(head + WALKS).routine, 1))))
    assert "The very long way round the" in drawn
    assert "mill pond and home again" in drawn
    assert "lamps" not in drawn


PARTS = (
    "Title: Test Piece\nTempo: 100\nStarts: right\nOrder: A B A\n\n"
    "Part A\nSection 1\n1-4 Walk R, L, R, L\n5-8 Walk R, L, R, L\n"
    "Part B\nSection 1\n1-4 Walk R, L, R, L\n"
)


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        (PARTS + "Tag: wall 2 after 6 counts\n" + TAG, "a wall has 4 counts, not 6"),
        (HEAD + WALKS + "Tag: wall 2 after 0 counts\n" + TAG, "a wall has 16 counts, not 0"),
    ],
)
def test_an_event_stands_within_its_own_wall(sheet: str, told: str) -> None:
    [(code, _, message)] = found(sheet)
    assert code == "event-place"
    assert told in message


def test_an_event_in_a_part_as_long_as_it_is_sound() -> None:
    assert found(PARTS + "Tag: wall 1 after 6 counts\n" + TAG) == []


def test_a_restart_at_the_end_of_a_wall_is_none() -> None:
    walls = unroll(read_sheet(HEAD + WALKS + "Restart: wall 2 after 16 counts\n").routine, 3).walls
    assert [(wall.counts, wall.events) for wall in walls] == [(16, ())] * 3


@pytest.mark.parametrize(("said", "right"), [(1, False), (2, True), (4, False)])
def test_a_dance_has_as_many_walls_as_a_pass_makes(said: int, right: bool) -> None:
    half = WALKS.replace("1-4 Walk R, L, R, L", "1-2 Walk R, L\n3-4 Step R forward, pivot 1/2 left", 1)
    told = found(f"{HEAD}Walls: {said}\n{half}")
    assert [code for code, *_ in told] == ([] if right else ["walls"])
    assert right or f"Walls says {said}, but a pass ends facing 6:00, which makes 2 walls" in told[0][2]


def test_one_step_that_nothing_can_follow_is_told_once() -> None:
    ends_wrong = HEAD + "Section 1\n1-4 Walk R, L, R, touch L\n"
    [alone] = found(ends_wrong)
    assert alone[:2] == ("wrong-foot", 5)
    assert found(ends_wrong + "Tag: after wall 2\n" + TAG) == [alone]


def test_what_a_tag_states_is_held_against_it_even_where_it_starts_on_the_wrong_foot() -> None:
    tag = "Tag: after wall 2\n1  Step R forward (weight on L)\n2  Step L beside R\n"
    told = found(HEAD + "Section 1\n1-4 Walk R, L, R, touch L\n" + tag)
    assert [code for code, *_ in told] == ["wrong-foot", "weight"]
