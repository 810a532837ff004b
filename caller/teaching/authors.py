"""The author's own words of a step line, where they say more than ours: how large, on what part of the foot, for how
long, with what else of the body.

Conventions: words as :func:`caller.calls.read_aloud.read_aloud` has them, with what stands in square brackets left out.
Pure.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from caller.calls.read_aloud import read_aloud
from caller.calls.words import in_own_words
from caller.routine.layout.bracketed import without_offers
from caller.routine.parts import Routine

# Words of a line that no movement has: common practice in sheets.
MORE = re.compile(
    r"\b(big|bigger|large|long|small|little|tiny|short|slight|slightly|low|high|soft|softly|light|lightly|heavy|heavily"
    r"|hard|slow|slowly|quick|quickly|smooth|smoothly|sharp|sharply|gently|ball of|balls of|on ball|on balls"
    r"|from (?:back to front|front to back)|(?:over|for) (?:two|three|four|2|3|4) (?:counts|beats)|two beats|2 beats"
    r"|shin|ankle|calf|knees?|shoulders?|arms?|fingers?|thighs?|chest|chin|bend|bending|lean|leaning|look|looking"
    r"|angle|angled|angling|travelling|traveling|stay still|like a|as if)\b",
    re.IGNORECASE,
)
_MARKS = re.compile(r"\[[^\]]*\]|\*+")


def lines_that_say_more(routine: Routine) -> Mapping[int, str]:
    """By the sheet's line, what its author says, read aloud, figures in the teacher's own words; only lines that say
    more than the movements do."""
    found: dict[int, list[str]] = {}
    for passage in routine.passages:
        for words in passage.words:
            found.setdefault(words.line, []).append(in_own_words(_aloud(words.text), routine.own_words))
    return {line: told for line, texts in found.items() if MORE.search(told := ", ".join(dict.fromkeys(texts)))}


@lru_cache(maxsize=512)
def _aloud(text: str) -> str:
    return read_aloud(_MARKS.sub(" ", without_offers(text))).rstrip(".,")
