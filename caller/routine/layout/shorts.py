"""What a sheet's order and sentences say of shortened parts: "A (short)", "the short A stops after 24 counts"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from caller.routine.layout.blocks import SectionBlock, highest_count
from caller.routine.layout.numbers import NUMBER, number_of

_SHORT = re.compile(
    r"\b(?i:short(?:ened|er)?|cut)\s+(?:(?i:version\s+of|part)\s+)*(?P<part>[A-H])(?:['\u2019]?s)?\b"
    r"|\b(?P<second>[A-H])(?:['\u2019]?s)?\s+(?i:\(?short(?:ened)?\)?|is\s+(?:the\s+|a\s+)?short(?:\s+one)?)\b"
)
_COUNTS = re.compile(
    rf"\b(?:after|first|only|just|up\s+to|to|dance|has|is)\s+(?:the\s+)?(?:first\s+)?(?:count\s+)?(?P<n>{NUMBER})(?:\s*(?:counts?|cts?|beats?)\b)?",
    re.IGNORECASE,
)
_LEFT_OUT = re.compile(
    r"\b(?:leav(?:e|ing)|miss(?:ing)?|drop(?:ping)?|skip(?:ping)?|without|omit(?:ting)?)\s+(?:off|out)?\s*(?:the\s+)?(?:section\s+|sec\.?\s+|set\s+)?[A-H]?(?P<n>[2-9])\b",
    re.IGNORECASE,
)


def short_part(text: str, sections: Sequence[SectionBlock]) -> tuple[str, int] | None:
    """The part of which the text says how many counts its short form has; None where it says none."""
    found = _SHORT.search(text)
    if found is None:
        return None
    part = found["part"] or found["second"]
    own = [section for section in sections if section.part == part]
    if (left := _LEFT_OUT.search(text, found.end())) is not None and int(left["n"]) <= len(own):
        return part, sum(_length(section) for section in own[: int(left["n"]) - 1])
    counts = _COUNTS.search(text, found.end())
    return (part, number_of(counts["n"])) if counts is not None else None


def _length(section: SectionBlock) -> int:
    highest = highest_count(section.lines)
    return highest - (section.said[0] - 1 if section.said and highest >= section.said[0] > 1 else 0)
