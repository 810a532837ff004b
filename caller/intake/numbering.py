"""Numbers that a word processor makes by itself, as they are seen."""

from __future__ import annotations

_ROMAN = (
    (1000, "m"),
    (900, "cm"),
    (500, "d"),
    (400, "cd"),
    (100, "c"),
    (90, "xc"),
    (50, "l"),
    (40, "xl"),
    (10, "x"),
    (9, "ix"),
    (5, "v"),
    (4, "iv"),
    (1, "i"),
)
BULLET = "\u2022"


def letters(number: int) -> str:
    """1 is "a", 27 is "aa", as word processors go on after "z"."""
    return chr(ord("a") + (number - 1) % 26) * ((number - 1) // 26 + 1) if number > 0 else ""


def roman(number: int) -> str:
    written = ""
    for worth, sign in _ROMAN:
        times, number = divmod(number, worth)
        written += sign * times
    return written


def ordinal(number: int) -> str:
    teen = 10 <= number % 100 <= 20
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"
