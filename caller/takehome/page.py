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

from caller.dance.unroll import unroll
from caller.dance.wall_map import map_walls
from caller.dance.walls import Dance, DancedStep
from caller.routine.parts import Option, Routine, Section
from caller.routine.vocabulary import Vocabulary
from caller.takehome.drawing import MapSide, floor_figure, map_sides
from caller.takehome.floor import footfalls
from caller.takehome.page_events import EventBox, events_of, happens_in
from caller.takehome.page_facts import facts_of, length_of, said_already
from caller.takehome.page_lines import PageBlock, PageLayout, PageLine, counts_words

MAP_ACROSS = 260
_COUNTS_FIRST = re.compile(r"\d[\d&,\s-]*\s")


@dataclass(frozen=True, slots=True)
class SheetPage:
    title: str
    facts: tuple[str, ...]
    sections: tuple[PageBlock, ...]
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
    reader = PageLayout(header.feel, vocabulary)
    events = tuple(events_of(dance, reader))
    return SheetPage(
        title=header.title,
        facts=(facts := tuple(facts_of(dance))),
        sections=tuple(_section(n, reader, dance, events) for n in range(len(routine.sections))),
        order=" ".join(_order(routine)),
        sides=map_sides(mapped, MAP_ACROSS),
        across=MAP_ACROSS,
        walls=mapped.walls,
        length=length_of(dance),
        notes=tuple(note for note in header.notes if not said_already(note, facts, header.tempo)),
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


def _section(index: int, reader: PageLayout, dance: Dance, events: Sequence[EventBox]) -> PageBlock:
    section = dance.routine.sections[index]
    part = f"Part {section.part} section" if section.part else "Section"
    falls, _ = footfalls(_as_danced(section, dance))
    options = tuple(_option(option, reader) for option in section.options)
    heading = _named(f"{part} {section.number}", section.name)
    behind = tuple(event.block for event in events if event.behind == index)
    happens = tuple(happens_in(section, dance.routine))
    return PageBlock("section", heading, reader.lines(section.passage), floor_figure(falls), options, happens, behind)


def _option(option: Option, reader: PageLayout) -> PageBlock:
    lines = reader.lines(option.passage)
    heading = _named(f"Option {counts_words(option.first, option.last)}", _own_name(option, lines))
    return PageBlock("option", heading, lines)


def _own_name(option: Option, lines: Sequence[PageLine]) -> str:
    """What an option is called, "" where its words are its steps, which stand below."""
    steps = [line.words.casefold() for line in lines if line.counts]
    told = _COUNTS_FIRST.match(option.name) or any(words in option.name.casefold() for words in steps)
    return "" if told else option.name


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


def _named(heading: str, name: str) -> str:
    return f"{heading}: {name}" if name else heading


def _order(routine: Routine) -> Iterator[str]:
    for item in routine.order:
        yield f"Tag {item.tag}".strip() if item.tag is not None else f"{item.part}{item.counts or ''}"
