"""An evening with this machine's speaker, pedal and voice, as it begins."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.cli.batches import being_prepared, telling_in_batches
from caller.cli.evening_book import EveningBook
from caller.cli.evening_plan import file_of
from caller.cli.live import Begun, levels_of, open_desk

if TYPE_CHECKING:
    from caller.cli.batches import Phrase
    from caller.cli.evening import EveningOptions
    from caller.cli.evening_laid import PreparedEvening
    from caller.cli.evening_place import PlaceKeeping
    from caller.rig.settings import Settings
    from caller.rig.speech.preparing import RenderQueue
    from caller.session import Session
    from caller.session.evening import Evening
    from caller.session.slots import Slot


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
    book = EveningBook(laid.plan.class_name)
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
        passed=book.passed,
        placed=place.keep,
        clock=lambda: Fraction(int((datetime.now() - laid.midnight).total_seconds())),
        note=note,
    )


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
