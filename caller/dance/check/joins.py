"""How passages join in the running order: walls, tags, restarts, changes, endings, parts.

What stands wrong inside a section is told by one pass (:mod:`caller.dance.check.passes`); here the walls are danced
through, and told is where what comes next can't start, at the place that a teacher would mend.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import islice

from caller.dance.running import plans
from caller.dance.unroll import start_body, usual_walls
from caller.dance.wall_plan import PlacedStep, PlacedStretch, WallPlan
from caller.routine import check as look
from caller.routine.facing import Facing, Turn
from caller.routine.findings import Finding, Place
from caller.routine.parts import Routine
from caller.routine.passages import Passage, Step
from caller.routine.step import Weight
from caller.routine.walk import Walk, bears_weight, can_move, moving_foot, walk_steps

# Enough walls for every event, and for every facing to come round once more after the last of them.
_WALLS_BEYOND = 4

# What a wall may begin with on both feet, whichever of them bore the weight before it: either may move after that.
_ON_BOTH_FEET = frozenset(("heel split", "swivel", "twist", "bounce", "hip roll", "applejack"))

_JOINED = {
    "wall": "the next wall starts on the {foot} foot (line {line}), which bears the weight by then",
    "restart": "after the restart the wall starts on the {foot} foot, which bears the weight there",
    "change": (
        "around this change the {foot} foot is told to move on count {count} (line {line}), "
        "but it bears the weight there"
    ),
    "tag": "after the tag the dance goes on with the {foot} foot (line {line}), which bears the weight there",
    "tag start": "this tag starts on the {foot} foot, which bears the weight there",
    "ending start": "this ending starts on the {foot} foot, which bears the weight there",
}


def joins(routine: Routine) -> Iterator[Finding]:
    """``wrong-foot``, and what stands wrong inside tags, changes and endings where they are first danced."""
    return iter(_Running(routine).findings())


@dataclass(frozen=True, slots=True)
class _Joint:
    """What was danced last, for whoever comes next. by: the place to mend where the next can't start. kind: of
    :data:`_JOINED`, or "section" within one."""

    last: Step | None = None
    by: Place | None = None
    kind: str = "wall"


@dataclass(frozen=True, slots=True)
class _Through:
    """A wall danced before: how it left off, and what it turned (None = unknown)."""

    weight: Weight | None
    joint: _Joint
    turned: Turn | None


class _Running:
    def __init__(self, routine: Routine) -> None:
        self.routine = routine
        self.found: dict[tuple[str, Place], Finding] = {}
        self.seen: dict[object, _Through] = {}
        self.joined: dict[Place, tuple[str, Finding]] = {}  # by the step danced last, which is what may be wrong
        self.checked: set[int] = set()  # passages whose claims are checked, by identity
        self.untold = {cut.wall for restart in routine.restarts for cut in restart.cuts if cut.changed}
        self.sections = {id(s.passage) for s in routine.sections}
        self.changes: dict[int, tuple[Place, Passage]] = {
            id(r.passage): (holder.place, r.passage) for holder in routine.holders for r in holder.replacements
        }

    def findings(self) -> list[Finding]:
        walk = Walk.from_body(start_body(self.routine))
        joint = _Joint()
        starts: list[Facing | None] = []
        for plan in islice(plans(self.routine), usual_walls(self.routine) + _WALLS_BEYOND):
            starts.append(walk.facing)
            joint = self._wall(plan, walk, joint)
        if self.routine.order:
            self._phrased_walls(starts)
        return [*self.found.values(), *(finding for _, finding in self.joined.values())]

    def _tell(self, finding: Finding) -> None:
        self.found.setdefault((finding.code, finding.place), finding)

    def _phrased_walls(self, starts: list[Facing | None]) -> None:
        """A phrased routine faces no more ways than it says."""
        said = self.routine.header.walls
        seen = {s for s in starts if s is not None}
        # Of a phrased dance "1 wall" often says no more than that it begins each time at the front.
        if said is not None and said > 1 and None not in starts and len(seen) > said:
            place = self.routine.header.places.get("walls", Place(1))
            faced = ", ".join(str(f) for f in sorted(seen))
            self._tell(Finding(place, "walls", f"Walls says {said}, but parts start facing {faced}"))

    # -- one wall

    def _wall(self, plan: WallPlan, walk: Walk, joint: _Joint) -> _Joint:
        key = (id(plan.pieces), walk.weight, joint) if plan.plain else None
        through = self.seen.get(key) if key else None
        if through is None:
            through = self._dance(plan, walk, joint)
            if key:
                self.seen[key] = through
        else:
            walk.weight = through.weight
            known = walk.facing is not None and through.turned is not None
            walk.facing = walk.facing + through.turned if known else None  # type: ignore[operator]
        return through.joint

    def _dance(self, plan: WallPlan, walk: Walk, joint: _Joint) -> _Through:
        starts = walk.facing
        if joint.kind == "wall" and plan.part and plan.pieces:
            # A part of a phrased order: where it can't start, its own heading is the place to look.
            joint = replace(joint, by=joint.by or plan.pieces[0].heading)
        source: int | None = None
        for piece in plan.pieces:
            joint = self._piece(piece, walk, joint, starts, source if piece.kind == "section" else None)
            source = piece.steps[-1].source if piece.steps else None
        if plan.cut_by is not None:
            joint = _Joint(joint.last, plan.cut_by, "restart")
            if plan.number in self.untold:
                walk.weight = None
        elif joint.kind not in ("tag", "change"):
            joint = _Joint(joint.last)
        turned = walk.facing - starts if walk.facing is not None and starts is not None else None
        return _Through(walk.weight, joint, turned)

    def _piece(
        self, piece: PlacedStretch, walk: Walk, joint: _Joint, wall_starts: Facing | None, source: int | None
    ) -> _Joint:
        """source: of the step danced before it, where that is of the same wall."""
        if piece.kind != "section":
            joint = _Joint(joint.last, piece.heading, f"{piece.kind} start")
            self._claims(piece.passage, walk, walk.facing)
        for one in piece.steps:
            if one.source != source:
                joint = self._other_source(one, source, joint)
                if one.source in self.changes:
                    self._claims(self.changes[one.source][1], walk, _as_in_wall_1(walk.facing, wall_starts))
                source = one.source
            joint = self._step(one, walk, joint)
        return _Joint(joint.last, piece.heading, "tag") if piece.kind == "tag" else joint

    def _other_source(self, one: PlacedStep, source: int | None, joint: _Joint) -> _Joint:
        """Where steps of a change begin or end, it is the change that has to fit."""
        change = self.changes.get(one.source) or (self.changes.get(source) if source is not None else None)
        return joint if change is None else _Joint(joint.last, change[0], "change")

    def _step(self, one: PlacedStep, walk: Walk, joint: _Joint) -> _Joint:
        step = one.step
        free = can_move(step.movement, walk.weight)
        joining = joint.kind != "section" and moving_foot(step.movement) is not None
        if not free and joining:
            self._wrong_foot(step, joint)
        elif not free and one.source not in self.sections:
            self._tell(bears_weight(step))
        walk.carry(step.movement)
        if not free or (joint.kind != "section" and step.movement.action in _ON_BOTH_FEET):
            walk.weight = None
        return _Joint(step, None, "section") if joining else _Joint(step, joint.by, joint.kind)

    def _claims(self, passage: Passage, walk: Walk, also: Facing | None) -> None:
        """What a tag, ending or change states holds where it is first danced; a change may state it as in wall 1."""
        if id(passage) in self.checked or not passage.claims:
            return
        self.checked.add(id(passage))
        again = Walk(walk.facing, walk.weight, also)
        walk_steps(again, passage.steps, passage.claims, quiet_first=True)
        for finding in again.findings:
            if finding.code in ("facing", "weight"):
                self._tell(finding)

    def _wrong_foot(self, step: Step, joint: _Joint) -> None:
        foot, last = moving_foot(step.movement), joint.last
        assert foot is not None
        place = joint.by or (last.place if last is not None else step.place)
        told = _JOINED[joint.kind].format(foot=foot.word, count=step.count, line=step.place.line)
        mending = f"; {look.mend(last.movement)} (line {last.place.line})" if last is not None else ""
        finding = Finding(place, "wrong-foot", told + mending)
        cause = last.place if last is not None else place
        known = self.joined.get(cause)
        # Where a wall can't follow either, the last step is to mend, not what stands after it.
        if known is None or (joint.kind == "wall" and known[0] != "wall"):
            self.joined[cause] = joint.kind, finding


def _as_in_wall_1(facing: Facing | None, wall_starts: Facing | None) -> Facing | None:
    """A facing as it would be if the wall had started at the front."""
    known = facing is not None and wall_starts is not None
    return Facing(facing.eighths - wall_starts.eighths) if known else None  # type: ignore[union-attr]
