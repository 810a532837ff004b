"""The speaker without sound, and the choice between it and a device."""

from __future__ import annotations

import pytest

from caller.rig.devices import SOUND_MISSING
from caller.rig.speaker import SilentSpeaker
from caller.rig.stream.live import open_speaker
from caller.sound.score import RATE, Score
from caller.sound.speaker import Speaker
from tests.fakes.sink import HandClock
from tests.fakes.speaker import HandSpeaker
from tests.rig.scores import steady


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def silent(clock: HandClock) -> SilentSpeaker:
    return SilentSpeaker("No card.", now=clock.now)


def test_positions_go_with_the_clock(silent: SilentSpeaker, clock: HandClock) -> None:
    clock.wait(1.5)
    heard = silent.heard()
    assert (heard.written, heard.heard, heard.at_seconds) == (72_000, 72_000, clock.now())
    assert heard.fault == "No card."


def test_a_splice_in_silence_says_its_frame(silent: SilentSpeaker, clock: HandClock) -> None:
    clock.wait(1.0)
    assert silent.splice(steady(480)) == silent.earliest() > RATE
    assert silent.splice(None, at=90_000) == 90_000
    assert silent.heard().late == 0
    assert silent.splice(None, at=10) == 10
    assert silent.heard().late == 1


def test_the_earliest_frame_allows_for_the_time_it_takes(silent: SilentSpeaker) -> None:
    assert silent.earliest(0.03) - silent.earliest() == 1_440


def test_a_hush_in_silence_holds_at_once(silent: SilentSpeaker, clock: HandClock) -> None:
    assert silent.heard().hushed_at is None
    clock.wait(0.5)
    silent.hush()
    assert silent.heard().hushed_at == 24_000


@pytest.mark.parametrize("speaker", [SilentSpeaker("No card."), HandSpeaker()])
def test_a_score_at_another_rate_is_refused(speaker: Speaker) -> None:
    with pytest.raises(ValueError, match=r"44100.*48000"):
        speaker.splice(Score((), 100, rate=44_100))


def test_asked_for_none_there_is_no_sound_and_a_sentence_says_so() -> None:
    speaker, sentence = open_speaker("none")
    assert isinstance(speaker, SilentSpeaker)
    assert sentence == speaker.heard().fault == "Sound is off, as asked."


def test_without_a_sound_library_the_class_goes_on_and_is_told_what_to_install() -> None:
    speaker, sentence = open_speaker("", missing=SOUND_MISSING)
    assert isinstance(speaker, SilentSpeaker)
    assert sentence == speaker.heard().fault == SOUND_MISSING


def test_the_hand_speaker_plays_what_it_is_told_and_obeys_in_order() -> None:
    speaker = HandSpeaker(latency=960)
    speaker.splice(steady(48_000), 0, 480)
    speaker.advance(4_800)
    speaker.hush()
    assert speaker.heard().hushed_at is None
    assert speaker.splice(steady(48_000, 2)) == 4_800 + 1_920
    speaker.advance(1_920)
    assert speaker.heard().hushed_at == 4_800
    assert (speaker.heard().written, speaker.heard().heard) == (6_720, 5_760)
    speaker.advance(480)
    assert not speaker.sound[:480].any()
    assert speaker.sound[481:4_800].any()
    assert speaker.sound[6_800:].any()
    assert len(speaker.sound) == 7_200
