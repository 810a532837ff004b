"""The beat of a recording, found where it was put."""

from __future__ import annotations

import numpy as np
import pytest

from caller.sound.pulse import pulse_of
from caller.sound.score import Samples
from tests.fakes.songs import tune


def in_a_room(samples: Samples) -> Samples:
    return samples + np.random.default_rng(0).normal(0, 0.003, len(samples)).astype(np.float32)


@pytest.mark.parametrize(("tempo", "first"), [(92, 0.5), (104, 0.5), (128, 0.1)])
def test_a_tune_is_found_to_a_few_milliseconds(tempo: int, first: float) -> None:
    pulse = pulse_of(in_a_room(tune(tempo, 60, first)))
    # A displaced beat is noticed from 12.5 ms at 120 a minute (Friberg & Sundberg, JASA 1995).
    assert pulse.tempo == tempo
    beats = (pulse.first_seconds - first) * tempo / 60
    assert abs(beats - round(beats)) * 60 / tempo < 0.004
    assert pulse.wavers_ms < 10


@pytest.mark.parametrize(("told", "first_told"), [(75.0, 1.08), (77.5, 0.93)])
def test_told_roughly_it_is_found_exactly(told: float, first_told: float) -> None:
    """As taps tell it: some per cent and some hundredths of a second off; untold, this is taken for twice as fast."""
    pulse = pulse_of(in_a_room(tune(76, 60, 1.0)), told, first_told)
    assert (pulse.tempo, pulse.first_seconds) == (76, pytest.approx(1.0, abs=0.004))


def test_a_tempo_that_is_no_whole_number_does_not_drift() -> None:
    draw, length = np.random.default_rng(3), 100
    period = 60 / 103.37
    sound = np.zeros(length * 48_000, np.float32)
    for n in range(int((length - 1) / period)):
        at = round((0.4 + n * period) * 48_000)
        sound[at : at + 1_000] = 0.3 * draw.uniform(-1, 1, 1_000)
    pulse = pulse_of(sound)
    assert abs(pulse.tempo - 103.37) * length / 103.37 < 0.01  # seconds off at its end
    assert pulse.first_seconds == pytest.approx(0.4, abs=0.004)


def test_what_has_no_beat_is_weak_and_what_wavers_is_told() -> None:
    noise = np.random.default_rng(1).normal(0, 0.1, 30 * 48_000).astype(np.float32)
    assert pulse_of(noise).strength < 0.1
    slow, quick = tune(100, 30, 0.0), tune(104, 30, 0.0)
    assert pulse_of(np.concatenate([slow, quick])).wavers_ms > 40
