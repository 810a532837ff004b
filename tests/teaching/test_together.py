"""How far a dance is put together as it is learnt, and when it is first danced at full speed."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from caller.routine.notation.read import read_bytes, read_sheet
from caller.routine.parts import Routine
from caller.teaching.dosage import LEVELS
from caller.teaching.floors import Floors
from caller.teaching.minutes import stage_seconds
from caller.teaching.song import song_of
from caller.teaching.stage import LessonPlan, StageKind
from caller.teaching.together import first_part, put_onto, soon_quicker
from caller.teaching.walkthrough import walkthrough_of

SECTION = "Section {}\n1-4 walk fwd R, L, R, touch L\n5-8 walk back L, R, L, touch R\n"


def long_dance(sections: int, head: str = "") -> Routine:
    """So many sections that are all danced alike."""
    text = f"LONG ROW - {8 * sections} counts, 1 wall, beginner, 104 bpm\n{head}\n"
    return read_sheet(text + "\n".join(SECTION.format(n) for n in range(1, sections + 1))).routine


def share_before_full_speed(routine: Routine, level: str | None = None, whole: bool = False) -> Fraction:
    """Of the lesson's time. whole: before a whole wall is danced at full speed."""
    dance = song_of(routine, Fraction(104))
    lesson = walkthrough_of(dance, Fraction(104), level)
    seconds = stage_seconds(lesson, Floors.of(dance))
    until = max(part.counts for part in dance.walls) if whole else 0
    at_speed = (stage.danced and stage.speed == 1 and stage.end - stage.start >= until for stage in lesson.stages)
    full = next(n for n, reached in enumerate(at_speed) if reached)
    return sum(seconds[:full], Fraction(0)) / sum(seconds)


def added(lesson: LessonPlan) -> list[str]:
    return [stage.name for stage in lesson.stages if stage.kind is StageKind.ADD]


@pytest.mark.parametrize("sections", [1, 2, 3, 4, 6, 8, 12])
@pytest.mark.parametrize("level", [name for name, _ in LEVELS])
def test_full_speed_is_reached_in_time_however_long_the_dance_is(sections: int, level: str) -> None:
    assert share_before_full_speed(long_dance(sections), level) < Fraction(7, 10)


@pytest.mark.parametrize("sections", [1, 2, 3, 4, 6])
@pytest.mark.parametrize("level", [name for name, _ in LEVELS])
def test_the_whole_is_danced_at_full_speed_before_three_quarters_of_the_lesson_have_gone(
    sections: int, level: str
) -> None:
    assert share_before_full_speed(long_dance(sections), level, whole=True) < Fraction(3, 4)


def test_a_short_dance_is_put_together_from_the_top_each_time() -> None:
    assert [first_part(sections) for sections in range(1, 13)] == [0, 0, 2, 2, 3, 3, 4, 4, 3, 4, 4, 4]
    assert [put_onto(n, 4) for n in range(4)] == [None, 0, 0, 0]
    assert [soon_quicker(n, 4) for n in range(4)] == [False, True, False, True]


def test_of_two_sections_both_are_danced_with_words_as_often() -> None:
    lesson = walkthrough_of(song_of(long_dance(2), Fraction(104)))
    assert len({stage.times for stage in lesson.stages if stage.kind is StageKind.WORDS}) == 1


def test_a_long_dance_is_put_together_by_some_sections_and_at_their_end_from_the_top() -> None:
    assert [put_onto(n, 8) for n in range(8)] == [None, 0, 0, 0, None, 4, 4, 0]
    lesson = walkthrough_of(song_of(long_dance(8), Fraction(104)))
    assert added(lesson) == [
        "From the top to section 2", "From the top to section 3", "From the top to section 4",
        "From section 5 to section 6", "From section 5 to section 7", "From the top to section 8",
    ]  # fmt: skip


def test_the_first_part_is_danced_up_to_full_speed_before_the_next_section_is_told() -> None:
    lesson = walkthrough_of(song_of(long_dance(4), Fraction(104)))
    *quick, whole = [n for n, stage in enumerate(lesson.stages) if stage.kind is StageKind.QUICK]
    assert lesson.stages[whole].said == ("the whole wall, full speed.",)
    assert [lesson.stages[n].speed for n in quick] == [Fraction(3, 4), 1]
    assert {(lesson.stages[n].start, lesson.stages[n].end) for n in quick} == {(0, 16)}
    assert lesson.stages[quick[-1]].said == ("to the end of section two, full speed.",)
    assert lesson.stages[quick[-1]].to_music
    assert lesson.stages[quick[-1] + 1].sections == (("", 3),)


def test_of_a_phrased_dance_each_part_is_danced_up_to_speed_before_the_next() -> None:
    parts = (
        "Order: A B A\n\nPart A section 1\n1-8 walk R, L, R, L, R, L, R, L\n\nPart B section 1\n1-4 sway R, L, R, L\n"
    )
    lesson = walkthrough_of(song_of(read_sheet(f"TWO PARTS - 1 wall, 104 bpm\n{parts}").routine, Fraction(104)))
    kinds = [(stage.kind, stage.sections) for stage in lesson.stages]
    at_speed = [stage.said for stage in lesson.stages if stage.kind is StageKind.QUICK]
    assert kinds.index((StageKind.QUICK, (("A", 1),))) < kinds.index((StageKind.TELL, (("B", 1),)))
    assert at_speed == [("the whole part A, full speed.",), ("the whole part B, full speed.",)], "each once"


def test_an_ending_that_has_no_steps_is_taught_too() -> None:
    """It ends where it ends: nothing is put in."""
    file = Path(__file__).parents[1] / "corpus" / "strangers" / "zp" / "sound" / "08.txt"
    lesson = walkthrough_of(song_of(read_bytes(file.read_bytes()).routine, Fraction(100)))
    assert any(stage.name.startswith("Ending in wall 7") for stage in lesson.stages)
