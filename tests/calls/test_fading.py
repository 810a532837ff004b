"""Fading: fuller words the first time, shorter ones later, the last time none."""

from __future__ import annotations

from fractions import Fraction

from caller.calls.cues import cues_for
from caller.calls.plan import Fading, Kind, Manner
from caller.dance.walls import Dance
from tests.calls.takes import take_of
from tests.fakes.dances import SWAYS, WALKS, dance_of


def called(dance: Dance, wall: int, fading: Fading = Fading.FADE) -> list[str]:
    found = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), 8, fading)
    return [cue.wordings[0] for cue in found if cue.kind is Kind.STEP and cue.wall == wall]


def test_the_first_time_is_called_in_full_later_ones_shorter_the_last_not_at_all() -> None:
    dance = dance_of(4, (WALKS,))
    assert called(dance, 1) == [
        "walk right, walk left",
        "right shuffle forward",
        "rock forward, recover",
        "left shuffle back",
    ]
    assert called(dance, 2) == called(dance, 3) == ["walk, walk", "shuffle forward", "rock, recover", "shuffle back"]
    assert called(dance, 4) == []


def test_walls_and_tags_are_prompted_all_the_same() -> None:
    dance = dance_of(4, (WALKS,), tags={3: SWAYS})
    last = cues_for(dance, Manner.AHEAD, Fraction(16), Fraction(dance.counts), 0, Fading.FADE)
    assert {cue.kind for cue in last if cue.at >= 28} == {Kind.WALL}
    assert {cue.kind for cue in last if cue.at == 24} == {Kind.TAG, Kind.STEP}
    assert called(dance, 3)[-1] == "sway right, left, right, left"


def test_what_comes_only_twice_keeps_its_calls() -> None:
    assert len(called(dance_of(2, (WALKS,)), 2)) == 4


def test_without_fading_every_wall_is_called_alike() -> None:
    dance = dance_of(4, (WALKS,))
    assert called(dance, 1, Fading.NONE) == called(dance, 4, Fading.NONE)


def test_a_take_from_the_middle_fades_as_the_whole_does() -> None:
    dance = dance_of(4, (WALKS,))
    late = cues_for(dance, Manner.AHEAD, Fraction(24), Fraction(32), 8, Fading.FADE)
    assert not [cue for cue in late if cue.kind is Kind.STEP]


def test_less_is_said_each_time() -> None:
    take = take_of(dance_of(4, (WALKS,)), 90, fading=Fading.FADE)
    said = [sum(c.utterance.frames for c in take.plan.calls if c.cue.wall == wall) for wall in (1, 2, 4)]
    assert said[0] > said[1] > said[2] > 0  # the last wall is still announced
    assert take.fading is Fading.FADE
