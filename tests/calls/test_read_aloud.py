"""A heading is read aloud in words. Abbreviations and readings: common practice on the floor."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caller.calls.read_aloud import read_aloud
from caller.cli.sheets import load, shipped_folder

SHEETLIKE = st.text(alphabet="RLFrfwdbktogxX0123456789/&+()[]:.,-'– ½¼⅛ıİßéK", max_size=40)


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("R & L", "right and left"),
        ("1/4", "a quarter"),
        ("fwd", "forward"),
        ("Walk fwd R & L, 1/4 turn L", "Walk forward right and left, quarter turn left"),
        ("Vine R w/ 1/4", "Vine right with a quarter"),
        ("Vine w/o the turn", "Vine without the turn"),
        ("Step ½ L fwd", "Step half left forward"),
        ("the 1/2 R", "the half right"),
        ("Side, 1/8", "Side, an eighth"),
        ("two 1/4 pivots", "two quarter pivots"),
        ("2 x 1/4 pivots", "two quarter pivots"),
        ("2 x 1/4", "two quarters"),
        ("Both 1/2s", "Both halves"),
        ("1 1/4 turn", "one and a quarter turn"),
        ("Rolling 1/1 L", "Rolling a full turn left"),
        ("3/4 unwind, 3/4", "three quarter unwind, three quarters"),
        ("Monterey x2, kick 3x", "Monterey twice, kick three times"),
        ("9-16: VINES", "nine to sixteen, vines"),
        ("2nd 8, 21st and 20th", "second eight, twenty-first and twentieth"),
        ("Facing 7:30, then 12:00", "Facing half past seven, then twelve o'clock"),
        ("HEEL GRINDS, R-L-R", "heel grinds, right left right"),
        ("Side rock R/L", "Side rock right, left"),
        ("Vine (R)", "Vine, right"),
        ("tog. and diag. fwd.", "together and diagonal forward."),
        ("** Rock — recover **", "Rock, recover"),
        ('The "slow" vine', "The slow vine"),
    ],
)
def test_signs_fractions_and_abbreviations_are_words(written: str, said: str) -> None:
    assert read_aloud(written) == said


@pytest.mark.parametrize("written", ["K-step", "L-step", "Cha-cha's", "Chassé and coaster", "No pain? No!"])
def test_the_authors_own_words_stay(written: str) -> None:
    assert read_aloud(written) == written


@pytest.mark.parametrize("written", ["", "  ", "-- / --", "***", "?!", "\U00011c5a"])
def test_what_holds_no_word_is_not_said(written: str) -> None:
    assert read_aloud(written) == ""


@given(SHEETLIKE | st.text(max_size=40))
def test_what_comes_out_is_words_and_stays_as_it_is_when_read_again(written: str) -> None:
    said = read_aloud(written)
    assert all(character.isalpha() or character in " ,.!?'-" for character in said), said
    assert read_aloud(said) == said


def test_the_headings_of_the_shipped_routines_hold_no_figure_and_no_sign() -> None:
    headings = [
        section.name
        for path in shipped_folder("routines").glob("*.txt")
        for section in load(path).read.routine.sections
    ]
    assert len(headings) > 8
    assert not [heading for heading in headings if re.search(r"[^\w ,'-]|\d|\b[RL]\b", read_aloud(heading))]
