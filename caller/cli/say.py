"""What commands say: JSON documents, findings with their line and a caret, refusals."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from fractions import Fraction

from caller.routine.findings import Finding
from caller.routine.notation.lines import plain_line


class Refused(Exception):
    """What was asked for can't be done; the message is one sentence that says why and what to do."""

    def __init__(self, sentence: str, status: int = 2) -> None:
        super().__init__(sentence)
        self.status = status


def print_json(document: object) -> None:
    print(json.dumps(document, ensure_ascii=False, indent=1))


def number(exact: Fraction | int | None) -> int | float | None:
    """For JSON: whole numbers as such."""
    if exact is None:
        return None
    whole = Fraction(exact)
    return int(whole) if whole.denominator == 1 else float(whole)


def finding_document(finding: Finding) -> dict[str, object]:
    return {
        "line": finding.place.line,
        "column": finding.place.column,
        "severity": finding.severity.value,
        "code": finding.code,
        "message": plain_line(finding.message),
    }


def finding_lines(name: str, finding: Finding, lines: list[str]) -> Iterable[str]:
    """The finding, the line it stands on, and a caret under its column."""
    place = finding.place
    where = f"{name}:{place.line}:{place.column}"
    yield f"{where}: {finding.severity.value} ({finding.code}): {plain_line(finding.message)}"
    if 1 <= place.line <= len(lines):
        # Character by character, so that the caret stays under its column.
        shown = "".join(plain_line(c) or "\N{REPLACEMENT CHARACTER}" for c in lines[place.line - 1][:200]).rstrip()
        if shown and place.column <= len(shown) + 1:
            yield f"    {shown}"
            yield f"    {' ' * (place.column - 1)}^"


def print_findings(name: str, findings: Iterable[Finding], text: str, to_stderr: bool = False) -> None:
    lines = text.splitlines()
    for finding in findings:
        for line in finding_lines(name, finding, lines):
            print(line, file=sys.stderr if to_stderr else sys.stdout)


def warn(sentence: str) -> None:
    print(f"caller: {sentence}", file=sys.stderr)
