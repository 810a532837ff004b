"""Words that several commands share: tempo, walls, manner, voice; and the voice made ready."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.cli import amounts
from caller.cli.say import Refused, drawn_on, warn

if TYPE_CHECKING:  # what is only named here would be slow to bring in before a screen's first paint
    from caller.calls.music import Song
    from caller.calls.plan import Lexicon
    from caller.calls.take import Take
    from caller.cli.sheets import Sheet
    from caller.dance.walls import Dance
    from caller.rig.speech.lexicon import SilentLexicon, SpokenLexicon

MANNERS = ("ahead", "on-count", "counts", "prompts", "quiet")
FADINGS = ("usual", "all", "less")
COUNT_INS = ("level", "numbers", "call")
USUAL_TEMPO = Fraction(100)  # where the sheet says none: comfortable for most dances
START_BARS = 2
LEAST_ABOVE, MOST_ABOVE = 10.0, 20.0  # as caller.sound.levels has them; importing it would cost every command numpy
RATE = 48_000


@dataclass(frozen=True, kw_only=True)
class RunOptions:
    """How a routine is danced and called. tempo: counts a minute, None for the sheet's. walls: None for all; sections:
    the first so many by themselves, None for the whole dance. manner,
    count_in: None for what is set. voice: "" for what is set. above: LU over the count track."""

    as_it_stands: bool
    tempo: Fraction | None
    walls: int | None
    sections: int | None
    manner: str | None
    count_in: str | None
    voice: str
    easier: bool
    above: float
    fading: str


def add_as_it_stands(words: argparse.ArgumentParser) -> None:
    words.add_argument("--as-it-stands", action="store_true", help="go on although the sheet has errors")


def add_run_words(words: argparse.ArgumentParser, sheet_help: str | None = None) -> None:
    """sheet_help: what happens without a sheet, where one need not be named."""
    words.add_argument("sheet", metavar="SHEET", nargs="?" if sheet_help else None, help=sheet_help)
    add_as_it_stands(words)
    words.add_argument("--tempo", type=amounts.tempo, metavar="T", help="counts a minute, BPM (default: the sheet's)")
    words.add_argument(
        "--walls",
        type=amounts.walls,
        metavar="N",
        help="how many walls (default: to the ending, or past the last event; with --music as many as have room)",
    )
    words.add_argument(
        "--sections",
        type=amounts.whole(1, 999),
        metavar="N",
        help="only the first N sections, over and over: what a class has of a dance that is half taught",
    )
    words.add_argument(
        "--manner",
        choices=MANNERS,
        default="ahead",
        metavar="M",
        help="how calls are made: ahead (each step before its beat), on-count (each word on its movement), counts, "
        "prompts (walls, tags and restarts only) or quiet",
    )
    words.add_argument(
        "--count-in",
        choices=COUNT_INS,
        metavar="C",
        help="how the count-in ends: numbers (five, six, seven, eight), call (five, six, then the first call) or level "
        "(numbers up to beginner level, else call)",
    )
    words.add_argument("--voice", default="", metavar="V", help="a voice that 'caller voices' lists (default: as set)")
    words.add_argument("--easier", action="store_true", help="dance and call the sheet's easier options")
    add_above_word(words)
    words.add_argument(
        "--fading",
        choices=FADINGS,
        default="usual",
        help="how much is called as a section comes round again: usual (less each time, down to the turns), all or "
        "less",
    )


def add_above_word(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--above",
        type=amounts.floating(LEAST_ABOVE, MOST_ABOVE),
        default=LEAST_ABOVE,
        metavar="LU",
        help="how far calls stand above the count track, 10 to 20 LU; 20 suits people who are hard of hearing",
    )


def dance_of(sheet: Sheet, walls: int | None, *, easier: bool = False, room: Fraction | None = None) -> Dance:
    """The dance as asked; easier: with the sheet's options in the place of what they ease. room: counts that its
    recording has room for: where no walls are asked for, it is danced for as long as that."""
    from caller.calls.easier import eased
    from caller.dance.unroll import unroll
    from caller.teaching.song import filling

    routine = eased(sheet.routine) if easier else sheet.routine
    return unroll(routine, walls) if walls or room is None else filling(routine, room)


def dance_asked(
    sheet: Sheet, asked: RunOptions, tempo: Fraction, *, easier: bool = False, room: Fraction | None = None
) -> Dance:
    """The dance that the command line asks for: the sheet's, or its first sections by themselves, for as long as a song
    lasts where it says no walls. room: counts that its recording has room for, None without one. Raises Refused."""
    if asked.sections is None:
        return dance_of(sheet, asked.walls, easier=easier, room=room)
    return first_of(sheet, asked.sections, asked.walls, tempo, easier=easier, room=room)


def first_of(
    sheet: Sheet,
    sections: int,
    walls: int | None,
    tempo: Fraction,
    *,
    easier: bool = False,
    room: Fraction | None = None,
) -> Dance:
    """A sheet's first sections by themselves; what keeps them from beginning again as they end is told. Raises
    Refused."""
    from caller.calls.easier import eased
    from caller.dance.part_way import part_way, wrong_foot_words
    from caller.dance.unroll import unroll
    from caller.teaching.song import filling, song_of

    try:
        short = part_way(sheet.routine, sections)
    except ValueError as fault:
        raise Refused(f"{sheet.title!r}: {fault}") from fault
    if why := wrong_foot_words(sheet.routine, sections):
        warn(f"{short.shown_title}: {why}")
    short = eased(short) if easier else short
    if walls:
        return unroll(short, walls)
    return song_of(short, tempo) if room is None else filling(short, room)


def beside_of(dance: Dance, sheet: Sheet) -> Dance:
    """A sheet as it is danced beside a dance; how the two stand to each other is told. Raises Refused."""
    from caller.dance.shared_floor import floor_words, shared_floor

    try:
        floor = shared_floor(dance, sheet.routine)
    except ValueError as fault:
        raise Refused(f"{dance.routine.header.title!r} and {sheet.title!r}: {fault}", 1) from fault
    warn(" ".join(floor_words(floor)))
    return floor.dance


def tempo_of(sheet: Sheet, asked: Fraction | None) -> Fraction:
    """As asked, else as the sheet says, else the usual one, which is then said."""
    if asked is not None:
        return asked
    said = sheet.routine.header.tempo
    if said is None:
        warn(f"{sheet.title!r} says no Tempo; {USUAL_TEMPO} counts a minute are taken (--tempo to change)")
    return said or USUAL_TEMPO


def open_voice(name: str) -> SpokenLexicon | SilentLexicon:
    """The voice of that name, of "" the one that is set; where it is not there, faulty or not installed, another, and a
    sentence on stderr."""
    from caller.rig.settings import read_settings, settings_file
    from caller.rig.speech.lexicon import open_lexicon
    from caller.rig.speech.stand_ins import voice_or_stand_in
    from caller.rig.speech.voices import STANDARD

    voice, note = voice_or_stand_in(name or read_settings(settings_file())[0].voice or STANDARD)
    lexicon = open_lexicon(voice)
    for sentence in (note, lexicon.note):
        if sentence:
            warn(sentence)
    return lexicon


def ready_voice(name: str, phrases: Iterable[tuple[str, float]]) -> SpokenLexicon | SilentLexicon:
    """A voice with all of ``phrases`` rendered. What can't be said is told on stderr, and not said."""
    voice = open_voice(name)
    told = voice.note
    prepared = voice.prepare(phrases, _progress if sys.stderr.isatty() else None)
    voice.close()
    for sentence in (prepared.why, "" if prepared.note == told else prepared.note, voice.shelf_fault):
        if sentence:
            warn(sentence)
    for words, why in list(prepared.unsaid.items())[:3]:
        warn(f"{words!r} can't be said: {why}")
    return voice


def _progress(done: int, of: int) -> None:
    end = "\n" if done == of else ""
    print(f"\rspeech: {done} of {of} phrases", end=end, file=drawn_on(sys.stderr), flush=True)


def take_of(sheet: Sheet, asked: RunOptions, song: Song | None = None, room: Fraction | None = None) -> Take:
    """The whole run that the command line asks for, as one take; where there is a song, with room for its lead, and as
    long as that has room for."""
    return planned(sheet, asked, song=song, room=room)[0]


def planned(
    sheet: Sheet, asked: RunOptions, *, guess: bool = False, song: Song | None = None, room: Fraction | None = None
) -> tuple[Take, Lexicon]:
    """The whole run that the command line asks for, as one take, and what it was planned by.

    guess: where there is no voice, plan by guessed lengths. song: what room is left for before the count-in.
    """
    from caller.calls.guessed import GuessedLexicon
    from caller.calls.music import lead_counts
    from caller.calls.plan import CountIn, Fading, Manner
    from caller.calls.score import make_take, phrases_needed

    pace = tempo_of(sheet, asked.tempo)
    dance = dance_asked(sheet, asked, pace, easier=asked.easier, room=room)
    manner = Manner(asked.manner)
    voice = ready_voice(asked.voice, phrases_needed(dance, manner))
    lexicon: Lexicon = GuessedLexicon() if guess and voice.why else voice
    count_in = START_BARS * dance.routine.header.meter.counts
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=pace,
        manner=manner,
        lexicon=lexicon,
        clips=voice.clip,
        count_in=count_in,
        rate=RATE,
        over_lu=asked.above,
        fading=Fading(asked.fading),
        how=CountIn(asked.count_in or "level"),
        lead=lead_counts(song, dance.routine.header.intro or 0, count_in) if song else Fraction(0),
    )
    return take, lexicon
