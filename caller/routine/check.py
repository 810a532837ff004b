"""What one look at the sheet's own passages finds: totals, options, and what asks for care.

One rule, one function, each from a routine to findings. What needs the running order is found in :mod:`caller.dance.check`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from caller.routine.facing import EIGHTHS
from caller.routine.findings import Finding, Place
from caller.routine.parts import Option, Passage, Routine, Section, Step
from caller.routine.step import Foot, Movement, Weight
from caller.routine.walk import Walk, can_move, moving_foot, walk_steps

_JUMPS = frozenset({"jump", "hop", "leap"})
_HALF = EIGHTHS // 2
_FOUR_COUNTS = 4


def counts_total(routine: Routine, explained: bool) -> Iterator[Finding]:
    """The sections add up to ``Counts`` (in a phrased routine: its parts, or the whole order). explained: counts
    are missing or doubled for a reason that is told already."""
    said = routine.header.counts
    if said is None or explained or not routine.sections:
        return
    danced = [routine.counts]
    if routine.order:
        parts = {
            part: sum(s.passage.counts for s in routine.sections if s.part == part)
            for part in {s.part for s in routine.sections}
        }
        tags = {t.name: t.passage.counts for t in routine.tags}
        danced.append(
            sum(tags.get(i.tag, 0) if i.tag is not None else i.counts or parts.get(i.part, 0) for i in routine.order)
        )
    if said not in danced:
        lengths = " + ".join(str(s.passage.counts) for s in routine.sections[:12])
        yield Finding(
            _header_place(routine, "counts"),
            "counts-total",
            f"Counts says {said}, but the sections add up to {routine.counts} ({lengths})",
        )


def _header_place(routine: Routine, key: str) -> Place:
    place = routine.header.places.get(key, Place(1))
    return Place(place.line, place.column)


def options(section: Section, before: Sequence[Walk]) -> Iterator[Finding]:
    """Each option uses the same counts, starts and ends on the same free foot, and ends on the same facing.

    before: how the walk stands before each step of the section, and after the last.
    """
    for option in section.options:
        if option.first < 1 or option.last > section.passage.counts or option.last < option.first:
            yield Finding(
                option.place,
                "option",
                f"counts {option.first}-{option.last} are not all in this section of {section.passage.counts} counts",
            )
        elif option.passage.counts == option.last:  # else it is told already that the counts differ
            yield from _option(section.passage, option, before)


def _option(passage: Passage, option: Option, before: Sequence[Walk]) -> Iterator[Finding]:
    inside = [n for n, s in enumerate(passage.steps) if option.first - 1 <= s.at < option.last]
    steps = option.passage.steps
    if not steps or not inside:
        return
    walk = before[inside[0]].copy()
    first = next((s for s in steps if moving_foot(s.movement) is not None), None)
    if first is not None and not can_move(first.movement, walk.weight):
        foot = moving_foot(first.movement)
        assert foot is not None
        yield Finding(
            option.place,
            "option",
            f"it starts on the {foot.word} foot, which bears the weight there; start it on the {foot.other.word}",
        )
        return
    walk_steps(walk, steps, option.passage.claims, quiet_first=True)
    yield from walk.findings
    whole = before[inside[-1] + 1]
    if not walk.findings and None not in (walk.weight, whole.weight) and walk.weight is not whole.weight:
        yield Finding(
            option.place,
            "option",
            f"it ends with the weight on {_feet(walk.weight)}, what it replaces on {_feet(whole.weight)}; {mend(steps[-1].movement)}",
        )
    if walk.facing is not None and whole.facing is not None and walk.facing != whole.facing:
        yield Finding(option.place, "option", f"it ends facing {walk.facing}, what it replaces facing {whole.facing}")


def _feet(weight: Weight | None) -> str:
    return (
        "both feet" if weight is Weight.BOTH else f"the {Foot(weight.value).word} foot" if weight else "an unknown foot"
    )


def mend(last: Movement) -> str:
    """What change to the last movement would free the other foot."""
    if last.weight is None and last.foot is not None:
        return f"make the last {last.action} a step"
    if last.foot is not None:
        return f"make the last {last.action} a touch"
    return "add a step, or take one out"


def cautions(steps: Sequence[Step]) -> Iterator[Finding]:
    """Jumps, and more than one full turn in four counts. Steps in order, positions rising throughout."""
    told: set[int] = set()
    for step in steps:
        if step.movement.action in _JUMPS and step.place.line not in told:
            told.add(step.place.line)
            yield Finding(
                step.place, "caution", f"a {step.movement.action}: keep it small, and give a step as the easier way"
            )
    for first, run in _turning_runs(steps):
        line = first.place.line
        if _most_turned(run, _FOUR_COUNTS) > EIGHTHS and line not in told:
            told.add(line)
            yield Finding(
                first.place,
                "caution",
                "more than one full turn in four counts: dizziness and falls; give an easier way, and room",
            )


def no_option(routine: Routine) -> Iterator[Finding]:
    """Up to improver level: a turn of half or more in one count, or a full turn, wants an easier option."""
    level = routine.header.level.lower()
    if not level or any(word in level for word in ("intermediate", "advanced")):
        return
    for section in routine.sections:
        told: set[int] = set()
        for first, run in _turning_runs(section.passage.steps):
            big = _most_turned(run, 1) >= _HALF or sum(abs(s.movement.turn.eighths) for s in run) >= EIGHTHS
            covered = any(o.first - 1 <= first.at < o.last for o in section.options)
            if big and not covered and first.place.line not in told:
                told.add(first.place.line)
                yield Finding(
                    first.place,
                    "no-option",
                    f"count {first.count}: a big turn at {routine.header.level} level; write an Option without it",
                )


def _turning_runs(steps: Iterable[Step]) -> Iterator[tuple[Step, list[Step]]]:
    """Runs of turning movements the same way round, none more than a count from the next; each with its first step."""
    run: list[Step] = []
    for step in steps:
        if not step.movement.turn:
            continue
        same = (
            run
            and (step.movement.turn.eighths > 0) == (run[-1].movement.turn.eighths > 0)
            and step.at - run[-1].at <= 1
        )
        if run and not same:
            yield run[0], run
            run = []
        run.append(step)
    if run:
        yield run[0], run


def _most_turned(run: Sequence[Step], counts: int) -> int:
    """The most eighths turned within so many counts."""
    return max(
        sum(abs(s.movement.turn.eighths) for s in run if first.at <= s.at < first.at + Fraction(counts))
        for first in run
    )
