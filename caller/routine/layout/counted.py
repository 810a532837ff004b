"""Step lines in all the ways in which counts stand with the steps: before them, behind them, in brackets, in words,
several on a line. What comes out begins with its counts, as :func:`caller.routine.count.read_counts` reads them.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator

from caller.routine.count import Counts, read_counts
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of

_DASH = r"[\-\u2010-\u2015]"
_MARKS = rf"\d{{1,2}}(?:\s?(?:{_DASH}\s?)?(?:&|\+|and(?=\s?\d)|[ae](?![a-z]))\s?(?:{_DASH}\s?)?\d{{0,2}}|\s?{_DASH}\s?\d{{1,2}}|,\s?\d{{1,2}}(?![\d/]|:\d)|\s\d{{1,2}}(?=[\s)\]]|$))*"
_COUNTS = rf"(?:(?:&|and\s)\s?)?{_MARKS}|&(?:\s?[ae])?|[ae](?=[\s&)])"
_BRACKETED = re.compile(
    rf"[\[(]\s*(?:counts?\s+|cts?\.?\s+|beats?\s+)?(?P<counts>{_COUNTS}|[1-9]{{3,4}})\s*[\])]", re.IGNORECASE
)
_ONLY_COUNTS = re.compile(_COUNTS, re.IGNORECASE)
_HEAD_BRACKET = re.compile(
    rf"^[\[(<]\s*(?:counts?\s+|cts?\.?\s+)?(?P<counts>{_COUNTS})\s*[\])>]\s*[:.\-\u2010-\u2015]?\s*(?=\S)",
    re.IGNORECASE,
)
_HEAD_MARK = re.compile(
    rf"^(?:(?:on\s+)?(?:counts?|cts?\.?|beats?|steps?)\s+)?(?P<counts>{_COUNTS})\s*(?:[:.)\]=;>]+|,(?=\s+[A-Za-z])|{_DASH}+(?=\s*[^\s\d&])|\s(?={_DASH}+\s*[^\s\d&]))\s*{_DASH}*\s*(?=\S)",
    re.IGNORECASE,
)
_JOINED_AND = re.compile(rf"(?<=\d)\s?{_DASH}\s?(&|and|\+|[ae])\s?{_DASH}\s?(?=\d)", re.IGNORECASE)
_SLASHED = re.compile(
    r"^(?P<a>\d{1,2})\s*[/~]\s*(?P<b>\d{1,2})(?=\s+[A-Za-z])(?!\s+(?:turn|pivot|[LR]|left|right|basic|monterey|paddle)\b)",
    re.IGNORECASE,
)
_SPACED_LIST = re.compile(r"^(?:[\d&ae\-\u2013]+,\s+)+(?=[\d&])")
_WORD_COUNTS = re.compile(
    rf"^(?:on\s+|for\s+)?(?:the\s+)?(?:counts?|beats?)\s+(?P<counts>{NUMBER}(?:\s*(?:,|and|&|to|thru|through|{_DASH})\s*(?:{NUMBER}|and(?=\s)))*)\s*[:,.;\-\u2010-\u2015]*\s*(?:you\s+)?(?=[a-z])",
    re.IGNORECASE,
)
_WORD_BEFORE = re.compile(
    r"^(?P<counts>(?:(?:one|two|three|four|five|six|seven|eight|and)[\s,&-]*)+)\s*[:.]\s+(?=[A-Za-z])", re.IGNORECASE
)
_TRAILING = re.compile(
    rf"^(?P<words>.*?[A-Za-z.)\]½¼¾\d])(?:\s{{2,}}|\s*\.{{2,}}\s*|\s+\.\s+|\s*[:,\-\u2010-\u2015]\s+|\s+(?:counts?|cts?\.?|on)\s+)\(?(?P<counts>{_COUNTS})\)?\s*\.?$",
    re.IGNORECASE,
)
_NEXT = re.compile(
    rf"(?:(?<=[\s,;.|)])|^)(?P<open>[\[(])?(?P<counts>(?:&\s?)?{_MARKS}&?)(?(open)\s*[\])])\s*[:.)=]?\s*(?={_DASH}?\s*[A-Za-z\u00bd\u00bc\u00be(\"])",
    re.IGNORECASE,
)
_NO_COUNTS_BEFORE = re.compile(
    r"(?:\b(?:walls?|x|option|counts?|section|sec|times?|over|for|repeat|steps?|after|first|last|to|of|and|than|next|facing|part|tag|within|another)|[x\u00d7])\s*$",
    re.IGNORECASE,
)
_NO_COUNTS_AFTER = re.compile(
    r"(?:counts?|cts?|times|x\b|walls?|o['\u2019]?\s?clock|steps\b|more|beats?|walks|shuffles|bpm|vines|rd\b|nd\b|th\b|st\b|small|runs|hip|sways|bumps|toe|heel|stomps|claps|quarters|big|full|pivots|paddles|turns)",
    re.IGNORECASE,
)
_ENDS_AT = re.compile(r"\s*[,;.]\s*$")


def steps_on(line: Line, expected: int = 0) -> list[Line]:
    """The step lines that this line is, each beginning with its counts; none where it is no step line.

    expected: the whole count that would come next, 0 = unknown.
    """
    if line.text[:8].lower() == "on count" and (each := _each_on(line)):
        return each
    if line.text[:4].find("0") >= 0:
        line = _unpadded(line)
    headed = _headed(_parted(line, expected))
    if headed is not None:
        counts = read_counts(headed.text)
        assert counts is not None
        own = with_own_counts(headed)
        if own is not headed:
            return [own]
        inner = _behind(headed.piece(counts.end), counts)
        return inner or [half for piece in _divided(headed, counts) for half in _halves(piece)]
    return (
        _behind(line, None)
        or _on_counts(line)
        or _after_commas(line, expected)
        or _at_end(line, expected)
        or _labelled(line, expected)
    )


_LABEL = re.compile(
    r"^(?:[A-Za-z]+[\s-]){0,3}(?:steps?|vines?|box|turns?|chair|struts?|walks?|rocks?|basics?)\s?:\s+(?=\d)",
    re.IGNORECASE,
)


def _labelled(line: Line, expected: int) -> list[Line]:
    """ "K-step: 1-2 R forward, touch L; 3-4 ...": the figure's name before the counts it is told by."""
    label = _LABEL.match(line.text)
    return steps_on(line.piece(label.end()), expected) if label is not None else []


_RUN_TOGETHER = re.compile(r"^(?P<and>&\s?)?(?P<run>[1-8]{2,4})(?P<tail>(?:[&ae][1-8]?)*)(?=[\s:.)])")


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


def _headed(line: Line) -> Line | None:
    """The line with plain counts at its head, None where it has none there, or no words behind them."""
    text = line.text
    first = text[:1].lower()
    if not (first.isdigit() or first in "&+([<ceoabstf"):
        return None
    if re.match(r"\d\s*[x\u00d7]\s", text):
        return None  # "2 x kick ball change"
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
        return f"{_plain_counts(found['counts'])}  {text[found.end() :]}"
    if (found := _WORD_COUNTS.match(text)) is not None or (found := _WORD_BEFORE.match(text)) is not None:
        return f"{_counts_of_words(found['counts'])}  {text[found.end() :]}"
    if (found := _SLASHED.match(text)) is not None and int(found["b"]) == int(found["a"]) + 1:
        return f"{found['a']}-{found['b']}  {text[found.end() :]}"
    return _JOINED_AND.sub(r"\1", text, count=2) if _JOINED_AND.search(text[:12]) else None


def _plain_counts(text: str) -> str:
    run = re.fullmatch(r"([1-9])([1-9])([1-9])([1-9]?)", text.strip())
    if run is not None:  # "123", "456"
        digits = [int(d) for d in run.groups() if d]
        if all(b == a + 1 for a, b in itertools.pairwise(digits)):
            return f"{digits[0]}-{digits[-1]}"
    if (
        listed := re.fullmatch(rf"\s*(\d{{1,2}})(?:\s?{_DASH}\s?\d{{1,2}})+?\s?{_DASH}\s?(\d{{1,2}})\s*", text)
    ) is not None:
        return f"{listed[1]}-{listed[2]}"  # "4-5-6"
    return _JOINED_AND.sub(r"\1", re.sub(r"\band\b", "&", text, flags=re.IGNORECASE)).strip()


def _counts_of_words(text: str) -> str:
    """ "five and six" as "5-6"; "three and four" is the same two counts, "seven to eight" a range."""
    numbers = [number_of(word) for word in re.findall(NUMBER, text, re.IGNORECASE)]
    if len(numbers) >= 2 and numbers[-1] > numbers[0]:
        return f"{numbers[0]}-{numbers[-1]}"
    return str(numbers[0]) if numbers else text


def _behind(line: Line, head: Counts | None) -> list[Line]:
    """ "Step R fwd (1), touch L (2)": a piece for each count in brackets. Where counts stand at the head as well, those
    in brackets must lie among them."""
    if "(" not in line.text and "[" not in line.text:
        return []
    marks = [m for m in _BRACKETED.finditer(line.text) if m.start() > 0]
    if len(marks) > 1 and marks[0].group()[0] == "(":  # "[9]" is where it faces then
        marks = [m for m in marks if m.group()[0] == "("]
    if not marks or not _steps_before(line.text[: marks[0].start()], head):
        return []
    last = line.text[marks[-1].end() :].strip(" .,;")
    if head is not None and not (_among(marks, head) and (len(marks) > 1 or last)):
        return []
    if head is None and len(marks) == 1 and marks[0].group()[0] == "[" and (not last or _ONLY_COUNTS.fullmatch(last)):
        return []
    # "Basic forward (1-3)  L fwd, R tog, L in place"
    if len(marks) == 1 and len(last) > 8 and not last.startswith("("):
        label = line.text[: marks[0].start()].strip(" ,;.:-")
        told = f"{label}: {last}" if re.match(r"^[A-Za-z]", last) else f"{label} {last}"
        return [Line(line.number, line.column, f"{_plain_counts(marks[0]['counts'])}  {told}", False)]
    return _pieces(line, marks, last)


def _steps_before(text: str, head: Counts | None) -> bool:
    """Whether the words before the first bracket can be a step; a bracket behind "restart on wall" counts no steps."""
    if head is None and not re.search(r"[A-Za-z]{2}|\b[RL]\b", text):
        return False
    return not re.search(r"\b(?:counts?|walls?|section|tag|restart|bridge|intro)\b", text, re.IGNORECASE)


# "..., to 3 o'clock.", "You should see the 9 o'clock wall.": where the step before ends.
_FACED = re.compile(
    r"^(?:(?:and\s+|now\s+|so\s+|then\s+|that(?:['\u2019]s|\s+is)\s+|this\s+is\s+|you(?:['\u2019](?:re|ll)|\s+are|\s+should|\s+will|\s+now)?\s+|be\s+|see\s+|face\s+|facing\s+|looking\s+|home\s+|back\s+|to\s+|at\s+|the\s+)+)"
    r"(?P<hour>1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)(?:\s+wall)?\s*(?:[.,;]\s*|$)",
    re.IGNORECASE,
)
_FROM_THE_TOP = re.compile(r"[.;]?\s*\b(?:begin|start)\s+(?:again|over)\b.*$", re.IGNORECASE)


def _pieces(line: Line, marks: list[re.Match[str]], last: str) -> list[Line]:
    pieces: list[Line] = []
    start = 0
    for mark in marks:
        words = line.text[start : mark.start()].strip(" ,;.")
        start = mark.end()
        if pieces and (faced := _FACED.match(words)) is not None and faced.end() < len(words):
            pieces[-1] = Line(line.number, line.column, f"{pieces[-1].text} ({faced['hour']}:00)", False)
            words = words[faced.end() :].strip(" ,;.")
        if (
            words.startswith(":") and ". " in words
        ):  # the step before told out: "(1&2): kick, step, step. The same again (3&4)"
            words = words.rsplit(". ", 1)[1]
        if words.lower().startswith(("and ", "then ")):
            words = words.split(" ", 1)[1]
        if not words:
            return []
        counts = _plain_counts(mark["counts"])
        pieces.append(Line(line.number, line.column, f"{counts}  {_once_more(words, counts)}", False))
    last = _FROM_THE_TOP.sub("", last)
    if (faced := _FACED.match(last)) is not None:
        last = f"({faced['hour']}:00) {last[faced.end() :]}".strip()
    if last:
        pieces[-1] = Line(line.number, line.column, f"{pieces[-1].text} {last}", False)
    return pieces


_ALL_AGAIN = re.compile(
    r"(?:then\s+)?(?:do|dance|repeat)?\s*(?:all\s+(?:of\s+)?(?:that|this|it)|the\s+(?:whole\s+)?(?:lot|same)|that|it\s+all|same)\s*(?:again|once\s+more)",
    re.IGNORECASE,
)


def _once_more(words: str, counts: str) -> str:
    """ "Do all of that again (5, 6, 7, 8)": the counts before, as many."""
    numbers = [int(n) for n in re.findall(r"\d+", counts)]
    if _ALL_AGAIN.fullmatch(words) is None or len(numbers) < 2 or numbers[0] < numbers[-1] - numbers[0] + 2:
        return words
    length = numbers[-1] - numbers[0] + 1
    return f"repeat {numbers[0] - length}-{numbers[0] - 1}"


def _among(marks: list[re.Match[str]], head: Counts) -> bool:
    numbers = {beat.number for beat in head.beats}
    told = [read_counts(f"{_plain_counts(m['counts'])} x") for m in marks]
    return len(head.beats) > 1 and all(
        c is not None and all(b.number in numbers or b.number == 0 for b in c.beats) for c in told
    )


_BEFORE_ON = re.compile(
    r"(?:^|[.,;]\s*(?:and\s+|then\s+)*|\band\s+)on\s+counts?\s+(?P<counts>\d{1,2}(?:\s*(?:,\s*and|,|and|to|&|-|\u2013)\s*\d{1,2})*)\s*,?\s+",
    re.IGNORECASE,
)


def _each_on(line: Line) -> list[Line]:
    """ "On count 1 rock forward, on count 2 recover": counts before the steps, several in a line."""
    marks = list(_BEFORE_ON.finditer(line.text))
    if not marks or marks[0].start() > 0 or (len(marks) < 2 and "on count" not in line.text[marks[0].end() :].lower()):
        return []
    pieces = []
    for n, mark in enumerate(marks):
        words = line.text[mark.end() : marks[n + 1].start() if n + 1 < len(marks) else None].strip(" ,;.")
        numbers = re.findall(r"\d+", mark["counts"])
        counts = f"{numbers[0]}-{numbers[-1]}" if len(numbers) > 1 else numbers[0]
        further = list(_ON.finditer(words))
        if (
            further
            and (cut := max(words.rfind(", ", 0, further[0].start()), words.rfind(" then ", 0, further[0].start()))) > 0
        ):
            pieces.append(Line(line.number, line.column, f"{counts}  {words[:cut].strip(' ,')}", False))
            pieces += _on_counts(Line(line.number, line.column, words[cut:].strip(" ,"), False), least=1)
        else:
            pieces.append(Line(line.number, line.column, f"{counts}  {words}", False))
    return [piece for piece in pieces if piece.text.split("  ", 1)[-1]]


_ON = re.compile(
    r"\s*(?:,\s*)?\bon\s+(?:counts?\s+)?(?P<counts>[1-9]\d?(?:\s*(?:,|and|&|-|\u2013|to)\s*\d{1,2})*)(?=\s*(?:[.,;:)(]|and\b|then\b|with\b|$))",
    re.IGNORECASE,
)


def _on_counts(line: Line, least: int = 2) -> list[Line]:
    """ "Right foot to the side on 1 and touch the left next to it on 2": a piece for each."""
    marks = list(_ON.finditer(line.text)) if " on " in line.text else []
    if len(marks) < least or (least > 1 and not re.match(r"\D*[12]\b", marks[0]["counts"])):
        return []
    pieces: list[Line] = []
    start = 0
    for mark in marks:
        words = re.sub(r"^[\s,;.]*(?:(?:and|then)\s+)*", "", line.text[start : mark.start()], flags=re.IGNORECASE)
        start = mark.end()
        if not words:
            return []
        numbers = re.findall(r"\d+", mark["counts"])
        counts = f"{numbers[0]}-{numbers[-1]}" if len(numbers) > 1 else numbers[0]
        pieces.append(Line(line.number, line.column, f"{counts}  {words.strip()}", False))
    rest = line.text[start:].strip(" ,;.")
    if rest.startswith("("):
        pieces[-1] = Line(line.number, line.column, f"{pieces[-1].text} {rest}", False)
    return pieces


_AFTER_COMMA = re.compile(rf",\s+(?P<counts>{_COUNTS})\s*(?=\.(?:\s|$)|\()", re.IGNORECASE)


def _after_commas(line: Line, expected: int) -> list[Line]:
    """ "R kick ball change, 1&2. And again, R kick ball change, 3&4.": a piece for each sentence."""
    marks = list(_AFTER_COMMA.finditer(line.text))
    counts = read_counts(f"{_plain_counts(marks[0]['counts'])}  x") if marks else None
    if counts is None or not counts.beats or counts.beats[0].number not in ({1, expected} if expected else {1}):
        return []
    last = line.text[marks[-1].end() :].strip(" .,;")
    if last and not last.startswith("(") and STEP_WORD.search(last):
        return []
    pieces = _pieces(line, marks, last if last.startswith("(") else "")
    return [Line(p.number, p.column, _AND_AGAIN.sub("  ", p.text), False) for p in pieces]


_AND_AGAIN = re.compile(r"\s{2}(?:and\s+)?again,\s+(?=\S)", re.IGNORECASE)


def shifted(line: Line, by: int) -> Line:
    """The step line with its counts moved on."""
    counts = read_counts(line.text)
    if counts is None or not by:
        return line
    head = re.sub(r"\d+", lambda found: str(int(found.group()) + by), line.text[: counts.end])
    return Line(line.number, line.column, head + line.text[counts.end :], False, line.source)


def _at_end(line: Line, expected: int) -> list[Line]:
    """ "Right shuffle forward   3&4", where those are the counts that come next."""
    found = _TRAILING.match(line.text)
    if found is None or found["words"].endswith(" from"):
        return []
    counts = read_counts(f"{_plain_counts(found['counts'])}  x")
    if counts is None or not counts.beats:
        return []
    first = next((beat.number for beat in counts.beats if not beat.part), counts.beats[0].number)
    if first not in ({1, expected} if expected else {1}):
        return []
    if counts.beats[-1].number - counts.beats[0].number > 7:
        return []
    return [Line(line.number, line.column, f"{_plain_counts(found['counts'])}  {found['words'].strip(' ,:')}", False)]


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
        headed = _headed(rest)
        further = read_counts(headed.text) if headed is not None else None
        if headed is None or further is None:
            yield rest
            return
        line, counts = headed, further


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


def _next_counts(text: str, counts: Counts) -> int | None:
    """Where the next counts stand in the text behind these, None where there are none."""
    last = counts.beats[-1]
    wanted = {last.number, last.number + 1} if last.part else {last.number + 1}
    for found in _NEXT.finditer(text, counts.end):
        apart = text[: found.start()].endswith("  ")  # "RF cross over  6 LF back"
        if found.start() <= counts.end or (not apart and _NO_COUNTS_BEFORE.search(text[: found.start()])):
            continue
        listed = text[: found.start()].endswith(", ") and text[found.end() :].startswith(
            "heel"
        )  # "5 heels out, 6 heels in"
        if _NO_COUNTS_AFTER.match(text[found.end() :]) and not listed:
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
