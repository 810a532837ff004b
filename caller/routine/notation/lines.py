"""The lines of a sheet: cleaned, and sorted into headers, headings, step lines, comments and notes.

Control characters and marks that turn the reading direction are dropped on the way in: nothing read from a file
reaches a screen as anything but plain text.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from enum import Enum

from caller.routine.count import read_counts
from caller.routine.findings import Finding, Place

# A sheet has a few kilobytes and some fifty lines; what is far beyond that is no step sheet.
MOST_BYTES = 250_000
MOST_LINES = 5_000
MOST_LINE = 2_000  # characters


class Sort(Enum):
    KEY = "key"
    SUMMARY = "summary"
    PART = "part"
    SECTION = "section"
    OPTION = "option"
    TAG = "tag"
    RESTART = "restart"
    CHANGE = "change"
    ENDING = "ending"
    STEPS = "steps"
    REPLACED = "replaced"
    NOTE = "note"
    COMMENT = "comment"
    UNREADABLE = "unreadable"


@dataclass(frozen=True, slots=True)
class Line:
    """One line as it stands. text: from its first character on; column: of that character."""

    number: int
    column: int
    text: str

    def finding(self, column: int, code: str, message: str) -> Finding:
        """column: within ``text``, from 1."""
        return Finding(Place(self.number, max(1, self.column + column - 1)), code, message)

    @property
    def place(self) -> Place:
        return Place(self.number, self.column)


@dataclass(frozen=True, slots=True)
class Sorted:
    sort: Sort
    line: Line
    match: re.Match[str] | None = None


def decode(raw: bytes) -> tuple[str, list[Finding]]:
    """The text of a file. Bytes that are no text, or far too many, give a finding and no text."""
    if len(raw) > MOST_BYTES:
        return "", [
            Finding(
                Place(1),
                "unreadable",
                f"this file has {len(raw):,} bytes; a step sheet has no more than {MOST_BYTES:,}",
            )
        ]
    if b"\0" in raw[:4096] and raw[:2] not in (b"\xff\xfe", b"\xfe\xff"):
        return "", [Finding(Place(1), "unreadable", "this is no text file; a step sheet is plain text in UTF-8")]
    try:
        if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
            return raw.decode("utf-16"), []
        return raw.decode("utf-8-sig"), []
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        return "", [
            Finding(Place(line, column), "unreadable", "this is not UTF-8 text; save the sheet as plain text in UTF-8")
        ]


def plain_line(text: str) -> str:
    """Without control and direction marks; tabs and other white space as spaces."""
    if text.isascii() and text.isprintable():
        return text
    kept = []
    for character in text:
        category = unicodedata.category(character)
        if character == "\t" or category in ("Zs", "Zl", "Zp"):
            kept.append(" ")
        elif category not in ("Cc", "Cf", "Cs", "Co", "Cn"):
            kept.append(character)
    return "".join(kept)


_KEY = re.compile(r"^(?P<key>[A-Za-z][A-Za-z '/-]{0,30}?)\s*:\s*(?P<value>.*)$")
# Headers that teachers write without a colon.
_SPOKEN_KEYS = (
    re.compile(r"^(?P<key>devised by|choreographed by)\s+(?P<value>\S.*)$", re.IGNORECASE),
    re.compile(r"^(?:dance\s+)?(?P<key>intro|starts? after)\s+(?P<value>\d+\b.*)$", re.IGNORECASE),
    re.compile(r"^(?P<value>\d+)[\s-]*counts?\s+(?P<key>intro)\b\W*$", re.IGNORECASE),
)
_SUMMARY = re.compile(
    r"^\d+[\s-]*counts?\b.*\bwalls?\b|^\d+[\s-]*walls?\b.*\bcounts?\b|^\d+[\s-]*counts?\s*(?:,|$)", re.IGNORECASE
)
_PART = re.compile(
    r"^part\s+(?P<part>[A-Za-z])\b(?:\s*[:,\u2010-\u2015-]?\s*(?:section|sec|s)\.?\s*(?P<number>\d+))?\s*(?:\((?P<long>\d+)\s*counts?\))?\s*[:\u2010-\u2015-]?\s*(?P<name>.*)$",
    re.IGNORECASE,
)
_SECTION = re.compile(
    r"^(?:section|sec|s)\.?\s*(?P<number>\d+)(?:\s*[\[(](?P<from>\d+)\s*[\u2010-\u2015-]\s*(?P<to>\d+)[\])])?\s*(?:[:.\u2010-\u2015-]\s*(?P<name>.*)|$)",
    re.IGNORECASE,
)
_SECTION_BARE = re.compile(r"^section\s+(?P<number>\d+)\s+(?P<name>[^\d&].*)$", re.IGNORECASE)
_BRACKET = re.compile(
    r"^[\[(](?:counts?\s*)?(?P<from>\d+)\s*[\u2010-\u2015-]\s*(?P<to>\d+)[\])]\s*[:\u2010-\u2015-]?\s*(?P<name>.*)$"
)
_OPTION = re.compile(
    r"^(?:easier\s+|easy\s+|harder\s+)?option\s*(?:for\s+)?(?:counts?\s*)?"
    r"(?P<first>\d+)(?:\s*(?:[\u2010-\u2015-]|to)\s*(?P<last>\d+))?(?P<parts>[&\d]*)"
    r"\s*(?:[:.\u2010-\u2015-]\s*(?P<name>.*)|$)",
    re.IGNORECASE,
)
_EVENT = re.compile(
    r"^[*\u2605\s]*(?:(?P<long>\d+)[\s-]*counts?\s+)?(?:bridge\s*/\s*)?"
    r"(?P<kind>tag|restart|step change|change|ending)s?\b(?P<rest>.*)$",
    re.IGNORECASE,
)
_REPLACED = re.compile(
    r"^(?:part\s+(?P<part>[A-Za-z])\s+)?(?:section|sec|s)\.?\s*(?P<number>\d+)[\s,:]+(?=(?:counts?\s+)?[\d&])",
    re.IGNORECASE,
)
_NOTE = re.compile(
    r"^(?:notes?|hint|tip|n\.?b\.?)\s*[:\u2010-\u2015-]\s*(?P<text>.*)$|^[(\[](?P<inside>[^()\[\]]*)[)\]][\s.]*$"
    # What stands below the last step on many sheets: it says that the dance goes on, as every dance does.
    r"|^(?P<closing>(?:repeat(?:\s+(?:the\s+)?(?:dance|routine|pattern|all)|\s+from\s+(?:the\s+)?(?:top|beginning|start))?"
    r"|(?:start|begin)\s+(?:again|over)\b[^\d]*|(?:enjoy|have fun|happy dancing|keep smiling)\b[^\d]*)[\s.!]*)$",
    re.IGNORECASE,
)
_STEPS = re.compile(r"^\s*(?:counts?\s+|cts?\.?\s+)?(?:\d|&|and\s\s|[ae]\s*&?\s*\d)", re.IGNORECASE)
_RULE = re.compile(r"^[\s\-=_*~.#\u2010-\u2015]+$")

_TAG_ALONE = re.compile(r"^(?:[A-Za-z0-9])?\s*(?:\(\d+\s*counts?\))?\s*:?$")
_EVENT_GOES_ON = re.compile(
    r"^(?:[A-Za-z0-9]\b\s*)?"
    r"(?:[:,(\u2010-\u2015-]|$|(?:at|after|on|during|here|in|wall|occurs|is|danced|end|from)\b)",
    re.IGNORECASE,
)
_EVENT_SORTS = {
    "tag": Sort.TAG,
    "restart": Sort.RESTART,
    "change": Sort.CHANGE,
    "step change": Sort.CHANGE,
    "ending": Sort.ENDING,
}


def sort_lines(text: str) -> list[Sorted]:
    """Each line with something on it, sorted. Before the first heading, "Key: value" is a header."""
    found: list[Sorted] = []
    in_header = True
    replacing = False
    for number, raw in enumerate(re.split(r"\r\n|\r|\n", text), 1):
        line = _clean(raw, number)
        if line is None:
            continue
        one = _sort(line, in_header, replacing)
        if one.sort not in (Sort.KEY, Sort.SUMMARY, Sort.NOTE, Sort.COMMENT, Sort.UNREADABLE):
            in_header = False
        if one.sort in (Sort.RESTART, Sort.CHANGE):
            replacing = True
        elif one.sort in (Sort.SECTION, Sort.PART, Sort.OPTION, Sort.TAG, Sort.ENDING):
            replacing = False
        found.append(one)
    return found


def _clean(raw: str, number: int) -> Line | None:
    stripped = raw.lstrip(" \t\ufeff")
    column = len(raw) - len(stripped) + 1
    text = plain_line(stripped[: MOST_LINE + 1]).rstrip()
    if not text or (_RULE.match(text) and not text.startswith("#")):
        return None
    return Line(number, column, text)


# Headings that look like nothing else, in the order in which they are tried.
_HEADINGS = (
    (Sort.SECTION, _BRACKET),
    (Sort.SECTION, _SECTION),
    (Sort.SECTION, _SECTION_BARE),
    (Sort.OPTION, _OPTION),
)
# Sections, options and the rest begin with one of these; a step line in no heading's words is none.
_MAY_HEAD = re.compile(r"[\[(a-z*\u2605]|\d+[\s-]*(?:counts?|walls?)\b", re.IGNORECASE)


def _sort(line: Line, in_header: bool, replacing: bool) -> Sorted:
    text = line.text
    if len(text) > MOST_LINE:
        return Sorted(Sort.UNREADABLE, line)
    if text.startswith("#"):
        return Sorted(Sort.COMMENT, line)
    if _MAY_HEAD.match(text):
        heading = _heading(line, in_header, replacing)
        if heading is not None:
            return heading
    if _STEPS.match(text) and (not in_header or read_counts(text) is not None):
        return Sorted(Sort.STEPS, line)
    if found := _NOTE.match(text):
        return Sorted(Sort.NOTE, line, found)
    return Sorted(Sort.UNREADABLE, line)


def _heading(line: Line, in_header: bool, replacing: bool) -> Sorted | None:
    text = line.text
    if replacing and (found := _REPLACED.match(text)):
        return Sorted(Sort.REPLACED, line, found)
    for sort, pattern in _HEADINGS:
        if found := pattern.match(text):
            return Sorted(sort, line, found)
    if in_header and _SUMMARY.match(text):
        return Sorted(Sort.SUMMARY, line)
    if found := _event(text):
        return Sorted(_EVENT_SORTS[re.sub(r"\s+", " ", found["kind"].lower())], line, found)
    if found := _PART.match(text):
        return Sorted(Sort.PART, line, found)
    for pattern in (_KEY, *_SPOKEN_KEYS) if in_header else ():
        if found := pattern.match(text):
            return Sorted(Sort.KEY, line, found)
    return None


def _event(text: str) -> re.Match[str] | None:
    """A heading of an event: it says so, and goes on with a wall, a place or nothing."""
    found = _EVENT.match(text)
    if found is None:
        return None
    rest = found["rest"].strip()
    if found["kind"].lower() == "tag" and _TAG_ALONE.match(rest):
        return found
    return found if _EVENT_GOES_ON.match(rest) else None
