"""An easier way whose steps stand below the line that offers it ("Option: replace the jazz box in S3 with:")."""

from __future__ import annotations

import re
from collections.abc import Sequence

from caller.routine.count import read_counts
from caller.routine.layout.blocks import OptionBlock, SectionBlock, first_count, highest_count
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import ROMAN

_OPEN = re.compile(r"(?::|\b(?:with|by|do|dance|is|as))\s*$", re.IGNORECASE)
_OF = re.compile(
    r"\b(?:replace|instead\s+of|in\s+place\s+of|swap|leave\s+out|without|for)\s+(?:the|your)\s+(?P<name>[A-Za-z][\w'/\u00bc-\u00be -]{2,40}?)(?=\s+(?:in|of|on|with|by|do|dance|and)\b|\s*[,:(]|$)",
    re.IGNORECASE,
)
_IN = re.compile(
    r"\b(?:(?:in|of|for)\s+)?(?:section\s+|sec\.?\s*|set\s+|(?-i:S\s?(?=\d)))(?P<n>\d{1,2}|(?-i:[IVX]{1,4}))\b",
    re.IGNORECASE,
)
_WORD = re.compile(r"[a-z0-9/\u00bc-\u00be]+")
_PLAIN = frozenset(("turn", "step", "steps", "in", "a", "and", "full", "half", "quarter", "right", "left"))
_MOST = 6  # lines


def listed_below(
    line: Line, text: str, below: Sequence[Line], sections: Sequence[SectionBlock]
) -> tuple[SectionBlock, OptionBlock] | None:
    """The section and the option, its steps still to be taken; None where the line leaves nothing open, or what stands
    below it is not danced anywhere before. below: the lines after it."""
    if _OPEN.search(text) is None or not sections:
        return None
    steps = _steps_right_below(line, below)
    first = first_count(steps[0]) if steps else None
    if first is None:
        return None
    last = highest_count(steps)
    section = _section(text, sections, first, last)
    return (section, OptionBlock(line, first, last, "")) if section is not None else None


def _steps_right_below(line: Line, below: Sequence[Line]) -> list[Line]:
    steps: list[Line] = []
    for number, following in enumerate(below[:_MOST], line.number + 1):
        counts = read_counts(following.text)
        if following.number != number or counts is None or (steps and (first_count(following) or 0) == 1):
            break
        steps.append(following)
    return steps


def _section(text: str, sections: Sequence[SectionBlock], first: int, last: int) -> SectionBlock | None:
    """The one that is named, else the one whose steps on those counts speak of what is replaced, else the last."""
    if (named := _IN.search(text)) is not None:
        told = named["n"].lower()
        number = int(told) if told.isdigit() else ROMAN.get(told, 0)
        return next((section for section in sections if section.number == number), None)
    of = _OF.search(text)
    words = {word.rstrip("s") for word in _WORD.findall(of["name"].lower())} - _PLAIN if of is not None else set()
    speak = [section for section in sections if words and words & _words_on(section, first, last)]
    if len(speak) == 1:
        return speak[0]
    return sections[-1] if last <= highest_count(sections[-1].lines) else None


def _words_on(section: SectionBlock, first: int, last: int) -> set[str]:
    lines = [x for x in section.lines if first <= (first_count(x) or 0) <= last]
    return {word.rstrip("s") for x in lines for word in _WORD.findall(f"{x.text} {section.name}".lower())}
