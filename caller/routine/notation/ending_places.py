"""Where an ending begins that is danced in the place of others: "replace the last three counts of section 2 by ..."."""

from __future__ import annotations

import re

from caller.routine.layout.blocks import first_count
from caller.routine.layout.change_places import named_section
from caller.routine.layout.counted import shifted
from caller.routine.layout.happening import Event, Happening
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.notation.sections import Laid

_REPLACES = re.compile(r"\breplac\w+\s+(?:the\s+)?counts?\s+(?P<n>\d{1,2})\s*[-\u2013]\s*\d", re.IGNORECASE)
_LAST = re.compile(
    rf"\b(?:replac\w+|chang\w+|swap|instead\s+of|in\s+(?:the\s+)?place\s+of)\s+(?:the\s+)?last\s+(?P<n>{NUMBER})\s+(?:counts|beats)\b(?P<of>\s+of\s+(?:section|set|s)\s?(?P<section>{NUMBER}))?",
    re.IGNORECASE,
)


def in_their_place(event: Event, happening: Happening, laid: Laid) -> None:
    """Puts the ending before the counts that its own take the place of: "replace counts 5-8 of section 4 with"."""
    text = event.block.text if event.block is not None else ""
    told, last = _REPLACES.search(text), _LAST.search(text)
    if event.block is None or happening.after is not None:
        return
    if told is not None and event.lines:
        number, first = named_section(text, event.block.mention), int(told["n"])
        index = next((n for n, s in enumerate(laid.sections) if s.number == number), None)
        happening.after = first - 1 + (laid.counts_before(index) if index is not None else 0)
        if first_count(event.lines[0]) == first:
            event.lines = [shifted(line, 1 - first) for line in event.lines]
    elif last is not None:
        number = number_of(last["section"]) if last["of"] else laid.sections[-1].number if laid.sections else 0
        index = next((n for n, s in enumerate(laid.sections) if s.number == number), None)
        if index is not None and number_of(last["n"]) <= laid.sections[index].passage.counts:
            before = laid.counts_before(index) + laid.sections[index].passage.counts
            happening.after = int(before - number_of(last["n"]))
