"""Sentences that go on over several lines of the file, as one line: what an author tells of walls, tags, restarts and
easier ways in a paragraph of its own."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from functools import reduce

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.fact_patterns import KEY, KEYS
from caller.routine.layout.headings import read_heading
from caller.routine.layout.in_sentences import in_sentences
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.numbers import ORDINAL
from caller.routine.layout.options import EASIER, read_option
from caller.routine.layout.reflowed import reflowed
from caller.routine.layout.told_eights import told_eight
from caller.routine.layout.wrapped import Wrapped

_LEAST = 40  # characters of a line that is broken because it is full
_MOST = 8  # lines
_TELLS = re.compile(
    rf"\b(?:walls?\s+(?:\d|one|two|three|four|five|six|seven|eight|nine|ten)|{ORDINAL}\s+(?:walls?|time|round|repetition)|time\s+(?:through|round)|round\s+\w+"
    r"|tags?|bridges?|re-?\s?starts?|(?:start|begin|go)\s+(?:again|over|back)|(?:done|danced)\s+(?:it|the\s+dance)\s+\w+\s+times|\w+\s+extra\s+(?:beats|counts)|from\s+the\s+(?:top|beginning)|endings?|finish(?:es)?)\b",
    re.IGNORECASE,
)
_TALK = re.compile(
    r"\b(?:you|your|we|us|there|this|that|it|is|are|will|has|have|music|song|band|singer|chorus|dance|danced|when|only|both)\b",
    re.IGNORECASE,
)
_CLOCK_FIRST = re.compile(r"(?:1[0-2]|[1-9])(?:[:.][0-5]\d|\s*o['\u2019]?\s?clock)\b", re.IGNORECASE)
_ORDER = re.compile(
    r"\b[A-D]\b(?:\s*[,/\u2010-\u2015-]\s*|\s+)[A-D]\b(?:\s*[,/\u2010-\u2015-]\s*|\s+)(?:[A-D]\b|tag)", re.IGNORECASE
)
_GOES_ON = re.compile(
    r"(?:then|and|while\s+(?:she|he|they|it)|after\s+(?:that|it|which)|you|it|that|this|so|now|both|from\s+there|start|begin|dance(?=\s+(?:parts?|sections?|sets?|up\s+to|to|only|the\s+first|counts?)\b))\b",
    re.IGNORECASE,
)
_LISTED = re.compile(
    r"(?:(?<=[.!:;])|^)\s*(?:\(?[1-4]\)|\(?i{1,3}[.)])\s+(?=[A-Z])"
)  # "(1) After wall 2 ... (2) Wall 5 is short."
LISTED = re.compile(r"(?:\(?[a-dA-D1-4]\)|[a-d]\.|\(?(?:i{1,3}|iv|v)[.)](?=\s)|[-*\u2022]\s)\s*\S")
_MARKED = re.compile(r"\s{2,}(?=[\u2605\u2606\u2726*#]+\s)")  # "* 3rd wall: Bridge here   * 5th wall: Restart here"
_COUNTS_WITHIN = re.compile(r"[,;:]\s+(?:then\s+)?[1-8](?:\s?[-&]\s?[1-8])?\s+[A-Z]")
_STEP_CHANGE = re.compile(r"step\s+change\b", re.IGNORECASE)
_COUNT_NEXT = re.compile(r"\b(?:on|at|until|for)\s+(?:the\s+)?counts?$")
_COUNTS_BEHIND = re.compile(r"\s{2,}[\[(]?[\d&\s,\u2010-\u2015-]+[\])]?$")
_IN_COLUMNS = re.compile(r"(?<=\S)\s{3,}(?=\S)")
# "... on the front wall. Dance", and below it "counts 1 through 20 and then begin again"
_DANCE_NEXT = re.compile(r"\b(?:dance|do|only|through|until|up\s+to|after)$", re.IGNORECASE)
_COUNTS_NAMED = re.compile(r"(?:counts?|beats?)\s+\d", re.IGNORECASE)
_OPEN_END = re.compile(r"[A-Za-z]\s(?:for|on|counts?)$")
COUNTS_APART = re.compile(r"[A-Za-z)]\s{4,}[1-8](?:[&\s,\u2010-\u2015-]*[1-8])*\s?&?$")  # behind steps, in a column
_LEAST_APART = 3  # lines of a sheet that has its counts in a column behind
_CLOSES = re.compile(r"[^()]*\)[\s.,;]*$")
_MOST_CLOSED = 40  # characters until a bracket that is open on the line before is closed
KEYED = re.compile(r"[A-Z][A-Za-z ]{2,25}\s?:")
_ENDS = (".", "!", "?", ":", ")")


def joined(lines: Sequence[Line]) -> tuple[list[Line], dict[int, list[int]]]:
    """The lines, paragraphs that tell of events as one each; by the number of such a one, those of its further lines."""
    out: list[Line] = []
    further: dict[int, list[int]] = {}
    begin = Counter(line.column for line in lines if COUNTS_APART.search(line.text) is not None)
    counted = {column for column, often in begin.items() if often >= _LEAST_APART}
    wrapped = Wrapped(lines)
    fallen: set[int] = set()  # what a line above has taken over the foot of a page
    n = 0
    while n < len(lines):
        first = lines[n]
        if n in fallen:
            n += 1
            continue
        if tails := wrapped.tails(n):
            text = reduce(wrapped.told, (unstarred(lines[m].text) for m in tails), unstarred(first.text))
            further[first.number] = [lines[m].number for m in tails]
            out.append(replace(first, text=text, exact=False))
            fallen.update(tails)
            n += 1
            continue
        length, pieces = told_eight(lines, n)
        if not length and ("(" in first.text or _next_has_bracket(lines, n)):
            length, pieces = reflowed(lines, n)
        if not length:
            length, pieces = in_sentences(lines, n)
        if length:
            further[first.number] = [line.number for line in lines[n + 1 : n + length]]
            out += pieces
            n += length
            continue
        length = (
            2
            if _option_goes_on(lines, n)
            or _closes_below(lines, n)
            or ((first.column in counted or _breaks_off_in_steps(lines, n)) and _counted_below(lines, n))
            else _length(lines, n)
        )
        if length > 1:
            text, breaks = unstarred(first.text), list[tuple[int, int]]()
            for line in lines[n + 1 : n + length]:
                text = told_on(text, own := unstarred(line.text))
                breaks.append((len(text) - len(own), line.number))
            further[first.number] = [number for _, number in breaks]
            listed = [piece for piece in _LISTED.split(text) if piece]
            kept = tuple(breaks) if listed == [text] else ()
            out += [replace(first, text=piece, exact=False, breaks=kept) for piece in listed]
        else:
            marked = _MARKED.split(first.text)
            apart = len(marked) > 1 and all(kinds.EVENT_WORD.search(piece) for piece in marked)
            out += [replace(first, text=piece, exact=False) for piece in marked] if apart else [first]
        n += length
    return out, further


# "Tag after wall 2, 4 counts", "TAG A - after wall 2, facing 6:00": on the next line its steps
_SO_LONG = re.compile(
    r"\b\d{1,2}\s+(?:counts?|beats?)\W*$|\bfacing\s+(?:the\s+)?(?:\d{1,2}(?::\d\d|\s*o['\u2019]?clock)|front|back|home)\W*$",
    re.IGNORECASE,
)


def told_on(text: str, further: str) -> str:
    """A sentence with the line that it goes on over; where that begins with an event's steps, they are set apart."""
    steps = further[:1].isupper() and kinds.steps_told(further) and _SO_LONG.search(text)
    return f"{text}{':' if steps else ''} {further}"


def _next_has_bracket(lines: Sequence[Line], n: int) -> bool:
    return n + 1 < len(lines) and "(" in lines[n + 1].text


def _option_goes_on(lines: Sequence[Line], n: int) -> bool:
    """ "Easier way for 13-18: 13 step left, 14 touch, 15 hold,", and below it "16 step right, 17 touch, 18 hold"."""
    after = lines[n + 1] if n + 1 < len(lines) else None
    if after is None or after.number != lines[n].number + 1 or not lines[n].text.endswith(","):
        return False
    offered, counts = read_option(lines[n].text), read_counts(after.text)
    if offered is None or offered.first is None or offered.last is None or counts is None:
        return False
    return offered.first < counts.beats[0].number <= offered.last


def _closes_below(lines: Sequence[Line], n: int) -> bool:
    """ "7&8  triple step 1/2 turn left (you are now looking at", and below it "6 o'clock)"."""
    text, after = lines[n].text, lines[n + 1] if n + 1 < len(lines) else None
    if after is None or after.number != lines[n].number + 1 or text.count("(") != text.count(")") + 1:
        return False
    return len(after.text) <= _MOST_CLOSED and _CLOSES.match(after.text) is not None


def _counted_below(lines: Sequence[Line], n: int) -> bool:
    """ "Right vine: side R, behind L, quarter turn to the", and below it "right stepping forward (9:00), brush L   1, 2, 3, 4",
    further in, in a sheet that has its counts behind."""
    line, after = lines[n], lines[n + 1] if n + 1 < len(lines) else None
    if after is None or after.number != line.number + 1 or after.column <= line.column:
        return False
    own = read_counts(line.text) is not None or COUNTS_APART.search(line.text) is not None
    ended = line.text.endswith((".", ":", "!", "?")) or line.text.isupper()
    return not own and not ended and COUNTS_APART.search(after.text) is not None and _steps(line.text)


def _breaks_off_in_steps(lines: Sequence[Line], n: int) -> bool:
    """ "Step left forward, step right beside left, step left", and below it, further in, "in place     1-2-3"."""
    text, after = lines[n].text, lines[n + 1].text if n + 1 < len(lines) else ""
    return after[:1].islower() and "," in text and kinds.STEP_VERB.match(text) is not None and not text.endswith(".")


def _steps(text: str) -> bool:
    return kinds.STEP_WORD.search(text) is not None


def _length(lines: Sequence[Line], start: int) -> int:
    """How many lines the paragraph at ``start`` has; 1 where it is none, or tells nothing of an event."""
    if not _may_begin(unstarred(lines[start].text)):
        return 1
    end = start + 1
    while end < len(lines) and end - start < _MOST and _goes_on(lines[end - 1], lines[end]):
        end += 1
    text = " ".join(unstarred(line.text) for line in lines[start:end])
    if start + 1 < len(lines) and _breaks_off_before_counts(lines[start], lines[start + 1]):
        return max(2, end - start)
    told = end > start + 1 and _TALK.search(text) is not None
    return end - start if told and (_TELLS.search(text) or EASIER.match(text)) else 1


def _breaks_off_before_counts(line: Line, following: Line) -> bool:
    """ "... touch instead of kicking on count", and below it "12, nobody will know."."""
    text = unstarred(line.text)
    of_sentence = _TALK.search(text) is not None and _COUNT_NEXT.search(text) is not None
    return of_sentence and following.number == line.number + 1 and following.text[:1].isdigit()


def _may_begin(text: str) -> bool:
    if len(text) < _LEAST or read_counts(text) is not None or read_heading(text) is not None:
        return False
    if _ORDER.search(text) is not None or len(_IN_COLUMNS.findall(text)) > 1:
        return False
    if (kinds.STEP_VERB.match(text) and not _STEP_CHANGE.match(text)) or _COUNTS_BEHIND.search(text):
        return False
    if (
        _IN_A_TABLE.match(text)
        or kinds.HEAD_FACT.match(text)
        or kinds.MAIL_HEAD.match(text)
        or kinds.GREETING.match(text)
    ):
        return False
    key = KEY.match(text)
    return (
        key is None
        or key["key"].strip().lower() not in KEYS
        or (_TELLS.search(text) is not None and text[:4] == "NOTE")
    )


_OF_A_LIST = re.compile(r"[A-Za-z]+(?:\s[a-z]+){0,2}\s?:\s")  # "restarts: ...", and below it "different steps: ..."
OF_MARKS = re.compile(r"(?:\*{2,4}|[\u2020\u2021])\s\w")  # "** wall 6: begin again from here", of one sign among others
_IN_A_TABLE = re.compile(
    r"(?:song|music|track|intro|counts?|walls?|level|speed|tempo|choreo\w*)\s{2,}\S", re.IGNORECASE
)
_OF_WALL = re.compile(r"\W*(?:on\s+)?(?:wall\s+|w)\d+\s*[(:=\u2010-\u2015-]", re.IGNORECASE)  # one of a list


_WALL_FIRST = re.compile(r"\W*(?:on\s+|after\s+|in\s+)?(?:wall\s+|w)\d", re.IGNORECASE)


def _goes_on(line: Line, following: Line) -> bool:
    text, after = unstarred(line.text), unstarred(following.text)
    if following.number != line.number + 1 or len(text) < _LEAST or not after:
        return False
    if (_OF_A_LIST.match(text) and _OF_A_LIST.match(after)) or OF_MARKS.match(following.text):
        return False
    if (after.startswith("(") and text.rstrip().endswith((*_ENDS, ","))) or kinds.FURNITURE.search(after) is not None:
        return False
    if text.rstrip().endswith(_ENDS) and not (after[:1].islower() or _GOES_ON.match(after)):
        return False
    if _OPEN_END.search(text) is not None and not text.isupper() and "," in text and not KEYED.match(after):
        return True  # "... out out in in for 1-4, then bump the hips for", and below it "5-8 and finish"
    if text.endswith(",") and _COUNTS_WITHIN.search(text) is not None and _TELLS.search(text) is not None:
        return True  # "Ending: ... 6-7 R fwd, pivot 1/4 left,", and below it "8 R cross over L"
    counted = read_counts(after) is not None and not (_CLOCK_FIRST.match(after) or kinds.SO_MANY.match(after))
    counted = counted and not (_DANCE_NEXT.search(text) and _COUNTS_NAMED.match(after))
    if (
        counted
        or text.isupper() != after.isupper()
        or (read_heading(after) is not None and (text.endswith(_ENDS) or not after[:1].islower()))
    ):
        return False
    if COUNTS_APART.search(following.text) is not None:
        return False
    if (
        KEYED.match(after)
        or LISTED.match(after)
        or _OF_WALL.match(after)
        or (_OF_WALL.match(text) and _WALL_FIRST.match(after))
    ):
        return False
    return read_option(after) is None and not (kinds.STRONG_EVENT.match(after) and after[:1].isupper())
