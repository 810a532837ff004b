"""Lengths that Fourier transforms are quick at."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from caller.sound.transforms import quick_length


@given(st.integers(0, 2**24))
def test_a_quick_length_is_a_little_longer_and_has_small_factors(frames: int) -> None:
    length = quick_length(frames)
    assert frames <= length <= max(8, frames + frames // 4 + 1)
    for factor in (2, 3, 5):
        while length % factor == 0:
            length //= factor
    assert length == 1
