"""Numbers on the command line, each read with what it may be."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from fractions import Fraction

from caller.outside import numbers

SLOWEST, FASTEST = 20, 400  # counts a minute


def whole(least: int, most: int) -> Callable[[str], int]:
    """A whole number from least to most."""

    def read(text: str) -> int:
        try:
            return numbers.whole(text, least, most)
        except numbers.NotInRange as fault:
            raise argparse.ArgumentTypeError(str(fault)) from fault

    return read


def between(least: float, most: float, what: str = "a number") -> Callable[[str], Fraction]:
    """A number from least to most, exact."""

    def read(text: str) -> Fraction:
        try:
            return numbers.number(text, least, most, what)
        except numbers.NotInRange as fault:
            raise argparse.ArgumentTypeError(str(fault)) from fault

    return read


def floating(least: float, most: float, what: str = "a number") -> Callable[[str], float]:
    """The same, as a float."""
    read = between(least, most, what)
    return lambda text: float(read(text))


def words(longest: int, what: str) -> Callable[[str], str]:
    """A name or a sentence, on one line, as it was typed even where the system's language knows few signs."""

    def read(text: str) -> str:
        plain = " ".join(text.encode("utf-8", "surrogateescape").decode("utf-8", "replace").split())
        if not plain or len(plain) > longest:
            why = f"has more than {longest} characters" if plain else "has no words"
            raise argparse.ArgumentTypeError(f"the {what} {why}")
        return plain

    return read


def per_cent(least: int, most: int) -> Callable[[str], Fraction]:
    """A share, "50%" or "50"."""
    read = between(least, most, "per cent")
    return lambda text: read(text.strip().removesuffix("%")) / 100


tempo = between(SLOWEST, FASTEST, "counts a minute")


def walls(text: str) -> int:
    """How many walls."""
    from caller.dance.unroll import MOST_WALLS

    return whole(1, MOST_WALLS)(text)
