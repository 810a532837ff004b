"""What commands say: JSON documents, findings with their line and a caret, refusals; and the one gate that all of it
goes through on its way to a terminal or a file."""

from __future__ import annotations

import io
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from fractions import Fraction
from typing import TYPE_CHECKING, TextIO

from caller.screen.plain_text import printable

if TYPE_CHECKING:  # what is only named here would be slow to bring in before a screen's first paint
    from caller.routine.findings import Finding


class Refused(Exception):
    """What was asked for can't be done; the message is one sentence that says why and what to do. told: lines that
    stand above it."""

    def __init__(self, sentence: str, status: int = 2, told: Sequence[str] = ()) -> None:
        super().__init__(sentence)
        self.status, self.told = status, told


class Unwritten(OSError):
    """What there is to say can't be written: the disk is full, say."""


class Gate(io.TextIOBase):
    """A stream that passes on nothing but signs, spaces and line ends: whatever a sheet, a voice, the book or a file's
    name holds, no terminal is steered by it. Everything else is the stream's own. needed: raises Unwritten where it
    can't be written; else what can't be is let fall. BrokenPipeError, where nobody reads on, is told in itself."""

    def __init__(self, stream: TextIO, needed: bool = True) -> None:
        self._stream, self._needed = stream, needed
        if isinstance(stream, io.TextIOWrapper):  # signs that its encoding lacks are told for such, not raised
            stream.reconfigure(errors="replace")

    def write(self, text: str) -> int:
        with self._heeding():
            self._stream.write(printable(text))
        return len(text)

    def flush(self) -> None:
        with self._heeding():
            self._stream.flush()

    @contextmanager
    def _heeding(self) -> Iterator[None]:
        try:
            yield
        except OSError as fault:
            if self._needed and isinstance(fault, BrokenPipeError):
                raise
            if self._needed:
                raise Unwritten(fault.errno, fault.strerror) from fault

    def fileno(self) -> int:
        return self._stream.fileno()

    def isatty(self) -> bool:
        return self._stream.isatty()

    def writable(self) -> bool:
        return True

    def close(self) -> None:
        """The stream is whoever's it was."""

    @property
    def stream(self) -> TextIO:
        """What is behind it, for what draws on a terminal itself."""
        return self._stream


@contextmanager
def gated() -> Iterator[None]:
    """All that is printed within goes through the gate. What is typed or piped in needn't be text."""
    before = sys.stdout, sys.stderr
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")
    sys.stdout, sys.stderr = Gate(sys.stdout), Gate(sys.stderr, needed=False)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def drawn_on(stream: TextIO) -> TextIO:
    """The stream behind the gate, for what draws on the terminal with signs of its own."""
    return stream.stream if isinstance(stream, Gate) else stream


def print_json(document: object) -> None:
    """Signs that steer a terminal are escaped, so that the document says the same behind the gate."""
    text = json.dumps(document, ensure_ascii=False, indent=1)
    if printable(text) != text:
        text = json.dumps(document, indent=1)
    print(text)


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
        print(printable(f"caller: {sentence}"), file=sys.stderr)
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
