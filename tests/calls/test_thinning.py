"""Later walls: less is called from time to time, and what went wrong in full again."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from caller.calls.cues import cues_for
from caller.calls.plan import CallKind, Cue, Fading, Manner
from caller.dance.part_way import part_way
from caller.dance.unroll import unroll
from caller.dance.walls import Dance, Wall
from caller.routine.notation.read import read_bytes
from tests.calls.takes import take_of
from tests.fakes.dances import PIVOTS, SWAYS, WALKS, dance_of

SHEET = """Title: Lamp Shelf
Tempo: 100
Starts: right
Section 1: Out and round
1&2 Right shuffle forward
3-4 Rock L forward, recover R
5&6 Left coaster step
7-8 Step R forward, pivot 1/4 left
Section 2: Side and behind
1-2 Step R to side, touch L beside R
3&4 Cross L behind R, step R to side, cross L over R
5-8 Right rocking chair
"""


def steps(dance: Dance, wall: int, fading: Fading = Fading.USUAL) -> list[Cue]:
    found = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), 0, fading)
    return [cue for cue in found if cue.steps and cue.wall == wall]


def called(dance: Dance, wall: int, fading: Fading = Fading.USUAL) -> list[str]:
    return [cue.wordings[0] for cue in steps(dance, wall, fading)]


def lamp_shelf(walls: int = 5) -> Dance:
    return unroll(read_bytes(SHEET.encode()).routine, walls)


def test_the_first_wall_has_every_figure_in_full() -> None:
    assert called(lamp_shelf(), 1) == [
        "right shuffle forward",
        "rock forward, recover",
        "left coaster step",
        "right step, quarter left",
        "right side, touch",
        "left behind, side, cross",
        "right rocking chair",
    ] or called(lamp_shelf(), 1)[3:4] == ["step, quarter left"]


def test_the_second_wall_goes_without_feet_recovers_and_the_sides_of_turns() -> None:
    second = steps(lamp_shelf(), 2)
    assert [cue.wordings[0] for cue in second][:3] == ["shuffle", "rock forward", "coaster"]
    unsided = next(cue for cue in second if "step, quarter" in cue.wordings)
    assert unsided.lost[unsided.wordings.index("step, quarter")] + 7


def test_the_third_has_the_first_of_each_eight_every_turn_and_what_is_syncopated() -> None:
    assert [cue.at - 32 for cue in steps(lamp_shelf(), 3)] == [0, 4, 6, 8, 10]


def test_from_the_fourth_on_turns_alone_are_called() -> None:
    for wall in (4, 5):
        assert [cue.at - 16 * (wall - 1) for cue in steps(lamp_shelf(), wall)] == [6]


def test_all_calls_every_wall_like_the_first_and_less_thins_sooner() -> None:
    dance = lamp_shelf()
    assert called(dance, 1, Fading.ALL) == called(dance, 4, Fading.ALL)
    assert [cue.at for cue in steps(dance, 2, Fading.LESS)] == [cue.at - 16 for cue in steps(dance, 3)]


def test_a_tag_is_called_in_full_and_the_eight_after_it_as_the_second_time() -> None:
    dance = dance_of(4, (WALKS, PIVOTS), tags={3: SWAYS})
    assert called(dance, 3)[-1].startswith("tag, ")
    assert [cue.at - 52 for cue in steps(dance, 4)] == [0, 2, 4, 6, 8]  # after the eight, the turn alone


def test_what_is_danced_again_right_away_is_called_in_full_again() -> None:
    dance = lamp_shelf(4)
    fourth = dance.walls[3]
    again = replace(dance, walls=(*dance.walls, _later(fourth, fourth.counts)))
    assert len([cue for cue in steps(again, 4) if cue.at < 64]) == 1
    assert [cue.wordings[0] for cue in steps(again, 4) if cue.at >= 64][1:] == called(dance, 1)[1:]


def _later(wall: Wall, counts: int) -> Wall:
    """The same wall so many counts later."""
    return replace(
        wall,
        at=wall.at + counts,
        movements=tuple(replace(one, at=one.at + counts) for one in wall.movements),
        phrases=tuple(replace(one, at=one.at + counts) for one in wall.phrases),
        stretches=tuple(replace(one, at=one.at + counts) for one in wall.stretches),
    )


def test_a_take_from_the_middle_thins_as_the_whole_does() -> None:
    dance = lamp_shelf()
    late = cues_for(dance, Manner.AHEAD, Fraction(48), Fraction(64), 0)
    assert [cue.at for cue in late if cue.kind is CallKind.STEP] == [
        48,
        54,
    ]  # the first step of a take is always called


def test_less_is_said_each_time() -> None:
    take = take_of(lamp_shelf(), 90, fading=Fading.USUAL)
    said = [
        sum(c.utterance.frames for c in take.plan.calls if c.cue.wall == wall and c.cue.steps) for wall in (1, 2, 3, 4)
    ]
    assert said[0] > said[1] > said[2] > said[3] > 0
    assert take.fading is Fading.USUAL


def test_what_is_changed_within_a_figure_is_called_however_often_the_section_came_round() -> None:
    """The touch on count 8 of a figure that begins on 7: it is not the turns alone that are called there."""
    text = SHEET.replace("5-8 Right rocking chair", "5-6 Rock R back, recover L\n7-8 Step R to side, touch L")
    text = text.replace("Starts: right", "Starts: right\nWalls: 4")
    text += "Section 3: On\n1-8 Walk L, R, L, R, L, R, L, touch R\n"
    text += "\nRestart on wall 5 after 16 counts, change count 8 of section 2 to: step L beside R\n"
    dance = unroll(read_bytes(text.encode()).routine, 6)
    assert [event.kind for event in dance.walls[4].events] == ["change", "restart"]
    assert "right side, together" in called(dance, 5)
    assert "right side, touch" not in called(dance, 4)[4:]


def test_of_a_half_taught_dance_every_figure_is_called_however_often_it_comes_round() -> None:
    routine = part_way(read_bytes(SHEET.encode()).routine, 1)
    dance = unroll(routine, 12)
    second, tenth = ([cue.at - wall.at for cue in steps(dance, wall.number)] for wall in dance.walls[1:10:8])
    assert second == tenth
    assert len(steps(dance, 10, Fading.LESS)) < len(tenth)


def test_for_beginners_each_eight_keeps_its_first_figure_on_every_wall() -> None:
    """Of the others the turns alone are left from the fourth on."""
    dance = lamp_shelf(6)
    told = replace(dance.routine, header=replace(dance.routine.header, level="Absolute beginner"))
    beginners = replace(dance, routine=told)
    for wall in (4, 6):
        assert [cue.at - 16 * (wall - 1) for cue in steps(beginners, wall)] == [0, 4, 6, 8, 10]
        assert [cue.at - 16 * (wall - 1) for cue in steps(dance, wall)] == [6]
        assert [cue.at - 16 * (wall - 1) for cue in steps(beginners, wall, Fading.LESS)] == [6]
