"""Steps that take the place of a section's on some walls: whose they are, and the counts of the wall that they fill."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from caller.routine.count import read_counts
from caller.routine.findings import Finding, Place, Severity
from caller.routine.layout.blocks import LEFT_OUT, ReplacedLines, highest_count
from caller.routine.layout.counted import shifted
from caller.routine.layout.happening import Event
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.meter import Feel
from caller.routine.notation.named import FigureSpan, figure_named
from caller.routine.notation.passage import Context, read_passage
from caller.routine.notation.places import Places
from caller.routine.notation.sections import Laid, weight_before
from caller.routine.parts import Change, Replacement
from caller.routine.passages import Passage
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary
from caller.routine.walk import can_move

_LAST_COUNTS = re.compile(
    rf"(?:last|final)\s+(?P<n>{NUMBER})(?:\s+(?:counts?|beats?|steps))?(?:\s+of\s+.{{1,24}})?$", re.IGNORECASE
)
_AT_THE = re.compile(r"\s+at\s+the\s+(?:start|beginning|end)\b.*$", re.IGNORECASE)


def read_replacements(
    event: Event, places: Places, feel: Feel, vocabulary: Vocabulary
) -> tuple[tuple[Replacement, ...], list[Finding]]:
    """The steps that an event changes, in the order written: its sentence taken the first way that can be danced."""
    first = _read(event.replaced, event, places, feel, vocabulary)
    if (
        event.block is None
        or not event.replaced
        or event.replaced is not event.block.replaced
        or _fits(first, places.laid)
    ):
        return first
    for otherwise in event.block.otherwise:
        read = _read(otherwise, event, places, feel, vocabulary)
        if _fits(read, places.laid) and not any(one.leaves_out for one in read[0]):
            event.replaced = otherwise
            return read
    return first


def changes_steps(event: Event) -> bool:
    """Whether it puts steps in the place of others, and does not only leave some out."""
    return any(one.words != "left out" for one in event.replaced)


_Read = tuple[tuple[Replacement, ...], list[Finding]]


def _fits(read: _Read, laid: Laid) -> bool:
    replacements, findings = read
    plain = all(finding.severity is Severity.GUESS for finding in findings)
    return bool(replacements) and plain and all(_on_free_feet(one, laid) for one in replacements)


def _on_free_feet(one: Replacement, laid: Laid) -> bool:
    """Whether each of its steps is taken on a foot that bears no weight by then."""
    index = next(n for n, s in enumerate(laid.sections) if (s.number, s.part) == (one.section, one.part))
    weight = weight_before(laid.sections[index].passage, Fraction(one.first - 1), _enters(laid, index))
    for step in one.passage.steps:
        if not can_move(step.movement, weight):
            return False
        weight = step.movement.weight or weight
    return True


def _read(replaced: Sequence[ReplacedLines], event: Event, places: Places, feel: Feel, vocabulary: Vocabulary) -> _Read:
    findings: list[Finding] = []
    found = [one for b in replaced for one in _replacements(b, event, places, feel, vocabulary, findings)]
    return tuple(found), findings


def _replacements(
    block: ReplacedLines, event: Event, places: Places, feel: Feel, vocabulary: Vocabulary, findings: list[Finding]
) -> list[Replacement]:
    laid = places.laid
    if block.of and not block.lines:
        _on_its_counts(block, event, places, Context(feel, vocabulary))
    elif block.of and not block.section and (own := figure_named(laid, _AT_THE.sub("", block.of))) is not None:
        block.section, block.part = laid.sections[own.index].number, laid.sections[own.index].part
        if own.first > 1 and highest_count(block.lines) <= own.last - own.first + 1:  # told as the figure's own
            block.lines = [shifted(line, own.first - 1) for line in block.lines]
    numbers = [b.number for line in block.lines if (c := read_counts(line.text)) for b in c.beats if not b.part]
    index = places.section_index(block, event, numbers)
    place = block.heading.place
    if index is None:
        name = f"section {block.section}" if block.section else "section that these counts stand in"
        message = f"there is no {name} in this routine; it has {len(laid.sections)}"
        findings.append(Finding(place, "event-place", message))
        return []
    if not numbers:
        findings += read_passage(block.lines, Context(feel, vocabulary), None).findings
        return []
    section = laid.sections[index]
    if block.lines and LEFT_OUT.search(block.lines[0].text):
        return _left_out(laid, index, min(numbers), max(numbers), place)
    base = laid.bases[index] if min(numbers) > laid.bases[index] else 0
    if not base and min(numbers) > section.passage.counts:
        base = laid.counts_before(index)
    first, last = min(numbers) - base, max(numbers) - base
    context = Context(feel, vocabulary, base, last - first + 1, first_count=first)
    before = weight_before(section.passage, Fraction(first - 1), _enters(laid, index))
    read = read_passage(block.lines, context, before)
    findings += read.findings
    return [Replacement(section.number, first, last, read.passage, section.part, place)]


def _left_out(laid: Laid, index: int, first: int, last: int, place: Place) -> list[Replacement]:
    """What is left out of each section, from the one of this index on: counts of it, or of the whole wall."""
    own = laid.sections[index].passage.counts
    if first <= own:
        spans = [(index, first, min(last, own))]
    else:
        spans = [
            (n, max(first - laid.counts_before(n), 1), min(last - laid.counts_before(n), s.passage.counts))
            for n, s in enumerate(laid.sections)
        ]
    return [
        Replacement(laid.sections[n].number, max(low, 1), high, Passage(0), laid.sections[n].part, place)
        for n, low, high in spans
        if low <= high
    ]


def _on_its_counts(block: ReplacedLines, event: Event, places: Places, context: Context) -> None:
    """Gives what is danced in the place of a named figure that figure's section and counts."""
    laid = places.laid
    near = next((h.after for h in event.happenings if h.after is not None), None)
    within = event.block.within if event.block is not None else -1
    span = _last_counts(laid, block) or figure_named(
        laid, block.of, near, block.section - 1 if block.section else within
    )
    if span is None:
        return
    section = laid.sections[span.index]
    base = laid.bases[span.index]
    block.section, block.part = section.number, section.part
    first, last = span.first + base, span.last + base
    if block.words == "left out":
        block.lines = [Line(block.heading.number, block.heading.column, f"{span.first}-{span.last}  left out", False)]
        return
    weight = weight_before(section.passage, Fraction(span.first - 1), _enters(laid, span.index))
    written = [f"{first}-{last}", f"{first}&{last}"] if last == first + 1 else [f"{first}-{last}"]
    lines = [Line(block.heading.number, block.heading.column, f"{counts}  {block.words}", False) for counts in written]
    own = replace(context, base=base, length=last - first + 1, first_count=span.first)
    block.lines = [next((line for line in lines if not read_passage([line], own, weight).findings), lines[0])]


def _last_counts(laid: Laid, block: ReplacedLines) -> FigureSpan | None:
    """ "instead of the last four counts": of the section named, else of the wall."""
    told = _LAST_COUNTS.match(block.of)
    if told is None or not laid.sections:
        return None
    index = next((n for n, s in enumerate(laid.sections) if s.number == block.section), len(laid.sections) - 1)
    counts = laid.sections[index].passage.counts
    return FigureSpan(index, max(counts - number_of(told["n"]) + 1, 1), counts)


def _enters(laid: Laid, index: int) -> Weight | None:
    """The weight before a section."""
    sections = laid.sections
    goes_on = index > 0 and sections[index - 1].part == sections[index].part
    return laid.after[index - 1] if goes_on else laid.start


def where_restarts(
    event: Event, replacements: tuple[Replacement, ...], laid: Laid, changes: Sequence[Change]
) -> tuple[Replacement, ...]:
    """Puts a restart behind the steps that change on its walls, or before those that it leaves out; the ones that are
    danced."""
    untold = all(happening.after is None for happening in event.happenings)
    if untold and replacements and all(one.leaves_out for one in replacements):
        for happening in event.happenings:  # "leave the Monterey out and go straight back to the top"
            happening.after = _before_replaced(laid, replacements)
        return ()
    before = _before_replaced(laid, replacements) if replacements else None
    placed = before is not None and all((h.after or laid.counts) <= before for h in event.happenings)
    if placed and all(one.leaves_out for one in replacements):
        return ()  # "skip the rocking chair and the sways: go from here directly to wall 6", above them
    for happening in event.happenings:
        changed = _changed_until(laid, changes, happening.wall)
        if happening.after is None:
            happening.after = _after_replaced(laid, changes, replacements)
        elif changed is not None and happening.after < changed:
            happening.after = changed  # "dance 14 counts, then a coaster instead, and restart"
        elif replacements and happening.after <= (_before_replaced(laid, replacements) or 0):
            happening.after = _after_replaced(laid, changes, replacements)
    return replacements


def _changed_until(laid: Laid, changes: Sequence[Change], wall: int) -> int | None:
    """Counts into the wall after which its changed steps end."""
    ends = [
        laid.counts_before(index) + one.last
        for change in changes
        if wall in change.walls
        for one in change.replacements
        for index, s in enumerate(laid.sections)
        if (s.number, s.part) == (one.section, one.part)
    ]
    return max(ends, default=None)


def _before_replaced(laid: Laid, replacements: Sequence[Replacement]) -> int | None:
    """Counts into a wall before the first changed step, None where its section is not there."""
    first = replacements[0]
    for index, s in enumerate(laid.sections):
        if (s.number, s.part) == (first.section, first.part):
            return laid.counts_before(index) + first.first - 1
    return None


def _after_replaced(laid: Laid, changes: Sequence[Change], replacements: Sequence[Replacement]) -> int | None:
    """Counts into a wall after the last changed step: a restart told together with a step change comes there."""
    changed = changes[-1].replacements if not replacements and changes else replacements
    if not changed:
        return None
    last = changed[-1]
    index = next((n for n, s in enumerate(laid.sections) if (s.number, s.part) == (last.section, last.part)), None)
    return laid.counts_before(index) + last.last if index is not None else None
