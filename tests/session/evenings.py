"""An evening to give orders to, and the hands that drive what it was given; its clock goes by the speaker's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from caller.calls.plan import Manner
from caller.cli.evening_music import Playlist
from caller.dance.walls import Dance
from caller.evening.plan import Item, Kind, Plan
from caller.session import Desk, Session, TaughtProgramme, View, WholeDance
from caller.session.bookmarks import Bookmark
from caller.session.evening import Evening
from caller.session.slots import Slot, Telling
from caller.sound.score import RATE
from caller.teaching.drill import drill_of
from caller.teaching.floors import Floors
from caller.teaching.minutes import dance_seconds, stage_seconds
from caller.teaching.stage import LessonPlan, Stage, StageKind
from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON
from caller.transport.order import Order
from caller.transport.state import State
from tests.fakes.speaker import HandSpeaker
from tests.session.classroom import Gestures, KnownVoice, Prepared, lantern, looked
from tests.session.lessons import LOOK

STARTS, CLOSES = 19 * 60, 19 * 60 + 30
FULL = Fraction(120)


def run(dance: Dance, minutes: int = 4, **more: object) -> Slot:
    item = Item(Kind.RUN, minutes, "Lantern Row", tempo=Fraction(9, 10), manner=Manner.PROMPTS)
    item = replace(item, **more)  # type: ignore[arg-type]
    programme = WholeDance.of(dance, FULL * item.tempo, item.manner)
    return Slot(item, programme, (dance_seconds(dance, FULL * item.tempo, 8),))


def lesson(dance: Dance, minutes: int = 2) -> Slot:
    """A stage that is told, and one that is danced twice."""
    told = Stage("Section 1, told", StageKind.TELL, said=("first words.",), sections=(("", 1),))
    words = Stage("Section 1, with words", StageKind.WORDS, Fraction(0), Fraction(8), Fraction(1, 2), 2, count_in=4)
    words = replace(words, sections=told.sections)
    programme = LessonPlan("Lantern Row", "walkthrough", FULL, len(dance.walls), (told, words))
    item = Item(Kind.LESSON, minutes, "Lantern Row", keep=True)
    return Slot(item, TaughtProgramme.of(programme, dance), stage_seconds(programme, Floors.of(dance)))


def drill(dance: Dance) -> Slot:
    programme = drill_of(dance, (Fraction(0), Fraction(8)), "Section 1", tempo=FULL, times=1)
    return Slot(Item(Kind.RECAP, 3, "Lantern Row"), TaughtProgramme.of(programme, dance))


def drilled(dance: Dance, first: int, last: int) -> Slot:
    programme = drill_of(dance, (Fraction(first), Fraction(last)), "Counts", tempo=FULL, times=1)
    return Slot(Item(Kind.DRILL, 3, "Lantern Row"), TaughtProgramme.of(programme, dance))


def rest(dance: Dance, kind: Kind = Kind.BREAK, minutes: int = 10) -> Slot:
    return Slot(Item(kind, minutes), Telling(kind.value.capitalize(), dance, (f"{kind.value}.",)))


def requested(dance: Dance, title: str, number: int = 0) -> Slot:
    header = replace(dance.routine.header, title=title)
    named = replace(dance, routine=replace(dance.routine, header=header))
    return Slot(Item(Kind.REQUEST, 5, title), WholeDance.of(named, FULL), number=number)


def evening_of(*slots: Slot, closes: int = CLOSES, catalogue: tuple[Slot, ...] = ()) -> Evening:
    return Evening.of(Plan("Tuesday", STARTS, closes, tuple(slot.item for slot in slots)), slots, catalogue)


@dataclass
class Hall:
    """A session with an evening, and all that it has told of."""

    evening: Evening
    speaker: HandSpeaker = field(default_factory=HandSpeaker)
    pedal: Gestures = field(default_factory=Gestures)
    preparing: Prepared = field(default_factory=Prepared)
    done: list[tuple[Evening, Fraction]] = field(default_factory=list)
    ordered: list[tuple[Evening, Order]] = field(default_factory=list)
    music: Playlist | None = None
    places: list[Bookmark] = field(default_factory=list)

    def __post_init__(self) -> None:
        desk = Desk(
            self.speaker, KnownVoice(), self.preparing, self.pedal, self.speaker.now, footing=FOR_A_DANCE,
            in_lessons=FOR_A_LESSON, music=self.music, turn_music=self.music.turn_to if self.music else None,
        )  # fmt: skip
        self.session: Session[Evening] = Session(
            self.evening, desk, done=self._done, ordered=self._ordered, placed=self._placed, clock=self.clock
        )
        looked(self.session)

    def clock(self) -> Fraction:
        return Fraction(60 * STARTS) + Fraction(int(self.speaker.now()))

    def _done(self, evening: Evening, tempo: Fraction) -> str:
        self.done.append((evening, tempo))
        return ""

    def _ordered(self, evening: Evening, order: Order) -> str:
        self.ordered.append((evening, order))
        return ""

    def _placed(self, evening: Evening, count: Fraction | None) -> None:
        place = evening.bookmark(count)
        if not self.places or self.places[-1] != place:
            self.places.append(place)

    def order(self, order: Order, *amounts: int) -> View:
        self.session.obey(order, *amounts)
        return looked(self.session)

    def until(self, true: Callable[[View], bool], seconds: float = 900) -> View:
        view = looked(self.session)
        for _ in range(round(seconds * RATE / LOOK)):
            if true(view):
                return view
            self.speaker.advance(LOOK)
            view = looked(self.session)
        raise AssertionError(f"not within {seconds} s: {view}")

    def comes_to(self, state: State) -> View:
        return self.until(lambda view: view.state is state)


def short() -> Dance:
    """Two walls of the house's own routine."""
    from caller.dance.unroll import unroll

    return unroll(lantern().routine, 2)
