"""Walking through steps: facing and weight carried along, and what can't be danced.

After something unread the facing or weight is unknown (None) and nothing is found until it is known again. A fault is
told once: where a foot that bears the weight is told to move, either it or what stands before may be what is wrong, so
the weight is unknown after it; after a stated facing that is not danced, later ones may agree with either.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from caller.routine.facing import Facing, Turn
from caller.routine.findings import Finding
from caller.routine.naming import movement_name
from caller.routine.passages import Claim, Step
from caller.routine.step import Body, Foot, Movement, Weight

# Movements that a foot which bears weight may do: it does not leave the floor, or both do.
_ANY_FOOT = frozenset(("sway", "bump", "jump", "hop", "scoot", "swivel", "twist", "knee pop", "hip roll", "bounce")) | {
    "heel split",
    "applejack",
}
_AMOUNTS = {1: "an eighth", 2: "a quarter", 3: "three eighths", 4: "a half"}


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

    def carry(self, movement: Movement) -> None:
        """On to after this movement."""
        if movement.action == "unread":
            self.facing = self.weight = self.believed = None
            return
        self.weight = movement.weight or self.weight
        if movement.turn:
            self.facing = self.facing + movement.turn if self.facing is not None else None
            self.believed = self.believed + movement.turn if self.believed is not None else None


def moving_foot(movement: Movement) -> Foot | None:
    """The foot that has to be free for this movement, None where any may be."""
    return None if movement.action in _ANY_FOOT else movement.foot


def can_move(movement: Movement, weight: Weight | None) -> bool:
    foot = moving_foot(movement)
    return foot is None or weight is None or weight.frees(foot)


def walk_steps(
    walk: Walk,
    steps: Sequence[Step],
    claims: Sequence[Claim] = (),
    quiet_first: bool = False,
    before: list[Walk] | None = None,
) -> None:
    """Carries ``walk`` through the steps.

    quiet_first: the first step's foot is judged by whoever joins the passages. before: gets how the walk stands before
    each step.
    """
    by_step: dict[int, list[Claim]] = {}
    for claim in claims:
        by_step.setdefault(claim.after, []).append(claim)
    judged = not quiet_first
    for claim in by_step.get(-1, ()):
        _check_claim(walk, claim)
    for n, step in enumerate(steps):
        if before is not None:
            before.append(walk.copy())
        movement = step.movement
        faulty = judged and not can_move(movement, walk.weight)
        if faulty:
            walk.findings.append(bears_weight(step))
        judged = judged or moving_foot(movement) is not None
        walk.carry(movement)
        if faulty:
            walk.weight = None
        for claim in by_step.get(n, ()):
            _check_claim(walk, claim)


def bears_weight(step: Step) -> Finding:
    """The finding where a step's foot bears the weight before it."""
    foot = moving_foot(step.movement)
    assert foot is not None
    message = (
        f"count {step.count}: {movement_name(step.movement)!r}, but the {foot.word} foot bears the weight; "
        f"move the {foot.other.word} foot, or let the movement before end with the weight on the {foot.other.word}"
    )
    return Finding(step.place, "foot-weighted", message)


def _check_claim(walk: Walk, claim: Claim) -> None:
    if claim.facing is not None:
        _check_facing(walk, claim, claim.facing)
    if claim.weight is not None:
        _check_weight(walk, claim, claim.weight)


def _check_facing(walk: Walk, claim: Claim, stated: Facing) -> None:
    if walk.facing is None:
        walk.facing = stated
    elif stated not in (walk.facing, walk.believed):
        mend = _mend(walk.believed or walk.facing, stated)
        walk.findings.append(Finding(claim.place, "facing", f"{stated} is stated, but {walk.facing} is danced: {mend}"))
    walk.believed = stated


def _check_weight(walk: Walk, claim: Claim, stated: Weight) -> None:
    if walk.weight is None:
        walk.weight = stated
    elif stated is not walk.weight:
        message = f"weight on {feet_named(stated)} is stated, but it is on {feet_named(walk.weight)}"
        mend = "; change the movement before it, or what is stated"
        walk.findings.append(Finding(claim.place, "weight", message + mend))
        walk.weight = None


def _mend(danced: Facing, stated: Facing) -> str:
    off: Turn = stated - danced
    half = abs(off.eighths) == 4
    side = "" if half else " to the right" if off.eighths > 0 else " to the left"
    return f"{_AMOUNTS[abs(off.eighths)]} turn{side} is missing before here, or the stated facing is wrong"


def feet_named(weight: Weight | None) -> str:
    """ "both feet", "the right foot"."""
    if weight is None:
        return "an unknown foot"
    return "both feet" if weight is Weight.BOTH else f"the {Foot(weight.value).word} foot"
