"""The screen's own parts. Each shows plain text only, redraws only when what it shows has changed, and takes no focus.

Conventions: what a part shows is one frozen value set from outside; sizes are its own business.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.cells import cell_len
from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.screen.dial import dial
from caller.screen.feet import foot_lines, next_foot_lines
from caller.screen.letters import fit_first
from caller.screen.plain_text import plain_text
from caller.screen.strip import order_lines, strip_line
from caller.screen.words import first_key
from caller.transport.order import Order

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.screen.course import OrderWall, Strip


class BigWords(Widget):
    """Words as large as its space allows, in the first of several wordings that fits in block letters.

    tallest: the most squares a capital may be high.
    """

    wordings: reactive[tuple[str, ...]] = reactive(("",))

    def __init__(self, *, id: str, place: str = "left", tallest: int = 42) -> None:
        super().__init__(id=id)
        self._place = place
        self._tallest = tallest

    def render(self) -> Content:
        return Content("\n".join(fit_first(self.wordings, *self.size, place=self._place, tallest=self._tallest).lines))


class SentenceLine(Widget):
    """A sentence in ordinary letters. It wraps; what has no room is left out after a whole word, with an ellipsis. Its
    height must not depend on what it says; ``as_wide``: its width does."""

    sentence = reactive("")

    def __init__(self, *, id: str, as_wide: bool = False) -> None:
        super().__init__(id=id)
        self._as_wide = as_wide

    def get_content_width(self, container: Size, viewport: Size) -> int:
        return cell_len(plain_text(self.sentence))

    def render(self) -> Content:
        return Content(whole_words(plain_text(self.sentence), *self.size))

    def watch_sentence(self) -> None:
        if self._as_wide:
            self.refresh(layout=True)


class Parts(Widget):
    """Short phrases in one line, what is worth most first: those that have no room are left out whole."""

    parts: reactive[tuple[str, ...]] = reactive(())

    def render(self) -> Content:
        kept = [plain_text(part) for part in self.parts]
        while len(kept) > 1 and cell_len(" | ".join(kept)) > self.size.width:
            kept.pop()
        return Content(whole_words(" | ".join(kept), self.size.width))


class Sentences(Widget):
    """Sentences in ordinary letters, one below the other, as high as they need."""

    sentences: reactive[tuple[str, ...]] = reactive((), layout=True)

    def render(self) -> Content:
        return Content("\n".join(map(plain_text, self.sentences)))


def whole_words(text: str, width: int, rows: int = 1) -> str:
    """As much of ``text`` as wraps into so many rows, ended with an ellipsis after a whole word where that is not all.
    A single word too wide is left as it is."""
    words = text.split(" ")
    for kept in range(len(words), 1, -1):
        shown = " ".join(words[:kept]) + ("" if kept == len(words) else " …")
        if len(Content(shown).wrap(max(width, 1))) <= rows:
            return shown
    return words[0]


class HelpPages(Widget):
    """Blocks of lines laid out already, as many lines to a page as there is room for, each block from a page of its own
    on, and below them how to go on. page: from 0."""

    blocks: reactive[tuple[tuple[str, ...], ...]] = reactive(())
    page = reactive(0)

    def render(self) -> Content:
        room = self._room
        laid = [block[at : at + room] for block in self.blocks for at in range(0, len(block), room)]
        shown = laid[self.page] if self.page < len(laid) else ()
        key, pages = first_key(Order.HELP), self._pages
        turns = f"{key} or Page Down turns the page"
        closes = f"Page {self.page + 1} of {pages}. {turns}, Esc" if pages > 1 else f"{key} or Esc"
        return Content("\n".join((*shown, "", f"{closes} closes it; the class goes on behind it.")))

    @property
    def last(self) -> bool:
        return self.page >= self._pages - 1

    @property
    def _room(self) -> int:
        """Lines to a page, with a blank one and the last left free."""
        return max(self.size.height - 2, 1)

    @property
    def _pages(self) -> int:
        return max(1, sum(-(-len(block) // self._room) for block in self.blocks))


class Listed(Widget):
    """A heading and its sentences, one a paragraph, as many as there is room for; how many are left out is said.
    marked: the one that is now, which is always in sight; -1 = none."""

    sentences: reactive[tuple[str, ...]] = reactive((), layout=True)
    marked = reactive(-1)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return sum(len(_wrapped(sentence, place, width)) for place, sentence in enumerate(self.sentences))

    def render(self) -> Content:
        width, rows = self.size
        if self.marked >= 0:
            return Content("\n".join(self._round_the_mark(width, rows)))
        lines: list[str] = []
        for place, sentence in enumerate(self.sentences):
            wrapped = _wrapped(sentence, place, width)
            left = len(self.sentences) - place
            if len(lines) + len(wrapped) + (left > 1) > rows:
                lines.append(f"and {left} more" if lines else f"{left} in all: {plain_text(sentence)}"[:width])
                break
            lines.extend(wrapped)
        return Content("\n".join(lines[:rows]))

    def _round_the_mark(self, width: int, rows: int) -> list[str]:
        """As many lines as there is room for, the marked one and what comes next before what is over."""
        lines: list[str] = []
        begins = ends = 0
        for place, sentence in enumerate(self.sentences):
            wrapped = _wrapped(sentence, place, width)
            if place == self.marked:
                begins, ends = len(lines), len(lines) + len(wrapped)
                wrapped = [MARK + line[1:] if not n else line for n, line in enumerate(wrapped)]
            lines += wrapped
        first = max(min(begins - 1, len(lines) - rows), ends - rows, 0)
        return lines[first : first + rows]


# Before the sentence that is now, in the place of the dot before the others.
MARK = "▶"


def _wrapped(sentence: str, place: int, width: int) -> list[str]:
    """A sentence of a list in lines; the first, and any with a colon at its end, is a heading."""
    heading = not place or sentence.endswith(":")
    return [line.plain for line in Content(("" if heading else "· ") + plain_text(sentence)).wrap(max(width, 1))]


class BarRow(Widget):
    """The bar as a row of marks, the one danced now thick: ``beat`` is (place in the bar from 0, counts a bar)."""

    beat: reactive[tuple[int, int]] = reactive((0, 0))

    def render(self) -> Content:
        place, bar = self.beat
        if bar < 1:
            return Content("")
        wide = max(1, (self.size.width + 1) // bar - 1)
        return Content(" ".join(("▄" if count == place else "▁") * wide for count in range(bar)))


class FootRow(Widget):
    """The foot that moves: its print and its word on its own side; the other foot's edge lies flat. One that moves
    next: in words alone.

    facing_class: the dancers' right foot is at the left, toes down, as a teacher who faces them sees it; its word
    stays.
    """

    foot: reactive[Foot | None] = reactive(None)
    only_next = reactive(False)
    shown = reactive(False)
    facing_class = reactive(False)

    def render(self) -> Content:
        if not self.shown or self.foot is None:
            return Content("")
        lines = next_foot_lines if self.only_next else foot_lines
        return Content("\n".join(lines(self.foot, *self.size, self.facing_class)))


class Dial(Widget):
    """Where the class faces and turns next; empty while ``facing`` is None."""

    facing: reactive[Facing | None] = reactive(None)
    turn: reactive[Turn] = reactive(NO_TURN)
    facing_class = reactive(False)

    def render(self) -> Content:
        width, rows = self.size
        drawn = dial(self.facing, self.turn, width, rows, self.facing_class) if self.facing else ()
        return Content("\n".join(drawn))


class WallStrip(Widget):
    """The wall danced now as a strip of its sections, and what holds besides: ``shown`` is (strip, phrases)."""

    shown: reactive[tuple[Strip | None, tuple[str, ...]]] = reactive((None, ()))

    def render(self) -> Content:
        strip, holds = self.shown
        return Content(strip_line(strip, self.size.width, holds) if strip else " · ".join(holds))


class RunningOrder(Widget):
    """All walls, the one danced now in brackets: ``shown`` is (walls, number of that one or 0)."""

    shown: reactive[tuple[tuple[OrderWall, ...], int]] = reactive(((), 0))

    def render(self) -> Content:
        order, now = self.shown
        return Content("\n".join(order_lines(order, now, *self.size)) if order else "")
