"""A run as long as a song: its walls, and how the calls fade in it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from caller.calls.plan import CallKind
from caller.calls.take import Take
from caller.dance.unroll import unroll
from caller.routine.notation.read import read_sheet
from caller.teaching.floors import Floors
from caller.teaching.play import take_of_stage
from caller.teaching.running import begin
from caller.teaching.song import filling, song_of
from caller.teaching.walkthrough import walkthrough_of
from tests.fakes.lexicon import MeasuredVoice
from tests.takehome.packets import STEMS, shipped_dance

# A song of a class evening: 3 to 3.5 minutes, as teachers say.
SHORTEST, LONGEST = 180, 210


@pytest.mark.parametrize("stem", STEMS)
@pytest.mark.parametrize("share", [Fraction(8, 10), Fraction(9, 10), Fraction(1), Fraction(11, 10)])
def test_the_run_at_the_end_of_a_lesson_is_a_song_at_any_tempo_danced_in_one_go(stem: str, share: Fraction) -> None:
    routine = shipped_dance(stem).routine
    tempo = (routine.header.tempo or Fraction(100)) * share
    dance = song_of(routine, tempo)
    run = walkthrough_of(dance, tempo).stages[-1]
    seconds, wall = (60 * counts / tempo for counts in (run.end - run.start, dance.walls[-1].counts))
    # Of long walls at a slow tempo none may come between.
    assert SHORTEST <= seconds <= LONGEST or seconds - wall < SHORTEST <= LONGEST < seconds + wall
    assert run.times == 1


def test_the_song_has_each_event_though_it_gets_longer_by_that() -> None:
    """A tag after wall 14 of 32 counts at 96 a minute comes after 4 minutes 40."""
    text = "Title: Late\nTempo: 96\nWalls: 2\n\nSection 1: Walks\n1-8 Walk R, L, R, L, R, L, R, L\n"
    text += "".join(f"\nSection {n}: More\n1-8 Walk R, L, R, L, R, L, R, L\n" for n in (2, 3, 4))
    late = read_sheet(f"{text}\nTag after wall 14\n1-4 Sway R, L, R, L\n").routine
    assert len(song_of(late, Fraction(96)).walls) == len(unroll(late).walls) == 15
    assert 60 * song_of(read_sheet(text).routine, Fraction(96)).counts / 96 == pytest.approx(195, abs=10)


def test_a_dance_in_parts_or_with_an_ending_is_as_long_as_its_sheet_says() -> None:
    parts = read_sheet(
        "Title: Parts\nTempo: 100\nOrder: A B A\n\nPart A section 1: Walks\n1-8 Walk R, L, R, L, R, L, R, L\n\n"
        "Part B section 1: Sways\n1-4 Sway R, L, R, L\n"
    ).routine
    assert song_of(parts, Fraction(100)) == unroll(parts)
    run = walkthrough_of(song_of(parts, Fraction(100))).stages[-1]
    assert run.end == 20
    assert SHORTEST <= run.times * 60 * 20 / 100 <= LONGEST  # as often as a song lasts


def called_in(take: Take, wall: int) -> int:
    return sum(call.cue.kind is CallKind.STEP and call.cue.wall == wall for call in take.plan.calls)


@pytest.mark.parametrize("stem", STEMS)
def test_the_calls_fade_in_it_from_wall_to_wall(stem: str) -> None:
    routine = shipped_dance(stem).routine
    tempo = routine.header.tempo or Fraction(100)
    dance = song_of(routine, tempo)
    programme, voice = walkthrough_of(dance, tempo), MeasuredVoice()
    take = take_of_stage(begin(programme, len(programme.stages) - 1), Floors.of(dance), voice, voice.clip)
    last = len(dance.walls)
    assert called_in(take, 1) > called_in(take, last)
    assert called_in(take, 1) >= 2 * called_in(take, last - 1)


def test_to_a_recording_it_has_as_many_whole_walls_as_there_is_room_for() -> None:
    routine = shipped_dance("lantern-row").routine
    own = unroll(routine)
    for more, walls in ((-8, 0), (0, 0), (own.walls[-1].counts - 1, 0), (own.walls[-1].counts, 1)):
        assert len(filling(routine, Fraction(own.counts + more)).walls) == len(own.walls) + walls
