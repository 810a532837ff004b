"""What each line of a sheet was taken for, in a few words to stand beside it.

Conventions: lines are the sheet's own, from 1; an empty line, and one that says nothing more than its role, have short
words or none. Pure.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from caller.routine.layout.blocks import Role
from caller.routine.notation.standard import movements_written

if TYPE_CHECKING:
    from caller.routine.notation.read import SheetRead
    from caller.routine.parts import Cut, Header, Routine
    from caller.routine.passages import Step
    from caller.routine.vocabulary import Vocabulary

# What a role is called where a line says nothing more.
_WORDS = {
    Role.TITLE: "title",
    Role.HEADER: "header",
    Role.HEADING: "heading",
    Role.STEPS: "goes on with the line above",
    Role.EVENT: "told of an event",
    Role.OPTION: "easier way, kept as a note",
    Role.NOTE: "note",
    Role.UNREAD: "NOT READ: called in these words, not checked",
}
_FACTS = ("counts", "walls", "level", "tempo", "meter", "feel", "intro", "starts")


def understood(read: SheetRead, vocabulary: Vocabulary) -> dict[int, str]:
    """By line; empty lines are not there."""
    words = {line: _WORDS[role] for line, role in read.roles.items() if role in _WORDS}
    for line, more in (*_headings(read.routine), *_events(read.routine)):
        if line in words and words[line] in ("heading", "told of an event", "easier way, kept as a note"):
            words[line] = more
        elif line in words and more not in words[line]:
            words[line] = f"{words[line]}; {more}"
    for line, steps in _by_line(read.routine).items():
        if read.roles.get(line) in (Role.STEPS, Role.HEADING, Role.EVENT, Role.OPTION):
            told = _steps(steps, vocabulary)
            words[line] = told if read.roles[line] is Role.STEPS else f"{words[line]}: {told}"
    for line, facts in _facts(read.routine.header).items():
        if read.roles.get(line) is Role.HEADER:
            words[line] = ", ".join(facts)
    return words


def _facts(header: Header) -> dict[int, list[str]]:
    """What the header says, by the line that says it."""
    by_line: dict[int, list[str]] = {}
    for name in _FACTS:
        place, value = header.places.get(name), getattr(header, name)
        if place is not None and value is not None:
            shown = value.word if name == "starts" else getattr(value, "value", value)
            by_line.setdefault(place.line, []).append(
                f"{name} {float(shown):g}" if name == "tempo" else f"{name} {shown}"
            )
    return by_line


def _headings(routine: Routine) -> Iterator[tuple[int, str]]:
    for section in routine.sections:
        part = f"part {section.part}, " if section.part else ""
        yield section.place.line, f"{part}section {section.number}, {_counts(section.passage.counts)}"
        for option in section.options:
            yield option.place.line, f"easier way for counts {option.first}-{option.last}"


def _events(routine: Routine) -> Iterator[tuple[int, str]]:
    for tag in routine.tags:
        yield tag.place.line, f"tag {tag.name}".strip() + f", {_counts(tag.passage.counts)}, {_cuts(tag.cuts)}"
    for restart in routine.restarts:
        yield restart.place.line, f"restart {_cuts(restart.cuts)}"
    for change in routine.changes:
        yield change.place.line, f"step change in wall {', '.join(map(str, change.walls))}"
    if routine.ending is not None:
        ending = routine.ending
        yield ending.place.line, f"ending, {_counts(ending.passage.counts)}, {_cuts((ending.cut,))}"


def _counts(number: int) -> str:
    return f"{number} count{'' if number == 1 else 's'}"


def _cuts(cuts: Sequence[Cut]) -> str:
    told = [f"wall {cut.wall}{f' after {_counts(cut.after)}' if cut.after is not None else ''}" for cut in cuts]
    if not told:
        return "where the order says"
    return ("after " if cuts[0].after is None else "in ") + ", ".join(told)


def _by_line(routine: Routine) -> dict[int, list[Step]]:
    by_line: dict[int, list[Step]] = {}
    for passage in routine.passages:
        for step in passage.steps:
            by_line.setdefault(step.place.line, []).append(step)
    return by_line


def _steps(steps: Sequence[Step], vocabulary: Vocabulary) -> str:
    """ "1 walk R, 2 L, 3 step R to side"; each with the count that it falls on."""
    if all(step.movement.action == "unread" for step in steps):
        return _WORDS[Role.UNREAD]
    shared = [n > 0 and steps[n - 1].at == step.at for n, step in enumerate(steps)]
    words = movements_written([step.movement for step in steps], shared, vocabulary)
    told = [word if beside else f"{step.count} {word}" for step, word, beside in zip(steps, words, shared, strict=True)]
    return ", ".join(told)
