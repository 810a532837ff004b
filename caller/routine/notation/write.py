"""A routine back to text, in the standard layout: reading what is written here gives the same routine.

Conventions: headers in the contract's order; counts from 1 in each section, padded; movements in standard words,
figures that the sheet names by their names; lines as the sheet has them, those of more than four counts divided where
phrases end. Every step line is read back as it is made: of the ways to write it, the first that reads the same is
taken.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass, field

from caller.routine.layout.blocks import Role
from caller.routine.layout.mentions import mentions_in
from caller.routine.layout.standard_form import QUOTED, standard_form
from caller.routine.notation.kept_words import lost_lines
from caller.routine.notation.laying import NOTE, Written, passage_lines
from caller.routine.notation.read import SheetRead
from caller.routine.parts import Cut, Header, Replacement, Routine, Section, ToldLength
from caller.routine.passages import Passage
from caller.routine.vocabulary import Vocabulary, shipped


def write_sheet(sheet: SheetRead, vocabulary: Vocabulary | None = None) -> str:
    """The sheet in the standard layout. Raises ValueError where a part of it could not be read."""
    routine = sheet.routine
    if any(_lost(passage) for passage in routine.passages):
        raise ValueError("a part of this sheet can't be read, so it can't be written; see what the check finds")
    text = _written(sheet, vocabulary or shipped(), quoting=False)
    return text if standard_form(text) is not None else _written(sheet, vocabulary or shipped(), quoting=True)


def _written(sheet: SheetRead, vocabulary: Vocabulary, quoting: bool) -> str:
    unread = {number for number, role in sheet.roles.items() if role is Role.UNREAD}
    writer = _Writer(sheet.routine, vocabulary, quoting, unread)
    writer.write()
    lost = lost_lines(sheet.text, sheet.roles, writer.lines)  # each above what it is written as
    kept = ((number - 1, f'# as its author has it: "{text}"') for number, text in lost)
    comments = sorted([*sheet.routine.comments, *kept])
    return "\n".join(_with_comments(writer.lines, comments)).strip("\n") + "\n"


def _note(text: str, quoting: bool) -> str:
    """A note as it is written: in quotes where it speaks of an event that has no heading, or has quotes itself."""
    speaks = quoting and any(mention.told or mention.placed for mention in mentions_in(text))
    return f'"{text}"' if speaks or QUOTED.fullmatch(text) else text


def _with_comments(lines: Sequence[Written], comments: Sequence[tuple[int, str]]) -> Iterator[str]:
    """Comments, each with its line in the sheet, before the first line that comes from further down than they do."""
    waiting = list(comments)
    for n, line in enumerate(lines):
        source = line.source or next((x.source for x in lines[n:] if x.source), 0)
        while waiting and line.text and source > waiting[0][0]:
            yield waiting.pop(0)[1]
        yield line.text
    yield from (text for _, text in waiting)


def _lost(passage: Passage) -> bool:
    """Whether steps that can't be read have no words of the author's either."""
    told = {n for words in passage.words for n in range(words.first, words.last + 1)}
    return any(step.movement.action == "unread" and n not in told for n, step in enumerate(passage.steps))


@dataclass(slots=True)
class _Writer:
    """quoting: notes that speak of events are in quotes. unread: lines of the sheet that nobody can place. lines: what
    is written so far, each with the sheet's line that it comes from (0 = none of its own)."""

    routine: Routine
    vocabulary: Vocabulary
    quoting: bool
    unread: Set[int]
    lines: list[Written] = field(default_factory=list)

    def write(self) -> None:
        self._header(self.routine.header)
        lengths = {told.part: told for told in self.routine.told if not told.section}
        own = {section.part for section in self.routine.sections}
        for part in [part for part in lengths if part not in own]:
            self._part(lengths.pop(part))
        for section in self.routine.sections:
            if section.part in lengths:
                self._part(lengths.pop(section.part))
            self._section(section)
        self._events()

    def _add(self, text: str, source: int = 0) -> None:
        self.lines.append(Written(text, source))

    # -- header

    def _header(self, header: Header) -> None:
        source = 0  # a line that the sheet does not have stands with the one before it
        for key, value in _header_values(header, self.routine):
            place = header.places.get(key.lower().replace(" ", "_"))
            source = place.line if place else source
            self._add(f"{key}: {value}", source)
        for note in header.notes:
            self._add(f"Notes: {_note(note, self.quoting)}", source)

    # -- sections

    def _part(self, told: ToldLength) -> None:
        self._heading(f"Part {told.part}: {told.counts} counts", told.place.line)

    def _section(self, section: Section) -> None:
        name = f": {section.name}" if section.name else ""
        word = f"Part {section.part} section" if section.part else "Section"
        long = {told.section: f" ({told.counts} counts)" for told in self.routine.told if told.part == section.part}
        self._heading(f"{word} {section.number}{long.get(section.number, '')}{name}", section.place.line)
        self._steps(section.passage)
        for option in section.options:
            counts = f"{option.first}-{option.last}" if option.last != option.first else str(option.first)
            self._add(f"Option {counts}{f': {option.name}' if option.name else ''}", option.place.line)
            self._steps(option.passage)

    def _steps(self, passage: Passage, prefix: str = "") -> None:
        for line in passage_lines(passage, self.routine.header.feel, self.vocabulary, prefix):
            note = line.text.removeprefix(NOTE)
            if note == line.text:
                self._add(line.text, line.source)
            elif line.source in self.unread:
                self._add(f"Unread: {note}", line.source)
            else:
                self._add(NOTE + _note(note, self.quoting), line.source)

    # -- events

    def _events(self) -> None:
        routine = self.routine
        for tag in routine.tags:
            name = f"Tag {tag.name}".strip()
            self._heading(f"{name}: {_after_walls(tag.cuts)}" if tag.cuts else name, tag.place.line)
            self._steps(tag.passage)
        for restart in routine.restarts:
            self._heading(f"Restart: {_in_walls(restart.cuts)}", restart.place.line)
            self._replacements(restart.replacements)
        for change in routine.changes:
            self._heading(f"Change: {_walls(change.walls)}", change.place.line)
            self._replacements(change.replacements)
        untold = {cut.wall: cut for restart in routine.restarts for cut in restart.cuts if cut.changed}
        for wall, cut in untold.items():  # in a way that nobody could read
            self._heading(f"Change: {_walls((wall,))}", cut.place.line)
        if routine.ending is not None:
            self._heading(f"Ending: {_in_walls((routine.ending.cut,))}", routine.ending.place.line)
            self._steps(routine.ending.passage)

    def _heading(self, text: str, source: int) -> None:
        self._add("")
        self._add(text, source)

    def _replacements(self, replacements: Sequence[Replacement]) -> None:
        for one in replacements:
            part = f"Part {one.part} " if one.part else ""
            if one.leaves_out:
                counts = f"{one.first}-{one.last}" if one.last > one.first else str(one.first)
                self._add(f"{part}S{one.section} {counts}  left out", one.place.line)
                continue
            self._steps(one.passage, f"{part}S{one.section} ")


def _header_values(header: Header, routine: Routine) -> Iterable[tuple[str, object]]:
    """The keys that have a value, in the standard order."""
    tempo = header.tempo
    said: tuple[tuple[str, object], ...] = (
        ("Title", header.title),
        ("Devised by", header.devised_by),
        ("Counts", header.counts),
        ("Walls", header.walls),
        ("Level", header.level),
        ("Tempo", None if tempo is None else tempo if tempo.denominator == 1 else float(tempo)),
        ("Meter", header.meter),
        ("Feel", header.feel.value),
        ("Intro", header.intro),
        ("Starts", header.starts.word if header.starts else ""),
        ("Music", header.music),
        ("Order", _order(routine)),
    )
    return ((key, value) for key, value in said if value not in (None, ""))


def _order(routine: Routine) -> str:
    """ "A A B Tag A16"; a comma after an unnamed tag that could be taken with the part after it."""
    names = {tag.name for tag in routine.tags}
    items: list[str] = []
    for item in routine.order:
        if item.tag is None:
            text = f"{item.part}{item.counts if item.counts is not None else ''}"
            if items and items[-1] == "Tag" and item.part in names and item.counts is None:
                items[-1] = "Tag,"
            items.append(text)
        else:
            items.append(f"Tag {item.tag}".strip())
    return " ".join(items)


def _walls(walls: Sequence[int]) -> str:
    listed = [str(wall) for wall in walls]
    if len(listed) == 1:
        return f"wall {listed[0]}"
    return f"walls {', '.join(listed[:-1])} and {listed[-1]}" if listed else ""


def _after_walls(cuts: Sequence[Cut]) -> str:
    return f"after {_in_walls(cuts)}" if cuts[0].after is None else _in_walls(cuts)


def _in_walls(cuts: Sequence[Cut]) -> str:
    """All of one place, and the facing there where they state the same."""
    counts = f" after {cuts[0].after} counts" if cuts[0].after is not None else ""
    stated = {cut.facing for cut in cuts}
    facing = f", facing {cuts[0].facing}" if len(stated) == 1 and cuts[0].facing is not None else ""
    return _walls([cut.wall for cut in cuts]) + counts + facing
