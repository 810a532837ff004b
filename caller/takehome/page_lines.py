"""The lines and blocks of the page to print, in the words of the sheet's standard layout."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from caller.routine.meter import Feel
from caller.routine.notation.laying import passage_lines
from caller.routine.parts import Replacement
from caller.routine.passages import Passage
from caller.routine.vocabulary import Vocabulary
from caller.takehome.drawing import FloorFigure

_STEP_LINE = re.compile(r'(?P<counts>\S+)\s+(?P<words>.*?)(?:\s+"(?P<call>[^"]*)")?')


@dataclass(frozen=True, slots=True)
class PageLine:
    """A step line: its counts, its words, its call; a note has words alone."""

    counts: str
    words: str
    call: str


@dataclass(frozen=True, slots=True)
class PageBlock:
    """A heading with step lines; kind is "section", "option", "tag", "restart", "change" or "ending". happens: what
    comes within a section: "Restart in wall 4 after count 4"; events: the boxes of what is danced behind it."""

    kind: str
    heading: str
    lines: tuple[PageLine, ...]
    figure: FloorFigure | None = None
    options: tuple[PageBlock, ...] = ()
    happens: tuple[str, ...] = ()
    events: tuple[PageBlock, ...] = ()


@dataclass(frozen=True, slots=True)
class PageLayout:
    """Lays passages out as lines of the page."""

    feel: Feel
    vocabulary: Vocabulary

    def lines(self, passage: Passage) -> tuple[PageLine, ...]:
        return tuple(_line(written.text) for written in passage_lines(passage, self.feel, self.vocabulary))

    def replaced(self, replacements: Sequence[Replacement]) -> tuple[PageLine, ...]:
        found: list[PageLine] = []
        for one in replacements:
            part = f"part {one.part} " if one.part else ""
            if one.leaves_out:
                counts = f"counts {counts_words(one.first, one.last)} of {part}section {one.section}"
                found.append(PageLine("", f"Left out: {counts}", ""))
                continue
            found.append(PageLine("", f"Instead, in {part}section {one.section}:", ""))
            found += self.lines(one.passage)
        return tuple(found)


def _line(text: str) -> PageLine:
    if text.startswith("Note: "):
        return PageLine("", text.removeprefix("Note: "), "")
    match = _STEP_LINE.fullmatch(text.strip())
    return PageLine(match["counts"], match["words"], match["call"] or "") if match else PageLine("", text.strip(), "")


def counts_words(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}-{last}"
