"""Lengths that Fourier transforms are quick at.

Conventions: lengths in frames. A transform takes a time by its length where all prime factors of that are small; with
a large one in it, many times as long.
"""

from __future__ import annotations

# Times a power of two: no length is more than a fourth above what was asked for.
_STARTS = (4, 5, 6, 7.5)


def quick_length(frames: int) -> int:
    """The least length from there up that is a power of two, or that times 5/4, 3/2 or 15/8."""
    doubled = 1 << max(frames.bit_length() - 3, 1)
    return next(
        length for twice in (doubled, 2 * doubled) for start in _STARTS if (length := int(start * twice)) >= frames
    )
