"""Events as authors tell them in sentences of their own. Wordings: common practice; the dances are our own."""

from __future__ import annotations

import pytest

from caller.dance.check import check, has_errors
from caller.routine.notation.read import SheetRead, read_sheet

SHEET = """Tin Kettle
32 counts, 4 walls, 100 bpm, intro 16

Section 1: Vines
1-4 Vine R, touch L
5-8 Vine L, touch R
Section 2: Chair
1-4 Rocking chair R
5-6 Step R forward, pivot 1/2 L
7-8 Walk R, L
Section 3: Shuffles
1&2 Shuffle R
3-4 Rock L forward, recover R
5&6 Shuffle back L
7-8 Rock R back, recover L
Section 4: Turns
1-4 Monterey 1/4 R
5-8 Jazz box R

"""


def read(sentence: str) -> SheetRead:
    sheet = read_sheet(SHEET + sentence + "\n")
    assert not has_errors(check(sheet)), check(sheet)
    return sheet


@pytest.mark.parametrize(
    ("sentence", "wall", "after"),
    [
        (
            "The restart: on wall 3 dance as far as the rock that closes Section 3, leave the Monterey out and start"
            " again.",
            3,
            24,
        ),
        ("The fourth time through, leave off the jazz box and go straight back to the vines to start again.", 4, 28),
    ],
)
def test_a_restart_without_a_count_is_put_where_all_agrees(sentence: str, wall: int, after: int) -> None:
    sheet = read(sentence)
    [restart] = sheet.routine.restarts
    assert [(cut.wall, cut.after) for cut in restart.cuts] == [(wall, after)]


@pytest.mark.parametrize(
    ("sentence", "wall", "section", "first", "last"),
    [
        (
            "On wall 5 dance a L coaster step (L back, R beside L, L forward) in place of the shuffle on counts 5&6 of"
            " section 3.",
            5,
            3,
            5,
            6,
        ),
        (
            "In the 5th wall dance instead of the last four counts (the box) a rocking chair: R rock forward, L"
            " recover, R rock back, L recover.",
            5,
            4,
            5,
            8,
        ),
        ("Change on wall 2: replace the final 8 of section 1 (the touch) with a stomp of R beside L on 8.", 2, 1, 8, 8),
    ],
)
def test_a_change_is_taken_the_way_that_can_be_danced(
    sentence: str, wall: int, section: int, first: int, last: int
) -> None:
    sheet = read_sheet(SHEET + sentence + "\n")
    [change] = sheet.routine.changes
    [one] = change.replacements
    assert (change.walls, one.section, one.first, one.last) == ((wall,), section, first, last)
    assert all(step.movement.action != "unread" for step in one.passage.steps)


def test_each_wall_has_the_change_told_of_it() -> None:
    sheet = read_sheet(
        SHEET.replace("intro 16", "intro 16\n2 restarts, both with a step change: wall 3 and wall 5")
        + "# RESTART 1, wall 3: dance up to and including count 6 of section 3, then swap 7-8 for\n"
        + "    7 - 8   Step R back, touch L beside R\nand restart.\n\n"
        + "## RESTART 2, wall 5: dance up to and including count 6 of section 1, then swap 7-8 for\n"
        + "    7 - 8   Step L to side, touch R beside L\nand restart.\n"
    )
    told = {change.walls: [(r.section, r.first) for r in change.replacements] for change in sheet.routine.changes}
    assert told == {(3,): [(3, 7)], (5,): [(1, 7)]}


@pytest.mark.parametrize(
    "sentence",
    [
        "Tag: when you've done the dance two times (you're at the back then) and when you've done it four times there\n"
        "are four extra beats: sway R, L, R, L. Then start the dance as usual.",
        "TAG - 4 counts - danced after wall 2 and after wall 4: sway R, L, R, L",
        "Tag: at the end of walls 2 and 4 there are four extra beats. Sway right, left, right, left. The first time\n"
        "you're facing the back, the second time the front.",
        "* end of 2nd wall : Tag here   * end of 4th wall : Tag here\nTag (4 counts)\n1-4 Sway R, L, R, L",
    ],
)
def test_a_tag_of_two_walls(sentence: str) -> None:
    [tag] = read(sentence).routine.tags
    assert [cut.wall for cut in tag.cuts] == [2, 4]
    assert tag.passage.counts == 4


def test_a_wall_that_begins_as_usual_is_no_event() -> None:
    sheet = read("Tag after wall 2, 4 counts: sway R, L, R, L. The 3rd wall begins then as usual at 6:00.")
    [tag] = sheet.routine.tags
    assert [cut.wall for cut in tag.cuts] == [2]


def test_walls_that_have_no_such_figure_leave_it_out() -> None:
    sheet = read_sheet(SHEET + "SHORT WALLS: walls 3 and 6 have no rocking chair. Go straight on from the vines.\n")
    [change] = sheet.routine.changes
    [one] = change.replacements
    assert (change.walls, one.leaves_out, one.section, one.first, one.last) == ((3, 6), True, 2, 1, 4)


@pytest.mark.parametrize(
    "sentence",
    [
        "Third wall (it starts at the back): do section 1 and 2, but change the last two counts of section 2\n"
        "to: stomp R, L. Restart from the beginning.",
        "Wall 3: RESTART after section two. In section two change 7-8 to: stomp R, L.",
    ],
)
def test_a_change_before_a_restart_is_never_lost(sentence: str) -> None:
    sheet = read_sheet(SHEET + sentence + "\n")
    changed = [r for holder in (*sheet.routine.restarts, *sheet.routine.changes) for r in holder.replacements]
    assert [(one.section, one.first, one.last) for one in changed] == [(2, 7, 8)]
    assert [(cut.wall, cut.after) for one in sheet.routine.restarts for cut in one.cuts] == [(3, 16)]


def test_a_change_that_cannot_be_read_is_told() -> None:
    sheet = read_sheet(SHEET + "Restart on wall 3 after 16 counts, but swap the wibble wobble for two stomps.\n")
    assert any(f.code == "unread" and "change" in f.message for f in sheet.findings), sheet.findings


def test_steps_told_in_brackets_are_those_danced() -> None:
    sheet = read_sheet(
        SHEET.replace(
            "5-8 Jazz box R", "5-8 Jazz box 1/4 turn R (cross R over L, back on L, turn 1/4 R stepping R, L fwd)"
        )
    )
    turns = {step.count: step.movement.turn.eighths for step in sheet.routine.sections[3].passage.steps}
    assert [turns[count] for count in ("5", "6", "7", "8")] == [0, 0, 2, 0]


def test_arms_at_the_end_are_no_step() -> None:
    sheet = read("Ending: wall 8, dance 16 counts, then stomp R forward and arms up!")
    assert sheet.routine.ending is not None
    assert [step.movement.action for step in sheet.routine.ending.passage.steps] == ["stomp"]


def test_a_level_by_its_key_goes_before_one_in_a_remark() -> None:
    sheet = read_sheet("Tin Kettle\nfor the Tuesday improvers' class\nLevel: Beginner\n" + SHEET.split("\n", 1)[1])
    assert sheet.routine.header.level.lower().startswith("beginner")
