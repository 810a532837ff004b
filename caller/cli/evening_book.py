"""What an evening's class did, written into its book as the evening goes."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from caller.cli.keeping import BookKeeping

if TYPE_CHECKING:
    from caller.session.evening import Evening
    from caller.session.slots import Inner
    from caller.transport.order import Order


class EveningBook:
    """The class book, written as an evening goes; nothing where there is no class."""

    def __init__(self, class_name: str) -> None:
        self._book = BookKeeping(class_name) if class_name else None

    def done(self, evening: Evening, tempo: Fraction) -> str:
        """A go, or a dance, has come to its end. tempo: as danced, counts a minute. What is to be told, or ""."""
        from caller.session import TaughtProgramme, WholeDance

        own = evening.own
        if self._book is None:
            return ""
        if isinstance(own, TaughtProgramme):
            return self._book.gone(own.running, own.floors.plain, tempo, _full(own))
        return self._book.danced_whole(own, tempo, _full(own)) if isinstance(own, WholeDance) else ""

    def passed(self, evening: Evening, count: Fraction, tempo: Fraction) -> str:
        """What is danced has come to a count of its route. tempo: of what is danced. What is to be told, or ""."""
        from caller.session import WholeDance

        own = evening.own
        if self._book is None or evening.ahead is not None or not isinstance(own, WholeDance):
            return ""
        return self._book.passed(own, count, tempo, _full(own), evening.index)

    def ordered(self, evening: Evening, order: Order) -> str:
        """Somebody is there, and may have marked a routine. What is to be told, or ""."""
        from caller.session.evening_changes import MARKS

        if self._book is None:
            return "No class is named, so it is kept in no book." if order in MARKS else ""
        told = self._book.answered()
        return self._book.marked(*evening.marked[-1]) if order in MARKS else told


def _full(own: Inner) -> Fraction:
    """The routine's own tempo."""
    return own.facts.dance.routine.header.tempo or own.facts.tempo
