"""Habits of typing that are undone before a line is read: hours as "9 h", counts written together as "12",
easier ways that are told on behind the steps."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import takewhile

from caller.routine.layout import kinds
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, ORDINAL
from caller.routine.layout.own_signs import usual_signs

_HOUR = re.compile(r"(?<=[a-z),.(\s])(?P<open>\(?)\b(?P<hour>12|9|6|3)\s?h\b(?P<close>\)?)(?!\s*\d)")
_HOURS = {"twelve": 12, "three": 3, "six": 6, "nine": 9}
_HOUR_IN_WORDS = re.compile(r"\b(?P<hour>twelve|three|six|nine)\s+o['\u2019]?\s?clock\b", re.IGNORECASE)
# "12 walk forward. 34 rock": counts written together.
_TOGETHER = re.compile(
    r"(?P<before>^\W*|[.;:?!]\s+|^\W*S(?:ec(?:tion)?)?\s?\d{1,2}[:.]?\s+)(?P<pair>12|34|56|78)(?=\s+(?:[A-Za-z\u00bc-\u00be]|1/))"
)
# "3 4  1/4 R stepping R fwd (3), brush L": which way it then faces, in a line that begins with its counts
_HOUR_OF_TURN = re.compile(
    r"^[\W]*[1-8&][\d&\s,\u2013-]*[.:)]?\s+(?=\S).*?(?:1/[248]|3/4|[\u00bc-\u00be]|\b(?:half|quarter)\b)[^,;()]*\((?P<hour>12|9|6|3)\)"
)
_BRACKETED_NUMBER = re.compile(r"\((?:\d{1,2}|&)(?:\s?[&,\u2013-]\s?\d{0,2})*\)")
# "turn 1/2 right stepping R forward or simply walk forward L, R": an easier way, as if in brackets
_OR_SIMPLY = re.compile(
    r"(?<=[\w)])[,;]?\s+or\s+(?P<way>(?:simply|just|easier:?|if\s+you\s+prefer,?)\s+[a-z][^()]{4,60}?)(?=\s{2,}|\s*[(\[]?\d{1,2}:\d\d|\s*$)"
)
# "The last eight have the turn in them. Rock forward ...": a label in a sentence of its own
_LABEL_SENTENCE = re.compile(
    rf"^(?P<label>the\s+(?:{ORDINAL}|last|next)\s+(?:eight|8|six|6|set|section))(?:\s+counts)?\s+(?P<says>(?:go|goes|is|are|has|have|make|makes|take|takes|begin|begins|start|starts|bring|brings|move|moves|travel|travels|stay|stays)\b[^.:(!]{{3,70}}?)(?P<end>[.:!])\s+(?=[A-Z].*\(\d)",
    re.IGNORECASE,
)
# "[Wed 20:14] Fenella (teacher): *S1* 1-2 rock R fwd": who wrote it and when, before each line
_WRITTEN_BY = re.compile(
    r"^\[?(?:[A-Za-z]{2,9}[,.]?\s+|\d{1,4}[./-]\d{1,2}(?:[./-]\d{2,4})?,?\s+)?\d{1,2}[:.]\d\d(?::\d\d)?\s?(?:[ap]m)?\]?\s*[-\u2013]?\s*[A-Za-z][\w .()'\u2019-]{1,30}:\s+",
    re.IGNORECASE,
)
_LIST_HEAD = re.compile(r"^\W*(?P<kind>restart|tag|bridge)s\W*$", re.IGNORECASE)
_LISTED = re.compile(
    r"^\(?\d\s?[).]\s+(?=(?:(?:on|in|after|at\s+the\s+end\s+of|end\s+of)\s+)?(?:the\s+)?(?:wall\s+\w|W\d|\d(?:st|nd|rd|th)\s+wall|\w+(?:st|nd|rd|th)\s+wall))",
    re.IGNORECASE,
)
# "(1, 2)" and "(3 and 4)" in one sheet: the second is a half beat's
_LISTED_COUNTS = re.compile(r"\(\d\s*,\s*\d(?:\s*,\s*\d)*\)")
_HALF_COUNT = re.compile(r"\d\s?&|&\s?\d")
_ANDED_COUNTS = re.compile(r"(?P<a>(?:\(|(?<=\bon )|(?<=\bOn ))\d)\s+and\s+(?P<b>\d)(?=\)|\b)")
_TAG_HEAD = re.compile(
    rf"^\W*(?:(?:the\s+)?same\s+)?(?:(?P<long>{NUMBER})[\s-]+(?:counts?|beats?)\s+)?tags?(?:\s+(?:both|each|every|all)\s+times?|\s+twice)?\s*:?\W*$",
    re.IGNORECASE,
)
_ITEM_OF_WALL = re.compile(
    r"^(?:-\s*)?(?:after|(?:at\s+)?(?:the\s+)?end\s+of)\s+(?:the\s+)?(?:wall\s+\d|\d\w\w\s+wall)", re.IGNORECASE
)
_LEAST = 3  # lines that share the habit


def typed_plainly(lines: list[Line]) -> list[Line]:
    """The lines with those habits undone; counts written together only where a sheet has three such."""
    lines = _halves_by_and(_tags_in_a_list(_events_in_a_list(_without_writers(lines))))
    pairs = sum(_TOGETHER.search(line.text) is not None for line in lines)
    return [_plain(line, pairs >= _LEAST) for line in lines]


def _without_writers(lines: list[Line]) -> list[Line]:
    """A chat's lines without the time and the name before each."""
    written = {n: found for n, line in enumerate(lines) if (found := _WRITTEN_BY.match(line.text))}
    for n, found in written.items() if len(written) > _LEAST else ():
        lines[n] = replace(lines[n], text=lines[n].text[found.end() :], exact=False)
    return lines


def _halves_by_and(lines: list[Line]) -> list[Line]:
    """ "(3 and 4)" as "(3&4)" in a sheet that has "(1, 2)" for whole counts, and never "&"."""
    listed = sum(len(_LISTED_COUNTS.findall(line.text)) for line in lines)
    if listed < _LEAST or any(_HALF_COUNT.search(line.text) for line in lines):
        return lines
    for n, line in enumerate(lines):
        if (plain := _ANDED_COUNTS.sub(r"\g<a>&\g<b>", line.text)) != line.text:
            lines[n] = replace(line, text=plain, exact=False)
    return lines


def _events_in_a_list(lines: list[Line]) -> list[Line]:
    """ "RESTARTS", and below it "1) wall 3 after 32 counts", "2) wall 6 ...": each an event of that kind, no steps."""
    kind, at = "", 0
    for n, line in enumerate(lines):
        if (head := _LIST_HEAD.match(line.text)) is not None:
            kind, at = head["kind"].lower(), n
        elif kind and (listed := _LISTED.match(line.text)) is not None:
            lines[at] = replace(lines[at], text="", exact=False)
            lines[n] = replace(line, text=f"{kind.capitalize()} {line.text[listed.end() :]}", exact=False)
        elif line.text:
            kind = ""
    return lines


def _tags_in_a_list(lines: list[Line]) -> list[Line]:
    """ "Same four-count tag both times:", and below it "after wall 3 ..." and "after wall 6 ...": a tag for each."""
    for n, line in enumerate(lines):
        if (head := _TAG_HEAD.match(line.text)) is None:
            continue
        items = list(takewhile(lambda m: _ITEM_OF_WALL.match(lines[m].text), range(n + 1, len(lines))))
        for m in items if len(items) > 1 else ():
            long = f" ({head['long']} counts)" if head["long"] else ""
            lines[m] = replace(lines[m], text=f"Tag{long} {lines[m].text}", exact=False)
        if len(items) > 1:
            lines[n] = replace(line, text=" ", exact=False)
    return lines


def _plain(line: Line, in_pairs: bool) -> Line:
    text = usual_signs(line.text)
    if "clock" in text:
        text = _HOUR_IN_WORDS.sub(lambda found: f"{_HOURS[found['hour'].lower()]} o'clock", text)
    if kinds.STEP_WORD.search(text) or "wall" in text.lower():
        text = _HOUR.sub(r"\g<open>\g<hour>:00\g<close>", text)
    if (turned := _HOUR_OF_TURN.search(text)) is not None and len(_BRACKETED_NUMBER.findall(text)) == 1:
        text = f"{text[: turned.start('hour') - 1]}({turned['hour']}:00){text[turned.end() :]}"
    if " or " in text and kinds.STEP_WORD.search(text):
        text = _OR_SIMPLY.sub(r" (or \g<way>)", text)
    text = _LABEL_SENTENCE.sub(r"\g<label>, \g<says>. ", text)
    if in_pairs:
        text = _TOGETHER.sub(lambda found: f"{found['before']}{found['pair'][0]}-{found['pair'][1]}", text)
    return line if text == line.text else replace(line, text=text, exact=False)
