"""``caller music``: where the counts of a recording are, found, told or tapped, heard, and kept.

It is kept by what the recording sounds like, so a file may be renamed. One tempo throughout is taken for granted.
"""

from __future__ import annotations

import argparse
import sys
import time
from dataclasses import replace
from fractions import Fraction
from itertools import chain
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING, Any

from caller.cli import amounts
from caller.cli.backing import recorded, workshop
from caller.cli.files import typed_path
from caller.cli.leaving import told_where
from caller.cli.say import Refused, number, print_json, warn

if TYPE_CHECKING:
    from caller.rig.music.grids import Grid
    from caller.rig.music.trying import Trial
    from caller.rig.music.workshop import Recorded

# Weaker than this there is no steady beat to go by.
LEAST_STRENGTH = 0.2
# As far as a step may be off its beat without looking late.
MOST_WAVERS_MS = 40.0


def add(commands: Any) -> None:
    words = commands.add_parser(
        "music",
        help="find the beat of a recording to dance to",
        description="Where the counts of a recording are: found in it, as told by --tempo and --first, or tapped; then "
        "kept for 'caller dance SHEET --music FILE'. The recording must have one tempo throughout.",
    )
    words.add_argument("file", metavar="FILE", help="wav, flac, ogg or mp3 (others with the ffmpeg program)")
    words.add_argument("--tempo", type=amounts.tempo, metavar="T", help="counts a minute, as recorded, roughly")
    words.add_argument(
        "--first", type=amounts.floating(0, 1200, "seconds"), metavar="SECONDS", help="where its count 1 is, roughly"
    )
    words.add_argument("--exactly", action="store_true", help="--tempo and --first as they are told, not looked for")
    words.add_argument("--tap", action="store_true", help="play it, and press Enter on each count from count 1 on")
    words.add_argument("--hear", action="store_true", help="play it with clicks on its counts, and move them")
    words.add_argument("--sound", metavar="DEVICE", help="a sound device by name (else as set)")
    words.add_argument("--json", action="store_true", help="one JSON document")
    words.set_defaults(run=run)


def run(asked: argparse.Namespace) -> int:
    file = typed_path(asked.file)
    found = recorded(file)
    with told_where():
        if asked.tap:
            asked.tempo, asked.first = taps(found, asked)
        grid = grid_asked(file, found, asked)
        if asked.hear:
            heard = heard_grid(found, grid, asked)
            if heard is None:
                return 0
            grid = heard
    keep(file, found, grid)
    tell(file, found, grid, asked)
    return 0


def grid_asked(file: Path, found: Recorded, asked: argparse.Namespace) -> Grid:
    """As told, as kept where nothing is told, else as found. Raises Refused."""
    from caller.rig.music.grids import Grid, GridsFault, grid_of, grids_file

    if asked.exactly:
        if asked.tempo is None or asked.first is None:
            raise Refused("--exactly needs both --tempo and --first")
        return Grid(asked.tempo, Fraction(str(asked.first)))
    try:
        kept = grid_of(grids_file(), found.digest)
    except GridsFault as fault:
        raise Refused(str(fault), 1) from fault
    if kept is not None and asked.tempo is None and asked.first is None:
        return kept
    return looked_for(file, found, asked.tempo, asked.first)


def looked_for(file: Path, found: Recorded, near_tempo: Fraction | None, near_first: float | None) -> Grid:
    from caller.rig.music.grids import Grid
    from caller.sound.pulse import pulse_of

    clip = workshop().version(found, Fraction(1))
    pulse = pulse_of(clip.samples, None if near_tempo is None else float(near_tempo), near_first)
    if pulse.strength < LEAST_STRENGTH:
        raise Refused(f"no steady beat is found in {file}: tell it with --tempo and --first, or tap it with --tap", 1)
    if pulse.wavers_ms > MOST_WAVERS_MS:
        warn(
            f"the tempo of {file} wavers: the counts are up to {pulse.wavers_ms:.0f} ms beside the music; a recording "
            "of one tempo throughout is needed"
        )
    return Grid(Fraction(f"{pulse.tempo:.4f}"), Fraction(f"{pulse.first_seconds:.4f}"))


def keep(file: Path, found: Recorded, grid: Grid) -> None:
    from caller.rig.music.grids import GridsFault, grids_file, keep_grid

    try:
        keep_grid(grids_file(), found.digest, file.name, grid)
    except GridsFault as fault:
        raise Refused(str(fault), 1) from fault


def tell(file: Path, found: Recorded, grid: Grid, asked: argparse.Namespace) -> None:
    if asked.json:
        first = number(grid.first_seconds)
        print_json({"file": str(file), "seconds": found.seconds, "tempo": number(grid.tempo), "first_seconds": first})
        return
    name = quote(str(file))
    print(f"{file}: {float(grid.tempo):g} counts a minute, its count 1 at {float(grid.first_seconds):.3f} s; kept.")
    print(f"Hear it with clicks on the counts: caller music {name} --hear")
    print(f"Half or twice as fast, or another count 1: caller music {name} --tempo T --first SECONDS, or --tap")


def taps(found: Recorded, asked: argparse.Namespace) -> tuple[Fraction, float]:
    """Tempo and count 1, roughly, as tapped. Raises Refused."""
    from caller.rig.music.trying import LEAST_TAPS, tapped
    from caller.screen.plain import lines_typed
    from caller.screen.song_plain import DONE, tap_in_lines

    def tap(trial: Trial) -> tuple[float, ...]:
        return tap_in_lines(trial, sys.stdout, lines_typed(chain(sys.stdin, [DONE])), time.sleep)

    rough = tapped(played(found, asked, tap))
    if rough is None:
        raise Refused(f"{LEAST_TAPS} taps at least are needed, one on each count", 1)
    return Fraction(rough[0]).limit_denominator(1000), rough[1]


def heard_grid(found: Recorded, grid: Grid, asked: argparse.Namespace) -> Grid | None:
    """The grid as moved by ear; None where it was left. Raises Refused."""
    from caller.screen.plain import lines_typed
    from caller.screen.song_plain import LEAVE, hear_in_lines

    moved = [grid]

    def hear(trial: Trial) -> bool:
        def move(by_seconds: float, counts: int) -> str:
            last = moved[-1]
            first = last.first_seconds + Fraction(str(by_seconds)) + counts * 60 / last.tempo
            moved.append(replace(last, first_seconds=first if first >= 0 else first % (60 / last.tempo)))
            trial.lay(moved[-1])
            return f"Count 1 at {float(moved[-1].first_seconds):.3f} s."

        trial.lay(grid)
        return hear_in_lines(trial, move, sys.stdout, lines_typed(chain(sys.stdin, [LEAVE])), time.sleep)

    return moved[-1] if played(found, asked, hear) else None


def played(found: Recorded, asked: argparse.Namespace, doing: Any) -> Any:
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
