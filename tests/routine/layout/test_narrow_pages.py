"""Step lines and eights as narrow pages and handouts have them: common practice. The sheets are our own."""

from __future__ import annotations

import pytest

from caller.routine.layout.lines import physical
from caller.routine.layout.paragraphs import joined
from caller.routine.notation.read import read_sheet


def texts(sheet: str) -> list[str]:
    return [line.text for line in joined([line for line in physical(sheet) if line.text])[0]]


@pytest.mark.parametrize(
    ("broken", "whole"),
    [
        ("3&4 Cross R over L, step L to L side, cross R over\nL", "cross R over L"),
        ("7&8 Cross L behind R, make 1/4 turn R stepping for-\nward on R, step L", "stepping forward on R, step L"),
        ("5-6 Make 1/2 turn R stepping back on L, make 1/2 turn\nR stepping forward on R", "1/2 turn R stepping"),
        ("1 2& Big step R to R side (1), rock L back (2), cross R over L\n(&)", "cross R over L (&)"),
        ("3&4 Step L to L side (3), cross R behind L (&), turn 1/4 L step L\nfwd (4)", "step L fwd (4)"),
    ],
)
def test_a_step_line_goes_on_over_the_page_s_edge(broken: str, whole: str) -> None:
    [line] = texts(broken)
    assert line.endswith(whole) or whole in line


@pytest.mark.parametrize(
    "apart",
    [
        "1-4 Vine right: side R, behind L, side R, touch L\nRIGHT HEEL AND HOOK",
        "1-4 Vine right: side R, behind L, side R, touch L\n5-8 Vine left",
        "1-4 Vine right: side R, behind L, side R, touch L\nRestart here on wall 3",
        "1-2 Rock R, recover L\non R",  # the line is not full
    ],
)
def test_what_is_no_rest_of_a_step_line_stands_for_itself(apart: str) -> None:
    assert texts(apart) == apart.split("\n")


def test_a_step_line_goes_on_over_the_foot_of_a_page() -> None:
    foot = "The Quarry Hall Stroll          {}/2\nQH stepsheet v3 final\n"
    step = "3&4 Step back on R, step L beside R, step forward\n"
    sheet = f"{step}{foot.format(1)}on R\n5-6 Walk L, R\n7-8 Walk L, R\n1-4 Walk L, R, L, R\n{foot.format(2)}"
    lines = texts(sheet)
    assert lines[0] == "3&4 Step back on R, step L beside R, step forward on R"
    assert "on R" not in lines


EIGHTS = """1st 8:   Step right forward, touch left beside right; step left forward, touch right beside left;
         walk back right, left, right, touch left beside right.
2nd 8:   Vine left, touch right beside left; vine right, brush left.
"""


def test_an_eight_told_behind_its_label_has_all_of_its_counts() -> None:
    label, steps, *_ = texts(EIGHTS)
    assert (label, steps[:24]) == ("1st 8", "1-8  Step right forward,")
    read = read_sheet(f"Kettle Song\n16 counts, 1 wall\n\n{EIGHTS}")
    assert [section.passage.counts for section in read.routine.sections] == [8, 8]
    assert len(read.routine.sections[0].passage.steps) == 8


@pytest.mark.parametrize("counted", ["1-4 Vine right\n5-8 Vine left", "Vine right (1-4)\nVine left (5-8)"])
def test_a_name_behind_the_label_stays_one_where_counts_follow(counted: str) -> None:
    assert texts(f"1st 8: Side, behind, side, touch\n{counted}")[0] == "1st 8: Side, behind, side, touch"


def test_capitals_set_apart_head_four_counts_that_run_on() -> None:
    sheet = (
        "COYOTE\n8 counts, 1 wall\n\nVINE RIGHT\n1 Step R to side\n2 Cross L behind R and step\n3 Step R to side\n"
        "4 Touch L beside R\n\nVINE LEFT\n"
        "5 Step L to side\n6 Cross R behind L and step\n7 Step L to side\n8 Touch R beside L\n"
    )
    read = read_sheet(sheet)
    assert [(s.name, s.passage.counts) for s in read.routine.sections] == [("VINE RIGHT", 4), ("VINE LEFT", 4)]
