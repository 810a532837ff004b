"""The word ``--music``: a recording to dance to, found ready or refused in one sentence."""

from __future__ import annotations

import argparse
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from caller.cli.files import typed_path
from caller.cli.say import Refused

if TYPE_CHECKING:
    from caller.calls.music import Song
    from caller.calls.take import Take
    from caller.rig.music.grids import Grid
    from caller.rig.music.making import Making
    from caller.rig.music.workshop import Recorded, Workshop

    Backing = tuple[Recorded, Grid]

FOLDER = "music"


def add_music_word(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--music",
        metavar="FILE",
        help="a recording of one tempo throughout to dance to; 'caller music FILE' finds its beat first",
    )


def workshop() -> Workshop:
    import platformdirs

    from caller.rig.music.workshop import Workshop

    return Workshop(platformdirs.user_cache_path("caller") / FOLDER)


def recorded(file: Path) -> Recorded:
    """The recording in a file. Takes some seconds for one that is new. Raises Refused."""
    from caller.rig.music.decode import NoMusic

    try:
        return workshop().read(file)
    except NoMusic as fault:
        raise Refused(str(fault), 1 if file.is_file() else 2) from fault


def known(file: Path) -> Backing:
    """A recording, and where its counts are. Raises Refused."""
    from caller.rig.music.grids import GridsFault, grid_of, grids_file

    found = recorded(file)
    try:
        grid = grid_of(grids_file(), found.digest)
    except GridsFault as fault:
        raise Refused(str(fault), 1) from fault
    if grid is None:
        raise Refused(f"where the beat of {file} is isn't known yet: run 'caller music {quote(str(file))}' first", 1)
    return found, grid


def asked_music(name: str | None) -> Backing | None:
    """The recording that the command line names, None where it names none. Raises Refused."""
    return None if name is None else known(typed_path(name))


def making(backing: Backing, tempo: Fraction) -> Making:
    """Its versions, being made in the background."""
    from caller.rig.music.making import Making

    return Making(workshop(), *backing, tempo)


def song_at(backing: Backing, tempo: Fraction) -> Song:
    """It at one tempo; waits for that to be made. Raises Refused."""
    from caller.rig.music.decode import NoMusic
    from caller.rig.music.making import song_of

    found, grid = backing
    try:
        version = workshop().version(found, tempo / grid.tempo)
    except NoMusic as fault:
        raise Refused(str(fault), 1) from fault
    return replace(song_of(found, grid), versions={tempo: version})


def with_music(take: Take, song: Song, over_lu: float) -> Take:
    """A whole run with its music under it."""
    from caller.calls.music import Passage, accompanied

    whole = (Passage(Fraction(0), Fraction(take.dance.counts), Fraction(0)),)
    return accompanied(take, song, whole, take.dance.routine.header.intro or 0, over_lu)
