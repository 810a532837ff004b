"""What one look at the sheet's own passages finds: totals, options, and what asks for care.

One rule, one function, each from a routine to findings. What needs the running order is found in
:mod:`caller.dance.check`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import floor

from caller.routine.facing import EIGHTHS
from caller.routine.findings import Finding, Place
from caller.routine.parts import Option, Routine, Section
from caller.routine.passages import Passage, Step
from caller.routine.step import Movement
from caller.routine.walk import Walk, can_move, feet_named, moving_foot, walk_steps

_JUMPS = frozenset(("jump", "hop", "leap"))
_STEPS = frozenset(("step", "walk", "run", "cross", "stomp", "stamp", "slide", "skate"))  # a touch may stand for them
_HALF = EIGHTHS // 2
_FOUR_COUNTS = 4
_BEYOND_IMPROVER = ("intermediate", "advanced", "expert", "experienced")
_MOST_LENGTHS = 12  # sections told one by one


def counts_total(routine: Routine, explained: bool) -> Iterator[Finding]:
    """The sections add up to ``Counts`` (in a phrased routine: its parts, or the whole order).

    explained: counts are missing or doubled for a reason that is told already.
    """
    said = routine.header.counts
    if said is None or explained or not routine.sections or said in {told.counts for told in routine.told}:
        return
    if said not in (routine.counts, _order_counts(routine)):
        if (odd := _odd_one(routine, said)) is not None:
            usual = routine.sections[0 if odd is not routine.sections[0] else 1].passage.counts
            line = routine.header.places.get("counts", Place(1)).line
            message = (
                f"this section has {odd.passage.counts} counts where the others have {usual}, so that the dance has"
            )
            yield Finding(odd.place, "counts-total", f"{message} {routine.counts}, not the {said} of line {line}")
            return
        lengths = " + ".join(str(s.passage.counts) for s in routine.sections[:_MOST_LENGTHS])
        message = f"Counts says {said}, but the sections add up to {routine.counts} ({lengths}); mend one or the other"
        yield Finding(routine.header.places.get("counts", Place(1)), "counts-total", message)


def _odd_one(routine: Routine, said: int) -> Section | None:
    """The one section whose length is not that of all the others, where that alone is what the total lacks."""
    lengths = [section.passage.counts for section in routine.sections]
    usual = max(set(lengths), key=lengths.count)
    odd = [section for section in routine.sections if section.passage.counts != usual]
    if len(lengths) < 3 or len(odd) != 1 or routine.counts + usual - odd[0].passage.counts != said:
        return None
    return odd[0]


def _order_counts(routine: Routine) -> int | None:
    """How many counts a whole phrased order lasts."""
    if not routine.order:
        return None
    tags = {t.name: t.passage.counts for t in routine.tags}
    total = 0
    for item in routine.order:
        part = sum(s.passage.counts for s in routine.sections if s.part == item.part)
        total += tags.get(item.tag, 0) if item.tag is not None else item.counts or part
    return total


def options(section: Section, before: Sequence[Walk]) -> Iterator[Finding]:
    """Each option uses the same counts, starts and ends on the same free foot, and ends on the same facing.

    before: how the walk stands before each step of the section, and after the last.
    """
    for option in section.options:
        if option.first < 1 or option.last > section.passage.counts or option.last < option.first:
            counts = f"counts {option.first}-{option.last}"
            message = f"{counts} are not all in this section of {section.passage.counts} counts"
            yield Finding(option.place, "option", message)
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
        message = f"it starts on the {foot.word} foot, which bears the weight there; start it on the {foot.other.word}"
        yield Finding(option.place, "option", message)
        return
    walk_steps(walk, steps, option.passage.claims, quiet_first=True)
    yield from walk.findings
    whole = before[inside[-1] + 1]
    differs = [] if walk.findings else [*_other_foot(walk, whole, steps[-1]), *_other_facing(walk, whole)]
    if differs:
        yield Finding(option.place, "option", "; ".join(differs))


def _other_foot(walk: Walk, whole: Walk, last: Step) -> Iterator[str]:
    known = walk.weight is not None and whole.weight is not None
    if known and walk.weight is not whole.weight:
        ends = f"it ends with the weight on {feet_named(walk.weight)}, what it replaces on {feet_named(whole.weight)}"
        yield f"{ends} ({mend(last.movement)})"


def _other_facing(walk: Walk, whole: Walk) -> Iterator[str]:
    if walk.facing is not None and whole.facing is not None and walk.facing != whole.facing:
        yield f"it ends facing {walk.facing}, what it replaces facing {whole.facing} (let both turn alike in all)"


def mend(last: Movement) -> str:
    """What change to the last movement would free the other foot."""
    if last.foot is not None and last.weight is None:
        return f"make the last {last.action} a step"
    if last.foot is not None and last.action in _STEPS:
        return f"make the last {last.action} a touch"
    return "add a step, or take one out"


def cautions(steps: Sequence[Step]) -> Iterator[Finding]:
    """Jumps, and more than one full turn in four counts. Steps in order, positions rising throughout."""
    told: set[int] = set()
    for step in steps:
        if step.movement.action in _JUMPS and step.place.line not in told:
            told.add(step.place.line)
            message = f"a {step.movement.action}: keep it small, and give a step as the easier way"
            yield Finding(step.place, "caution", message)
    for first, run in _turning_runs(steps):
        line = first.place.line
        if _most_turned(run, _FOUR_COUNTS) > EIGHTHS and line not in told:
            told.add(line)
            message = "more than one full turn in four counts: dizziness and falls; give an easier way, and room"
            yield Finding(first.place, "caution", message)


def no_option(routine: Routine) -> Iterator[Finding]:
    """Up to improver level: a turn of half or more in one count, or a full turn, wants an easier option."""
    level = routine.header.level.lower()
    if not level or any(word in level for word in _BEYOND_IMPROVER):
        return
    for section in routine.sections:
        told: set[int] = set()
        for _, run in _turning_runs(section.passage.steps):
            for step in _big(run):
                covered = any(o.first - 1 <= step.at < o.last for o in section.options)
                if not covered and step.place.line not in told:
                    told.add(step.place.line)
                    counts = _counts_round(section.passage, step)
                    way = f"write an easier way without it, as 'Option {counts}: ...'"
                    advice = f"a big turn at {routine.header.level} level; {way}"
                    yield Finding(step.place, "no-option", f"count {step.count}: {advice}")


def _counts_round(passage: Passage, step: Step) -> str:
    """ "7-9": the whole counts of the figure that a step is in, as an Option names them."""
    index = passage.steps.index(step)
    phrase = next((one for one in passage.phrases if one.first <= index <= one.last), None)
    ends = (phrase.first, phrase.last) if phrase is not None else (index, index)
    first, last = (max(floor(passage.steps[n].at), 0) + 1 for n in ends)
    return f"{first}-{last}" if first < last else f"{first}"


def _big(run: Sequence[Step]) -> list[Step]:
    """The steps of a turning run that turn half or more in a count; the first where only all together is a full
    turn."""
    big = [step for n, step in enumerate(run) if _turned_from(run[n:], 1) >= _HALF]
    whole = sum(abs(s.movement.turn.eighths) for s in run) >= EIGHTHS
    return big or (list(run[:1]) if whole else [])


def _turning_runs(steps: Iterable[Step]) -> Iterator[tuple[Step, list[Step]]]:
    """Runs of turning movements the same way round, none more than a count from the next; each with its first step."""
    run: list[Step] = []
    for step in steps:
        turn = step.movement.turn
        if not turn:
            continue
        same = run and (turn.eighths > 0) == (run[-1].movement.turn.eighths > 0) and step.at - run[-1].at <= 1
        if run and not same:
            yield run[0], run
            run = []
        run.append(step)
    if run:
        yield run[0], run


def _most_turned(run: Sequence[Step], counts: int) -> int:
    """The most eighths turned within so many counts."""
    return max(_turned_from(run[n:], counts) for n in range(len(run)))


def _turned_from(run: Sequence[Step], counts: int) -> int:
    """Eighths turned in so many counts from the first step on."""
    return sum(abs(s.movement.turn.eighths) for s in run if s.at < run[0].at + counts)
