"""A stage as sound: what is said first as a score of its own, each go as a take.

Conventions: frames on each piece's own axis; pieces follow one another, and each may be spliced in by itself. What
the voice can't say stands in a telling, unsaid, for as long as it takes to read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from caller.calls.music import Song, SongAt, accompanied, lead_counts, straight
from caller.calls.needed import phrases_in_turn
from caller.calls.plan import Lexicon, Manner
from caller.calls.score import CALL_GAIN, Clips, make_take
from caller.calls.take import Take
from caller.clock.timeline import SECONDS_A_MINUTE, round_half_up
from caller.dance.walls import Dance
from caller.routine.facing import NO_TURN, Turn
from caller.sound.levels import LEAST_OVER_LU
from caller.sound.reel import CROSSING_FRAMES, Reel, Splice, Tape
from caller.sound.score import RATE, Placement, Score
from caller.teaching.floors import Floors
from caller.teaching.running import Running, StageOutcome, begin, next_stage
from caller.teaching.stage import LessonPlan, Stage
from caller.teaching.standing import (
    again_words,
    every_go_again,
    every_way_again,
    turn_after,
    turns_back,
)
from caller.teaching.telling import figures_alone

# Between two sentences, and before the count-in.
BREATH_SECONDS = Fraction(2, 5)
TELLING_SPEED = 1.0
# What is danced until somebody moves it on, where nobody can.
MOST_GOES = 4
# Tempos: a stereo song takes 90 MB of disk for each.
MOST_FORESEEN = 12
# Reading, where nothing is heard: 15 letters a second, no less than a second and a half. (Subtitles stand so that 12 to
# 17 letters a second are read: common practice in broadcasting.)
READ_LETTERS, READ_LEAST_SECONDS = 15, Fraction(3, 2)


@dataclass(frozen=True, slots=True)
class Sentence:
    """A sentence as it is said, or stands to be read; ends excluded."""

    words: str
    starts: int
    ends: int


@dataclass(frozen=True, slots=True)
class Narration:
    """Sentences without a beat."""

    lines: tuple[Sentence, ...]
    score: Score

    @property
    def end_frame(self) -> int:
        return self.score.frames

    def line_at(self, frame: int) -> int:
        """The place among the lines of the one said at a frame, or said last; 0 before the first."""
        return max((n for n, line in enumerate(self.lines) if line.starts <= frame), default=0)


def bar_seconds(dance: Dance, tempo: Fraction) -> Fraction:
    """A bar, to turn in or to get ready."""
    return SECONDS_A_MINUTE * dance.routine.header.meter.counts / tempo


def reading_seconds(words: str) -> Fraction:
    """How long a sentence stands that is not heard."""
    return max(Fraction(len(words), READ_LETTERS), READ_LEAST_SECONDS)


def told(
    sentences: Sequence[str],
    lexicon: Lexicon,
    clips: Clips,
    *,
    pause: Fraction = Fraction(0),
    step: Fraction = Fraction(0),
    rate: int = RATE,
    before: Narration | None = None,
    until: int = 0,
) -> Narration:
    """Sentences one after another, a breath after each, ``pause`` seconds after the last, and at least ``step`` from
    the start of one to that of the next. What the voice can't say takes as long as reading it.

    before: the same sentences as they were laid when the voice could say fewer of them; those begun by its frame
    ``until`` stay as they were."""
    breath, least = round_half_up(BREATH_SECONDS * rate), round_half_up(step * rate)
    lines = [line for line in before.lines if line.starts <= until] if before else []
    placed = [place for place in before.score.placements if place.frame <= until] if before else []
    frame = max(lines[-1].ends + breath, lines[-1].starts + least) if lines else 0
    for words in sentences[len(lines) :]:
        utterance = lexicon.utterance(words, TELLING_SPEED)
        clip = clips(words, TELLING_SPEED) if utterance is not None else None
        frames = round_half_up(reading_seconds(words) * rate)
        if utterance is not None and clip is not None:
            placed.append(Placement(frame, clip, CALL_GAIN, "call"))
            frames = utterance.frames
        lines.append(Sentence(words, frame, frame + frames))
        frame += max(frames + breath, least)
    return Narration(tuple(lines), Score(tuple(placed), max(frame + round_half_up(pause * rate), 1), rate))


def count_in_of(running: Running, dance: Dance) -> int:
    """Counts clicked before the next go: the stage's own before its first, a bar before the others."""
    bar, own = dance.routine.header.meter.counts, running.stage.count_in
    return min(own, bar) if running.goes else own


def take_of_stage(
    running: Running,
    floors: Floors,
    lexicon: Lexicon,
    clips: Clips,
    *,
    start: Fraction | None = None,
    count_in: int | None = None,
    tempo: Fraction | None = None,
    rate: int = RATE,
    over_lu: float = LEAST_OVER_LU,
    song: Song | None = None,
    turn: Turn = NO_TURN,
) -> Take:
    """The next go of the stage that is running, or what is left of one that was stopped: start, count_in and tempo
    where they are not the stage's own. song: what it is danced to, with a version for that tempo. turn: how far from
    where the sheet has them everybody stands. Raises ValueError for a stage that is only told."""
    stage, dance = running.stage, floors.of_stage(running.stage, turn)
    intro, count_in = dance.routine.header.intro or 0, count_in_of(running, dance) if count_in is None else count_in
    lead = lead_counts(song, intro, count_in) if song and stage.led and start is None else Fraction(0)
    take = make_take(
        dance,
        start=stage.start if start is None else start,
        end=stage.end,
        tempo=running.tempo if tempo is None else tempo,
        manner=stage.manners[0],
        lexicon=lexicon,
        clips=clips,
        count_in=count_in,
        rate=rate,
        over_lu=over_lu,
        fading=stage.fading,
        lead=lead,
    )
    return take if song is None else accompanied(take, song, straight(dance), intro, over_lu)


def phrases_of(programme: LessonPlan, floors: Floors, first_stage: int = 0) -> tuple[tuple[str, float], ...]:
    """All (words, speed) that a voice must have ready for the programme, each once, in the order in which they are said
    from a stage on, then those of the stages before it."""
    in_turn = (*programme.stages[first_stage:], *programme.stages[:first_stage])
    found: dict[tuple[str, float], None] = {}
    ways: set[tuple[bool, Manner]] = set()
    for stage in in_turn:
        # What is told briefly may be come to from elsewhere, as the first stage is.
        ways_told = (floors.said_first(replace(stage, brief=False)), floors.said_first(stage))
        for said in ways_told if stage is in_turn[0] else reversed(ways_told):
            found |= dict.fromkeys((words, TELLING_SPEED) for words in said)
        found |= dict.fromkeys((words, TELLING_SPEED) for words in every_way_again(floors.of_stage(stage), stage))
        fresh = _ways(stage) - ways
        ways |= fresh
        for _, manner in sorted(fresh, key=lambda way: way[1].value):
            found |= dict.fromkeys(phrases_in_turn(floors.of_stage(stage), manner))
    found |= dict.fromkeys((words, TELLING_SPEED) for words in sorted(every_go_again(floors.plain)))
    found |= dict.fromkeys((words, TELLING_SPEED) for words in figures_alone(floors.plain) if words)
    return tuple(found)


def opening_of(programme: LessonPlan, floors: Floors, first_stage: int) -> tuple[tuple[str, float], ...]:
    """What has to be there before the programme starts at a stage: what is told there, else what is called there."""
    stage = replace(programme.stages[first_stage], brief=False)
    said = tuple((words, TELLING_SPEED) for words in floors.said_first(stage))
    if said:
        return said
    return tuple(phrase for _, manner in _ways(stage) for phrase in phrases_in_turn(floors.of_stage(stage), manner))


def tempos_to_music(programme: LessonPlan, first_stage: int = 0) -> tuple[Fraction, ...]:
    """The tempos at which a programme is danced to music from a stage on, counts a minute, each once, in order: as far
    as can be foreseen, no more than a dozen."""
    speeds: dict[Fraction, None] = {}
    for stage in programme.stages[first_stage:]:
        if stage.to_music:
            steps = ceil((stage.up_to - stage.speed) / stage.creep) if stage.creep else 0
            climbed = (min(stage.speed + n * stage.creep, stage.up_to) for n in range(1, steps + 1))
            speeds |= dict.fromkeys((stage.speed, *climbed))
    return tuple(programme.tempo * speed for speed in speeds)[:MOST_FORESEEN]


def _ways(stage: Stage) -> set[tuple[bool, Manner]]:
    return {(stage.easier, manner) for manner in stage.manners} if stage.danced else set()


Piece = Narration | Take


def pieces(
    programme: LessonPlan,
    floors: Floors,
    lexicon: Lexicon,
    clips: Clips,
    *,
    most_goes: int = MOST_GOES,
    rate: int = RATE,
    over_lu: float = LEAST_OVER_LU,
    song_at: SongAt = lambda tempo: None,
) -> Iterator[tuple[Stage, Piece]]:
    """The whole programme with nobody at the pedal: each stage's telling and goes, in order. What waits for the pedal
    goes on; what is danced until somebody moves it on is danced ``most_goes`` times. song_at: the music for what is
    danced to any."""
    running = begin(programme)
    turn = NO_TURN
    made: dict[tuple[int, Fraction, Manner, bool, int], Take] = {}
    while not running.over:
        stage = running.stage
        if running.waiting:
            running = next_stage(running, StageOutcome.ON)
            continue
        if not running.announced and (stage.said or not stage.danced):
            said, pause = floors.said_first(stage), Fraction(0) if stage.danced else stage.pause_seconds
            yield stage, told(said, lexicon, clips, rate=rate, pause=pause, step=stage.step_seconds)
        else:
            key = (running.index, stage.speed, stage.manners[0], running.goes > 0, turn.eighths)
            if key not in made:
                song = song_at(running.tempo) if stage.to_music else None
                take = take_of_stage(running, floors, lexicon, clips, rate=rate, over_lu=over_lu, song=song, turn=turn)
                made = {key: take}
            yield stage, made[key]
        endless = stage.danced and stage.times == 0 and running.goes + 1 >= most_goes and running.announced
        after = next_stage(running, StageOutcome.DONE)
        if after.goes > running.goes and not endless and not after.waiting:
            stage_dance = floors.of_stage(stage, turn)
            turn = turn_after(stage_dance, stage, turn)
            words = again_words(stage_dance, floors.of_stage(stage, turn), stage)
            bar = bar_seconds(stage_dance, running.tempo) if turns_back(words) else Fraction(0)
            yield stage, told((words,), lexicon, clips, rate=rate, pause=bar)
        elif after.index != running.index:
            turn = NO_TURN
        running = next_stage(after, StageOutcome.ON) if endless else after


def in_turn(parts: Sequence[tuple[Stage, Piece]], rate: int = RATE) -> tuple[Tape, tuple[tuple[str, int], ...]]:
    """All pieces one after another as a class hears them, each crossing over to the next just before that begins, and
    the frame on which each stage begins, by its name; a stage's pause comes after its last go."""
    splices: list[Splice] = []
    begins: list[tuple[str, int]] = []
    at = frames = 0
    before: Stage | None = None
    for stage, piece in parts:
        if before is None or stage.name != before.name:
            if before is not None and before.danced:
                at += round_half_up(before.pause_seconds * rate)
            begins.append((stage.name, at))
        splices.append(Splice(at - CROSSING_FRAMES, piece.score, -CROSSING_FRAMES))
        frames = at + piece.score.frames
        at += piece.end_frame
        before = stage
    return Tape(Reel(tuple(splices)), max(at, frames), rate), tuple(begins)
