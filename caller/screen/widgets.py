"""The screen's own parts. Each shows plain text only, redraws only when what it shows has changed, and takes no focus.

Conventions: what a part shows is one frozen value set from outside; sizes are its own business.
"""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.reactive import reactive
from textual.widget import Widget

from caller.routine.facing import NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.screen.dial import dial
from caller.screen.letters import fit_first
from caller.screen.plain_text import plain_text

_EDGE = ("██", "▁▁")


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


class Line(Widget):
    """Sentences in ordinary letters, one below the other. They wrap; what has no room is cut off with an ellipsis."""

    sentences: reactive[tuple[str, ...]] = reactive(())

    def render(self) -> Content:
        return Content("\n".join(map(plain_text, self.sentences)))

    def say(self, *sentences: str) -> None:
        self.sentences = tuple(sentence for sentence in sentences if sentence)


class Page(Widget):
    """Lines laid out already, each shown as it is."""

    lines: reactive[tuple[str, ...]] = reactive(())

    def render(self) -> Content:
        return Content("\n".join(self.lines))


class Listed(Widget):
    """A heading and its sentences, one a paragraph, as many as there is room for; how many are left out is said."""

    sentences: reactive[tuple[str, ...]] = reactive((), layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return sum(len(_wrapped(sentence, place, width)) for place, sentence in enumerate(self.sentences))

    def render(self) -> Content:
        width, rows = self.size
        lines: list[str] = []
        for place, sentence in enumerate(self.sentences):
            wrapped = _wrapped(sentence, place, width)
            left = len(self.sentences) - place
            if len(lines) + len(wrapped) + (left > 1) > rows:
                lines.append(f"and {left} more" if lines else f"{left} in all: {plain_text(sentence)}"[:width])
                break
            lines.extend(wrapped)
        return Content("\n".join(lines[:rows]))


def _wrapped(sentence: str, place: int, width: int) -> list[str]:
    """A sentence of a list in lines; the first is the heading."""
    return [line.plain for line in Content(("· " if place else "") + plain_text(sentence)).wrap(max(width, 1))]


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
    """The foot to move: its word on its own side, with a block at that edge; the other foot's edge lies flat."""

    foot: reactive[Foot | None] = reactive(None)
    shown = reactive(False)

    def render(self) -> Content:
        width, rows = self.size
        if not self.shown or rows < 1:
            return Content("")
        lines = []
        for row, words in enumerate(self._words(width - 6, rows)):
            lying = _EDGE[1] if row == rows - 1 else "  "
            left = _EDGE[0] if self.foot is Foot.LEFT else lying
            right = _EDGE[0] if self.foot is Foot.RIGHT else lying
            lines.append(f"{left} {words} {right}")
        return Content("\n".join(lines))

    def _words(self, width: int, rows: int) -> list[str]:
        if self.foot is None:
            return [" " * width] * rows
        word = self.foot.word
        lines = list(fit_first((f"{word} foot", word), width, rows, place=word).lines)
        return lines + [" " * width] * (rows - len(lines))


class Dial(Widget):
    """Where the class faces and turns next; empty while ``facing`` is None."""

    facing: reactive[Facing | None] = reactive(None)
    turn: reactive[Turn] = reactive(NO_TURN)

    def render(self) -> Content:
        width, rows = self.size
        return Content("\n".join(dial(self.facing, self.turn, width, rows)) if self.facing else "")
