"""Where the class stands as a stage of a lesson begins, and what is said of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from caller.calls.easier import eased
from caller.calls.places import own_place
from caller.dance.unroll import unroll
from caller.dance.walls import Dance, DancedStep
from caller.routine.facing import EIGHTHS, NO_TURN, Facing, Turn
from caller.routine.step import Foot
from caller.teaching.figures_told import movements_told
from caller.teaching.stage import Stage, StageKind
from caller.teaching.standing import (
    facing_at,
    free_foot_at,
    stage_ends,
    stand_words,
    turned,
)

# The way all face, and the free foot.
Stands = tuple[Facing | None, Foot | None]


@dataclass(frozen=True, slots=True)
class Floors:
    """The dance as it is, and the easier way of the same counts."""

    plain: Dance
    easier: Dance
    _facing: dict[tuple[bool, int], Dance] = field(default_factory=dict, compare=False, repr=False)
    _stands: dict[tuple[bool, int, Fraction], Stands] = field(default_factory=dict, compare=False, repr=False)
    _walked: dict[tuple[bool, Fraction, tuple[str, ...]], tuple[Stands, ...]] = field(
        default_factory=dict, compare=False, repr=False
    )

    @classmethod
    def of(cls, dance: Dance) -> Floors:
        options = any(section.options for section in dance.routine.sections)
        return cls(dance, unroll(eased(dance.routine), len(dance.walls)) if options else dance)

    def of_stage(self, stage: Stage, turn: Turn = NO_TURN) -> Dance:
        """The dance of a stage. turn: how far from where the sheet has them everybody stands."""
        key = (stage.easier, turn.eighths % EIGHTHS)
        if key not in self._facing:
            self._facing[key] = turned(self.easier if stage.easier else self.plain, turn)
        return self._facing[key]

    def stands(self, stage: Stage, turn: Turn = NO_TURN) -> Stands:
        """How everybody stands before a stage. Worked out once: a screen asks at each look."""
        key = (stage.easier, turn.eighths % EIGHTHS, stage.start)
        if key not in self._stands:
            dance = self.of_stage(stage, turn)
            self._stands[key] = (facing_at(dance, stage.start), free_foot_at(dance, stage.start))
        return self._stands[key]

    def stood(self, stage: Stage) -> Stands:
        """How everybody stands once a stage is over, that was danced or told as the sheet has it."""
        if stage.kind is StageKind.WALK and (last := self._last_walked(stage)) is not None:
            return last.after.facing, last.after.weight.free_foot
        ends = stage_ends(self.of_stage(stage), stage)
        return self.stands(stage) if ends is None else (ends.facing, ends.weight.free_foot)

    def stands_told(self, stage: Stage) -> tuple[Stands, ...]:
        """How everybody stands as each of its sentences is said, of a stage that is walked: before that movement, after
        the last one; none for any other stage."""
        if stage.kind is not StageKind.WALK:
            return ()
        key = (stage.easier, stage.start, stage.said)
        if key not in self._walked:
            self._walked[key] = tuple(self._as_walked(stage))
        return self._walked[key]

    def _last_walked(self, stage: Stage) -> DancedStep | None:
        """The last movement that a stage walks: one of its section's, where only half of that is walked."""
        wall = self.of_stage(stage).wall_at(stage.start)
        movements = [m for m in wall.movements if own_place(wall, m.at, m.section) >= stage.start]
        walked = movements_told(wall, stage.start, wall.end)
        opening = stage.said.index(walked[0]) if walked and walked[0] in stage.said else len(stage.said)
        told = sum(one == said for one, said in zip(walked, stage.said[opening:], strict=False))
        return movements[told - 1] if 0 < told <= len(movements) else None

    def _as_walked(self, stage: Stage) -> Iterator[Stands]:
        dance = self.of_stage(stage)
        wall = dance.wall_at(stage.start)
        movements = [m for m in wall.movements if own_place(wall, m.at, m.section) >= stage.start]
        walked = movements_told(wall, stage.start, wall.end)
        opening = stage.said.index(walked[0]) if walked and walked[0] in stage.said else len(stage.said)
        yield from [self.stands(stage)] * (1 + opening)
        stood = movements[0].before if movements else None
        for n, sentence in enumerate(stage.said[opening:]):
            if n < len(walked) and walked[n] == sentence:
                yield movements[n].before.facing, movements[n].before.weight.free_foot
                stood = movements[n].after
            elif stood is not None:
                yield stood.facing, stood.weight.free_foot

    def said_first(self, stage: Stage) -> tuple[str, ...]:
        """What is said before a stage, with where to face and which foot is free: first where it is only told, so that
        all stand as they are to follow it, last where it is danced."""
        if not stage.said:
            return ()
        stands = stand_words(self.of_stage(stage), stage.start, stage.brief)
        return (*stage.said, stands) if stage.danced else (stands, *stage.said)
