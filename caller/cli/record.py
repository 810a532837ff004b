"""``caller record``: the same run as a sound file."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caller.cli.backing import add_music_word, asked_music, prior_of_routine, room_in, song_at, with_music
from caller.cli.files import add_over_word, output
from caller.cli.options import runs
from caller.cli.running import RunOptions, add_run_words, take_of, tempo_of
from caller.cli.say import Refused, number, print_json
from caller.cli.sheets import Sheet, danceable

if TYPE_CHECKING:
    from caller.calls.take import Take


@dataclass(frozen=True, kw_only=True)
class RecordOptions(RunOptions):
    sheet: str
    music: str | None
    output: str
    over: bool
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "record",
        help="make a sound file of the run",
        description="Makes a sound file of the whole run; its suffix says the kind: wav, flac, ogg or mp3, or m4a "
        "with the ffmpeg program.",
    )
    add_run_words(words)
    add_music_word(words)
    words.add_argument(
        "-o", "--output", required=True, metavar="FILE", help="the file to write (.wav, .flac, .ogg, .mp3 or .m4a)"
    )
    add_over_word(words)
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, RecordOptions, run)


def run(asked: RecordOptions) -> int:
    from caller.takehome.recording import RecordingFailed, check_path, record

    sheet = danceable(asked.sheet, asked.as_it_stands)
    path = output(asked.output, (sheet.path, asked.music))
    try:
        check_path(path, asked.over)
        take = run_of(sheet, asked)
        seconds = record(take.score, path, title=sheet.title, over=asked.over)
    except RecordingFailed as failed:
        raise Refused(str(failed), 1) from failed
    if asked.json:
        print_json(_document(take, path, seconds))
    else:
        said = sum(1 for placement in take.score.placements if placement.kind == "call")
        tempo = number(take.timeline.segments[0].tempo)
        print(f"{path}: {seconds:.1f} s of {sheet.title}, {take.dance.counts} counts at {tempo} a minute, {said} calls")
    return 0


def run_of(sheet: Sheet, asked: RecordOptions) -> Take:
    """The whole run, with music where that was asked for. Raises Refused."""
    backing = asked_music(asked.music, prior_of_routine(sheet.read.routine))
    if backing is None:
        return take_of(sheet, asked)
    tempo = tempo_of(sheet, asked.tempo)
    song = song_at(backing, tempo)
    take = take_of(sheet, replace(asked, tempo=tempo), song, room_in(backing, sheet.routine))
    return with_music(take, song, asked.above)


def _document(take: Any, path: Path, seconds: float) -> dict[str, object]:
    """onsets: each count sounded from the first step on, and each call, in order of frame."""
    onsets: list[dict[str, object]] = []
    for n in range(int(take.end - take.start)):
        at = take.start + n
        wall = take.dance.wall_at(at)
        onsets.append(
            {"kind": "count", "frame": take.timeline.frame_of(at), "count": str(at - wall.at + 1), "wall": wall.number}
        )
    onsets += [{"kind": "call", "frame": c.starts, "count": c.cue.count, "wall": c.cue.wall} for c in take.plan.calls]
    onsets.sort(key=lambda onset: (onset["frame"], onset["kind"] == "call"))
    tempo = take.timeline.tempo_at(take.timeline.frame_of(Fraction(take.start)))
    return {"file": str(path), "seconds": seconds, "rate": take.timeline.rate, "tempo": number(tempo), "onsets": onsets}
