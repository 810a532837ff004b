"""The whole check: what reading found, what one look finds, and what dancing through the running order finds.

One rule, one function. A fault is told once, at the place that a teacher would mend; all of a sheet's findings come at
once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from caller.dance.check.events import events
from caller.dance.check.joins import joins
from caller.dance.check.order import order
from caller.dance.check.passes import passes, walls_of
from caller.dance.check.stated import facings, lengths
from caller.routine import check as look
from caller.routine.findings import Finding, Place, Severity
from caller.routine.layout.blocks import Role
from caller.routine.notation.read import SheetRead
from caller.routine.parts import Routine
from caller.routine.passages import Passage, Step

__all__ = ["check", "has_errors", "walls_of"]


def check(sheet: SheetRead) -> tuple[Finding, ...]:
    """Every finding of a sheet, in order of place."""
    routine = sheet.routine
    found = list(sheet.findings)
    if routine.sections:
        found += look.counts_total(routine, _counts_explained(sheet))
        found += events(routine)
        found += order(routine)
        found += lengths(routine)
        found += passes(routine)
        found += joins(routine)
        found += facings(routine)
        found += look.no_option(routine)
        found += look.cautions(_in_a_row(routine))
        found += _careful_events(routine)
    told: dict[tuple[str, Place], Finding] = {}
    for finding in found:
        place = Place(max(1, finding.place.line), finding.place.column)
        told.setdefault((finding.code, place), replace(finding, place=place))
    return tuple(sorted(told.values(), key=lambda f: (f.place, f.code)))


def has_errors(findings: Sequence[Finding]) -> bool:
    return any(f.severity is Severity.ERROR for f in findings)


def _counts_explained(sheet: SheetRead) -> bool:
    """Whether wrong counts, or lines whose counts could not be read, are told already."""
    read = {step.place.line for section in sheet.routine.sections for step in section.passage.steps}
    last = max(read, default=0)  # what stands below all steps lacks no counts of them
    return any(
        f.code in ("counts-order", "counts-overlap", "counts-gap")
        or (
            f.code in ("unreadable", "unread")
            and f.place.line not in read
            and f.place.line < last
            and sheet.roles.get(f.place.line) is not Role.EVENT
        )
        for f in sheet.findings
    )


def _in_a_row(routine: Routine) -> list[Step]:
    """All steps of the sections one after another, positions counted through."""
    steps: list[Step] = []
    passed = 0
    for section in routine.sections:
        steps += [Step(step.at + passed, step.count, step.movement, step.place) for step in section.passage.steps]
        passed += section.passage.counts
    return steps


def _careful_events(routine: Routine) -> Iterator[Finding]:
    for passage in _other_passages(routine):
        yield from look.cautions(passage.steps)


def _other_passages(routine: Routine) -> Iterator[Passage]:
    yield from (tag.passage for tag in routine.tags)
    for holder in routine.holders:
        yield from (replacement.passage for replacement in holder.replacements)
    yield from (option.passage for section in routine.sections for option in section.options)
    if routine.ending is not None:
        yield routine.ending.passage
