"""What authors say of changed steps in words of their own, for :mod:`caller.routine.layout.paraphrases`: where it is told
which counts change, "change" stands for all of it, so that no count of theirs is taken for the place of something else.
"""

from __future__ import annotations

from caller.routine.layout.numbers import NUMBER, ORDINAL
from caller.routine.layout.wall_phrases import said_as

_SECTION = rf"(?:(?:section|sect?\.?|set|block|s)\s?(?:\d{{1,2}}|(?-i:[IVX]{{1,4}}))\b|the\s+{ORDINAL}\s+(?:eight|8|six|section|set|block))"
_RANGE = r"[\"'\u2018\u201c]?\d{1,2}&?(?:\s?(?:[\u2010-\u2015-]|&|and|to)\s?\d{1,2}&?)?[\"'\u2019\u201d]?"
_BECOMES = r"(?:becomes?|is|are|as|turns?\s+into)"

CHANGES = (
    said_as(r"\bno\s+changes?\s+(?:to|of|in)\s+(?:the\s+)?steps?\b", ""),
    said_as(
        rf"\b(?:dance\s+|in\s+)?{_SECTION}\s*,?\s+(?:counts?\s+|cts\s+)?{_RANGE}\s+{_BECOMES}\b(?!\s+(?:the\s+same|danced))",
        "change",
    ),
    said_as(
        rf"\b(?:for\s+|replace\s+|change\s+)?the\s+last\s+{NUMBER}\s+(?:counts?|beats?|cts)\s+(?:of|in)\s+{_SECTION}\s*[,:]?\s*(?:(?:do|dance)\s+(?:this|these)\s+instead|(?:are\s+)?(?:changed?|replaced?)\s+(?:to|by|with)|become|are|with|by|to)\b",
        "change",
    ),
    said_as(
        rf"\bdance\s+{_SECTION}\s+(?:as|like\s+this|so)\b(?!\s+(?:usual|normal|written|before|ever|always))", "change"
    ),
    said_as(
        rf"(?<=[:,!])\s+(?:but\s+)?no\s+[a-z][a-z -]{{2,24}}?\s*[.,;:!]\s+(?:but\s+)?(?={_RANGE}\s+(?:[a-z]+\s+)?(?:step|stomp|hold|touch|walk|rock|sway|[RL]\b|right|left))",
        ": change ",
    ),
    said_as(rf"\bdance\s+on\s+{_RANGE}\s+of\s+{_SECTION}\s*:", "change"),
    said_as(
        rf"\b(?:leave\s+out|skip|drop|omit)\s+the\s+[^,;:.\d]{{2,40}}?\s+on\s+(?:counts?\s+)?{_RANGE}\s+(?:in|of)\s+{_SECTION}\s*,?\s+and\b(?=[^.;]*\binstead\b)",
        "change",
    ),
    said_as(
        rf"\bno\s+[a-z][a-z -]{{2,24}}?\s+on\s+(?:counts?|beats?)\s*{_RANGE}\s+(?:in|of)\s+{_SECTION}\s*,\s*but\b",
        "change",
    ),
)
