"""A drill, and practice alone: one stage over and over, and a ladder of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from caller.calls.plan import Manner
from caller.calls.wording import spoken_number
from caller.dance.walls import Dance, Wall, WallEvent
from caller.teaching.at_events import event_span
from caller.teaching.plain_walls import model_walls, sections_of
from caller.teaching.speeds_told import pace, percent
from caller.teaching.stage import LessonPlan, MovesOn, Stage, StageKind
from caller.teaching.telling import event_name
from caller.teaching.walkthrough import USUAL_TEMPO

# The rungs of a practice's ladder, from a comfortable tempo to the full one.
RUNGS = (Fraction(3, 5), Fraction(7, 10), Fraction(4, 5), Fraction(9, 10), Fraction(1))
RUNG_WALLS = 2
FADING = (Manner.AHEAD, Manner.PROMPTS, Manner.QUIET)


class NotThere(Exception):
    """What is to be drilled or practised is not in the dance: one sentence that says what is."""


def drill_of(
    dance: Dance,
    span: tuple[Fraction, Fraction],
    name: str,
    *,
    tempo: Fraction | None = None,
    speed: Fraction = Fraction(1, 2),
    times: int = 0,
    creep: Fraction = Fraction(0),
    up_to: Fraction = Fraction(1),
    on_tap: bool = False,
    manner: Manner = Manner.AHEAD,
    goes_back: bool = False,
) -> LessonPlan:
    """A span danced over and over with a counted gap of one bar between. goes_back: from the same facing each time.

    times: 0 = until it is moved on. creep: added to the speed with each clean go, up to ``up_to``; on a tap instead,
    where ``on_tap``. Raises ValueError for a span without a count or a speed not above 0.
    """
    start, end = span
    if end <= start or speed <= 0 or creep < 0 or times < 0:
        raise ValueError(f"a drill needs counts to dance and a speed above 0, not {start} to {end} at {speed}")
    header = dance.routine.header
    stage = Stage(
        name=name,
        kind=StageKind.DRILL,
        start=start,
        end=end,
        speed=speed,
        times=times,
        manners=(manner,),
        said=(f"{_spoken(name)}, {pace(speed)}.",),
        count_in=header.meter.counts,
        moves_on=MovesOn.PEDAL if on_tap else MovesOn.ITSELF,
        creep=creep,
        up_to=max(up_to, speed),
        goes_back=goes_back,
    )
    return LessonPlan(header.title, "drill", tempo or header.tempo or USUAL_TEMPO, len(dance.walls), (stage,))


def _spoken(name: str) -> str:
    """ "section two", of "Section 2"."""
    return " ".join(spoken_number(int(w)) if w.isascii() and w.isdigit() else w for w in name.split()).lower()


def section_span(dance: Dance, first: int, last: int | None = None, part: str = "") -> tuple[Fraction, Fraction]:
    """Sections ``first`` to ``last`` (both included) where they are taught. Raises NotThere."""
    last = first if last is None else last
    models = {wall.part: wall for wall in model_walls(dance)}
    wall = models.get(part) or (next(iter(models.values())) if not part else None)
    if wall is None:
        raise NotThere(f"there is no part {part}; there are: {', '.join(models)}")
    stretches = {stretch.section: stretch for stretch in sections_of(wall)}
    missing = next((n for n in (first, last) if n not in stretches), None)
    if missing is not None:
        numbers = ", ".join(str(n) for n in stretches)
        raise NotThere(f"there is no section {missing}; there are: {numbers}")
    if last < first:
        raise NotThere(f"a drill goes forward: section {last} comes before section {first}")
    return stretches[first].at, stretches[last].at + stretches[last].counts


def counts_span(dance: Dance, wall_number: int, first: int, last: int) -> tuple[Fraction, Fraction]:
    """Counts of a wall, from 1 and both included. Raises NotThere."""
    if not 1 <= wall_number <= len(dance.walls):
        raise NotThere(f"there is no wall {wall_number}; there are 1 to {len(dance.walls)}")
    wall = dance.walls[wall_number - 1]
    if not 1 <= first <= last <= wall.counts:
        raise NotThere(f"there are no counts {first} to {last} in wall {wall_number}; there are 1 to {wall.counts}")
    return wall.at + first - 1, wall.at + last


def events(dance: Dance) -> tuple[tuple[Wall, WallEvent], ...]:
    """All events in the order danced."""
    return tuple((wall, event) for wall in dance.walls for event in wall.events)


def find_event(dance: Dance, kind: str, wall_number: int | None = None) -> tuple[Wall, WallEvent]:
    """The first event of a kind ("tag", "restart", "change", "ending"), in a wall where one is named. Raises
    NotThere."""
    for wall, event in events(dance):
        if event.kind == kind and wall_number in (None, wall.number):
            return wall, event
    there = ", ".join(f"{event.kind} in wall {wall.number}" for wall, event in events(dance)) or "none at all"
    where = "" if wall_number is None else f" in wall {wall_number}"
    raise NotThere(f"there is no {kind}{where}; there are: {there}")


def event_drill_span(dance: Dance, wall: Wall, event: WallEvent) -> tuple[tuple[Fraction, Fraction], str]:
    """An event's span and what the drill is called."""
    name = f"{event_name(event).removeprefix('the ').capitalize()} in wall {wall.number}"
    return event_span(dance, wall, event), name


def practice_of(
    dance: Dance,
    *,
    tempo: Fraction | None = None,
    wall_number: int = 1,
    section: int | None = None,
    rungs: tuple[Fraction, ...] = RUNGS,
    walls: int = RUNG_WALLS,
    fading: tuple[Manner, ...] = FADING,
) -> LessonPlan:
    """A ladder from a comfortable tempo to the full one, from a wall on (or a section of it); on each rung so many
    walls are danced once for each manner, the calls fading from full to prompts to none. Raises NotThere."""
    header = dance.routine.header
    start, name = _practice_start(dance, wall_number, section)
    last = dance.walls[min(wall_number - 2 + walls, len(dance.walls) - 1)]
    stages = tuple(_rungs(dance, (start, last.end), name, rungs, fading))
    return LessonPlan(header.title, "practice", tempo or header.tempo or USUAL_TEMPO, len(dance.walls), stages)


def _practice_start(dance: Dance, wall_number: int, section: int | None) -> tuple[Fraction, str]:
    if not 1 <= wall_number <= len(dance.walls):
        raise NotThere(f"there is no wall {wall_number}; there are 1 to {len(dance.walls)}")
    wall = dance.walls[wall_number - 1]
    if section is None:
        return wall.at, f"wall {spoken_number(wall_number)}"
    for stretch in sections_of(wall):
        if stretch.section == section:
            return stretch.at, f"wall {spoken_number(wall_number)}, section {spoken_number(section)}"
    numbers = ", ".join(str(stretch.section) for stretch in sections_of(wall))
    raise NotThere(f"there is no section {section} in wall {wall_number}; there are: {numbers}")


def _rungs(
    dance: Dance, span: tuple[Fraction, Fraction], name: str, rungs: tuple[Fraction, ...], fading: tuple[Manner, ...]
) -> Iterator[Stage]:
    header = dance.routine.header
    bars = 2 * header.meter.counts
    opening = f"{header.title}. we start at {name}."
    for n, speed in enumerate(rungs):
        yield Stage(
            name=f"{round(100 * speed)}%, from {name}",
            kind=StageKind.PRACTICE,
            start=span[0],
            end=span[1],
            speed=speed,
            times=len(fading),
            manners=fading,
            said=(*((opening,) if n == 0 else ()), f"{percent(speed)}."),
            count_in=bars,
            moves_on=MovesOn.PAUSE,
            pause_seconds=Fraction(2),
        )
    whole = Stage("The whole dance", StageKind.WHOLE, Fraction(0), Fraction(dance.counts), count_in=bars)
    said = ("and the whole dance, full speed, with prompts only.",)
    yield replace(whole, manners=(Manner.PROMPTS,), said=said, moves_on=MovesOn.PAUSE, pause_seconds=Fraction(2))
