"""A sentence that tells a change of steps, and what in it belongs to something else."""

from __future__ import annotations

import re
from dataclasses import dataclass

from caller.routine.layout.blocks import ReplacedLines
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import Mention

# What stands behind the steps of a change.
RESTARTS = re.compile(
    r"[\s,;.&\-\u2010-\u2015]*(?:\b(?:and|then|we|you|stop\s+here)\b\s*)*\b(?:re-?\s?start|start\s+(?:again|over|from|wall|the\s+(?:dance|routine)\s+(?:again|over|anew|afresh))|(?:begin|take)\s+(?:the\s+(?:dance|routine)\s+)?again|take\s+it\s+(?:again\s+)?from\s+the\s+(?:top|beginning)|facing)\b.*$|,?\s*which\b.*$|,?\s*(?:and\s+)?then\s+(?:go|carry|continue|on)\b.*$|[.;]\s*(?:now\s+)?you\b.*$|[.;]\s*(?:after\s+that|then|the\s+rest|everything\s+else|continue|carry\s+on|go\s+on|sections?\s+\d|so\s+(?:the\s+)?(?:walls?|you)|this\s+(?:way|brings|takes|leaves)|all\s+(?:the\s+)?other)\b.*$|[.;]\s*no\s+(?:re-?start|tag|bridge)s?\b.*$|,?\s+and\s+finish\s+the\s+wall\b.*$",
    re.IGNORECASE,
)
_BEFORE = 40  # characters of a sentence that may tell what changes before it says that it does


@dataclass(frozen=True, slots=True)
class ChangeTold:
    """A sentence of a change: its text, the line it stands on, what it was taken for, and where the next event's begins.
    standing: the count of its section that it stands below, 0 = none; line_from: the first count of the step line there;
    bracketed: it stands in the brackets of that line."""

    text: str
    line: Line
    mention: Mention
    until: int
    standing: int = 0
    line_from: int = 0
    bracketed: bool = False

    @property
    def begins(self) -> int:
        """Where what is told of the change may begin: with its sentence, or a little before its word."""
        start = self.mention.start
        sentence = max(self.text.rfind(mark, 0, start) for mark in (". ", "; ", "! "))
        return min(start - _BEFORE, sentence + 1)

    def piece(self, words: str) -> Line:
        return Line(self.line.number, self.line.column, words, False)

    def replaces(self, lines: list[Line], section: int) -> list[ReplacedLines]:
        return [ReplacedLines(self.line, "", section, lines)] if lines else []
