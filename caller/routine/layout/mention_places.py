"""Where in a dance a token of an event's sentence points: walls, counts, sections."""

from __future__ import annotations

import re

from caller.routine.layout.mention_words import numbers_in
from caller.routine.layout.numbers import ROMAN, number_of

# The groups of the tokens' pattern that hold the number.
_WALLS = ("wl", "wo", "ws", "wz", "we", "wf", "wd", "wt")
_AFTER = (*(f"a{letter}" for letter in "abcdefghijklmnoqstu"), "pa", "pb")
_SECTION = ("sn", "so", "sq", "sl", "sp", "sm", "sd", "sz", "se")


def walls_of(found: re.Match[str]) -> tuple[int, ...]:
    return numbers_in(next((found[name] for name in _WALLS if found[name]), ""))


def counts_of(found: re.Match[str]) -> int:
    """The counts after which something happens."""
    return number_of(next(found[name] for name in _AFTER if found[name]))


def section_of(found: re.Match[str]) -> int | None:
    """The section at whose end something happens; None where a letter or a numeral names none."""
    if found["lo"]:  # "leave out section 4"
        name = found["lo"]
        return (int(name) if name.isdigit() else ord(name.upper()) - ord("A") + 1) - 1
    if found["blocks"]:
        return number_of(found["section"].split()[0])
    if letter := found["sx"] or found["sy"]:
        return ord(letter) - ord("A") + 1 if letter.isupper() else None
    numeral = found["sr"] or found["srr"] or ""
    if numeral:
        return ROMAN.get(numeral.lower()) if numeral.isupper() else None
    return number_of(next(found[name] for name in _SECTION if found[name]))
