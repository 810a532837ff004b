"""Signs and grids of authors' own. Common practice, no published source."""

from __future__ import annotations

import pytest

from caller.routine.facing import Facing
from caller.routine.findings import Severity
from caller.routine.layout.own_signs import usual_signs
from caller.routine.layout.paraphrases import said_plainly
from caller.routine.notation.read import read_sheet


@pytest.mark.parametrize(
    ("told", "usual"),
    [
        ("1~3 : LF step forward", "1-3 : LF step forward"),
        ("4 \uff5e 6 RF back", "4-6 RF back"),
        ("\u00a7 2 \u2013 Rock", "Section 2 \u2013 Rock"),
        ("end w2 (@6) + end w5 (@9)", "end w2 (6:00) + end w5 (9:00)"),
        ("7&8 L coaster            @12", "7&8 L coaster            (12:00)"),
        ("     12 o'clock     (48)", "(12:00)"),
        ("restart @ 32 counts", "restart @ 32 counts"),
        ("~ 112 bpm", "~ 112 bpm"),
    ],
)
def test_the_usual_signs_stand_for_an_authors_own(told: str, usual: str) -> None:
    assert usual_signs(told) == usual


GRID = """\
Copper Kettle
8 counts, 118 bpm

A) Vines                          12:00 -> 9:00

{rows}
"""


@pytest.mark.parametrize("gap", [" | ", "   ", "\t"])
@pytest.mark.parametrize("labels", [("count", "foot", "step"), ("Beat", "Which foot", "What it does")])
def test_a_grid_is_read_downwards(gap: str, labels: tuple[str, str, str]) -> None:
    rows = (
        ("1", "2", "3", "&", "4", "5", "6", "7", "8"),
        ("R", "L", "R", "L", "R", "L", "R", "L", "R"),
        ("side", "behind", "side", "beside", "side", "side", "behind", "fwd turning 1/4 L", "touch"),
    )
    text = "\n".join(gap.join((label, *cells)) for label, cells in zip(labels, rows, strict=True))
    sheet = read_sheet(GRID.format(rows=text))
    assert [f for f in sheet.findings if f.severity is Severity.ERROR or f.code == "unread"] == []
    (passage,) = sheet.routine.passages
    assert [step.movement.foot.value for step in passage.steps if step.movement.foot] == list("RLRLRLRLR")
    assert str(sum((step.movement.turn for step in passage.steps), Facing())) == "9:00"
    assert passage.counts == 8


@pytest.mark.parametrize("verb", ["dance", "do only", "after", "at the end of"])
@pytest.mark.parametrize(
    "sections",
    [
        "sections 1, 2 and 3",
        "S1, S2 and S3",
        "i), ii) and iii)",
        "1) to 3)",
        "the first, second and third eights",
        "sections A, B & C",
        "sections I to III",
        "sections one to three",
        "sets 1-3",
    ],
)
def test_a_place_is_told_by_the_sections_up_to_it(verb: str, sections: str) -> None:
    assert said_plainly(f"{verb} {sections}, then restart").startswith("after s 3")


@pytest.mark.parametrize(
    "told", ["dance sections 2 and 3, then", "after walls 1 and 2", "dance A) and B) as far as 13"]
)
def test_sections_that_do_not_begin_with_the_first_are_no_place(told: str) -> None:
    assert "after s" not in said_plainly(told)
