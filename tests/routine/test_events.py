"""Sections and events as they are danced: which walls, which counts. Source: common practice of the trade."""

from __future__ import annotations

import pytest

from caller.routine.notation.read import read_bytes
from caller.routine.parts import Routine

HEAD = "Title: Shelf\nTempo: 100\nStarts: right\n"
ONE = "Section 1: One\n1-4 Walk R, L, R, L\n5-8 Rocking chair R\n"
TWO = "Section 2: Two\n1-4 Walk R, L, R, L\n5-8 Rocking chair R\n"
ON = "Section 2: Two\n9-12 Walk R, L, R, L\n13-16 Rocking chair R\n"


def routine(text: str) -> Routine:
    read = read_bytes((HEAD + text).encode())
    assert not [finding for finding in read.findings if finding.severity.value == "error"], read.findings
    return read.routine


def test_every_even_wall_is_every_second_from_the_second_on() -> None:
    for every, first in (("odd", 1), ("even", 2)):
        [restart] = routine(f"{ONE}{TWO}Restart: every {every} wall after 8 counts\n").restarts
        walls = [cut.wall for cut in restart.cuts]
        assert walls == list(range(first, first + 2 * len(walls), 2))
        assert len(walls) > 4


def test_a_change_told_in_counts_that_run_on_is_of_its_sections_own() -> None:
    [change] = routine(f"{ONE}{ON}Change: wall 3\n13-16 Jazz box R\n").changes
    [told] = change.replacements
    assert (told.section, told.first, told.last) == (2, 5, 8)
    assert [step.count for step in told.passage.steps] == ["5", "6", "7", "8"]


def test_what_is_repeated_on_the_other_foot_twice_comes_back_to_its_own() -> None:
    dance = routine(
        "Section 1: One\n1-2 Step R to side, touch L beside R\n3-6 Repeat 1-2 with the opposite feet\n7-8 Walk L, R\n"
    )
    feet = [(step.count, step.movement.foot.value) for step in dance.sections[0].passage.steps if step.movement.foot]
    assert feet[:6] == [("1", "R"), ("2", "L"), ("3", "L"), ("4", "R"), ("5", "R"), ("6", "L")]


def test_threes_without_headings_are_sections_of_six_where_counts_begin_again() -> None:
    six = "1-3 Basic waltz forward L\n4-6 Basic waltz back R\n"
    read = read_bytes(f"Title: Shelf\nTempo: 100\nMeter: 3/4\nStarts: left\n{3 * six}".encode())
    assert [section.passage.counts for section in read.routine.sections] == [6, 6, 6]


def test_steps_below_a_restart_that_says_no_place_are_those_of_its_wall() -> None:
    eight = "1-4 Walk R, L, R, L\n5-8 Rocking chair R\n"
    dance = routine(f"{eight}Restart on wall 3\n{eight}")
    assert [section.passage.counts for section in dance.sections] == [8]
    [[told]] = [restart.replacements for restart in dance.restarts]
    assert (told.section, told.first, told.last) == (1, 1, 8)


def test_a_section_that_begins_late_lacks_the_counts_before_it() -> None:
    [gap] = read_bytes(f"{HEAD}Section 1: One\n3-8 Walk R, L, R, L, R, L\n".encode()).findings
    assert gap.message.startswith("nothing is danced on counts 1 to 2, before count 3")


@pytest.mark.parametrize(
    ("told", "walls"),
    [("at the end of the third wall", [3]), ("after every even wall", [2, 4]), ("after the second wall", [2])],
)
def test_a_tags_steps_stand_below_it_though_it_ends_with_the_word_wall(told: str, walls: list[int]) -> None:
    [tag] = routine(f"{ONE}{TWO}Tag {told}\n1-2 Sway R, L\n").tags
    assert [cut.wall for cut in tag.cuts][:2] == walls
    assert tag.passage.counts == 2


def test_a_wall_told_on_the_next_line_is_its_number() -> None:
    [tag] = routine(f"{ONE}{TWO}There is a tag at the end of wall\n3: sway R, L\n").tags
    assert [cut.wall for cut in tag.cuts] == [3]
