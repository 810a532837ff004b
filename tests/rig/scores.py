"""Scores to play in tests: every frame of a tone is different, so a shift by one frame shows."""

from __future__ import annotations

import numpy as np

from caller.sound.score import Clip, Placement, Score


def tone(frames: int, seed: int = 1, level: float = 0.25) -> Clip:
    """Noise, the same for the same seed."""
    samples = np.random.default_rng(seed).uniform(-level, level, frames).astype(np.float32)
    return Clip(f"tone {seed} {frames} {level}", samples)


def score_of(*places: tuple[int, Clip]) -> Score:
    placements = tuple(Placement(frame, clip, 1.0, "count") for frame, clip in places)
    return Score(placements, max((place.end for place in placements), default=0))


def steady(frames: int, seed: int = 1) -> Score:
    """Sound without a gap for ``frames`` frames."""
    return score_of((0, tone(frames, seed)))
