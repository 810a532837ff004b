"""How hard a dance is, as its sheet tells."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from caller.dance.walls import Dance
from caller.teaching.ease import how_hard, level_rank
from tests.takehome.packets import shipped_dance


def test_a_level_of_two_names_comes_between_them_and_other_words_for_a_level_are_that_level() -> None:
    told = [
        *("absolute beginner", "easy beginner", "Beginner", "high beginner", "beginner / improver", "improver"),
        *("Improver+", "improver to intermediate", "intermediate", "intermediate/advanced", "advanced"),
    ]
    ranks = list(map(level_rank, told))
    assert ranks == sorted(set(ranks))
    assert level_rank("newcomer") == level_rank("novice") == level_rank("beginner")
    assert level_rank("beginner+improver") == level_rank("beginner/improver")
    assert level_rank("") == level_rank("the usual crowd") == level_rank("improver")


@pytest.mark.parametrize("stem", ["chalk-line", "lantern-row"])
def test_of_one_level_what_turns_less_is_easier_then_what_is_slower_then_what_is_shorter(stem: str) -> None:
    dance = shipped_dance(stem)
    level, within, turned, tempo, counts = how_hard(dance, Fraction(100))
    assert (turned == 0) == (stem == "chalk-line")
    assert how_hard(dance, Fraction(90)) < (level, within, turned, tempo, counts) < how_hard(dance, Fraction(110))
    assert counts == dance.walls[0].counts
    assert how_hard(_called(dance, "beginner/improver"), tempo) > how_hard(_called(dance, "beginner"), tempo)


def _called(dance: Dance, level: str) -> Dance:
    header = replace(dance.routine.header, level=level)
    return replace(dance, routine=replace(dance.routine, header=header))
