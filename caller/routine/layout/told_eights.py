"""Sections told behind their label without a count: "1st 8: Step right forward, touch left beside right; step left ...".

Where no line of counts follows, what stands behind the label is no name: it is all that the section's counts hold.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import reduce

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.headings import read_heading
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of

_EIGHT = re.compile(
    rf"^(?P<label>(?:the\s+)?(?:{ORDINAL})\s+(?P<long>{NUMBER})(?:\s+counts?)?)\s*[:.\u2013-]\s+(?P<words>(?:1(?:[-\u2013]\d)?\s+)?[A-Z\u00bc-\u00be].+)$",
    re.IGNORECASE,
)
# "Eight counts going forward and back:", above steps
_HEADED = re.compile(
    r"^(?:eight|8|six|6|twelve|12)\s+(?:counts|beats)\s+(?:of\s+)?(?P<name>[a-z][^.:()\d]{3,50}):$", re.IGNORECASE
)
_LEAST_HEADED = 2
_LONG = (4, 6, 8, 12)
_LEAST = 3  # steps
_MOST = 4  # lines
_COUNTED = re.compile(r"\(\s?\d(?!\d?[:.]\d\d|\d?\s*o['\u2019]?\s?clock)|(?:\s{2}|\.)\s*\d[\d&\s,\u2010-\u2015-]*$")
_TOLD_COUNTS = re.compile(r"\(\s?\d|\b(?:on|counts?|beats?|for)\s+[1-8]\b", re.IGNORECASE)
# "First eight. 1 touch the right heel forward, 2 step it beside the left, 3-4 ..."
_RUNS = re.compile(r"1(?:[-\u2013]\d)?\s+[A-Za-z]")
_EACH_COUNT = re.compile(r",\s+(?=\d(?:\s?[-\u2013&]\s?\d)?\s+[A-Za-z])")
_BEHIND = re.compile(
    r"(?P<words>[A-Za-z\u00bc-\u00be][^,.;\d(]{2,60}?)\s(?P<counts>\d(?:\s?[-\u2013&]\s?\d)?&?)(?P<aside>\s*\([^()]{1,80}\))?\s*(?:[,.;]\s*(?:and\s+)?(?:then\s+)?(?:an?\s+)?|$)"
)
_PARTED = re.compile(r"[,;]\s")
_NOW_FACING = re.compile(r"[.;,]\s+now\s+(?:at|facing)\s+(?P<at>(?:1[0-2]|[1-9])[:.]00)\s*\.?$", re.IGNORECASE)


def told_eight(lines: Sequence[Line], n: int) -> tuple[int, list[Line]]:
    """How many lines the section at ``n`` has, and its label and steps as lines; (0, []) where it is told otherwise."""
    found = _EIGHT.match(unstarred(lines[n].text))
    if found is None or (long := number_of(found["long"])) not in _LONG:
        return 0, []
    end = n + 1
    while end < len(lines) and end - n < _MOST and _goes_on(lines[end - 1], lines[end]):
        end += 1
    below = [x.text for x in lines[n + 1 : end + 1] if not x.text.lower().startswith("and ")]  # "And begin again!"
    if any(read_counts(text) is not None or _COUNTED.search(text) for text in below):
        return 0, []
    words = reduce(lambda a, b: f"{a} {b}", (unstarred(line.text) for line in lines[n + 1 : end]), found["words"])
    if (
        kinds.STEP_WORD.search(words) is not None
        and len(own := _EACH_COUNT.split(words)) >= _LEAST
        and _RUNS.match(words)
    ):
        label = replace(lines[n], text=found["label"], exact=False)
        return end - n, [label, *(replace(lines[n], text=piece.strip(" ."), exact=False) for piece in own)]
    if kinds.STEP_WORD.search(words) is not None and (own := _counts_behind(words, long)):
        label = replace(lines[n], text=found["label"], exact=False)
        return end - n, [label, *(replace(lines[n], text=piece, exact=False) for piece in own)]
    if kinds.STEP_WORD.search(words) is None or len(_PARTED.split(words)) < _LEAST or _TOLD_COUNTS.search(words):
        return 0, []
    label = replace(lines[n], text=found["label"], exact=False)
    words = _NOW_FACING.sub(r" (\g<at>)", words).rstrip(". ")
    return end - n, [label, replace(lines[n], text=f"1-{long}  {words}", exact=False)]


def _counts_behind(words: str, long: int) -> list[str]:
    """ "Rock back on the right 1, recover left 2 (9:00), ..., left coaster step 7&8 (left back, ...)": a line for each."""
    pieces, at, last = list[str](), 0, 0
    while at < len(words) and (found := _BEHIND.match(words, at)) is not None:
        first, *further = re.findall(r"\d", found["counts"])
        if int(first) != last + 1:
            return []
        last = int(further[-1] if further else first)
        pieces.append(f"{found['counts']}  {found['words'].strip()}{found['aside'] or ''}")
        at = found.end()
    return pieces if at == len(words) and last == long and len(pieces) >= _LEAST else []


def _goes_on(line: Line, following: Line) -> bool:
    text = unstarred(following.text)
    if following.number != line.number + 1 or read_counts(text) is not None or read_heading(text) is not None:
        return False
    return (
        _EIGHT.match(text) is None and not line.text.rstrip().endswith(".") and kinds.STEP_WORD.search(text) is not None
    )


def eights_headed(lines: list[Line]) -> list[Line]:
    """ "Eight counts going forward and back:", "Eight counts going to the sides:": sections, as they are numbered elsewhere."""
    headed = {n: found for n, line in enumerate(lines) if (found := _HEADED.match(line.text)) is not None}
    if len(headed) < _LEAST_HEADED:
        return lines
    for number, (n, found) in enumerate(headed.items(), 1):
        text = f"Section {number}: {found['name']}"
        lines[n] = replace(lines[n], text=text, exact=False, source=lines[n].source or lines[n].text)
    return lines
