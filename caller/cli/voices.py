"""``caller voices``: the voices found; one tried, installed or chosen; one's own recorded."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from caller.cli.files import add_over_word, output
from caller.cli.get_voice import VoicesOptions, add_get, add_use
from caller.cli.get_voice import found as _found
from caller.cli.options import runs
from caller.cli.say import Refused, print_json, warn
from caller.screen.plain_text import plain_title

if TYPE_CHECKING:
    from caller.rig.speech.lexicon import SilentLexicon, SpokenLexicon
    from caller.rig.speech.voices import Voice

TRIED = "walk, walk, right shuffle forward, step, half left, restart after this section"


@dataclass(frozen=True, kw_only=True)
class TryOptions(VoicesOptions):
    name: str
    words: Sequence[str]
    output: str | None
    over: bool
    sound: str


@dataclass(frozen=True, kw_only=True)
class RecordVoiceOptions(VoicesOptions):
    name: str
    sheet: str
    manner: str
    again: bool
    sound: str


def add(commands: Any) -> None:
    words = commands.add_parser(
        "voices",
        help="list the voices; try, get, use or record one",
        description="Lists the voices; 'try' plays one, 'get' installs one, 'use' chooses the one that calls, 'record' "
        "makes your own.",
    )
    words.add_argument("--json", action="store_true", help="print one JSON document")
    words.add_argument("--ids", action="store_true", help="list what each synthesiser calls its own voices")
    runs(words, VoicesOptions, run_list)
    actions = words.add_subparsers(dest="action", metavar="ACTION")
    _add_try(actions)
    add_get(actions)
    add_use(actions)
    _add_record(actions)


def _add_try(actions: Any) -> None:
    words = actions.add_parser("try", help="play a voice", description="Plays a voice.")
    words.add_argument("name", metavar="NAME")
    words.add_argument("words", metavar="WORDS", nargs="*", help="what it says")
    words.add_argument(
        "-o", "--output", metavar="FILE", help="write it to a file (.wav, .flac, .ogg or .mp3) instead of playing it"
    )
    add_over_word(words)
    words.add_argument("--sound", default="", metavar="DEVICE", help="a sound device by name")
    runs(words, TryOptions, run_try)


def _add_record(actions: Any) -> None:
    words = actions.add_parser(
        "record",
        help="record your own voice, for a routine's words",
        description="Records your own voice: the words that a routine needs are shown one after another. What you "
        "leave out is said by the standard voice, equally loud.",
    )
    words.add_argument("name", metavar="NAME", help="the voice's name: letters, figures and dashes")
    words.add_argument("sheet", metavar="SHEET")
    words.add_argument("--manner", default="ahead", metavar="M", help="the words of this manner of calling (ahead)")
    words.add_argument("--again", action="store_true", help="also those that are recorded already")
    words.add_argument("--sound", default="", metavar="DEVICE", help="a microphone by name")
    runs(words, RecordVoiceOptions, run_record)


def run_list(asked: VoicesOptions) -> int:
    if asked.ids:
        return _list_ids(asked.json)
    rows = documents()
    if asked.json:
        print_json(rows)
        return 0
    width = max((len(row["name"]) for row in rows), default=0)
    for row in rows:
        recorded = f", {row['recorded']} recorded" if row["engine"] == "recorded" else ""
        state = "ready" if row["ready"] else "NOT READY"
        print(f"{row['name']:{width}}  {row['engine']:8}  {state:9}  {plain_title(row['title'])}{recorded}")
        if row["says"]:
            print(f"{'':{width}}  {row['says']}")
    return 0


def documents() -> list[dict[str, Any]]:
    """A row for each voice file. says: what is wrong with it, or what to install, or ""."""
    from caller.rig.speech.recorded import recorded_files
    from caller.rig.speech.sources import missing
    from caller.rig.speech.voices import Voice, voice_folders, voices_on_hand

    own = voice_folders()[-1]
    rows = []
    for file in voices_on_hand():
        voice = file.voice or Voice(file.path.stem, file.path.stem, engine="")
        lacks = missing(voice.engine) and f"not installed: caller voices get {voice.name}"
        says = " ".join(map(str, file.complaints)) or lacks
        rows.append(
            {
                "name": voice.name,
                "title": voice.title,
                "engine": voice.engine,
                "voice": voice.id_on(),
                "rate": voice.rate,
                "pitch": voice.pitch,
                "gain_db": voice.gain_db,
                "recorded": len(recorded_files(voice)),
                "path": str(file.path),
                "own": file.path.parent == own,
                "ready": not says,
                "says": says,
            }
        )
    return rows


def _list_ids(as_json: bool) -> int:
    from dataclasses import asdict

    from caller.rig.speech.sources import SOURCES, missing
    from caller.rig.speech.survey import survey_speech
    from caller.rig.speech.synthesiser import WorkerSynthesiser

    rows: list[dict[str, Any]] = []
    for name in SOURCES:
        found = None if missing(name) else survey_speech(WorkerSynthesiser(source=name), ())
        if found is None or found.fault:
            warn(found.fault if found else missing(name))
            continue
        rows += [{"engine": name, **asdict(voice)} for voice in found.voices]
    if as_json:
        print_json(rows)
        return 0
    for row in rows:
        print(f"{row['engine']:8}  {row['id']:28}  {row['name']}  ({', '.join(row['languages'])})")
    return 0


def run_try(asked: TryOptions) -> int:
    from caller.sound.score import Placement, Score
    from caller.takehome.recording import RecordingFailed, check_path, record

    path = output(asked.output, ()) if asked.output else None
    try:
        if path is not None:
            check_path(path, asked.over)
        words = " ".join(asked.words).strip() or TRIED
        clip = _said(asked.name, words)
        score = Score.holding([Placement(0, clip, 1.0, "call")])
        if path is not None:
            seconds = record(score, path, title=words, over=asked.over)
            print(f"{path}: {seconds:.1f} s of {asked.name}")
            return 0
    except RecordingFailed as failed:
        raise Refused(str(failed), 1) from failed
    _play(score, asked.sound)
    return 0


def _said(name: str, words: str) -> Any:
    """The sound of words. Raises Refused."""
    voice = _lexicon(_found(name))
    prepared = voice.prepare([(words, 1.0)])
    voice.close()
    clip = voice.clip(words, 1.0)
    if clip is None:
        raise Refused(prepared.why or next(iter(prepared.unsaid.values()), f"{words!r} can't be said"), 1)
    if prepared.note:
        warn(prepared.note)
    return clip


def _lexicon(voice: Voice) -> SpokenLexicon | SilentLexicon:
    from caller.rig.speech.lexicon import open_lexicon

    return open_lexicon(voice)


def _play(score: Any, wish: str) -> None:
    from caller.rig.playing import play_through
    from caller.rig.stream.live import open_speaker

    speaker, why = open_speaker(wish)
    try:
        why = why or play_through(speaker, score)
    finally:
        speaker.close()
    if why:
        raise Refused(f"{why.rstrip('.')}; -o FILE writes it to a file instead", 1)


def run_record(asked: RecordVoiceOptions) -> int:
    from caller.cli.dictation import walk_through
    from caller.rig.recorder import DeviceRecorder, RecorderLost
    from caller.rig.speech.own_voice import NoOwnVoice, keep_own_voice, own_voice

    try:
        voice = own_voice(asked.name)
        wanted = words_of(asked.sheet, asked.manner, voice)
        left = wanted if asked.again else [words for words in wanted if not _has(voice, words)]
        if not left:
            print(f"All {len(wanted)} phrases are recorded already (--again records them anew).")
            return 0
        recorder = DeviceRecorder(asked.sound)
        try:
            keep_own_voice(voice)
            done = walk_through(voice, left, recorder, sys.stdin, sys.stdout)
        finally:
            recorder.close()
    except NoOwnVoice as fault:
        raise Refused(str(fault)) from fault
    except RecorderLost as lost:
        raise Refused(str(lost), 1) from lost
    except OSError as fault:
        raise Refused(f"the recording can't be kept: {(fault.strerror or str(fault)).lower()}", 1) from fault
    print(f"{done} recorded, {len(left) - done} left; try it: caller voices try {voice.name}")
    return 0


def words_of(sheet: str, manner: str, voice: Voice) -> list[str]:
    """What a voice says in a routine, as it says it, each once, the shortest first. Raises Refused."""
    from caller.calls.plan import Manner
    from caller.calls.score import phrases_needed
    from caller.cli.sheets import danceable
    from caller.dance.unroll import unroll

    known = [each.value for each in Manner]
    if manner not in known:
        raise Refused(f"a manner is one of {', '.join(known)}, not {manner!r}")
    dance = unroll(danceable(sheet).routine, None)
    said = {voice.spoken(words) for words, _ in phrases_needed(dance, Manner(manner))}
    return sorted(said - {""}, key=lambda words: (len(words.split()), words))


def _has(voice: Voice, words: str) -> bool:
    from caller.rig.speech.recorded import folder_of, words_file

    return words_file(folder_of(voice), words).is_file()
