"""Step lines to a passage: counts, movements, phrases to call, and what is wrong with them.

Lines are read in order, each starting with the weight that the one before left. A line that can't be read leaves an
"unread" movement behind, so that its one fault is told once and nothing is guessed after it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from caller.routine.count import Beat, Counts, read_counts
from caller.routine.findings import Finding, Place
from caller.routine.notation.counting import Counting
from caller.routine.notation.feet import UNREAD, Named, Told, settle
from caller.routine.notation.fitting import Fit, fit, merge_turns, movements_of
from caller.routine.notation.grammar import read_specs
from caller.routine.layout.lines import Line
from caller.routine.notation.nearest import nearest
from caller.routine.notation.phrasing import Span, phrases_of
from caller.routine.notation.repeats import CannotRepeat, Danced, Repeat, read_repeat, repeated
from caller.routine.notation.spec import Reading, Spec, Trouble
from caller.routine.notation.stated import Stated
from caller.routine.notation.words import lex
from caller.routine.parts import Claim, Feel, Passage, Step
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_QUOTES = '"\u201c\u201d\u201f'
_CALL = re.compile(rf"[{_QUOTES}]([^{_QUOTES}]*)[{_QUOTES}]\s*$")
_MOST_SHOWN = 60  # characters of a line in a finding
_WORDS_TOLD = 4
_FACINGS = "12:00, 1:30, 3:00, 4:30, 6:00, 7:30, 9:00, 10:30"

# Movements that are nothing without a foot: where it is not known, neither is the weight after them.
_BEARING = frozenset(
    ("step", "walk", "run", "cross", "rock", "recover", "stomp", "stamp", "lunge", "press", "slide", "skate")
) | frozenset(("push", "drop", "leap", "pivot"))


@dataclass(slots=True)
class Context:
    """What lines are read with.

    base: counts before this section where the numbers run on. length: counts that a replacement or option must fill;
    short: code and place of the finding where it does not (None: counts-gap, at the last line). first_count: the
    count that the first line falls on. carried: what stands before goes over into count 1 ("8&1"). earlier: sections read so far, by number (for "repeat section 1").
    """

    feel: Feel
    vocabulary: Vocabulary
    base: int = 0
    length: int | None = None
    short: tuple[str, Place] | None = None
    first_count: int = 1
    carried: bool = False
    earlier: Mapping[int, Passage] = field(default_factory=dict)


@dataclass(slots=True)
class ReadPassage:
    """weight: after the last step, None where it can't be known."""

    passage: Passage
    findings: list[Finding]
    weight: Weight | None


def read_passage(lines: Sequence[Line], context: Context, weight: Weight | None) -> ReadPassage:
    """The passage that these step lines write, danced from ``weight`` on (None = unknown)."""
    return _PassageReader(context, weight).read(lines)


class _PassageReader:
    def __init__(self, context: Context, weight: Weight | None) -> None:
        self.context = context
        self.weight = weight
        self.counting = Counting(context.first_count, context.carried)
        self.steps: list[Step] = []
        self.lines: list[int] = []  # of each step
        self.claims: list[Claim] = []
        self.notes: list[tuple[str, int]] = []  # with their lines
        self.findings: list[Finding] = []
        self.spans: list[Span] = []

    def read(self, lines: Sequence[Line]) -> ReadPassage:
        for line in lines:
            self._line(line)
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
        )
        return ReadPassage(passage, self.findings, self.weight)

    # -- one line

    def _line(self, line: Line) -> None:
        base = self.context.base
        counts = read_counts(line.text, self.context.feel, base, self.counting.whole + base)
        if counts is None:
            message = f"this line does not begin with counts (such as 1-2 or 3&4): {_clip(line.text)!r}"
            self._find(line, 1, "unreadable", message)
            self._unread(line, None)
            return
        before = self.counting.whole
        self.counting.take(line, counts, self.findings)
        text = line.text[counts.end :]
        call = ""
        if (quoted := _CALL.search(text)) is not None:
            call, text = quoted.group(1).strip(), text[: quoted.start()]
        if not text.strip():
            self._find(line, counts.end + 1, "unreadable", "nothing is danced on these counts; say what, or 'hold'")
            self._unread(line, counts)
        elif (repeat := read_repeat(text.strip())) is not None:
            self._repeat(line, counts, repeat, call, before)
        else:
            self._description(line, counts, text, call)

    def _description(self, line: Line, counts: Counts, text: str, call: str) -> None:
        vocabulary, column = self.context.vocabulary, line.column + counts.end
        reading = read_specs(lex(text, vocabulary, column), vocabulary)
        self._asides(line, reading)
        fits: list[Fit] | None = None
        if reading.troubles:
            self._tell_unreadable(line, reading.troubles)
        elif not reading.specs:
            message = f"nothing here says what to dance: {_clip(text.strip())!r}"
            self._find(line, counts.end + 1, "unreadable", message)
        elif (fits := self._fit(reading, len(counts.beats))) is None:
            self._mismatch(line, counts, reading.specs, text)
        if fits is None:
            self._unread(line, counts)
            return
        fitted = merge_turns(reading.specs, fits, vocabulary)
        told = settle(fitted, self.weight)
        for trouble in told.troubles:
            self._find(line, trouble.column - line.column + 1, trouble.code, trouble.message)
        self._add(line, told, _beats_of([f for _, f in fitted], counts.beats), call)

    @staticmethod
    def _fit(reading: Reading, beats: int) -> list[Fit] | None:
        """ "Charleston: step R forward, ...": a name before a colon is passed over where what comes after it fits."""
        fits = fit(reading.specs, beats)
        if fits is None and reading.labelled:
            fits = fit(reading.specs[reading.labelled :], beats)
            if fits is not None:
                del reading.specs[: reading.labelled]
        return fits

    def _mismatch(self, line: Line, counts: Counts, specs: list[Spec], text: str) -> None:
        count, beats = movements_of(specs), len(counts.beats)
        labels = " ".join(beat.label for beat in counts.beats)
        mend = "give each movement a count of its own (1&2 has three), or take one out"
        if count < beats:
            usual = "say what is danced on the others, or write 'hold'"
            mend = next((f"say {s.figure.asks}" for s in specs if s.figure is not None and s.figure.asks), usual)
        told = f"{'1 movement' if count == 1 else f'{count} movements'} told for {_counts(beats)} ({labels})"
        self._find(line, counts.end + 1, "counts-mismatch", f"{told}: {_clip(text.strip())!r}; {mend}")

    def _tell_unreadable(self, line: Line, troubles: list[Trouble]) -> None:
        for trouble in troubles:
            if not trouble.bare:
                self._find(line, trouble.column - line.column + 1, trouble.code, trouble.message)
        unknown = [t for t in troubles if t.bare]
        if unknown:
            words = ", ".join(repr(t.message) for t in unknown[:_WORDS_TOLD])
            near = nearest(unknown[0].message, self.context.vocabulary)
            hint = f" (near: {', '.join(near)})" if near else "; say what the feet do, such as 'step R forward'"
            self._find(line, unknown[0].column - line.column + 1, "unreadable", f"can't read {words}{hint}")

    def _unread(self, line: Line, counts: Counts | None) -> None:
        """Leaves a mark on each of the line's counts: something is danced there, nobody knows what."""
        place = Place(line.number, line.column)
        self._span(
            line, [Step(b.at, b.label, UNREAD, place) for b in counts.beats] if counts else [], Span(0, 0, "", [])
        )
        self.weight = None

    def _add(self, line: Line, told: Told, beats: list[Beat], call: str) -> None:
        steps = [
            Step(beat.at, beat.label, movement, Place(line.number, column))
            for movement, column, beat in zip(told.movements, told.columns, beats, strict=True)
        ]
        first = len(self.steps)
        named = [Named(n.first + first, n.last + first, n.figure, n.way, n.lead, n.turn) for n in told.named]
        self._span(line, steps, Span(0, 0, call, named))
        for index, stated, column in told.stated:
            self._claim(first + index, stated, line, column)
        unsure = any(
            m.action == "unread" or (m.foot is None and m.weight is None and m.action in _BEARING)
            for m in told.movements
        )
        self.weight = None if unsure else told.weight

    def _span(self, line: Line, steps: list[Step], span: Span) -> None:
        if steps:
            span.first, span.last = len(self.steps), len(self.steps) + len(steps) - 1
            self.spans.append(span)
        self.steps += steps
        self.lines += [line.number] * len(steps)

    # -- repeats

    def _repeat(self, line: Line, counts: Counts, repeat: Repeat, call: str, before: int) -> None:
        context = self.context
        try:
            steps = repeated(
                repeat, counts, Danced(self.steps, context.first_count, before, context.base, context.earlier)
            )
        except CannotRepeat as why:
            self._find(line, counts.end + 1, why.code, why.message)
            self._unread(line, counts)
            return
        place = Place(line.number, line.column + counts.end)
        self._span(line, [replace(step, place=place) for step in steps], Span(0, 0, call, []))
        for step in steps:
            self.counting.mark(step.at)
            self.weight = None if step.movement.action == "unread" else step.movement.weight or self.weight
        for text, at in repeat.asides:
            column = line.column + counts.end + at
            self._asides(line, read_specs(lex(text, context.vocabulary, column), context.vocabulary))

    # -- claims and findings

    def _asides(self, line: Line, reading: Reading) -> None:
        """Notes, and what is stated before the first movement."""
        self.notes += [(note, line.number) for note in reading.notes]
        for stated, column in reading.before:
            self._claim(len(self.steps) - 1, stated, line, column)

    def _claim(self, after: int, stated: Stated, line: Line, column: int) -> None:
        if stated.facing is None and stated.weight is None:
            message = f"{stated.text!r} is no facing: say one of {_FACINGS}"
            self._find(line, column - line.column + 1, "facing", message)
            return
        self.claims.append(Claim(after, stated.facing, stated.weight, Place(line.number, column)))

    def _find(self, line: Line, column: int, code: str, message: str) -> None:
        self.findings.append(line.finding(column, code, message))


def _beats_of(fits: Sequence[Fit], beats: tuple[Beat, ...]) -> list[Beat]:
    """The beat of each movement: the first beats of its specification, or the one before where it shares."""
    placed: list[Beat] = []
    at = 0
    for one in fits:
        if one.shares:
            placed += [beats[max(0, at - 1)]] * one.moves
        else:
            placed += beats[at : at + one.moves]
            at += one.beats
    return placed


def _counts(number: int) -> str:
    return "1 count" if number == 1 else f"{number} counts"


def _clip(text: str, most: int = _MOST_SHOWN) -> str:
    return text if len(text) <= most else text[: most - 1] + "\u2026"
