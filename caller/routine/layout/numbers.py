"""Numbers as sheets write them: digits, words, ordinals, Roman numerals."""

from __future__ import annotations

import re

_WORDS = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
]
_ORDINALS = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
]
_ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
_TENS = {
    "thirty-two": 32,
    "thirty two": 32,
    "twenty-four": 24,
    "twenty four": 24,
    "thirty-six": 36,
    "forty": 40,
    "forty-eight": 48,
    "forty eight": 48,
    "sixty-four": 64,
    "sixty four": 64,
    "sixty": 60,
    "thirty": 30,
}

WORDS: dict[str, int] = {word: n for n, word in enumerate(_WORDS, 1)} | _TENS
ORDINALS: dict[str, int] = {word: n for n, word in enumerate(_ORDINALS, 1)}
ROMAN: dict[str, int] = {word: n for n, word in enumerate(_ROMAN, 1)}

# For use inside patterns that ignore case.
NUMBER = (  # "16c" is sixteen counts
    r"(?:\d{1,9}(?=(?:c|cts?)\b)|(?:\d{1,9}|" + "|".join(sorted(WORDS, key=len, reverse=True)) + r")(?![\w]))"
)
ORDINAL = r"(?:\d{1,9}\s?(?:st|nd|rd|th)|" + "|".join(sorted(ORDINALS, key=len, reverse=True)) + r")(?![\w])"
_DIGITS = re.compile(r"\d+")


def number_of(text: str) -> int:
    """The number that :data:`NUMBER` or :data:`ORDINAL` matched. Raises ValueError for anything else."""
    word = text.strip().lower()
    digits = _DIGITS.match(word)
    if digits:
        return int(digits.group())
    found = WORDS.get(word) or ORDINALS.get(word)
    if found is None:
        raise ValueError(f"{text!r} is no number")
    return found
