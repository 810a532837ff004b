"""Events told in many wordings: walls, places and steps put together as authors do. Common practice, no published
source.

Every wall phrase stands with every wording of the event: what holds for one sentence alone is no result.
"""

from __future__ import annotations

import pytest

from caller.routine.notation.read import read_sheet
from caller.routine.parts import Routine

DANCE = """\
Copper Kettle
32 counts, 4 walls, 118 bpm, intro 16

S1
1-4 Vine R, touch L
5-8 Vine L, touch R

S2
1-2 Rock R forward, recover L
3&4 R coaster step
5-6 Step L forward, pivot 1/2 right
7-8 Step L to side, touch R beside L

S3
1-4 Walk R, L, R, L
5-8 Jazz box R, 1/4 turn right

S4
1-4 Rocking chair R
5-8 Sway R, L, R, L

"""


def read(event: str) -> Routine:
    return read_sheet(f"{DANCE}{event}\n").routine


def tags(routine: Routine) -> dict[int, int]:
    """Counts of tags at the end of each wall."""
    long: dict[int, int] = {}
    for tag in routine.tags:
        for cut in tag.cuts:
            assert cut.after in (None, routine.counts)
            long[cut.wall] = long.get(cut.wall, 0) + tag.passage.counts
    return long


@pytest.mark.parametrize(
    "walls",
    [
        "once after wall 1, twice after wall 3",
        "once at the end of wall 1 and twice at the end of wall 3",
        "after wall 1 once and after wall 3 twice",
        "1x after wall 1, 2x after wall 3",
        "once after the 1st wall, two times after the 3rd wall",
        "at the end of wall 1 (once) and wall 3 (twice)",
        "after wall 1, and twice after wall 3",
    ],
)
@pytest.mark.parametrize(
    "told",
    [
        "Tag (4 counts) {}: sway R, L, R, L",
        "Tag (4 counts): {}\n1-4 Sway R, L, R, L",
        "{} add a 4 count tag: rocking chair R",
        "{}: sway R, L, R, L, then start again",
        "TAG\n1-4 Sway R, L, R, L\nDance it {}.",
    ],
)
def test_a_tag_is_danced_once_after_one_wall_and_twice_after_another(walls: str, told: str) -> None:
    event = told.format(walls)
    assert tags(read(event[:1].upper() + event[1:])) == {1: 4, 3: 8}


@pytest.mark.parametrize(
    "walls",
    [
        "after the 2nd and 5th wall",
        "after the 2nd and after the 5th wall",
        "after both wall 2 and wall 5",
        "at the end of walls 2 & 5",
        "after wall 2 and again after wall 5",
    ],
)
@pytest.mark.parametrize("told", ["Tag {}: sway R, L, R, L", "{}: walk R, L, R and L, then start again"])
def test_a_tag_after_two_walls(walls: str, told: str) -> None:
    event = told.format(walls)
    assert tags(read(event[:1].upper() + event[1:])) == {2: 4, 5: 4}


@pytest.mark.parametrize(
    "told",
    [
        "Tag each time you come back to the front: sway R, L, R, L",
        "Tag: each time you finish a wall facing the front, sway R, L, R, L",
        "Each time you have gone all the way round and are looking at the front wall again, there are 4 extra counts:\n"
        "1-4 Sway R, L, R, L",
    ],
)
def test_a_tag_each_time_a_wall_ends_at_the_front(told: str) -> None:
    assert tags(read(told)) == {4: 4, 8: 4, 12: 4}


@pytest.mark.parametrize("wall", ["on wall 6", "on the sixth wall", "in the 6th wall", "the 6th time through", "on W6"])
@pytest.mark.parametrize(
    "told",
    [
        "Variation {}: counts 7-8 of S2 are step L to side, scuff R",
        "{}: section 2 counts 7-8 become step L to side, scuff R",
        "{} dance step L to side, scuff R on counts 7-8 of section 2",
        "{} instead of counts 7-8 of section 2, step L to side, scuff R",
        "{}, on counts 7-8 of section 2, step L to side, scuff R instead",
        "{} don't do the side touch of section 2. Instead, on 7-8, step L to side and scuff R",
    ],
)
def test_steps_that_change_on_one_wall(wall: str, told: str) -> None:
    event = told.format(wall)
    (change,) = read(event[:1].upper() + event[1:]).changes
    assert change.walls == (6,)
    assert [(one.section, one.first, one.last) for one in change.replacements] == [(2, 7, 8)]


@pytest.mark.parametrize(
    "told",
    [
        "Restart: on the fourth wall dance sections I and II, but on the last count of section II step right beside "
        "left; then restart.",
        "RST: x1, W4 aft 16c, but on the last count step right beside left",
        "On wall 4 dance the first 14 counts. Then no side touch, but:\n7-8 step L to side, step R beside L\n"
        "and restart the dance",
    ],
)
def test_a_restart_after_steps_that_change(told: str) -> None:
    routine = read(told)
    (restart,) = routine.restarts
    assert [(cut.wall, cut.after) for cut in restart.cuts] == [(4, 16)]
    changed = restart.replacements or routine.changes[0].replacements
    assert [(one.section, one.last) for one in changed] == [(2, 8)]


@pytest.mark.parametrize(
    "told", ["Option: replace the pivot in S2 with:", "Easier for six or seven of you: replace the pivot with:"]
)
def test_an_option_whose_steps_stand_below_it(told: str) -> None:
    routine = read(f"{told}\n5-6 Rock L forward, recover R")
    (option,) = routine.sections[1].options
    assert (option.first, option.last) == (5, 6)
    assert [step.movement.action for step in option.passage.steps] == ["rock", "recover"]


@pytest.mark.parametrize(
    "told",
    [
        "How it goes:\n A   B\n A (first 8 counts only)   B\n",
        "Phrased, 2 walls, it goes A, B, A (8), B and home",
        "Order: A, B, A-, B\n(A- is the first 8 counts of A only)",
        "Order: A, B, A-, B\nA- means dance A to count 8",
    ],
)
def test_an_order_among_other_words(told: str) -> None:
    parts = "PART A\nA1\n1-8 Vine R, touch L, vine L, touch R\nA2\n1-8 Vine R, touch L, vine L, touch R\n"
    sheet = f"Copper Kettle\n{told}\n\n{parts}\nPART B\nB1\n1-8 Sway R, L, R, L, R, L, R, L\n"
    order = read_sheet(sheet).routine.order
    assert [(item.part, item.counts) for item in order] == [("A", None), ("B", None), ("A", 8), ("B", None)]
