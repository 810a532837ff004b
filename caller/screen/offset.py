"""A page on which the offset of a loudspeaker is set: a click each second is heard, a mark is lit when it should be.

Conventions: the mark is asked for a hundred times a second, from the sound's own place. What flashes is small (WCAG
2.3.1: no more than a quarter of any ten degrees of sight, 21,824 of 1024 by 768 pixels) and comes once a second.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget
from textual.widgets import Static

from caller.screen.lateness import COARSE_MS, FINE_MS, Clicking, Lateness, Offset, ms_words
from caller.screen.looks import INKS, Look
from caller.screen.plain_text import plain_text
from caller.screen.terminal import FullScreen
from caller.screen.widgets import BigWords

LOOKS_A_SECOND = 100
# What is set at a look stands until the next: half of that; and painting it takes some 20 ms.
AHEAD_SECONDS = 0.025
SMALL = Fraction(21_824, 1024 * 768)

_WHAT = "A click each second. The mark should fill at the very moment you hear it."
_HOW = (
    f"The mark comes first: Right, {FINE_MS:g} ms (Up, {COARSE_MS:g}). "
    f"The click comes first: Left, {FINE_MS:g} ms (Down, {COARSE_MS:g}). 0: none. "
    "Enter keeps it for this device, Esc leaves."
)


class OffsetMark(Widget):
    """A frame that is always there, filled while ``lit``."""

    lit = reactive(False)

    def render(self) -> Content:
        rows, cells = mark_size(self.app.size.width, self.app.size.height)
        filled = ("█" if self.lit else " ") * cells
        drawn = [f"┌{'─' * cells}┐", *[f"│{filled}│"] * rows, f"└{'─' * cells}┘"]
        return Content("\n".join(line.center(self.size.width) for line in drawn))


def mark_size(width: int, height: int) -> tuple[int, int]:
    """Rows and cells that flash on a screen of that size: as large as is small, and at least one row. A cell is taken
    to be half as wide as it is high."""
    allowed = int(width * height * SMALL)
    rows = max(1, max((r for r in range(1, height) if 3 * r * r <= allowed), default=1))
    return rows, max(1, min(3 * rows, allowed // rows))


class OffsetPage(FullScreen[Offset | None]):
    """Returns what is to be kept, None where it was left. devices: names, the one in use among them."""

    CSS_PATH = "pages.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("right", f"move({FINE_MS})", "Later", priority=True),
        Binding("left", f"move(-{FINE_MS})", "Sooner", priority=True),
        Binding("up,shift+right,pageup", f"move({COARSE_MS})", "Much later", priority=True),
        Binding("down,shift+left,pagedown", f"move(-{COARSE_MS})", "Much sooner", priority=True),
        Binding("0", "none", "None", priority=True),
        Binding("enter", "keep", "Keep", priority=True),
        Binding("escape,q,ctrl+q", "leave", "Leave", priority=True),
    ]

    def __init__(
        self,
        clicking: Clicking,
        devices: Sequence[str],
        offset_of: Callable[[str], float],
        reach_ms: tuple[float, float],
        look: Look = Look.DARK,
    ) -> None:
        self._look = look
        super().__init__()
        self._devices = devices
        self._late = Lateness(clicking, offset_of, *reach_ms, AHEAD_SECONDS)
        self._mark, self._ms = OffsetMark(id="mark"), BigWords(id="ms", place="center", tallest=10)
        self._sound, self._told = Static("", id="sound", markup=False), list[str]()

    def get_theme_variable_defaults(self) -> dict[str, str]:
        return INKS[self._look]

    def compose(self) -> ComposeResult:
        yield Static(_WHAT, id="heading", markup=False)
        yield self._mark
        yield self._ms
        yield self._sound
        yield Static(_HOW, id="how", markup=False)

    def on_mount(self) -> None:
        self.animation_level = "none"
        self.look()
        self.set_interval(1 / LOOKS_A_SECOND, self.look)

    def look(self) -> None:
        """Show how things are now."""
        self._late.look()
        self._mark.lit = self._late.lit
        self._ms.wordings = (ms_words(self._late.ms),)
        lines = sound_lines(self._late, self._devices)
        if lines != self._told:
            self._told = lines
            self._sound.update("\n".join(lines))

    def action_move(self, by: float) -> None:
        self._late.set(self._late.ms + by)
        self.look()

    def action_none(self) -> None:
        self._late.set(0)
        self.look()

    def action_keep(self) -> None:
        if self._late.offset is not None:
            self.exit(self._late.offset)

    def action_leave(self) -> None:
        self.exit(None)

    def action_help_quit(self) -> None:
        """Ctrl+C leaves, as everywhere in a terminal."""
        self.exit(None)


def sound_lines(late: Lateness, devices: Sequence[str]) -> list[str]:
    """How the sound is, and every device, the one in use marked."""
    used = late.offset
    names = (f"{plain_text(name)} (in use)" if used and name == used.device else plain_text(name) for name in devices)
    return [f"Heard on: {plain_text(late.sound)}", f"Sound devices: {', '.join(names)}"]
