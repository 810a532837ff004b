"""Before the first step: what is counted in, and how long a lead that takes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.opening import lead_for, numbers_said
from caller.calls.plan import CallKind, CountIn, Cue, Utterance
from caller.routine.parts import Header

RATE = 48_000


class Late:
    """A voice of which one number has its beat half a second after it begins, and all others at once."""

    def __init__(self, number: str) -> None:
        self.number = number

    def utterance(self, words: str, speed: float) -> Utterance:
        return Utterance(words, speed, RATE, RATE // 2 if words == self.number else 0)


@pytest.mark.parametrize(("number", "lead"), [("five", 1), ("six", 0), ("eight", 0)])
def test_a_number_on_the_first_click_gets_the_time_until_its_beat(number: str, lead: int) -> None:
    header = Header()
    assert numbers_said(header, CountIn.NUMBERS, 4)[0] == (5, 4)
    found = lead_for(None, header, CountIn.NUMBERS, Late(number), (Fraction(120), RATE), 4, 0.0)
    assert found == lead


def test_where_more_is_clicked_than_said_no_number_needs_a_lead() -> None:
    assert lead_for(None, Header(), CountIn.NUMBERS, Late("five"), (Fraction(120), RATE), 8, 0.0) == 0


def test_a_call_before_the_numbers_gets_the_time_that_it_takes_and_the_margin() -> None:
    """A second of speech and half a second are three counts at 120, of which two are counted in."""
    cue = Cue(CallKind.STEP, 1, Fraction(0), "1", ("walk right, left",))
    assert lead_for(cue, Header(), CountIn.CALL, Late(""), (Fraction(120), RATE), 2, 0.5) == 1
