"""What entries of the class book say of a class: what it knows, what is due, how a practice went. Pure sums over them.

Conventions: as in :mod:`caller.book.entries`. A routine is one in whatever case its title was written.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from typing import Literal

from caller.book.entries import FIRST_YEAR, Mark, Pages, Standing, Taught
from caller.book.spelling import joined, same_name

# Days until a routine is to be gone over again, by how many lessons it has had; a class meets once a week. Each
# repetition lets the next one wait longer (spaced practice; common practice, the steps are ours).
_WAIT_DAYS = (7, 14, 28, 56, 112)
# What is shaky waits for no class that comes sooner, and goes before what was learnt as long ago.
_SHAKY_DAYS = 3


# A run of an evening, which is a little under the full tempo, is at tempo.
AT_TEMPO = Fraction(9, 10)


@dataclass(frozen=True, slots=True)
class Known:
    """What a class knows of one routine, by what was attended. lessons: days on which it was taught or danced, runs:
    those of them on which it was only danced, to its end or not; furthest: the last stage of ``stages`` up to which
    none was left out, with its words; top_tempo: the quickest of all, None where none was kept; whole: the whole dance
    was danced through, about as fast as it is; slowly: it was, at whatever tempo; mark: the teacher's, "" where there
    is none that holds; often: the section that was gone over more often than the others, "" where none was.
    """

    class_name: str
    routine: str
    lessons: int
    last: datetime
    furthest: int
    stages: int
    part: str
    top_tempo: Fraction | None
    full: Fraction | None
    due: datetime
    notes: tuple[str, ...]
    whole: bool
    mark: Standing | Literal[""] = ""
    often: str = ""
    slowly: bool = False
    runs: int = 0

    @property
    def can_run(self) -> bool:
        """Whether the class can dance all of it. What is shaky and half taught is shaky as far as it was taught."""
        whole = self.slowly or (self.mark == "shaky" and self.furthest == self.stages)
        return self.mark == "learnt" or (whole and self.mark != "not done")


def known(pages: Pages, class_name: str | None = None) -> tuple[Known, ...]:
    """What each class (or one) knows, by class and routine. What nobody attended is not known for that."""
    pages = joined(pages)
    groups: dict[tuple[str, str], list[Taught]] = {}
    for entry in pages.taught:
        if entry.attended and _is_of(entry, class_name):
            groups.setdefault((entry.class_name, entry.routine), []).append(entry)
    marks: dict[tuple[str, str], Mark] = {}
    for mark in sorted(pages.marks, key=lambda mark: mark.at):
        if _is_of(mark, class_name):
            groups.setdefault((mark.class_name, mark.routine), [])
            marks[mark.class_name, mark.routine] = mark
    return tuple(_known(place, group, marks.get(place), pages) for place, group in sorted(groups.items()))


def _is_of(entry: Taught | Mark, class_name: str | None) -> bool:
    return class_name is None or same_name(entry.class_name, class_name)


def due(pages: Pages, now: datetime, class_name: str | None = None) -> tuple[Known, ...]:
    """What is to be gone over again by ``now``, the longest overdue first."""
    waiting = (one for one in known(pages, class_name) if one.due <= now)
    return tuple(sorted(waiting, key=lambda one: (one.due, one.class_name, one.routine)))


def _known(place: tuple[str, str], group: list[Taught], mark: Mark | None, pages: Pages) -> Known:
    last = max([entry.at for entry in group] or [mark.at if mark else _NEVER])
    days = {entry.at.date() for entry in group}
    lessons = len(days)
    furthest, stages, part = _got_to(group)
    tempos = [entry.tempo for entry in group if entry.tempo is not None]
    fulls = [entry.full for entry in group if entry.full is not None]
    through = [entry for entry in group if _danced_through(entry)]
    whole = any(_at_tempo(entry) for entry in through)
    holds = mark if mark is not None and not _overtaken(mark, last) else None
    return Known(
        *place,
        lessons,
        last,
        furthest,
        stages,
        part,
        max(tempos, default=None),
        fulls[-1] if fulls else None,
        _due(holds, last, group, whole),
        tuple(note.words for note in pages.notes if (note.class_name, note.routine) == place),
        whole,
        holds.mark if holds else "",
        _gone_over_often(group),
        bool(through),
        len(days - {entry.at.date() for entry in group if not _is_run(entry)}),
    )


def _got_to(group: Sequence[Taught]) -> tuple[int, int, str]:
    """The stage up to which none was left out, of how many, in words; where there was no walkthrough, what was danced
    last, all of it before a part. A stage that was jumped to counts once all before it have been taught."""
    walked = sorted((entry for entry in group if entry.way in _OF_A_LESSON and entry.stages), key=lambda one: one.at)
    if not walked:
        last = max(group, key=lambda entry: (entry.stage, _danced_through(entry), entry.at), default=None)
        return (last.stage, last.stages, last.part) if last else (0, 0, "")
    reach, had = 0, list[Taught]()
    for before, entry in zip((walked[0], *walked), walked, strict=False):
        if entry.stages != before.stages:  # the sheet was changed, or the level is another
            reach, had = _carried_over(reach, before.stages, entry), [one for one in had if one.stage <= reach]
        had.append(entry)
        reach = _covered(reach, [one for one in had if one.stages == entry.stages])
    parts = [entry.part for entry in had if entry.stage == reach]
    return reach, walked[-1].stages, parts[-1] if parts else ""


def _covered(reach: int, entries: Iterable[Taught]) -> int:
    """How far stages have been taught without a gap, those up to reach included."""
    for entry in sorted(entries, key=lambda one: one.since):
        if entry.since <= reach + 1:
            reach = max(reach, entry.stage)
    return reach


def _carried_over(reach: int, stages: int, entry: Taught) -> int:
    """The stage as far on in a walkthrough of so many stages as entry's; the one before entry's first, where it began
    about there, since it was gone on with."""
    there = reach * entry.stages // stages
    return entry.since - 1 if reach and abs(entry.since - 1 - there) <= max(entry.stages // 10, 1) else there


def _danced_through(entry: Taught) -> bool:
    """Whether it was the whole dance; at the end of a walkthrough too."""
    ended = entry.way == "walkthrough" and 0 < entry.stages == entry.stage and entry.part == _WHOLE
    return entry.way == "dance" or ended


def _is_run(entry: Taught) -> bool:
    """Whether it was the dance by itself, at the end of no lesson, as far as it was danced."""
    return not entry.stages and (entry.way == "dance" or (entry.way == "drill" and bool(_LEFT.search(entry.part))))


def _at_tempo(entry: Taught) -> bool:
    return entry.tempo is None or entry.full is None or entry.tempo >= AT_TEMPO * entry.full


def _gone_over_often(group: Iterable[Taught]) -> str:
    """The section ("section 2", "part B section 1") that was danced by itself at least twice more than the next one, ""
    where none was: a lesson dances all of them about as often, so that is where it was gone over again."""
    parts = Counter(found[0].lower() for entry in group if (found := _SECTION.match(entry.part)))
    (most, times), (_, next_times) = (*parts.most_common(2), ("", 0), ("", 0))[:2]
    return most if times >= next_times + _MORE_OFTEN else ""


def _overtaken(mark: Mark, last: datetime) -> bool:
    """What was not done has been done since."""
    return mark.mark == "not done" and last > mark.at


def _due(mark: Mark | None, last: datetime, group: Sequence[Taught], whole: bool) -> datetime:
    """By what the teacher says; where that is nothing, by how far it got: what was left half taught is gone on with at
    the next class. What is known whole waits from when it was last taught or danced whole: a part of it that was danced
    since puts that off by no more than till the next class."""
    if mark is not None and mark.mark == "not done":
        return mark.at
    if mark is not None:
        return _waited(last, group) if mark.mark == "learnt" else last + timedelta(days=_SHAKY_DAYS)
    soon = last + timedelta(days=_WAIT_DAYS[0])
    taught = [entry for entry in group if entry.way != "drill"]
    return max(_waited(max(entry.at for entry in taught), taught), soon) if whole else soon


def _waited(last: datetime, group: Iterable[Taught]) -> datetime:
    """As long after the last time as so many lessons let it wait."""
    lessons = len({entry.at.date() for entry in group})
    return last + timedelta(days=_WAIT_DAYS[min(max(lessons, 1), len(_WAIT_DAYS)) - 1])


def last_rung(pages: Pages, class_name: str, routine: str) -> int:
    """The rung of a practice that last went well, from 1; 0 where none did."""
    rungs = [e for e in pages.taught if _practised(e, class_name, routine) and e.stage]
    return max(rungs, key=lambda entry: entry.at).stage if rungs else 0


def weak_places(pages: Pages, class_name: str, routine: str, since: datetime) -> tuple[int, ...]:
    """Sections that have been gone over by themselves in practice since an instant, the most often first."""
    practised = (e for e in pages.taught if _practised(e, class_name, routine) and e.at >= since)
    found = Counter(int(place[1]) for entry in practised if (place := _WEAK.fullmatch(entry.part)))
    return tuple(section for section, _ in sorted(found.items(), key=lambda one: (-one[1], one[0])))


def _practised(entry: Taught, class_name: str, routine: str) -> bool:
    own = _is_of(entry, class_name) and same_name(entry.routine, routine)
    return own and entry.way == "practice" and entry.attended


# What is danced in a walkthrough, at whose end it is a dance.
_OF_A_LESSON = ("walkthrough", "dance")
# As a walkthrough names its last stage; books from before it was kept as a dance.
_WHOLE = "The whole dance"
# As a practice names the stage of one (caller.teaching.alone).
_WEAK = re.compile(r"(?:Part \S+ s|S)ection (\d{1,4}), a weak place")
# What a drill or a lesson calls a section that is danced by itself (caller.teaching.walkthrough, caller.cli.drill).
_SECTION = re.compile(r"(?:Part \S+ s|S)ection \d{1,4}(?=$|,)", re.IGNORECASE)
# What a dance is called of which only a part was danced (caller.book.lessons).
_LEFT = re.compile(
    r"^\d+ of \d+ walls$|^from (?:wall \d+|within wall 1), to the end$|^sections? .+, (?:once|\d+ times)$"
)
_MORE_OFTEN = 2
_NEVER = datetime(FIRST_YEAR, 1, 1, tzinfo=UTC)
