"""How counts are written: the marks of one line, and any way of writing them made plain."""

from __future__ import annotations

import itertools
import re

from caller.routine.layout.numbers import NUMBER, number_of

DASH = r"[\-\u2010-\u2015]"
_MOST_MARKS = 24  # of one line, "1&2&3&4& ..." among them: no text may take for ever
MARKS = rf"\d{{1,2}}(?:\s?(?:{DASH}\s?)?(?:&|\+|and(?=\s?\d)|[ae](?![a-z]))\s?(?:{DASH}\s?)?\d{{0,2}}|\s?{DASH}\s?\d{{1,2}}|,\s?\d{{1,2}}(?![\d/]|:\d)|\s\d{{1,2}}(?=[\s)\]]|&\s?\d|$)){{0,{_MOST_MARKS}}}"
COUNTS = rf"(?:(?:&|and\s)\s?)?{MARKS}|&(?:\s?[ae])?|[ae](?=[\s&)])"
JOINED_AND = re.compile(rf"(?<=\d)\s?{DASH}\s?(&|and|\+|[ae])\s?{DASH}\s?(?=\d)", re.IGNORECASE)


_RUN = re.compile(r"\s*([1-9])([1-9])([1-9])([1-9]?)\s*")
_LISTED = re.compile(rf"\s*(\d{{1,2}})(?:\s?{DASH}\s?\d{{1,2}})+?\s?{DASH}\s?(\d{{1,2}})\s*")
_AND = re.compile(r"\band\b", re.IGNORECASE)


def plain_counts(text: str) -> str:
    """ "1234", "4-5-6", "3 and 4" as "1-4", "4-6", "3 & 4"."""
    if text.isdigit() and len(text) < 3:
        return text
    if (run := _RUN.fullmatch(text)) is not None:  # "123", "456"
        digits = [int(d) for d in run.groups() if d]
        if all(b == a + 1 for a, b in itertools.pairwise(digits)):
            return f"{digits[0]}-{digits[-1]}"
    if (listed := _LISTED.fullmatch(text)) is not None:
        return f"{listed[1]}-{listed[2]}"  # "4-5-6"
    return JOINED_AND.sub(r"\1", _AND.sub("&", text)).strip()


def counts_of_words(text: str) -> str:
    """ "five and six" as "5-6"; "three and four" is the same two counts, "seven to eight" a range."""
    numbers = [number_of(word) for word in re.findall(NUMBER, text, re.IGNORECASE)]
    if len(numbers) >= 2 and numbers[-1] > numbers[0]:
        return f"{numbers[0]}-{numbers[-1]}"
    return str(numbers[0]) if numbers else text
