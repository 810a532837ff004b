"""Easier ways in brackets within a step line: "(easier: walk R, L)", "[non-turners 5-6: walk L, R]", "(or walk, walk)".

The words stay where they are, as a note of the line; what can be read of them is the line's option besides.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from caller.routine.count import read_counts
from caller.routine.layout import kinds
from caller.routine.layout.blocks import OptionBlock
from caller.routine.layout.lines import Line
from caller.routine.layout.options import read_option

_INNER = re.compile(r"[(\[{]\s*(?P<inner>[^()\[\]{}]{6,120})[)\]}]")
_OFFERS = re.compile(
    r"^\W*(?:(?:for\s+)?(?:an?\s+|the\s+)?(?:(?:easy|easier|simpler?|gentler|lower?|less|no|non)[\s-]*(?:impact|turn(?:ing|ers?|s)?|spin|spinning|way|option|alternative|version)*"
    r"|options?|opt\b\.?|alternatives?|alternatively|alt\b\.?|variation|beg(?:inner)?s?\b\.?|newcomers?)"
    r"(?:\s+(?:option|way|version|alternative|variation))?\s*(?:[:,=\u2010-\u2015-]+|\bis\b)?|or(?:\s+(?:just|simply|easier|else))?\s*:?)\s+",
    re.IGNORECASE,
)
_INSTEAD = re.compile(r"[\s,;.]*\b(?:instead|for\s+beginners|if\s+you\s+(?:prefer|like|wish|want))\b.*$", re.IGNORECASE)
_FULL_TURN = re.compile(
    r"\b(?:make\s+|making\s+|do\s+)?(?:an?\s+)?full\s+turn(?:\s+(?:to\s+(?:the\s+)?)?(?:left|right|[LR])\b)?(?:\s+(?:travelling|traveling|moving|going))?\s*(?P<way>forward|fwd|back)?\s*[:,]?\s*(?:stepping\s+|on\s+|with\s+)?",
    re.IGNORECASE,
)
_NO_TURN = re.compile(
    r"^\W*(?:option\w*|easier|easy|beg\w*)?\W*(?:no\s+turns?|without\s+(?:the\s+)?turn\w*|non[\s-]?turning)\W*$",
    re.IGNORECASE,
)


def offered_in(step: Line) -> Iterator[OptionBlock]:
    """The options that stand in brackets in a step line, each on the counts that it names, or else on the line's."""
    counts = read_counts(step.text) if "(" in step.text or "[" in step.text else None
    whole = [beat.number for beat in counts.beats if not beat.over] if counts is not None else []
    if counts is None or not whole or max(whole) < 1:
        return
    first, last, head = max(min(whole), 1), max(whole), step.text[: counts.end].strip()
    for found in _INNER.finditer(step.text, counts.end):
        place = Line(step.number, step.column, found["inner"], False)
        if (own := read_option(found["inner"])) is not None and own.first is not None and own.last is not None:
            if not (first <= own.first <= own.last <= last) or not own.words:
                continue
            lines = [Line(step.number, step.column, f"{own.counts}  {own.words}", False)]
            yield OptionBlock(place, own.first, own.last, "", lines=lines, told=True)
        elif (told := _told(found["inner"], step.text[counts.end : found.start()])) is not None:
            lines = [Line(step.number, step.column, f"{head}  {told}", False)]
            yield OptionBlock(place, first, last, "", lines=lines, told=True)


def without_offers(words: str) -> str:
    """A line's words without the easier ways that its brackets offer."""
    return _INNER.sub(lambda found: found[0] if _told(found["inner"], words) is None else "", words)


def _told(inner: str, before: str) -> str | None:
    """The steps that the brackets offer, None where they offer none."""
    if _NO_TURN.match(inner):  # of a full turn: its steps without it
        plain, turns = _FULL_TURN.subn(lambda f: f"walk {f['way'] or 'forward'} ", before)
        return plain.strip(" ,") if turns == 1 else None
    offers = _OFFERS.match(inner)
    if offers is None:
        return None
    words = _INSTEAD.sub("", inner[offers.end() :]).strip(" ,;.:")
    return words if words and kinds.steps_told(words) else None
