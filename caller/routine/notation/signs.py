"""What is no word: notes in brackets, clock times, spans of counts, fractions, numbers, dashes and separators.

A note in brackets may be a claim, the feet of a figure's steps, how often, or which count; else it stays a note.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.scanning import NUMBERS, SPAN, Cursor, Token
from caller.routine.notation.stated import NO_WEIGHT_SAID, eighths_of, read_stated
from caller.routine.step import Foot

NUMBER_WORDS = {"double": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_SPANS = {"one": 1, **NUMBER_WORDS}
_DIAGONAL = 45  # degrees, said without the word
# "R, L, R" in brackets, and how it may be said.
_FEET_IN_BRACKETS = re.compile(
    r"(?:step(?:ping|s)?|lead(?:ing|s)?|start(?:ing|s)?|with|on|using|feet:?|going|dancing|walking)?\s*"
    r"(?:(?:r|l|rt|lt|rf|lf|right|left)(?:\s*(?:foot|first))?[\s,./&+-]*(?:and\s+)?)+|[rl]{2,8}",
    re.IGNORECASE,
)
_FOOT_WORD = re.compile(r"\b(right|left|rf|lf|rt|lt|[rl])\b|\b([rl]{2,8})\b", re.IGNORECASE)
_COUNT_NOTE = re.compile(
    r"(?:on\s+)?(?:(?:counts?|cts?|beats?)\.?\s*)?[\d&,\s\u2010-\u2015-]*(?:counts?|cts?|beats?)?(?:[\d&]|counts?)",
    re.IGNORECASE,
)
_TIMES_NOTE = re.compile(r"(?:x\s?\d|\d\s?x|twice|\d times)", re.IGNORECASE)
_BARE_CLOCK = re.compile(r"(?:12|3|6|9)")
_STRAY = re.compile(r"[()\[\]{}<>*='~^_#`\u2018\u2019\u00b4?\u2605\u2606\\@$%]+")
_ARROWS = re.compile(r"[\u2190-\u21ff\u25b6\u25ba\u27a4>]+")


def signs(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    """The lexemes of a token that is no word, and that the cursor has stepped over."""
    return _OF_KIND[token.kind](cursor, token)


def _note(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    inside = token.written[1:-1].rstrip("! ")
    stated = read_stated(inside)
    if stated is None:
        yield _other_note(cursor, inside.strip(), token)
        return
    for one in stated:
        yield token.lexeme(LexemeKind.NO_WEIGHT if one.text == NO_WEIGHT_SAID else LexemeKind.CLAIM, one)


def _other_note(cursor: Cursor, inside: str, token: Token) -> Lexeme:
    """Feet listed in brackets, how often, which count, a facing by its hour alone; else a note."""
    if _FEET_IN_BRACKETS.fullmatch(inside):
        feet = tuple(Foot(letter) for one in _FOOT_WORD.finditer(inside) for letter in _letters(one))
        return token.lexeme(LexemeKind.LIST if len(feet) > 1 else LexemeKind.FEET, feet)
    if _TIMES_NOTE.fullmatch(inside):
        digits = re.sub(r"\D", "", inside)
        return token.lexeme(LexemeKind.TIMES, int(digits) if digits else 2)
    if _BARE_CLOCK.fullmatch(inside) and cursor.turned:
        stated = read_stated(f"facing {inside}:00")
        return token.lexeme(LexemeKind.CLAIM, stated[0] if stated else None)
    if (span := re.fullmatch(SPAN[2:], inside, re.IGNORECASE)) is not None:
        return next(_span(cursor, Token("span", span.group().lower(), "", token.column, span.group())))
    if _COUNT_NOTE.fullmatch(inside):
        return token.lexeme(LexemeKind.NOISE, None)
    return token.lexeme(LexemeKind.NOTE, inside)


def _clock(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    """A clock time outside brackets: after "towards" the way to travel, else a claim."""
    before = [t.word for t in cursor.tokens[max(0, cursor.at - 4) : cursor.at - 1]]
    if "toward" in before or "towards" in before:
        yield token.lexeme(LexemeKind.NOISE, None)
        return
    stated = read_stated(f"facing {token.text}")
    yield token.lexeme(LexemeKind.CLAIM, stated[0] if stated else None)


def _span(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    """ "over 4 counts" """
    number = re.search(NUMBERS, token.text)
    assert number is not None
    said = number.group()
    yield token.lexeme(LexemeKind.LASTS, int(said[:3]) if said.isdigit() else _SPANS[said])


def _turn(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    if cursor.at >= 2 and cursor.tokens[cursor.at - 2].word == "at":  # "at 45 degrees": a way to travel
        yield token.lexeme(LexemeKind.WHERE, "diagonal")
        return
    eighths = eighths_of(token.text)
    cursor.turned = cursor.turned or bool(eighths)
    yield token.lexeme(LexemeKind.TURN if eighths else LexemeKind.UNKNOWN, eighths)


def _times(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    digits = re.sub(r"\D", "", token.text)
    yield token.lexeme(LexemeKind.TIMES, int(digits[:3]) if digits else 3 if token.word == "thrice" else 2)


def _number(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    number = int(token.text[:3])
    if number == _DIAGONAL:
        yield token.lexeme(LexemeKind.WHERE, "diagonal")
    else:
        yield token.lexeme(LexemeKind.NUMBER, number)


def _mark(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    yield token.lexeme(LexemeKind(token.kind), None)


def _other(cursor: Cursor, token: Token) -> Iterator[Lexeme]:
    kind = LexemeKind.NOISE if _STRAY.fullmatch(token.text) and cursor.tokens[1:] else LexemeKind.UNKNOWN
    yield token.lexeme(LexemeKind.SEPARATOR if _ARROWS.fullmatch(token.text) else kind, None)


def _letters(found: re.Match[str]) -> str:
    return (found[1] or "")[:1].upper() or (found[2] or "").upper()


_OF_KIND: dict[str, Callable[[Cursor, Token], Iterator[Lexeme]]] = {
    "note": _note,
    "span": _span,
    "clock": _clock,
    "turn": _turn,
    "times": _times,
    "number": _number,
    "dash": _mark,
    "separator": _mark,
    "other": _other,
}
