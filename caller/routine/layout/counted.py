"""Step lines in all the ways in which counts stand with the steps: before them, behind them, in brackets, in words,
several on a line. What comes out begins with its counts, as :func:`caller.routine.count.read_counts` reads them.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

from caller.routine.count import Counts, read_counts
from caller.routine.layout.behind import after_commas, at_end, counted_behind, each_on, on_counts
from caller.routine.layout.each_count import each_bracketed, pieces_named
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.marks import COUNTS, DASH, JOINED_AND, MARKS, counts_of_words, plain_counts
from caller.routine.layout.numbers import NUMBER

_HEAD_BRACKET = re.compile(
    rf"^[\[(<]\s*(?:counts?\s+|cts?\.?\s+)?(?P<counts>{COUNTS})\s*[\])>]\s*[:.\-\u2010-\u2015]?\s*(?=\S)",
    re.IGNORECASE,
)
_HEAD_MARK = re.compile(
    rf"^(?:(?:on\s+)?(?:counts?|cts?\.?|beats?|steps?)\s+)?(?P<counts>{COUNTS})\s*(?:[:.)\]=;>]+|,(?=\s+[A-Za-z])|{DASH}+(?=\s*[^\s\d&])|\s(?={DASH}+\s*[^\s\d&]))\s*{DASH}*\s*(?=\S)",
    re.IGNORECASE,
)
_SLASHED = re.compile(
    r"^(?P<a>\d{1,2})\s*[/~]\s*(?P<b>\d{1,2})(?=\s+[A-Za-z])(?!\s+(?:turn(?:s|ing)?|pivot(?:s|ing)?|[LR]|left|right|basic|monterey|paddles?|vine|jazz|box|diamond|hinge|spin|unwind|rumba|circle|chase)\b)",
    re.IGNORECASE,
)
_SPACED_LIST = re.compile(r"^(?:[\d&ae\-\u2013]+,\s+)+(?=[\d&])")
_WORD_COUNTS = re.compile(
    rf"^(?:on\s+|for\s+)?(?:the\s+)?(?:counts?|beats?)\s+(?P<counts>{NUMBER}(?:\s*(?:,|and|&|to|thru|through|{DASH})\s*(?:{NUMBER}|and(?=\s)))*)\s*[:,.;\-\u2010-\u2015]*\s*(?:you\s+)?(?=[a-z])",
    re.IGNORECASE,
)
_WORD_BEFORE = re.compile(
    r"^(?P<counts>(?:(?:one|two|three|four|five|six|seven|eight|and|to)[\s,&-]*?)+)(?:\s*(?:[:.]|\.{2,})\s+|\s{2,})(?=[A-Za-z])",
    re.IGNORECASE,
)
_NEXT = re.compile(
    rf"(?:(?<=[\s,;.|)])|^)(?P<open>[\[(])?(?P<counts>(?:&\s?)?{MARKS}&?)(?(open)\s*[\])])\s*[:.)=]?\s*(?={DASH}?\s*[A-Za-z\u00bd\u00bc\u00be(\"]|(?<=\d\s)1/[248]\s)",
    re.IGNORECASE,
)
_HALF = re.compile(r"(?<=[,;.]\s)&\s*[:.)]?\s+(?=[A-Za-z])")
_WHOLE_NEXT = re.compile(r"[,;.]\s+\(?(?P<n>\d{1,2})\)?\s*[:.)]?\s+(?=[A-Za-z\u00bc-\u00be])")
_NO_COUNTS_BEFORE = re.compile(
    r"(?:\b(?:walls?|x|option|counts?|section|sec|times?|over|for|repeat|steps?|after|first|last|to|of|and|than|next|facing|part|tag|within|another)|[x\u00d7])\s*$",
    re.IGNORECASE,
)
_LONGEST_WORD = 24  # that may stand before a number which is no count
_NO_COUNTS_AFTER = re.compile(
    r"(?:counts?|cts?|times|x\b|walls?|o['\u2019]?\s?clock|steps\b|more|beats?|walks|shuffles|bpm|vines|rd\b|nd\b|th\b|st\b|small|runs|hip|sways|bumps|toe|heel|stomps|claps|quarters|big|full|pivots|paddles|turns)",
    re.IGNORECASE,
)
_ENDS_AT = re.compile(r"\s*[,;.]\s*$")


def steps_on(line: Line, expected: int = 0) -> list[Line]:
    """The step lines that this line is, each beginning with its counts; none where it is no step line.

    expected: the whole count that would come next, 0 = unknown.
    """
    if line.text[:8].lower() == "on count" and (each := each_on(line)):
        return each
    if line.text[:5].lower() == "count" and (pieces := pieces_named(line)):
        told = [steps_on(piece, expected) for piece in pieces]
        if all(told):
            return [step for steps in told for step in steps]
    if line.text[:4].find("0") >= 0:
        line = _unpadded(line)
    if line.text[:8].find("(") > 0 and (held := _HELD_ON.match(line.text)) is not None:
        line = Line(line.number, line.column, f"{held['from']}-{held['to']}  {line.text[held.end() :]}", False)
    if line.text[:2] == "& " and (behind := at_end(line.piece(2), expected)) and behind[0].text[:1] == "&":
        return behind  # "& left beside right, right heel forward     &3"
    head = headed(_parted(line, expected))
    if head is not None:
        counts = read_counts(head.text)
        assert counts is not None
        own = with_own_counts(head)
        if own is not head:
            return [own]
        if bracketed := each_bracketed(head):
            return bracketed
        inner = counted_behind(head.piece(counts.end), counts)
        return inner or [half for piece in _divided(head, counts) for half in _halves(piece)]
    return (
        counted_behind(line, None)
        or on_counts(line)
        or after_commas(line, expected)
        or at_end(line, expected)
        or _labelled(line, expected)
    )


# "3 (4)  RF forward (hold)"
_HELD_ON = re.compile(r"^(?P<from>\d{1,2})\s?\((?P<to>\d{1,2})\)\s+(?=[A-Za-z])")
_LABEL = re.compile(
    r"^(?:[A-Za-z]+[\s-]){0,3}(?:steps?|vines?|box|turns?|chair|struts?|walks?|rocks?|basics?)\s?:\s+(?=\d)",
    re.IGNORECASE,
)


def _labelled(line: Line, expected: int) -> list[Line]:
    """ "K-step: 1-2 R forward, touch L; 3-4 ...": the figure's name before the counts it is told by."""
    label = _LABEL.match(line.text)
    return steps_on(line.piece(label.end()), expected) if label is not None else []


_RUN_TOGETHER = re.compile(r"^(?P<and>&\s?)?(?P<run>[1-9]{2,4})(?P<tail>(?:[&ae][1-8]?)*)(?=[\s:.)])")


_PADDED = re.compile(r"^(?P<head>[&\d\s\-\u2010-\u2015]*?\b0[1-9][&ae\d\s\-\u2010-\u2015]*)(?=\s|[:.)])")


def _unpadded(line: Line) -> Line:
    """ "05-06", "&03-04" as "5-6", "&3-4"."""
    found = _PADDED.match(line.text)
    if found is None:
        return line
    head = re.sub(r"(?<!\d)0(?=[1-9])", "", found["head"])
    return Line(line.number, line.column, head + line.text[found.end() :], False)


def _parted(line: Line, expected: int) -> Line:
    """ "34&" as "3 4 &", "56" as "5 6", where those are the counts that come next and 34 or 56 are not."""
    found = _RUN_TOGETHER.match(line.text)
    if found is None or int(found["run"]) == expected:
        return line
    digits = [int(d) for d in found["run"]]
    if any(b != a + 1 for a, b in itertools.pairwise(digits)) or (expected and digits[0] not in (expected, 1)):
        return line
    counts = f"{found['and'] or ''}{digits[0]}-{digits[-1]}{found['tail']}"
    return Line(line.number, line.column, f"{counts}  {line.text[found.end() :].strip()}", False)


_NO_COUNTS_HERE = re.compile(
    r"\d\s*[x\u00d7]\s|(?:1[0-2]|[1-9]):[0-5]\d\b|&-[A-Za-z]"
)  # "2 x kick ball change", "3:00 - start over"


def headed(line: Line) -> Line | None:
    """The line with plain counts at its head, None where it has none there, or no words behind them."""
    text = line.text
    first = text[:1].lower()
    if not (first.isdigit() or first in "&+([<ceoabstf"):
        return None
    if _NO_COUNTS_HERE.match(text):
        return None
    if (listed := _SPACED_LIST.match(text)) is not None:  # "1-2, 3&4  Rock"
        text = listed.group().replace(" ", "") + text[listed.end() :]
        line = Line(line.number, line.column, text, False)
    for candidate in (_plainly_headed(text), text):
        if candidate is None:
            continue
        counts = read_counts(candidate)
        if counts is not None and candidate[counts.end :].strip():
            return line if candidate is text else Line(line.number, line.column, candidate, False)
    return None


def _plainly_headed(text: str) -> str | None:
    """The line with its counts written plainly; None where they are not written in any of these ways."""
    if (found := _HEAD_BRACKET.match(text)) is not None or (found := _HEAD_MARK.match(text)) is not None:
        return f"{plain_counts(found['counts'])}  {text[found.end() :]}"
    if (found := _WORD_COUNTS.match(text)) is not None or (found := _WORD_BEFORE.match(text)) is not None:
        return f"{counts_of_words(found['counts'])}  {text[found.end() :]}"
    if (found := _SLASHED.match(text)) is not None and int(found["b"]) == int(found["a"]) + 1:
        return f"{found['a']}-{found['b']}  {text[found.end() :]}"
    return JOINED_AND.sub(r"\1", text, count=2) if JOINED_AND.search(text[:12]) else None


def shifted(line: Line, by: int) -> Line:
    """The step line with its counts moved on."""
    counts = read_counts(line.text)
    if counts is None or not by:
        return line
    head = re.sub(r"\d+", lambda found: str(int(found.group()) + by), line.text[: counts.end])
    return Line(line.number, line.column, head + line.text[counts.end :], False, line.source)


def _divided(line: Line, counts: Counts) -> Iterator[Line]:
    """Counts that go on within the line begin a step line of their own."""
    while True:
        cut = _next_counts(line.text, counts)
        if cut is None:
            yield from _parts_of(line)
            return
        first = line.piece(0, cut)
        yield from _parts_of(Line(first.number, first.column, _ENDS_AT.sub("", first.text), first.exact))
        rest = line.piece(cut)
        next_one = headed(rest)
        before = counts.beats[-1].number
        further = read_counts(next_one.text, previous=before) if next_one is not None else None
        if next_one is None or further is None:
            yield rest
            return
        line, counts = next_one, further


_PART = re.compile(r"\s{2,}(?P<part>[&ae])\s+(?=[A-Z(\u00bd\u00bc\u00be])")


def _parts_of(line: Line) -> Iterator[Line]:
    """ "3 RF fwd  & LF lock behind": the part of a beat with its own step, set apart by wider spaces."""
    counts = read_counts(line.text)
    found = _PART.search(line.text)
    if counts is None or found is None or any(beat.part for beat in counts.beats) or found.start() <= counts.end:
        yield line
        return
    yield line.piece(0, found.start())
    yield Line(line.number, line.column, f"{found['part']}  {line.text[found.end() :]}", False)


_SAME_AGAIN = re.compile(
    r"(?<=[A-Za-z)\]])\s*[.;,]\s*(?:and\s+)?(?:(?:the\s+)?same\s+again|again|and\s+another)\b(?P<rest>[^A-Za-z]*$|\.\s.*)",
    re.IGNORECASE,
)


def _halves(line: Line) -> list[Line]:
    """ "5-8  Step R fwd, paddle 1/4 L. Same again.": what fills half the counts, and that once more."""
    counts = read_counts(line.text)
    found = _SAME_AGAIN.search(line.text)
    if counts is None or found is None or any(beat.part for beat in counts.beats) or STEP_WORD.search(found["rest"]):
        return [line]
    first, last = counts.beats[0].number, counts.beats[-1].number
    if (last - first) % 2 == 0:
        return [line]
    half = (first + last) // 2
    before = Line(line.number, line.column, f"{first}-{half}  {line.text[counts.end : found.start()].strip()}", False)
    return [before, Line(line.number, line.column, f"{half + 1}-{last}  repeat {first}-{half}", False)]


def _half_between(text: str, start: int, number: int) -> int | None:
    """Where "&" stands as the count of a step of its own: "3 step back, & close, 4 step forward"."""
    found = _HALF.search(text, start)
    if found is None:
        return None
    following = _WHOLE_NEXT.search(text, found.end())
    before = _WHOLE_NEXT.search(text, start, found.start())
    return found.start() if following is not None and before is None and int(following["n"]) == number + 1 else None


def _next_counts(text: str, counts: Counts) -> int | None:
    """Where the next counts stand in the text behind these, None where there are none."""
    last = counts.beats[-1]
    wanted = {last.number, last.number + 1} if last.part else {last.number + 1}
    if not last.part and (half := _half_between(text, counts.end, last.number)) is not None:
        return half
    for found in _NEXT.finditer(text, counts.end):
        apart = text.endswith("  ", 0, found.start())  # "RF cross over  6 LF back"
        if found.start() <= counts.end or (
            not apart and _NO_COUNTS_BEFORE.search(text, max(0, found.start() - _LONGEST_WORD), found.start())
        ):
            continue
        parted = text[: found.start()].rstrip()[-1:] in (".", ";", ",", "/", "|") or "-" in found["counts"]
        if text.startswith("1/", found.end()) and not parted:
            continue  # "3 4 1/4 right", counts and how far it turns
        # "5 heels out, 6 heels in"
        listed = text.endswith(", ", 0, found.start()) and text.startswith("heel", found.end())
        if _NO_COUNTS_AFTER.match(text, found.end()) and not listed:
            continue
        told = found["counts"].strip()
        number = re.search(r"\d+", told)
        first = int(number.group()) if number else 0
        if first in wanted or (told.startswith("&") and first == last.number + 1):
            return found.start()
    return None


def with_counts(line: Line, told: str) -> Line | None:
    """The step line with the counts that are told of it elsewhere ("1, 2, 3&4"), shifted to where it begins; None where
    they are not its own."""
    head = read_counts(line.text)
    marks = re.sub(r"[^\d&ae,\s\-\u2013]|(?<=[a-z])[ae]|[ae](?=[a-z])", " ", told.lower())
    counts = read_counts(f"{marks.strip(' ,.')}  x")
    if head is None or counts is None or len(counts.beats) < 2:
        return None
    length = head.beats[-1].number - head.beats[0].number
    if counts.beats[-1].number - counts.beats[0].number != length or counts.beats[0].number not in (
        1,
        head.beats[0].number,
    ):
        return None
    shift = head.beats[0].number - counts.beats[0].number
    written = re.sub(r"\d+", lambda found: str(int(found.group()) + shift), marks.strip(" ,.").replace(" ", ""))
    return Line(line.number, line.column, f"{written}  {line.text[head.end :]}", False)


_TAIL_COUNTS = re.compile(r"\s*[\[(](?P<counts>\s*\d[\d&ae,\s\-\u2013]{2,})[\])]\s*$", re.IGNORECASE)


def with_own_counts(line: Line) -> Line:
    """ "9-10: R heel, together, L heel, together [9&10&]": the brackets tell the counts better than the range."""
    found = _TAIL_COUNTS.search(line.text, max(0, len(line.text) - 40)) if line.text[-1:] in ")]" else None
    if found is None or not re.search(r"[&,]", found["counts"]):
        return line
    bare = Line(line.number, line.column, line.text[: found.start()], False)
    return with_counts(bare, found["counts"]) or line
