"""Small sheets for tests: the test's text is the routine."""

from __future__ import annotations

from fractions import Fraction

from caller.dance.check import check
from caller.routine.findings import Finding, Severity
from caller.routine.notation.read import SheetRead, read_sheet
from caller.routine.passages import Passage
from caller.routine.step import Movement

HEADER = "Title: Test Piece\nTempo: 100\n"


def read(*lines: str, starts: str = "right", feel: str = "straight", header: str = "") -> SheetRead:
    """A sheet of one section with these step lines."""
    return read_sheet(f"{HEADER}{header}Starts: {starts}\nFeel: {feel}\n\nSection 1\n" + "\n".join(lines) + "\n")


def passage(*lines: str, starts: str = "right", feel: str = "straight") -> Passage:
    """The one section of such a sheet, which must read without a finding."""
    sheet = read(*lines, starts=starts, feel=feel)
    assert sheet.findings == (), sheet.findings
    return sheet.routine.sections[0].passage


def movements(*lines: str, starts: str = "right", feel: str = "straight") -> list[tuple[Fraction, Movement]]:
    return [(step.at, step.movement) for step in passage(*lines, starts=starts, feel=feel).steps]


def found(text: str) -> list[Finding]:
    """Errors and warnings of a whole sheet."""
    return [f for f in check(read_sheet(text)) if f.severity is not Severity.ADVICE]


def codes(text: str) -> list[tuple[str, int]]:
    return [(f.code, f.place.line) for f in found(text)]
