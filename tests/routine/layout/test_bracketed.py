"""Easier ways in brackets within a step line. Common practice of the floor, no published source."""

from __future__ import annotations

import pytest

from caller.dance.check import check
from caller.routine.notation.read import read_sheet
from caller.routine.notation.write import write_sheet

HEAD = "Made Up\n8 counts, 1 wall\nTempo: 100\nWeight on left\n\nSection 1\n"
REST = "\n5-8  Rocking chair R\n"


@pytest.mark.parametrize(
    ("line", "counts", "feet"),
    [
        ("1-4  Full turn right stepping R, L, walk R, L (easier: walk R, L, R, L)", (1, 4), "RLRL"),
        ("1-2  Full turn right stepping R, L (or walk R, L)\n3-4  Walk R, L", (1, 2), "RL"),
        ("1-2  Full turn right stepping R, L (option: no turn)\n3-4  Walk R, L", (1, 2), "RL"),
        ("1-4  Walk R, L, full turn right stepping R, L [non-turners 3-4: walk R, L]", (3, 4), "RL"),
        ("1-4  Walk R, L, full turn right stepping R, L (beginners: walk R, L, R, L instead)", (1, 4), "RLRL"),
    ],
)
def test_an_easier_way_in_brackets_is_an_option(line: str, counts: tuple[int, int], feet: str) -> None:
    read = read_sheet(f"{HEAD}{line}{REST}")
    (option,) = read.routine.sections[0].options
    assert (option.first, option.last) == counts
    assert "".join(s.movement.foot.value for s in option.passage.steps if s.movement.foot) == feet
    assert [f.code for f in check(read) if f.severity.value == "error"] == []
    written = write_sheet(read)
    assert read_sheet(written).routine == read.routine
    assert write_sheet(read_sheet(written)) == written


def test_an_easier_way_that_ends_on_the_other_foot_is_found() -> None:
    read = read_sheet(f"{HEAD}1-4  Walk R, L, R, L (easier: step R, touch L, step L, step R){REST}")
    assert ("option", 7) in [(f.code, f.place.line) for f in check(read)]


@pytest.mark.parametrize(
    "note", ["(keep it small)", "(or whatever you like)", "(easier than it looks)", "(facing 12:00)"]
)
def test_other_brackets_are_notes(note: str) -> None:
    read = read_sheet(f"{HEAD}1-4  Walk R, L, R, L {note}{REST}")
    assert read.routine.sections[0].options == ()
