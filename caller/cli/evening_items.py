"""The items of an evening, each as it is run: sheets found, programmes made, minutes worked out.

Conventions: a routine is named by its title, its file's name or a path. Sheets are read once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from fractions import Fraction
from functools import partial
from math import ceil
from pathlib import Path
from typing import TYPE_CHECKING

from caller.cli.running import START_BARS, dance_of, tempo_of
from caller.cli.say import Refused, warn

if TYPE_CHECKING:
    from caller.cli.sheets import Sheet
    from caller.dance.walls import Dance
    from caller.evening.plan import Item, Plan
    from caller.session.desk import Music
    from caller.session.slots import Inner, Slot
    from caller.teaching.running import Waits
    from caller.teaching.stage import Programme

# Getting to one's place, and a word on what comes: common practice.
CHANGE_OVER = Fraction(1, 2)
MOST_REQUESTED = 12


class Items:
    """waits: when lessons do. as_it_stands: also sheets that have errors are danced."""

    def __init__(self, waits: Waits, as_it_stands: bool = False) -> None:
        from caller.cli.sheets import loaded_on_hand, own_folder, vocabulary

        self._waits, self._as_it_stands = waits, as_it_stands
        found = [sheet for sheet in loaded_on_hand(vocabulary()) if sheet.ok]
        own = own_folder().resolve()
        # What was added last is what is to be taught; the shipped ones come after one's own.
        self._on_hand = sorted(found, key=lambda sheet: _age(sheet, sheet.path.resolve().parent == own))
        self._sheets: dict[str, Sheet] = {}
        for sheet in self._on_hand:
            for name in (sheet.path.stem, sheet.title):
                self._sheets.setdefault(name.lower(), sheet)

    @property
    def titles(self) -> list[str]:
        """Of the routines on hand that can be danced: one's own, those added last first, then the shipped ones."""
        return [sheet.title for sheet in self._on_hand]

    def sheet(self, routine: str) -> Sheet:
        """Raises Refused."""
        from caller.cli.sheets import danceable

        if routine.lower() not in self._sheets:
            self._sheets[routine.lower()] = danceable(routine, self._as_it_stands)
        return self._sheets[routine.lower()]

    def timed(self, items: Iterable[Item]) -> tuple[Item, ...]:
        """The items, each with its minutes, where they are not told. Raises Refused."""
        return tuple(item if item.minutes else replace(item, minutes=self._minutes(item)) for item in items)

    def music(self, plan: Plan, catalogue: Iterable[Slot]) -> dict[str, Callable[[], Music]]:
        """What opens the recordings, by the routines' titles: of the plan, and of what may be asked for. They are read,
        and their beats found, by now. Raises Refused."""
        from caller.cli.backing import known, making_for_dance, prior_of_routine
        from caller.cli.evening_music import keep_music, kept_music

        found: dict[str, Callable[[], Music]] = {}
        kept = kept_music()
        asked = (replace(slot.item, music=kept.get(slot.title, "")) for slot in catalogue)
        for item in (*plan.items, *asked):
            if not (item.music and item.routine) or self.sheet(item.routine).title in found:
                continue
            sheet = self.sheet(item.routine)
            backing = known(Path(item.music), prior_of_routine(sheet.read.routine))
            found[sheet.title] = partial(making_for_dance, backing, tempo_of(sheet, None) * item.tempo)
        keep_music({self.sheet(item.routine).title: item.music for item in plan.items if item.music and item.routine})
        return found

    def slots(self, plan: Plan) -> tuple[Slot, ...]:
        """Raises Refused."""
        routine = next((item.routine for item in plan.items if item.routine), "") or next(iter(self.titles), "")
        if not routine:
            raise Refused("no routine is on hand, so nothing can be danced: 'caller add FILE' adds one", 1)
        shown = dance_of(self.sheet(routine), None)
        return tuple(self.slot(item, shown) for item in plan.items)

    def catalogue(self, known: Iterable[str]) -> tuple[Slot, ...]:
        """What may be asked for: what the class knows, then what else is on hand."""
        from caller.evening.plan import Item, Kind
        from caller.evening.planning import REQUEST_MINUTES

        here = {title.lower(): title for title in self.titles}
        titles = dict.fromkeys([*(here[one.lower()] for one in known if one.lower() in here), *self.titles])
        items = [Item(Kind.REQUEST, REQUEST_MINUTES, title) for title in list(titles)[:MOST_REQUESTED]]
        return tuple(self.slot(item) for item in items)

    def slot(self, item: Item, shown: Dance | None = None) -> Slot:
        """shown: what shows where nothing is danced. Raises Refused."""
        from caller.evening.plan import Kind
        from caller.session.slots import Slot, Telling

        if item.kind in (Kind.LESSON, Kind.RECAP):
            programme, seconds = self._lesson(item)
            return Slot(item, programme, seconds)
        if item.routine:
            return Slot(item, *self._run(item))
        assert shown is not None
        said = "your requests." if item.kind is Kind.REQUEST else "a break."
        return Slot(item, Telling(item.name.capitalize(), shown, (said,)))

    def _run(self, item: Item) -> tuple[Inner, tuple[Fraction, ...]]:
        from caller.session import WholeDance
        from caller.teaching.minutes import dance_seconds
        from caller.teaching.standing import stand_words

        sheet = self.sheet(item.routine)
        tempo = tempo_of(sheet, None) * item.tempo
        dance = dance_of(sheet, item.walls) if item.walls else song_of(sheet, tempo)
        said = (f"{sheet.title}.", stand_words(dance, Fraction(0)))
        seconds = dance_seconds(dance, tempo, START_BARS * dance.routine.header.meter.counts)
        return replace(WholeDance.of(dance, tempo, item.manner), aside=said), (seconds,)

    def _lesson(self, item: Item) -> tuple[Inner, tuple[Fraction, ...]]:
        from caller.evening.plan import Kind
        from caller.session import Taught
        from caller.teaching.minutes import stage_seconds
        from caller.teaching.play import Floors
        from caller.teaching.recap import recap_of
        from caller.teaching.walkthrough import walkthrough_of

        sheet = self.sheet(item.routine)
        tempo = tempo_of(sheet, None) * item.tempo
        dance = song_of(sheet, tempo)
        programme: Programme
        if item.kind is Kind.RECAP:
            programme = recap_of(dance, tempo)
        else:
            programme = walkthrough_of(dance, tempo, item.level or None)
        first = item.stage - 1
        if first >= len(programme.stages):
            stages = len(programme.stages)
            warn(f"{sheet.title!r} has {stages} stages, not {item.stage}; its lesson begins with the first")
            first = 0
        seconds = stage_seconds(programme, Floors.of(dance))
        left = (*[Fraction(0)] * first, *seconds[first:])
        return Taught.of(programme, dance, first, self._waits), left

    def _minutes(self, item: Item) -> int:
        return ceil(sum(self.slot(item).seconds, Fraction(0)) / 60 + CHANGE_OVER)


def song_of(sheet: Sheet, tempo: Fraction) -> Dance:
    """The dance with as many walls as a song has; as the sheet says, where it has an ending or an order of parts."""
    from caller.dance.unroll import MOST_WALLS
    from caller.teaching.dosage import SONG_SECONDS

    dance = dance_of(sheet, None)
    if dance.ended or sheet.routine.order:
        return dance
    wall = max(wall.counts for wall in dance.walls)
    walls = round(SONG_SECONDS * tempo / 60 / wall)
    return dance_of(sheet, min(max(walls, len(dance.walls)), MOST_WALLS))


def _age(sheet: Sheet, own: bool) -> tuple[bool, float]:
    """One's own first, the newest of them first; the shipped ones as they come."""
    try:
        return (not own, -sheet.path.stat().st_mtime if own else 0.0)
    except OSError:
        return (not own, 0.0)
