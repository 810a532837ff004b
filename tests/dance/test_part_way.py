"""The first sections of a routine by themselves, as a class has them that was taught so far."""

from __future__ import annotations

from pathlib import Path

import pytest

from caller.dance.part_way import part_way, sections_there, wrong_foot_words
from caller.dance.unroll import is_whole, unroll
from caller.routine.notation.read import read_bytes, read_sheet

ROUTINES = Path(__file__).parents[2] / "routines"
LANTERN = read_bytes((ROUTINES / "lantern-row.txt").read_bytes()).routine
SWING = read_bytes((ROUTINES / "tin-roof-swing.txt").read_bytes()).routine


def test_the_first_sections_come_over_and_over_without_events() -> None:
    dance = unroll(part_way(LANTERN, 2), 5)
    assert [wall.counts for wall in dance.walls] == [16] * 5
    assert not any(wall.events for wall in dance.walls)
    assert [(stretch.section, stretch.counts) for stretch in dance.walls[1].stretches] == [(1, 8), (2, 8)]
    whole = unroll(LANTERN, 1).walls[0]
    assert dance.walls[0].movements == tuple(m for m in whole.movements if m.at < 16)
    assert dance.walls[1].starts == dance.walls[0].ends != dance.walls[0].starts


def test_as_far_as_a_class_has_it_is_never_the_whole_dance_and_is_told_by_its_title() -> None:
    assert not is_whole(unroll(part_way(LANTERN, 2), 40))
    assert not is_whole(unroll(part_way(LANTERN, 4), 40))
    assert part_way(LANTERN, 1).shown_title == "Lantern Row, section 1"
    assert part_way(LANTERN, 3).shown_title == "Lantern Row, sections 1 to 3"
    assert LANTERN.shown_title == "Lantern Row"


@pytest.mark.parametrize("sections", [0, 5])
def test_sections_that_are_not_there_are_told(sections: int) -> None:
    with pytest.raises(ValueError, match="there are 1 to 4"):
        part_way(LANTERN, sections)


def test_of_a_phrased_routine_it_is_the_first_part() -> None:
    sheet = read_sheet(
        "TWO PARTS - 4 wall, 96 bpm\nOrder: B A B\n\nPart A\n1-4 walk fwd R, L, R, touch L\n"
        "5-8 walk back L, R, L, touch R\n\nPart B\n1-4 vine right, touch\n5-8 vine left, touch\n"
    )
    assert {section.part for section in sections_there(sheet.routine)} == {"B"}
    assert [wall.counts for wall in unroll(part_way(sheet.routine, 1), 3).walls] == [8, 8, 8]


def test_what_ends_on_the_foot_that_it_begins_with_is_told() -> None:
    sheet = read_sheet(
        "ODD END - 16 counts, 1 wall, 96 bpm\n\nSECTION 1\n1-4 walk fwd R, L, R, touch L\n5-7 walk back L, R, L\n"
        "8 step R\n\nSECTION 2\n1-4 vine left, touch\n5-8 vine right, touch\n"
    )
    routine = sheet.routine
    told = "it ends on the foot that it begins with: before each time round the class changes weight; with 2 sections "
    assert wrong_foot_words(routine, 1) == f"{told}it has not"
    assert wrong_foot_words(LANTERN, 2).startswith("section 2 ends on the foot that section 1 begins with: ")
    assert all(wrong_foot_words(one, 4) == "" for one in (LANTERN, SWING))
