"""Where a dance falls in a song: its walls, tags and restarts by minutes and seconds, and where the music disagrees.

A tag or a restart is there since the music has a phrase that is longer or shorter than the dance. So where a wall
starts, a bar of the music does, and as a rule a phrase: where what an earlier wall was danced to begins again a bar or
so beside it instead, or something clearly new does, an event is missing there, or wrong, or the song is another version
of the one that the sheet was written for.

Conventions: counts of the dance as ``Fraction``; the first step falls ``intro`` counts after the music's count 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.cli.backing import prior_of_routine, workshop
from caller.cli.beatmap import clock
from caller.cli.say import Refused

if TYPE_CHECKING:
    from caller.cli.backing import Backing
    from caller.cli.sheets import Sheet
    from caller.clock.grid import Grid
    from caller.dance.walls import Dance
    from caller.rig.music.workshop import Phrases

# A phrase clearly begins where this speaks for it, and so much more than where the wall starts; in spreads.
CLEARLY = 1.0
# What was heard in an earlier wall comes again beside a wall's start where it is so alike, and so much more than at the
# start itself. In rendered songs it is 0.5 to 0.7 where it comes again, and 0.3 at most a bar beside that.
ALIKE, MORE_ALIKE = 0.4, 0.25
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


def song_of(sheet: Sheet, dance: Dance, backing: Backing) -> SongMap:
    """The dance in a recording. Raises Refused."""
    from caller.rig.music.decode import NoMusic

    prior = prior_of_routine(sheet.read.routine)
    found, grid = backing
    there = placed(dance, grid, prior.intro or 0)
    starts = [int(one.count) for one in there if one.kind == "wall"]
    try:
        phrases = workshop().phrases(found, grid, prior.meter, starts)
    except NoMusic as fault:
        raise Refused(str(fault), 1) from fault
    return SongMap(there, tuple(disagreements(there, phrases, prior.meter, found.seconds)), found.seconds)


def placed(dance: Dance, grid: Grid, intro: int) -> tuple[SongPlace, ...]:
    """The walls and their events, in order."""

    def at(wall: int, kind: str, after: int, count: Fraction) -> SongPlace:
        return SongPlace(wall, kind, after, count + intro, grid.seconds_of(count + intro))

    found = []
    for wall in dance.walls:
        found.append(at(wall.number, "wall", 0, wall.at))
        found += [at(wall.number, event.kind, event.after, wall.at + event.after) for event in wall.events]
    return tuple(found)


def disagreements(there: tuple[SongPlace, ...], phrases: Phrases, meter: int, ends: float) -> Iterator[str]:
    """The first wall that starts beside the music's bar or phrase; what comes after it is off by as much."""
    for one in there:
        if one.kind != "wall" or one.seconds > ends or one.count not in phrases.new:
            continue
        by = _again_beside(one, phrases) or _new_beside(one, phrases.new, meter)
        if by:
            way = "later" if by > 0 else "sooner"
            yield (
                f"Wall {one.wall} starts at {clock(one.seconds)}, but a phrase of the music begins {abs(by)} counts "
                f"{way}: look at the tag or restart before it ({_would_agree(one.wall, by)})."
            )
            return
        if one.count % meter:
            yield (
                f"Wall {one.wall} starts at {clock(one.seconds)}, in the midst of a bar of the music: look at the tag, "
                "restart or intro before it."
            )
            return


def _again_beside(one: SongPlace, phrases: Phrases) -> int:
    """By how many counts beside a wall's start what was heard in an earlier wall begins again; 0 where it doesn't."""
    again = phrases.again.get(int(one.count))
    if again is None or again.there < ALIKE or again.there < again.here + MORE_ALIKE:
        return 0
    return again.by


def _new_beside(one: SongPlace, new: dict[int, float], meter: int) -> int:
    """By how many counts beside a wall's start something clearly new begins; 0 where it doesn't."""
    if one.wall == 1 or one.count % meter:
        return 0
    count = int(one.count)
    beside = {bars * meter: new.get(count + bars * meter, 0.0) for bars in range(-BESIDE, BESIDE + 1) if bars}
    by = max(beside, key=lambda counts: beside[counts])
    return by if beside[by] > CLEARLY and beside[by] > new[count] + CLEARLY else 0


def _would_agree(wall: int, by: int) -> str:
    if by > 0:
        return f"a tag of {by} counts after wall {wall - 1} would agree"
    return f"a wall {wall - 1} that is {-by} counts shorter would agree"


def song_lines(song: SongMap) -> Iterator[str]:
    yield "In the song:"
    for one in song.placed:
        what = f"wall {one.wall}" if one.kind == "wall" else f"  {one.kind} after {one.after}"
        yield f"{clock(one.seconds):>6}  {what}{'  (after its end)' if one.seconds > song.seconds else ''}"
    yield from song.disagrees or ("No bar or phrase of the music disagrees with where walls start.",)


def song_document(song: SongMap) -> dict[str, object]:
    walls = [
        {"wall": one.wall, "kind": one.kind, "after": one.after, "seconds": round(float(one.seconds), 3)}
        for one in song.placed
    ]
    return {"placed": walls, "disagrees": list(song.disagrees)}
