"""Walking through steps: facing and weight carried along, and what can't be danced.

After something unread the facing or weight is unknown (None) and nothing is found until it is known again. A fault is told
once: where a foot that bears the weight is told to move, either it or what stands before may be what is wrong, so the weight
is unknown after it; after a stated facing that is not danced, later ones may agree with either.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from caller.routine.facing import Facing, Turn
from caller.routine.findings import Finding
from caller.routine.naming import movement_name
from caller.routine.parts import Claim, Step
from caller.routine.step import Body, Foot, Movement, Weight

# Movements that a foot which bears weight may do: it does not leave the floor, or both do.
_ANY_FOOT = frozenset(
    {"sway", "bump", "jump", "hop", "swivel", "twist", "knee pop", "hip roll", "bounce", "heel split", "applejack"}
)


@dataclass(slots=True)
class Walk:
    """Where a walk stands. believed: the facing that the sheet's own claims add up to, where that differs."""

    facing: Facing | None
    weight: Weight | None
    believed: Facing | None = None
    findings: list[Finding] = field(default_factory=list)

    @classmethod
    def from_body(cls, body: Body) -> Walk:
        return cls(body.facing, body.weight, body.facing)

    def copy(self) -> Walk:
        return Walk(self.facing, self.weight, self.believed)


def moving_foot(movement: Movement) -> Foot | None:
    """The foot that has to be free for this movement, None where any may be."""
    return None if movement.action in _ANY_FOOT else movement.foot


def can_move(movement: Movement, weight: Weight | None) -> bool:
    foot = moving_foot(movement)
    return foot is None or weight is None or weight.frees(foot)


def walk_steps(walk: Walk, steps: Sequence[Step], claims: Iterable[Claim] = (), quiet_first: bool = False) -> None:
    """Carries ``walk`` through the steps. quiet_first: the first step's foot is judged by whoever joins the passages."""
    by_step: dict[int, list[Claim]] = {}
    for claim in claims:
        by_step.setdefault(claim.after, []).append(claim)
    judged = not quiet_first
    for claim in by_step.get(-1, ()):
        _check_claim(walk, claim)
    for n, step in enumerate(steps):
        movement = step.movement
        faulty = judged and not _check_foot(walk, step)
        judged = judged or moving_foot(movement) is not None
        _carry(walk, movement)
        if faulty:
            walk.weight = None
        for claim in by_step.get(n, ()):
            _check_claim(walk, claim)


def _carry(walk: Walk, movement: Movement) -> None:
    if movement.action == "unread":
        walk.facing = walk.weight = walk.believed = None
        return
    walk.weight = movement.weight or walk.weight
    walk.facing = walk.facing + movement.turn if walk.facing is not None else None
    walk.believed = walk.believed + movement.turn if walk.believed is not None else None


def _check_foot(walk: Walk, step: Step) -> bool:
    if can_move(step.movement, walk.weight):
        return True
    foot = moving_foot(step.movement)
    assert foot is not None
    walk.findings.append(
        Finding(
            step.place,
            "foot-weighted",
            f"count {step.count}: {movement_name(step.movement)!r}, but the {foot.word} foot bears the weight; "
            f"move the {foot.other.word} foot, or let the movement before end with the weight on the {foot.other.word}",
        )
    )
    return False


def _check_claim(walk: Walk, claim: Claim) -> None:
    if claim.facing is not None:
        if walk.facing is None:
            walk.facing = walk.believed = claim.facing
        elif claim.facing not in (walk.facing, walk.believed):
            walk.findings.append(
                Finding(
                    claim.place,
                    "facing",
                    f"{claim.facing} is stated, but {walk.facing} is danced{_mend(walk.believed or walk.facing, claim.facing)}",
                )
            )
            walk.believed = claim.facing
        else:
            walk.believed = claim.facing
    if claim.weight is not None:
        if walk.weight is None:
            walk.weight = claim.weight
        elif claim.weight is not walk.weight:
            walk.findings.append(
                Finding(
                    claim.place,
                    "weight",
                    f"weight on {_named(claim.weight)} is stated, but it is on {_named(walk.weight)}",
                )
            )
            walk.weight = None


def _mend(danced: Facing, stated: Facing) -> str:
    off: Turn = stated - danced
    amount = {1: "an eighth", 2: "a quarter", 3: "three eighths", 4: "a half"}[abs(off.eighths)]
    side = "" if abs(off.eighths) == 4 else " to the right" if off.eighths > 0 else " to the left"
    return f": {amount} turn{side} is missing before here, or the stated facing is wrong"


def _named(weight: Weight) -> str:
    return "both feet" if weight is Weight.BOTH else f"the {Foot(weight.value).word} foot"
