"""Headings of sections and parts, in the ways in which authors write them.

A heading is *sure* where nothing else could be meant by it ("Section 2", "[9-16]"); one that is not ("2. Vines",
"9-16 VINES", "HEEL GRINDS") is a heading where the counts that come after it begin again, which the arranging of the
lines decides.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from caller.routine.layout.numbers import NUMBER, ORDINAL, ROMAN, number_of


@dataclass(frozen=True, slots=True)
class Heading:
    """part: its letter, None where it names none. number: of the section, None where it names none. said: the counts
    it gives, both included. long: the length it gives. opens: whether a section begins (a part alone only says which
    part the next ones belong to)."""

    part: str | None = None
    number: int | None = None
    name: str = ""
    said: tuple[int, int] | None = None
    long: int | None = None
    opens: bool = True
    sure: bool = True
    last: int | None = None  # "Sections 3 & 4": the last of them


_DASHES = r"\-\u2010-\u2015"  # inside a class of characters
_DASH = rf"[{_DASHES}]"
_RANGE = rf"(?P<from>\d{{1,3}})\s*(?:{_DASH}+|to|thru|through)\s*(?P<to>\d{{1,3}})"
_LONG = r"(?P<long>\d{1,3})\s*(?:-\s*)?(?:counts?|cts?|beats?|comptes|temps|tellen|c|ct)\b\.?"
_SECTION = re.compile(
    rf"^(?:dance\s+)?(?P<word>sections?|sects?|secs?|sets?|blocks?|phrase|s)(?:\.|\b|(?=\d)|(?=[A-H]\d))\s*(?:no\.?|number|#)?\s*"
    rf"(?:(?P<part>[A-H])(?=\d))?(?P<num>{NUMBER}|\d{{1,2}}(?!\d)|[ivx]{{1,4}}\b|[A-H]\b)"
    rf"(?:\s*(?:&|and|{_DASH}|to|\+)\s*(?P<last>\d{{1,2}})(?!\s*(?:[\])\d]|counts?|cts?|{_DASH}\s*\d)))?(?P<rest>.*)$",
    re.IGNORECASE,
)
_PART = re.compile(
    rf"^(?:part(?:ie|e)?|teil|deel|del)\s*[:.]?\s*[\"'\u2018\u201c]?(?P<part>[A-H]|\d|one|two|three|four|I{{1,3}}|IV)\b[\"'\u2019\u201d]?(?P<num>\d)?"
    rf"(?:\s*[,:/{_DASHES}]?\s*(?:section|sect?|set|s)\.?\s*(?P<sec>{NUMBER}))?(?P<rest>.*)$",
    re.IGNORECASE,
)
_LETTERED = re.compile(
    rf"^[\"'\u201c(\[]?(?P<part>[A-H])\s?[{_DASHES}.]?(?P<num>\d)?[\"'\u201d)\]]?(?P<rest>\s*(?:[:.)(\[|{_DASHES}].*)?|(?<=\d)\s+(?:[A-Z]|\d{{1,2}}\s*[&,{_DASHES}]).*)$"
)
_ORDINAL = re.compile(
    rf"^(?:the\s+)?(?P<ord>{ORDINAL})\s+(?:(?:set|section|sec|group|block|phrase)(?:\s+of\s+(?:8|eight|6|six|12|twelve|16))?"
    rf"(?:\s+counts?)?|(?:8|eight|6|six|12|twelve|16|sixteen|24|32)(?:s|'s)?(?:\s*(?:-\s*)?counts?)?)\b(?P<rest>.*)$",
    re.IGNORECASE,
)
_EIGHT = re.compile(
    r"^(?:(?:8|eight|set|section)\s*(?:#|no\.?|nr\.?|number)|(?:8|eight)[\s-]?counts?(?=\s\d))\s*(?P<num>\d{1,2})\b(?P<rest>.*)$",
    re.IGNORECASE,
)
_BRACKET = re.compile(
    rf"^(?:bars?\s+\d{{1,2}}\s*(?:(?:&|and|to|{_DASH})\s*\d{{1,2}}\s*)?)?"
    rf"[\[({{<]\s*(?:s(?:ec(?:tion|t)?)?\.?\s*(?P<num>\d{{1,2}})\s*[:,-]?\s*)?(?:counts?|cts?\.?|steps?|beats?)?\s*{_RANGE}&?\s*"
    rf"(?:counts?|cts?)?\s*[\])}}>]\s*(?P<rest>.*)$",
    re.IGNORECASE,
)
_NUMBERED_BRACKET = re.compile(r"^\[\s*(?:s|sec|section)?\.?\s*(?P<num>\d{1,2})\s*\]\s*(?P<rest>.*)$", re.IGNORECASE)
_COUNTED = re.compile(
    rf"^(?:(?P<word>counts?|cts?\.?|steps?|beats?)\s*)?{_RANGE}(?P<mark>\s*[:.)\]]|\s+{_DASH}+|\s*)\s*(?P<rest>.*)$",
    re.IGNORECASE,
)
_LETTER = re.compile(
    rf"^(?![KV]-?\s?[Ss](?:tep|TEP))[\[(]?(?P<num>[A-L])[\])]?\s*(?:(?<=[\])])|[.:)]|{_DASH}|(?=\(|\[))\s*(?P<rest>\S.*)$"
)
_ROMAN = re.compile(
    rf"^(?P<num>[IVX]{{1,4}}|[ivx]{{1,4}}(?=[.)]))\s*(?:[.:)]|{_DASH}|(?=\(|\[)|\s(?=\s[A-Z]))\s*(?P<rest>.*)$"
)
_LISTED = re.compile(
    r"^[#(\[]?(?P<num>\d{1,2})\s*(?:[.):\]]\s+|\s+)(?P<rest>(?:\d\s?[x\u00d7]\s+|(?:[1-3]/[248][\s,]+)+)?[^\d&\s\-].*)$"
)
# "2 - HALF TURN AND CROSSING CHA-CHA"
_CAPITALS = re.compile(r"^(?P<num>\d{1,2})\s+[\u2010-\u2015-]\s+(?P<rest>(?=\D)[^a-z]{4,60})$")
_TRAILING_RANGE = re.compile(
    rf"^(?P<name>(?:[x\u00d7]\s?\d(?!\d)|\d/\d|[^\d(\[])*(?:[^\s\d(\[:{_DASHES}]|[x\u00d7]\s?\d|\d/\d))\s*[:,{_DASHES}]*\s*[\[(]?\s*(?:counts?|cts?\.?|beats?)?\s*{_RANGE}\s*(?:counts?)?\s*[\])]?\s*:?$",
    re.IGNORECASE,
)
_REST_RANGE = re.compile(
    rf"^\s*[:,.{_DASHES}]*\s*[\[(]?\s*(?:counts?|cts?\.?|beats?|steps?)?\s*{_RANGE}&?\s*(?:counts?|cts?)?\s*[\])]?",
    re.IGNORECASE,
)
_REST_LONG = re.compile(rf"^\s*[:,.~{_DASHES}]*\s*[\[(]?\s*{_LONG}\s*[\])]?", re.IGNORECASE)
_EDGE = " \t:.,;-\u2010\u2011\u2012\u2013\u2014\u2015*=#|_~\u2022"
_SENTENCE = re.compile(
    r"[.!?]\s+(?-i:[A-Z])|^[\s,]*(?:is|are|was|will|has|on|of|in|and|with|at|ends?|starts?|again|only)\b", re.IGNORECASE
)
_STEPS_IN_LINE = re.compile(r"\s+\d{1,2}\s*[&,\-\u2013]\s*\d.*\s[/;]\s")  # "A1  1-2 walk R, L / 3&4 shuffle"
_MOST_NAME = 100
_MOST_RANGE = 24  # characters of "(counts 17 - 24 counts):"
_LAST_OF_RANGE = (*"0123456789)]:", "count", "counts", "COUNT", "COUNTS", "Counts", " ")
_DIGIT = re.compile(r"\d")


# "~ Part A ~", "=== Section 1 ==="
_DRAWN = "~=_:-"
_RULES = re.compile(r"^(?:[~=_:]+|-{2,})\s*|\s*(?:[~=_]+|-{2,})(?=\s*(?:$|\())")


_COUNTED_EVENTS = re.compile(r"^\W*\d\s+(?:easy\s+|short\s+)?(?:tags?|restarts?|bridges?)\b", re.IGNORECASE)


# "(A- is the first 16 counts of A only)": of a part's short form, no part
_SHORT_TOLD = re.compile(
    r"^\W*[A-H]\s?(?:[-\u2013*'\u2019]|\(?short\)?)\s*(?:=|:|is\b|means\b)\s*.*\b(?:\d{1,2}\s*(?:counts?|cts?|beats?)|count\s+\d{1,2})\b",
    re.IGNORECASE,
)


def read_heading(text: str, phrased: bool = False) -> Heading | None:
    """The heading that ``text`` is, None where it is none. phrased: letters alone may name parts."""
    if text[:1] in _DRAWN and (bare := _RULES.sub("", text).strip()):
        text = bare
    if _COUNTED_EVENTS.match(text) is not None or _SHORT_TOLD.match(text) is not None:
        return None
    for pattern, reader in _READERS:
        if (found := pattern.match(text)) is not None and (heading := reader(found)) is not None:
            return heading
    if phrased and (found := _LETTERED.match(text)) is not None:
        return _lettered(found)
    return None


@lru_cache(maxsize=1024)  # a line is looked at from the one before it, and from its own place
def read_unsure(text: str) -> Heading | None:
    """What may be a heading, if the counts after it begin again: "2. Vines", "9-16 Vines", "Vines (9-16)"."""
    if _COUNTED_EVENTS.match(text) is not None:
        return None
    if (found := _CAPITALS.match(text)) is not None:
        return Heading(number=int(found["num"]), name=found["rest"], sure=False)
    if (found := _COUNTED.match(text)) is not None:
        said = int(found["from"]), int(found["to"])
        return Heading(name=_name(found["rest"]), said=said, sure=False) if said[0] < said[1] else None
    if (found := _LISTED.match(text)) is not None and len(found["rest"]) <= _MOST_NAME:
        name, said_, long = _tail(found["rest"])
        return Heading(number=int(found["num"]), name=name, said=said_, long=long, sure=False)
    if (found := _ROMAN.match(text)) is not None and found["num"].lower() in ROMAN and len(text) <= _MOST_NAME:
        name, said_, long = _tail(found["rest"])
        return Heading(number=ROMAN[found["num"].lower()], name=name, said=said_, long=long, sure=False)
    if (found := _LETTER.match(text)) is not None and len(text) <= _MOST_NAME:
        name, said_, long = _tail(found["rest"])
        return Heading(number=ord(found["num"]) - ord("A") + 1, name=name, said=said_, long=long, sure=False)
    if len(text) <= _MOST_NAME and (found := _trailing_range(text)) is not None:
        return Heading(name=_name(found["name"]), said=(int(found["from"]), int(found["to"])), sure=False)
    return None


def _trailing_range(text: str) -> re.Match[str] | None:
    """The name and the range behind it, where the last characters can be those of one."""
    return _TRAILING_RANGE.match(text) if text.endswith(_LAST_OF_RANGE) and _DIGIT.search(text[-_MOST_RANGE:]) else None


def _name(text: str) -> str:
    name = text.strip(_EDGE)
    if name.startswith("(") and name.endswith(")") and name.count("(") == 1:
        name = name[1:-1].strip(_EDGE)
    if name[:1] in '"\u201c' and name[-1:] in '"\u201d':
        name = name[1:-1]
    return name


def _tail(rest: str) -> tuple[str, tuple[int, int] | None, int | None]:
    """What stands behind a heading's number: (name, counts given, length given)."""
    said: tuple[int, int] | None = None
    long: int | None = None
    if (found := _REST_LONG.match(rest)) is not None:
        long, rest = int(found["long"]), rest[found.end() :]
    if (found := _REST_RANGE.match(rest)) is not None:
        said, rest = (int(found["from"]), int(found["to"])), rest[found.end() :]
    elif (found := _trailing_range(rest.strip(_EDGE))) is not None:
        said, rest = (int(found["from"]), int(found["to"])), found["name"]
    if long is None and (
        found := re.search(
            rf"[\[(]\s*{_LONG}\s*[\])]\s*:?$|\s{_DASH}\s+{_LONG.replace('long', 'l2')}$", rest, re.IGNORECASE
        )
    ):
        long = int(found["long"] or found["l2"])
        rest = rest[: found.start()]
    return _name(rest), said, long


def _number(text: str) -> int | None:
    low = text.lower()
    if low in ROMAN:
        return ROMAN[low]
    if len(low) == 1 and low.isalpha():
        return ord(low) - ord("a") + 1
    number = number_of(low)
    return number if 0 < number <= 64 else None


def _section(found: re.Match[str]) -> Heading | None:
    rest = found["rest"].removeprefix(".")
    if len(rest) > _MOST_NAME * 2 or re.match(r"\s*(?:&\d|&\s*\d|[.:]\d)", rest):
        return None
    if found["word"].lower() == "s" and rest and not re.match(rf"[\s:.,)\]{_DASHES}(\[=]", rest):
        return None
    if _SENTENCE.match(rest):
        return None
    number = _number(found["num"])
    if number is None:
        return None
    name, said, long = _tail(rest)
    last = int(found["last"]) if found["last"] else None
    if last is not None and said is None and last <= number:
        last = None
    part = found["part"].upper() if found["part"] else None
    return Heading(part, number, name, said, long, last=last)


def _part(found: re.Match[str]) -> Heading | None:
    rest = found["rest"].removeprefix(".")
    if len(rest) > _MOST_NAME or _SENTENCE.match(rest):
        return None
    name, said, long = _tail(rest)
    number = number_of(found["sec"]) if found["sec"] else int(found["num"]) if found["num"] else None
    return Heading(found["part"].upper(), number, name, said, long, opens=number is not None)


def _lettered(found: re.Match[str]) -> Heading | None:
    rest = found["rest"]
    if len(rest) > 2 * _MOST_NAME:
        return None
    number = int(found["num"]) if found["num"] else None
    if number is not None and _STEPS_IN_LINE.match(rest):
        return Heading(found["part"].upper(), number, rest.strip())
    name, said, long = _tail(rest)
    return Heading(found["part"].upper(), number, name, said, long, opens=number is not None or said is not None)


def _ordinal(found: re.Match[str]) -> Heading | None:
    if _SENTENCE.match(found["rest"]) or len(found["rest"]) > _MOST_NAME:
        return None
    name, said, long = _tail(found["rest"])
    return Heading(None, number_of(found["ord"]), name, said, long)


def _eight(found: re.Match[str]) -> Heading | None:
    name, said, long = _tail(found["rest"])
    return Heading(None, int(found["num"]), name, said, long)


def _bracket(found: re.Match[str]) -> Heading | None:
    said = int(found["from"]), int(found["to"])
    if said[1] <= said[0]:
        return None
    number = int(found["num"]) if found["num"] else None
    return Heading(None, number, _name(found["rest"]), said, sure=said[1] - said[0] >= 3)


def _numbered_bracket(found: re.Match[str]) -> Heading | None:
    name, said, long = _tail(found["rest"])
    return Heading(None, int(found["num"]), name, said, long)


_READERS = (
    (_BRACKET, _bracket),
    (_NUMBERED_BRACKET, _numbered_bracket),
    (_PART, _part),
    (_SECTION, _section),
    (_ORDINAL, _ordinal),
    (_EIGHT, _eight),
)
