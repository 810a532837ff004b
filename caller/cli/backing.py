"""The word ``--music``: a recording to dance to, found ready or refused in one sentence."""

from __future__ import annotations

import argparse
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from caller.cli.files import typed_path
from caller.cli.say import Refused, warn

if TYPE_CHECKING:
    from caller.calls.music import Song, SongAt
    from caller.calls.take import Take
    from caller.clock.grid import Grid
    from caller.rig.music.making import Making
    from caller.rig.music.workshop import Recorded, Workshop
    from caller.routine.parts import Routine
    from caller.teaching.stage import LessonPlan

    Backing = tuple[Recorded, Grid]

FOLDER = "music"
# Less clear than this there is no beat to go by: noise and sounds without one come to 0.1 at most.
LEAST_CLEAR = 0.15


def add_music_word(words: argparse.ArgumentParser) -> None:
    words.add_argument(
        "--music",
        metavar="FILE",
        help="a recording to dance to; 'caller music FILE' shows and corrects where its beats are",
    )


@dataclass(frozen=True, slots=True)
class Prior:
    """What is known of a recording before it is looked at: from the routine that is danced to it, or told. first:
    where its count 1 is, seconds. told: both it and the tempo are told of this recording."""

    tempo: Fraction | None = None
    meter: int = 4
    intro: int | None = None
    first: float | None = None
    told: bool = False

    def with_told(self, tempo: Fraction | None, first: float | None) -> Prior:
        told = tempo is not None and first is not None
        return replace(self, tempo=self.tempo if tempo is None else tempo, first=first, told=told)


def prior_of(name: str | None) -> Prior:
    """What a sheet says of its music. Raises Refused."""
    from caller.cli.sheets import danceable

    return Prior() if name is None else prior_of_routine(danceable(name).read.routine)


def prior_of_routine(routine: Routine) -> Prior:
    header = routine.header
    return Prior(header.tempo, header.meter.counts, header.intro)


def found_grid(file: Path, found: Recorded, prior: Prior) -> tuple[Grid, str]:
    """Where the beats of a recording are found, and one sentence where that is in doubt; where there are none, as they
    are told. Raises Refused where they aren't."""
    from caller.clock.grid import Grid
    from caller.rig.music.decode import NoMusic
    from caller.sound.pulse import DOUBTFUL

    try:
        tracked = workshop().beats(found, prior.tempo, prior.first, prior.meter, prior.intro)
    except NoMusic as fault:
        raise Refused(str(fault), 1) from fault
    if tracked.clear < LEAST_CLEAR and prior.told:
        told = Grid(Fraction(prior.tempo or 0), Fraction(str(prior.first)), told=True)
        return told, f"no steady beat is found in {file}: its counts are exactly where they are told"
    if tracked.speech:
        raise Refused(
            f"{file} is speech, as it sounds, without a beat to dance to: name a recording of music, or tell where its "
            f"counts are with 'caller music {quote(str(file))} --tempo T --first SECONDS'",
            1,
        )
    if tracked.clear < LEAST_CLEAR:
        raise Refused(
            f"no steady beat is found in {file}: tell it with 'caller music {quote(str(file))} --tempo T --first "
            "SECONDS', or tap it with --tap",
            1,
        )
    doubt = ""
    if tracked.on_beat < DOUBTFUL:
        doubt = (
            f"the counts of {file} may be half a beat off: hear them with 'caller music {quote(str(file))} --hear' "
            "(h moves them)"
        )
    return tracked.grid, doubt


def workshop(*, in_class: bool = False) -> Workshop:
    """in_class: its work stands back behind what a class hears."""
    import platformdirs

    from caller.rig.music.workshop import NICENESS, Workshop

    return Workshop(platformdirs.user_cache_path("caller") / FOLDER, nice=NICENESS if in_class else 0)


def recorded(file: Path) -> Recorded:
    """The recording in a file. Takes some seconds for one that is new. Raises Refused."""
    from caller.rig.music.decode import NoMusic

    try:
        return workshop().read(file)
    except NoMusic as fault:
        raise Refused(str(fault), 1 if file.is_file() else 2) from fault


def known(file: Path, prior: Prior) -> Backing:
    """A recording, and where its counts are: as kept, else found, which takes some seconds. Raises Refused."""
    from caller.cli.beatmap import unsure_words
    from caller.rig.music.grids import GridsFault, grid_of, grids_file, keep_grid

    found = recorded(file)
    try:
        kept = grid_of(grids_file(), found.digest)
        if kept is not None:
            return found, kept.for_tempo(prior.tempo)
        grid, doubt = found_grid(file, found, prior)
        keep_grid(grids_file(), found.digest, file.name, grid)
    except GridsFault as fault:
        raise Refused(str(fault), 1) from fault
    unsure = unsure_words(grid, prior.meter)
    for sentence in (
        doubt,
        f"the beat of {file} isn't sure at {unsure}: hear it with 'caller music'" if unsure else "",
    ):
        if sentence:
            warn(sentence)
    return found, grid


def asked_music(name: str | None, prior: Prior) -> Backing | None:
    """The recording that the command line names, None where it names none. Raises Refused."""
    return None if name is None else known(typed_path(name), prior)


def music_for_class(name: str | None, prior: Prior, missing_too: bool = False) -> Backing | None:
    """The same for a class: where the recording can't be danced to, that is told, and the count track serves. Raises
    Refused where there is no such file, unless that is only to be told too."""
    try:
        return asked_music(name, prior)
    except Refused as fault:
        if fault.status != 1 and not missing_too:
            raise
        warn(f"{str(fault).rstrip('.')}; until then the count track goes on alone")
        return None


# A recording's last count may be a little short of whole.
NEARLY = Fraction(1, 2)


def room_in(backing: Backing | None, routine: Routine) -> Fraction | None:
    """How many counts of a dance a recording has room for, from the first step on; None without one."""
    if backing is None:
        return None
    found, grid = backing
    return grid.count_at(Fraction(found.seconds)) - (routine.header.intro or 0) + NEARLY


def making_for_dance(backing: Backing, tempo: Fraction) -> Making:
    """Its versions for a dance, being made in the background."""
    from caller.rig.music.making import Making, usual_tempos

    return Making(workshop(in_class=True), *backing, usual_tempos(tempo))


def making_for_stages(backing: Backing, programme: LessonPlan, first_stage: int) -> Making:
    """Its versions for a programme from a stage on, being made in the background; a start waits for them only where
    that stage is danced to music."""
    from caller.rig.music.making import Making
    from caller.teaching.play import tempos_to_music

    tempos = tempos_to_music(programme, first_stage)
    return Making(workshop(in_class=True), *backing, tempos, awaited=programme.stages[first_stage].to_music)


def song_at(backing: Backing, tempo: Fraction) -> Song:
    """It at one tempo; waits for that to be made. Raises Refused."""
    from caller.rig.music.decode import NoMusic
    from caller.rig.music.making import song_of

    found, grid = backing
    try:
        even = workshop().evened(found, grid)
        version = workshop().version(even, tempo / grid.tempo)
    except NoMusic as fault:
        raise Refused(str(fault), 1) from fault
    return replace(song_of(found, grid), versions={tempo: version})


def song_at_any(backing: Backing) -> SongAt:
    """It at any tempo; waits for that to be made. Where it can't be danced to so slowly or so fast, that is told once,
    and the count track goes on alone."""
    told: set[str] = set()

    def at(tempo: Fraction) -> Song | None:
        try:
            return song_at(backing, tempo)
        except Refused as fault:
            if str(fault) not in told:
                told.add(str(fault))
                warn(f"{fault}; there the count track is alone")
            return None

    return at


def with_music(take: Take, song: Song, over_lu: float) -> Take:
    """A whole run with its music under it."""
    from caller.calls.music import accompanied, straight

    return accompanied(take, song, straight(take.dance), take.dance.routine.header.intro or 0, over_lu)
