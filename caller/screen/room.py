"""The screen's places and what is put in them. Knows boards, not sessions.

Conventions: the parts are made once and kept, so that they can be set at any moment of the screen's life.
"""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Container, Horizontal, Vertical
from textual.widget import Widget

from caller.screen.board import Board
from caller.screen.side import Side
from caller.screen.widgets import (
    BarRow,
    BigWords,
    Dial,
    FootRow,
    Listed,
    Parts,
    RunningOrder,
    SentenceLine,
    Sentences,
    WallStrip,
)
from caller.screen.words import announced_wordings
from caller.transport.state import State

# Heights of capitals in squares, where more would only take room from others.
_SMALL, _ROOM, _MIDDLE = 5, 7, 14


class Room(Widget):
    """Header, calls, the side with count, foot and dial, and the lines below."""

    def __init__(self) -> None:
        super().__init__(id="all", classes="idle still")  # as most begin: a change of class costs a new layout
        self._title, self._section = SentenceLine(id="title", as_wide=True), SentenceLine(id="section")
        self._tempo = BigWords(id="tempo", place="right", tallest=_SMALL)
        self._wall = BigWords(id="wall", place="right", tallest=_SMALL)
        self._call, self._label = BigWords(id="call"), SentenceLine(id="label")
        self._next, self._listed = BigWords(id="next", tallest=_MIDDLE), Listed(id="listed")
        self._easier, self._coming = BigWords(id="easier", tallest=_MIDDLE), BigWords(id="coming")
        # A small screen has no room for both in large letters: what is coming is the more pressing.
        self._wall_below = BigWords(id="wall_below")
        self._count, self._bar = BigWords(id="count", place="center"), BarRow(id="bar")
        self._foot, self._dial = FootRow(id="foot"), Dial(id="dial")
        self._facing = BigWords(id="facing", place="center", tallest=_ROOM)
        self._turn = BigWords(id="turn", place="center", tallest=_SMALL)
        self._when = SentenceLine(id="when")
        self._notice, self._away = Sentences(id="notice"), Sentences(id="away")
        self._strip, self._order = WallStrip(id="strip"), RunningOrder(id="order")
        self._status, self._beside = Parts(id="status"), SentenceLine(id="beside")

    def compose(self) -> ComposeResult:
        yield Horizontal(Container(self._title, self._section, id="titles"), self._tempo, self._wall, id="header")
        yield Horizontal(
            Vertical(
                *(self._call, self._label, self._next, self._easier, self._listed, self._coming, self._wall_below),
                id="calls",
            ),
            Vertical(self._count, self._bar, self._foot, self._dial, self._facing, self._turn, self._when, id="side"),
            id="room",
        )
        yield self._beside
        yield self._strip
        yield self._order
        yield self._away
        yield self._notice
        yield self._status

    def show(self, board: Board) -> None:
        """Everything."""
        self._call.wordings, self._next.wordings = board.large.call, board.large.next
        announced = "" if board.caption.of_step else board.caption.words
        self._easier.wordings = board.large.easier or ("",)
        self.set_class(bool(board.large.easier), "halved")
        self._label.sentence = _label(board, announced)
        self._title.sentence = board.title
        self._section.sentence = board.section
        self._tempo.wordings, self._wall.wordings = board.tempo, board.wall
        self._coming.wordings = announced_wordings(announced, board.coming)
        self._wall_below.wordings = board.wall
        self.set_class(bool(announced or board.coming), "warned")
        self.set_class(not any(board.large.next), "alone")
        self.set_class(not any(board.wall), "idle")
        self._listed.sentences, self._listed.marked = board.listed, board.marked
        self._listed.set_class(bool(board.listed), "some")
        self._status.parts = board.status
        # Notices stand in place of the status line for as long as there are any.
        self._notice.sentences = board.notices
        self.set_class(bool(board.notices), "noted")
        self._beside.sentence = board.beside
        self.set_class(bool(board.beside), "shared")
        self._strip.shown = (board.strip, board.holds)
        self._order.shown = (board.order, board.order_now)
        self.set_class(board.strip is not None or bool(board.holds), "striped")
        self.set_class(bool(board.order), "ordered")
        self.set_class(board.moving, "moving")
        self.set_class(not board.moving, "still")
        self.set_class(board.state == State.TELLING.value, "told")
        self._show_side(board.side)

    def show_away(self, words: str) -> None:
        """words: "" while the window is in front."""
        self._away.sentences = (words,) if words else ()
        self.set_class(bool(words), "away")

    def _show_side(self, side: Side) -> None:
        self._count.wordings = (side.count,)
        self._bar.beat = (side.in_bar, side.bar)
        self._foot.foot, self._foot.only_next, self._foot.shown = side.foot, side.foot_next, bool(side.count)
        self._dial.facing, self._dial.turn = side.facing, side.turn
        self._dial.facing_class = self._foot.facing_class = side.facing_class
        self._facing.wordings = (f"facing {side.facing}", str(side.facing)) if side.facing else ("",)
        short = side.turn_amount.replace("full turn ", "full ")
        turns = (side.turn_amount, short)
        self._turn.wordings = (*(f"{words} {side.turn_when}".strip() for words in turns), side.turn_amount)
        self._when.sentence = side.turn_when


def _label(board: Board, announced: str) -> str:
    """What the next large words are, and what is being said meanwhile that has no large letters."""
    said = f'said: "{board.caption.words}"' if board.caption.words and not announced else ""
    return " · ".join(words for words in (board.large.label, said) if words)
