"""A programme, running: where it is, and what comes of each stage. A pure function of both.

Conventions: the session tells a :class:`StageOutcome` when something has happened and runs what :attr:`Running.stage`
then says. A go is clean when nobody paused it, slowed it or went back: only then does the tempo creep and do the calls
fade. What the teacher repeats is repeated now, and changes nothing later. Goes follow one another by themselves;
whether stages do is the teacher's to say, and a lesson waits after each telling that nobody answers.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import cached_property

from caller.calls.plan import Manner
from caller.teaching.asked_about import ASKED_ABOUT, tells_anew, tells_on
from caller.teaching.nudged import NOT_NUDGED, Nudged
from caller.teaching.stage import Go, LessonPlan, MovesOn, Stage, StageKind, taught_since


class Waits(Enum):
    """When a stage that is done waits to be moved on, besides those that always do. UNANSWERED: where something has
    been told and nobody has ordered anything since that telling began. STAGES: after each."""

    NEVER = "never"
    UNANSWERED = "unanswered"
    STAGES = "stages"


class StageOutcome(Enum):
    """What has happened. DONE: what was said, or one go, came to its end. AGAIN, SLOWER, FASTER, ON, BACK: as the
    teacher asks. PAUSED: stopped half-way, or slowed down for a while."""

    DONE = "done"
    AGAIN = "again"
    SLOWER = "slower"
    FASTER = "faster"
    PAUSED = "paused"
    ON = "on"
    BACK = "back"


@dataclass(frozen=True)  # without slots: its stage is asked for dozens of times a look, and worked out once
class Running:
    """index: the stage's, len(stages) when all is over. goes: of this stage so far; fade: how far its calls have faded.
    nudged: what is slowed down, or quickened, as the teacher asks. announced: what is said first has been
    said. waiting: done, and waits for the pedal. done: all goes so far. waits: when it waits by itself. well: the
    stages that went well, as the dancer says. heard: the teacher has ordered something since the telling under way, or
    the last one, began; silent: how many tellings there were since then that nobody answered. since: the stage from
    which none has been left out until here. goes_before: of the stage that the teacher has put one in before. until:
    the stage before which it is to stop, however it waits; None = its end."""

    programme: LessonPlan
    index: int = 0
    goes: int = 0
    speed: Fraction = Fraction(1)
    fade: int = 0
    nudged: Nudged = NOT_NUDGED
    clean: bool = True
    announced: bool = False
    waiting: bool = False
    done: tuple[Go, ...] = ()
    waits: Waits = Waits.NEVER
    heard: bool = False
    silent: int = 0
    well: tuple[int, ...] = ()
    since: int = 0
    goes_before: int = 0
    until: int | None = None

    @property
    def stopped(self) -> bool:
        """It has come as far as it was to come, and stands there."""
        return self.waiting and self.index + 1 == self.until

    @property
    def over(self) -> bool:
        return self.index >= len(self.programme.stages)

    @cached_property
    def stage(self) -> Stage:
        """The stage as it is to be run now: at the speed it has come to, in the manner its calls have faded to.

        Raises IndexError when all is over.
        """
        stage = self.programme.stages[self.index]
        return replace(stage, speed=self.speed, manners=(stage.manners[min(self.fade, len(stage.manners) - 1)],))

    @property
    def ease(self) -> Fraction:
        """What the stage is slowed down to, or quickened; 1 when all is over."""
        return Fraction(1) if self.over else self.nudged.of(self.programme.stages[self.index])

    @property
    def tempo(self) -> Fraction:
        """Counts a minute of the go."""
        return self.programme.tempo * self.speed * self.ease

    def speed_at_first(self, index: int) -> Fraction:
        """The speed that a stage begins at; the one there is once all is over."""
        stages = self.programme.stages
        return self.nudged.speed_at_first(stages[index], self.programme.tempo) if index < len(stages) else self.speed

    @property
    def says(self) -> tuple[str, ...]:
        """What is to be said now, before the go."""
        return () if self.announced else self.programme.stages[self.index].said


def begin(programme: LessonPlan, index: int = 0) -> Running:
    """At the start of a stage. Raises ValueError for an index beyond the programme."""
    if not 0 <= index <= len(programme.stages):
        raise ValueError(f"there is no stage {index + 1} of {len(programme.stages)}")
    return at_stage(Running(programme), index)


def next_stage(running: Running, outcome: StageOutcome) -> Running:
    """What comes of an outcome. When all is over, it stays so, but for BACK."""
    if running.over and outcome is not StageOutcome.BACK:
        return running
    return _ANSWERS[outcome](running)


def at_start(running: Running, index: int) -> Running:
    """A stage from its start, as it comes in the programme."""
    stages = running.programme.stages
    index = min(max(index, 0), len(stages))
    speed = running.speed_at_first(index)
    heard = running.heard and not tells_anew(stages, index)
    there = replace(running, index=index, goes=0, speed=speed, fade=0, clean=True, announced=False, waiting=False)
    return replace(there, heard=heard)


def _led(running: Running, index: int, jumps: bool = False) -> Running:
    """The start of a stage that is ordered. One that is only told is left when the teacher has told enough, but not
    jumped over."""
    stages, own = running.programme.stages, running.index
    taught = running.waiting or running.goes > 0 or not (jumps or running.over or stages[own].danced)
    since = taught_since(stages, own + taught, max(index, 0), running.since)
    return replace(at_start(running, index), since=since)


def _done(running: Running) -> Running:
    stage = running.programme.stages[running.index]
    if running.waiting:
        return running
    if not running.announced and (stage.said or not stage.danced):
        running = replace(running, announced=True)
        return running if stage.danced else _finished(running, stage)
    go = Go(running.index, stage, running.speed * running.ease, running.stage.manners[0], running.clean, running.silent)
    goes = running.goes + 1
    running = replace(running, goes=goes, done=(*running.done, go), clean=True, announced=True)
    if go.clean:
        running = replace(running, fade=running.fade + 1)
        if stage.creep and stage.moves_on is not MovesOn.PEDAL:
            running = _crept(running, stage)
    return running if stage.times == 0 or goes < stage.times else _finished(running, stage)


def _finished(running: Running, stage: Stage) -> Running:
    last = running.index == len(running.programme.stages) - 1
    goes_on = not last and tells_on(stage, running.programme.stages[running.index + 1])
    unanswered = stage.kind in ASKED_ABOUT and not goes_on and not running.heard
    by_itself = {Waits.NEVER: False, Waits.UNANSWERED: unanswered, Waits.STAGES: True}[running.waits]
    running = replace(running, silent=running.silent + unanswered)
    if running.index in running.well:
        return at_start(running, running.index + 1)
    stops = running.index + 1 == running.until
    if stage.moves_on is MovesOn.PEDAL or stops or (by_itself and not last):
        return replace(running, waiting=True)
    return at_start(running, running.index + 1)


def _crept(running: Running, stage: Stage) -> Running:
    return replace(running, speed=max(running.speed, min(running.speed + stage.creep, stage.up_to)))


def _again(running: Running) -> Running:
    """The stage from its start, once more."""
    stage = running.programme.stages[running.index]
    return replace(running, goes=0, fade=0, clean=True, announced=stage.danced, waiting=False)


def _slower(running: Running) -> Running:
    """A little slower here and in all stages of its kind, with the calls back."""
    nudged = running.nudged.slower(running.programme.stages[running.index], running.speed)
    return replace(running, nudged=nudged, fade=0, clean=False)


def _faster(running: Running) -> Running:
    """By the stage's own step, up to where that goes; else a little, here and in all stages of its kind."""
    stage = running.programme.stages[running.index]
    if stage.creep:
        return _crept(running, stage)
    return replace(running, nudged=running.nudged.faster(stage, running.speed))


def called(running: Running, manner: Manner) -> Running:
    """The stage called in that manner from now on, without fading."""
    return _with_stages(running, lambda n, stage: replace(stage, manners=(manner,)) if n == running.index else stage)


def is_easier(running: Running) -> bool:
    """Whether what is danced from this stage on is danced the easier way."""
    stages = running.programme.stages[running.index :]
    return any(stage.easier for stage in stages if stage.danced and stage.kind is not StageKind.OPTION)


def easier(running: Running, on: bool) -> Running:
    """This stage and all after it the easier way, or not; those that show an option are left as they are."""

    def made(n: int, stage: Stage) -> Stage:
        asked = n >= running.index and stage.danced and stage.kind is not StageKind.OPTION
        return replace(stage, easier=on) if asked else stage

    return _with_stages(running, made)


def often(running: Running, times: int) -> Running:
    """The stage so often; 0 = until somebody moves it on. What has been danced of it counts."""
    return _with_stages(running, lambda n, stage: replace(stage, times=times) if n == running.index else stage)


def looped(running: Running, start: Fraction, end: Fraction) -> Running:
    """The stage's go only from one count of the dance to another, over and over; what it says first is said."""
    changed = _with_stages(
        running, lambda n, stage: replace(stage, start=start, end=end, times=0) if n == running.index else stage
    )
    return replace(changed, goes=0, announced=True, waiting=False)


def answered(running: Running, to_telling: bool = True) -> Running:
    """Somebody is there. to_telling: it answers the telling under way, or the last one; what leads to it does not."""
    heard = running.heard or to_telling
    same = running.silent == 0 and running.heard == heard
    return running if same else replace(running, silent=0, heard=heard)


def gone_beyond(running: Running) -> Running:
    """On from where it was to stop."""
    return at_stage(replace(running, until=None), running.index + 1)


def waiting_when(running: Running, waits: Waits) -> Running:
    """The programme waiting as that says from now on."""
    return replace(running, waits=waits)


def let_on(running: Running, stage: Stage) -> Running:
    """The stage as it was before it was looped, and its goes from the first; what it says first is said."""
    back = _with_stages(running, lambda n, one: stage if n == running.index else one)
    return replace(back, goes=0)


def at_stage(running: Running, index: int) -> Running:
    """The start of another stage; what has been done is kept. How everybody is to stand is told whole there: they come
    from somewhere else."""
    return _told_whole(_led(running, index, jumps=True))


def _told_whole(there: Running) -> Running:
    return _with_stages(there, lambda n, stage: replace(stage, brief=False) if n == there.index else stage)


def _with_stages(running: Running, made: Callable[[int, Stage], Stage]) -> Running:
    stages = tuple(made(n, stage) for n, stage in enumerate(running.programme.stages))
    return replace(running, programme=replace(running.programme, stages=stages))


def _on(running: Running) -> Running:
    """The next stage; where it is to stop before that, there it stands."""
    there = _led(running, running.index + 1)
    if running.index + 1 != running.until or running.waiting:
        return there
    return replace(running, since=there.since, waiting=True)


_ANSWERS: dict[StageOutcome, Callable[[Running], Running]] = {
    StageOutcome.DONE: _done,
    StageOutcome.AGAIN: _again,
    StageOutcome.SLOWER: _slower,
    StageOutcome.FASTER: _faster,
    StageOutcome.PAUSED: lambda running: replace(running, fade=0, clean=False),
    StageOutcome.ON: _on,
    StageOutcome.BACK: lambda running: _told_whole(_led(running, running.index - 1)),
}
