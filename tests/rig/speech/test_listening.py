"""A phrase caught from a microphone: cut to what is spoken, as loud as speech is, and refused where it won't do."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pyloudnorm
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caller.rig.recorder import BLOCK
from caller.rig.speech.listening import (
    LONGEST_SECONDS,
    OVER_SECONDS,
    WAIT_SECONDS,
    Caught,
    catch,
    is_clipped,
    level_db,
    room_level,
)
from caller.sound.loudness import SPEECH_LUFS
from caller.sound.score import RATE, Samples
from tests.fakes.recorder import ROOM, blocks_of, room

ROOM_DB = 20 * np.log10(ROOM)


def voice(seconds: float, level: float = 0.2) -> Samples:
    """A buzz with syllables four times a second."""
    time = np.arange(round(seconds * RATE)) / RATE
    buzz = sum(np.sin(2 * np.pi * 130 * harmonic * time) / harmonic for harmonic in range(1, 12))
    return (level * buzz / np.abs(buzz).max() * (0.6 + 0.4 * np.sin(2 * np.pi * 4 * time))).astype(np.float32)


def heard(*parts: Samples) -> Caught:
    sound = np.concatenate([*parts])
    return catch(blocks_of(sound + room(len(sound) / RATE, seed=5)[: len(sound)]), ROOM_DB)


def quiet(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE), np.float32)


def test_the_room_is_as_loud_as_its_noise() -> None:
    assert room_level(blocks_of(room(2.0, 0.01))) == pytest.approx(-40, abs=0.5)
    assert level_db(np.zeros(480, np.float32)) == -100


def test_a_phrase_is_cut_to_what_is_spoken_and_a_little_round_it() -> None:
    caught = heard(quiet(1.3), voice(0.8))
    assert caught.fault == ""
    assert 0.8 < len(caught.samples) / RATE < 0.8 + 0.2


def test_a_short_pause_between_two_words_does_not_end_the_phrase() -> None:
    caught = heard(quiet(0.5), voice(0.4), quiet(0.5), voice(0.4))
    assert 1.3 < len(caught.samples) / RATE < 1.5


def test_what_follows_a_long_pause_is_not_part_of_it() -> None:
    caught = heard(quiet(0.5), voice(0.4), quiet(0.9), voice(0.4))
    assert 0.4 < len(caught.samples) / RATE < 0.6


@given(st.floats(0.03, 0.7))
@settings(max_examples=15)
def test_soft_and_loud_speakers_come_out_equally_loud_by_the_reference_meter(level: float) -> None:
    """ITU-R BS.1770, by pyloudnorm; a mono clip sounds from both channels."""
    caught = heard(quiet(0.5), voice(1.5, level))
    both = np.stack([caught.samples, caught.samples], axis=1).astype(float)
    meter = pyloudnorm.Meter(RATE, filter_class="DeMan")
    assert meter.integrated_loudness(both) == pytest.approx(SPEECH_LUFS, abs=0.3)


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        ((quiet(WAIT_SECONDS + 1),), "Nothing was heard"),
        ((voice(0.5),), "began before the recording"),
        ((quiet(0.5), voice(LONGEST_SECONDS + 2)), "more than 8 seconds"),
        ((quiet(0.5), np.clip(voice(0.5, 3.0), -1, 1)), "clipped"),
        ((quiet(0.5), voice(0.5, 0.006)), "too soft"),
    ],
)
def test_what_will_not_do_is_refused_with_what_to_do(parts: tuple[Samples, ...], says: str) -> None:
    caught = heard(*parts)
    assert says in caught.fault
    assert caught.fault.endswith(".")
    assert not len(caught.samples)


def test_a_loud_room_is_refused_with_how_loud_it_is() -> None:
    loud = room(3.0, 0.02, seed=2)
    sound = loud + np.pad(voice(1.0, 0.3), (RATE, RATE))
    caught = catch(blocks_of(sound), room_level(blocks_of(room(2.0, 0.02, seed=3))))
    assert "room is too loud" in caught.fault
    assert 10 < caught.over_room_db < 20


def test_a_wave_that_only_touches_its_top_is_not_clipped_and_one_cut_off_is() -> None:
    sine = np.sin(2 * np.pi * 440 * np.arange(RATE) / RATE).astype(np.float32)
    assert not is_clipped(0.97 * sine)
    assert is_clipped(np.clip(1.5 * sine, -1, 1))
    assert is_clipped(np.clip(1.5 * sine, -0.985, 0.985))
    assert not is_clipped(np.zeros(0, np.float32))


def test_no_more_is_taken_than_the_phrase_needs() -> None:
    taken = 0

    def counted() -> Iterator[Samples]:
        nonlocal taken
        for block in blocks_of(np.concatenate([quiet(0.5), voice(0.5)])):
            taken += 1
            yield block

    catch(counted(), ROOM_DB)
    assert taken * BLOCK / RATE == pytest.approx(0.5 + 0.5 + OVER_SECONDS, abs=0.05)
