"""The values of a programme file, each read with a fault that says where it stands."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

from caller.calls.plan import Manner
from caller.outside.numbers import NotInRange, number, shown
from caller.routine.layout.lines import plain_line

MOST_STAGES = 500
LONGEST_NAME, LONGEST_SAID = 300, 1_000
MOST_SAID = 100
_SECTION = re.compile(r"(?:(\S+) )?(\d{1,4})")


class ProgrammeFault(Exception):
    """A programme that can't be read: one sentence on which stage, what, and what would do."""


def words_told(value: Any, where: str, longest: int = LONGEST_NAME) -> str:
    plain = " ".join(plain_line(value[: 2 * longest]).split()) if isinstance(value, str) else ""
    if not plain:
        raise ProgrammeFault(f"{where} is words, not {shown(value)}")
    if len(plain) > longest:
        raise ProgrammeFault(f"{where} has more than {longest} characters; what is said or shown is far shorter")
    return plain


def one_of(kind: Any, value: Any, where: str) -> Any:
    try:
        return kind(value)
    except ValueError as error:
        raise ProgrammeFault(f"{where} is one of {', '.join(k.value for k in kind)}, not {shown(value)}") from error


def in_range(value: Any, least: Fraction, most: Fraction, where: str) -> Fraction:
    if isinstance(value, str):
        raise ProgrammeFault(
            f"{where} is a number from {plain_number(least)} to {plain_number(most)}, not {shown(value)}"
        )
    try:
        return number(value, least, most, f"{where} is a number")
    except NotInRange as fault:
        raise ProgrammeFault(str(fault)) from fault


def share_of(least: int, most: int) -> Callable[[Any, str], Fraction]:
    def read(value: Any, where: str) -> Fraction:
        text = value.strip().removesuffix("%") if isinstance(value, str) else ""
        if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,3})?", text) or not least <= Fraction(text) <= most:
            raise ProgrammeFault(f'{where} is per cent from {least} to {most}, such as "75%", not {shown(value)}')
        return Fraction(text) / 100

    return read


def whole_number(least: int, most: int) -> Callable[[Any, str], int]:
    def read(value: Any, where: str) -> int:
        exact = in_range(value, Fraction(least), Fraction(most), where)
        if exact.denominator != 1:
            raise ProgrammeFault(f"{where} is a whole number, not {shown(value)}")
        return exact.numerator

    return read


def seconds_told(value: Any, where: str) -> Fraction:
    return in_range(value, Fraction(0), Fraction(120), where)


def yes_or_no(value: Any, where: str) -> bool:
    if not isinstance(value, bool):
        raise ProgrammeFault(f"{where} is true or false, not {shown(value)}")
    return value


def all_words(value: Any, where: str) -> tuple[str, ...]:
    listed = value if isinstance(value, list) else [value]
    if len(listed) > MOST_SAID:
        raise ProgrammeFault(f"{where} has more than {MOST_SAID} sentences")
    return tuple(words_told(one, where, LONGEST_SAID) for one in listed)


def all_manners(value: Any, where: str) -> tuple[Manner, ...]:
    listed = value if isinstance(value, list) else [value]
    if not listed:
        raise ProgrammeFault(f"{where} names no manner")
    return tuple(one_of(Manner, one, where) for one in listed)


def all_sections(value: Any, where: str) -> tuple[tuple[str, int], ...]:
    found = []
    for one in value[:MOST_STAGES] if isinstance(value, list) else [value]:
        match = _SECTION.fullmatch(one) if isinstance(one, str) else None
        if match is None:
            raise ProgrammeFault(f'{where} names sections such as "2" or "B 1", not {shown(one)}')
        found.append((match[1] or "", int(match[2])))
    return tuple(found)


def plain_number(exact: Fraction) -> int | float:
    return exact.numerator if exact.denominator == 1 else float(exact)
