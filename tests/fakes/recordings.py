"""A recording read as a whole, for tests that look at what is in it."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from caller.rig.music import decode
from caller.sound.score import Samples


def decoded(file: Path) -> Samples:
    """Shape (n, 1) or (n, 2). Raises NoMusic."""
    return decode.decoded(file, lambda blocks: np.concatenate([*blocks]))
