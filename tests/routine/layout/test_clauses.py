"""The steps in a sentence of talk. The sentences are invented."""

from __future__ import annotations

import pytest

from caller.routine.layout.clauses import step_run, steps_first

RUNS = [
    (
        "Tag = dig R heel, step R in, dig L heel, step L in (4 counts)",
        "dig R heel, step R in, dig L heel, step L in (4 counts)",
    ),
    ("after 12 counts stomp R, stomp L.", "stomp R, stomp L"),
    ("so just stomp your right, stomp your left and off you go again.", "stomp your right, stomp your left"),
    ("Fill those four beats with sways - right, left, right, left - and go.", "sways - right, left, right, left"),
    (
        "step RF forward, 1/2 turn left (weight on LF), step RF forward. Now you look to 12:00",
        "step RF forward, 1/2 turn left (weight on LF), step RF forward",
    ),
    ("One easy tag: sway R, L, R, L after walls 1 and 3.", "sway R, L, R, L"),
    ("The music stops here on wall 8. You are facing front!", ""),
]


@pytest.mark.parametrize(("text", "steps"), RUNS, ids=[text[:30] for text, _ in RUNS])
def test_the_steps_of_a_sentence(text: str, steps: str) -> None:
    assert step_run(text) == steps


def test_steps_first_are_those_the_text_begins_with() -> None:
    assert steps_first("step L beside R, and restart there") == "step L beside R"
    assert steps_first("the music is quiet here and nobody knows, step L beside R") == ""
