"""The check's findings at their lines, checked again whenever the file is saved.

Conventions: lines are the sheet's own, numbered from 1; a finding stands below its line, with a mark under its column.
The file is looked at twice a second; what makes the findings is handed in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from caller.routine.findings import Finding
from caller.screen.looks import INKS, Look
from caller.screen.plain_text import plain_text
from caller.screen.terminal import FullScreen, run_on_terminal

# The sheet's text and its findings. May raise OSError.
Check = Callable[[Path], tuple[str, Sequence[Finding]]]
LOOKS_A_SECOND = 2
MOST_LINES = 5_000
# A finding that has less room to the right of its mark stands below it.
LEAST_ROOM = 30
_BESIDE = 4  # cells beside the sheet, for its padding and a scroll bar
_HOW = "N next finding, P the one before, Q leaves, arrows scroll. Checked again when the file is saved."


def finding_rows(text: str, findings: Sequence[Finding], width: int = 80) -> tuple[list[str], list[int]]:
    """The sheet's lines, each with its findings below it, wrapped into ``width`` cells, and the rows at which findings
    begin. A finding of a line that is not there stands first."""
    lines = text.splitlines()[:MOST_LINES]
    by_line: dict[int, list[Finding]] = {}
    for finding in findings:
        place = finding.place.line if 1 <= finding.place.line <= len(lines) else 0
        by_line.setdefault(place, []).append(finding)
    rows: list[str] = []
    begins: list[int] = []
    digits = len(str(len(lines)))
    for number, shown in enumerate(["", *map(_shown, lines)]):
        if number:
            rows.append(f"{number:>{digits}}  {shown}")
        for finding in sorted(by_line.get(number, ()), key=lambda f: f.place.column):
            begins.append(len(rows))
            rows += _told(finding, digits + 2 if number else 0, width)
    return rows, begins


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
    plural = {"error": "errors", "warning": "warnings", "advice": "pieces of advice"}
    words = ", ".join(f"{n} {kind if n == 1 else plural.get(kind, kind)}" for kind, n in sorted(counted.items()))
    return f"{plain_text(title)}: {words or 'nothing found'}"


class FindingsPage(FullScreen[None]):
    """Driven by hand in tests: :meth:`look` is what happens twice a second."""

    CSS_PATH = "pages.tcss"
    ENDS_PROGRAM = False  # the sheet as it stands then is checked once more
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n,enter,space", "go_to(1)", "Next finding", priority=True),
        Binding("p,backspace", "go_to(-1)", "The one before", priority=True),
        Binding("q,escape,ctrl+q", "leave", "Leave", priority=True),
    ]

    def __init__(self, path: Path, check: Check, look: Look = Look.DARK) -> None:
        self._look = look
        super().__init__()
        self._path, self._check = path, check
        self._saved: tuple[int, int] | None = None
        self._found: tuple[str, Sequence[Finding]] = "", ()
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
        yield Static(_HOW, id="how", markup=False)

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
            text, findings = self._check(self._path)
        except OSError as fault:
            self._heading.update(f"{plain_text(self._path.name)}: can't be read: {fault.strerror or fault}")
            self._saved = None
            return
        self._saved = saved
        self._found, self._at = (text, findings), -1
        self._heading.update(tally(self._path.name, findings))
        self._lay()

    def on_resize(self, resize: events.Resize) -> None:
        self._width = resize.size.width
        self._lay()

    def _lay(self) -> None:
        rows, self._begins = finding_rows(*self._found, self._width - _BESIDE)
        self._sheet.update(Content("\n".join(rows)))

    def action_go_to(self, by: int) -> None:
        """Bring the next finding (or the one before) into sight, round and round."""
        if self._begins:
            self._at = (
                (self._at + by) % len(self._begins) if self._at >= 0 else (0 if by > 0 else len(self._begins) - 1)
            )
            above = self._begins[self._at] - 3
            self.query_one("#scroll", VerticalScroll).scroll_to(y=max(above, 0), animate=False)

    def action_leave(self) -> None:
        self.exit()

    def action_help_quit(self) -> None:
        """Ctrl+C leaves, as everywhere in a terminal."""
        self.exit()


def show_findings(path: Path, check: Check, look: Look = Look.DARK) -> None:
    """A sheet with its findings until it is left, checked again whenever it is saved."""
    run_on_terminal(FindingsPage(path, check, look))
