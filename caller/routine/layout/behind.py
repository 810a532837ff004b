"""Step lines with their counts behind the steps or among them: in brackets, after "on", at the line's end."""

from __future__ import annotations

import re

from caller.routine.count import Counts, read_counts
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.marks import COUNTS, plain_counts
from caller.routine.layout.numbers import ORDINAL

_BRACKETED = re.compile(
    rf"[\[(]\s*(?:counts?\s+|cts?\.?\s+|beats?\s+)?(?P<counts>{COUNTS}|[1-9]{{3,4}})\s*[\])]", re.IGNORECASE
)
# "[1-2-3]", "[5-8]", but not "[9-16]" nor "[1-8]": that heads a section
_LISTED = re.compile(
    r"\d\s?[-,\u2010-\u2015]\s?\d\s?[-,\u2010-\u2015]\s?\d|&|^(?:1\s?[-\u2013]\s?[2-4]|2\s?[-\u2013]\s?[34]|3\s?[-\u2013]\s?[4-6]|4\s?[-\u2013]\s?[56]|5\s?[-\u2013]\s?[6-8]|6\s?[-\u2013]\s?[78]|7\s?[-\u2013]\s?[89])$"
)
_ONLY_COUNTS = re.compile(COUNTS, re.IGNORECASE)
_TRAILING = re.compile(
    rf"^(?P<words>.*?[A-Za-z.)\]½¼¾\d])(?:\s{{2,}}|\s*\.{{2,}}\s*|\s+\.\s+|\.\s+|\s*[:,\-\u2010-\u2015]\s+|\s+(?:counts?|cts?\.?|on)\s+)\(?(?P<counts>{COUNTS})\)?\s*\.?$",
    re.IGNORECASE,
)


_TURNED = re.compile(r"\bturn|1/[248]|[\u00bc\u00bd\u00be]|\b(?:quarter|half|pivot)\b", re.IGNORECASE)
_CLOCK_BRACKETS = frozenset(("[3]", "[6]", "[9]", "[12]"))  # behind a turn: where it faces


def counted_behind(line: Line, head: Counts | None) -> list[Line]:
    """ "Step R fwd (1), touch L (2)": a piece for each count in brackets. Where counts stand at the head as well, those
    in brackets must lie among them."""
    if "(" not in line.text and "[" not in line.text:
        return []
    marks = [m for m in _BRACKETED.finditer(line.text) if m.start() > 0]
    if len(marks) > 1 and marks[0].group()[0] == "(":  # "[9]" is where it faces then
        marks = [m for m in marks if m.group()[0] == "("]
    if head is not None and marks and _TURNED.search(line.text) and all(m.group() in _CLOCK_BRACKETS for m in marks):
        return []
    if not marks or not _steps_before(line.text[: marks[0].start()], head):
        return []
    last = line.text[marks[-1].end() :].strip(" .,;")
    if head is not None and not (_among(marks, head) and (len(marks) > 1 or last)):
        return []
    alone = head is None and len(marks) == 1 and marks[0].group()[0] == "["
    if alone and (not last or _ONLY_COUNTS.fullmatch(last)) and not _LISTED.search(marks[0]["counts"]):
        return []
    # "Basic forward (1-3)  L fwd, R tog, L in place"
    at_head = head is None or not marks or _first_and_last(plain_counts(marks[0]["counts"]))[0] == head.beats[0].number
    if len(marks) == 1 and at_head and len(last) > 8 and not last.startswith("("):
        label = line.text[: marks[0].start()].strip(" ,;.:-")
        told = f"{label}: {last}" if re.match(r"^[A-Za-z]", last) else f"{label} {last}"
        return [Line(line.number, line.column, f"{plain_counts(marks[0]['counts'])}  {told}", False)]
    return _pieces(line, marks, last, head)


_OVER_COUNTS = re.compile(
    r"\b(?:over|for|in|on)\s+(?:the\s+)?(?:next\s+|last\s+)?(?:two|three|four|six|\d)\s+(?:counts?|beats?)\b",
    re.IGNORECASE,
)


def _steps_before(text: str, head: Counts | None) -> bool:
    """Whether the words before the first bracket can be a step; a bracket behind "restart on wall" counts no steps."""
    if head is None and not re.search(r"[A-Za-z]{2}|\b[RL]\b", text):
        return False
    text = _OVER_COUNTS.sub("", _ALL_AGAIN.sub("", text))
    return not re.search(r"\b(?:counts?|walls?|section|tag|restart|bridge|intro)\b", text, re.IGNORECASE)


# "..., to 3 o'clock.", "You should see the 9 o'clock wall.": where the step before ends.
_FACED = re.compile(
    r"^(?:(?:and\s+|now\s+|so\s+|then\s+|that(?:['\u2019]s|\s+is)\s+|this\s+is\s+|you(?:['\u2019](?:re|ll)|\s+are|\s+should|\s+will|\s+now)?\s+|be\s+|see\s+|face\s+|facing\s+|looking\s+|home\s+|back\s+|to\s+|at\s+|the\s+)+)"
    r"(?P<hour>1[0-2]|[1-9])(?::00|\s*o['\u2019]?\s?clock)(?:\s+wall)?\s*(?:[.,;]\s*|$)",
    re.IGNORECASE,
)
_TALK = re.compile(
    r"(?:you(?:['\u2019]re|\s+are|['\u2019]ll)?|now|that|this|and\s+(?:you|smile|pose|bow)|ta\b|claps?|all|everybody|hands?|arms?)\b[^()]*$",
    re.IGNORECASE,
)
_FROM_THE_TOP = re.compile(
    rf"[.;]?\s*\b(?:then\s+)?(?:begin|start)\s+(?:again|over|(?:the\s+)?{ORDINAL}\s+wall|wall\s+\d)\b.*$", re.IGNORECASE
)


_COMMA = re.compile(r"[,;]\s+(?![^()\[\]]*[)\]])")


def _one_each(line: Line, words: str, first: int, last: int) -> tuple[list[Line], str]:
    """Of "walk R, walk L, R shuffle forward (3&4)", where counts 1 and 2 come first: a line for each of the two that
    have no counts, and the words that are left; none where the words are not that many."""
    told = _COMMA.split(words)
    if not 0 < last - first + 1 < len(told):
        return [], words
    one_each = [f"{first + n}  {told[n].strip()}" for n in range(last - first + 1)]
    return [Line(line.number, line.column, text, False) for text in one_each], ", ".join(told[len(one_each) :])


def _uncounted_rest(line: Line, words: str, first: int, last: int) -> list[Line]:
    """What stands behind the last counts, where it is a step for each count that is left."""
    told = _COMMA.split(words)
    if len(told) != last - first + 1 or not all(STEP_WORD.search(one) for one in told):
        return []
    return [Line(line.number, line.column, f"{first + n}  {one.strip()}", False) for n, one in enumerate(told)]


def _first_and_last(counts: str) -> tuple[int, int]:
    numbers = [int(n) for n in re.findall(r"\d+", counts)]
    return (numbers[0], max(numbers)) if numbers and not counts.startswith("&") else (0, max(numbers, default=0))


def _first_untold(line: Line, head: Counts | None, counts: str, words: str) -> tuple[list[Line], str]:
    """ "3&4  Touch R heel fwd, clap (&), clap (4)": the first step, whose count only the head tells, and what is left."""
    first, comma, rest = words.partition(", ")
    if head is None or not comma or not rest.strip() or counts[:1] not in ("&", "a", "e") or head.beats[0].part:
        return [], words
    own = re.sub(r"^[\d&ae,\s.:)(\u2010-\u2015-]+(?=[A-Za-z\u00bc-\u00be])", "", first)
    return [Line(line.number, line.column, f"{head.beats[0].number}  {own}", False)], rest.strip()


def _pieces(line: Line, marks: list[re.Match[str]], last: str, head: Counts | None = None) -> list[Line]:
    pieces: list[Line] = []
    start = 0
    until = head.beats[0].number - 1 if head is not None else 0  # the last whole count that is told
    for mark in marks:
        words = line.text[start : mark.start()].strip(" ,;.-\u2013\u2014")
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
        counts = plain_counts(mark["counts"])
        if not pieces:
            untold, words = _first_untold(line, head, counts, words)
            pieces += untold
        begins, ends = _first_and_last(counts)
        if begins > until + 1 and (pieces or head is not None):
            before, words = _one_each(line, words, until + 1, begins - 1)
            pieces += before
        until = ends or until
        pieces.append(Line(line.number, line.column, f"{counts}  {once_more(words, counts)}", False))
    last = _said_last(last)
    if last and head is not None and (rest := _uncounted_rest(line, last, until + 1, head.beats[-1].number)):
        return [*pieces, *rest]
    if last:
        pieces[-1] = Line(line.number, line.column, f"{pieces[-1].text} {last}", False)
    return pieces


def _said_last(last: str) -> str:
    """What stands behind the last count: where it faces, and talk in brackets."""
    last = _FROM_THE_TOP.sub("", last)
    if (faced := _FACED.match(last)) is not None:
        last = f"({faced['hour']}:00) {last[faced.end() :]}".strip()
    return f"({last.rstrip('.!')})" if _TALK.match(last) and STEP_WORD.search(last) is None else last


_ALL_AGAIN = re.compile(
    r"(?:then\s+)?(?:do|dance|repeat)?\s*(?:all\s+(?:of\s+)?(?:that|this|it)|the\s+(?:whole\s+)?(?:lot|same)|that|it\s+all|same|(?:those|these|the\s+same|the)\s+(?:two|three|four|six|eight|[2-8])?\s*(?:counts|steps|beats))\s*(?:again|once\s+more|one\s+more\s+time|over\s+again)(?P<faced>\s*\(\d{1,2}:\d\d\))?",
    re.IGNORECASE,
)


def once_more(words: str, counts: str) -> str:
    """ "Do all of that again (5, 6, 7, 8)": the counts before, as many."""
    numbers = [int(n) for n in re.findall(r"\d+", counts)]
    again = _ALL_AGAIN.fullmatch(words)
    if again is None or len(numbers) < 2 or numbers[0] < numbers[-1] - numbers[0] + 2:
        return words
    length = numbers[-1] - numbers[0] + 1
    return f"repeat {numbers[0] - length}-{numbers[0] - 1}{again['faced'] or ''}"


def _among(marks: list[re.Match[str]], head: Counts) -> bool:
    numbers = {0, *(beat.number for beat in head.beats)}
    return len(head.beats) > 1 and all(_within(plain_counts(m["counts"]), numbers) for m in marks)


def _within(counts: str, numbers: set[int]) -> bool:
    told = read_counts(f"{counts} x")
    return told is not None and all(beat.number in numbers for beat in told.beats)


_BEFORE_ON = re.compile(
    r"(?:^|[.,;]\s*(?:and\s+|then\s+)*|\band\s+)on\s+counts?\s+(?P<counts>\d{1,2}(?:\s*(?:,\s*and|,|and|to|&|-|\u2013)\s*\d{1,2})*)\s*,?\s+",
    re.IGNORECASE,
)


def each_on(line: Line) -> list[Line]:
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
            pieces += on_counts(Line(line.number, line.column, words[cut:].strip(" ,"), False), least=1)
        else:
            pieces.append(Line(line.number, line.column, f"{counts}  {words}", False))
    return [piece for piece in pieces if piece.text.split("  ", 1)[-1]]


_ON = re.compile(
    r"\s*(?:,\s*)?\b(?:on\s+(?:counts?\s+)?|for\s+(?:counts?\s+)?(?=[1-9]\s?[-\u2013]\s?\d))(?P<counts>[1-9]\d?(?:\s*(?:,|and|&|-|\u2013|to)\s*\d{1,2})*)(?=\s*(?:[.,;:)(]|and\b|then\b|with\b|$))",
    re.IGNORECASE,
)


def on_counts(line: Line, least: int = 2) -> list[Line]:
    """ "Right foot to the side on 1 and touch the left next to it on 2": a piece for each."""
    marks = list(_ON.finditer(line.text)) if " on " in line.text or " for " in line.text else []
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


_AFTER_COMMA = re.compile(rf",\s+(?P<counts>{COUNTS})\s*(?=\.(?:\s|$)|\()", re.IGNORECASE)


def after_commas(line: Line, expected: int) -> list[Line]:
    """ "R kick ball change, 1&2. And again, R kick ball change, 3&4.": a piece for each sentence."""
    marks = list(_AFTER_COMMA.finditer(line.text))
    counts = read_counts(f"{plain_counts(marks[0]['counts'])}  x") if marks else None
    if counts is None or not counts.beats or counts.beats[0].number not in ({1, expected} if expected else {1}):
        return []
    last = line.text[marks[-1].end() :].strip(" .,;")
    if last and not last.startswith("(") and STEP_WORD.search(last):
        return []
    pieces = _pieces(line, marks, last if last.startswith("(") else "")
    return [Line(p.number, p.column, _AND_AGAIN.sub("  ", p.text), False) for p in pieces]


_AND_AGAIN = re.compile(r"\s{2}(?:and\s+)?again,\s+(?=\S)", re.IGNORECASE)


# "Vine R, touch L    1234", perhaps with a facing behind: "5678   [9]".
_RUN_AT_END = re.compile(r"\s{2,}(?P<run>1234|5678|123|456|12|34|56|78)(?P<faced>\s+[\[(]\d{1,2}[\])])?\s*$")
_FACED_AT_END = re.compile(
    rf"(?:\s{{2,}}|\s\.{{1,3}}\s)(?P<counts>{COUNTS})\s+(?:(?P<faced>[\[(][^()\[\]]{{1,40}}[\])])|(?P<hour>(?:12|[369])(?::00|\s?o['\u2019]?\s?clock)))\s*$",
    re.IGNORECASE,
)


_APART = re.compile(r"(?<=\s)[1-8](?:\s{1,3}[&1-8]){1,7}$")  # "1  2", "5  6  7  8"
# "Cross L over R, R to side, cross L over R 1&2", where there was no room for more
_CLOSE_BEHIND = re.compile(
    r"^(?P<words>(?!.*\b(?:counts?|repeat|walls?|section|tag|restart|beats?)\b)[^,\d]{6,},.*[A-Za-z)])\s(?P<counts>[1-8](?:&[1-8]|[-\u2013][2-8]|\s[2-8]))$",
    re.IGNORECASE,
)


def at_end(line: Line, expected: int) -> list[Line]:
    """ "Right shuffle forward   3&4", where those are the counts that come next."""
    text = _APART.sub(lambda apart: " ".join(apart[0].split()), line.text)
    text = _RUN_AT_END.sub(lambda run: f"  {plain_counts(run['run'])}{run['faced'] or ''}", text)
    if (faced := _FACED_AT_END.search(text)) is not None:
        text = f"{text[: faced.start()]} {faced['faced'] or '(' + faced['hour'] + ')'}  {faced['counts']}"
    found = _TRAILING.match(text) or _CLOSE_BEHIND.match(text)
    if found is None or found["words"].endswith(" from"):
        return []
    counts = read_counts(f"{plain_counts(found['counts'])}  x")
    if counts is None or not counts.beats:
        return []
    first = next((beat.number for beat in counts.beats if not beat.part), counts.beats[0].number)
    if first not in ({1, expected} if expected else {1}):
        return []
    if counts.beats[-1].number - counts.beats[0].number > 7:
        return []
    return [Line(line.number, line.column, f"{plain_counts(found['counts'])}  {found['words'].strip(' ,:')}", False)]
