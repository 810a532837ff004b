"""The physical lines of a sheet, cleaned of the typography that carries no meaning.

Control characters and marks that turn the reading direction are dropped on the way in: nothing read from a file
reaches a screen as anything but plain text. What a mail, a table or a word processor puts round a line (">", bars,
bullets, stars, entities, dot leaders) is taken off; the line keeps its number.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape

from caller.routine.findings import Finding, Place
from caller.routine.layout.other_hands import as_others_write

# A sheet has a few kilobytes and some fifty lines; what is far beyond that is no step sheet.
MOST_BYTES = 250_000
MOST_LINES = 1_000
MOST_LINE = 2_000  # characters


@dataclass(frozen=True, slots=True)
class Line:
    """One line, or the piece of one that stands for itself. text: from its first character on; column: of that
    character; exact: columns within the text are those of the file; source: the words as the author wrote them, where
    ``text`` is a rewriting of them; breaks: where in ``text`` further lines of the file begin, and their numbers."""

    number: int
    column: int
    text: str
    exact: bool = True
    source: str = ""
    breaks: tuple[tuple[int, int], ...] = ()
    cells: tuple[str, ...] = ()  # of a row between bars, the empty ones too

    def at(self, index: int) -> Line:
        """The line of the file in which the character of this index of ``text`` stands."""
        number = max((number for begins, number in self.breaks if begins <= index), default=self.number)
        return self if number == self.number else Line(number, 1, "", False)

    def finding(self, column: int, code: str, message: str) -> Finding:
        """column: within ``text``, from 1."""
        within = column if self.exact else 1
        return Finding(Place(self.number, max(1, self.column + within - 1)), code, message)

    @property
    def place(self) -> Place:
        return Place(self.number, self.column)

    def piece(self, start: int, end: int | None = None) -> Line:
        """The part of it between two indices of ``text``, without white space round it."""
        cut = self.text[start:end]
        lead = len(cut) - len(cut.lstrip())
        return Line(self.number, self.column + (start + lead if self.exact else 0), cut.strip(), self.exact)


def decode(raw: bytes) -> tuple[str, list[Finding]]:
    """The text of a file. Bytes that are no text, or far too many, give a finding and no text; bytes that are no UTF-8
    are read as the text of an older Windows, and a finding says so."""
    if len(raw) > MOST_BYTES:
        message = f"this file has {len(raw):,} bytes; a step sheet has no more than {MOST_BYTES:,}"
        return "", [Finding(Place(1), "unreadable", message)]
    wide = raw[:2] in (b"\xff\xfe", b"\xfe\xff")
    if b"\0" in raw[:4096] and not wide:
        message = "this is no text file; 'caller add' reads PDF, Word, OpenDocument and web pages"
        return "", [Finding(Place(1), "unreadable", message)]
    try:
        return raw.decode("utf-16" if wide else "utf-8-sig"), []
    except UnicodeDecodeError:
        if wide:
            return "", [Finding(Place(1), "unreadable", "this text breaks off within a character; save it again")]
    message = "this is not UTF-8; read as Western European text (Windows-1252), so look at accents and fractions"
    return raw.decode("cp1252", errors="replace"), [Finding(Place(1), "guess", message)]


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


LINE_ENDS = re.compile(r"\r\n|\r|\n|\f|\x0b")
_RULE = re.compile(r"^[\s\-=_*~.#+|\u2010-\u2015\u2022\u2500-\u257f]+$")
_QUOTED = re.compile(r"^(?:>\s?)+")
_BULLET = re.compile(
    r"^(?:[\u2022\u25aa\u25cf\u25e6\u2023\u25b6\u25ba\u27a4\u2192\u21d2\u2713\u2714\u00b7\u00bb\uf0b7]\s*|[-\u2013\u2014+]\s+(?=\S)|o\s+(?=[A-Z\d&(]))+"
)
_SPACED = re.compile(  # "S T A T I C   O N", alone or before wider space
    r"^(?:[A-Z]\s){4,}[A-Z](?:\s+\S(?=\s|$))*$|^(?:[A-Z]\s){2,}[A-Z](?:\s{2,}(?:[A-Z]\s)+[A-Z])*(?=\s{3,}\S{2})"
)
# "T H E   T I N K E R ' S   T R O T": single signs alone, words set apart by wider space
_SPACED_OUT = re.compile(r"^[A-Z](?:\s[A-Z&'\u2019!.]){1,}(?:\s{2,}[A-Z&](?:\s[A-Z&'\u2019!.])*)*$")
_LEAST_SPACED = 5  # signs
_DRAWN_ROUND = ' \t~*<>=_-"\u201c\u201d'
_STARS = re.compile(r"^(?:\*\*+|__+|==+|~~+|--+|\*(?=\w))\s*(?=[^*_=~\s\-])|\s*(?:\*\*+|__+|==+|--+|~~+|(?<=\w)\*)$")
_INNER_STARS = re.compile(r"\*\*(?=\S)|(?<=\S)\*\*|__(?=\w)|(?<=\w)__")
_DRAWN = re.compile(r"^(?:[~*=_-]\s+){3,}|(?:\s+[~*=_-]){3,}$")  # "~ ~ ~ ~ PART A ~ ~ ~ ~"
_BARS = re.compile(r"\s*[|\u2502\u2503\u00a6]\s*")
# "Touch the right toe next to the left     | 8", below "Walk and kick     | Count"
_COUNTS_BEHIND_BAR = re.compile(
    r"^(?P<steps>[A-Za-z\u00bc-\u00be][^|]*?)\s*[|\u2502]\s*(?:(?P<counts>[1-8&](?:[\s,&-]{0,3}[1-8])*\s?&?)|(?i:counts?|beats?))\s*$"
)
_TO_COUNTS = re.compile(r"(?<=[a-z)LR])\s*\.{4,}\s*(?=[1-8&](?:[\s,&-]{0,3}[1-8])*\s?&?$)")  # in a column behind steps
_LEADERS = re.compile(r"\s*(?:\.{4,}|(?:\.\s){3,}\.?|\u2026{2,}|_{3,})\s*")
_KEY_LEADERS = re.compile(
    r"^(title|name|dance|author|by|choreo\w*|devised\s+by|level|rhythm|music|tempo|speed|intro\w*|wait|start|counts?|walls?|sequence|order)\s*\.{3,}\s*(?=\S)",
    re.IGNORECASE,
)
_CELL_CLOCK = re.compile(
    r"^\(?(?:1[0-2]|[1-9])[:.][0-5]\d\)?$|^\(?(?:1[0-2]|[1-9])\s*o['\u2019]?clock\)?$", re.IGNORECASE
)


def physical(text: str) -> Iterator[Line]:
    """Every line of the text, empty ones and rules as empty text."""
    for number, raw in enumerate(LINE_ENDS.split(text), 1):
        yield _clean(raw, number)


def _clean(raw: str, number: int) -> Line:
    stripped = raw.lstrip(" \t\ufeff\u00a0")
    column = len(raw) - len(stripped) + 1
    cut = stripped[: MOST_LINE + 1]
    text = plain_line(cut).rstrip()
    exact = len(text) == len(cut.rstrip()) and "\t" not in cut.strip()
    if "\t" in cut.strip():
        text = plain_line(cut.replace("\t", "  ")).rstrip()
    if not text or (_RULE.match(text) and not text.startswith("#")):
        return Line(number, column, "")
    bare = _undecorated(text)
    if bare != text and _RULE.match(bare):  # "> --", below a mail
        return Line(number, column, "")
    if bare != text:
        at = text.find(bare)
        if at >= 0:
            column += at
        else:
            exact = False
    cells = tuple(_BARS.split(text.strip())) if len(_BARS.findall(text)) > 1 else ()
    return Line(number, column, bare, exact, cells=cells)


_BRACED = re.compile(r"\{\s?\d{1,2}\s?[-\u2013]\s?\d{1,2}\s?\}")  # "{17-24}": counts
_SITE_BEHIND = re.compile(r"(?<=\w)\s{3,}(?:https?://|www\.)\S+$")  # behind a title
_CIRCLED_LATER = re.compile("(?<=[Aa]fter )[\u2460-\u2468]")  # "after \u2461", of a section
_PICTURES = "\u2600-\u26ff\u2701-\u2712\u2715-\u2775\u2794-\u27bf\u2b00-\u2bff\U0001f300-\U0001faff"
_PICTURED = re.compile(rf"^[{_PICTURES}\s]+(?=\S)|[{_PICTURES}\s]+$")
_BRACE_BEHIND = re.compile(r"\s{2,}[)}\]](?:\s*[A-Za-z][A-Za-z ]{0,24})?\s*$")  # "Step R      ) Charleston"
_SIGN_CLOCK = re.compile(
    r"(?<=\s)[^\w\s\x00-\x7f]+\s?((?:1[0-2]|[1-9])[:.](?:00|30))(?=\s*$)"
)  # "step L back \u25b23:00"


def _undecorated(text: str) -> str:
    text = as_others_write(text)
    if text[1:2] == " " and text[0] in "~*=_-":
        text = _DRAWN.sub("", text) or text
    if not text.isascii():
        text = _CIRCLED_LATER.sub(lambda found: f"S{unicodedata.digit(found[0])}", text)
        text = _PICTURED.sub("", text.translate(_CIRCLED)) or text
    text = _unmarked(text)
    if "www." in text or "http" in text:
        text = _SITE_BEHIND.sub("", text)
    text = _BULLET.sub("", text.strip())
    if text[:1] in _BOX or text[-1:] in _BOX:
        text = text.strip(_BOX)
    if ")" in text and text.count(")") == text.count("(") + 1:
        text = _BRACE_BEHIND.sub("", text) or text
    if not text.isascii():
        text = _SIGN_CLOCK.sub(r"(\1)", text)
    if "\u00b7" in text and _STEP_LINE.match(text):
        text = _DOT_APART.sub(", ", _DOT_CLOCK.sub(r" (\1)", text))
    if ":" in text:
        text = _FACING_FIRST.sub(r"\2 (\1)", text)
        text = _FACING_BRACKETS.sub(r"(\1)", text)
    return _closed_up(text).strip()


def _unmarked(text: str) -> str:
    """Without the marks of mails, web pages, tables and bold letters."""
    if "&" in text and ";" in text:
        text = unescape(text)
    if text[0] == ">":
        text = _QUOTED.sub("", text)
    if "/s" in text or "/S" in text:
        text = _RESTART.sub(lambda found: "Restart" if found[0][0] == "R" else "restart", text)
    if "|" in text or "\u2502" in text:
        text = _cells(text)
    if "**" in text or "__" in text:
        inner = _INNER_STARS.sub("", text) if len(_INNER_STARS.findall(text)) % 2 == 0 else text
        text = inner or text
    return text


def _closed_up(text: str) -> str:
    """Letters set apart as words, dotted lines as space."""
    bare = text.strip(_DRAWN_ROUND)
    if bare != text and bare[1:2] == " " and _SPACED_OUT.match(bare) and len(bare.split()) >= _LEAST_SPACED:
        return " ".join(word.replace(" ", "") for word in re.split(r"\s{2,}", bare))
    if text[1:2] == " " and _SPACED_OUT.match(text) and len(text.split()) >= _LEAST_SPACED:
        return " ".join(word.replace(" ", "") for word in re.split(r"\s{2,}", text))
    if text[1:2] == " " and (spaced := _SPACED.match(text)) is not None:
        words = " ".join(word.replace(" ", "") for word in re.split(r"\s{2,}", spaced[0]))
        text = words + text[spaced.end() :]
    if "..." in text:
        text = _KEY_LEADERS.sub(r"\1: ", text)
    if "...." in text or "\u2026\u2026" in text or "___" in text or ". . ." in text:
        text = _LEADERS.sub("  ", _TO_COUNTS.sub("     ", text))
    return text


def _cells(text: str) -> str:
    """A row of a table: cells side by side; one with a clock time alone states the facing."""
    if (behind := _COUNTS_BEHIND_BAR.match(text)) is not None:
        return f"{behind['steps']}     {behind['counts'].strip()}" if behind["counts"] else behind["steps"]
    if len(_BARS.findall(text)) < 2 and not text.startswith("|") and not re.match(r"^[\d&\s,-]+\|", text):
        return text
    cells = [cell for cell in _BARS.split(text) if cell]
    told = [f"({cell.strip('()')})" if n and _CELL_CLOCK.match(cell) else cell for n, cell in enumerate(cells)]
    return "  ".join(told)


# "1 2  Walk R \u00b7 walk L \u00b7 9:00"
_STEP_LINE = re.compile(r"^[(\[]?[\d&][\d&ae\s,.-]*[:)\]]?\s+[A-Za-z\u00bc-\u00be\u215b]")
_DOT_APART = re.compile(r"(?<=[A-Za-z)\u00bc-\u00be])\s*\u00b7\s*(?=[A-Za-z\u00bc-\u00be\u215b(])")
_DOT_CLOCK = re.compile(r"\s*\u00b7\s*\(?((?:1[0-2]|[1-9])[:.](?:00|30))\)?(?=\s*(?:\u00b7|$))")
_FACING_BRACKETS = re.compile(r"(?:\(\(|<)\s*((?:1[0-2]|[1-9]):[0-5]\d)\s*(?:\)\)|>)")
_RESTART = re.compile(
    r"\b[Rr]/[Ss](?:(?:tart|TART)(?=s?\b)|(?=s?\s+(?:(?:on|in|during)\s+)?(?:w\d|wall\b|here\b)))", re.IGNORECASE
)
_FACING_FIRST = re.compile(r"^((?:1[0-2]|[1-9]):(?:00|30))\s{1,}(?=\d)(.*)$")  # a column before the counts
_CIRCLED = {0x2460 + n: str(n + 1) for n in range(20)} | {0x2776 + n: str(n + 1) for n in range(10)}
_BOX = "\u2500\u2501\u2502\u2503\u2550\u2726\u2605\u2606\u25a0\u25a1\u2665\u2661\u266a\u266b\u2756\u2727 "  # drawn round a line
_STARRED = "*_=~-\u2605<>{}# "


def unstarred(text: str) -> str:
    """Without the stars that make a line stand out; a star that marks a place of an event goes too."""
    if text[:1] not in _STARRED and text[-1:] not in _STARRED:
        return text
    before = None
    while before != text:
        before = text
        text = _STARS.sub("", text).strip()
    return text if _BRACED.match(text) else text.strip("*\u2605<>{}# ") or text
