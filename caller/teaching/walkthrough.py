"""The walkthrough: a routine as teachers teach it, from the first fact to the whole dance.

The order: introduce; each section told and walked without time, some counts at a time, then with words on the count,
its option told and shown, joined to the one before and put onto all that came before; the whole wall, at full speed
too, and once with counts only; all walls with their facings; the tempo ladder; each tag, restart, change and ending
from the section before it to the section after it; the whole dance, for a song. Common practice among teachers.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

from caller.calls.plan import Manner
from caller.calls.wording import short_counts, spoken_number
from caller.dance.unroll import unroll
from caller.dance.walls import Dance, Stretch, Wall, WallEvent
from caller.teaching.at_events import at_one_place, end_of, event_span
from caller.teaching.dosage import (
    LADDER,
    THREE_QUARTERS,
    Measure,
    measure_of,
    slow_speed,
    told_briefly,
    with_floors,
    without_twins,
)
from caller.teaching.figures_told import figures_told, movements_told
from caller.teaching.options import section_told_easier
from caller.teaching.plain_walls import (
    model_walls,
    plain_runs,
    sections_of,
)
from caller.teaching.song import SONG_SECONDS
from caller.teaching.speeds_told import percent, quicker, slowly
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.stage_names import often_words, own_sections, shown_name, within_name
from caller.teaching.standing import facing_at
from caller.teaching.telling import (
    event_name,
    event_told,
    figures_between,
    intro_told,
    introduction,
    listed,
    mind_told,
    restart_told,
    section_ended,
    section_opened,
    section_told,
    stretch_name,
)
from caller.teaching.together import first_part, put_onto, soon_quicker

USUAL_TEMPO = Fraction(100)
FULL = Fraction(1)
_FADING = (Manner.AHEAD, Manner.PROMPTS)
# How much more often the last section is danced by itself, at most.
_MOST_MORE = 2


def walkthrough_of(dance: Dance, tempo: Fraction | None = None, level: str | None = None) -> LessonPlan:
    """The whole walkthrough of a dance. tempo: the full one (None: the sheet's, else the usual one). level: the class's
    (None: as the sheet says)."""
    header = dance.routine.header
    full = tempo or header.tempo or USUAL_TEMPO
    laid = _Laid(dance, measure_of(header.level if level is None else level), 2 * header.meter.counts, full)
    stages = with_floors(dance, told_briefly(without_twins(laid.stages())), full)
    return LessonPlan(header.title, "walkthrough", full, len(dance.walls), tuple(stages))


@dataclass(frozen=True, slots=True)
class _Laid:
    """Lays the stages out. bars: counts of the count-in. tempo: the full one."""

    dance: Dance
    measure: Measure
    bars: int
    tempo: Fraction

    def _slow(self, wall: Wall, *sections: Stretch) -> Fraction:
        """How fast sections are danced at first: as fast as the one that needs most."""
        return max(slow_speed(self.dance, wall, stretch.section, self.tempo) for stretch in sections)

    def stages(self) -> Iterator[Stage]:
        yield self._told("Introduction", StageKind.INTRODUCE, Fraction(0), introduction(self.dance))
        for wall in model_walls(self.dance):
            yield from self._part(wall)
        yield from self._walls()
        yield from self._ladder()
        yield from self._events()
        whole = self._danced("The whole dance", StageKind.WHOLE, Fraction(0), Fraction(self.dance.counts), Fraction(1))
        times = max(1, round(SONG_SECONDS * self.tempo / 60 / self.dance.counts))
        said = (f"the whole dance, full speed{self._as_long()}.", *intro_told(self.dance.routine.header))
        yield replace(whole, said=said, times=times, manners=_FADING)

    def _as_long(self) -> str:
        """Why there are more walls than the sheet has."""
        walls = len(self.dance.walls)
        return f", {spoken_number(walls)} walls, for a song" if walls > len(unroll(self.dance.routine).walls) else ""

    def _told(self, name: str, kind: StageKind, at: Fraction, said: tuple[str, ...]) -> Stage:
        """at: the count that everybody stands as before."""
        return Stage(name, kind, at, at, said=said, moves_on=MovesOn.PAUSE, pause_seconds=self.measure.pause)

    def _danced(self, name: str, kind: StageKind, start: Fraction, end: Fraction, speed: Fraction) -> Stage:
        return Stage(
            name,
            kind,
            start,
            end,
            speed,
            count_in=self.bars,
            moves_on=MovesOn.PAUSE,
            pause_seconds=self.measure.pause,
        )

    # -- sections

    def _part(self, wall: Wall) -> Iterator[Stage]:
        sections = sections_of(wall)
        for n, stretch in enumerate(sections):
            missed = min(n - 1, 2) if 0 < n == len(sections) - 1 else 0
            yield from self._section(wall, stretch, missed)
            if n:
                yield self._joined(wall, sections[n - 1], stretch)
            if (begins := put_onto(n, len(sections))) is not None:
                added = self._added(wall, sections[begins : n + 1], from_top=begins == 0)
                yield replace(added, times=1) if soon_quicker(n, len(sections)) else added
            if n + 1 == first_part(len(sections)):
                yield from self._up_to_speed(wall, sections[: n + 1])
        yield from self._wall(wall, sections)

    def _joined(self, wall: Wall, before: Stretch, after: Stretch) -> Stage:
        """The last bar of one section into the first of the next: where a class forgets what comes."""
        bar = self.dance.routine.header.meter.counts
        start, end = max(end_of(before) - bar, before.at), min(after.at + bar, end_of(after))
        name, speed = f"Into {shown_name(after, wall).lower()}", self._slow(wall, before, after)
        stage = self._danced(name, StageKind.JOIN, start, end, speed)
        last, into = stretch_name(before, wall.part), stretch_name(after, wall.part)
        said = f"the last {spoken_number(bar)} of {last}, into {into}."
        return replace(stage, said=(said,), times=self.measure.join, manners=(Manner.ON_COUNT,))

    def _section(self, wall: Wall, stretch: Stretch, missed: int) -> Iterator[Stage]:
        """missed: how often others come in what is put together and this does not, so that it is danced as much."""
        name, spoken = shown_name(stretch, wall), stretch_name(stretch, wall.part)
        own = own_sections(wall, (stretch,))
        slow, times = self._slow(wall, stretch), self.measure.words + min(missed * self.measure.add, _MOST_MORE)
        words = self._danced(f"{name}, words on the count", StageKind.WORDS, stretch.at, end_of(stretch), slow)
        words = replace(words, sections=own)
        shown = [self._demonstrated(words, f"{name}, demonstrated", spoken)] if self.measure.shown else []
        taught = [replace(stage, sections=own) for stage in self._taught(wall, stretch, name)]
        # The very first steps are walked at once: nobody is kept standing.
        yield from (*taught, *shown) if stretch.at == 0 else (*shown, *taught)
        words = replace(words, manners=(Manner.ON_COUNT,), times=times)
        yield replace(words, said=(f"{spoken}, with words, {slowly(slow)}{often_words(times)}.",))
        if said := section_told_easier(self.dance.routine, wall.part, stretch.section):
            easier = replace(words, name=f"{name}, the easier way", kind=StageKind.OPTION, said=said, easier=True)
            yield replace(easier, times=self.measure.join)

    def _demonstrated(self, words: Stage, name: str, spoken: str) -> Stage:
        """A section as the class first sees it; nobody has to get ready."""
        said = (f"watch {spoken} once, counted.",)
        shown = replace(words, name=name, kind=StageKind.DEMONSTRATE, manners=(Manner.COUNTS,), said=said)
        return replace(shown, count_in=self.bars // 2, pause_seconds=min(self.measure.pause, Fraction(1)))

    def _taught(self, wall: Wall, stretch: Stretch, name: str) -> Iterator[Stage]:
        """The section told; where the class walks it, some counts at a time: those told, those walked, then those
        before them too."""
        routine = self.dance.routine
        opening = section_opened(routine, wall, stretch)
        parts = self._parts(wall, stretch) if self.measure.walked else [(Fraction(0), Fraction(stretch.counts))]
        if len(parts) == 1 and not self.measure.walked:
            yield self._told(f"{name}, told", StageKind.TELL, stretch.at, section_told(self.dance, wall, stretch))
            return
        for n, (first, last) in enumerate(parts):
            figures = tuple(one.words for one in figures_between(wall, stretch, routine, first, last) if one.words)
            hard = mind_told(wall, stretch, routine, first, last)
            said = (*((opening,) if n == 0 else ()), *hard, *figures)
            counts = f", {first + 1}-{last}" if len(parts) > 1 else ""
            if figures:
                yield self._told(f"{name}{counts}, told", StageKind.TELL, stretch.at + first, said)
            # Every second part is walked with the one before it.
            begins = parts[n - 1][0] if n % 2 else first
            walked = movements_told(wall, stretch.at + begins, stretch.at + last)
            counts = f", {begins + 1}-{last}" if begins or last < stretch.counts else ""
            closing = section_ended(wall, stretch) if n == len(parts) - 1 else ()
            walk = self._told(f"{name}{counts}, walked", StageKind.WALK, stretch.at + begins, walked)
            yield replace(walk, said=("walk it with me.", *walked, *closing))

    def _parts(self, wall: Wall, stretch: Stretch) -> list[tuple[Fraction, Fraction]]:
        """Some counts each, four or in threes six, from figure to figure."""
        meter = self.dance.routine.header.meter
        few = short_counts(meter) * (2 if meter.counts == 3 else 1)
        begins = [Fraction(0)]
        for figure in figures_told(wall, stretch, self.dance.routine):
            if figure.at - begins[-1] >= few and stretch.counts - figure.at >= min(few, 2):
                begins.append(figure.at)
        return list(pairwise([*begins, Fraction(stretch.counts)]))

    def _added(self, wall: Wall, sections: tuple[Stretch, ...], from_top: bool) -> Stage:
        first, last = sections[0], sections[-1]
        begins = ("the top", "the top") if from_top else (within_name(first, wall), stretch_name(first, wall.part))
        speed = max(self.measure.together, self._slow(wall, *sections))
        stage = self._danced(
            f"From {begins[0]} to {within_name(last, wall)}", StageKind.ADD, first.at, end_of(last), speed
        )
        said = f"from {begins[1]}, to the end of {stretch_name(last, wall.part)}."
        return replace(stage, said=(said,), times=self.measure.add, sections=own_sections(wall, sections))

    def _up_to_speed(self, wall: Wall, sections: tuple[Stretch, ...]) -> Iterator[Stage]:
        """What has been taught so far, quicker and then at full speed, before more of it comes."""
        if not sections:
            return
        last = sections[-1]
        name, told = (
            f"From the top to {within_name(last, wall)}",
            f"to the end of {stretch_name(last, wall.part)}",
        )
        for speed in (THREE_QUARTERS, FULL):
            stage = self._danced(f"{name}, {percent(speed)}", StageKind.QUICK, sections[0].at, end_of(last), speed)
            yield replace(stage, said=(f"{told}, {percent(speed)}.",), sections=own_sections(wall, sections))

    def _wall(self, wall: Wall, sections: tuple[Stretch, ...]) -> Iterator[Stage]:
        """The whole wall, called; at full speed at once, or a class that has long to learn waits for that until its
        lesson is nearly over; and once with counts only."""
        if not sections:
            return
        what = f"part {wall.part}" if wall.part else "wall"
        own = own_sections(wall, sections)
        start, end = sections[0].at, end_of(sections[-1])
        called = self._danced(f"The whole {what}", StageKind.WALL, start, end, THREE_QUARTERS)
        called = replace(called, times=self.measure.wall, sections=own)
        yield replace(called, said=(f"the whole {what}, {percent(THREE_QUARTERS)}.",))
        quick = self._danced(f"The whole {what}, {percent(FULL)}", StageKind.QUICK, start, end, FULL)
        yield replace(quick, said=(f"the whole {what}, {percent(FULL)}.",), sections=own)
        said = f"the whole {what} with counts only."
        counts = replace(called, name=f"The whole {what}, counts only", manners=(Manner.COUNTS,), times=1)
        yield replace(counts, said=(said,))

    # -- walls and events

    def _walls(self) -> Iterator[Stage]:
        for first, last, end in plain_runs(self.dance):
            if first.number == last.number:
                name = f"Wall {first.number}, {first.starts.clock}"
                said = f"wall {spoken_number(first.number)}."
            else:
                name = f"Walls {first.number} to {last.number}, from {first.starts.clock}"
                numbers = f"{spoken_number(first.number)} to {spoken_number(last.number)}"
                said = f"walls {numbers}."
            stage = self._danced(name, StageKind.WALLS, first.at, end, THREE_QUARTERS)
            yield replace(stage, said=(said,))

    def _events(self) -> Iterator[Stage]:
        seen: set[tuple[str, str, int]] = set()
        for wall in self.dance.walls:
            for events in at_one_place(wall):
                first = events[0]
                again = (first.kind, first.name, first.after) in seen and first.kind == "tag"
                seen.add((first.kind, first.name, first.after))
                yield from self._event(wall, events, again)

    def _event(self, wall: Wall, events: tuple[WallEvent, ...], again: bool) -> Iterator[Stage]:
        """From the section before it to the section after it; events at one place are one. What has been drilled on
        another wall is gone over once, called."""
        spans = [event_span(self.dance, wall, event) for event in events]
        start, end = min(first for first, _ in spans), max(last for _, last in spans)
        begins = facing_at(self.dance, start).clock
        what = listed([event_name(event).removeprefix("the ") for event in events]).capitalize()
        name = f"{what} in wall {wall.number}, from {begins}"
        told = [event_told(self.dance, wall, events[0])]
        told += [(restart_told(self.dance, wall, event),) for event in events[1:]]
        called = self._danced(name, StageKind.EVENT, start, end, THREE_QUARTERS)
        if again:
            yield replace(called, said=told[0][:1])
            return
        speed = self._slow(wall, *wall.stretches)
        slow = replace(called, name=f"{name}, words on the count", speed=speed, manners=(Manner.ON_COUNT,))
        yield replace(slow, said=tuple(sentence for sentences in told for sentence in sentences))
        yield replace(called, said=(f"again, {percent(THREE_QUARTERS)}.",), times=self.measure.event)

    def _ladder(self) -> Iterator[Stage]:
        """Up to full speed on the walls that nothing comes between; two of them are enough on the way. Where no event
        is left to learn, full speed is danced twice, the calls fading."""
        runs = plain_runs(self.dance)
        first, last, end = runs[0] if runs else (self.dance.walls[0], self.dance.walls[0], self.dance.walls[0].end)
        for speed in LADDER:
            second = self.dance.walls[min(first.number, last.number - 1)]
            until = end if speed == 1 else min(second.end, end)
            stage = self._danced(f"Tempo: {float(100 * speed):g}%", StageKind.LADDER, first.at, until, speed)
            stage = replace(stage, said=(f"{quicker(speed)}.",))
            twice = speed == 1 and not any(wall.events for wall in self.dance.walls)
            yield replace(stage, times=2, manners=_FADING) if twice else stage
