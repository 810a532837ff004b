"""Where a dance falls in a song: its walls, tags and restarts by minutes and seconds, and where the music disagrees.

A tag or a restart is there since the music has a phrase that is longer or shorter than the dance. So where a wall
starts, a bar of the music does, and as a rule a phrase: where a phrase clearly begins a bar or so beside it instead, an
event is missing there, or wrong, or the song is another version of the one that the sheet was written for.

Conventions: counts of the dance as ``Fraction``; the first step falls ``intro`` counts after the music's count 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from caller.cli.backing import known, prior_of_routine, workshop
from caller.cli.beatmap import clock
from caller.cli.say import Refused

if TYPE_CHECKING:
    from caller.cli.sheets import Sheet
    from caller.clock.grid import Grid
    from caller.dance.walls import Dance

# A phrase clearly begins where this speaks for it, and so much more than where the wall starts; in spreads.
CLEARLY = 1.0
# How many bars beside a wall's start a phrase is looked for.
BESIDE = 2


@dataclass(frozen=True, slots=True)
class SongPlace:
    """A wall (kind "wall") or an event of a dance in a song. after: counts into the wall. count: of the music, from its
    count 1. seconds: when it falls."""

    wall: int
    kind: str
    after: int
    count: Fraction
    seconds: Fraction


@dataclass(frozen=True, slots=True)
class SongMap:
    """disagrees: sentences."""

    placed: tuple[SongPlace, ...]
    disagrees: tuple[str, ...]
    seconds: float


def song_of(sheet: Sheet, dance: Dance, name: str) -> SongMap:
    """The dance in a recording. Raises Refused."""
    from caller.rig.music.decode import NoMusic

    prior = prior_of_routine(sheet.read.routine)
    found, grid = known(Path(name).expanduser(), prior)
    try:
        new = workshop().newness(found, grid, prior.meter)
    except NoMusic as fault:
        raise Refused(str(fault), 1) from fault
    there = placed(dance, grid, prior.intro or 0)
    return SongMap(there, tuple(disagreements(there, new, prior.meter, found.seconds)), found.seconds)


def placed(dance: Dance, grid: Grid, intro: int) -> tuple[SongPlace, ...]:
    """The walls and their events, in order."""

    def at(wall: int, kind: str, after: int, count: Fraction) -> SongPlace:
        return SongPlace(wall, kind, after, count + intro, grid.seconds_of(count + intro))

    found = []
    for wall in dance.walls:
        found.append(at(wall.number, "wall", 0, wall.at))
        found += [at(wall.number, event.kind, event.after, wall.at + event.after) for event in wall.events]
    return tuple(found)


def disagreements(there: tuple[SongPlace, ...], new: dict[int, float], meter: int, ends: float) -> Iterator[str]:
    """The first wall that starts beside the music's bar or phrase; what comes after it is off by as much. new: how much
    each count of the music begins something new."""
    for one in there:
        if one.kind != "wall" or one.seconds > ends or one.count not in new:
            continue
        if one.count % meter:
            yield (
                f"Wall {one.wall} starts at {clock(one.seconds)}, in the midst of a bar of the music: look at the tag, "
                "restart or intro before it."
            )
            return
        count = int(one.count)
        beside = {by: new.get(count + by * meter, 0.0) for by in range(-BESIDE, BESIDE + 1) if by}
        by = max(beside, key=lambda bars: beside[bars])
        if one.wall > 1 and beside[by] > CLEARLY and beside[by] > new[count] + CLEARLY:
            way = "later" if by > 0 else "sooner"
            yield (
                f"Wall {one.wall} starts at {clock(one.seconds)}, but a phrase of the music begins {abs(by) * meter} "
                f"counts {way}: look at the tag or restart before it."
            )
            return


def song_lines(song: SongMap) -> Iterator[str]:
    yield "In the song:"
    for one in song.placed:
        what = f"wall {one.wall}" if one.kind == "wall" else f"  {one.kind} after {one.after}"
        yield f"{clock(one.seconds):>6}  {what}{'  (after its end)' if one.seconds > song.seconds else ''}"
    yield from song.disagrees or ("Where walls start, bars and phrases of the music do.",)


def song_document(song: SongMap) -> dict[str, object]:
    walls = [
        {"wall": one.wall, "kind": one.kind, "after": one.after, "seconds": round(float(one.seconds), 3)}
        for one in song.placed
    ]
    return {"placed": walls, "disagrees": list(song.disagrees)}
