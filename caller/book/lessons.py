"""From a programme, running, or a dance, danced, to an entry of the class book; and whether somebody was there.

Conventions: an entry is made when a go has come to its end, before anything else follows, so that what was taught is
kept as it happens. The instant is handed in, and the tempo as it was danced.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction

from caller.book.entries import Taught
from caller.dance.unroll import is_whole
from caller.dance.walls import Dance
from caller.routine.parts import first_words
from caller.teaching.drill import RUNGS
from caller.teaching.running import Running
from caller.teaching.stage import StageKind

# Whoever was there answers about as soon as a section has been told and danced; later, it may be somebody who has come
# back.
ANSWERS_WITHIN = timedelta(minutes=3)
# So many tellings without an answer, and nobody is there: after the second a lesson waits, if it is let.
_UNANSWERED = 2


@dataclass(frozen=True, slots=True)
class Attendance:
    """Whether what is danced is attended: an order tells that somebody is there. open: what was danced after a telling
    that nobody has answered yet. missed: stages that nobody attended, each with its routine."""

    open: tuple[Taught, ...] = ()
    missed: frozenset[tuple[str, int]] = frozenset()

    def gone(self, entry: Taught, silent: int) -> tuple[Attendance, Taught]:
        """With one more go, and its entry as it is to be kept. silent: how much was told since the last order."""
        before = [stage + 1 for routine, stage in self.missed if routine == entry.routine and stage < entry.stage]
        entry = replace(entry, since=max([entry.since, *before]))
        own = {(entry.routine, entry.stage)} if entry.stage else set()
        if silent == 0:
            return Attendance(missed=self.missed - own), entry
        unattended = replace(entry, attended=False)
        return Attendance((*self.open, unattended) if silent < _UNANSWERED else (), self.missed | own), unattended

    def answered(self, at: datetime) -> tuple[Attendance, tuple[Taught, ...]]:
        """Once an order has come: what was attended after all."""
        soon = bool(self.open) and at - self.open[-1].at <= ANSWERS_WITHIN
        attended = {(entry.routine, entry.stage) for entry in self.open} if soon else set[tuple[str, int]]()
        return Attendance(missed=self.missed - attended), self.open if soon else ()


def taught_now(
    class_name: str, running: Running, dance: Dance, tempo: Fraction, full: Fraction, at: datetime
) -> Taught | None:
    """The entry for the last go done; None where none is. running: after the outcome "done"; dance: that its stages are
    of. tempo: as danced; full: the routine's own; counts a minute."""
    if not running.done:
        return None
    go, programme = running.done[-1], running.programme
    lesson = programme.way == "walkthrough" and not go.stage.beside
    stages = len(programme.stages) if lesson else 0
    through = go.stage.start == 0 and go.stage.end == dance.counts
    whole = stages > 0 and through and is_whole(dance)
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=programme.title,
        way="dance" if whole else "drill" if go.stage.beside else programme.way,
        part=go.stage.name,
        stage=go.index + 1 if stages else 0,
        stages=stages,
        tempo=tempo,
        full=full,
        since=running.since + 1 if stages else 1,
    )


def rung_now(class_name: str, running: Running, index: int, full: Fraction, at: datetime) -> Taught | None:
    """The entry for a rung of a practice that went well, by its stage's place; None for a stage that is no rung."""
    stage = running.programme.stages[index]
    if stage.speed not in RUNGS:
        return None
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=running.programme.title,
        way="practice",
        part=f"{stage.name}, went well",
        stage=RUNGS.index(stage.speed) + 1,
        stages=len(RUNGS),
        tempo=running.programme.tempo * stage.speed * running.nudged.of(stage),
        full=full,
    )


def weak_now(class_name: str, running: Running, at: datetime) -> Taught | None:
    """The entry for a place of a practice that has just been said to be weak, before any of it is danced; None where
    none has."""
    practised = running.programme.way == "practice" and not running.over
    if not practised or running.announced or running.stage.kind is not StageKind.DRILL:
        return None
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=running.programme.title,
        way="practice",
        part=running.stage.name,
    )


def danced_now(
    class_name: str, dance: Dance, tempo: Fraction, full: Fraction, at: datetime, since: Fraction = Fraction(0)
) -> Taught:
    """The entry for a dance danced to its end. tempo: as danced; full: the routine's own; counts a minute. since: the
    count from which it was danced without leaving any out; of what is not the whole dance, that is a drill, as fewer
    walls than it has are."""
    walls, first = len(dance.walls), dance.wall_at(since).number
    whole = _rounds(dance, walls) or f"{walls} wall{'' if walls == 1 else 's'}"
    part = f"from wall {first}, to the end" if first > 1 else "from within wall 1, to the end"
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=dance.routine.header.title,
        way="drill" if since or not is_whole(dance) else "dance",
        part=part if since else whole,
        tempo=tempo,
        full=full,
    )


def part_now(class_name: str, dance: Dance, walls: int, tempo: Fraction, full: Fraction, at: datetime) -> Taught:
    """The entry for a dance that has been danced as far as so many of its walls: a drill, since it is not the whole
    dance. tempo, full: as in :func:`danced_now`."""
    return Taught(
        class_name=class_name,
        at=at.astimezone(UTC).replace(microsecond=0),
        routine=dance.routine.header.title,
        way="drill",
        part=_rounds(dance, walls) or f"{walls} of {len(dance.walls)} walls",
        tempo=tempo,
        full=full,
    )


def _rounds(dance: Dance, times: int) -> str:
    """ "sections 1 to 2, 3 times"; "" for a dance that goes through all of its sections."""
    if dance.routine.only is None:
        return ""
    return f"{first_words(dance.routine.only)}, {'once' if times == 1 else f'{times} times'}"
