"""The page to print: the sheet in large clear type, wall map, tag and restart boxes, floor drawings, as one HTML file.

Conventions: everything in the file itself (no script, no picture, no address outside), so that it opens and prints the
same anywhere; text from a sheet is escaped by the template library, always. The words of the step lines are those of
the sheet in the standard layout. jinja2 is imported when first needed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from caller.dance.unroll import unroll, usual_walls
from caller.dance.wall_map import map_walls
from caller.dance.walls import Dance, DancedStep
from caller.routine.meter import Feel
from caller.routine.notation.laying import passage_lines
from caller.routine.parts import Cut, Option, Replacement, Routine, Section
from caller.routine.passages import Passage
from caller.routine.vocabulary import Vocabulary
from caller.takehome.drawing import FloorFigure, MapSide, floor_figure, map_sides
from caller.takehome.floor import footfalls

MAP_ACROSS = 260
_STEP_LINE = re.compile(r'(?P<counts>\S+)\s+(?P<words>.*?)(?:\s+"(?P<call>[^"]*)")?')
_COUNTS_FIRST = re.compile(r"\d[\d&,\s-]*\s")


@dataclass(frozen=True, slots=True)
class PageLine:
    """A step line: its counts, its words, its call; a note has words alone."""

    counts: str
    words: str
    call: str


@dataclass(frozen=True, slots=True)
class PageBlock:
    """A heading with step lines; kind is "section", "option", "tag", "restart", "change" or "ending". happens: what
    comes at the end of a section or within it: "Restart here in wall 4"."""

    kind: str
    heading: str
    lines: tuple[PageLine, ...]
    figure: FloorFigure | None = None
    options: tuple[PageBlock, ...] = ()
    happens: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetPage:
    title: str
    facts: tuple[str, ...]
    sections: tuple[PageBlock, ...]
    events: tuple[PageBlock, ...]
    order: str
    sides: tuple[MapSide, ...]
    across: int
    walls: tuple[Any, ...]
    length: str
    notes: tuple[str, ...]


def sheet_page(dance: Dance, vocabulary: Vocabulary) -> SheetPage:
    """All that the page shows."""
    routine = dance.routine
    header = routine.header
    mapped = map_walls(dance)
    reader = _PageLayout(header.feel, vocabulary)
    return SheetPage(
        title=header.title,
        facts=tuple(_facts(dance)),
        sections=tuple(_section(section, reader, dance) for section in routine.sections),
        events=tuple(_events(dance, reader)),
        order=" ".join(_order(routine)),
        sides=map_sides(mapped, MAP_ACROSS),
        across=MAP_ACROSS,
        walls=mapped.walls,
        length=_length(dance),
        notes=header.notes,
    )


def page_html(page: SheetPage) -> str:
    """The page as one HTML document."""
    html: str = _template().render(page=page)
    return html


@cache
def _template() -> Any:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    loader = PackageLoader("caller.takehome", ".")
    room = Environment(loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    return room.get_template("page.html.j2")


def _facts(dance: Dance) -> Iterator[str]:
    header = dance.routine.header
    yield f"{header.counts or dance.routine.counts} counts"
    if header.walls:
        yield f"{header.walls} wall{'' if header.walls == 1 else 's'}"
    if header.level:
        yield header.level
    if header.tempo:
        tempo = header.tempo
        yield f"{tempo if tempo.denominator == 1 else float(tempo)} counts a minute"
    yield f"{header.meter}{', swing' if header.feel is Feel.SWING else ''}"
    if header.starts:
        yield f"starts {header.starts.word}"
    if header.intro:
        yield f"intro {header.intro} counts"
    if header.music:
        yield header.music
    if header.devised_by:
        yield f"devised by {header.devised_by}"


def _length(dance: Dance) -> str:
    """How far the recordings go, and why no further."""
    routine, many = dance.routine, len(dance.walls)
    once, walls = routine.header.walls or 4, f"{many} wall{'' if many == 1 else 's'}"
    if dance.ended:
        return f"The recordings have {walls}, {'the whole order once' if routine.order else 'to the ending'}."
    if many != len(unroll(routine).walls):
        return f"The recordings have {walls}, as was asked for."
    why = "each once, and on past the last tag, restart or change" if usual_walls(routine) > once else "each once"
    return f"The recordings have {walls}: {why}. To a song the dance goes on."


def _section(section: Section, reader: _PageLayout, dance: Dance) -> PageBlock:
    part = f"Part {section.part} section" if section.part else "Section"
    falls, _ = footfalls(_as_danced(section, dance))
    options = tuple(
        PageBlock("option", _named(f"Option {_counts(o.first, o.last)}", _own_name(o)), reader.lines(o.passage))
        for o in section.options
    )
    heading = _named(f"{part} {section.number}", section.name)
    happens = tuple(_happens(section, dance.routine))
    return PageBlock("section", heading, reader.lines(section.passage), floor_figure(falls), options, happens)


def _own_name(option: Option) -> str:
    """What an option is called, "" where its words are its steps, which stand below."""
    return "" if _COUNTS_FIRST.match(option.name) else option.name


def _happens(section: Section, routine: Routine) -> Iterator[str]:
    """The tags and restarts of its counts, each at its place."""
    before = sum(s.passage.counts for s in routine.sections if s.part == section.part and s.number < section.number)
    for kind, events in (("Tag", routine.tags), ("Restart", routine.restarts)):
        for cut in (cut for event in events for cut in event.cuts if not section.part):
            after = None if cut.after is None else cut.after - before
            if after == section.passage.counts:
                yield f"{kind} here in wall {cut.wall}"
            elif after is not None and 0 < after < section.passage.counts:
                yield f"{kind} in wall {cut.wall} after count {after}"


def _as_danced(section: Section, dance: Dance) -> Sequence[DancedStep]:
    """The section's movements the first time that it is danced whole, else the first time at all."""
    whole = len(section.passage.steps)
    found: list[list[DancedStep]] = []
    for wall in dance.walls:
        if wall.part == section.part:
            found.append([danced for danced in wall.movements if danced.section == section.number])
            if len(found[-1]) == whole:
                return found[-1]
    if found and found[0]:
        return found[0]
    # A section that no wall reaches is drawn as if it began the dance.
    alone = Routine(dance.routine.header, (section,))
    return unroll(alone, 1).walls[0].movements if section.passage.steps else ()


def _events(dance: Dance, reader: _PageLayout) -> Iterator[PageBlock]:
    routine = dance.routine
    for tag in routine.tags:
        when = f": {_walls(tag.cuts, 'after ')}{_facing(dance, 'tag', tag.cuts)}" if tag.cuts else ""
        yield PageBlock("tag", f"{f'Tag {tag.name}'.strip()}{when}", reader.lines(tag.passage))
    for restart in routine.restarts:
        when = f"{_walls(restart.cuts, 'in ')}{_facing(dance, 'restart', restart.cuts)}"
        yield PageBlock("restart", f"Restart: {when}", reader.replaced(restart.replacements))
    for change in routine.changes:
        yield PageBlock("change", f"Step change: wall {_listed(change.walls)}", reader.replaced(change.replacements))
    if routine.ending is not None:
        yield PageBlock(
            "ending", f"Ending: {_walls((routine.ending.cut,), 'in ')}", reader.lines(routine.ending.passage)
        )


def _facing(dance: Dance, kind: str, cuts: Sequence[Cut]) -> str:
    """ ", facing 3:00": the way they face there, each wall's where that differs; "" where no wall has it."""
    faced: list[str] = []
    for wall in dance.walls:
        for event in wall.events if wall.number in [cut.wall for cut in cuts] else ():
            if event.kind == kind:
                at = wall.at + event.after
                faced.append(next((m.before.facing for m in wall.movements if m.at >= at), wall.ends).clock)
    clocks = faced if len(set(faced)) > 1 else faced[:1]
    return f", facing {_and(clocks)}" if clocks else ""


def _walls(cuts: Sequence[Cut], before: str) -> str:
    """ "in wall 5 after 16 counts"; a tag at a wall's end is "after wall 2"."""
    after = cuts[0].after
    walls = f"{'walls' if len(cuts) > 1 else 'wall'} {_listed([cut.wall for cut in cuts])}"
    return f"{before}{walls}" if after is None else f"in {walls} after {after} counts"


def _listed(numbers: Sequence[int]) -> str:
    return _and([str(number) for number in numbers])


def _and(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _counts(first: int, last: int) -> str:
    return str(first) if first == last else f"{first}-{last}"


def _named(heading: str, name: str) -> str:
    return f"{heading}: {name}" if name else heading


def _order(routine: Routine) -> Iterator[str]:
    for item in routine.order:
        yield f"Tag {item.tag}".strip() if item.tag is not None else f"{item.part}{item.counts or ''}"


@dataclass(frozen=True, slots=True)
class _PageLayout:
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
                counts = f"counts {_counts(one.first, one.last)} of {part}section {one.section}"
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
