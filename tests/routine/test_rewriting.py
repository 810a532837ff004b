"""Rows that are only searched for where a piece of theirs stands find what all of them find."""

from __future__ import annotations

import re

import pytest

from caller.routine.layout.paraphrases import _SAID
from caller.routine.notation.dialect import _PLAIN
from caller.routine.rewriting import _WORTH, Rewriting, needed
from tests.corpus.sheets import sheet_text, sound_sheets


@pytest.mark.parametrize(
    ("pattern", "pieces"),
    [
        (r"\bheel\s+grind", {"grind"}),
        (r"\b(?:behind|across)\s+\d", {"behind", "across"}),
        (r"\b(?:behind|\d)\s+\d", None),
        (r"(?:forward)?\s*back", {"back"}),
        (r"(?:step\s+){2}", {"step"}),
        (r"[RL]\d", None),
        (r"x(?=cross)", {"cross"}),
        (r"(?<!step )turn", {"turn"}),
    ],
)
def test_the_pieces_that_a_pattern_needs(pattern: str, pieces: set[str] | None) -> None:
    assert needed(pattern) == (None if pieces is None else frozenset(pieces))


def test_rows_are_tried_on_what_the_ones_before_have_made() -> None:
    rows = [(r"\bgrapevine\b", "vine"), (r"\bvine\s+(right|left)\b", r"\1 vine")]
    plain = Rewriting(rows)
    for _ in range(_WORTH + 1):
        assert plain("Grapevine left, touch") == "left vine, touch"


@pytest.mark.parametrize("rewriting", [_PLAIN, _SAID])
def test_no_row_is_passed_over(rewriting: Rewriting) -> None:
    """Every row searched for, against only those with a piece in the line, over the first half of the corpus."""
    for half, name in list(sound_sheets())[::4]:
        for line in sheet_text(half, name).splitlines():
            every = line
            for _, pattern, plain in rewriting._rows:
                every = re.sub(pattern, plain, every)
            assert rewriting(line) == every
    assert rewriting._asked > _WORTH
