"""Step lines to a passage: counts, movements, phrases to call, and what is wrong with them.

Lines are read in order, each from the stance that the one before left; where the words of a line can be read in several
ways, all that fit are carried on until what comes after tells which was meant. A line that can't be read leaves
"unread" movements behind, one on each of its beats, so that its one fault is told once and nothing is guessed after it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from caller.routine.count import Counts, read_counts
from caller.routine.facing import Facing
from caller.routine.findings import Finding, Place
from caller.routine.layout.lines import Line
from caller.routine.meter import Feel
from caller.routine.notation.candidates import Effort, plain_reading
from caller.routine.notation.counting import Counting
from caller.routine.notation.dialect import plain_words
from caller.routine.notation.fitting import movements_of
from caller.routine.notation.natural import LEAST_COUNTS, natural_counts
from caller.routine.notation.paths import Described, Path, carried_on, with_the_last_doubted
from caller.routine.notation.phrasing import Span, phrases_of
from caller.routine.notation.pieces import pieces_joined
from caller.routine.notation.remarks import clipped, guessed, why_unread
from caller.routine.notation.repeats import CannotRepeat, Danced, Repeat, read_repeat, repeated
from caller.routine.notation.spec import Reading, Spec
from caller.routine.notation.stated import Stated
from caller.routine.notation.told import UNREAD, Named
from caller.routine.notation.weighing import Outcome, Stance
from caller.routine.passages import Claim, LineWords, Passage, Step
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_LEAST_FILLED = 3  # counts
_QUOTES = '"\u201c\u201d\u201f'
_CALL = re.compile(rf"[{_QUOTES}]([^{_QUOTES}]*)[{_QUOTES}]\s*$")
_FACINGS = "12:00, 1:30, 3:00, 4:30, 6:00, 7:30, 9:00, 10:30"


@dataclass(slots=True)
class Context:
    """What lines are read with.

    base: counts before this section where the numbers run on. length: counts that a replacement or option must fill;
    short: code and place of the finding where it does not (None: counts-gap, at the last line). first_count: the
    count that the first line falls on. carried: what stands before goes over into count 1 ("8&1"). earlier: sections
    read so far, by number (for "repeat section 1"). effort: what may still be tried, shared by all passages of a sheet.
    facing: before the first line, None = unknown.
    """

    feel: Feel
    vocabulary: Vocabulary
    base: int = 0
    length: int | None = None
    short: tuple[str, Place] | None = None
    first_count: int = 1
    carried: bool = False
    earlier: Mapping[int, Passage] = field(default_factory=dict)
    effort: Effort = field(default_factory=Effort)
    facing: Facing | None = None


@dataclass(slots=True)
class ReadPassage:
    """weight, facing: after the last step, None where it can't be known."""

    passage: Passage
    findings: list[Finding]
    weight: Weight | None
    facing: Facing | None = None


def read_passage(lines: Sequence[Line], context: Context, weight: Weight | None) -> ReadPassage:
    """The passage that these step lines write, danced from ``weight`` on (None = unknown)."""
    return _PassageReader(context, weight).read(lines)


class _PassageReader:
    def __init__(self, context: Context, weight: Weight | None) -> None:
        self.context = context
        self.weight = weight
        self.counting = Counting(context.first_count, context.carried)
        self.paths = [Path(0.0, Stance(weight, context.facing))]
        self.steps: list[Step] = []
        self.lines: list[int] = []  # of each step
        self.claims: list[Claim] = []
        self.notes: list[tuple[str, int]] = []  # with their lines
        self.findings: list[Finding] = []
        self.spans: list[Span] = []
        self.words: list[LineWords] = []

    def read(self, lines: Sequence[Line]) -> ReadPassage:
        for line in pieces_joined(lines, self.context.vocabulary):
            self._line(line)
        self.paths = with_the_last_doubted(self.paths)
        self._settle()
        wanted = self.context.length
        if wanted is not None and lines:
            code, place = self.context.short or ("counts-gap", Place(lines[-1].number, lines[-1].column))
            unfilled = self.counting.filled(wanted, self.context.base, code, place)
            self.findings += [unfilled] if unfilled else []
        passage = Passage(
            max(self.counting.whole, 0),
            tuple(self.steps),
            phrases_of(self.steps, self.lines, self.spans, self.context.vocabulary),
            tuple(self.claims),
            tuple(note for note, _ in self.notes),
            tuple(number for _, number in self.notes),
            tuple(self.words),
        )
        return ReadPassage(passage, self.findings, self.weight, self.paths[0].stance.facing)

    # -- one line

    def _line(self, line: Line) -> None:
        base = self.context.base
        counts = read_counts(line.text, self.context.feel, base, self.counting.whole + base)
        if counts is None:
            message = f"this line does not begin with counts (such as 1-2 or 3&4): {clipped(line.text)!r}"
            self._find(line, 1, "unreadable", message)
            self._unread(line, None, "")
            return
        before = self.counting.whole
        self.counting.take(line, counts, self.findings)
        text = line.text[counts.end :]
        call = ""
        if (quoted := _CALL.search(text)) is not None:
            call, text = quoted.group(1).strip(), text[: quoted.start()]
        if not text.strip():
            self._find(line, counts.end + 1, "unreadable", "nothing is danced on these counts; say what, or 'hold'")
            self._unread(line, counts, "")
        elif (repeat := read_repeat(plain_words(text).strip())) is not None:
            self._repeat(line, counts, repeat, call, before)
        else:
            plain = plain_reading(text, self.context.vocabulary)
            within = self._within(line, counts, plain.reading.specs, before)
            self._description(Described(line, within, text, counts.end, call, plain))

    def _within(self, line: Line, counts: Counts, specs: Sequence[Spec], before: int) -> Counts:
        """The counts of the line's movements, by their own rhythm where it gives only its first and last count."""
        if movements_of(specs) <= len(counts.beats) or (told := self._natural(specs, counts)) is None:
            return counts
        found = read_counts(f"{told} x", self.context.feel, self.context.base, before + self.context.base)
        if found is None:
            return counts
        message = f"which step falls on which count is not told; taken as {told}: write the counts to be sure"
        if self.context.length is None:  # what takes the place of counts can't lie otherwise
            self._find(line, 1, "guess", message)
        return found

    def _natural(self, specs: Sequence[Spec], counts: Counts) -> str | None:
        fills = self.context.length is not None  # what takes the place of counts fills them
        return natural_counts(specs, counts, _LEAST_FILLED if fills else LEAST_COUNTS)

    def _description(self, one: Described) -> None:
        """Carries each path on over the line, or leaves it unread."""
        onward = carried_on(self.paths, one, self.context.vocabulary, self.context.effort)
        if onward:
            self.paths = onward
            if len(self.paths) == 1:
                self._settle()
            return
        self._settle()
        self._leave_unread(one)
        self._restart_from(None)

    def _leave_unread(self, one: Described) -> None:
        self._asides(one, one.plain.reading)
        self.findings += why_unread(one, self.context.vocabulary, self.context.effort)
        self._mark_unread(one.line, one.counts, one.text.strip())

    def _settle(self) -> None:
        """The best path is what the lines mean."""
        best = self.paths[0]
        for one, outcome in best.chain:
            if outcome.candidate is None:
                self._leave_unread(one)
            else:
                self._add(one, outcome)
        self.weight = best.stance.weight
        self.paths = [Path(0.0, best.stance)]

    def _restart_from(self, weight: Weight | None, facing: Facing | None = None) -> None:
        """On from a line that no reading was weighed for."""
        self.weight = weight
        before = self.steps[-1].movement if self.steps else None
        self.paths = [Path(0.0, Stance(weight, facing, before))]

    def _unread(self, line: Line, counts: Counts | None, words: str) -> None:
        self._settle()
        self._mark_unread(line, counts, words)
        self._restart_from(None)

    def _mark_unread(self, line: Line, counts: Counts | None, words: str) -> None:
        """Leaves a mark on each of the line's counts: something is danced there, nobody knows what."""
        place = Place(line.number, line.column)
        steps = [Step(b.at, b.label, UNREAD, place) for b in counts.beats] if counts else []
        self._span(line, steps, Span(0, 0, "", [], words), words)

    def _add(self, one: Described, outcome: Outcome) -> None:
        line, told, candidate = one.line, outcome.told, outcome.candidate
        assert told is not None
        assert candidate is not None
        self._asides(one, candidate.reading)
        for trouble in told.troubles:
            self._find(line, one.column + trouble.column, trouble.code, trouble.message)
        self.findings += guessed(one, outcome, self.context.vocabulary)
        steps = [
            Step(beat.at, beat.label, movement, _place(line, one.column + column))
            for movement, column, beat in zip(told.movements, told.columns, outcome.beats, strict=True)
        ]
        first = len(self.steps)
        named = [Named(n.first + first, n.last + first, n.figure, n.way, n.lead, n.turn) for n in told.named]
        self._span(line, steps, Span(0, 0, one.call, named), one.text.strip())
        for index, stated, column in told.stated:
            self._claim(first + index, stated, line, one.column + column)

    def _span(self, line: Line, steps: list[Step], span: Span, words: str) -> None:
        if steps:
            span.first, span.last = len(self.steps), len(self.steps) + len(steps) - 1
            self.spans.append(span)
            if words:
                self.words.append(LineWords(span.first, span.last, line.number, words))
        self.steps += steps
        self.lines += [line.number] * len(steps)

    # -- repeats

    def _repeat(self, line: Line, counts: Counts, repeat: Repeat, call: str, before: int) -> None:
        self._settle()
        context = self.context
        try:
            steps = repeated(
                repeat, counts, Danced(self.steps, context.first_count, before, context.base, context.earlier)
            )
        except CannotRepeat as why:
            self._find(line, counts.end + 1, why.code, why.message)
            self._unread(line, counts, "")
            return
        place = Place(line.number, line.column + counts.end)
        self._span(line, [replace(step, place=place) for step in steps], Span(0, 0, call, []), "")
        weight, facing = self.weight, self.paths[0].stance.facing
        for step in steps:
            self.counting.mark(step.at)
            facing = facing + step.movement.turn if facing is not None else None
            weight = None if step.movement.action == "unread" else step.movement.weight or weight
        self._restart_from(weight, facing)
        for text, at in repeat.asides:
            plain = plain_reading(text, context.vocabulary)
            self._asides(Described(line, counts, text, counts.end + at, call, plain), plain.reading)

    # -- claims and findings

    def _asides(self, one: Described, reading: Reading) -> None:
        """Notes, and what is stated before the first movement."""
        self.notes += [(note, one.line.number) for note in reading.notes]
        for stated, column in reading.before:
            self._claim(len(self.steps) - 1, stated, one.line, one.column + column)

    def _claim(self, after: int, stated: Stated, line: Line, column: int) -> None:
        """column: within the line's text, from 1."""
        if stated.facing is None and stated.weight is None:
            message = f"{stated.text!r} is no facing: say one of {_FACINGS}"
            self._find(line, column, "facing", message)
            return
        self.claims.append(Claim(after, stated.facing, stated.weight, _place(line, column)))

    def _find(self, line: Line, column: int, code: str, message: str) -> None:
        self.findings.append(line.finding(column, code, message))


def _place(line: Line, column: int) -> Place:
    """column: within the line's text, from 1."""
    return Place(line.number, max(1, line.column + (column if line.exact else 1) - 1))
