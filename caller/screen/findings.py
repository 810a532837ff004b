"""A sheet beside what was understood of it, with the check's findings at their lines, again whenever the file is saved.

Conventions: the file is looked at twice a second; what makes the findings is handed in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
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
from caller.screen.sheet_rows import Checked, finding_rows
from caller.screen.terminal import FullScreen, run_on_terminal

# May raise OSError.
Check = Callable[[Path], Checked]
LOOKS_A_SECOND = 2
_BESIDE = 4  # cells beside the sheet, for its padding and a scroll bar
_HOW = "N next finding, P the one before, Q leaves, arrows scroll. Checked again when the file is saved."


def tally(title: str, findings: Sequence[Finding]) -> str:
    """ "chalk-line.txt: 2 errors, 1 warning"."""
    counted = Counter(finding.severity.value for finding in findings)
    plural = {"error": "errors", "guess": "guesses", "warning": "warnings", "advice": "pieces of advice"}
    words = ", ".join(f"{n} {kind if n == 1 else plural.get(kind, kind)}" for kind, n in sorted(counted.items()))
    return f"{plain_text(title)}: {words or 'nothing found'}"


class FindingsPage(FullScreen[bool]):
    """Driven by hand in tests: :meth:`look` is what happens twice a second. asks: what Enter does where it leaves the
    page ("saves it"); the app then returns whether it was Enter."""

    CSS_PATH = "pages.tcss"
    ENDS_PROGRAM = False  # the sheet as it stands then is checked once more
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
    left = run_on_terminal(FindingsPage(path, check, look, asks, name))
    return left is True
