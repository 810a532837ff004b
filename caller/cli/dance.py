"""``caller dance``: live, the whole routine."""

from __future__ import annotations

import sys
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from caller.cli.backing import add_music_word, making_for_dance, music_for_class, prior_of_routine, room_in
from caller.cli.batches import being_prepared
from caller.cli.book_open import class_in_book
from caller.cli.keeping import BookKeeping
from caller.cli.live import Begun, LiveOptions, add_live_words, levels_of, open_desk, run_live
from caller.cli.options import runs
from caller.cli.running import RunOptions, add_run_words, beside_of, dance_asked, tempo_of
from caller.cli.say import Refused

if TYPE_CHECKING:
    from caller.calls.plan import Manner
    from caller.dance.walls import Dance
    from caller.rig.settings import Settings
    from caller.session import Session, WholeDance

# So far the calls are made ready first, at their own pace; the rest comes while the count-in is heard.
OPENING_COUNTS = Fraction(4)


@dataclass(frozen=True, kw_only=True)
class DanceOptions(RunOptions, LiveOptions):
    sheet: str | None
    music: str | None
    beside: str | None


def add(commands: Any) -> None:
    words = commands.add_parser(
        "dance",
        help="live: the whole routine, on the front-of-class screen",
        description="Calls the whole routine, live.",
    )
    add_run_words(words, "a file or a title; without one, a page opens to pick a routine from")
    add_music_word(words)
    words.add_argument(
        "--beside",
        metavar="SHEET",
        help="another dance on the same floor to the same song: shown on a line of its own, and called in place of the "
        "first at a key",
    )
    add_live_words(words)
    words.set_defaults(manner=None)
    runs(words, DanceOptions, run)


def run(asked: DanceOptions) -> int:
    name = asked.sheet or picked(asked)
    if name is None:
        return 0
    return run_live(lambda settings, begun: open_session(name, asked, settings, begun), asked, keeps_manner=True)


def picked(asked: DanceOptions) -> str | None:
    """The routine picked on a page of its own; None where none was. Raises Refused where there is no screen for it."""
    if asked.plain or not sys.stdout.isatty():
        raise Refused("which routine? Name a SHEET: 'caller list' shows those on hand")
    from caller.cli.listing import document
    from caller.cli.sheets import loaded_on_hand, vocabulary
    from caller.screen.looks import Look
    from caller.screen.picker import pick_routine

    words = vocabulary()
    path = pick_routine([document(sheet) for sheet in loaded_on_hand(words)], Look(asked.look))
    return str(path) if path else None


def open_session(name: str, asked: DanceOptions, settings: Settings, begun: Begun) -> Session[WholeDance]:
    """A session with this machine's speaker, pedal and voice, the voice and the music being made ready in the
    background. name: of the sheet. Raises Refused."""
    from caller.calls.plan import CountIn, Fading
    from caller.cli.sheets import danceable
    from caller.session import Session, WholeDance
    from caller.transport.footing import FOR_A_DANCE
    from caller.transport.order import Order

    whose = class_in_book(asked.class_name, asked.new_class) if asked.class_name else ""
    sheet = danceable(name, asked.as_it_stands)
    tempo = tempo_of(sheet, asked.tempo)
    backing = music_for_class(asked.music, prior_of_routine(sheet.read.routine))
    dance = dance_asked(sheet, asked, tempo, room=room_in(backing, sheet.routine))
    beside = beside_of(dance, danceable(asked.beside, asked.as_it_stands)) if asked.beside else None
    opening = openings(dance, settings.manner)
    preparing = being_prepared(begun.voice, [opening], lambda: _phrases_of_all(dance, beside, settings.manner))
    desk = open_desk(asked, settings, begun, preparing, FOR_A_DANCE)
    kept, full = BookKeeping(whose) if whose else None, sheet.routine.header.tempo or tempo
    how = CountIn(asked.count_in) if asked.count_in else settings.count_in
    whole = replace(WholeDance.of(dance, tempo, settings.manner, Fading(asked.fading)), how=how)
    session = Session(
        WholeDance.on_one_floor(whole, beside) if beside is not None else whole,
        replace(desk, music=making_for_dance(backing, tempo)) if backing else desk,
        levels_of(settings),
        over_lu=asked.above,
        done=None if kept is None else lambda whole, danced: kept.danced_whole(whole, danced, full),
        passed=None if kept is None else lambda whole, count, danced: kept.passed(whole, count, danced, full),
    )
    if asked.easier:
        session.obey(Order.EASIER)
    return session


def _phrases_of_all(dance: Dance, beside: Dance | None, manner: Manner) -> list[tuple[str, float]]:
    """All that may be said of what is called, then of what is danced beside it."""
    return [*phrases_of(dance, manner), *(phrases_of(beside, manner) if beside is not None else ())]


def phrases_of(dance: Dance, manner: Manner) -> list[tuple[str, float]]:
    """All that may be said, whatever is ordered: first what is said as it stands, from the top on."""
    from caller.calls.easier import eased
    from caller.calls.needed import phrases_in_turn
    from caller.calls.plan import Manner
    from caller.dance.unroll import unroll

    easier = unroll(eased(dance.routine), len(dance.walls))
    needed = [phrases_in_turn(dance, manner)]
    needed += [phrases_in_turn(one, other) for one in (dance, easier) for other in Manner]
    return list(dict.fromkeys(phrase for phrases in needed for phrase in phrases))


def openings(dance: Dance, manner: Manner) -> list[tuple[str, float]]:
    """The count-in, and what is called before the rest can be ready."""
    from caller.calls.needed import phrases_in_turn

    return [phrase for phrase in phrases_in_turn(dance, manner, until=OPENING_COUNTS) if phrase[1] == 1.0]
