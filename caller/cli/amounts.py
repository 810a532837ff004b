"""Numbers on the command line, each read with what it may be."""

from __future__ import annotations

import argparse
from collections.abc import Callable


def whole(least: int, most: int) -> Callable[[str], int]:
    """A whole number from least to most."""

    def read(text: str) -> int:
        if not text.isascii() or not text.isdigit() or not least <= int(text) <= most:
            raise argparse.ArgumentTypeError(f"a whole number from {least} to {most}, not {text!r}")
        return int(text)

    return read


def walls(text: str) -> int:
    """How many walls."""
    from caller.dance.unroll import MOST_WALLS

    return whole(1, MOST_WALLS)(text)
