"""A recording that wavers, evened out: every beat on its even place, the pitch kept, both channels alike."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import numpy.typing as npt
import pytest

from caller.sound.evened import evened, evened_into
from caller.sound.score import RATE
from tests.fakes.songs import clicks_at

Times = npt.NDArray[np.floating]


def wavering(drift: float) -> tuple[Times, Times]:
    """Where beats are, and where they are to be, seconds."""
    counts = np.arange(60)
    return 0.5 + 0.5 * counts + drift * 0.5 * 10 * np.sin(counts / 10), 0.5 + 0.5 * counts


@pytest.mark.parametrize("drift", [0.01, 0.04])
def test_every_beat_is_on_its_even_place(drift: float) -> None:
    times, even = wavering(drift)
    hum = 0.1 * np.sin(2 * np.pi * 220 * np.arange(32 * RATE) / RATE).astype(np.float32)
    sound = clicks_at((round(at * RATE) for at in times), 32 * RATE) + hum
    heard = evened(sound, times, even, 31 * RATE)
    for at in even:
        start = round((at - 0.03) * RATE)
        edge = np.convolve(np.diff(heard[start : start + round(0.06 * RATE)]) ** 2, np.ones(48) / 48, "same")
        off_ms = 1000 * ((start + int(np.argmax(edge > edge.max() / 2))) / RATE - at)
        assert abs(off_ms) < 8  # sound is 5 ms off its place at most, the click's own rise apart


def test_the_pitch_is_kept_and_both_channels_stay_together() -> None:
    times, even = wavering(0.04)
    tone = 0.3 * np.sin(2 * np.pi * 440 * np.arange(32 * RATE) / RATE)
    stereo = np.stack([tone, -tone], axis=1).astype(np.float32)
    heard = evened(stereo, times, even, 31 * RATE)
    assert heard.shape == (31 * RATE, 2)
    np.testing.assert_array_equal(heard[:, 0], -heard[:, 1])
    middle = heard[5 * RATE : 25 * RATE, 0]
    spectrum = np.abs(np.fft.rfft(middle * np.hanning(len(middle))))
    assert np.argmax(spectrum) * RATE / len(middle) == pytest.approx(440, abs=0.5)
    # No seam clicks: what is above the tone is soft.
    above = spectrum[round(2000 * len(middle) / RATE) :]
    assert above.max() < spectrum.max() / 1000


def test_what_is_even_already_is_copied() -> None:
    _, even = wavering(0.0)
    sound = np.random.default_rng(0).normal(0, 0.1, 32 * RATE).astype(np.float32)
    np.testing.assert_allclose(evened(sound, even, even, 32 * RATE), sound, atol=1e-7)


def test_where_one_piece_gives_way_to_the_next_nothing_is_softer_or_louder() -> None:
    times, even = wavering(0.04)
    steady = np.full(40 * RATE, 0.25, np.float32)
    heard = evened(steady, times, even, 31 * RATE)
    np.testing.assert_allclose(heard[: 30 * RATE], 0.25, atol=1e-6)


def test_how_far_it_is_is_told_every_ten_seconds_or_so() -> None:
    _, even = wavering(0.0)
    out, silence = np.zeros(45 * RATE, np.float32), np.zeros(45 * RATE, np.float32)
    told = [0, *evened_into(out, silence, False, even, even), 45 * RATE]
    assert len(told) == 6
    assert all(9 < (later - sooner) / RATE < 12 for sooner, later in pairwise(told[:-1]))
