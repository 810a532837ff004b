"""A recording under a take: at every count of the dance the place of the music that is danced there.

Conventions: counts in ``Fraction``, of the route (how much has been danced) or of the sheet's dance (where in it); the
dance's first step falls on the music's count ``intro`` + 1, so count c of the sheet's dance is ``intro`` + c counts
after the music's count 1. Frames of a recording at ``RATE``; of one that is slowed down, on its own axis. A recording
has one tempo throughout: one that wavers drifts away from the counts. Pure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil

from caller.calls.take import Take
from caller.clock.timeline import SECONDS_A_MINUTE, round_half_up
from caller.dance.walls import Dance
from caller.sound.levels import duck_for
from caller.sound.score import RATE, Clip, ClipSpan, Placement, Score

# Where the music is come in upon or left in its midst: long enough not to click, short enough to keep the onset.
EDGE_FRAMES = RATE // 100
# Where one passage gives way to another it does so before the beat that they meet on, so that this is struck once, and
# whole, though players are some milliseconds early.
SEAM_FRAMES = 2 * EDGE_FRAMES
# After the last count it dies away.
ENDING_FRAMES = 3 * RATE


@dataclass(frozen=True, slots=True)
class Song:
    """tempo: as recorded, in counts a minute. first_seconds: where its count 1 is. gain: what it is played with, a
    factor. loudest_lufs: with it, where it is fullest. versions: the sound by tempo, as far as there are any."""

    tempo: Fraction
    first_seconds: Fraction
    gain: float
    loudest_lufs: float
    versions: Mapping[Fraction, Clip] = field(default_factory=dict, repr=False)

    @property
    def pick_up(self) -> Fraction:
        """Counts before its count 1."""
        return self.first_seconds * self.tempo / SECONDS_A_MINUTE


# A recording with a version for that tempo, None where there can be none.
SongAt = Callable[[Fraction], Song | None]


@dataclass(frozen=True, slots=True)
class SongPassage:
    """From ``first`` to ``last`` (excluded) of the route the sheet's dance is danced from ``sheet_first`` on."""

    first: Fraction
    last: Fraction
    sheet_first: Fraction


def straight(dance: Dance) -> tuple[SongPassage, ...]:
    """The sheet's dance as it is, from its first step to its last."""
    return (SongPassage(Fraction(0), Fraction(dance.counts), Fraction(0)),)


def lead_counts(song: Song, intro: int, count_in: int) -> Fraction:
    """Counts of music before a count-in that leads to the first step, where all of the recording is heard."""
    return max(song.pick_up + intro - count_in, Fraction(0))


def place_seconds(take: Take, song: Song, passages: Sequence[SongPassage], intro: int, frame: int) -> Fraction:
    """The time of the recording as it is, not slowed down, that is heard on a frame of a take."""
    count = take.timeline.count_at(frame)
    passage = next((one for one in reversed(passages) if one.first <= count), passages[0])
    counts = song.pick_up + intro + count - passage.first + passage.sheet_first
    return max(counts * SECONDS_A_MINUTE / song.tempo, Fraction(0))


def seam(take: Take, song: Song, frame: int, tempo: Fraction) -> int:
    """Where the music may give way to that of a tempo, or join: the first beat from a frame on, with room for the seam
    before it; the frame itself where it goes on as it is."""
    placed = take.score.placements
    sounds = next((one.clip for one in placed if one.kind == "music" and one.frame <= frame < one.end), None)
    if sounds is song.versions.get(tempo) and tempo == take.timeline.tempo_at(frame):
        return frame
    if sounds is None and tempo not in song.versions:
        return frame
    return take.timeline.frame_of(Fraction(ceil(take.timeline.count_at(frame + SEAM_FRAMES))))


def accompanied(
    take: Take,
    song: Song,
    passages: Sequence[SongPassage],
    intro: int,
    over_lu: float,
    from_frame: int = 0,
    ahead_frames: int = 0,
) -> Take:
    """The take with the music under it from a frame on, ducked so that calls stand ``over_lu`` over it where it is
    fullest. The music that sounded before gives way so long ahead of it; where there is no version for the tempo, to
    nothing.

    passages: of the route, without a gap, holding the whole take.
    """
    others = [placed for placed in take.score.placements if placed.kind != "music"]
    begins = max(from_frame - ahead_frames, 0)
    music = [*_cut(take.score, begins), *_placed(take, song, passages, intro, from_frame, begins)]
    depth = duck_for(over_lu, music_lufs=song.loudest_lufs)
    score = Score.holding([*others, *music], take.end_frame, take.score.rate, depth)
    return replace(take, score=score)


def _cut(score: Score, at: int) -> Iterator[Placement]:
    """The music before a frame; what goes on beyond it is left there."""
    for placed in score.placements:
        if placed.kind == "music" and placed.frame < at:
            part = placed.part or ClipSpan(0, placed.clip.frames)
            last = min(part.first + at - placed.frame + EDGE_FRAMES, part.last)
            yield placed if placed.end <= at else replace(placed, part=replace(part, last=last, fade_out=EDGE_FRAMES))


def _placed(
    take: Take, song: Song, passages: Sequence[SongPassage], intro: int, from_frame: int, begins: int
) -> Iterator[Placement]:
    """begins: where music may, at ``from_frame`` or before it; there it is as if the tempo held already."""
    tempo = take.timeline.tempo_at(from_frame)
    clip = song.versions.get(tempo)
    if clip is None:
        return
    danced = [one for one in passages if one.first < take.end and one.last > take.start]
    for one in danced:
        # The music of the count-in is that before its first count, whatever was danced before it.
        first = 0 if one is danced[0] else take.timeline.frame_of(one.first) - SEAM_FRAMES
        last, fade = take.timeline.frame_of(one.last) - SEAM_FRAMES, EDGE_FRAMES
        if one is danced[-1]:
            last, fade = take.end_frame, ENDING_FRAMES
        first = max(first, begins)
        if first < last:
            origin = _origin(take, song, one, intro, max(first, from_frame))
            yield from _heard(clip, song.gain, origin, (first, last), fade)


def _origin(take: Take, song: Song, passage: SongPassage, intro: int, frame: int) -> int:
    """The take's frame on which the recording would begin, for the tempo that holds from ``frame`` on."""
    tempo, count = take.timeline.tempo_at(frame), take.timeline.count_at(frame)
    counts = song.pick_up + intro + count - passage.first + passage.sheet_first
    return round_half_up(frame - counts * SECONDS_A_MINUTE * take.timeline.rate / tempo)


def _heard(clip: Clip, gain: float, origin: int, frames: tuple[int, int], fade: int) -> Iterator[Placement]:
    """The clip, which begins at ``origin``, as far as it is heard from the first of ``frames`` to the last; there it
    fades out."""
    start, stop = max(frames[0] - origin, 0), min(frames[1] - origin + fade, clip.frames)
    if start < stop:
        fades = (EDGE_FRAMES if start else 0, min(fade, stop - start) if stop < clip.frames else 0)
        yield Placement(origin + start, clip, gain, "music", ClipSpan(start, stop, *fades))
