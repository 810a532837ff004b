"""Turns of phrase found in sheets of many hands. Common practice of the floor, no published source."""

from __future__ import annotations

import pytest

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
