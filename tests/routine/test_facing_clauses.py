"""Where a step leaves everybody, told in a clause or sentence of its own. Common practice, no published source.

Whoever tells it, whatever it is called and whatever parts it from the step: each stands with each.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.dance.check import check
from caller.routine.findings import Severity
from caller.routine.notation.facing_clauses import facings_told
from caller.routine.notation.read import read_sheet

# fmt: off
WHO = (
    "which puts you {}", "which leaves you {}", "that brings you {}", "you are now {}", "you're now {}",
    "now you are {}", "you should be {}", "so you are {}", "and you're {}", "ending {}", "to end {}", "finishing {}",
    "you end {}", "you'll be {}", "we are now {}", "that's {}", "landing {}", "you finish up {}", "so that you are {}",
    "putting you {}", "leaving you {}", "you have come round {}", "you are {} again", "you're {} now",
)
HOW = ("facing {}", "on {}", "looking at {}", "at {}", "to face {}", "back at {}", "round to {}", "back on {}")
WALLS = {
    "6:00": ("6:00", "6 o'clock", "the back wall", "the back", "the back of the hall", "the 6 o'clock wall"),
    "9:00": ("9:00", "9 o'clock", "the 9:00 wall", "the 9 o'clock wall"),
}
MARKS = (", {}", " ({})", " - {}", "; {}", ", {}.", " [{}]")
TURNS = {"6:00": "pivot 1/2 turn left", "9:00": "pivot 1/4 turn left"}
# fmt: on
SHEET = """\
Copper Kettle
8 counts 118 bpm

1-2 Walk right, left
3-4 Rock forward on right, recover on left
5-6 Step forward on your right and {told}
7-8 Stomp right, stomp left
"""


@settings(max_examples=80)
@given(st.sampled_from(sorted(WALLS)), st.data(), st.sampled_from(WHO), st.sampled_from(HOW), st.sampled_from(MARKS))
def test_the_facing_is_checked_however_it_is_told(
    hour: str, data: st.DataObject, who: str, how: str, mark: str
) -> None:
    told = mark.format(who.format(how.format(data.draw(st.sampled_from(WALLS[hour])))))
    sheet = read_sheet(SHEET.format(told=TURNS[hour] + told))
    assert [f for f in check(sheet) if f.severity is Severity.ERROR or f.code in ("unread", "guess")] == [], told
    (passage,) = sheet.routine.passages
    assert len(passage.steps) == 8
    wrong = next(other for other in TURNS if other != hour)
    found = check(read_sheet(SHEET.format(told=TURNS[wrong] + told)))
    assert [f.place.line for f in found if f.code == "facing"] == [6], told


@pytest.mark.parametrize(
    ("told", "read"),
    [
        ("pivot 1/4 left (now you are on the side wall), step R", "pivot 1/4 left, step R"),
        ("pivot 1/4 L. (You are now at the back wall.) Step L", "pivot 1/4 L. (6:00) Step L"),
        ("rock R to the side, back to L", "rock R to the side, back to L"),
        ("shuffle turning 1/2 right (that's one full turn, facing front)", None),
        ("step R to the front, step L to the back", None),
    ],
)
def test_only_a_clause_of_its_own_is_taken(told: str, read: str | None) -> None:
    assert facings_told(told) == (read or told)
