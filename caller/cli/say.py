"""What commands say: JSON documents, findings with their line and a caret, refusals."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from fractions import Fraction
from typing import TYPE_CHECKING

if TYPE_CHECKING:  # what is only named here would be slow to bring in before a screen's first paint
    from caller.routine.findings import Finding


class Refused(Exception):
    """What was asked for can't be done; the message is one sentence that says why and what to do. told: lines that
    stand above it."""

    def __init__(self, sentence: str, status: int = 2, told: Sequence[str] = ()) -> None:
        super().__init__(sentence)
        self.status, self.told = status, told


def print_json(document: object) -> None:
    print(json.dumps(document, ensure_ascii=False, indent=1))


def number(exact: Fraction | int | None) -> int | float | None:
    """For JSON: whole numbers as such."""
    if exact is None:
        return None
    whole = Fraction(exact)
    return int(whole) if whole.denominator == 1 else float(whole)


def finding_document(finding: Finding) -> dict[str, object]:
    from caller.routine.layout.lines import plain_line

    return {
        "line": finding.place.line,
        "column": finding.place.column,
        "severity": finding.severity.value,
        "code": finding.code,
        "message": plain_line(finding.message),
    }


def finding_lines(name: str, finding: Finding, lines: list[str]) -> Iterable[str]:
    """The finding, the line it stands on, and a caret under its column."""
    from caller.routine.layout.lines import plain_line

    place = finding.place
    where = f"{name}:{place.line}:{place.column}"
    yield f"{where}: {finding.severity.value} ({finding.code}): {plain_line(finding.message)}"
    if 1 <= place.line <= len(lines):
        # Character by character, so that the caret stays under its column.
        shown = "".join(plain_line(c) or "\N{REPLACEMENT CHARACTER}" for c in lines[place.line - 1][:200]).rstrip()
        if shown and place.column <= len(shown) + 1:
            yield f"    {shown}"
            yield f"    {' ' * (place.column - 1)}^"


def findings_lines(name: str, findings: Iterable[Finding], text: str) -> Iterator[str]:
    lines = text.splitlines()
    for finding in findings:
        yield from finding_lines(name, finding, lines)


def print_findings(name: str, findings: Iterable[Finding], text: str, to_stderr: bool = False) -> None:
    for line in findings_lines(name, findings, text):
        print(line, file=sys.stderr if to_stderr else sys.stdout)


_kept: ContextVar[list[str] | None] = ContextVar("warnings kept", default=None)


def warn(sentence: str) -> None:
    kept = _kept.get()
    if kept is None:
        print(f"caller: {sentence}", file=sys.stderr)
    else:
        kept.append(sentence)


@contextmanager
def warnings_into(kept: list[str]) -> Iterator[None]:
    """What is warned of within, on this thread, is kept there and not printed: a screen is up."""
    token = _kept.set(kept)
    try:
        yield
    finally:
        _kept.reset(token)
