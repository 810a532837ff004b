"""Text of a sheet as it is read aloud: a heading or a title, with every sign, fraction and abbreviation in words.

Conventions: pure; what comes out holds letters, spaces and the marks that phrase a sentence (, . ! ? ' -), never a
figure or a sign, and is left as it is when read again. Words that are not abbreviations stay as the author wrote them,
but for capitals, which a synthesiser might spell. A fraction is an adjective before a word ("quarter turn")
and a noun elsewhere, with its article but behind what turns ("vine with a quarter", "sailor quarter"). Abbreviations:
common practice on the floor.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Sequence
from itertools import zip_longest

from caller.calls.wording import spoken_number

# fmt: off
# In capitals only: "R" is a side, "r" whatever its author means by it.
_SIDES = {
    "R": "right", "L": "left", "RF": "right foot", "LF": "left foot", "RH": "right hand", "LH": "left hand",
}
_ABBREVIATIONS = {
    "fwd": "forward", "fwds": "forward", "fw": "forward", "bk": "back", "bck": "back", "bwd": "backward",
    "bwds": "backward", "tog": "together", "diag": "diagonal", "diags": "diagonals", "cw": "clockwise",
    "ccw": "counter clockwise", "rec": "recover", "ct": "count", "cts": "counts", "sec": "section", "opt": "option",
    "rev": "reverse", "w": "with", "ft": "foot",
}
_WHOLE = {"1/8": "eighth", "1/4": "quarter", "1/2": "half"}
_SEVERAL = {"3/8": "three eighth", "5/8": "five eighth", "3/4": "three quarter", "7/8": "seven eighth"}
# Before a fraction: it has its article, or its number, already.
_DETERMINED = {"a", "an", "the", "one", "another", "last", "first", "second", "each", "every"}
_MANY = {"two", "three", "four", "both"}
# Before a fraction: it keeps its article.
_BEFORE_ARTICLE = {
    "with", "without", "and", "or", "then", "on", "by", "make", "making", "do", "add", "plus", "for", "in",
}
# After a fraction: no noun of its own.
_NOT_ITS_NOUN = {
    "r", "l", "right", "left", "and", "or", "to", "with", "on", "in", "into", "then", "over", "at", "for", "from",
    "forward", "back", "clockwise", "counter", "each", "w",
}
_ORDINALS = {
    1: "first", 2: "second", 3: "third", 5: "fifth", 8: "eighth", 9: "ninth", 12: "twelfth",
}
_SIGNS = {"&": "and", "+": "and", "@": "at", "%": "per cent"}
# fmt: on
_MOST_SAID = 999
_KEPT_MARKS = ",.!?"
_ONE_KIND = str.maketrans({"⁄": "/", "’": "'", "‘": "'", "–": "-", "×": "x", "—": ","})

_TOKEN = re.compile(
    r"(?P<clock>(?<!\d)(?:1[0-2]|[1-9]):(?:00|30)(?!\d))"
    rf"|(?P<fraction>(?<![\d/])(?:\d{{1,2}}[ -])?(?:1/1|{'|'.join((*_WHOLE, *_SEVERAL))})s?(?![\w/]))"
    r"|(?P<range>(?<![\d/])\d{1,3} ?- ?\d{1,3}(?![\d/]))"
    r"|(?P<times>\d{1,2} ?x\b|\bx ?\d{1,2}\b)"
    r"|(?P<ordinal>\d{1,2}(?:st|nd|rd|th)\b)"
    r"|(?P<number>\d+)"
    r"|(?P<short>\bw/o\b|\bw/)"
    r"|(?P<word>[^\W\d_]+(?:['-][^\W\d_]+)*(?:\.(?=\s*[a-z,]))?)"
    r"|(?P<sign>[^\s\w]|_)",
    re.IGNORECASE,
)


def read_aloud(text: str) -> str:
    """The text in words; "" where nothing in it can be said.

    "R & L, 1/4 fwd" is "right and left, a quarter forward"; "9-16: VINES" is "nine to sixteen, vines".
    """
    plain = unicodedata.normalize("NFKC", text).translate(_ONE_KIND)
    plain = "".join(x if x.isalpha() or not x.isnumeric() or x.isdecimal() else " " for x in plain)
    tokens = list(_TOKEN.finditer(plain))
    said: list[str] = []
    for token, after in zip_longest(tokens, tokens[1:]):
        kind = token.lastgroup or ""
        if kind == "fraction":
            said.append(_fraction(token[0], said, after))
        elif kind == "times" and after is not None and after.lastgroup == "fraction":
            said.append(_number(_times_of(token[0])))
        else:
            said.append(_READ[kind](token[0]))
    return _phrased(said)


def _word(written: str) -> str:
    """A word, maybe with the point of an abbreviation."""
    word = written.rstrip(".")
    if word in _SIDES:
        return _SIDES[word]
    parts = word.split("-")
    if len(parts) > 1 and all(part in _SIDES for part in parts):
        return " ".join(_SIDES[part] for part in parts)
    # A letter whose small form is two characters ("İ") stays.
    lower = word.lower() if len(word) > 1 and word.isupper() and len(word.lower()) == len(word) else word
    return _ABBREVIATIONS.get(lower.casefold(), lower + written[len(word) :])


def _fraction(written: str, before: Sequence[str], after: re.Match[str] | None) -> str:
    """As an adjective before its noun, else as a noun: "quarter", "a quarter", "two quarters"."""
    *whole, part = re.split("[ -]", written.lower().rstrip("s"))
    last = next((words.split()[-1].casefold() for words in reversed(before[-1:]) if words.split()), "")
    own = after is not None and after.lastgroup == "word" and after[0].casefold() not in _NOT_ITS_NOUN
    if whole:
        return f"{_number(int(whole[0]))} and {_noun(part, determined=False)}"
    if part == "1/1":
        return "full" if own else "full turn" if last in _DETERMINED else "a full turn"
    if own:
        return _WHOLE.get(part) or _SEVERAL[part]
    if last in _MANY or written[-1] in "sS":
        return _plural(part)
    # "with a quarter", but "sailor quarter": behind what turns it needs no article.
    return _noun(part, last in _DETERMINED or (last.isalpha() and last not in _BEFORE_ARTICLE))


def _noun(part: str, determined: bool) -> str:
    if part not in _WHOLE:
        return f"{_SEVERAL[part]}s" if part in _SEVERAL else "a full turn"
    article = "" if determined else "an " if part == "1/8" else "a "
    return article + _WHOLE[part]


def _plural(part: str) -> str:
    return "halves" if part == "1/2" else f"{_WHOLE.get(part) or _SEVERAL.get(part, 'full turn')}s"


def _clock(written: str) -> str:
    hour, minutes = written.split(":")
    return f"half past {_number(int(hour))}" if minutes == "30" else f"{_number(int(hour))} o'clock"


def _range(written: str) -> str:
    return " to ".join(_number(int(part)) for part in written.split("-"))


def _times_of(written: str) -> int:
    return int(written.lower().strip("x "))


def _times(written: str) -> str:
    number = _times_of(written)
    return {1: "once", 2: "twice"}.get(number, f"{_number(number)} times")


def _ordinal(written: str) -> str:
    number = int(written[:-2])
    tens, ones = divmod(number, 10)
    if number > 20 and ones:
        return f"{_number(10 * tens)}-{_ORDINALS.get(ones, f'{_number(ones)}th')}"
    said = _number(number)
    return _ORDINALS.get(number) or (f"{said[:-1]}ieth" if said.endswith("y") else f"{said}th")


def _number(number: int) -> str:
    """In words; a long one figure by figure."""
    if number <= _MOST_SAID:
        return spoken_number(number)
    return " ".join(spoken_number(int(figure)) for figure in str(number))


def _sign(sign: str) -> str:
    if sign in "'\"*_#-" or unicodedata.combining(sign):
        return ""
    return _SIGNS.get(sign, sign if sign in _KEPT_MARKS else ",")


_READ: dict[str, Callable[[str], str]] = {
    "clock": _clock,
    "range": _range,
    "times": _times,
    "ordinal": _ordinal,
    "number": lambda written: _number(int(written)),
    "short": lambda written: "without" if written.lower() == "w/o" else "with",
    "word": _word,
    "sign": _sign,
}


def _phrased(said: Sequence[str]) -> str:
    """With single spaces; of marks in a row the strongest, none before the first word and no comma after the last."""
    words = re.sub(r"\s*([,.!?])", r"\1", " ".join(filter(None, said)))
    words = re.sub(r"[,.!?]{2,}", lambda met: min(met[0], key=".?!,".index), words)
    words = words.lstrip(",.!? ").rstrip(", ")
    return words if any(character.isalpha() for character in words) else ""
