"""The items of an evening, each as it is run: sheets found, programmes made, minutes worked out.

Conventions: a routine is named by its title, its file's name or a path. Sheets are read once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from math import ceil
from typing import TYPE_CHECKING

from caller.cli.evening_taught import (
    CHANGE_OVER,
    as_far_as_planned,
    drilled,
    first_stage,
    hardest_place,
    reaching,
    recapped,
    run_of,
    stage_after,
)
from caller.cli.running import START_BARS, USUAL_TEMPO, beside_of, dance_of, first_of, tempo_of
from caller.cli.say import Refused, warn, warnings_into
from caller.evening.plan import Kind

if TYPE_CHECKING:
    from caller.cli.sheets import Sheet
    from caller.dance.walls import Dance
    from caller.evening.plan import Item, Plan
    from caller.session.desk import Music
    from caller.session.slots import Inner, Slot
    from caller.teaching.ease import HowHard
    from caller.teaching.running import Waits
    from caller.teaching.stage import LessonPlan

MOST_REQUESTED = 12


class Items:
    """waits: when lessons do. as_it_stands: also sheets that have errors are danced. faulty: titles, in small letters,
    of sheets on hand that have errors."""

    def __init__(self, waits: Waits, as_it_stands: bool = False) -> None:
        from caller.cli.sheets import loaded_on_hand, own_folder, vocabulary

        self._waits, self._as_it_stands = waits, as_it_stands
        self._loaded = list(loaded_on_hand(vocabulary()))
        found = [sheet for sheet in self._loaded if sheet.ok]
        self.faulty = {sheet.title.lower() for sheet in self._loaded if not sheet.ok}
        own = own_folder().resolve()
        # What was added last is what is to be taught; the shipped ones come after one's own.
        self._on_hand = sorted(found, key=lambda sheet: _age(sheet, sheet.path.resolve().parent == own))
        self._sheets: dict[str, Sheet] = {}
        self._told: set[str] = set()  # that other sheets are called so
        self._lessons: dict[tuple[object, ...], Slot] = {}
        for sheet in self._on_hand:
            for name in (sheet.path.stem, sheet.title):
                self._sheets.setdefault(name.lower(), sheet)

    @property
    def titles(self) -> list[str]:
        """Of the routines on hand that can be danced: one's own, those added last first, then the shipped ones."""
        there: dict[str, str] = {}
        for sheet in self._on_hand:
            there.setdefault(sheet.title.lower(), sheet.title)
        return list(there.values())

    def ease(self, routine: str) -> HowHard:
        """How hard a routine is, the easiest least. Raises Refused."""
        from caller.teaching.ease import how_hard

        sheet = self._sheets.get(routine.lower()) or self.sheet(routine)  # asked of many, of which few are danced
        return how_hard(dance_of(sheet, None), sheet.routine.header.tempo or USUAL_TEMPO)

    def meant(self, routine: str) -> None:
        """Raises Refused where a teacher's word means several sheets on hand, with their files."""
        from caller.cli.files import typed_path
        from caller.cli.sheets import called, only

        if not typed_path(routine).exists() and (found := called(routine, self._loaded)):
            only(routine, found)

    def sheet(self, routine: str) -> Sheet:
        """Of several of one title the newest that can be danced, and that is told. Raises Refused."""
        from caller.cli.sheets import danceable

        self._tell_newest(routine.lower())
        if routine.lower() not in self._sheets:
            self._sheets[routine.lower()] = danceable(routine, self._as_it_stands)
        return self._sheets[routine.lower()]

    def _tell_newest(self, routine: str) -> None:
        """Once, where other sheets are called as the one that is taken."""
        from caller.cli.sheets import called, several_words

        if routine not in self._sheets or routine in self._told:
            return
        self._told.add(routine)
        taken, found = self._sheets[routine], called(routine, self._loaded)
        if any(one.read.routine != taken.read.routine for one in found):
            warn(f"{several_words(taken.title, found)}; {taken.path.name} is danced, the newest that can be")

    def timed(self, items: Iterable[Item]) -> tuple[Item, ...]:
        """The items, each with its minutes, where they are not told. Raises Refused."""
        return tuple(self._timed(self._placed(item)) for item in items)

    def _timed(self, item: Item) -> Item:
        from caller.evening.planning import BREAK_MINUTES, REQUEST_MINUTES

        if item.kind is Kind.LESSON:
            lesson = self._lesson(item)
            return reaching(lesson, replace(item, minutes=item.minutes or _minutes(lesson)))
        if item.routine:
            return replace(item, minutes=item.minutes or _minutes(self.slot(item)))
        return replace(item, minutes=item.minutes or (REQUEST_MINUTES if item.kind is Kind.REQUEST else BREAK_MINUTES))

    def part_run(self, item: Item) -> Item | None:
        """The run of what a lesson has taught in its minutes; None where it comes to its end, or nothing is danced."""
        from caller.dance.part_way import sections_there

        own = run_of(self._lesson(item), item, sections_there(self.sheet(item.routine).routine)[0].part)
        if own is None:
            return None
        with warnings_into([]):  # what is to be known of it is told once, as it is laid
            return replace(own, minutes=_minutes(self.slot(own)))

    def _lesson(self, item: Item) -> Slot:
        """A lesson, made once, whatever minutes it has. Raises Refused."""
        known = (item.routine, item.level, item.stage, item.tempo)
        if known not in self._lessons:
            self._lessons[known] = self.slot(item)
        return self._lessons[known]

    def music(self, plan: Plan, catalogue: Iterable[Slot]) -> dict[str, Callable[[], Music]]:
        """What opens the recordings, by the routines' titles: of the plan, and of what may be asked for. They are read,
        and their beats found, by now; of one that can't be danced to, that is told, and the count track serves."""
        from caller.cli.backing import making_for_dance, music_for_class, prior_of_routine
        from caller.cli.evening_music import keep_music, kept_music

        found: dict[str, Callable[[], Music]] = {}
        kept = kept_music()
        asked = (replace(slot.item, music=kept.get(slot.title, "")) for slot in catalogue)
        for item in (*plan.items, *asked):
            if not (item.music and item.routine) or self.sheet(item.routine).title in found:
                continue
            sheet = self.sheet(item.routine)
            backing = music_for_class(item.music, prior_of_routine(sheet.read.routine), missing_too=True)
            if backing is not None:
                found[sheet.title] = partial(making_for_dance, backing, tempo_of(sheet, None) * item.tempo)
        named = ((self.sheet(item.routine).title, item.music) for item in plan.items if item.music and item.routine)
        keep_music({title: file for title, file in named if title in found})
        return found

    def slots(self, plan: Plan) -> tuple[Slot, ...]:
        """Raises Refused."""
        routine = next((item.routine for item in plan.items if item.routine), "") or next(iter(self.titles), "")
        if not routine:
            raise Refused("no routine is on hand, so nothing can be danced: 'caller add FILE' adds one", 1)
        shown = dance_of(self.sheet(routine), None)
        return tuple(self.slot(item, shown) for item in plan.items)

    def requests(self, known: Iterable[str]) -> tuple[tuple[int, str], ...]:
        """What may be asked for, by number and title: what the class knows, then what else is on hand. The numbers are
        of all routines on hand by their titles, so that they are the same for every class and at every time."""
        titles = self.titles
        here = {title.lower(): title for title in titles}
        numbers = {title: n for n, title in enumerate(sorted(titles, key=str.casefold), 1)}
        asked = dict.fromkeys([*(here[one.lower()] for one in known if one.lower() in here), *titles])
        return tuple((numbers[title], title) for title in list(asked)[:MOST_REQUESTED])

    def catalogue(self, known: Iterable[str]) -> tuple[Slot, ...]:
        """The same, each as it is run."""
        from caller.evening.plan import Item

        slots = [
            replace(self.slot(Item(Kind.REQUEST, routine=title)), number=number)
            for number, title in self.requests(known)
        ]
        return tuple(replace(slot, item=replace(slot.item, minutes=_minutes(slot))) for slot in slots)

    def slot(self, item: Item, shown: Dance | None = None) -> Slot:
        """shown: what shows where nothing is danced. Raises Refused."""
        from caller.session.slots import Slot, Telling

        if item.kind in (Kind.LESSON, Kind.RECAP, Kind.DRILL):
            taught = Slot(item, *self._taught(item))
            return as_far_as_planned(taught) if item.kind is Kind.LESSON and item.minutes else taught
        if item.routine:
            return Slot(item, *self._run(item))
        assert shown is not None
        said = "your requests." if item.kind is Kind.REQUEST else "a break."
        return Slot(item, Telling(item.name.capitalize(), shown, (said,)))

    def _run(self, item: Item) -> tuple[Inner, tuple[Fraction, ...]]:
        from caller.calls.wording import spoken_number
        from caller.session import WholeDance
        from caller.teaching.minutes import dance_seconds
        from caller.teaching.song import song_of
        from caller.teaching.standing import stand_words

        sheet = self.sheet(item.routine)
        tempo = tempo_of(sheet, None) * item.tempo
        dance = dance_of(sheet, item.walls) if item.walls else song_of(sheet.routine, tempo)
        if item.sections is not None:
            dance = first_of(sheet, item.sections, item.walls, tempo)
        far = f", as far as section {spoken_number(item.sections)}" if item.sections is not None else ""
        said = (f"{sheet.title}{far}.", stand_words(dance, Fraction(0)))
        seconds = dance_seconds(dance, tempo, START_BARS * dance.routine.header.meter.counts)
        whole = replace(WholeDance.of(dance, tempo, item.manner), aside=said)
        if item.beside:
            whole = WholeDance.on_one_floor(whole, beside_of(dance, self.sheet(item.beside)))
        return whole, (seconds,)

    def _placed(self, item: Item) -> Item:
        """A drill whose place is not told, with what is hardest of its dance."""
        if item.kind is not Kind.DRILL or item.place:
            return item
        return replace(item, place=hardest_place(dance_of(self.sheet(item.routine), None)))

    def goes_on_at(self, item: Item, part: str, stages: int) -> Item:
        """A lesson or a recap by the stage that the class book has, where the walkthrough has other stages by now: the
        sheet was changed, or the level is another. part: the stage that it got to, by its name; stages: how many there
        were."""
        there = self.walkthrough(item)
        if item.stage == 1 or len(there.stages) == stages:
            return item
        return replace(item, stage=stage_after(there, part, Fraction(item.stage - 1, stages)))

    def no_longer(self, item: Item) -> Item:
        """A recap that may take so many minutes, with those that it takes. Raises Refused."""
        return replace(item, minutes=min(item.minutes, _minutes(self.slot(item))))

    def walkthrough(self, item: Item) -> LessonPlan:
        """Of the item's routine, as its level has it. Raises Refused."""
        from caller.teaching.song import song_of
        from caller.teaching.walkthrough import walkthrough_of

        sheet = self.sheet(item.routine)
        tempo = tempo_of(sheet, None) * item.tempo
        return walkthrough_of(song_of(sheet.routine, tempo), tempo, item.level or None)

    def _taught(self, item: Item) -> tuple[Inner, tuple[Fraction, ...]]:
        from caller.session import TaughtProgramme
        from caller.teaching.floors import Floors
        from caller.teaching.minutes import stage_seconds
        from caller.teaching.song import song_of

        sheet, first = self.sheet(item.routine), 0
        tempo = tempo_of(sheet, None) * item.tempo
        dance = song_of(sheet.routine, tempo)
        if item.kind is Kind.DRILL:
            programme = drilled(dance, tempo, self._placed(item).place, sheet.title)
        else:
            programme = self.walkthrough(item)
            first = first_stage(programme, item)
        if item.kind is Kind.RECAP:
            programme, first = recapped(dance, programme, first, item.minutes), 0
        seconds = stage_seconds(programme, Floors.of(dance))
        left = (*[Fraction(0)] * first, *seconds[first:])
        return TaughtProgramme.of(programme, dance, first, self._waits), left


def _minutes(slot: Slot) -> int:
    """What it takes, with getting to one's place."""
    return ceil(sum(slot.seconds, Fraction(0)) / 60 + CHANGE_OVER)


def _age(sheet: Sheet, own: bool) -> tuple[bool, float]:
    """One's own first, the newest of them first; the shipped ones as they come."""
    try:
        return (not own, -sheet.path.stat().st_mtime if own else 0.0)
    except OSError:
        return (not own, 0.0)
