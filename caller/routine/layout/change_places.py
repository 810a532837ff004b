"""On which counts, and in which section, a sentence of a step change says that they are danced."""

from __future__ import annotations

import re

from caller.routine.layout.mention import Mention
from caller.routine.layout.numbers import ORDINAL, ROMAN, number_of

_IN_THREE = re.compile(
    r"\b(?:coaster|shuffle|sailor|chass[e\u00e9]|triple|cha|mambo|ball|lock|polka|anchor|samba|step[\s-]step)",
    re.IGNORECASE,
)
_TWO = re.compile(r"(?P<a>\d{1,3})(?:\s+&\s+|\s+and\s+)(?P<b>\d{1,3})", re.IGNORECASE)


def plain_counts(counts: str, words: str) -> str:
    """ "23 and 24" as "23-24" for two movements, as "23&24" for three."""
    two = _TWO.fullmatch(counts.strip())
    few = len(re.split(r",|\band\b", words)) <= 2 and _IN_THREE.search(words) is None
    if two is not None and int(two["b"]) == int(two["a"]) + 1 and few:
        return f"{two['a']}-{two['b']}"
    return re.sub(r"\s*\band\b\s*", "&", counts)


_IN_SECTION = re.compile(
    r"\b(?:in|of)\s+(?:section|sect?|set|block|part|S(?=\s?\d))\.?\s*(?P<n>\d{1,2}|one|two|three|four|five|six|seven|eight)\b",
    re.IGNORECASE,
)


def named_section(text: str, mention: Mention) -> int:
    roman = re.search(r"\bin\s+(?:section\s+)?(?P<n>[IVX]{1,4})\b", text)
    named = re.search(rf"\b(?:in|of)\s+(?:the\s+)?(?P<n>{ORDINAL})\s+(?:section|set|eight|8|part)", text, re.IGNORECASE)
    if named is not None:
        return number_of(named["n"])
    if mention.section is None and (own := _IN_SECTION.search(text)) is not None:
        return number_of(own["n"])
    return mention.section or (ROMAN.get(roman["n"].lower(), 0) if roman else 0)
