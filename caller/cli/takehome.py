"""``caller takehome``: what dancers take home."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.backing import add_music_word, asked_music, prior_of_routine, song_at
from caller.cli.files import add_over_word, output, typed_path
from caller.cli.options import runs
from caller.cli.running import FADINGS, add_as_it_stands, dance_of, open_voice, ready_voice, tempo_of
from caller.cli.say import Refused, drawn_on, print_json, warn
from caller.cli.sheets import Sheet, danceable, find, loaded_on_hand, vocabulary
from caller.screen.plain_text import plain_text

if TYPE_CHECKING:
    from caller.cli.backing import Backing

KINDS = ("mp3", "flac", "ogg")
CAUTION = (
    "what is made holds the song itself: copying it and handing it out usually needs a licence from those who own the "
    "song and the recording, beyond the one for playing it in class; ask locally first"
)


@dataclass(frozen=True, kw_only=True)
class TakehomeOptions:
    sheet: str | None
    as_it_stands: bool
    output: str
    all: bool
    kind: str
    tempo: Fraction | None
    walls: int | None
    voice: str
    fading: str | None
    cores: int | None
    music: str | None
    over: bool
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "takehome",
        help="make what dancers take home: recordings, captions, a click file, a page to print",
        description="Writes a folder: recordings at half, three-quarter and full speed, with the calls and without, "
        "with chapters; captions; the clicks as a MIDI file; a page to print. Run again, it goes on where it stopped.",
    )
    words.add_argument("sheet", metavar="SHEET", nargs="?", help="a file, or a title that 'caller list' shows")
    add_as_it_stands(words)
    words.add_argument(
        "-o", "--output", required=True, metavar="FOLDER", help="the folder to write; it is made if it isn't there"
    )
    words.add_argument("--all", action="store_true", help="every routine on hand, each in a folder of its own")
    words.add_argument("--kind", choices=KINDS, default="mp3", help="the kind of recordings (default: mp3)")
    words.add_argument(
        "--tempo", type=amounts.tempo, metavar="T", help="full tempo in counts a minute, BPM (default: the sheet's)"
    )
    words.add_argument(
        "--walls",
        type=amounts.walls,
        metavar="N",
        help="how many walls (default: to the ending; without one each once, and on past the last tag or restart)",
    )
    words.add_argument("--voice", default="", metavar="V", help="a voice that 'caller voices' lists (default: as set)")
    words.add_argument(
        "--fading",
        choices=FADINGS,
        help="how much is called as a section comes round again: usual, all or less (default: all at half and "
        "three-quarter speed, usual at full)",
    )
    words.add_argument(
        "--cores", type=amounts.whole(1, 256), metavar="N", help="how many cores to work on (default: all)"
    )
    add_music_word(words)
    add_over_word(words)
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, TakehomeOptions, run)


@dataclass(frozen=True, slots=True)
class RecordingJob:
    """One recording to make, in a process of its own: all that it needs, as plain values. share: of the full tempo.
    backing: the music under it, its version for that tempo made already."""

    sheet: Path
    walls: int | None
    tempo: Fraction
    voice: str
    version: str
    share: Fraction
    fading: str | None
    folder: Path
    kind: str
    over: bool
    backing: Backing | None


def run(asked: TakehomeOptions) -> int:
    from caller.children.starting import cores
    from caller.takehome.library import each_made
    from caller.takehome.recording import RecordingFailed

    if bool(asked.sheet) == asked.all:
        raise Refused("say one SHEET, or --all for every routine on hand")
    sheets = [danceable(asked.sheet, asked.as_it_stands)] if asked.sheet else list(_whole_library())
    folders = dict(zip((sheet.path for sheet in sheets), _folders(sheets, asked), strict=True))
    _guard(sheets, folders, asked)
    backing = _music(sheets, asked)
    ready_voice(asked.voice, {phrase for sheet in sheets for phrase in _phrases(sheet, asked)})
    jobs = [job for sheet in sheets for job in _jobs(sheet, asked, folders[sheet.path], backing)]
    # The longest first, so that no core is left with one of them at the end.
    jobs.sort(key=lambda job: job.share)
    files: list[Path] = []
    failed = False
    with _progress(len(jobs) + len(sheets)) as tell:
        for sheet in sheets:
            try:
                files += _papers(sheet, asked, folders[sheet.path])
            except RecordingFailed as fault:
                failed = True
                warn(str(fault))
            tell(f"{sheet.title}: page and clicks")
        for outcome in each_made(jobs, make_recording, asked.cores or cores(), (RecordingFailed, Refused)):
            if outcome.made is None:
                failed = True
                warn(outcome.why)
            files += outcome.made or []
            tell(f"{outcome.job.folder.name}: {outcome.job.version}")
    files.sort()
    if asked.json:
        print_json({"files": [str(file) for file in files]})
    else:
        print(f"{asked.output}: {len(files)} files of {', '.join(repr(s.title) for s in sheets)}")
    return 1 if failed else 0


def make_recording(job: RecordingJob) -> list[Path]:
    """One job, in whatever process. Its voice was made ready beforehand and is looked up on the shelf."""
    from caller.calls.plan import Fading
    from caller.calls.score import phrases_needed
    from caller.takehome.packet import take_of_version, write_recording
    from caller.takehome.versions import VERSIONS

    version = next(v for v in VERSIONS if v.name == job.version)
    dance = dance_of(find(str(job.sheet)), job.walls)
    voice = _voice(job.voice)
    voice.prepare(phrases_needed(dance, version.manner))
    song = song_at(job.backing, job.tempo * job.share) if job.backing else None
    fading = Fading(job.fading) if job.fading else None
    take = take_of_version(dance, version, job.tempo, voice, voice.clip, song, fading)
    return write_recording(take, version, job.folder, job.kind, job.over, channels=2 if song else 1)


def _music(sheets: list[Sheet], asked: TakehomeOptions) -> Backing | None:
    """The recording that is asked for, at every tempo; with the caution that handing it out needs. Raises Refused."""
    from caller.takehome.versions import VERSIONS

    if asked.music is None:
        return None
    if len(sheets) > 1 or asked.all:
        raise Refused("--music goes with one SHEET: each routine has a song of its own")
    [sheet] = sheets
    warn(CAUTION)
    full, backing = tempo_of(sheet, asked.tempo), asked_music(asked.music, prior_of_routine(sheet.read.routine))
    assert backing is not None
    for share in dict.fromkeys(version.speed for version in VERSIONS):
        song_at(backing, full * share)
    return backing


@cache
def _voice(name: str) -> Any:
    """One for each process: what it has read from the shelf serves every job."""
    return open_voice(name)


def _whole_library() -> Iterator[Sheet]:
    """Every routine on hand that can be danced; the others are told."""
    words = vocabulary()
    found = False
    for sheet in loaded_on_hand(words):
        if sheet.ok:
            found = True
            yield sheet
        else:
            warn(f"{sheet.title!r} can't be danced as it stands and is left out; 'caller check' shows why")
    if not found:
        raise Refused("there are no routines on hand that can be danced; 'caller list' shows where they go", 1)


def _folders(sheets: list[Sheet], asked: TakehomeOptions) -> list[Path]:
    """A folder for each sheet, made where it isn't there. Raises Refused."""
    from caller.takehome.versions import file_stem

    whole_folder = typed_path(asked.output)
    taken: dict[str, int] = {}
    folders = []
    for sheet in sheets:
        stem = file_stem(sheet.title)
        taken[stem] = taken.get(stem, 0) + 1
        own = stem if taken[stem] == 1 else f"{stem}-{taken[stem]}"
        folders.append(whole_folder / own if asked.all else whole_folder)
    try:
        for folder in folders:
            folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refused(f"{asked.output} can't be made a folder: {error.strerror or error}; choose another", 1) from error
    return folders


def _guard(sheets: list[Sheet], folders: dict[Path, Path], asked: TakehomeOptions) -> None:
    """Raises Refused where a sheet or the music would be written over."""
    from caller.takehome.packet import names_of

    for sheet in sheets:
        for name in names_of(sheet.title, asked.kind):
            output(str(folders[sheet.path] / name), (sheet.path, asked.music))


def _phrases(sheet: Sheet, asked: TakehomeOptions) -> set[tuple[str, float]]:
    from caller.calls.plan import Manner
    from caller.calls.score import phrases_needed

    return phrases_needed(dance_of(sheet, asked.walls), Manner.AHEAD)


def _jobs(sheet: Sheet, asked: TakehomeOptions, folder: Path, backing: Backing | None) -> Iterator[RecordingJob]:
    from caller.takehome.versions import VERSIONS

    full = tempo_of(sheet, asked.tempo)
    for version in VERSIONS:
        yield RecordingJob(
            sheet.path,
            asked.walls,
            full,
            asked.voice,
            version.name,
            version.speed,
            asked.fading,
            folder,
            asked.kind,
            asked.over,
            backing,
        )


def _papers(sheet: Sheet, asked: TakehomeOptions, folder: Path) -> list[Path]:
    from caller.rig.speech.lexicon import SilentLexicon
    from caller.takehome.packet import take_of_version, write_papers
    from caller.takehome.versions import VERSIONS

    silent = SilentLexicon("only clicks are asked for")
    full = tempo_of(sheet, asked.tempo)
    take = take_of_version(dance_of(sheet, asked.walls), VERSIONS[-1], full, silent, silent.clip)
    return write_papers(take, vocabulary(), folder, asked.over)


@contextmanager
def _progress(total: int) -> Iterator[Callable[[str], None]]:
    """A bar on stderr, where that is a terminal; told of each thing done."""
    if not sys.stderr.isatty():
        yield lambda words: None
        return
    from rich.console import Console
    from rich.markup import escape
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (BarColumn(), MofNCompleteColumn(), TimeRemainingColumn(), TextColumn("{task.description}"))
    with Progress(*columns, console=Console(file=drawn_on(sys.stderr)), transient=True) as bar:
        task = bar.add_task("take-home", total=total)
        yield lambda words: bar.update(task, advance=1, description=escape(plain_text(words)))
