"""Sections told in whole sentences. Common practice of the floor, no published source."""

from __future__ import annotations

import pytest

from caller.routine.layout.lines import Line
from caller.routine.layout.prose import told_in_prose
from caller.routine.notation.read import read_sheet


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        (
            "Right foot to the side on 1, left foot behind it on 2, and on 3 cross it over, hold for count 4.",
            ["1  Right foot to the side", "2  left foot behind it", "3  cross it over", "4  hold"],
        ),
        (
            "Step right, close left (1-2). Then do that again (3-4), so that you face the front.",
            ["1-2  Step right, close left", "3-4  repeat 1-2 (12:00)"],
        ),
        (
            "A rocking chair for counts 1 to 4: forward on the right, recover, back, recover. Stomp on five and six, "
            "clap on 7, hold on 8.",
            [
                "1-4  A rocking chair : forward on the right, recover, back, recover",
                "5-6  Stomp",
                "7  clap",
                "8  hold",
            ],
        ),
        ("Step right on 1, close left on 3.", []),
        ("Step on one foot, then on the other.", []),
    ],
)
def test_counts_stand_before_their_steps_or_behind_them(text: str, pieces: list[str]) -> None:
    assert [line.text for line in told_in_prose(text, Line(1, 1, text))[0]] == pieces


def test_a_section_in_sentences_over_several_lines() -> None:
    read = read_sheet(
        "Made Up\nTempo: 100\n8 counts, 2 walls\n\n"
        "First eight. Walk forward right, left, right on counts 1, 2, 3 and kick the left on 4. This is the easy\n"
        "bit. On 5 step back on the left, on 6 touch the right. Step forward on the right on 7 and make a half\n"
        "pivot to the left on 8, weight on the left, so that you are looking at 6 o'clock. Off you go again!\n"
    )
    assert [f.code for f in read.findings] == []
    steps = read.routine.sections[0].passage.steps
    assert "".join(step.movement.foot.value for step in steps if step.movement.foot) == "RLRLLRRL"
    assert sum(step.movement.turn.eighths for step in steps) == -4
    assert "Off you go again!" in " ".join(read.routine.sections[0].passage.notes)
