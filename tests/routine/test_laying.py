"""Steps laid out without their author's words."""

from __future__ import annotations

from dataclasses import replace

import pytest

from caller.routine.meter import Feel
from caller.routine.notation.laying import passage_lines
from caller.routine.vocabulary import shipped
from tests.routine.writing import passage


@pytest.mark.parametrize(
    ("line", "laid"),
    [
        ("1-2 (12:00) Walk R, L", "1-2    (12:00), walk R, L"),
        ("1-2 Walk R, L (12:00)", "1-2    Walk R, L (12:00)"),
        ("1-2 Step R forward (12:00), pivot 1/2 left", "1-2    Step R forward (12:00), pivot 1/2 left"),
    ],
)
def test_a_facing_stays_before_or_after_the_step_that_it_was_told_with(line: str, laid: str) -> None:
    [written] = passage_lines(replace(passage(line), words=()), Feel.STRAIGHT, shipped())
    assert written.text == laid
