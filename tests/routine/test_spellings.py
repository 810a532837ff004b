"""How teachers write it: all that stands in one row reads as the same dance."""

from __future__ import annotations

import pytest

from caller.routine.facing import Facing, Turn
from caller.routine.notation.read import read_sheet
from caller.routine.step import Foot
from tests.routine.writing import HEADER, movements, passage, read

# (starting foot, counts, the way it is said first, the other ways)
ROWS: list[tuple[str, str, str, tuple[str, ...]]] = [
    (
        "right",
        "1",
        "step R forward",
        (
            "R forward",
            "forward R",
            "fwd on R",
            "stepping R fwd",
            "step forward on the right",
            "step right foot forward",
            "STEP R FORWARD",
            "Step RF fwd",
            "R fwd",
            "step fwd R",
        ),
    ),
    (
        "right",
        "1",
        "step R to side",
        ("side R", "R to R side", "step R to right side", "step right to the side", "R to side", "step side right"),
    ),
    (
        "left",
        "1",
        "step L beside R",
        (
            "L next to R",
            "close L to R",
            "L together",
            "tog",
            "together",
            "bring L to R taking weight",
            "step L next to R",
            "L tog",
            "close L beside R",
        ),
    ),
    (
        "left",
        "1",
        "step L forward turning 1/4 left",
        (
            "turn 1/4 left, step L forward",
            "1/4 turn L stepping L fwd",
            "make a quarter turn left stepping forward on L",
            "turn a quarter left as you step L forward",
            "on ball of R turn 1/4 left, L fwd",
            "turn ¼ left, step L forward",
            "making a 1/4 turn left, step forward on L",
            "step L forward making a quarter turn left",
        ),
    ),
    (
        "right",
        "1-2",
        "rock R forward, recover L",
        (
            "rock fwd on R, recover",
            "forward rock R, recover weight onto L",
            "rock forward onto right, replace weight on left",
            "rock R fwd, recover on L",
            "rock forward right, recover left",
        ),
    ),
    (
        "right",
        "1-2",
        "step R forward, pivot 1/2 left",
        (
            "step R fwd, 1/2 pivot L",
            "R fwd, pivot half turn left (weight on L)",
            "step pivot 1/2 L",
            "step R forward, pivot ½ turn L",
            "step forward R, pivot a half left",
            "step R forward, turn 1/2 left",
            "step R forward, turn 1/2 left (weight on L)",
            "step fwd R, 1/2 turn L",
            "step R forward, pivot 180 degrees left",
            "pivot turn: step R forward, pivot 1/2 left",
        ),
    ),
    (
        "right",
        "1&2",
        "right shuffle forward",
        (
            "shuffle forward R, L, R",
            "shuffle fwd RLR",
            "R shuffle",
            "right triple forward",
            "step R, close L, step R",
            "Step R forward, step L beside R, step R forward",
            "R shuffle fwd",
            "triple step forward R-L-R",
        ),
    ),
    (
        "right",
        "1&2",
        "right shuffle turning 1/2 left",
        ("shuffle 1/2 turn left stepping R, L, R", "triple half turn left R-L-R", "R shuffle ½ turn L"),
    ),
    (
        "right",
        "1-2",
        "walk R, L",
        ("walk forward R, L", "walk x2", "walk, walk", "walk fwd for 2", "walk R-L", "walk RL", "walk twice"),
    ),
    (
        "left",
        "1-3",
        "cross L behind R, step R to side, cross L over R",
        (
            "behind, side, cross",
            "L behind-side-cross",
            "step left behind right, right to side, left across right",
            "behind side cross",
        ),
    ),
    ("right", "1-4", "weave right", ("side, behind, side, cross", "side-behind-side-in front")),
    (
        "right",
        "1",
        "touch R beside L",
        ("R touch", "touch R toe next to L", "tap right toe beside left", "touch together", "touch R next to L"),
    ),
    (
        "right",
        "1",
        "heel R forward",
        ("R heel forward", "touch R heel fwd", "dig R heel in front", "present right heel", "tap R heel forward"),
    ),
    (
        "right",
        "1-2",
        "step R to side, drag L to R",
        (
            "big step R to R side, drag L up to R",
            "large step right to side dragging left",
            "big step to right side, drag L towards R",
        ),
    ),
    ("right", "1-2", "sway R, L", ("sway hips R, L", "hip sways RL", "sway, sway", "sway hips right, left")),
    (
        "right",
        "1-3",
        "bump R, L, R",
        ("hip bumps R L R", "bump hips right, left, right", "hip bumps RLR", "bump hips R, L, R"),
    ),
]


@pytest.mark.parametrize(
    ("starts", "counts", "first", "other"),
    [(starts, counts, first, other) for starts, counts, first, others in ROWS for other in others],
    ids=lambda part: str(part),
)
def test_two_spellings_of_a_row_are_one_dance(starts: str, counts: str, first: str, other: str) -> None:
    assert _danced(starts, counts, other) == _danced(starts, counts, first)


def _danced(starts: str, counts: str, words: str) -> object:
    return movements(f"{counts}  {words}", starts=starts)


REPEATED = "1-4    Step R to side, step L beside R, step R forward, touch L beside R"


@pytest.mark.parametrize(
    "words",
    [
        "Repeat 1-4",
        "repeat counts 1-4",
        "Repeat 1-4 leading left",
        "repeat counts 1-4 on the other foot",
        "repeat above leading left",
    ],
)
def test_what_stands_there_is_danced_again(words: str) -> None:
    mirrored = "leading left" in words or "other foot" in words
    steps = passage(REPEATED, f"5-8    {words}").steps
    assert [s.at + 4 for s in steps[:4]] == [s.at for s in steps[4:]]
    for first, again in zip(steps[:4], steps[4:], strict=True):
        foot = first.movement.foot
        assert foot is not None
        assert again.movement.foot is (foot.other if mirrored else foot)
        assert (again.movement.action, again.movement.where) == (first.movement.action, first.movement.where)


@pytest.mark.parametrize("words", ["Repeat 1-2 x2", "repeat counts 1-2 twice", "repeat 1-2 (9:00) twice"])
def test_a_repeat_may_be_told_twice(words: str) -> None:
    steps = passage("1-2    Walk R, L", f"3-6    {words}").steps
    assert [s.movement.action for s in steps] == ["walk"] * 6


def test_a_section_is_repeated_by_its_number() -> None:
    text = f"{HEADER}Starts: right\nSection 1\n1-2 Walk R, L\nSection 2\n1-2 Repeat section 1\n"
    first, second = read_sheet(text).routine.sections
    assert first.passage.steps == second.passage.steps


@pytest.mark.parametrize(
    "words",
    [
        "shuffle to right diagonal",
        "right shuffle diagonally forward right",
        "right shuffle towards 1:30 (still facing 12:00)",
    ],
)
def test_a_shuffle_to_the_diagonal_turns_nothing(words: str) -> None:
    assert all(not movement.turn for _, movement in movements(f"1&2  {words}"))


@pytest.mark.parametrize(
    "said",
    [
        "(9:00)",
        "(9 o'clock)",
        "[9:00]",
        "(9.00)",
        "(facing 9:00)",
        "now facing 9 o'clock",
        "(9:00 wall)",
        ", now facing 9 o\u2019clock",
        "(now facing 9:00)",
    ],
)
def test_a_facing_is_stated_in_many_ways(said: str) -> None:
    claims = passage(f"1-2  Step R forward, pivot 1/4 left {said}").claims
    assert [(c.after, c.facing) for c in claims] == [(1, Facing(6))]


@pytest.mark.parametrize(
    "counts", ["1-2", "1-2:", "1 - 2", "1,2", "Counts 1-2", "1–2.", "1 2", "1 & 2".replace(" & ", ", ")]
)
def test_counts_are_written_in_many_ways(counts: str) -> None:
    assert movements(f"{counts}  Walk R, L") == movements("1-2  Walk R, L")


SIXTEEN = "Section 1\n1-2 Walk R, L\n3-4 Walk R, L\n5-8 Walk R, L, R, L\n"


@pytest.mark.parametrize(
    "heading",
    [
        "Restart: wall 5 after 4 counts",
        "Restart during wall 5, after count 4",
        "RESTART: on wall 5, after 4 counts",
        "Restart: after 4 counts of wall 5",
    ],
)
def test_a_restart_is_told_in_many_ways(heading: str) -> None:
    routine = read_sheet(f"{HEADER}Starts: right\n{SIXTEEN}{heading}\n").routine
    assert [(c.wall, c.after) for r in routine.restarts for c in r.cuts] == [(5, 4)]


@pytest.mark.parametrize("heading", ["Restart here on wall 5", "** Restart here on wall 5", "*Restart here on wall 5*"])
def test_a_restart_may_stand_where_it_falls(heading: str) -> None:
    text = SIXTEEN.replace("5-8", f"{heading}\n5-8")
    sheet = read_sheet(f"{HEADER}Starts: right\n{text}")
    assert sheet.findings == ()
    assert [(c.wall, c.after) for r in sheet.routine.restarts for c in r.cuts] == [(5, 4)]
    assert sheet.routine.counts == 8


@pytest.mark.parametrize("heading", ["Tag: after wall 3", "Tag at the end of wall 3", "2 count tag, end of wall 3"])
def test_a_tag_is_told_in_many_ways(heading: str) -> None:
    sheet = read_sheet(f"{HEADER}Starts: right\n{SIXTEEN}{heading}\n1-2 Sway R, L\n")
    assert sheet.findings == ()
    assert [(c.wall, c.after) for t in sheet.routine.tags for c in t.cuts] == [(3, None)]


def test_the_length_that_a_tag_says_is_checked() -> None:
    sheet = read_sheet(f"{HEADER}Starts: right\n{SIXTEEN}4 count tag, end of wall 3\n1-2 Sway R, L\n")
    assert [f.code for f in sheet.findings] == ["counts-total"]


@pytest.mark.parametrize(
    "header",
    ["Counts: 8\nWalls: 4\n", "Count: 8\nWall: 4\n", "8 count, 4 wall, improver\n", "8 Count - 4 Wall - Improver\n"],
)
def test_counts_and_walls_are_told_in_many_ways(header: str) -> None:
    sheet = read_sheet(f"Title: Test Piece\n{header}Tempo: 100\nStarts: right\n{SIXTEEN}")
    assert sheet.findings == ()
    assert (sheet.routine.header.counts, sheet.routine.header.walls) == (8, 4)


def test_a_foot_not_named_is_the_free_one() -> None:
    feet = [m.foot for _, m in movements("1-4 Step forward, touch, step back, together")]
    assert feet == [Foot.RIGHT, Foot.LEFT, Foot.LEFT, Foot.RIGHT]


def test_where_both_feet_are_free_the_sheet_is_asked_which() -> None:
    sheet = read("1-2 Jump, step forward")
    assert [(f.code, f.message.split("?")[0]) for f in sheet.findings] == [("unreadable", "which foot")]


def test_a_figure_with_two_eighths_may_be_written_out() -> None:
    turns = [m.turn for _, m in movements("1-2 Step R forward turning 1/8 left, touch L beside R turning 1/8 left")]
    assert turns == [Turn(-1), Turn(-1)]


@pytest.mark.parametrize(
    "words",
    [
        "step L diagonally forward",
        "step L forward diagonally",
        "step L diagonally forward left",
        "step L forward to left diagonal",
        "step L to left diagonal",
        "L diagonally forward",
    ],
)
@pytest.mark.parametrize("starts", ["left", "right"])
def test_the_foot_beside_a_diagonal_is_the_one_that_moves(words: str, starts: str) -> None:
    ((_, movement),) = movements(f"1  {words}", starts=starts)
    assert (movement.foot, movement.where) == (Foot.LEFT, "forward diagonal")


# Lines as they are pasted, each with the same dance in standard words.
PASTED = [
    ("right", "1-4", "Jazz box with 1/4 turn right", "Right jazz box turning 1/4 right"),
    ("right", "1-4", "Grapevine to the right with 1/4 turn R, scuff L", "Vine right turning 1/4 right, scuff L"),
    ("right", "1-4", "Vine right with a touch", "Vine right, touch L"),
    ("right", "1&2&", "Heel switches R, L", "Right heel switch"),
    ("right", "1-4", "Toe struts forward R, L", "Right toe strut forward, left toe strut forward"),
    ("right", "1-2", "Step R toe forward, drop heel", "Right toe strut forward"),
    ("right", "1&2", "Shuffle sideways right R-L-R", "Right shuffle side"),
    ("right", "1&2", "Cross/shuffle R over L: R,L,R", "Right cross shuffle"),
    ("right", "1-2", "Rock R back, come back on L", "Rock R back, recover L"),
    ("right", "1-4", "Charleston: step R fwd, kick L fwd, step L back, touch R back", "Right charleston"),
    ("right", "1-3", "Twinkle: cross R over L, step L to side, step R in place", "Right twinkle"),
    ("right", "1-2", "Press R ball of foot forward, recover on L", "Press R forward, recover L"),
    ("right", "1-2", "Heels out, heels in", "Heel split out, heel split in"),
    ("right", "1-2", "Step R to right side swaying hips right, sway left", "Step R to side, sway L"),
    ("right", "1&2", "Shuffle 1/2 turn over left shoulder R, L, R", "Right shuffle turning 1/2 left"),
    ("right", "1-4", "Paddle 1/4 turn L x2", "Right paddle turn 1/4 left, right paddle turn 1/4 left"),
    ("right", "1-4", "Two 1/8 paddle turns left", "Right paddle turn 1/8 left x2"),
    (
        "right",
        "1-4",
        "Full turn right stepping R, L, R, touch L",
        "Rolling turn right R, L, R, touch L",
    ),
    (
        "right",
        "1-2",
        "Big step forward on R at 45 degrees right, touch L",
        "Step R diagonally forward, touch L beside R",
    ),
    ("right", "1", "Step R forward and spiral full turn left", "Step R forward with spiral full left"),
    ("right", "1-2", "Stomp R, hold & clap", "Stomp R, hold with clap"),
    (
        "right",
        "1-4",
        "Right over left, left to side, right behind left, sweep left",
        "Cross R over L, step L to side, cross R behind L, sweep L",
    ),
    ("right", "1&2", "R kick-ball-change", "Right kick ball change"),
    ("right", "1-4", "Roll hips clockwise over 4 counts", "Hip roll"),
    ("left", "1-2", "Rock step forward leading with the left", "Rock L forward, recover R"),
]


@pytest.mark.parametrize(("starts", "counts", "pasted", "plain"), PASTED, ids=lambda part: part)
def test_a_pasted_line_is_danced_as_in_standard_words(starts: str, counts: str, pasted: str, plain: str) -> None:
    assert _danced(starts, counts, pasted) == _danced(starts, counts, plain)


@pytest.mark.parametrize(
    "line", ["Devised by the Quarry Hall class", "Intro 16 counts", "Start after 16 counts", "16 count intro"]
)
def test_a_header_without_its_colon_is_read_all_the_same(line: str) -> None:
    header = read_sheet(f"Title: Tin Tray\nTempo: 100\n{line}\n\n1-2  Walk R, L\n").routine.header
    assert (header.devised_by, header.intro) in {("the Quarry Hall class", None), ("", 16)}


@pytest.mark.parametrize(
    ("line", "deviser"),
    [
        ("Choreographed for the Tuesday class", ""),
        ("Choreographed for: the Tuesday class", ""),
        ("Choreography: for our club", ""),
        ("Choreographed for our club", ""),
        ("Choreographed 2019 for our club", ""),
        ("Devised in 2019 by the Quarry Hall class", "the Quarry Hall class"),
        ("Choreographed for the Tuesday class by the Quarry Hall class", "the Quarry Hall class"),
        ("Choreographed by Ford Row", "Ford Row"),
    ],
)
def test_whom_it_was_devised_for_or_when_is_not_by_whom(line: str, deviser: str) -> None:
    header = read_sheet(f"Title: Tin Tray\nTempo: 100\n{line}\n\n1-2  Walk R, L\n").routine.header
    assert header.devised_by == deviser
    assert (line in header.notes) is (" by Ford" not in line)


@pytest.mark.parametrize("line", ["Repeat", "Repeat the dance.", "Start again & have fun!", "BEGIN AGAIN", "Enjoy!"])
def test_a_last_line_that_sends_the_dance_round_again_is_a_note(line: str) -> None:
    sheet = read_sheet(f"Title: Tin Tray\nTempo: 100\n\n1-2  Walk R, L\n{line}\n")
    assert sheet.findings == ()
    assert len(sheet.routine.sections[0].passage.steps) == 2
