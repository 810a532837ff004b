"""Walls and changed steps that a sheet tells of, and that no event was made of: told, so that none is lost in silence."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from caller.routine.findings import Finding
from caller.routine.layout.blocks import Blocks, EventBlock, Role
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.mention import CHANGE, RESTART
from caller.routine.layout.numbers import NUMBER, ORDINAL, number_of

# A wall by its number, but not the next one, which only begins: "... then start wall 7", "wall 4 begins at the front".
_WALL = re.compile(
    rf"(?<!very )(?<!start )(?<!begin )(?<!into )(?<!for )(?<!before )(?<!begin the )(?<!start the )"
    rf"\b(?:wall\s+(?P<n>{NUMBER})\b|(?P<o>{ORDINAL})\s+(?:wall|time|round)\b)"
    r"(?!\s+(?:then\s+|will\s+|now\s+)*(?:starts?|begins?)\b(?![^.;]*[.;]\s*\S))",
    re.IGNORECASE,
)
_HAPPENS = re.compile(
    rf"\b(?:{NUMBER})\s+(?:\w+\s+)?(?:counts?|beats?)\b|\b(?:counts?|beats?)\s+\d|\bonly\b|\binstead\b|\bmusic\b|\bstop\b|\bskip\b"
    r"|\bleave\s+out\b|\bsection\b|\b(?:two|three|first|last)\s+(?:eights|sections|parts)\b|\bclap\b|\bgap\b|\bextra\b|\bfrom\s+the\s+(?:top|beginning)\b",
    re.IGNORECASE,
)
_CHANGED = re.compile(
    r"\binstead\s+of\b(?!\s+(?:going|starting|the\s+(?:rest|whole)|(?:at\s+|the\s+)*(?:front|home|back(?:\s+wall)?|1?\d[:.]00)(?:\s+and\b|\s*[.,;)]|$)))|\b(?:but|and)\s+(?:you\s+|we\s+)?change\s+(?:the|your)\b|(?:\b(?:count|beat|step)|[&\d])\s+is\s+different\b"
    r"|\bthis\s+time\s+don['\u2019]?t\b"
    r"|\bdon['\u2019]?t\s+(?:make|do|take)\s+the\b|\breplac(?:e|ing)\s+(?:the|counts?)\b",
    re.IGNORECASE,
)


def untaken(out: Blocks, lines: Iterable[Line]) -> Iterator[Finding]:
    """A warning for each; lines: the sheet's, with paragraphs joined."""
    yield from _walls(out, lines)
    yield from _changes(out.events)


def _walls(out: Blocks, lines: Iterable[Line]) -> Iterator[Finding]:
    if any(event.mention.every or event.mention.facing_walls is not None for event in out.events):
        return
    taken = {wall for event in out.events for wall in event.mention.walls}
    for line in lines:
        text = unstarred(line.text)
        if out.roles.get(line.number) is not Role.NOTE or not _HAPPENS.search(text):
            continue
        told = [number_of(found["n"] or found["o"]) for found in _WALL.finditer(text)]
        wall = next((wall for wall in told if wall not in taken), None)
        if wall is not None:
            message = f"this tells of wall {wall}, and nothing is read that happens there; if something does, "
            yield Finding(line.place, "unread", f"{message}write it such as 'Restart on wall {wall} after 16 counts'")


def _changes(events: list[EventBlock]) -> Iterator[Finding]:
    changed = {event.heading.number for event in events if event.mention.kind == CHANGE or event.replaced}
    for event in events:
        if event.mention.kind == RESTART and event.heading.number not in changed and _CHANGED.search(event.text):
            message = (
                "steps are told to change here, and which ones can't be read; write them as '7-8  Walk R, L' below"
            )
            yield Finding(event.heading.place, "unread", message)
