"""A place told by the sections that are danced up to it: "dance sections 1, 2 and 3", "do i), ii) and iii)", "after the
first and second six". Whatever they are called and numbered by, what counts is that they run on from the first.
"""

from __future__ import annotations

import re

from caller.routine.layout.numbers import ORDINAL, ROMAN, number_of

_LABEL = r"(?:sections?|sects?\.?|secs?\.?|blocks?|sets?|groups?|parts?|verses?|S(?=\d)|S\.)(?![a-z])"
_UNIT = r"(?:sections?|sets?|blocks?|groups?|parts?|eights?|8s?|sixes|six|6s|twelves?|rows?)"
_NAME = rf"(?:\(?(?:[ivx]{{1,4}}|[1-9]|[a-h])\)|(?-i:[IVX]{{1,4}})\b|(?-i:[A-H])\b|[1-9]\b(?![\d:/])|{ORDINAL}\b|(?:one|two|three|four|five|six|seven|eight)\b)"
_ITEM = rf"(?:(?:the\s+)?{_LABEL}\s*)?(?:the\s+)?{_NAME}"
_BETWEEN = r"\s*(?:,\s*(?:and\s+|&\s*|then\s+)?|\+|&|/|\b(?:and|then|to|through|thru)\b|[\u2010-\u2015-])\s*"
_VERB = r"(?:(?:dance|do|complete|finish|danced|done|finished|after|through|at\s+the\s+end\s+of|(?:up\s+)?to\s+the\s+end\s+of)\s+(?:only\s+|just\s+|both\s+|all\s+of\s+)?)"
_LISTED = re.compile(rf"{_ITEM}|\b(?:to|through|thru)\b|[\u2010-\u2015-]", re.IGNORECASE)
_NUMBERED = re.compile(rf"{_NAME}", re.IGNORECASE)
_TELLS = re.compile(rf"\b{_LABEL}|\)|\b{_UNIT}\b", re.IGNORECASE)
_RANGES = re.compile(r"^(?:to|through|thru|[\u2010-\u2015-])$", re.IGNORECASE)


def _value(name: str) -> int:
    bare = name.strip("()").lower()
    if bare in ROMAN:
        return ROMAN[bare]
    if len(bare) == 1 and bare in "abcdefgh":
        return ord(bare) - ord("a") + 1
    return int(bare) if bare.isdigit() else number_of(bare)


def _after(found: re.Match[str]) -> str:
    """The place behind the last of them, where they run on from the first; else what was told."""
    if _TELLS.search(found["list"]) is None and found["unit"] is None:
        return found[0]
    numbers: list[int] = []
    for piece in _LISTED.finditer(found["list"]):
        if _RANGES.match(piece[0]):
            continue
        if (name := _NUMBERED.search(re.sub(rf"^(?:the\s+)?{_LABEL}", "", piece[0], flags=re.IGNORECASE))) is not None:
            numbers.append(_value(name[0]))
    last = numbers[-1] if numbers else 0
    ranged = len(numbers) == 2 and re.search(r"\b(?:to|through|thru)\b|[\u2010-\u2015-]", found["list"]) is not None
    run_on = numbers == list(range(1, last + 1)) or (ranged and numbers[0] == 1)
    words = f"after s {last}"
    return words.ljust(len(found[0])) if last > 1 and run_on and len(words) <= len(found[0]) else found[0]


ROW = (
    rf"\b{_VERB}(?P<list>{_ITEM}(?:{_BETWEEN}{_ITEM})+)(?:\s+(?P<unit>{_UNIT})\b)?(?![\w)])(?!\s*(?:counts?|cts?\b|beats?|walls?|times|x\b|of\b(?!\s+(?:the\s+)?(?:\w+\s+)?wall)|up\b|as\s+far|to\s+count))",
    _after,
)
