"""Sheets of very few words: no step line has counts, and the counts of the whole dance, shared out evenly, are what
each line lasts.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from caller.routine.layout import kinds
from caller.routine.layout.blocks import Blocks, SectionBlock
from caller.routine.layout.lines import Line, unstarred
from caller.routine.layout.mentions import mentions_in

_SECTION = 8  # counts; sixes in threes
_LASTS = (2, 3, 4, 6, 8)  # counts that a line may last
_RUNNING = re.compile(r"\s*\((?P<total>\d{1,3})\)\s*$")
_HEAD = 3  # lines
_ALONE = re.compile(r"(?:^|[/,;|\u2010-\u2015-]\s*)(?P<n>1[26]|24|32|4[08]|64)(?=\s*(?:[/,;|\u2010-\u2015]|-\s|$))")
_STEPS = re.compile(
    r"^\W*(?:[RL]\b|right|left|walk|back|vine|grapevine|step|rock|jazz|side|toe|heel|point|stomp|touch|cross|shuffle|coaster|k[\s-]?step|"
    r"rocking|out|kick|sway|box|rumba|weave|lock|monterey|twinkle|basic|slow|big|mambo|sailor|cha|two|4|2|rolling|v[\s-]?step|pivot|1/)",
    re.IGNORECASE,
)


def share_out(out: Blocks, lines: Sequence[Line]) -> list[Line]:
    """Gives counts to the lines of a sheet in which no step has any; the lines that tell steps, none where it can't be."""
    if any(block.lines for block in out.sections):
        return []
    total = _told_in_the_head(lines) or out.reader.header.counts
    if total is None:
        return []
    if out.reader.header.counts is None or out.reader.header.counts < _SECTION:
        out.reader.header = replace(out.reader.header, counts=total)
    if out.sections:
        _headings(out.sections, total)
        return []
    told = [line for line in lines[1:] if _tells_steps(line)]
    lasting = _lengths(told, total)
    if not lasting:
        return []
    each = _SECTION if out.reader.header.meter.counts != 3 else 6
    at = 0
    for line, counts in zip(told, lasting, strict=True):
        if at % each == 0:
            out.sections.append(SectionBlock(line, "", at // each + 1, ""))
        first = at % each + 1
        text = _RUNNING.sub("", unstarred(line.text)).rstrip(" .")
        out.sections[-1].lines.append(Line(line.number, line.column, f"{first}-{first + counts - 1}  {text}", False))
        at += counts
    return told


def _told_in_the_head(lines: Sequence[Line]) -> int | None:
    """ "32 / 2 wall / easy": a number alone between the facts of the first lines."""
    for line in lines[:_HEAD]:
        found = _ALONE.search(line.text)
        if found is not None and int(found["n"]) % 2 == 0:
            return int(found["n"])
    return None


def _headings(sections: Sequence[SectionBlock], total: int) -> None:
    """ "S1  R side, together, side, touch ...": the steps are told in the headings."""
    each, over = divmod(total, len(sections))
    if over or each not in (*_LASTS, 12, 16) or not all(kinds.STEP_WORD.search(block.name) for block in sections):
        return
    for block in sections:
        heading = block.heading
        block.lines.append(Line(heading.number, heading.column, f"1-{each}  {block.name}", False))
        block.name = ""


def _tells_steps(line: Line) -> bool:
    text = unstarred(line.text)
    return _STEPS.match(text) is not None and not kinds.is_prose(text) and not mentions_in(text)


def _lengths(told: Sequence[Line], total: int) -> list[int]:
    """Counts of each line: by the running total in brackets, or as many for each; none where neither comes out."""
    running = [_RUNNING.search(line.text) for line in told]
    if told and all(running):
        ends = [int(found["total"]) for found in running if found is not None]
        lasting = [b - a for a, b in zip([0, *ends], ends, strict=False)]
        return lasting if ends[-1] == total and all(n in _LASTS for n in lasting) else []
    each, over = divmod(total, len(told)) if told else (0, 1)
    return [each] * len(told) if not over and each in _LASTS else []
