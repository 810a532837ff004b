"""``caller music``: where the counts of a recording are, found, told or tapped, heard, corrected, and kept.

It is kept by what the recording sounds like, so a file may be renamed.
"""

from __future__ import annotations

import sys
import time
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.backing import Prior, found_grid, prior_of, recorded, workshop
from caller.cli.beatmap import drawn, svg, unsure_words
from caller.cli.files import typed_path
from caller.cli.leaving import told_where
from caller.cli.options import runs
from caller.cli.say import Refused, number, print_json, warn

if TYPE_CHECKING:
    from caller.clock.grid import Grid
    from caller.rig.music.trying import Trial
    from caller.rig.music.workshop import Recorded

WAVERS_TOLD = 0.005


@dataclass(frozen=True, kw_only=True)
class MusicOptions:
    """first: where count 1 is, seconds. draw: the file that is drawn."""

    file: str
    sheet: str | None
    tempo: Fraction | None
    first: float | None
    again: bool
    exactly: bool
    tap: bool
    hear: bool
    draw: str | None
    sound: str | None
    json: bool


def add(commands: Any) -> None:
    words = commands.add_parser(
        "music",
        help="find the beat of a recording to dance to",
        description="Finds where the counts of a recording are, or takes them from --tempo and --first, or from "
        "taps; they can be heard with clicks and corrected, and are kept for 'caller dance SHEET --music FILE'.",
    )
    words.add_argument("file", metavar="FILE", help="wav, flac, ogg or mp3 (others with the ffmpeg program)")
    words.add_argument(
        "--for",
        dest="sheet",
        metavar="SHEET",
        help="the routine danced to it; its tempo, meter and intro help to find the beats",
    )
    words.add_argument("--tempo", type=amounts.tempo, metavar="T", help="roughly how many counts a minute, as recorded")
    words.add_argument(
        "--first", type=amounts.floating(0, 1200, "seconds"), metavar="SECONDS", help="roughly where count 1 is"
    )
    words.add_argument("--again", action="store_true", help="find the beats anew, whatever was kept")
    words.add_argument("--exactly", action="store_true", help="take --tempo and --first as they are given")
    words.add_argument("--tap", action="store_true", help="play it, and press Enter on each count from count 1 on")
    words.add_argument("--hear", action="store_true", help="play it with clicks on its counts, and correct them")
    words.add_argument("--draw", metavar="FILE", help="draw how sure each bar is, and the tempo (.svg)")
    words.add_argument("--sound", metavar="DEVICE", help="a sound device by name (default: as set)")
    words.add_argument("--json", action="store_true", help="print one JSON document")
    runs(words, MusicOptions, run)


def run(asked: MusicOptions) -> int:
    file, prior = typed_path(asked.file), prior_of(asked.sheet)
    found = recorded(file)
    with told_where():
        if asked.tap:
            tempo, first = taps(found, asked)
            asked = replace(asked, tempo=tempo, first=first)
        grid = grid_asked(file, found, asked, prior)
        if asked.hear:
            heard = heard_grid(found, grid, asked, prior)
            if heard is None:
                return 0
            grid = heard
    keep(file, found, grid)
    if asked.draw:
        draw(Path(asked.draw).expanduser(), file, grid, prior)
    tell(file, found, grid, asked, prior)
    return 0


def grid_asked(file: Path, found: Recorded, asked: MusicOptions, prior: Prior) -> Grid:
    """As told, as kept where nothing is told, else as found. Raises Refused."""
    from caller.clock.grid import Grid
    from caller.rig.music.grids import GridsFault, grid_of, grids_file

    if asked.exactly:
        if asked.tempo is None or asked.first is None:
            raise Refused("--exactly needs both --tempo and --first")
        return Grid(asked.tempo, Fraction(str(asked.first)), told=True)
    try:
        kept = grid_of(grids_file(), found.digest)
    except GridsFault as fault:
        raise Refused(str(fault), 1) from fault
    if kept is not None and not asked.again and asked.tempo is None and asked.first is None:
        return kept.for_tempo(prior.tempo)
    grid, doubt = found_grid(file, found, prior.with_told(asked.tempo, asked.first))
    if doubt:
        warn(doubt)
    return grid


def keep(file: Path, found: Recorded, grid: Grid) -> None:
    from caller.rig.music.grids import GridsFault, grids_file, keep_grid

    try:
        keep_grid(grids_file(), found.digest, file.name, grid)
    except GridsFault as fault:
        raise Refused(str(fault), 1) from fault


def draw(path: Path, file: Path, grid: Grid, prior: Prior) -> None:
    if not grid.sure:
        raise Refused("only beats that were found are drawn; --again finds them", 1)
    if path.suffix.lower() != ".svg":
        raise Refused(f"{path}: a drawing's name ends in .svg")
    try:
        with path.open("x", encoding="utf-8") as out:
            out.write(svg(grid, prior.meter, file.name))
    except FileExistsError as fault:
        raise Refused(f"{path} is there already: name another file", 1) from fault
    except OSError as fault:
        raise Refused(f"{path} can't be written ({fault.strerror})", 1) from fault


def tell(file: Path, found: Recorded, grid: Grid, asked: MusicOptions, prior: Prior) -> None:
    if asked.json:
        print_json(document(file, found, grid, prior))
        return
    name = quote(str(file))
    wavers = f", wavering by {float(grid.wavers):.1%}" if grid.wavers > WAVERS_TOLD else ""
    at = float(grid.first_seconds)
    print(f"{file}: {float(grid.tempo):.5g} counts a minute{wavers}, its count 1 at {at:.3f} s; kept.")
    for line in drawn(grid, prior.meter):
        print(line)
    if unsure := unsure_words(grid, prior.meter):
        print(f"Not sure: {unsure}.")
    print(f"Hear it with clicks on the counts, and correct it with a key each: caller music {name} --hear")
    if asked.sheet is None:
        print(f"Half or twice as fast as danced: caller music {name} --for SHEET --again")


def document(file: Path, found: Recorded, grid: Grid, prior: Prior) -> dict[str, object]:
    return {
        "file": str(file),
        "seconds": found.seconds,
        "tempo": number(grid.tempo),
        "first_seconds": number(grid.first_seconds),
        "even": grid.even,
        "beats": [float(at) for at in grid.beats],
        "sure": list(grid.sure),
        "unsure": [[float(first), float(last)] for first, last in grid.unsure(prior.meter)],
        "marks": [[mark.kind, float(mark.first), float(mark.last)] for mark in grid.marks],
    }


def taps(found: Recorded, asked: MusicOptions) -> tuple[Fraction, float]:
    """Tempo and count 1, roughly, as tapped. Raises Refused."""
    from caller.rig.music.trying import LEAST_TAPS, tapped
    from caller.screen.plain import lines_typed, short_lines
    from caller.screen.song_plain import DONE, tap_in_lines

    def tap(trial: Trial) -> tuple[float, ...]:
        return tap_in_lines(trial, sys.stdout, lines_typed(chain(short_lines(sys.stdin), [DONE])), time.sleep)

    rough = tapped(played(found, asked, tap))
    if rough is None:
        raise Refused(f"{LEAST_TAPS} taps at least are needed, one on each count", 1)
    return Fraction(rough[0]).limit_denominator(1000), rough[1]


def heard_grid(found: Recorded, grid: Grid, asked: MusicOptions, prior: Prior) -> Grid | None:
    """The grid as corrected by ear; None where it was left. Raises Refused."""
    from caller.rig.music.correcting import Correction
    from caller.screen.keys import keys_typed
    from caller.screen.song_plain import LEAVE, hear

    def correct(trial: Trial) -> Grid | None:
        correction = Correction(trial, grid, prior.meter, prior.intro or 0)
        with keys_typed(sys.stdin, LEAVE) as typed:
            return correction.grid if hear(trial, correction, sys.stdout, typed, time.sleep) else None

    corrected: Grid | None = played(found, asked, correct)
    return corrected


def played(found: Recorded, asked: MusicOptions, doing: Any) -> Any:
    """What comes of ``doing`` with the recording as it plays. Raises Refused without sound."""
    from caller.cli.sound import missing
    from caller.rig.devices import sound_report
    from caller.rig.music.trying import Trial
    from caller.rig.settings import read_settings, settings_file
    from caller.rig.stream.live import open_speaker

    settings, _ = read_settings(settings_file())
    wish = settings.device if asked.sound is None else asked.sound
    if why := missing(sound_report(), wish):
        raise Refused(why, 1)
    clip = workshop().version(found, Fraction(1))
    speaker, _ = open_speaker(wish, "")
    try:
        return doing(Trial(speaker, clip, found.gain, time.perf_counter, settings.offset_of))
    finally:
        speaker.close()
