"""What a class did, written into its book as it happens.

Conventions: what is made here is called from the class's own thread with each thing done, and returns a sentence to be
told, "" where all is well. A book that can't be written is told of once, and the class goes on.
"""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from caller.book.entries import Standing, Taught
    from caller.book.known import Known
    from caller.book.store import Book
    from caller.dance.walls import Dance
    from caller.session import WholeDance
    from caller.teaching.running import Running


# The class that stands for whoever practises alone.
AT_HOME = "at home"


class BookKeeping:
    """The book of one class, written as it goes. now: what the time is."""

    def __init__(self, class_name: str, now: Callable[[], datetime] = lambda: datetime.now(UTC)) -> None:
        from caller.book.lessons import Attendance
        from caller.session.walls_danced import WallsDanced

        self._class_name, self._now = class_name, now
        self._attendance, self._told, self._rungs = Attendance(), False, 0
        self._item, self._danced = 0, WallsDanced()
        self._under_way: dict[str, Taught] = {}  # what is kept so far of each dance that is, by its title

    def gone(self, running: Running, dance: Dance, tempo: Fraction, full: Fraction) -> str:
        """One go of a programme has come to its end. dance: that its stages are of. tempo: as danced; full: the
        routine's own."""
        from caller.book.lessons import taught_now

        told = self.rungs(running, full)
        entry = taught_now(self._class_name, running, dance, tempo, full, self._now())
        if entry is None:
            return told
        self._attendance, kept = self._attendance.gone(entry, running.done[-1].silent)
        return self._written(lambda book: book.add(kept)) or told

    def rungs(self, running: Running, full: Fraction) -> str:
        """What went well of a practice, as far as it can't be taken back any more: another go has been danced since, or
        it is left."""
        from caller.book.lessons import rung_now
        from caller.teaching.stage import StageKind

        well, self._rungs = running.well[self._rungs :], len(running.well)
        rungs = [index for index in well if running.programme.stages[index].kind is StageKind.PRACTICE]
        entries = [rung_now(self._class_name, running, index, full, self._now()) for index in rungs]
        kept = [entry for entry in entries if entry is not None]
        return "".join(self._written(partial(_added, entry)) for entry in kept)

    def weak(self, running: Running) -> str:
        """The dancer has said that a place is weak: kept at once, since it may be left before it has been danced."""
        from caller.book.lessons import weak_now

        entry = weak_now(self._class_name, running, self._now())
        return "" if entry is None else self._written(partial(_added, entry))

    def passed(self, whole: WholeDance, count: Fraction, tempo: Fraction, full: Fraction, item: int = 0) -> str:
        """What is danced has come to a count of its route: each wall that lies behind it is kept, so that a dance that
        is left before its end is kept as far as it was danced. item: of an evening."""
        from caller.session.walls_danced import WallsDanced, dances_of

        if item != self._item:
            self._item, self._danced, self._under_way = item, WallsDanced(), {}
        before = self._danced
        self._danced = before.on(whole, count, tempo)
        if before.at is None:  # what was danced before is not danced now
            return ""
        more = [dance for dance in dances_of(whole) if self._walls(dance) != before.of(dance.routine.header.title)]
        return "".join([self._part(dance, tempo, full if dance is whole.sheet else tempo) for dance in more])

    def _part(self, dance: Dance, tempo: Fraction, full: Fraction) -> str:
        """A dance as far as it has been danced. tempo: now; full: where its sheet says none."""
        from caller.book.lessons import part_now

        full, top = dance.routine.header.tempo or full, self._danced.tempo(tempo)
        entry = part_now(self._class_name, dance, len(self._walls(dance)), top, full, self._now())
        before, self._under_way[entry.routine] = self._under_way.get(entry.routine), entry
        return self._put(entry, before)

    def _walls(self, dance: Dance) -> frozenset[int]:
        return self._danced.of(dance.routine.header.title)

    def danced(self, dance: Dance, tempo: Fraction, full: Fraction, since: Fraction = Fraction(0)) -> str:
        """A dance has come to its end, danced without leaving any out since a count of it. What was danced quicker
        before its end stays beside it, since how fast the whole is known goes by how it ended."""
        from caller.book.lessons import danced_now, part_now

        entry = danced_now(self._class_name, dance, tempo, full, self._now(), since)
        last = {wall.number for wall in dance.walls if wall.at >= since}
        if since and (more := self._walls(dance) - last):
            entry = part_now(self._class_name, dance, len(last | more), tempo, full, self._now())
        before = self._under_way.pop(entry.routine, None)
        quicker = before is not None and before.tempo is not None and before.tempo > tempo
        return self._put(entry, None if quicker else before)

    def danced_whole(self, whole: WholeDance, tempo: Fraction, full: Fraction) -> str:
        """What is called has come to its end, and what is danced beside it on the same floor with it."""
        from caller.session.walls_danced import WallsDanced

        told = self.danced(whole.sheet, tempo, whole.sheet.routine.header.tempo or full, whole.since)
        if whole.other is not None:
            beside = whole.other.plain
            told = self.danced(beside, tempo, beside.routine.header.tempo or tempo, whole.since) or told
        self._danced = WallsDanced()
        return told

    def _put(self, entry: Taught, instead_of: Taught | None) -> str:
        if instead_of is None:
            return self._written(lambda book: book.add(entry))
        return self._written(lambda book: book.put(entry, instead_of))

    def answered(self) -> str:
        """Somebody has ordered something, and is there."""
        self._attendance, attended = self._attendance.answered(self._now())
        return self._written(lambda book: book.attend(attended)) if attended else ""

    def marked(self, routine: str, mark: Standing) -> str:
        """The teacher has said how well the class can do it."""
        from caller.book.entries import Mark

        entry = Mark(self._class_name, self._now().astimezone(UTC).replace(microsecond=0), routine, mark)
        return self._written(lambda book: book.add(entry))

    def _written(self, write: Callable[[Book], object]) -> str:
        from caller.book.store import Book, BookFault, book_path

        if self._told:
            return ""
        try:
            with Book(book_path()) as book:
                write(book)
        except BookFault as fault:
            self._told = True
            return f"Not kept in the class book: {fault}."
        return ""


def _added(entry: Taught, book: Book) -> None:
    book.add(entry)


def _known(class_name: str, title: str) -> Known | None:
    """What a class knows of a routine; None where the book knows of nothing, or can't be read."""
    from caller.book.known import known
    from caller.book.spelling import same_name
    from caller.book.store import Book, BookFault, book_path

    try:
        if not book_path().exists():
            return None
        with Book(book_path()) as book:
            there = known(book.pages(), class_name)
            return next((entry for entry in there if same_name(entry.routine, title)), None)
    except BookFault:
        return None  # what can't be written either is told then


def last_time(class_name: str, title: str) -> str:
    """A sentence or two on when a class last did a routine, how fast, and how far a walkthrough of it got; "" where the
    book knows of none, or can't be read."""
    found = _known(class_name, title)
    if found is None or found.top_tempo is None or found.full is None:
        return ""
    day, top, full = found.last.astimezone(), float(found.top_tempo), float(found.full)
    fast = f"Last time, on {day.day} {day:%B}: up to {top:.4g} counts a minute, of {full:.4g}."
    stage, stages = found.furthest, found.stages
    on = f' --stage {stage + 1} goes on there, or "stage {stage + 1}" typed.' if stage < stages else ""
    return f"{fast} The walkthrough got to stage {stage} of {stages}.{on}" if stage else fast
