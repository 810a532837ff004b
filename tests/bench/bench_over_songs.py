"""How many calls an offline recogniser makes out over five songs, as a class hears them: mixed and ducked as they are.

    python -m tests.bench.bench_over_songs

``pip install pocketsphinx``; the songs are rendered by fluidsynth (:mod:`tests.bench.scored_songs`). The words are the
calls of a shipped routine in the standard voice, each cut out of the whole run where it is called, and the recogniser
chooses among all of them; what it makes out is no measure of what a hall does (see
:mod:`tests.bench.bench_intelligibility`). Columns: the call alone in faint noise, with the music as it is ducked for 10
and for 20 LU, and with the music as loud as it is when nobody speaks. Before them: the song's programme loudness as
it is played, and as it was recorded, LUFS.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from caller.calls.music import Song, accompanied, lead_counts, straight
from caller.calls.plan import Manner
from caller.calls.score import make_take, phrases_needed
from caller.calls.take import Take
from caller.cli.running import ready_voice
from caller.cli.sheets import load, shipped_folder
from caller.dance.unroll import unroll
from caller.dance.walls import Dance
from caller.sound.levels import LEAST_OVER_LU, MOST_OVER_LU
from caller.sound.loudness import MUSIC_LUFS, SPEECH_LUFS, loudness, programme
from caller.sound.mix import SPEECH_PEAK, render
from caller.sound.score import RATE, Clip, Samples, Score
from tests.bench.bench_intelligibility import HEARD_RATE, QUIET_LU, Ear, Told, told
from tests.bench.maskers import pink
from tests.bench.scored_songs import Setting, scored

SONGS = (
    Setting("first", "rock", 108, seconds=140),
    Setting("second", "swing", 108, seconds=140, font="tim"),
    Setting("third", "country", 108, seconds=140),
    Setting("fourth", "disco", 108, seconds=140, font="tim"),
    Setting("second", "latin", 108, seconds=140),
)
ROUTINE = "lantern-row.txt"
AROUND = RATE // 4


def song_of(samples: Samples, tempo: Fraction, first_seconds: float) -> Song:
    """As loud as a recording is played; see ``caller.rig.music.child.read``."""
    whole, fullest = programme(samples)
    gain = float(min(10 ** ((MUSIC_LUFS - whole) / 20), SPEECH_PEAK / np.abs(samples).max()))
    fullest += 20 * float(np.log10(gain))
    first = Fraction(first_seconds).limit_denominator(1000)
    return Song(tempo, first, gain, fullest, {tempo: Clip("song", samples)})


def run_of(dance: Dance, tempo: Fraction, song: Song, over_lu: float) -> Take:
    voice = ready_voice("", phrases_needed(dance, Manner.AHEAD))
    header = dance.routine.header
    count_in, intro = 2 * header.meter.counts, header.intro or 0
    take = make_take(
        dance,
        start=Fraction(0),
        end=Fraction(dance.counts),
        tempo=tempo,
        manner=Manner.AHEAD,
        lexicon=voice,
        clips=voice.clip,
        count_in=count_in,
        over_lu=over_lu,
        lead=lead_counts(song, intro, count_in),
    )
    return accompanied(take, song, straight(dance), intro, over_lu)


def heard(take: Take, score: Score, ear: Ear) -> Iterator[tuple[str, Samples]]:
    """Each call that the recogniser knows, cut out of the run from its first frame to its last, without the calls
    beside it, at its rate; with a little time round it, over noise that is QUIET_LU below it, since this recogniser
    goes astray in digital silence (and where it is louder before a call than in it, which no listener minds)."""
    import soxr

    noise = pink() * np.float32(10 ** ((SPEECH_LUFS - QUIET_LU - loudness(pink())) / 20))
    under = tuple(one for one in score.placements if one.kind != "call")
    spoken = {one.frame: one for one in take.score.placements if one.kind == "call"}
    for n, call in enumerate(take.plan.calls):
        words = call.utterance.words
        if ear.knows(words) and call.starts in spoken:
            alone = replace(score, placements=(*under, spoken[call.starts]))
            piece = np.pad(render(alone, call.starts, call.ends).mean(axis=1), AROUND)
            piece += noise[n * 1000 : n * 1000 + len(piece)]
            yield words, np.clip(soxr.resample(piece, RATE, HEARD_RATE), -1, 1).astype(np.float32)


def played_lufs(song: Song, clip: npt.NDArray[np.float32]) -> tuple[float, float]:
    return programme(clip * np.float32(song.gain))[0], programme(clip)[0]


def main() -> None:
    routine = load(shipped_folder("routines") / ROUTINE).read.routine
    dance = unroll(routine, None)
    phrases = sorted({words for words, _ in phrases_needed(dance, Manner.AHEAD)})
    known = Ear(None)
    ear = Ear([words for words in phrases if known.knows(words)])
    print(f"{'song':28} {'played':>7} {'as made':>8}  alone  10 LU  20 LU  not ducked   of")
    for number, setting in enumerate(SONGS):
        made = scored(setting, 300 + number)
        song = song_of(made.samples, Fraction(108), float(made.beats[0]))
        as_played, as_made = played_lufs(song, made.samples)
        take, further = (run_of(dance, Fraction(108), song, over) for over in (LEAST_OVER_LU, MOST_OVER_LU))
        scores = (
            (take, replace(take.score, placements=())),
            (take, take.score),
            (further, further.score),
            (take, replace(take.score, duck_db=0.0)),
        )
        found: list[Told] = [told(ear, heard(one, score, ear)) for one, score in scores]
        shares = "  ".join(f"{one.right:5}" for one in found)
        print(f"{setting.name:28} {as_played:7.1f} {as_made:8.1f}  {shares}  {found[0].of:10}", flush=True)


if __name__ == "__main__":
    main()
