"""``caller walkthrough``: live, the taught sequence; and what drill and practise share with it."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

from caller.cli import amounts
from caller.cli.backing import (
    add_music_word,
    asked_music,
    making_for_stages,
    music_for_class,
    prior_of_routine,
    song_at_any,
)
from caller.cli.batches import being_prepared, telling_in_batches
from caller.cli.book_open import class_in_book
from caller.cli.files import add_over_word, output, typed_path
from caller.cli.keeping import BookKeeping, last_time
from caller.cli.live import (
    Begun,
    LiveOptions,
    add_live_words,
    levels_of,
    open_desk,
    run_live,
)
from caller.cli.options import runs
from caller.cli.running import add_above_word, add_as_it_stands, dance_of, ready_voice, tempo_of
from caller.cli.say import Refused, print_json
from caller.cli.stage_list import stage_lines, stages_in

if TYPE_CHECKING:
    from fractions import Fraction
    from pathlib import Path

    from caller.cli.sheets import Sheet
    from caller.dance.walls import Dance
    from caller.rig.settings import Settings
    from caller.session import Session, TaughtProgramme
    from caller.teaching.stage import LessonPlan
    from caller.transport.order import Order

WAITS = ("stages", "unanswered", "never")
LEVEL_NAMES = ("absolute", "beginner", "improver", "intermediate", "advanced")


class PreparedLesson(NamedTuple):
    """A sheet, its dance, and the programme made of it."""

    sheet: Sheet
    dance: Dance
    programme: LessonPlan


@dataclass(frozen=True, kw_only=True)
class ProgrammeOptions(LiveOptions):
    """How a lesson, a drill or a practice is made, shown, saved and heard. tempo: counts a minute, None for the
    sheet's. saved: the file that it was saved to. stage: the one to begin with. on_tap: each tap quickens it."""

    sheet: str
    as_it_stands: bool
    tempo: Fraction | None
    walls: int | None
    voice: str
    list: bool
    json: bool
    wait: str
    record: str | None
    music: str | None
    above: float
    over: bool
    stage: int = 1
    saved: str | None = None
    on_tap: bool = False


@dataclass(frozen=True, kw_only=True)
class WalkthroughOptions(ProgrammeOptions):
    level: str | None
    save: str | None


AnyProgramme = TypeVar("AnyProgramme", bound=ProgrammeOptions)


def add(commands: Any) -> None:
    words = commands.add_parser(
        "walkthrough",
        help="live: the routine taught stage by stage, hands free; or listed, saved to edit, recorded",
        description="Teaches the routine: each section told, danced with words on the count and added to those "
        "before it, then walls, tags and restarts, up to full speed; a phrased dance part by part. Half speed is never "
        "under 60 counts a minute (66 for waltzes and pivots).",
    )
    add_programme_words(words)
    words.add_argument(
        "--stage", type=amounts.whole(1, 500), default=1, metavar="N", help="begin with this stage of --list"
    )
    words.add_argument(
        "--level",
        choices=LEVEL_NAMES,
        help="the level of the class (default: the sheet's): how often each stage is danced; beginners watch each "
        "section before it is told, the first one after they have walked it; from intermediate on nothing is walked",
    )
    words.add_argument("--save", metavar="FILE", help="write the stages to a file (.toml) to edit")
    words.add_argument("--from", dest="saved", metavar="FILE", help="take the stages from a file, as saved and edited")
    runs(words, WalkthroughOptions, run)


def add_programme_words(words: argparse.ArgumentParser) -> None:
    words.add_argument("sheet", metavar="SHEET")
    add_as_it_stands(words)
    words.add_argument(
        "--tempo", type=amounts.tempo, metavar="T", help="full tempo in counts a minute, BPM (default: the sheet's)"
    )
    words.add_argument("--walls", type=amounts.walls, metavar="N", help="how many walls")
    words.add_argument("--voice", default="", metavar="V", help="a voice that 'caller voices' lists (default: as set)")
    words.add_argument("--list", action="store_true", help="show the stages, and stop")
    words.add_argument("--json", action="store_true", help="print the stages as one JSON document, and stop")
    add_wait_word(words)
    words.add_argument(
        "--record", metavar="FILE", help="make a sound file of it all (.wav, .flac, .ogg or .mp3), and stop"
    )
    add_music_word(words)
    add_above_word(words)
    add_over_word(words)
    add_live_words(words)


def add_wait_word(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--wait",
        nargs="?",
        choices=WAITS,
        const="stages",
        default="unanswered",
        help="which stages of a lesson wait for the pedal or Space when they are done: all (--wait alone), none "
        "(never) or those after a telling that nobody answers (unanswered, the default)",
    )


def run(asked: WalkthroughOptions) -> int:
    if asked.save:
        laid = lay(asked)
        _save(laid.programme, laid.dance, output(asked.save, (laid.sheet.path, asked.saved)), asked.over)
        if not (asked.list or asked.json or asked.record):
            return 0
    return run_programme(lay, asked)


def lay(asked: WalkthroughOptions) -> PreparedLesson:
    """The walkthrough that the command line asks for. Raises Refused."""
    from caller.cli.sheets import danceable
    from caller.teaching.song import song_of
    from caller.teaching.walkthrough import walkthrough_of

    sheet = danceable(asked.sheet, asked.as_it_stands)
    tempo = tempo_of(sheet, asked.tempo)
    # The whole dance, at the end, is as long as a song.
    dance = dance_of(sheet, asked.walls) if asked.walls else song_of(sheet.routine, tempo)
    programme = _saved(asked.saved, asked.tempo, dance) if asked.saved else walkthrough_of(dance, tempo, asked.level)
    if asked.stage > len(programme.stages):
        raise Refused(f"there is no stage {asked.stage}; there are 1 to {len(programme.stages)} ('--list' shows them)")
    return PreparedLesson(sheet, dance, programme)


def run_programme(
    lay_it: Callable[[AnyProgramme], PreparedLesson], asked: AnyProgramme, class_name: str | None = None
) -> int:
    """What the command line asks of a programme: live, else shown, as JSON, recorded. lay_it: makes it, which for a
    live one waits for the screen to be up. class_name: whose book keeps it, where the command line names none."""
    if not (asked.record or asked.json or asked.list):
        return run_live(lambda settings, begun: open_lesson(lay_it(asked), asked, settings, begun, class_name), asked)
    sheet, dance, programme = lay_it(asked)
    if asked.record:
        return _record(asked.record, sheet, dance, programme, asked)
    if asked.json:
        from caller.teaching.written import programme_document

        print_json(programme_document(programme, dance))
        return 0
    print(*stage_lines(programme, dance), sep="\n")
    return 0


def open_lesson(
    laid: PreparedLesson, asked: ProgrammeOptions, settings: Settings, begun: Begun, class_name: str | None
) -> Session[TaughtProgramme]:
    """A lesson with this machine's speaker, pedal and voice; what is done is kept in the class's book as it happens."""
    from caller.cli.dance import phrases_of as phrases_of_dance
    from caller.session import Session, TaughtProgramme
    from caller.teaching.floors import Floors
    from caller.teaching.play import opening_of, phrases_of
    from caller.teaching.running import Waits
    from caller.transport.footing import FOR_A_LESSON, FOR_A_TAPPED_DRILL

    class_name = class_in_book(asked.class_name, asked.new_class) if asked.class_name else class_name
    dance, programme = laid.dance, laid.programme
    floors = Floors.of(dance)
    footing = FOR_A_TAPPED_DRILL if asked.on_tap else FOR_A_LESSON
    stage = asked.stage - 1
    opening = opening_of(programme, floors, stage)
    told = bool(floors.said_first(programme.stages[stage]))
    preparing = being_prepared(
        begun.voice,
        telling_in_batches(opening) if told else [opening],
        lambda: [*phrases_of(programme, floors, stage), *phrases_of_dance(dance, settings.manner)],
        more_later=programme.way == "practice",
    )
    kept, full = BookKeeping(class_name) if class_name else None, dance.routine.header.tempo or programme.tempo
    backing = music_for_class(asked.music, prior_of_routine(dance.routine))
    desk = open_desk(asked, settings, begun, preparing, footing)
    return Session(
        TaughtProgramme.of(programme, dance, stage, Waits(asked.wait)),
        replace(desk, music=making_for_stages(backing, programme, stage)) if backing else desk,
        levels_of(settings),
        over_lu=asked.above,
        done=None if kept is None else lambda taught, danced: kept.gone(taught.running, dance, danced, full),
        ordered=None if kept is None else lambda taught, order: ordered(kept, taught, order, full),
        note=last_time(class_name, programme.title) if class_name else "",
    )


def ordered(kept: BookKeeping, taught: TaughtProgramme, order: Order, full: Fraction) -> str:
    """What the book has to know of an order."""
    from caller.transport.order import Order

    told = kept.rungs(taught.running, full) if order is Order.QUIT else ""
    told = kept.weak(taught.running) if order is Order.SECTION_AGAIN else told
    return kept.answered() or told


def _saved(file: str, tempo: Fraction | None, dance: Dance) -> LessonPlan:
    from dataclasses import replace

    from caller.outside import documents
    from caller.teaching.written import read_programme
    from caller.teaching.written_values import ProgrammeFault

    path = typed_path(file)
    try:
        programme = read_programme(documents.read_text(path), dance)
    except OSError as error:
        raise Refused(f"can't open {path}: {error.strerror or error}") from error
    except (ProgrammeFault, documents.Unreadable) as error:
        raise Refused(f"{path}: {error}", 1) from error
    return replace(programme, tempo=tempo) if tempo else programme


def _save(programme: LessonPlan, dance: Dance, path: Path, over: bool) -> None:
    from caller.storage.made import NotOurs, write_made_text
    from caller.teaching.written import programme_text

    try:
        write_made_text(path, programme_text(programme, dance), over=over)
    except NotOurs as fault:
        raise Refused(str(fault), 1) from fault
    except OSError as error:
        raise Refused(f"{path} can't be written: {error.strerror or error}", 1) from error
    print(f"{path}: {stages_in(programme)} written; '--from {path.name}' takes them")


def _record(file: str, sheet: Sheet, dance: Dance, programme: LessonPlan, asked: ProgrammeOptions) -> int:
    from caller.takehome.recording import RecordingFailed, check_path, record
    from caller.takehome.tagging import can_tag, stage_chapters, stage_tags, write_tags
    from caller.teaching.floors import Floors
    from caller.teaching.play import in_turn, phrases_of, pieces

    path = output(file, (sheet.path, asked.saved, asked.music))
    try:
        check_path(path, asked.over)
        backing = asked_music(asked.music, prior_of_routine(dance.routine))
        floors = Floors.of(dance)
        voice = ready_voice(asked.voice, phrases_of(programme, floors))
        songs = song_at_any(backing) if backing else lambda tempo: None
        parts = list(pieces(programme, floors, voice, voice.clip, over_lu=asked.above, song_at=songs))
        tape, begins = in_turn(parts)
        chapters = stage_chapters(begins, tape)
        tags = stage_tags(programme.title, programme.way, programme.tempo, len(parts))
        finish = (lambda part: write_tags(part, tags, chapters)) if can_tag(path) else None
        # Both channels are the same where there is no music.
        channels = 2 if backing else 1
        seconds = record(tape, path, title=tags.title, channels=channels, finish=finish, over=asked.over)
    except RecordingFailed as failed:
        raise Refused(str(failed), 1) from failed
    if asked.json:
        from caller.cli.say import number

        begun = [{"name": c.title, "starts": c.starts_ms / 1_000, "ends": c.ends_ms / 1_000} for c in chapters]
        print_json({"file": str(path), "seconds": seconds, "tempo": number(programme.tempo), "stages": begun})
    else:
        print(f"{path}: {seconds / 60:.1f} minutes of {sheet.title}, {stages_in(programme)}")
    return 0
