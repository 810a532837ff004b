"""Turns of phrase found in sheets of many hands. Common practice of the floor, no published source."""

from __future__ import annotations

import pytest

from caller.routine.layout.blocks import Role
from caller.routine.layout.counted import steps_on
from caller.routine.layout.lines import Line
from caller.routine.layout.mentions import mentions_in
from caller.routine.notation.dialect import plain_words
from caller.routine.notation.read import SheetRead, read_sheet

HEAD = "Made Up\nTempo: 100\nWalls: 4\n\nSection 1\n"


def danced(read: SheetRead) -> list[tuple[str, str]]:
    steps = read.routine.sections[0].passage.steps
    return [(step.count, step.movement.foot.value if step.movement.foot else "") for step in steps]


def test_a_line_of_eight_counts_is_danced_by_the_rhythm_of_its_figures() -> None:
    read = read_sheet(f"{HEAD}1-8  Walk R, walk L, R shuffle forward, rock L forward, recover R, L coaster\n")
    assert " ".join(count for count, _ in danced(read)) == "1 2 3 3& 4 5 6 7 7& 8"
    assert "".join(foot for _, foot in danced(read)) == "RLRLRLRLRL"
    assert [f.code for f in read.findings if f.place.line == 6] == ["guess"]


def test_on_two_counts_three_steps_are_still_one_too_many() -> None:
    read = read_sheet(f"{HEAD}1-2  R shuffle forward\n3-8  Walk L, R, L, R, L, R\n")
    assert "counts-mismatch" in [f.code for f in read.findings if f.place.line == 6]


def test_steps_may_stand_in_the_heading_itself() -> None:
    read = read_sheet(
        "Made Up\nTempo: 100\nWalls: 4\n\nS1 [1-8]  wlk R, wlk L, R shuf fwd (3&4), rk L fwd, rec R, L coaster (7&8)\n"
    )
    assert len(danced(read)) == 10


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("5,6,7,8 Step R fwd, paddle 1/4 L. Same again.", ["5-6  Step R fwd, paddle 1/4 L", "7-8  repeat 5-6"]),
        ("K-step: 1-2 R fwd, touch L; 3-4 L back, touch R", ["1-2 R fwd, touch L", "3-4 L back, touch R"]),
        ("1,2: Step R fwd, touch L. 3,4: Step L, touch R", ["1,2  Step R fwd, touch L", "3,4  Step L, touch R"]),
        ("05-06 Rock L back, recover R", ["5-6 Rock L back, recover R"]),
        ("2 x kick ball change", []),
    ],
)
def test_a_line_is_parted_where_its_counts_go_on(text: str, pieces: list[str]) -> None:
    assert [line.text for line in steps_on(Line(1, 1, text, True), 1)] == pieces


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("RF cross before LF", "RF cross over LF"),
        ("Step R fwd, paddle 1/4 left", "Step R fwd, pivot 1/4 left"),
        ("point R, paddle 1/4 left", "point R, paddle 1/4 left"),
        ("step R, pivot 180 left", "step R, pivot 1/2 left"),
        ("walk fwd R, L, R kick L", "walk fwd R, L, R, kick L"),
        ("step R to right forward diagonal", "step R forward diagonal"),
        ("half pivot L. Now you see 3 o'clock", "half pivot L (3:00)"),
        ("L fwd sweeping R round", "L fwd, sweep R round"),
    ],
)
def test_what_is_said_in_other_words_is_said_plainly(text: str, plain: str) -> None:
    assert " ".join(plain_words(text).split()) == plain


@pytest.mark.parametrize(
    ("text", "walls", "after", "long"),
    [
        ("TAG TWO - end of wall 5 - 2 counts", (5,), None, 2),
        ("Tag of 4 beats at the end of wall 2", (2,), None, 4),
        ("1 Tag (4 cts, end of wall 3)", (3,), None, 4),
        ("TAG: After wall 2 (facing 6:00) there is a 4 count tag:", (2,), None, 4),
        ("On wall 7, count 12 brings you to 12:00. Finish", (7,), 12, None),
    ],
)
def test_an_event_is_told_with_its_length_and_place(
    text: str, walls: tuple[int, ...], after: int | None, long: int | None
) -> None:
    (mention,) = mentions_in(text)
    assert (mention.walls, mention.after, mention.long) == (walls, after, long)


@pytest.mark.parametrize("text", ["Tags: none", "Restarts: 2 different ones", "do NOT restart here"])
def test_that_there_is_none_or_how_many_is_no_event(text: str) -> None:
    assert all(mention.none for mention in mentions_in(text))


def test_that_the_dance_starts_over_is_no_restart() -> None:
    read = read_sheet(f"{HEAD}1-4  Walk R, L, R, L\n5-8  Jazz box R\n\nThat's it! Start over.\n")
    assert [f for f in read.findings if f.code == "event-place"] == []
    assert read.routine.restarts == ()


def test_a_replacing_line_may_begin_on_the_half_before_its_first_count() -> None:
    head = "Title: Made Up\nTempo: 96\nStarts: right\nSection 1\n1-4  Walk R, L, R, L\n\nChange: wall 6\n"
    sheet = read_sheet(f"{head}S1 &1-2  Step R out, step L out, hold\n")
    (change,) = sheet.routine.changes
    (replacement,) = change.replacements
    assert [step.count for step in replacement.passage.steps] == ["&", "1", "2"]


@pytest.mark.parametrize(
    ("line", "pieces"),
    [
        (
            "R kick ball change, 1&2. And again, R kick ball change, 3&4.",
            ["1&2  R kick ball change", "3&4  R kick ball change"],
        ),
        ("3 RF fwd  & LF lock behind  4 RF fwd", ["3 RF fwd", "&  LF lock behind", "4 RF fwd"]),
        (
            "Step R fwd (3), pivot half L (4), to 3 o'clock. Walk R (5), L (6)",
            ["3  Step R fwd", "4  pivot half L (3:00)", "5  Walk R", "6  L"],
        ),
        (
            "Touch R fwd (1), step back R (2). Do all of that again (3, 4).",
            ["1  Touch R fwd", "2  step back R", "3, 4  repeat 1-2"],
        ),
        ("Rock fwd R, recover L     1,2", ["1,2  Rock fwd R, recover L"]),
        ("Step fwd R, pivot 1/2 L     [9]     1,2", ["1,2  Step fwd R, pivot 1/2 L     [9]"]),
    ],
)
def test_counts_among_and_behind_the_steps(line: str, pieces: list[str]) -> None:
    assert [step.text for step in steps_on(Line(1, 1, line, True))] == pieces


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("paddle turn 90 deg left", "paddle turn 1/4 left"),
        ("LF 1/4 left, step forward", "turn 1/4 left step LF forward"),
        ("R sailor turning 1/4 R: R behind L, L to side, R to side (6:00)", "R sailor turning 1/4 R (6:00)"),
        ("L+R pivot 1/4 turn R", "pivot 1/4 turn R"),
        ("step R heel fwd, grind heel turning 1/4 R, step back on L", "heel grind R turning 1/4 R, step L back"),
        ("step R to side bumping hips R, R, then bump hips L, L", "step R side, bump R, bump L, bump L"),
        ("cross/rock L over R, replace wt to R", "cross rock L over R, recover R"),
        (
            "vine to the left (L side, R behind, L forward turning a quarter left)",
            "L side, R behind, L forward turning a quarter left",
        ),
    ],
)
def test_more_that_is_said_in_other_words(text: str, plain: str) -> None:
    assert " ".join(plain_words(text).split()) == plain


@pytest.mark.parametrize(
    ("sentence", "kind", "walls", "after"),
    [
        (
            "On the 4th wall do the first 16 counts and then instead of the cross you start again from the top",
            "restart",
            (4,),
            16,
        ),
        ("Tag: at the end of wall 6 add the following 4 counts", "tag", (6,), None),
        ("The dance starts after 8 counts - 1 restart (wall 3, after 16 counts)", "restart", (3,), 16),
        ("TAG 4 counts, danced at the end of walls 2 (6:00) and 5 (9:00)", "tag", (2, 5), None),
        ("FINAL: on the 7th wall dance up to count 44, then stomp R", "ending", (7,), 44),
    ],
)
def test_events_in_more_sentences(sentence: str, kind: str, walls: tuple[int, ...], after: int | None) -> None:
    (mention,) = mentions_in(sentence)
    assert (mention.kind, mention.walls, mention.after) == (kind, walls, after)


def test_a_facing_after_the_restart_is_not_the_walls_own() -> None:
    (mention,) = mentions_in("Wall 6 starts facing 3:00. Dance 16 counts and restart, facing 9:00")
    assert (str(mention.facing), mention.sure) == ("9:00", True)


def test_lines_without_counts_are_danced_in_the_counts_of_their_heading() -> None:
    lines = "Vines (Counts 1 to 8)\n  Vine to the right, touch left.\n  Vine to the left, touch right.\n"
    read = read_sheet(f"Made Up\nby a friend, 8 counts, 1 wall. Lead with the right.\n\n{lines}")
    assert [count for count, _ in danced(read)] == ["1", "2", "3", "4", "5", "6", "7", "8"]


def test_a_fault_of_lines_without_counts_is_told_where_they_begin() -> None:
    read = read_sheet("Made Up\n\nSECTION 1: 1-8\nWalk R, L\nWalk R, L, R, L\n")
    (fault,) = [finding for finding in read.findings if finding.code == "counts-mismatch"]
    assert (fault.place.line, fault.place.column) == (4, 1)


@pytest.mark.parametrize("between", ["", "\n"])
def test_steps_below_a_tag_in_the_head_are_the_tags(between: str) -> None:
    head = f"Made Up\n4 counts, 1 wall\nTAG - at the end of wall 2 (2 counts)\n{between}1-2  Sway R, L\n"
    routine = read_sheet(f"{head}\nS1: WALKS\n1-4  Walk R, L, R, L\n").routine
    assert [section.passage.counts for section in routine.sections] == [4]
    assert [tag.passage.counts for tag in routine.tags] == [2]


def test_a_restart_after_a_named_figure_is_at_the_end_of_its_section() -> None:
    sections = (
        "S1 Walks\n1-4  Walk R, L, R, L\n\nS2 Rock, Side Touch\n1-4  Rock R fwd, recover L, step R to side, touch L\n"
    )
    more = "\nS3 Vine\n1-4  Vine L, touch R\n\nThe restart comes in wall 2, after the side touch.\n"
    (restart,) = read_sheet(f"Made Up\n12 counts\n\n{sections}{more}").routine.restarts
    assert [(cut.wall, cut.after) for cut in restart.cuts] == [(2, 8)]


def test_two_steps_forward_are_no_jump_unless_the_sheet_says_so() -> None:
    read = read_sheet(f"{HEAD}1-2  Rock L to side, recover R\n3&4  L behind R, 1/4 R stepping fwd R, step L fwd\n")
    assert not [phrase.name for phrase in read.routine.sections[0].passage.phrases if "jump" in phrase.name]


@pytest.mark.parametrize(
    ("line", "level"),
    [
        ("~ Heron Pond ~  a waltz for the intermediates", "intermediate"),
        ("Heron Pond - 32 counts, 2 walls, absolute beginners", "absolute beginner"),
        ("Heron Pond - 32 counts, 2 walls, all levels", "all levels"),
    ],
)
def test_a_level_told_by_those_who_dance_it_is_that_level(line: str, level: str) -> None:
    steps = "1-8 walk fwd R, L, R, touch L, walk back L, R, L, touch R"
    assert read_sheet(f"{line}\n\nSection 1\n{steps}\n").routine.header.level == level


WALKED = "S1: WALKS\n1-8  Walk R, L, R, L, R, L, R, L\n\nS2: WALKS\n1-8  Walk R, L, R, L, R, L, R, L\n\n"


def test_changed_steps_belong_to_the_section_that_the_place_told_is_in() -> None:
    told = "Change on wall 3 after 12 counts: replace counts 5-8 with 5-8 sway R, L, R, L\n"
    (change,) = read_sheet(f"Made Up\n\n{WALKED}{told}").routine.changes
    assert [(new.section, new.first, new.last) for new in change.replacements] == [(2, 5, 8)]


def test_a_restart_that_changes_steps_comes_after_them_at_the_earliest() -> None:
    told = "Restart on wall 3 after 4 counts, replacing counts 7-8 with 7-8 sway R, L\n"
    (restart,) = read_sheet(f"Made Up\n\n{WALKED}{told}").routine.restarts
    assert [cut.after for cut in restart.cuts] == [8]


def test_what_arms_and_hands_do_is_no_movement_of_the_feet() -> None:
    read = read_sheet(f"{HEAD}1-2 Walk R, L with right arm up\n3-4 Walk R, L\n")
    assert [foot for _, foot in danced(read)] == ["R", "L", "R", "L"]
    assert [step.movement.action for step in read.routine.sections[0].passage.steps] == ["walk"] * 4


@pytest.mark.parametrize("facing", ["; home again, facing 6 o'clock.", " {6:00}", " (6:00)"])
def test_a_facing_behind_the_steps_is_no_step(facing: str) -> None:
    read = read_sheet(f"{HEAD}1-2 Walk R, L\n3-4 Step R, pivot 1/2 L{facing}\n")
    assert [count for count, _ in danced(read)] == ["1", "2", "3", "4"]
    assert read.findings == ()


def test_a_short_part_told_where_the_order_counts_it_is_the_orders() -> None:
    parts = "Part A section 1\n1-4  Walk R, L, R, L\nPart A section 2\n1-4  Walk R, L, R, L\n"
    told = "The short A: leave off section A2\n"
    read = read_sheet(f"Made Up\nOrder: A B A4 B\n\n{parts}Part B section 1\n1-4  Sway R, L, R, L\n\n{told}")
    assert read.roles[11] is Role.HEADER


@pytest.mark.parametrize(
    "told", ["TAG end of wall 2, counts 5-8 of section 2 once more", "Tag after wall 2: repeat counts 5-8"]
)
def test_steps_danced_once_more_behind_a_wall_are_a_tag(told: str) -> None:
    fours = "1-4  Walk R, L, R, L\n5-8  Walk R, L, R, L\n"
    (tag,) = read_sheet(f"Made Up\n\nS1\n{fours}\nS2\n{fours}\n{told}\n").routine.tags
    assert tag.passage.counts == 4


def test_counts_within_a_line_are_not_taken_for_their_whole_section() -> None:
    read = read_sheet(f"Made Up\n\n{WALKED}Tag after wall 2: repeat counts 5-8 of section 2\n")
    assert [tag.passage.counts for tag in read.routine.tags] == [0]
    assert any("this tag has no steps" in finding.message for finding in read.findings)


def test_behind_the_steps_of_an_ending_nothing_tells_its_place() -> None:
    ending = "Ending: wall 5\n1-2  Step R forward, pivot 1/2 L\nDance 8 counts, then\n"
    assert read_sheet(f"Made Up\n\n{WALKED}{ending}").roles[11] is Role.NOTE


def test_a_facing_in_the_last_cell_of_a_table_is_no_movement() -> None:
    """Though the sentence goes on in the row below."""
    rows = (
        "| 1-2 | Point right to side, 1/4 right stepping right beside | 3:00 |\n| | left | |\n| 3-4 | Walk L, R | |\n"
    )
    assert danced(read_sheet(f"{HEAD}{rows}"))[:2] == [("1", "R"), ("2", "R")]


def test_a_way_that_turns_behind_a_figure_is_a_step_of_its_own() -> None:
    read = read_sheet(f"{HEAD}1-6 R rocking chair, forward turning 1/4 left, back\n7-8 Walk R, L\n")
    steps = [(step.movement.where, step.movement.turn.eighths) for step in read.routine.sections[0].passage.steps]
    assert steps[4:6] == [("forward", -2), ("back", 0)]
