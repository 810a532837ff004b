"""What is put right of a sheet's blocks once all of its lines are in their places."""

from __future__ import annotations

import re
from dataclasses import replace

from caller.routine.layout import kinds
from caller.routine.layout.abbreviations import expanded
from caller.routine.layout.blocks import Blocks, EventBlock, SectionBlock, first_count, highest_count
from caller.routine.layout.counted import steps_on
from caller.routine.layout.lines import Line
from caller.routine.layout.mention import CHANGE, ENDING, RESTART, TAG
from caller.routine.layout.taken import plain_name

_INNER_COUNTS = re.compile(r"\s*\((?:\d{1,2}[&ae]?[\s,&\u2010-\u2015-]*)+\)")
_LEAST_STEPS = 3


def steps_of_heading(block: SectionBlock, short: dict[str, str]) -> bool:
    """ "S1 [1-8]  walk R, walk L, R shuffle (3&4), ...", with no step lines below: the whole section in its heading.
    Whether it is."""
    heading = block.heading
    name = _INNER_COUNTS.sub("", block.name)
    if block.lines or block.said is None or len(kinds.STEP_WORD.findall(name)) < _LEAST_STEPS:
        return False
    last = block.said[1] - block.said[0] + 1
    # "S1 1-2 walk R, L. 3&4 rock R forward, ...": the first counts of several
    inline = steps_on(Line(heading.number, heading.column, f"{block.said[0]}-{block.said[1]}  {block.name}", False))
    if block.said[0] == 1 and _highest_of(inline) > last:
        block.lines += [expanded(step, short) for step in inline]
        block.name, block.said = "", None
        return True
    whole = Line(heading.number, heading.column, f"1-{last}  {block.name}", False)
    told = steps_on(whole) if name != block.name else []
    if _highest_of(told) != last:
        told = [replace(whole, text=f"1-{last}  {name}")]
    block.lines += [expanded(step, short) for step in told]
    block.name, block.said = "", None
    return True


def _highest_of(steps: list[Line]) -> int:
    return highest_count(steps) if len(steps) > 1 and first_count(steps[0]) == 1 else 0


def one_part_alone(out: Blocks) -> None:
    """ "Section A1", "Section A2", and no other letter, of a dance of so many walls: no parts, where no order is told."""
    parts = {section.part for section in out.sections}
    if len(parts) != 1 or out.reader.order or out.parts or out.reader.header.walls is None:
        return
    for section in out.sections:
        section.part = ""


_TWICE = re.compile(r"\btwice\b", re.IGNORECASE)
_LIKE_TAG = re.compile(
    r"\b(?:as|like|same\s+as)\s+(?:in\s+)?(?:the\s+)?(?:tag|bridge)\s+(?P<name>[1-9A-H])\b", re.IGNORECASE
)


def tags_like_others(out: Blocks) -> None:
    """ "Tag 2, 8 counts: as tag 1, then" with the rest below."""
    tags = [e for e in out.events if e.mention.kind == TAG]
    for tag in tags:
        like = _LIKE_TAG.search(tag.heading.text)
        other = next((t for t in tags if like and t is not tag and t.mention.name == like["name"].upper()), None)
        if other is not None and other.lines and (first_count(tag.lines[0]) if tag.lines else 9) != 1:
            own = [replace(x, number=tag.heading.number, exact=False) for x in other.lines]
            tag.lines = [*own, *tag.lines]
            tag.words = ""
        elif other is not None and other.words and not tag.lines:  # "As Tag 1, but twice"
            tag.words = ", ".join([other.words.strip(" .")] * (2 if _TWICE.search(tag.text) else 1))


_REFERS = re.compile(r"\(?\bsee\s+(?:below|above|(?:the\s+)?notes?|end)\b", re.IGNORECASE)


def without_references(out: Blocks) -> None:
    """ "## Restart 2 (see below)" behind a step line is none of its own, where each of its kind is told with its place."""
    for kind in (TAG, RESTART):
        own = [e for e in out.events if e.mention.kind == kind]
        marks = [e for e in own if not e.mention.told and e.mention.here and _REFERS.search(e.heading.text)]
        told = [e for e in own if e.mention.told and e.mention.placed]
        if marks and len(told) >= len(marks):
            out.events[:] = [e for e in out.events if all(e is not mark for mark in marks)]


def one_tag_told_twice(out: Blocks) -> None:
    """ "At the end of wall 1 and again at the end of wall 3 do four sways: ...": one tag, whose steps are told once."""
    for before, event in zip(out.events, out.events[1:], strict=False):
        same = before.heading is event.heading and before.mention.kind == event.mention.kind == TAG
        told = before.words == event.words and [x.text for x in event.lines] == [x.text for x in before.lines]
        if same and event.mention.assumed and told:
            event.lines, event.words = [], ""


def changes_of_restarts(out: Blocks) -> None:
    """ "RESTART 1, wall 3: dance to count 6 of S4, then swap 7-8 for", and those below: a change on that wall."""
    for before, event in zip(out.events, out.events[1:], strict=False):
        same = before.heading.number == event.heading.number and before.mention.kind == RESTART
        if same and event.mention.kind == CHANGE and event.replaced and not event.mention.told:
            event.mention.walls = before.mention.walls


def places_by_name(out: Blocks) -> None:
    """ "after the kick out out": the end of the one section whose heading ends with just that."""
    for event in out.events:
        found = kinds.BY_NAME.search(event.text)
        if found is None or event.mention.placed or event.mention.kind not in (RESTART, ENDING):
            continue
        words = plain_name(found["name"])
        ends = [section for section in out.sections if words and plain_name(section.name)[-len(words) :] == words]
        if len(ends) == 1 and not ends[0].part:
            event.mention.section = ends[0].number


def marked_below(out: Blocks, marks: dict[str, tuple[int, int]]) -> None:
    """ "*** Restart on wall 3", above the step line that ends with the mark: it stands where that does."""
    for event in out.events:
        told = event.mention.after or event.mention.section or event.mention.ends
        if event.within < 0 and event.here is None and not told and event.mark in marks:
            event.here, event.mention.here = marks[event.mark], True


_FROM_THE_TOP = re.compile(
    r"\b(?:from\s+the\s+(?:top|beginning|start)|(?:start|begin)\s+(?:again|over)|back\s+to\s+(?:the\s+)?(?:top|beginning|start|count\s+(?:1|one)))\b",
    re.IGNORECASE,
)


def tags_then_from_the_top(out: Blocks) -> None:
    """ "wall 6: wait 3 counts, then from the top", at a place within the wall: the tag, and a restart behind it."""
    for tag in [e for e in out.events if e.mention.kind == TAG and e.mention.here and e.here is not None]:
        last = tag.here is not None and tag.here[0] == len(out.sections) - 1
        ends = last and highest_count(out.sections[-1].lines) <= (tag.here[1] if tag.here else 0)
        other = any(e.heading is tag.heading and e.mention.kind == RESTART for e in out.events)
        if not ends and not other and _FROM_THE_TOP.search(tag.text, tag.mention.end) is not None:
            mention = replace(tag.mention, kind=RESTART, name="", long=None, times=1)
            out.events.append(EventBlock(mention, tag.heading, here=tag.here, within=tag.within, text=tag.text))
