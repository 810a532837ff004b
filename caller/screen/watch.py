"""Looking at a session: boards, with large words that change no faster than is safe, and notices and captions that stay
up long enough to be read.

Conventions: one watch for one screen, one thread; seconds are of a clock that does not run back.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from caller.screen.board import Board, Large, board_of
from caller.screen.captions import CaptionBoard
from caller.screen.pace import Pace
from caller.screen.words import new_notices

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.plan import Manner
    from caller.dance.walls import Dance
    from caller.screen.course import Course
    from caller.session import Live, View


NOTICE_SECONDS = 12.0
# An answer goes with the next thing that happens, but not before it could be read.
ANSWER_SECONDS = 2.0
MOST_NOTICES = 2


@dataclass(frozen=True, slots=True)
class _Row:
    """A notice that is up. until: seconds; where: how the class stood, of what answers an order; else None."""

    notice: str
    since: float
    until: float
    where: object = None


class NoticeBoard:
    """The last notices, oldest first, at most ``MOST_NOTICES`` at a time, each for a while however short a view carried
    it; what answers an order until something else has happened. Seconds must not run back."""

    def __init__(self) -> None:
        self._seen: tuple[str, ...] = ()
        self._where: object = ""  # how the class stood at the last look
        self._up: tuple[_Row, ...] = ()

    def shown(
        self, notices: tuple[str, ...], now_seconds: float, answers: tuple[str, ...] = (), where: object = None
    ) -> tuple[str, ...]:
        """What to show, given the notices of the newest view, which of them answer the last order, and how the class
        stands: where that is another way, something has happened."""
        fresh = new_notices(self._seen, notices)
        self._seen, self._where = notices, where
        answered = any(notice in answers for notice in fresh)
        up = [self._aged(row, now_seconds, where) for row in self._up if not (answered and row.where is not None)]
        up += [self._row(notice, now_seconds, where if notice in answers else None) for notice in fresh]
        self._up = tuple(row for row in up if now_seconds < row.until)[-MOST_NOTICES:]
        return tuple(row.notice for row in self._up)

    def say(self, notice: str, now_seconds: float) -> None:
        """An answer that no view carries: it goes as the others do, once there is another."""
        kept = (row for row in self._up if row.where is None)
        self._up = (*kept, self._row(notice, now_seconds, self._where))[-MOST_NOTICES:]

    def _row(self, notice: str, now_seconds: float, where: object = None) -> _Row:
        return _Row(notice, now_seconds, now_seconds + NOTICE_SECONDS, where)

    def _aged(self, row: _Row, now_seconds: float, where: object) -> _Row:
        happened = row.where is not None and row.where != where
        return replace(row, until=min(row.until, row.since + ANSWER_SECONDS)) if happened else row


class Watch:
    """facing_class: as seen by a teacher who faces the class; may be set at any time. told: sentences from before the
    session, the first notices."""

    def __init__(self, session: Live, now: Callable[[], float], told: Iterable[str] = ()) -> None:
        self.facing_class = False
        self._told = tuple(dict.fromkeys(map(_sentence, told)))
        self._session, self._now = session, now
        self._pace, self._notices, self._captions = Pace(), NoticeBoard(), CaptionBoard()
        self._wide: tuple[Large, bool] | None = None
        self._course: Course | None = None
        self._made_for: tuple[Dance, Manner] | None = None

    def say(self, sentence: str) -> None:
        """A notice of the screen's own."""
        self._notices.say(sentence, self._now())

    def look(self) -> Board:
        """Moves the class on, and shows it."""
        self._session.tick(self._session.desk.now())
        return self.shown()

    def shown(self) -> Board:
        """As it is now."""
        return self.board(self._session.view(self._session.desk.now()))

    def board(self, view: View) -> Board:
        """The board of a view that the session has just given."""
        seconds = self._now()
        board = board_of(view, self._course_of(self._session.dance), self.facing_class)
        large, moving = self._paced((board.large, board.moving), seconds)
        return replace(
            board,
            large=large,
            moving=moving,
            caption=self._captions.shown(board.caption, seconds, (*large.call, *large.next)),
            notices=self._notices.shown(
                (*self._told, *(one for one in view.notices if one not in self._told)),
                seconds,
                view.answers,
                (view.state, view.stage),
            ),
        )

    def _paced(self, wide: tuple[Large, bool], seconds: float) -> tuple[Large, bool]:
        """What changes much of the screen: the large words, and whether the class is moving."""
        if self._wide is None or (wide != self._wide and self._pace.allows(seconds)):
            self._wide = wide
            self._pace.changed(seconds)
        return self._wide

    def _course_of(self, dance: Dance | None) -> Course | None:
        """Made anew only when something else is danced, or called in another way."""
        if dance is None:
            return None
        made_for = (dance, self._session.manner)
        if self._made_for is None or self._made_for[0] is not dance or self._made_for[1] is not made_for[1]:
            from caller.screen.course import course_of
            from caller.screen.ready import what_is_said

            self._made_for, self._course = made_for, course_of(dance, what_is_said(*made_for))
        return self._course


def _sentence(words: str) -> str:
    """As notices are written."""
    return words[:1].upper() + words[1:].rstrip(".") + "."
