"""Scores to render in tests: noise, so that no two frames are alike and a shift by one frame shows."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
from hypothesis import strategies as st

from caller.sound.score import Clip, ClipSpan, Placement, Score

NASTY_BLOCKS = [1, 64, 65, 8_193]


@cache
def noise(seed: int, frames: int, level: float = 0.3) -> Clip:
    samples = np.random.default_rng(seed).uniform(-level, level, frames).astype(np.float32)
    return Clip(f"noise {seed} {frames} {level}", samples)


CLIPS = st.builds(noise, st.integers(1, 9), st.integers(0, 700), st.sampled_from([0.1, 0.3, 0.9]))


@st.composite
def _placements(draw: st.DrawFn) -> Placement:
    """A whole clip, or some of one with edges that may be longer than it is."""
    clip = draw(CLIPS)
    kind = draw(st.sampled_from(["count", "call", "music"]))
    part = None
    if kind == "music":
        first, last = sorted(draw(st.tuples(*[st.integers(0, clip.frames)] * 2)))
        part = ClipSpan(first, last, draw(st.integers(0, 300)), draw(st.integers(0, 300)))
    return Placement(draw(st.integers(-500, 4_000)), clip, draw(st.sampled_from([0.25, 0.6, 1.0])), kind, part)


PLACEMENTS = _placements()
# Any order, any overlap, some cut short by the score's end.
SCORES = st.builds(Score, st.lists(PLACEMENTS, max_size=12).map(tuple), st.integers(0, 4_500))


def blocks_of(last: int, sizes: list[int], first: int = 0) -> list[tuple[int, int]]:
    """Frames [first, last) cut into blocks of ``sizes`` in turn."""
    cuts = [first]
    while cuts[-1] < last:
        cuts.append(min(cuts[-1] + sizes[(len(cuts) - 1) % len(sizes)], last))
    return list(pairwise(cuts))
