"""Whether beats or the places between them are the beat: what each cue says, and that it says it of both alike."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from caller.sound.halfway import on_beat
from caller.sound.onsets import Curve, Onsets

HALF, BARS = 25, 16
BEATS = np.arange(4 * BARS - 3) * 2.0 * HALF


def song(bass: str = "........", cymbals: str = "........", notes: Callable[[int], Curve] | None = None) -> Onsets:
    """Strokes by the halves of a bar, as loud as their figure; notes by the half's number in the whole, held on for
    that half."""
    size = 8 * BARS * HALF
    struck = np.zeros((size, 3))
    for column, bar in ((0, bass), (2, cymbals)):
        for place, stroke in enumerate(bar):
            struck[place * HALF :: 8 * HALF, column] = float(stroke) if stroke.isdigit() else 0.0
    heard = np.ones((size, 12)) * 0.01
    if notes is not None:
        heard = np.repeat(np.stack([notes(n) for n in range(8 * BARS)]), HALF, axis=0)
    flat = np.zeros(size)
    return Onsets(flat, flat, flat, struck, heard, flat)


def test_what_speaks_for_beats_speaks_as_much_against_the_places_between_them() -> None:
    """A low drum on each beat, harder on the first of a bar; cymbals between, harder before the first."""
    one = song("2.1.1.1.", ".1.1.1.3")
    for_beats, for_between = on_beat(one, BEATS), on_beat(one, BEATS + HALF)
    assert for_beats > 0
    assert for_between == pytest.approx(-for_beats, rel=0.02)


@pytest.mark.parametrize("bar", ["1..11..1", "1..11...", "1.....11"])
def test_of_two_strokes_half_a_beat_apart_the_second_is_the_beat(bar: str) -> None:
    """As many are struck between beats as on them: what leads to what tells them apart."""
    assert on_beat(song(bar), BEATS) > 0.5
    assert on_beat(song(bar[-1] + bar[:-1]), BEATS) < -0.5


def test_a_bar_begins_where_its_new_notes_do_however_much_is_struck_between() -> None:
    """A chord between all beats and a soft bass note on the first, of the same chord; chords change by bars."""

    def notes(n: int) -> Curve:
        chord = np.roll([1.0, 0, 0, 0, 1, 0, 0, 1, 0, 0, 0, 0], 5 * (n // 8))
        return np.asarray(chord if n % 2 else 0.4 * np.roll(np.eye(12)[0], 5 * (n // 8)) * (n % 8 == 0))

    assert on_beat(song(notes=notes), BEATS) > 0.3
    assert on_beat(song(notes=lambda n: notes(n - 1) if n else np.zeros(12)), BEATS) < -0.3


def test_of_a_few_beats_nothing_is_said() -> None:
    assert on_beat(song("2.1.1.1."), BEATS[:7]) == 0.0
