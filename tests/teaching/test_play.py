"""A programme as sound: sentences without a beat, goes as takes, all in order on exact frames."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from caller.calls.plan import CallKind, Manner
from caller.calls.take import Take
from caller.sound.mix import render
from caller.sound.reel import CROSSING_FRAMES
from caller.sound.score import RATE
from caller.teaching.drill import drill_of, practice_of, section_span
from caller.teaching.floors import Floors
from caller.teaching.play import (
    BREATH_SECONDS,
    Narration,
    in_turn,
    opening_of,
    phrases_of,
    pieces,
    take_of_stage,
    tempos_to_music,
    told,
)
from caller.teaching.running import StageOutcome, begin, next_stage
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.teaching.walkthrough import walkthrough_of
from tests.fakes.lexicon import MeasuredVoice, Mute
from tests.takehome.packets import STEMS, shipped_dance

LANTERN = shipped_dance("lantern-row")


def test_sentences_follow_one_another_with_a_breath_between() -> None:
    voice = MeasuredVoice()
    piece = told(("one thing.", "and another."), voice, voice.clip, pause=Fraction(2))
    assert [line.words for line in piece.lines] == ["one thing.", "and another."]
    for line, following in pairwise(piece.lines):
        assert following.starts - line.ends == BREATH_SECONDS * RATE
    assert piece.end_frame == piece.lines[-1].ends + (BREATH_SECONDS + 2) * RATE
    assert [p.frame for p in piece.score.placements] == [line.starts for line in piece.lines]
    assert piece.line_at(piece.lines[1].starts) == 1
    assert piece.line_at(piece.lines[0].ends) == piece.line_at(0) == 0


def test_what_a_voice_can_not_say_stands_as_long_as_it_takes_to_read() -> None:
    voice = MeasuredVoice(mute=("one thing.",))
    piece = told(("one thing.", "another."), voice, voice.clip)
    assert [line.words for line in piece.lines] == ["one thing.", "another."]
    assert [p.frame for p in piece.score.placements] == [piece.lines[1].starts]
    unsaid = told(("one thing.", "right, " * 20), Mute(), lambda words, speed: None)
    assert [line.ends - line.starts for line in unsaid.lines] == [RATE * 3 // 2, RATE * 140 // 15]


@pytest.mark.parametrize("first_stage", [0, 1, 5])
def test_what_a_stage_begins_with_comes_first_and_is_enough_for_it(first_stage: int) -> None:
    programme, floors = walkthrough_of(LANTERN), Floors.of(LANTERN)
    in_turn, opening = phrases_of(programme, floors, first_stage), opening_of(programme, floors, first_stage)
    assert opening
    assert in_turn[: len(opening)] == opening
    assert set(in_turn) == set(phrases_of(programme, floors))
    voice = MeasuredVoice()
    told(programme.stages[first_stage].said, voice, voice.clip)
    assert set(voice.said) <= set(opening)


def test_a_stage_that_is_not_told_begins_with_its_calls() -> None:
    programme, floors = walkthrough_of(LANTERN), Floors.of(LANTERN)
    stage = next(stage for stage in programme.stages if stage.danced)
    silent = replace(programme, stages=(replace(stage, said=()),))
    opening = opening_of(silent, floors, 0)
    take = take_of_stage(begin(silent), floors, voice := MeasuredVoice(), voice.clip)
    assert {(call.utterance.words, call.utterance.speed) for call in take.plan.calls} <= set(opening)


@pytest.mark.parametrize("stem", STEMS)
def test_the_whole_walkthrough_can_be_played_from_what_is_made_ready_beforehand(stem: str) -> None:
    dance = shipped_dance(stem)
    programme, floors = walkthrough_of(dance), Floors.of(dance)
    voice = MeasuredVoice()
    parts = list(pieces(programme, floors, voice, voice.clip))
    assert set(voice.said) <= set(phrases_of(programme, floors))
    gone = [stage.name for stage, piece in parts if isinstance(piece, Take)]
    wanted = [stage.name for stage in programme.stages if stage.danced for _ in range(stage.times)]
    assert gone == wanted
    tellings = [(stage, piece.lines[0].words) for stage, piece in parts if isinstance(piece, Narration)]
    once_more = ("back to ", "again, right foot", "again, left foot", "now facing ")
    assert [stage.name for stage, words in tellings if not words.startswith(once_more)] == [
        stage.name for stage in programme.stages
    ]
    assert len(tellings) - len(programme.stages) == sum(s.times - 1 for s in programme.stages if s.danced)


def test_a_go_is_at_its_stages_tempo_and_counted_in() -> None:
    voice = MeasuredVoice()
    programme = walkthrough_of(LANTERN)
    words = next(n for n, stage in enumerate(programme.stages) if stage.kind is StageKind.WORDS)
    running = next_stage(begin(programme, words), StageOutcome.DONE)
    take = take_of_stage(running, Floors.of(LANTERN), voice, voice.clip)
    assert take.timeline.tempo_at(0) == Fraction(6048, 100)
    assert (take.start, take.end, take.count_in) == (0, 8, 8)
    called = [call for call in take.plan.calls if call.cue.kind is CallKind.STEP]
    # On the count: each word's beat falls on the frame of its movement, to a frame.
    assert all(abs(call.starts + call.utterance.beat - take.timeline.frame_of(call.cue.at)) <= 1 for call in called)
    assert len(called) >= 6


def test_the_easier_way_is_danced_where_a_stage_says_so() -> None:
    voice = MeasuredVoice()
    programme, floors = walkthrough_of(LANTERN), Floors.of(LANTERN)
    index = next(n for n, stage in enumerate(programme.stages) if stage.kind is StageKind.OPTION)
    running = next_stage(begin(programme, index), StageOutcome.DONE)
    easy = take_of_stage(running, floors, voice, voice.clip)
    assert floors.easier.counts == LANTERN.counts
    actions = [d.step.movement.action for d in easy.dance.walls[0].movements if 24 <= d.at < 26]
    assert actions == ["step", "step"]  # in the place of a step and a pivot


def test_an_event_is_drilled_on_its_own_wall_with_its_warning() -> None:
    voice = MeasuredVoice()
    programme = walkthrough_of(LANTERN)
    index = next(
        n for n, s in enumerate(programme.stages) if s.kind is StageKind.EVENT and s.manners[0] is Manner.AHEAD
    )
    take = take_of_stage(next_stage(begin(programme, index), StageOutcome.DONE), Floors.of(LANTERN), voice, voice.clip)
    assert LANTERN.wall_at(take.start).number == 3
    assert CallKind.TAG in {call.cue.kind for call in take.plan.calls}


def test_the_calls_of_a_practice_fade_to_nothing() -> None:
    voice = MeasuredVoice()
    programme = replace(practice_of(LANTERN), stages=practice_of(LANTERN).stages[:1])
    parts = list(pieces(programme, Floors.of(LANTERN), voice, voice.clip))
    said = [len(piece.plan.calls) for _, piece in parts if isinstance(piece, Take)]
    assert said[0] > said[1] > said[2] == 0


def test_in_turn_every_piece_sounds_as_it_does_alone() -> None:
    voice = MeasuredVoice()
    programme = drill_of(LANTERN, section_span(LANTERN, 1), "Section 1", times=2, creep=Fraction(1, 10))
    parts = list(pieces(programme, Floors.of(LANTERN), voice, voice.clip))
    tape, begins = in_turn(parts)
    assert begins == (("Section 1", 0),)
    assert tape.frames >= sum(piece.end_frame for _, piece in parts)
    at = 0
    for _, piece in parts:
        own = piece.end_frame - CROSSING_FRAMES
        np.testing.assert_allclose(tape.block(at, at + own), render(piece.score, 0, own), atol=1e-6)
        at += piece.end_frame


def test_what_is_danced_until_somebody_moves_on_is_danced_a_few_times_when_nobody_can() -> None:
    voice = MeasuredVoice()
    programme = drill_of(LANTERN, section_span(LANTERN, 1), "Section 1", times=0)
    parts = list(pieces(programme, Floors.of(LANTERN), voice, voice.clip, most_goes=3))
    assert sum(isinstance(piece, Take) for _, piece in parts) == 3


def test_the_tempos_of_what_is_danced_to_music_are_foreseen_from_a_stage_on_each_once() -> None:
    told = Stage("told", StageKind.TELL, said=("walk forward.",))
    words = Stage("with words", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2))
    ladder = replace(words, kind=StageKind.LADDER, speed=Fraction(7, 10), creep=Fraction(1, 5))
    whole = replace(words, kind=StageKind.WHOLE, speed=Fraction(1))
    plan = LessonPlan("Test Piece", "walkthrough", Fraction(100), 4, (told, words, ladder, whole, whole))
    assert tempos_to_music(plan) == (70, 90, 100)
    assert tempos_to_music(plan, 3) == (100,)
    assert [stage.led for stage in plan.stages] == [False, False, False, True, True]
