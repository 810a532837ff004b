"""What happens on one wall, told in brackets or behind "//" at the end of a step line, without the event's name: "(6th wall:
you are at 12:00, RF step forward, hold, hold, the end)", "(1st wall only: hold for 3 counts, then begin the 2nd wall)".

Each becomes a line of its own below the step line, with the name.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from caller.routine.count import Counts, read_counts
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of

_ASIDE = re.compile(
    r"\s+(?:[(\[{]\s*(?P<inner>(?:[^()\[\]{}]|\([^()]{0,60}\)){8,200}+)[)\]}]|/{2,}\s*(?P<tail>.{8,200}))\s*\.?$"
)
_WALL = rf"(?:(?:the\s+)?(?P<nth>{ORDINAL})(?:\s*(?:and|&|,|\+)\s*(?:the\s+)?(?P<and>{ORDINAL}))?(?P<last>\s+and\s+(?:last|final))?\s+wall|walls?\s+(?P<n>\d{{1,2}}|{NUMBER})(?:\s*(?:and|&|,|\+)\s*(?P<more>\d{{1,2}}|{NUMBER}))?|W(?P<w>\d{{1,2}}))(?!\w)"
_TELLS = re.compile(
    rf"^(?P<ends>(?:end\s+of\s+(?:the\s+)?dance|the\s+end|final|finish|ending)\s*[,:(\u2010-\u2015-]*\s*)?(?:on\s+|in\s+|during\s+)?(?P<over>(?:at\s+)?(?:the\s+)?end\s+of\s+|after\s+)?{_WALL}(?:\s*\(\s*(?:the\s+)?last(?:\s+(?:one|wall))?\s*\)|\s+only)?\s*(?:[:,=]|\s[\u2010-\u2015-])\s*(?P<says>.+)$",
    re.IGNORECASE,
)
_NAMED = re.compile(
    r"\b(?:re-?\s?start|tag|start\s+(?:again|over)|begin\s+again|instead|replace|change)\w*\b", re.IGNORECASE
)
_BRIDGE = re.compile(
    r"^(?:an?\s+)?(?:little\s+|short\s+)?bridge(?:\s+of)?\s*(?P<long>\d{1,2}\s+(?:counts|beats))?\s*(?:[=:,]|\s[\u2010-\u2015-])\s*",
    re.IGNORECASE,
)
_END = re.compile(
    r"[,;.]?\s*(?:\band\s+)?(?:=\s*)?\b(?:(?:that\s+is\s+|that['\u2019]s\s+)?the\s+end|stop|finished|fin|(?:=\s*)?ending(?:\s*,\s*\d{1,2}\s+(?:counts?|beats?))?|end\s+of\s+(?:the\s+)?dance)\W*$",
    re.IGNORECASE,
)
_STANDS = re.compile(
    r"^(?:(?:you(?:['\u2019]re|\s+are)\s+(?:now\s+)?(?:at|facing)|facing|now\s+at|look(?:ing)?\s+(?:at|to))\s+(?:the\s+)?(?:front|home|back|\d{1,2}[:.]\d\d|\d{1,2}\s*o['\u2019]?clock)(?:\s+wall)?(?:\s+(?:now|already))?\s*[,;:]\s*(?:and\s+)?)+",
    re.IGNORECASE,
)
_PUT_IN = re.compile(
    r"^(?:(?:you\s+|we\s+|just\s+|please\s+)*(?:hold|wait|pause|add|repeat|put\s+in|freeze|stand)\b|(?:\w+\s+){0,2}?extra\b)",
    re.IGNORECASE,
)
_THESE = re.compile(
    rf"\b(?:repeat|dance|do)\s+(?:these|the|those)\s+(?:same\s+)?(?:last\s+)?(?P<n>{NUMBER})\s+(?:counts|beats|steps)\b(?:\s+(?:once(?:\s+more)?|again|twice))?",
    re.IGNORECASE,
)
_GOES_ON = re.compile(
    r"[,;.]?\s*\b(?:and\s+)?(?:then|before)\s+(?:you\s+|we\s+)?(?:begin|beginning|start|starting|carry|go|going|on|\d).*$",
    re.IGNORECASE,
)
_SENTENCE_ON = re.compile(r"[.;!]\s+(?=[A-Z][a-z])|\s+[\u2010-\u2015-]\s+(?=no\b)")
_PIECE = re.compile(r",\s*(?:and\s+|then\s+)?|\s+and\s+(?=hold|touch|step|stomp)", re.IGNORECASE)
_STEP_FIRST = re.compile(
    r"(?:(?:[RL]F?|right|left)\s+)?(?:big\s+)?(?:step|stomp|walk|touch|rock|cross|point|tap|sway|close)\b",
    re.IGNORECASE,
)
_THAT_IS = re.compile(r"[,;]?\s*\b(?:i\.e\.|that\s+is|so|which\s+is)\s*,?\s.*$", re.IGNORECASE)


def asides_apart(lines: Sequence[Line]) -> list[Line]:
    """The lines, each such aside as a line of its own below its step line."""
    return [told for line in lines for told in _told(line)]


def _told(line: Line) -> Iterator[Line]:
    counts = read_counts(line.text)
    aside = _ASIDE.search(line.text) if counts is not None else None
    event = _event((aside["inner"] or aside["tail"]).strip(), counts) if aside is not None and counts else ""
    if aside is None or not event:
        yield line
        return
    yield replace(line, text=line.text[: aside.start()], exact=False, source=line.source or line.text)
    yield replace(line, text=event, exact=False, source=" ")


def _event(words: str, counts: Counts) -> str:
    """ "Ending on wall 6 here: RF step forward, hold, hold"; "" where it is something else, or has a name already."""
    found = _TELLS.match(words)
    if found is None or _NAMED.search(words) is not None:
        return ""
    says = found["says"]
    wall = _walls(found)
    if found["ends"] or found["last"] or _END.search(says) is not None:
        return f"(Ending on {wall} here: {_STANDS.sub('', _END.sub('', says))})"
    bridge = _BRIDGE.match(says)
    if bridge is None and not found["over"] and (otherwise := _danced_otherwise(says, counts)):
        return f"(Change on {wall} here: {otherwise})"
    if bridge is None and not found["over"] and _PUT_IN.match(says) is None:
        return ""
    long = f" ({bridge['long']})" if bridge is not None and bridge["long"] else ""
    says = _GOES_ON.sub("", says[bridge.end() :] if bridge is not None else says)
    if (again := _THESE.search(says)) is not None:
        last = counts.beats[-1].number
        says = f"repeat counts {last - number_of(again['n']) + 1}-{last} of this section"
    else:
        says = _THAT_IS.sub("", says)
    where = f"at the end of {wall}" if found["over"] else f"on {wall} here"
    told = f"Tag {where}{long}: {says}"
    return told if found["over"] else f"({told})"  # in brackets: the steps below are the dance's


def _danced_otherwise(says: str, counts: Counts) -> str:
    """ "RF step to the right, LF touch beside RF, hold. No drag this time", on three counts: in the place of the line's."""
    steps = _SENTENCE_ON.split(says)[0].strip(" .!;")
    first, last = counts.beats[0].number, counts.beats[-1].number
    if _STEP_FIRST.match(steps) is None or len(_PIECE.split(steps)) != last - first + 1 or last == first:
        return ""
    return f"{first}-{last}  {steps}"


def _walls(found: re.Match[str]) -> str:
    numbers = [number_of(word) for word in (found["nth"], found["and"], found["n"], found["more"], found["w"]) if word]
    return f"wall{'s' if numbers[1:] else ''} {' and '.join(map(str, numbers))}"
