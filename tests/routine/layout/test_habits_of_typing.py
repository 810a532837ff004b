"""Layouts of counts, hours and sentences: each reads as the same steps, whatever the author's typing. Common practice
of the trade, no published source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.dance.check import check, has_errors
from caller.routine.notation.read import SheetRead, read_sheet

HEAD = "Copper Kettle\n16 counts, 2 walls, Improver, 118 bpm, 16 count intro\n\n"
PLAIN = """\
S1
1-4  Vine R, touch L
5-6  Rock L forward, recover R
7&8  Coaster step L

S2
1-2  Step R forward, pivot 1/2 L (6:00)
3-4  Walk forward R, L
5-8  Rocking chair R
"""


def read(body: str) -> SheetRead:
    return read_sheet(HEAD + body)


def steps(sheet: SheetRead) -> list[list[tuple[Fraction, str, str]]]:
    """Of each section, when which foot does what."""
    return [
        [(step.at, step.movement.foot.value if step.movement.foot else "", step.movement.action) for step in one]
        for one in ([*section.passage.steps] for section in sheet.routine.sections)
    ]


COUNTS_IN_FRONT = PLAIN.replace("1-4  V", "(1, 2, 3, 4) V").replace("5-6  Rock L", "(5, 6) Rock L")
COUNTS_IN_FRONT = COUNTS_IN_FRONT.replace("1-2  Step", "(1 2) Step").replace("3-4  Walk", "(3 4) Walk")
TOGETHER = PLAIN.replace("1-4  V", "1-4 V").replace("5-6  Rock", "56 Rock").replace("1-2  Step", "12 Step")
TOGETHER = TOGETHER.replace("3-4  Walk", "34 Walk").replace("5-8  Rocking", "5-8 Rocking")


@pytest.mark.parametrize(
    "body",
    [
        COUNTS_IN_FRONT,
        TOGETHER,
        PLAIN.replace("(6:00)", "(6 h)"),
        PLAIN.replace("1-2  Step R forward, pivot 1/2 L (6:00)", "Step R forward, pivot 1/2 L (1-2) (6)"),
        PLAIN.replace("3-4  Walk forward R, L", "3-4  Walk, walk (R, L)"),
        PLAIN.replace("S1\n", "S1\nOn counts 1 to 4, vine R, touch L\n")
        .replace("1-4  Vine R, touch L\n", "")
        .replace("5-6  Rock", "On 5 and 6, rock")
        .replace("7&8  Coaster", "On 7&8 you do a coaster"),
        PLAIN.replace("S1\n", "S1     | Count\n")
        .replace("1-4  Vine R, touch L", "Vine R, touch L   | 1-4")
        .replace("5-6  Rock L forward, recover R", "Rock L forward, recover R   | 5 6")
        .replace("7&8  Coaster step L", "Coaster step L     | 7 & 8"),
    ],
    ids=["lists in brackets", "pairs", "hours with h", "hour behind counts", "feet behind", "on counts", "bars"],
)
def test_the_same_steps_are_read_from_each_way_of_typing_counts(body: str) -> None:
    sheet = read(body)
    assert not has_errors(check(sheet))
    assert steps(sheet) == steps(read(PLAIN))


WALKS = "1-4  Walk forward R, L, R, L\n5-8  Rocking chair R\n"
SENTENCES = """\
First section:
On 1 walk forward right. On 2 walk forward left. On 3 walk
forward right. On 4 walk forward left. On
5 rock forward on the right. On 6 recover onto the left. On 7
rock back on the right. On 8 recover onto the left.
"""
NAMED = """\
First section:
Count 1: walk forward right. Count 2: walk forward left. Count
3: walk forward right. Count 4: walk
forward left. Count 5: rock forward on the right. Count 6: recover
onto the left. Count 7: rock back on the right. Count 8: recover
onto the left.
"""
BRACKETS = """\
Section 1
Walk forward right (1), walk forward left
(2), walk forward right (3), walk forward left (4). Rock
forward on the right (5), recover onto the left (6). Rock back on the
right (7), recover onto the left (8).
"""
LABELLED = "S1. " + BRACKETS.split("\n", 1)[1]


@pytest.mark.parametrize("told", [SENTENCES, NAMED, BRACKETS, LABELLED], ids=["on", "count", "brackets", "label"])
def test_sentences_that_break_wherever_the_line_is_full_are_one_section(told: str) -> None:
    sheet = read_sheet(f"Copper Kettle\n8 counts, 1 wall, Improver, 118 bpm\n\n{told}")
    plain = read_sheet(f"Copper Kettle\n8 counts, 1 wall, Improver, 118 bpm\n\nS1\n{WALKS}")
    assert [(at, foot) for at, foot, _ in steps(sheet)[0]] == [(at, foot) for at, foot, _ in steps(plain)[0]]
    assert not has_errors(check(sheet))


def test_a_half_count_within_a_line_is_a_step_of_its_own() -> None:
    body = (
        "S1\n1 walk R; 2 walk L; 3 step R back; & step L beside R; 4 step R forward; "
        "5 walk L; 6 walk R; 7 walk L; 8 touch R\n"
    )
    (section,) = steps(read_sheet(f"Copper Kettle\n8 counts, 1 wall, 118 bpm\n\n{body}"))
    assert [(at, foot) for at, foot, _ in section][2:5] == [
        (Fraction(2), "R"),
        (Fraction(5, 2), "L"),
        (Fraction(3), "R"),
    ]


def test_an_hour_beside_a_turn_is_no_count() -> None:
    sheet = read(
        "S1\n1 2  walk R, L\n3 4  1/4 R stepping R fwd (3), brush L fwd\n5 6  rk L fwd, rec R\n7 8  rk L bk, rec R\n"
    )
    assert [at for at, _, _ in steps(sheet)[0]] == [Fraction(n) for n in range(8)]
