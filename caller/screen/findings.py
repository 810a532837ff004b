"""A sheet beside what was understood of it, with the check's findings at their lines, again whenever the file is saved.

Conventions: lines are the sheet's own, numbered from 1; what a line was taken for stands to its right, or below it
where the page is narrow; a finding stands below its line, with a mark under its column. The file is looked at twice a
second; what makes the findings is handed in.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path
from typing import ClassVar

from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from caller.routine.findings import Finding
from caller.screen.looks import INKS, Look
from caller.screen.plain_text import plain_text


@dataclass(frozen=True, slots=True)
class Checked:
    """A sheet's text and its findings, and what each line was taken for."""

    text: str = ""
    findings: Sequence[Finding] = ()
    understood: Mapping[int, str] = field(default_factory=dict)


# May raise OSError.
Check = Callable[[Path], Checked]
LOOKS_A_SECOND = 2
MOST_LINES = 5_000
# A finding that has less room to the right of its mark stands below it.
LEAST_ROOM = 30
_BESIDE = 4  # cells beside the sheet, for its padding and a scroll bar
# From this width on the sheet and what was understood stand side by side.
_SIDE_BY_SIDE = 90
_PARTED = " \u2502 "
_HOW = "N next finding, P the one before, Q leaves, arrows scroll. Checked again when the file is saved."
_LINE_END = re.compile(r"\r\n|\r|\n|\f|\x0b")  # as the reading of a sheet has it


def finding_rows(checked: Checked, width: int = 80) -> tuple[list[str], list[int]]:
    """The sheet's lines, each with what it was taken for beside it and its findings below it, wrapped into ``width``
    cells, and the rows at which findings begin. A finding of a line that is not there stands first."""
    lines = _LINE_END.split(checked.text)[:MOST_LINES]
    lines = lines[:-1] if lines and not lines[-1] else lines
    by_line: dict[int, list[Finding]] = {}
    for finding in checked.findings:
        place = finding.place.line if 1 <= finding.place.line <= len(lines) else 0
        by_line.setdefault(place, []).append(finding)
    rows: list[str] = []
    begins: list[int] = []
    digits = len(str(len(lines)))
    shown = list(map(_shown, lines))
    beside = _room_beside(shown, width - digits - 2) if checked.understood else 0
    for number, line in enumerate(["", *shown]):
        if number:
            rows += _laid(line, plain_text(checked.understood.get(number, "")), f"{number:>{digits}}  ", beside, width)
        for finding in sorted(by_line.get(number, ()), key=lambda f: f.place.column):
            begins.append(len(rows))
            rows += _told(finding, digits + 2 if number else 0, width)
    return rows, begins


def _room_beside(lines: Sequence[str], width: int) -> int:
    """Cells for the sheet itself where there is room for what was understood beside it; 0 where there is none."""
    if width < _SIDE_BY_SIDE:
        return 0
    return min(max(map(len, lines), default=0), (width - len(_PARTED)) // 2)


def _laid(line: str, taken_for: str, head: str, beside: int, width: int) -> Iterator[str]:
    """One line of the sheet, with what it was taken for."""
    if not taken_for or not beside:
        yield f"{head}{line}"
        if taken_for:
            yield from _wrapped(f"{' ' * len(head)}= ", taken_for, width)
        return
    room = width - len(head) - beside - len(_PARTED)
    left = [line[start : start + beside] for start in range(0, max(len(line), 1), beside)]
    right = [piece.plain for piece in Content(taken_for).wrap(max(room, LEAST_ROOM))]
    for n, (own, other) in enumerate(zip_longest(left, right, fillvalue="")):
        yield f"{head if n == 0 else ' ' * len(head)}{own:{beside}}{_PARTED}{other}".rstrip()


def _wrapped(head: str, words: str, width: int) -> Iterator[str]:
    for n, piece in enumerate(Content(words).wrap(max(width - len(head), LEAST_ROOM))):
        yield f"{head if n == 0 else ' ' * len(head)}{piece.plain}"


def _told(finding: Finding, indent: int, width: int) -> Iterator[str]:
    column = max(finding.place.column - 1, 0) if indent else 0
    start = indent + min(column, 200)
    words = Content(f"{finding.severity.value}: {plain_text(finding.message)} ({finding.code})")
    beside = width - start - 2
    if beside < LEAST_ROOM:
        yield f"{' ' * start}^"
        yield from (" " * indent + line.plain for line in words.wrap(max(width - indent, LEAST_ROOM)))
        return
    for number, line in enumerate(words.wrap(beside)):
        yield f"{' ' * start}{' ' if number else '^'} {line.plain}"


def _shown(line: str) -> str:
    """Character by character, so that a mark stays under its column."""
    return "".join(character if character.isprintable() else " " for character in line)


def tally(title: str, findings: Sequence[Finding]) -> str:
    """ "chalk-line.txt: 2 errors, 1 warning"."""
    counted = Counter(finding.severity.value for finding in findings)
    plural = {"error": "errors", "guess": "guesses", "warning": "warnings", "advice": "pieces of advice"}
    words = ", ".join(f"{n} {kind if n == 1 else plural.get(kind, kind)}" for kind, n in sorted(counted.items()))
    return f"{plain_text(title)}: {words or 'nothing found'}"


class FindingsPage(App[bool]):
    """Driven by hand in tests: :meth:`look` is what happens twice a second. asks: what Enter does where it leaves the
    page ("saves it"); the app then returns whether it was Enter."""

    CSS_PATH = "pages.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n,space", "go_to(1)", "Next finding", priority=True),
        Binding("enter", "enter", "Next finding, or go on", priority=True),
        Binding("p,backspace", "go_to(-1)", "The one before", priority=True),
        Binding("q,escape,ctrl+q", "leave", "Leave", priority=True),
    ]

    def __init__(self, path: Path, check: Check, look: Look = Look.DARK, asks: str = "", name: str = "") -> None:
        self._look, self._asks, self._called = look, asks, name or path.name
        super().__init__()
        self._path, self._check = path, check
        self._saved: tuple[int, int] | None = None
        self._found = Checked()
        self._begins: list[int] = []
        self._width = 80
        self._at = -1
        self._heading = Static("", id="heading", markup=False)
        self._sheet = Static("", id="sheet", markup=False)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return INKS[self._look]

    def compose(self) -> ComposeResult:
        yield self._heading
        with VerticalScroll(id="scroll"):
            yield self._sheet
        how = f"Enter {self._asks}, Q leaves without, N next finding, P the one before, arrows scroll."
        yield Static(how if self._asks else _HOW, id="how", markup=False)

    def on_mount(self) -> None:
        self.animation_level = "none"
        self.look()
        self.set_interval(1 / LOOKS_A_SECOND, self.look)

    def look(self) -> None:
        """Check again, if the file has been saved since."""
        try:
            status = self._path.stat()
            saved = (status.st_mtime_ns, status.st_size)
            if saved == self._saved:
                return
            found = self._check(self._path)
        except OSError as fault:
            self._heading.update(f"{plain_text(self._called)}: can't be read: {fault.strerror or fault}")
            self._saved = None
            return
        self._saved = saved
        self._found, self._at = found, -1
        self._heading.update(tally(self._called, found.findings))
        self._lay()

    def on_resize(self, resize: events.Resize) -> None:
        self._width = resize.size.width
        self._lay()

    def _lay(self) -> None:
        rows, self._begins = finding_rows(self._found, self._width - _BESIDE)
        self._sheet.update(Content("\n".join(rows)))

    def action_go_to(self, by: int) -> None:
        """Bring the next finding (or the one before) into sight, round and round."""
        if self._begins:
            self._at = (
                (self._at + by) % len(self._begins) if self._at >= 0 else (0 if by > 0 else len(self._begins) - 1)
            )
            above = self._begins[self._at] - 3
            self.query_one("#scroll", VerticalScroll).scroll_to(y=max(above, 0), animate=False)

    def action_enter(self) -> None:
        if self._asks:
            self.exit(True)
        else:
            self.action_go_to(1)

    def action_leave(self) -> None:
        self.exit(False)

    def action_help_quit(self) -> None:
        """Ctrl+C leaves, as everywhere in a terminal."""
        self.exit(False)


def show_findings(path: Path, check: Check, look: Look = Look.DARK, asks: str = "", name: str = "") -> bool:
    """A sheet with its findings until it is left, checked again whenever it is saved; whether it was left with what
    ``asks`` says. name: what the sheet is called, where that is not its file's name."""
    return bool(FindingsPage(path, check, look, asks, name).run(mouse=False))
