"""The whole check: what reading found, what one look finds, and what dancing through the running order finds.

One rule, one function. A fault is told once, at the place that a teacher would mend.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import islice

from caller.dance.running import Piece, WallPlan, plans
from caller.dance.unroll import start_body, usual_walls
from caller.routine import check as look
from caller.routine.facing import EIGHTHS, FRONT, Facing
from caller.routine.findings import Finding, Place, Severity
from caller.routine.notation.read import SheetRead
from caller.routine.parts import Cut, Passage, Routine, Step
from caller.routine.walk import Walk, can_move, moving_foot, walk_steps

# Enough walls for every event, and for every facing to come round once more after the last of them.
_WALLS_BEYOND = 4


def check(sheet: SheetRead) -> tuple[Finding, ...]:
    """Every finding of a sheet, in order of place."""
    routine = sheet.routine
    found = list(sheet.findings)
    if routine.sections:
        found += look.counts_total(routine, _counts_explained(sheet))
        found += events(routine)
        found += order(routine)
        found += _Danced(routine).findings()
        found += look.no_option(routine)
        found += look.cautions(_in_a_row(routine))
        found += _careful_events(routine)
    unique = dict.fromkeys(replace(f, place=Place(max(1, f.place.line), f.place.column)) for f in found)
    return tuple(sorted(unique, key=lambda f: (f.place, f.code)))


def has_errors(findings: tuple[Finding, ...]) -> bool:
    return any(f.severity is Severity.ERROR for f in findings)


def _counts_explained(sheet: SheetRead) -> bool:
    """Whether wrong counts, or lines whose counts could not be read, are told already."""
    read = {step.place.line for section in sheet.routine.sections for step in section.passage.steps}
    return any(
        f.code in ("counts-order", "counts-overlap", "counts-gap")
        or (f.code == "unreadable" and f.place.line not in read)
        for f in sheet.findings
    )


def _in_a_row(routine: Routine) -> list[Step]:
    """All steps of the sections one after another, positions counted through."""
    steps: list[Step] = []
    passed = 0
    for section in routine.sections:
        steps += [replace(step, at=step.at + passed) for step in section.passage.steps]
        passed += section.passage.counts
    return steps


def _careful_events(routine: Routine) -> Iterator[Finding]:
    passages = [t.passage for t in routine.tags] + ([routine.ending.passage] if routine.ending else [])
    passages += [r.passage for holder in (*routine.restarts, *routine.changes) for r in holder.replacements]
    passages += [o.passage for s in routine.sections for o in s.options]
    for passage in passages:
        yield from look.cautions(passage.steps)


# -- events


def events(routine: Routine) -> Iterator[Finding]:
    """Tags, restarts, changes and endings stand inside the routine, and no two claim one place."""
    total = routine.counts
    last = routine.ending.cut if routine.ending else None
    cuts: dict[int, int] = {}
    taken: set[tuple[str, Cut]] = set()
    for kind, place, all_cuts in _event_cuts(routine):
        told = False
        for cut in all_cuts:
            why = _outside(kind, cut, total, last, routine) or (
                "another one stands at this place" if (kind, cut) in taken else ""
            )
            if kind == "restart" and not why and cut.wall in cuts:
                why = f"wall {cut.wall} is cut already, after {cuts[cut.wall]} counts"
            if kind == "restart" and cut.after is not None:
                cuts.setdefault(cut.wall, cut.after)
            taken.add((kind, cut))
            if why and not told:
                told = True
                yield Finding(place, "event-place", f"this {kind} can't be danced: {why}")
    yield from _tags_beyond_cuts(routine, cuts)
    yield from _replacements(routine)


def _event_cuts(routine: Routine) -> Iterator[tuple[str, Place, tuple[Cut, ...]]]:
    found: list[tuple[str, Place, tuple[Cut, ...]]] = [("tag", t.place, t.cuts) for t in routine.tags]
    found += [("restart", r.place, r.cuts) for r in routine.restarts]
    found += [("change", c.place, tuple(Cut(w) for w in c.walls)) for c in routine.changes]
    if routine.ending is not None:
        found.append(("ending", routine.ending.place, (routine.ending.cut,)))
    yield from sorted(found, key=lambda event: event[1])


def _outside(kind: str, cut: Cut, total: int, last: Cut | None, routine: Routine) -> str:
    if cut.wall < 1:
        return "walls are numbered from 1"
    parts = [item for item in routine.order if item.part]
    if routine.order and cut.wall > len(parts):
        return f"the order has only {len(parts)} walls"
    if routine.order and parts:
        total = sum(s.passage.counts for s in routine.sections if s.part == parts[cut.wall - 1].part)
    if cut.after is not None and not 0 < cut.after <= total:
        return f"a wall has {total} counts, not {cut.after}"
    if cut.after == total and kind == "restart":
        return f"a wall ends after {total} counts anyway"
    if last is None or kind == "ending":
        return ""
    past = cut.wall > last.wall or (
        cut.wall == last.wall and last.after is not None and (cut.after is not None and cut.after > last.after)
    )
    past = past or (kind == "tag" and cut.wall == last.wall and cut.after is None)
    return f"the dance ends on wall {last.wall} before it" if past else ""


def _tags_beyond_cuts(routine: Routine, cuts: dict[int, int]) -> Iterator[Finding]:
    for tag in routine.tags:
        for cut in tag.cuts:
            if cut.after is not None and cut.wall in cuts and cut.after > cuts[cut.wall]:
                yield Finding(
                    tag.place, "event-place", f"wall {cut.wall} restarts after {cuts[cut.wall]} counts, before this tag"
                )


def _replacements(routine: Routine) -> Iterator[Finding]:
    for holder in (*routine.restarts, *routine.changes):
        cut = next((c.after for c in getattr(holder, "cuts", ()) if c.after is not None), None)
        for one in holder.replacements:
            passed, length = 0, None
            for section in routine.sections:
                if (section.number, section.part) == (one.section, one.part):
                    length = section.passage.counts
                    break
                passed += section.passage.counts if section.part == one.part else 0
            if length is None or one.last > length:
                yield Finding(
                    one.place,
                    "event-place",
                    f"section {one.section} has {length or 0} counts, so counts {one.first}-{one.last} are not all in it",
                )
            elif cut is not None and passed + one.last > cut:
                yield Finding(
                    one.place,
                    "event-place",
                    f"the wall is cut after {cut} counts, before section {one.section} count {one.last}",
                )


def order(routine: Routine) -> Iterator[Finding]:
    """A phrased order names only parts and tags that are there."""
    parts = {s.part: sum(x.passage.counts for x in routine.sections if x.part == s.part) for s in routine.sections}
    tags = {t.name for t in routine.tags}
    listed = " ".join(sorted(p for p in parts if p)) or "none"
    for item in routine.order:
        if item.tag is not None:
            if item.tag not in tags:
                yield Finding(
                    item.place,
                    "order",
                    f"there is no tag{f' {item.tag}' if item.tag else ''} below; the tags are: {' '.join(sorted(t or 'Tag' for t in tags)) or 'none'}",
                )
        elif item.part not in parts:
            yield Finding(item.place, "order", f"there is no part {item.part}; the parts are: {listed}")
        elif item.counts is not None and not 0 < item.counts <= parts[item.part]:
            yield Finding(
                item.place,
                "order",
                f"part {item.part} has {parts[item.part]} counts, so {item.part}{item.counts} is not in it",
            )
    if not routine.order and any(parts_name for parts_name in parts):
        first = next(s for s in routine.sections if s.part)
        yield Finding(first.place, "order", "there are parts but no Order line; add one, such as 'Order: A A B A'")


# -- danced through


@dataclass(slots=True)
class _Joint:
    """What was danced last, for whoever comes next. by: the place to mend where the next can't start."""

    last_step: Step | None = None
    by: Place | None = None
    kind: str = "wall"


@dataclass
class _Danced:
    """One walk through all walls. The first full pass tells what stands in the sections; later walls only how they join."""

    routine: Routine
    found: list[Finding] = field(default_factory=list)
    told: set[tuple[str, Place]] = field(default_factory=set)
    walked: set[int] = field(default_factory=set)  # passages whose own faults are told

    def findings(self) -> list[Finding]:
        self._passes()
        self._running()
        return self.found

    def _tell(self, finding: Finding) -> None:
        if (finding.code, finding.place) not in self.told:
            self.told.add((finding.code, finding.place))
            self.found.append(finding)

    # One pass through each part as it stands: claims hold for wall 1, options are held against what they replace.

    def _passes(self) -> None:
        parts = dict.fromkeys(s.part for s in self.routine.sections)
        self.turned: dict[str, Walk] = {}
        for part in parts:
            walk = Walk.from_body(start_body(self.routine))
            if part and not self._starts_free(part, walk):
                walk.weight = None  # which foot a later part starts on is the order's business
            for section in self.routine.sections:
                if section.part == part:
                    self._section(section.passage, walk, section)
            self.turned[part] = walk
        if not self.routine.order:
            self._net_turn(self.turned[next(iter(parts))])

    def _starts_free(self, part: str, walk: Walk) -> bool:
        steps = [s for section in self.routine.sections if section.part == part for s in section.passage.steps]
        first = next((s for s in steps if moving_foot(s.movement) is not None), None)
        return first is None or can_move(first.movement, walk.weight)

    def _section(self, passage: Passage, walk: Walk, section) -> None:  # type: ignore[no-untyped-def]
        before: list[Walk] = []
        for n, step in enumerate(passage.steps):
            before.append(walk.copy())
            claims = [replace(c, after=0) for c in passage.claims if c.after == n]
            claims += [replace(c, after=-1) for c in passage.claims if c.after == -1 and n == 0]
            walk_steps(walk, [step], claims)
        before.append(walk.copy())
        for finding in walk.findings:
            self._tell(finding)
        walk.findings.clear()
        for finding in look.options(section, before):
            self._tell(finding)

    def _net_turn(self, walk: Walk) -> None:
        said = self.routine.header.walls
        if said is None or walk.facing is None:
            return
        follows = walls_of(walk.facing)
        believed = walls_of(walk.believed) if walk.believed is not None else follows
        if said in (follows, believed):
            return
        place = self.routine.header.places.get("walls", Place(1))
        turned = (walk.facing - FRONT).eighths % EIGHTHS
        if follows is None:
            message = f"a pass turns {turned} eighths in all, so walls are not square to the room; look for an eighth too many or too few"
        else:
            message = f"Walls says {said}, but a pass ends facing {walk.facing}, which makes {follows} wall{'s' if follows > 1 else ''}"
        self._tell(Finding(place, "walls", message))

    # The running order: how walls, tags, restarts, changes and endings join.

    def _running(self) -> None:
        wanted = usual_walls(self.routine) + _WALLS_BEYOND
        walk = Walk.from_body(start_body(self.routine))
        joint = _Joint()
        starts: list[Facing | None] = []
        for plan in islice(plans(self.routine), wanted):
            starts.append(walk.facing)
            joint = self._wall(plan, walk, joint)
        if self.routine.order:
            self._phrased_walls(starts)

    def _phrased_walls(self, starts: list[Facing | None]) -> None:
        said = self.routine.header.walls
        seen = {s for s in starts if s is not None}
        if said is not None and None not in starts and len(seen) > said:
            faced = ", ".join(str(f) for f in sorted(seen))
            self._tell(
                Finding(
                    self.routine.header.places.get("walls", Place(1)),
                    "walls",
                    f"Walls says {said}, but parts start facing {faced}",
                )
            )

    def _wall(self, plan: WallPlan, walk: Walk, joint: _Joint) -> _Joint:
        if joint.kind == "wall" and plan.part and plan.pieces:
            joint = replace_joint(joint, plan.pieces[0].heading)
        for piece in plan.pieces:
            joint = self._piece(piece, walk, joint)
        if plan.cut_by is not None:
            return _Joint(joint.last_step, plan.cut_by, "restart")
        return joint if joint.kind in ("tag", "change") else _Joint(joint.last_step, None, "wall")

    def _piece(self, piece: Piece, walk: Walk, joint: _Joint) -> _Joint:
        if piece.kind != "section":
            joint = _Joint(joint.last_step, piece.heading, f"{piece.kind} start")
        source: int | None = None
        sheet = {id(s.passage) for s in self.routine.sections}
        changes = {
            id(r.passage): holder.place
            for holder in (*self.routine.restarts, *self.routine.changes)
            for r in holder.replacements
        }
        for one in piece.steps:
            if one.source != source:
                if one.source in changes:
                    joint = _Joint(joint.last_step, changes[one.source], "change")
                elif source in changes:
                    joint = _Joint(joint.last_step, changes[source], "change")  # type: ignore[index]
                elif (
                    source is None
                    and piece.kind == "section"
                    and joint.kind not in ("tag", "restart", "wall", "change")
                ):
                    joint = _Joint(joint.last_step, None, "section")
                source = one.source
            faults_are_mine = one.source not in sheet
            joint = self._step(one.step, walk, joint, faults_are_mine, piece.kind)
        self._claims(piece, walk)
        return _Joint(joint.last_step, piece.heading, "tag") if piece.kind == "tag" else joint

    def _step(self, step: Step, walk: Walk, joint: _Joint, own: bool, kind: str) -> _Joint:
        movement = step.movement
        free = can_move(movement, walk.weight)
        joining = joint.kind != "section" and moving_foot(movement) is not None
        if joining and not free:
            self._wrong_foot(step, joint)
        if own and not joining:
            walk_steps(walk, [step])
            for finding in walk.findings:
                self._tell(finding)
        else:
            walk_steps(walk, [step], quiet_first=True)
            if not free:
                walk.weight = None
        walk.findings.clear()
        if joining:
            return _Joint(step, None, "section")
        return _Joint(step, joint.by, joint.kind)

    def _claims(self, piece: Piece, walk: Walk) -> None:
        """Facings stated in a tag or ending hold for the first wall that dances it."""
        passages = {t.place: t.passage for t in self.routine.tags}
        if self.routine.ending is not None:
            passages[self.routine.ending.place] = self.routine.ending.passage
        passage = passages.get(piece.heading) if piece.kind in ("tag", "ending") else None
        if passage is None or id(passage) in self.walked:
            return
        self.walked.add(id(passage))
        begun = walk.copy()
        turned = sum(s.movement.turn.eighths for s in passage.steps)
        if begun.facing is None:
            return
        again = Walk(Facing(begun.facing.eighths - turned), None)
        again.believed = again.facing
        walk_steps(
            again,
            passage.steps,
            [replace(c, weight=None) for c in passage.claims if c.facing is not None],
            quiet_first=True,
        )
        for finding in again.findings:
            if finding.code == "facing":
                self._tell(finding)

    def _wrong_foot(self, step: Step, joint: _Joint) -> None:
        foot = moving_foot(step.movement)
        assert foot is not None
        last = joint.last_step
        place = joint.by or (last.place if last is not None else step.place)
        mending = f"; {look.mend(last.movement)} (line {last.place.line})" if last is not None else ""
        self._tell(
            Finding(
                place,
                "wrong-foot",
                f"{_JOINED[joint.kind].format(foot=foot.word, count=step.count, line=step.place.line)}{mending}",
            )
        )


_JOINED = {
    "wall": "the next wall starts on the {foot} foot (line {line}), which bears the weight by then",
    "restart": "after the restart the wall starts on the {foot} foot, which bears the weight there",
    "change": "around this change the {foot} foot is told to move on count {count} (line {line}), but it bears the weight there",
    "tag": "after the tag the dance goes on with the {foot} foot (line {line}), which bears the weight there",
    "tag start": "this tag starts on the {foot} foot, which bears the weight there",
    "ending start": "this ending starts on the {foot} foot, which bears the weight there",
}


def replace_joint(joint: _Joint, by: Place) -> _Joint:
    """A part in a phrased order: where it can't start, its own heading is the place to look."""
    return _Joint(joint.last_step, joint.by or by, joint.kind)


def walls_of(facing: Facing) -> int | None:
    """How many walls a net turn to this facing makes: 8 / gcd(8, eighths turned), None where they are not square."""
    turned = facing.eighths
    return None if turned % 2 else {0: 1, 4: 2}.get(turned, 4)
