"""The easier way: options danced, called and shown."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.cues import cues_for
from caller.calls.easier import Way, eased, ways
from caller.calls.glance import glance
from caller.calls.plan import CallKind, Manner
from caller.calls.score import retimed
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_sheet
from caller.routine.parts import Routine
from caller.routine.vocabulary import shipped
from tests.calls.takes import take_of
from tests.fakes.lexicon import MeasuredVoice

SHEET = """\
Title: Tin Kettle
Counts: 16
Walls: 2
Starts: right

Section 1: Full turn and shuffle
1-2    Step R forward turning 1/2 left, step L back turning 1/2 left     "full turn"
3&4    Right shuffle forward
5-6    Rock L forward, recover R
7&8    Left coaster step
Option 1-2: walk it
1-2    Walk R, L                                             "walk, walk"

Section 2: Vine, pivot
1-4    Vine right, touch L beside R
5-8    Vine left, touch R beside L
Option 3-4: stand
3-4    Step R to side, hold
Option 4: sit it out
4      Touch L beside R
"""


@pytest.fixture
def routine() -> Routine:
    read = read_sheet(SHEET, shipped())
    return read.routine


def called(routine: Routine) -> list[tuple[str, Fraction]]:
    dance = unroll(routine, 1)
    found = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts))
    return [(cue.wordings[0], cue.at) for cue in found if cue.kind is CallKind.STEP]


def test_the_options_own_call_is_made_when_the_easier_way_is_on(routine: Routine) -> None:
    assert called(routine)[0] == ("right foot, full turn", 0)
    easier = called(eased(routine))
    assert easier[:2] == [("right foot, walk, walk", 0), ("right shuffle forward", 2)]


def test_what_an_option_leaves_of_a_figure_is_called_as_what_it_is_then(routine: Routine) -> None:
    easier = called(eased(routine, [Way("", 2, 0)]))
    assert easier[0] == ("right foot, full turn", 0)
    assert [(words, at) for words, at in easier if 8 <= at < 12] == [
        ("vine right, hold", 8),
    ]


def test_of_two_options_for_one_count_the_first_is_danced(routine: Routine) -> None:
    assert called(eased(routine)) == called(eased(routine, [Way("", 1, 0), Way("", 2, 0)]))


def test_an_option_told_before_one_that_comes_sooner_keeps_nobody_from_it() -> None:
    later_first = SHEET.replace(
        "Option 3-4: stand\n", "Option 7-8: stand\n7-8    Step L to side, hold\nOption 3-4: stand\n"
    )
    easier = called(eased(read_sheet(later_first, shipped()).routine))
    assert [(words, at) for words, at in easier if at >= 8] == [("vine right, hold", 8), ("vine left, hold", 12)]


def test_every_way_is_listed_in_the_order_of_the_sheet(routine: Routine) -> None:
    assert ways(routine) == (Way("", 1, 0), Way("", 2, 0), Way("", 2, 1))


def test_without_any_way_on_the_routine_is_as_it_was(routine: Routine) -> None:
    assert eased(routine, []) == routine


def test_the_counts_stay_and_every_step_is_in_one_phrase(routine: Routine) -> None:
    easier = eased(routine)
    assert easier.counts == routine.counts
    for section in easier.sections:
        covered = [n for phrase in section.passage.phrases for n in range(phrase.first, phrase.last + 1)]
        assert covered == list(range(len(section.passage.steps)))
        places = [step.at for step in section.passage.steps]
        assert places == sorted(places)


def test_the_glance_shows_the_easier_way(routine: Routine) -> None:
    hard, easy = take_of(unroll(routine, 2)), take_of(unroll(eased(routine), 2))
    frame = hard.timeline.frame_of(Fraction(0))
    assert (glance(hard, frame).now, glance(easy, frame).now) == ("full turn", "walk, walk")
    assert glance(hard, frame).next_turn
    assert not glance(easy, frame).next_turn


def test_a_take_can_change_over_to_the_easier_way(routine: Routine) -> None:
    take = take_of(unroll(routine, 2))
    voice, frame = MeasuredVoice(), take.timeline.frame_of(Fraction(10))
    after = retimed(take, frame, Fraction(110), voice, voice.clip, dance=unroll(eased(routine), 2))
    said = [call.utterance.words for call in after.plan.calls]
    assert "walk, walk" in said
    assert said[0] == "right foot, full turn"
    assert [call for call in after.plan.calls if call.starts < frame] == [
        call for call in take.plan.calls if call.starts < frame
    ]
