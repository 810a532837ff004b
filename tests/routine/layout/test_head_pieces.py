"""A head that says all in one line, whatever parts it and whatever comes first."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.routine.notation.read import read_sheet
from caller.routine.parts import Header

STEPS = "\n".join(f"{8 * n + 1}-{8 * n + 8}  Vine R, touch L, vine L, touch R" for n in range(4))

FORMS = {
    "counts": ("32 counts", "32 count", "Counts: 32", "32ct", "32c", "No. of counts: 32", "thirty-two counts"),
    "walls": ("4 walls", "4 wall", "Walls: 4", "4w", "four-wall dance", "No. of walls: 4"),
    "level": ("Improver", "Level: Improver", "Improver level"),
    "tempo": ("118 bpm", "BPM: 118", "Tempo: 118", "(118 bpm)", "about 118 beats a minute"),
    "intro": ("Intro: 16 counts", "Intro 16", "16 count intro", "Start after 16 counts", "Wait 16"),
    "devised_by": ("Choreo: Dilys Marchbank", "by Dilys Marchbank", "Choreographed by Dilys Marchbank"),
    "music": ('Music: "Paper Moons"', "Song: Paper Moons - Marsh Band"),
}
WANTED = {"counts": 32, "walls": 4, "tempo": Fraction(118), "intro": 16, "devised_by": "Dilys Marchbank"}
MARKS = (" / ", " | ", "; ", "   ", " \u2022 ", " * ", " // ", " ~ ")


def head(row: str) -> Header:
    return read_sheet(f"Copper Kettle\n{row}\n\n{STEPS}\n").routine.header


@settings(max_examples=60)
@given(st.data(), st.permutations(sorted(FORMS)), st.sampled_from(MARKS))
def test_a_row_of_facts_is_read_whole(data: st.DataObject, order: list[str], mark: str) -> None:
    row = mark.join(data.draw(st.sampled_from(FORMS[field])) for field in order)
    told = head(row)
    assert told.title == "Copper Kettle"
    assert {field: getattr(told, field) for field in WANTED} == WANTED, row
    assert told.level.startswith("Improver"), row
    assert "Paper Moons" in told.music, row


@pytest.mark.parametrize(
    ("row", "level"),
    [("32c / 4w / Beginner/Improver", "Beginner/Improver"), ("Level  Improver  Walls  4", "Improver")],
)
def test_what_is_one_thing_is_not_parted(row: str, level: str) -> None:
    assert head(row).level == level


def test_a_key_keeps_its_value_though_that_looks_like_a_fact_of_another() -> None:
    told = head("Intro:        16 counts - start on the vocals       Wall/count: 4/32")
    assert (told.intro, told.counts, told.walls) == (16, 32, 4)
