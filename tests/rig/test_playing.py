"""A short score played to its end, on a loudspeaker driven by hand."""

from __future__ import annotations

import numpy as np

from caller.rig.playing import play_through
from caller.sound.mix import render
from caller.sound.speaker import Heard
from tests.fakes.speaker import HandSpeaker
from tests.rig.scores import steady


class Room:
    """The speaker's clock; waiting moves the sound on, until ``dies_at`` seconds."""

    def __init__(self, speaker: HandSpeaker, dies_at: float = 1e9) -> None:
        self.speaker, self.dies_at, self.waited = speaker, dies_at, 0.0

    def now(self) -> float:
        return self.waited

    def wait(self, seconds: float) -> None:
        self.waited += seconds
        if self.waited < self.dies_at:
            self.speaker.advance(round(seconds * self.speaker.rate))


class NamedSpeaker(HandSpeaker):
    def heard(self) -> Heard:
        told = super().heard()
        return Heard(told.written, told.heard, told.at_seconds, device="by hand", fault=self.fault)


def test_all_of_a_score_is_heard_and_no_more_waited_for() -> None:
    speaker = NamedSpeaker()
    room = Room(speaker)
    score = steady(24_000)
    assert play_through(speaker, score, room.now, room.wait) == ""
    began = speaker.asked[0].at
    np.testing.assert_array_equal(speaker.sound[began + 240 : began + 24_000], render(score, 240, 24_000))
    assert room.waited < 1


def test_sound_that_does_not_start_is_told_by_its_fault() -> None:
    speaker = NamedSpeaker(fault="No sound device is found.")
    room = Room(speaker)
    assert play_through(speaker, steady(480), room.now, room.wait) == "No sound device is found."
    assert speaker.asked == []


def test_sound_that_stands_still_is_given_up() -> None:
    room = Room(NamedSpeaker(), dies_at=0.2)
    assert "stands still" in play_through(room.speaker, steady(48_000), room.now, room.wait)
