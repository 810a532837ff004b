"""Recordings stretched in pieces: every count in its place, and the seams not heard."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest

from caller.rig.music import stretch
from caller.rig.music.stretch import seams_of, stretched, stretched_into
from caller.sound.score import RATE
from tests.fakes.songs import click, click_song, tune

TEMPO, SECONDS = 104, 40


@pytest.mark.parametrize("speed", [Fraction(3, 4), Fraction(103, 97)])
def test_every_click_is_where_it_is_at_one_go(speed: Fraction, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stretch, "PIECE_FRAMES", 9 * RATE)
    song = click_song(TEMPO, SECONDS)
    stereo = np.stack([song, 0.5 * song], 1)
    out = np.zeros((round(len(song) / speed), 2), np.float32)
    stretched_into(out, stereo, speed)
    whole = stretched(stereo, speed)
    for n in range(1, SECONDS * TEMPO // 60 - 2):
        at = round((0.5 + n * 60 / TEMPO) * RATE / speed)
        places = [np.correlate(one[at - 960 : at + 960, 0], click(), "valid").argmax() for one in (out, whole)]
        assert abs(int(places[0]) - int(places[1])) <= 0.001 * RATE
    assert np.abs(out).max() < 1.1 * np.abs(whole).max()


def test_where_pieces_meet_it_neither_swells_nor_jumps(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(stretch, "PIECE_FRAMES", 9 * RATE)
    song, speed = tune(TEMPO, SECONDS), Fraction(3, 4)
    out, whole = np.zeros(round(len(song) / speed), np.float32), stretched(song, speed)
    stretched_into(out, song, speed)
    seams = seams_of(song)[1:-1]
    assert len(seams) == 4
    for at in (round(seam / speed) for seam in seams):
        near = whole[at - RATE // 5 : at + RATE // 5]
        seam = out[at - 480 : at + 960]
        loud = np.sqrt(np.convolve(near**2, np.ones(480) / 480, "valid"))
        heard = np.sqrt(np.convolve(seam**2, np.ones(480) / 480, "valid"))
        assert 0.7 * loud.min() < heard.min() <= heard.max() < 1.3 * loud.max()
        assert np.abs(np.diff(seam)).max() < 1.3 * np.abs(np.diff(near)).max()


def test_a_short_one_is_as_at_one_go() -> None:
    song = tune(TEMPO, 12)
    out = np.zeros(round(len(song) / Fraction(9, 10)), np.float32)
    stretched_into(out, song, Fraction(9, 10))
    np.testing.assert_array_equal(out, stretched(song, Fraction(9, 10))[: len(out)])
