"""Paragraphs that tell of several walls, a sentence each: "In wall 5 ... restart. Wall 8 is the last: ...".

Such a paragraph is read as one where that is how its sentences hang together. Where each of them tells its own event
whole, wall and place, and the paragraph read at one go tells something else, the sentences are believed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, ENDING, TAG, Mention
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.numbers import NUMBER, ORDINAL

_WALL = rf"(?:walls?\s+(?:\d|{NUMBER}\b)|W\d|(?:the\s+)?{ORDINAL}\s+(?:(?:and|&)\s+(?:the\s+)?{ORDINAL}\s+)?(?:walls?|time|round|rotation))"
_NEXT = re.compile(
    rf"(?<=[.;!])\s+(?=(?:(?:and|then|but|also|finally|later)\s+)?(?:(?:on|in|at|after|during|when|once|for)\s+)?(?:[^.;:!]{{0,24}}?\s)?{_WALL})",
    re.IGNORECASE,
)
_SPEAKS = re.compile(
    r"\b(?:tag|bridge|start|begin|end|last|final|finish|extra|change|instead|replace|spare)", re.IGNORECASE
)
_LEAST = 60  # characters of such a paragraph
_MOST = 1500
_MOST_PIECES = 8


def each_its_wall(lines: Sequence[Line]) -> list[Line]:
    """The lines, such a paragraph as one line a sentence."""
    return [piece for line in lines for piece in _apart(line)]


def _apart(line: Line) -> list[Line]:
    if not _LEAST <= len(line.text) <= _MOST or _SPEAKS.search(line.text) is None:
        return [line]
    pieces = _NEXT.split(line.text)
    if not 1 < len(pieces) <= _MOST_PIECES or read_counts(line.text) is not None:
        return [line]
    told = [mentions_in(piece) for piece in pieces]
    walls = [wall for mentions in told for wall in {wall for mention in mentions for wall in mention.walls}]
    if not all(_whole(mentions) for mentions in told) or len(walls) != len(set(walls)):
        return [line]
    apart = sorted(_says(mention) for mentions in told for mention in mentions)
    if apart == sorted(_says(mention) for mention in mentions_in(line.text)):
        return [line]
    first = line.source or line.text
    return [
        replace(line, text=piece, exact=False, breaks=(), source=" " if n else first) for n, piece in enumerate(pieces)
    ]


def _whole(mentions: Sequence[Mention]) -> bool:
    """Whether a sentence tells its events to the end: each with its walls, and a place where it needs one."""
    return bool(mentions) and all(
        mention.told and not mention.none and (mention.placed or mention.kind in (TAG, CHANGE, ENDING))
        for mention in mentions
    )


def _says(mention: Mention) -> tuple[str, ...]:
    return (
        mention.kind,
        str(mention.walls or mention.every or mention.facing_walls or mention.last_wall),
        str(mention.after),
        str((mention.section, mention.within)),
        str(mention.ends),
    )
