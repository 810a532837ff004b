"""A page to pick a routine from: type to search, arrows to move, Enter to take it.

Conventions: rows as ``caller list --json`` has them; text from sheets is shown as plain text.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from caller.screen.looks import INKS, Look
from caller.screen.plain_text import plain_text
from caller.screen.search import Row, found, row_line
from caller.screen.terminal import FullScreen, run_on_terminal

_HOW = (
    "Type to search: words of the title or level, '32 counts', '4 walls', 'tempo 90-110'. Enter takes it, Esc leaves."
)


class Picker(FullScreen[Path | None]):
    """Returns the path of the row taken, None where none is."""

    CSS_PATH = "pages.tcss"
    ENDS_PROGRAM = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,ctrl+q", "leave", "Leave", priority=True),
        Binding("down", "move(1)", "Next", priority=True),
        Binding("up", "move(-1)", "Before", priority=True),
        Binding("pagedown", "move(10)", "Further", priority=True),
        Binding("pageup", "move(-10)", "Back", priority=True),
    ]

    def __init__(self, rows: Sequence[Row], look: Look = Look.DARK) -> None:
        self._look = look
        super().__init__()
        self._rows, self._shown = rows, list(rows)
        self._line, self._list = Input(placeholder="search", id="search"), OptionList(id="list", markup=False)
        self._tally = Static("", id="tally", markup=False)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return INKS[self._look]

    def compose(self) -> ComposeResult:
        yield Static("Which routine?", id="heading", markup=False)
        yield self._line
        yield self._tally
        yield self._list
        yield Static(_HOW, id="how", markup=False)

    def on_mount(self) -> None:
        self.animation_level = "none"
        self._list.can_focus = False
        self._line.focus()
        self._fill()

    def on_input_changed(self, changed: Input.Changed) -> None:
        self._shown = found(self._rows, changed.value)
        self._fill()

    def on_input_submitted(self, _: Input.Submitted) -> None:
        if self._list.highlighted is not None and self._shown:
            self.exit(Path(str(self._shown[self._list.highlighted]["path"])))

    def on_option_list_option_selected(self, taken: OptionList.OptionSelected) -> None:
        self.exit(Path(str(self._shown[taken.option_index]["path"])))

    def action_move(self, by: int) -> None:
        if self._shown:
            last = len(self._shown) - 1
            self._list.highlighted = max(0, min((self._list.highlighted or 0) + by, last))

    def action_leave(self) -> None:
        self.exit(None)

    def action_help_quit(self) -> None:
        """Ctrl+C leaves, as everywhere in a terminal."""
        self.exit(None)

    def _fill(self) -> None:
        width = max((len(plain_text(str(row.get("title") or "?"))) for row in self._shown), default=0)
        lines = (plain_row(row, width) for row in self._shown)
        self._list.clear_options().add_options(Option(Content(line)) for line in lines)
        self._list.highlighted = 0 if self._shown else None
        one = f"{len(self._shown)} of {len(self._rows)} routines"
        self._tally.update(one if self._shown else f"{one}: fewer words find more.")


def plain_row(row: Row, width: int) -> str:
    plain = {key: plain_text(value) if isinstance(value, str) else value for key, value in row.items()}
    return row_line(plain, width)


def pick_routine(rows: Sequence[Row], look: Look = Look.DARK) -> Path | None:
    """Let one be picked on a page of its own; None where none was. rows: as ``caller list --json`` has them."""
    return run_on_terminal(Picker(rows, look))
