"""Counts before, behind and among the steps. Source: common practice of the trade."""

from __future__ import annotations

import pytest

from caller.routine.layout.behind import after_commas
from caller.routine.layout.counted import shifted, steps_on, with_counts
from caller.routine.layout.lines import Line

ROWS = [
    ("1-2 Walk R, L", ["1-2 Walk R, L"]),
    ("(3&4) R shuffle fwd", ["3&4 R shuffle fwd"]),
    ("5 - 6 Rock R, recover", ["5 - 6 Rock R, recover"]),
    ("3-&-4 shuffle R", ["3&4 shuffle R"]),
    ("1.) Step R", ["1 Step R"]),
    ("Counts 1-2: walk R, L", ["1-2 walk R, L"]),
    ("Step R fwd (1), touch L (2)", ["1 Step R fwd", "2 touch L"]),
    ("1-2 Step R fwd (1), touch L (2)", ["1 Step R fwd", "2 touch L"]),
    ("Walk forward R, L, R (1-3), kick L (4)", ["1-3 Walk forward R, L, R", "4 kick L"]),
    ("On counts five and six, rock R forward and recover", ["5-6 rock R forward and recover"]),
    ("On count 1 rock forward, on count 2 recover", ["1 rock forward", "2 recover"]),
    (
        "On count 1 rock forward, recover on 2, on count 3 step back",
        ["1 rock forward", "2 recover", "3 step back"],
    ),
    ("Right foot to the side on 1 and touch the left on 2", ["1 Right foot to the side", "2 touch the left"]),
    ("1-2 Walk R, L  3&4 Shuffle fwd  5-6 Rock", ["1-2 Walk R, L", "3&4 Shuffle fwd", "5-6 Rock"]),
    ("1 Step R fwd 2 Touch L 3 Step L back", ["1 Step R fwd", "2 Touch L", "3 Step L back"]),
    ("Right heel forward, together  1 2", ["1 2 Right heel forward, together"]),
    ("Basic forward L (1-3)  L fwd, R tog, L in place", ["1-3 Basic forward L: L fwd, R tog, L in place"]),
    ("8&1 Chasse L", ["8&1 Chasse L"]),
    ("3-4 Walk R fwd [3], touch L", ["3 Walk R fwd", "4 touch L"]),
    ("3-4 Step R fwd, turn 1/4 R [3], hold", ["3-4 Step R fwd, turn 1/4 R [3], hold"]),  # where it faces then
    ("Step R fwd (1), turn 1/4 L (2) [9]", ["1 Step R fwd", "2 turn 1/4 L [9]"]),
    ("34& Dorothy L", ["3-4& Dorothy L"]),
]


@pytest.mark.parametrize(("text", "wanted"), ROWS, ids=[text for text, _ in ROWS])
def test_the_step_lines_of_a_line_begin_with_their_counts(text: str, wanted: list[str]) -> None:
    expected = 3 if text[:1] == "3" else 1
    assert [" ".join(line.text.split()) for line in steps_on(Line(1, 1, text), expected)] == wanted


@pytest.mark.parametrize(
    "text",
    ["HEEL GRINDS", "Restart on wall 3 after 16 counts", "Choreographed by the Tuesday class", "Repeat and smile"],
)
def test_what_tells_no_steps_is_no_step_line(text: str) -> None:
    assert steps_on(Line(1, 1, text), 1) == []


def test_a_number_within_the_words_is_no_count() -> None:
    assert len(steps_on(Line(1, 1, "1-4 Turn 1/4 R over 2 counts, walk x 2"), 1)) == 1


def test_counts_told_beside_a_range_are_those_of_its_movements() -> None:
    line = with_counts(Line(1, 1, "9-16 Walk R, L, shuffle R, rock L, recover, coaster L"), "[1, 2, 3&4, 5, 6, 7&8]")
    assert line is not None
    assert line.text.startswith("9,10,11&12,13,14,15&16")


def test_counts_are_moved_on() -> None:
    assert shifted(Line(1, 1, "1-2-3 Left basic"), 6).text.startswith("7-8-9")


@pytest.mark.parametrize(("expected", "wanted"), [(1, "1-2 Walk R, L"), (17, "1-2 Walk R, L"), (12, "12 Walk R, L")])
def test_12_is_1_and_2_unless_12_comes_next(expected: int, wanted: str) -> None:
    [line] = steps_on(Line(1, 1, "12  Walk R, L"), expected)
    assert " ".join(line.text.split()) == wanted


@pytest.mark.parametrize("expected", [0, 1, 3, 9])
def test_counts_behind_sentences_may_begin_again_at_1(expected: int) -> None:
    text = "R kick ball change, 1&2. And again, R kick ball change, 3&4."
    found = [line.text for line in after_commas(Line(1, 1, text), expected)]
    assert found == ["1&2  R kick ball change", "3&4  R kick ball change"]
    assert not after_commas(Line(1, 1, text.replace("1&2", "2&3").replace("3&4", "4&5")), expected)
