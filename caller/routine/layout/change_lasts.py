"""Changes told by the end of something: "the last two counts of section 2 are ...", "dance 14 counts, then stomp, hold"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from caller.routine.layout.blocks import ReplacedLines
from caller.routine.layout.change_told import RESTARTS, ChangeTold
from caller.routine.layout.counted import steps_on
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.numbers import NUMBER, ORDINAL, ROMAN, number_of

USUAL_LENGTHS = (8, 6, 12, 4)  # of a section, the likeliest first
_SECTION = rf"(?:(?:section|sect?\.?|set|block|s)\s?(?P<section>\d{{1,2}}|(?-i:[IVX]{{1,4}}))|the\s+(?P<nth>{ORDINAL})\s+(?:eight|8|six|6|section|set|block))"
_LAST = re.compile(
    rf"\bthe\s+last\s+(?P<many>{NUMBER})\s+(?:counts?|beats?|cts)\s+(?:of|in)\s+{_SECTION}\s*[,:]?\s*"
    r"(?:(?:do|dance)\s+(?:this|these|the\s+following)\s+instead|(?:are\s+|is\s+)?(?:changed?|replaced?|become|becomes|are|is|by|with|to|for|into|as)(?:\s+(?:to|by|with|into))?)\s*:?\s+(?P<words>[A-Za-z][^.;]*)",
    re.IGNORECASE,
)
_THEN = re.compile(
    r"\b(?:dance|do)\s+(?:only\s+)?(?:the\s+first\s+|up\s+to\s+(?:and\s+including\s+)?|to\s+|as\s+far\s+as\s+)?(?:counts?\s+)?(?P<n>\d{1,2})(?:\s+(?:counts?|beats?))?\s*,?\s*(?:and\s+)?then\s+(?P<words>(?!re-?start|start|begin|replace|change|instead|hold\s+for|the\s+tag|tag|add)[a-z][^.;:()]*)",
    re.IGNORECASE,
)
_HERE = re.compile(r"[:,]\s*(?P<words>[a-z][^,;:.]{2,50}?)\s+here\s+(?:instead|in\s+place)\s+of\b", re.IGNORECASE)


def last_counts(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "The last two counts of section 2 are stomp L, hold": how long that is, nobody has told yet."""
    found = _LAST.search(said.text)
    if found is None or not said.begins <= found.start() <= said.until:
        return
    words = RESTARTS.sub("", found["words"]).strip(" ,.;")
    told = (found["section"] or "").lower()
    section = number_of(found["nth"]) if found["nth"] else ROMAN.get(told, 0) or int(told)
    many = number_of(found["many"])
    for length in USUAL_LENGTHS if STEP_WORD.search(words) else ():
        first = length - many + 1
        yield said.replaces(steps_on(said.piece(f"{first}-{length}  {words}"), first), section)


def here_instead(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Touch right next to left here instead of the scuff", right below that count."""
    found = _HERE.search(said.text)
    if found is not None and said.standing and STEP_WORD.search(found["words"]):
        yield said.replaces(steps_on(said.piece(f"{said.standing}  {found['words']}")), 0)


def then_steps(said: ChangeTold) -> Iterator[list[ReplacedLines]]:
    """ "Dance 14 counts, then stomp L, hold, and restart": a step on each count that follows."""
    found = _THEN.search(said.text)
    if found is None or not RESTARTS.search(said.text, found.start("words")):
        return
    words = RESTARTS.sub("", found["words"]).strip(" ,.;")
    first, many = int(found["n"]) + 1, words.count(",") + 1
    if STEP_WORD.search(words):
        counts = f"{first}-{first + many - 1}" if many > 1 else str(first)
        yield said.replaces(steps_on(said.piece(f"{counts}  {words}"), first), 0)
