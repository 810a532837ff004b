"""``caller evening``: a class's evening planned, shown, and run from its first item to its last."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.batches import being_prepared, telling_in_batches
from caller.cli.evening_open import changed_since, open_document, open_of, open_ones, open_place, open_words
from caller.cli.evening_plan import (
    LEAST_MINUTES,
    MOST_MINUTES,
    USUAL_MINUTES,
    at_hours,
    file_of,
    midnight_of,
    planned,
    save,
    titles_known,
)
from caller.cli.files import add_over_word, output
from caller.cli.keeping import BookKeeping
from caller.cli.live import (
    Begun,
    LiveOptions,
    add_live_words,
    levels_of,
    open_desk,
    run_live,
)
from caller.cli.options import runs
from caller.cli.running import add_above_word, add_as_it_stands
from caller.cli.say import Refused, print_json, warn
from caller.cli.walkthrough import LEVEL_NAMES, add_wait_word
from caller.evening.written import PlanFault

if TYPE_CHECKING:
    from caller.cli.batches import Phrase
    from caller.cli.evening_items import Items
    from caller.cli.evening_place import EveningPlace, PlaceKeeping
    from caller.evening.plan import Plan
    from caller.rig.settings import Settings
    from caller.rig.speech.preparing import RenderQueue
    from caller.session import Session
    from caller.session.desk import Music
    from caller.session.evening import Evening
    from caller.session.slots import Slot
    from caller.transport.order import Order


@dataclass(frozen=True, kw_only=True)
class EveningOptions(LiveOptions):
    """file: of a plan. new: the dance to teach. starts, closes: minutes since midnight; minutes: from its start; each
    None where not said."""

    file: str | None
    as_it_stands: bool
    starts: int | None
    closes: int | None
    minutes: int | None
    new: str | None
    level: str | None
    list: bool
    json: bool
    save: str | None
    afresh: bool
    wait: str
    voice: str
    above: float
    over: bool


def time_of_day(text: str) -> int:
    """ "19:05", for the command line: minutes since midnight."""
    from caller.evening.written import minutes_of

    try:
        return minutes_of(text)
    except ValueError as fault:
        raise argparse.ArgumentTypeError(str(fault)) from fault


def add(commands: Any) -> None:
    words = commands.add_parser(
        "evening",
        help="live: a whole class evening, planned from the class book and run from one pedal",
        description="Revision, the new dance, a break and requests, planned within the hall's hours from what the "
        "class book says and what the programmes take, and run from the first item to the last. An evening that was "
        "cut short goes on where it was.",
    )
    words.add_argument("file", metavar="FILE", nargs="?", help="a plan as saved and edited (else one is made)")
    add_as_it_stands(words)
    words.add_argument(
        "--starts", type=time_of_day, metavar="TIME", help="when it starts, such as 19:00 (else in two minutes)"
    )
    until = words.add_mutually_exclusive_group()
    until.add_argument(
        "--closes", type=time_of_day, metavar="TIME", help=f"when the hall closes (else after {USUAL_MINUTES} minutes)"
    )
    minutes = amounts.whole(LEAST_MINUTES, MOST_MINUTES)
    until.add_argument("--minutes", type=minutes, metavar="N", help="how many minutes it has, such as 75")
    words.add_argument(
        "--new", metavar="SHEET", help="the dance to teach (else what was left half taught, or a new one)"
    )
    words.add_argument("--level", choices=LEVEL_NAMES, help="of the class, for the lesson (else as the sheet says)")
    words.add_argument("--list", action="store_true", help="only show the plan")
    words.add_argument("--json", action="store_true", help="only the plan, as one JSON document")
    words.add_argument("--save", metavar="FILE", help="write the plan to a file (.toml) to edit")
    words.add_argument("--afresh", action="store_true", help="a new evening, though one was cut short")
    add_wait_word(words)
    words.add_argument("--voice", default="", metavar="V", help="a voice that 'caller voices' lists (else as set)")
    add_above_word(words)
    add_over_word(words)
    add_live_words(words)
    runs(words, EveningOptions, run)


@dataclass(frozen=True, slots=True)
class PreparedEvening:
    """An evening, ready to be run. place: where it goes on, None at its start. midnight: before it, of the machine's
    own time."""

    plan: Plan
    slots: tuple[Slot, ...]
    catalogue: tuple[Slot, ...]
    midnight: datetime
    music: Mapping[str, Callable[[], Music]]
    place: EveningPlace | None = None


def run(asked: EveningOptions) -> int:
    if not (asked.list or asked.json or asked.save):
        return _run_live(asked)
    there = open_ones(asked, datetime.now())
    plan = planned(asked, _items(asked))
    if asked.save:
        told = save(plan, output(asked.save, (asked.file,)), asked.over)
        if not asked.json:
            print(told)
    if asked.json:
        from caller.evening.written import plan_document

        print_json({**plan_document(plan), "open": [open_document(place) for place in there]})
    else:
        for place in there:
            warn(open_words(place))
    if asked.list:
        from caller.evening.plan import plan_lines

        print(*plan_lines(plan), sep="\n")
    return 0


def _run_live(asked: EveningOptions) -> int:
    """Until it is left; then, where that is before its end, how to go on."""
    kept: list[PlaceKeeping] = []
    status = run_live(lambda settings, begun: open_evening(lay(asked), asked, settings, begun, kept.append), asked)
    for keeping in kept:
        keeping.close()
        if (place := keeping.left) is not None:
            print(f"Left before its end: {open_words(place)}.")
    return status


def lay(asked: EveningOptions) -> PreparedEvening:
    """The evening that the command line asks for, or the one that was cut short. Raises Refused."""
    items, now = _items(asked), datetime.now()
    place, given_up = (None, False) if asked.afresh else (open_place(asked, now), True)
    if place is not None and not asked.new and file_of(asked) in ("", place.file):  # its plan may be of a file
        try:
            plan = at_hours(asked, place.as_planned)
            slots, catalogue = items.slots(plan), items.catalogue(titles_known(plan.class_name))
        except (PlanFault, Refused) as fault:
            warn(f"the evening that was cut short can't be gone on with ({fault}); a new one is begun")
            given_up = False
        else:
            if changed_since(place):
                as_it_was = "was changed since the evening began, which goes on as it was planned"
                warn(f"{place.file} {as_it_was}; --afresh takes it as it is now")
            midnight = datetime.fromisoformat(place.midnight)
            return PreparedEvening(plan, slots, catalogue, midnight, items.music(plan, catalogue), place)
    plan = planned(asked, items)
    if given_up and (other := open_of(plan.class_name, now)) is not None:
        warn(f"{open_words(other)}; once this one has begun, that one is given up")
    slots, catalogue = items.slots(plan), items.catalogue(titles_known(plan.class_name))
    return PreparedEvening(plan, slots, catalogue, midnight_of(plan, now), items.music(plan, catalogue))


def open_evening(
    laid: PreparedEvening,
    asked: EveningOptions,
    settings: Settings,
    begun: Begun,
    kept: Callable[[PlaceKeeping], None] = lambda _: None,
) -> Session[Evening]:
    """The evening with this machine's speaker, pedal and voice; its book and its place are kept as it goes. kept: told
    who keeps the place."""
    from caller.cli.evening_music import Playlist
    from caller.cli.evening_place import PlaceKeeping, place_file
    from caller.session import Session
    from caller.session.evening import Evening
    from caller.transport.footing import FOR_A_DANCE, FOR_A_LESSON

    evening, note, since = Evening.of(laid.plan, laid.slots, laid.catalogue), "", ""
    if laid.place is not None:
        evening, since = evening.at(laid.place.bookmark()), laid.place.begun
        note = f"Goes on where it was cut short, with {evening.slot.name}; --afresh begins a new evening."
    desk = open_desk(asked, settings, begun, _being_prepared(begun, evening), FOR_A_DANCE)
    book = _Kept(laid.plan.class_name)
    file = file_of(asked) if laid.place is None else laid.place.file
    place = PlaceKeeping(file, laid.midnight, path=place_file(laid.plan.class_name), begun=since)
    kept(place)
    if place.elsewhere:
        note = (
            "An evening of this class is under way in another window: this one can't be gone on with once it is left."
        )
    music = Playlist(laid.music)
    return Session(
        evening,
        replace(
            desk,
            in_lessons=FOR_A_LESSON.changed(settings.gestures, settings.second),
            music=music if laid.music else None,
            turn_music=music.turn_to,
        ),
        levels_of(settings),
        over_lu=asked.above,
        done=book.done,
        ordered=book.ordered,
        placed=place.keep,
        clock=lambda: Fraction(int((datetime.now() - laid.midnight).total_seconds())),
        note=note,
    )


class _Kept:
    """The class book, written as an evening goes; nothing where there is no class."""

    def __init__(self, class_name: str) -> None:
        self._book = BookKeeping(class_name) if class_name else None

    def done(self, evening: Evening, tempo: Fraction) -> str:
        from caller.session import TaughtProgramme, WholeDance

        own = evening.own
        if self._book is None:
            return ""
        full = own.facts.dance.routine.header.tempo or own.facts.tempo
        if isinstance(own, TaughtProgramme):
            return self._book.gone(own.running, own.floors.plain, tempo, full)
        return self._book.danced_whole(own, tempo, full) if isinstance(own, WholeDance) else ""

    def ordered(self, evening: Evening, order: Order) -> str:
        from caller.session.evening_changes import MARKS

        if self._book is None:
            return "No class is named, so it is kept in no book." if order in MARKS else ""
        told = self._book.answered()
        return self._book.marked(evening.to_mark, MARKS[order]) if order in MARKS else told


def _items(asked: EveningOptions) -> Items:
    from caller.cli.evening_items import Items
    from caller.teaching.running import Waits

    return Items(Waits(asked.wait), asked.as_it_stands)


# -- what is said


def _being_prepared(begun: Begun, evening: Evening) -> RenderQueue:
    """What is said first, then the rest of all items in turn, then what may be asked for."""
    first, *later = evening.slots[evening.index :]
    opening = [(words, 1.0) for words in _told_at_first(first)]
    in_turn = (first, *later, *evening.catalogue)
    return being_prepared(
        begun.voice,
        telling_in_batches(opening),
        lambda: [phrase for slot in in_turn for phrase in _phrases(slot)],
        more_later=True,
    )


def _told_at_first(slot: Slot) -> tuple[str, ...]:
    from caller.session.programme import ToTell
    from caller.transport.tempo import Slowing

    segment = slot.programme.segment(Slowing())
    return segment.sentences if isinstance(segment, ToTell) else ()


def _phrases(slot: Slot) -> list[Phrase]:
    from caller.calls.needed import phrases_in_turn
    from caller.calls.plan import Manner
    from caller.session import TaughtProgramme, WholeDance
    from caller.teaching.play import phrases_of

    own = slot.programme
    told = [(words, 1.0) for words in _told_at_first(slot)]
    if isinstance(own, TaughtProgramme):
        return [*told, *phrases_of(own.stages, own.floors, own.running.index)]
    if isinstance(own, WholeDance):
        ways = dict.fromkeys((own.calling.manner, Manner.AHEAD, Manner.PROMPTS))
        dances = (own.dance, *([own.other.plain] if own.other else []))
        return [*told, *(one for dance in dances for manner in ways for one in phrases_in_turn(dance, manner))]
    return told
