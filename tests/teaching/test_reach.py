"""How far a lesson comes in less time than it takes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.teaching.reach import Reach, reach_of
from caller.teaching.stage import Stage, StageKind

HALF, QUICKER, FULL = Fraction(1, 2), Fraction(3, 4), Fraction(1)


def danced(kind: StageKind, speed: Fraction, *sections: int, part: str = "") -> Stage:
    return Stage("", kind, Fraction(0), Fraction(8), speed, sections=tuple((part, number) for number in sections))


TOLD = Stage("", StageKind.TELL, sections=(("", 1),))
LESSON = (
    TOLD,
    danced(StageKind.DEMONSTRATE, HALF, 1),
    danced(StageKind.WORDS, HALF, 1),
    danced(StageKind.WORDS, HALF, 2),
    danced(StageKind.ADD, QUICKER, 1, 2),
    danced(StageKind.WORDS, HALF, 3),
    danced(StageKind.LADDER, FULL, 1, 2, 3),
)
SECONDS = (Fraction(60),) * len(LESSON)


@pytest.mark.parametrize(
    ("minutes", "words", "speed"),
    [
        (3, "to section 1 of 3", HALF),
        (4, "to section 2 of 3", HALF),
        (5, "to section 2 of 3", QUICKER),  # all of them as fast as that
        (6, "all its sections, not yet up to tempo", HALF),
    ],
)
def test_it_comes_to_the_last_section_that_was_danced(minutes: int, words: str, speed: Fraction) -> None:
    reach = reach_of(LESSON, SECONDS, Fraction(60 * minutes))
    assert reach is not None
    assert (reach.words, reach.speed) == (words, speed)


def test_what_is_told_or_only_watched_is_no_section_danced() -> None:
    assert reach_of(LESSON, SECONDS, Fraction(179)) is None


def test_what_was_danced_another_time_takes_none() -> None:
    went_on = (Fraction(0),) * 4 + SECONDS[4:]
    assert reach_of(LESSON, went_on, Fraction(60)) == Reach("", 2, 3, QUICKER, ends=5)


def test_of_a_phrased_dance_its_parts_are_told_apart() -> None:
    lesson = (danced(StageKind.WORDS, HALF, 1, part="A"), *(danced(StageKind.WORDS, HALF, n, part="B") for n in (1, 2)))
    minute = (Fraction(60),) * 3
    found = reach_of(lesson, minute, Fraction(120))
    assert found is not None
    assert found.words == "to part B section 1 of 2"
    assert reach_of(lesson, minute, Fraction(120), "A") == Reach("A", 1, 1, HALF, ends=2)


@pytest.mark.parametrize(("minutes", "ends"), [(3, 3), (4, 5), (5, 5), (6, 6)])
def test_it_ends_once_all_that_belongs_to_that_section_has_been_danced(minutes: int, ends: int) -> None:
    """What puts it onto those before it comes with it, though its minutes are over; the next section does not."""
    reach = reach_of(LESSON, SECONDS, Fraction(60 * minutes))
    assert reach is not None
    assert reach.ends == ends
