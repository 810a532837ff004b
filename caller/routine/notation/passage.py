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
from caller.routine.findings import Finding, Place
from caller.routine.layout.lines import Line
from caller.routine.notation.candidates import Effort, Plain, plain_reading
from caller.routine.notation.counting import Counting
from caller.routine.notation.feet import UNREAD, Named
from caller.routine.notation.fitting import movements_of
from caller.routine.notation.lexeme import Kind
from caller.routine.notation.natural import natural_counts
from caller.routine.notation.nearest import nearest
from caller.routine.notation.phrasing import Span, phrases_of
from caller.routine.notation.repeats import CannotRepeat, Danced, Repeat, read_repeat, repeated
from caller.routine.notation.spec import Reading, Spec
from caller.routine.notation.standard import movements_written
from caller.routine.notation.stated import Stated
from caller.routine.notation.weighing import Outcome, Stance, outcomes
from caller.routine.notation.words import lexed
from caller.routine.parts import Claim, Feel, LineWords, Passage, Step
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_QUOTES = '"\u201c\u201d\u201f'
_CALL = re.compile(rf"[{_QUOTES}]([^{_QUOTES}]*)[{_QUOTES}]\s*$")
_MOST_SHOWN = 60  # characters of a line in a finding
_WORDS_TOLD = 4
_FACINGS = "12:00, 1:30, 3:00, 4:30, 6:00, 7:30, 9:00, 10:30"
_MOST_PATHS = 6  # carried on at once
# What it costs to leave a line unread whose words are not all known: less than what then can't be danced after it.
_LEFT_UNREAD = 9.0


@dataclass(slots=True)
class Context:
    """What lines are read with.

    base: counts before this section where the numbers run on. length: counts that a replacement or option must fill;
    short: code and place of the finding where it does not (None: counts-gap, at the last line). first_count: the
    count that the first line falls on. carried: what stands before goes over into count 1 ("8&1"). earlier: sections
    read so far, by number (for "repeat section 1"). effort: what may still be tried, shared by all passages of a sheet.
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


@dataclass(slots=True)
class ReadPassage:
    """weight: after the last step, None where it can't be known."""

    passage: Passage
    findings: list[Finding]
    weight: Weight | None


def read_passage(lines: Sequence[Line], context: Context, weight: Weight | None) -> ReadPassage:
    """The passage that these step lines write, danced from ``weight`` on (None = unknown)."""
    return _PassageReader(context, weight).read(lines)


@dataclass(frozen=True, slots=True)
class _Described:
    """A line of steps on its way. column: of its words; text: without the call."""

    line: Line
    counts: Counts
    text: str
    column: int
    call: str
    plain: Plain


@dataclass(frozen=True, slots=True)
class _Path:
    """One way through the lines since the last that left no doubt, the latest line first."""

    cost: float
    stance: Stance
    chain: tuple[tuple[_Described, Outcome], ...] = ()


class _PassageReader:
    def __init__(self, context: Context, weight: Weight | None) -> None:
        self.context = context
        self.weight = weight
        self.counting = Counting(context.first_count, context.carried)
        self.paths = [_Path(0.0, Stance(weight))]
        self.steps: list[Step] = []
        self.lines: list[int] = []  # of each step
        self.claims: list[Claim] = []
        self.notes: list[tuple[str, int]] = []  # with their lines
        self.findings: list[Finding] = []
        self.spans: list[Span] = []
        self.words: list[LineWords] = []

    def read(self, lines: Sequence[Line]) -> ReadPassage:
        for line in _joined(lines, self.context.vocabulary):
            self._line(line)
        self._doubt_the_last()
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
        return ReadPassage(passage, self.findings, self.weight)

    # -- one line

    def _line(self, line: Line) -> None:
        base = self.context.base
        counts = read_counts(line.text, self.context.feel, base, self.counting.whole + base)
        if counts is None:
            message = f"this line does not begin with counts (such as 1-2 or 3&4): {_clip(line.text)!r}"
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
        elif (repeat := read_repeat(text.strip())) is not None:
            self._repeat(line, counts, repeat, call, before)
        else:
            plain = plain_reading(text, self.context.vocabulary)
            within = self._within(line, counts, plain.reading.specs, before)
            self._description(_Described(line, within, text, counts.end, call, plain))

    def _within(self, line: Line, counts: Counts, specs: Sequence[Spec], before: int) -> Counts:
        """The counts of the line's movements, by their own rhythm where it gives only its first and last count."""
        if movements_of(specs) <= len(counts.beats) or (told := natural_counts(specs, counts)) is None:
            return counts
        found = read_counts(f"{told} x", self.context.feel, self.context.base, before + self.context.base)
        if found is None:
            return counts
        message = f"which step falls on which count is not told; taken as {told}: write the counts to be sure"
        self._find(line, 1, "guess", message)
        return found

    def _description(self, one: _Described) -> None:
        """Carries each path on over the line, or leaves it unread."""
        onward: dict[object, _Path] = {}
        for path in self.paths if not one.plain.grave else ():
            found = outcomes(
                one.text, one.plain, one.counts.beats, path.stance, self.context.vocabulary, self.context.effort
            )
            if any(outcome.candidate is not None and outcome.candidate.dropped for outcome in found):
                found.append(Outcome(_LEFT_UNREAD, Stance(None)))
            for outcome in found:
                if outcome.candidate is not None and outcome.candidate.dropped and _doubtful(outcome):
                    continue
                cost = path.cost + outcome.cost
                known = onward.get(outcome.after.key)
                if known is None or cost < known.cost:
                    onward[outcome.after.key] = _Path(cost, outcome.after, (*path.chain, (one, outcome)))
        if any(path.chain[-1][1].candidate is not None for path in onward.values()):
            self.paths = sorted(onward.values(), key=lambda path: path.cost)[:_MOST_PATHS]
            if len(self.paths) == 1:
                self._settle()
            return
        self._settle()
        self._leave_unread(one)
        self._restart_from(None)

    def _doubt_the_last(self) -> None:
        """Nothing follows that could show what the last line's unknown words leave the weight on."""
        if not self.paths[0].chain:
            return
        one, outcome = self.paths[0].chain[-1]
        if outcome.candidate is not None and outcome.candidate.dropped and one.plain.ends_unknown:
            unread = [path for path in self.paths if path.chain[-1][1].candidate is None]
            self.paths = unread or self.paths

    def _leave_unread(self, one: _Described) -> None:
        self._asides(one, one.plain.reading)
        self._tell_unread(one)
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
        self.paths = [_Path(0.0, best.stance)]

    def _restart_from(self, weight: Weight | None) -> None:
        """On from a line that no reading was weighed for."""
        self.weight = weight
        before = self.steps[-1].movement if self.steps else None
        self.paths = [_Path(0.0, Stance(weight, None, before))]

    def _tell_unread(self, one: _Described) -> None:
        reading, unknown = one.plain.reading, one.plain.unknown
        column = one.column
        if one.plain.grave:
            for trouble in one.plain.grave:
                self._find(one.line, column + trouble.column, trouble.code, trouble.message)
        elif unknown:
            words = ", ".join(repr(x.text) for x in unknown[:_WORDS_TOLD])
            near = nearest(unknown[0].text, self.context.vocabulary) if self.context.effort.spend(10) else ()
            hint = f" (near: {', '.join(near)})" if near else ""
            told = f"can't read {words}{hint}; the line is called as it stands and not checked"
            self._find(one.line, column + unknown[0].column, "unread", f"{told}: say what the feet do")
        elif not reading.specs:
            message = f"nothing here says what the feet do, so it is called as it stands: {_clip(one.text.strip())!r}"
            self._find(one.line, column + 1, "unread", message)
        else:
            self._mismatch(one, reading.specs)

    def _mismatch(self, one: _Described, specs: Sequence[Spec]) -> None:
        count, beats = movements_of(specs), len(one.counts.beats)
        labels = " ".join(beat.label for beat in one.counts.beats)
        mend = "give each movement a count of its own (1&2 has three), or take one out"
        if count < beats:
            usual = "say what is danced on the others, or write 'hold'"
            mend = next((f"say {s.figure.asks}" for s in specs if s.figure is not None and s.figure.asks), usual)
        told = f"{'1 movement' if count == 1 else f'{count} movements'} told for {_counts(beats)} ({labels})"
        if not _beyond_doubt(specs, one.text):
            told = f"{told}, as far as it can be read"
            message = f"{told}: {_clip(one.text.strip())!r}; it is called as it stands and not checked"
            self._find(one.line, one.column + 1, "unread", message)
            return
        message = f"{told}: {_clip(one.text.strip())!r}; {mend}"
        self._find(one.line, one.column + 1, "counts-mismatch", message)

    def _unread(self, line: Line, counts: Counts | None, words: str) -> None:
        self._settle()
        self._mark_unread(line, counts, words)
        self._restart_from(None)

    def _mark_unread(self, line: Line, counts: Counts | None, words: str) -> None:
        """Leaves a mark on each of the line's counts: something is danced there, nobody knows what."""
        place = Place(line.number, line.column)
        steps = [Step(b.at, b.label, UNREAD, place) for b in counts.beats] if counts else []
        self._span(line, steps, Span(0, 0, "", [], words), words)

    def _add(self, one: _Described, outcome: Outcome) -> None:
        line, told, candidate = one.line, outcome.told, outcome.candidate
        assert told is not None
        assert candidate is not None
        self._asides(one, candidate.reading)
        for trouble in told.troubles:
            self._find(line, one.column + trouble.column, trouble.code, trouble.message)
        self._tell_guesses(one, outcome)
        steps = [
            Step(beat.at, beat.label, movement, _place(line, one.column + column))
            for movement, column, beat in zip(told.movements, told.columns, outcome.beats, strict=True)
        ]
        first = len(self.steps)
        named = [Named(n.first + first, n.last + first, n.figure, n.way, n.lead, n.turn) for n in told.named]
        self._span(line, steps, Span(0, 0, one.call, named), one.text.strip())
        for index, stated, column in told.stated:
            self._claim(first + index, stated, line, one.column + column)

    def _tell_guesses(self, one: _Described, outcome: Outcome) -> None:
        told, candidate = outcome.told, outcome.candidate
        assert told is not None
        assert candidate is not None
        for column, message in [*candidate.guesses, *told.guesses]:
            self._find(one.line, one.column + column, "guess", message)
        if candidate.dropped:
            shared = [n > 0 and beat is outcome.beats[n - 1] for n, beat in enumerate(outcome.beats)]
            read = ", ".join(movements_written(told.movements, shared, self.context.vocabulary))
            words = ", ".join(repr(word) for word in candidate.dropped[:_WORDS_TOLD])
            verb = "is" if len(candidate.dropped) == 1 else "are"
            message = (
                f"{words} {verb} not known here and passed over; read as {_clip(read, 90)!r}: write that to be sure"
            )
            column = one.plain.unknown[0].column if one.plain.unknown else 1
            self._find(one.line, one.column + column, "guess", message)

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
        weight = self.weight
        for step in steps:
            self.counting.mark(step.at)
            weight = None if step.movement.action == "unread" else step.movement.weight or weight
        self._restart_from(weight)
        for text, at in repeat.asides:
            plain = plain_reading(text, context.vocabulary)
            self._asides(_Described(line, counts, text, counts.end + at, call, plain), plain.reading)

    # -- claims and findings

    def _asides(self, one: _Described, reading: Reading) -> None:
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


def _doubtful(outcome: Outcome) -> bool:
    return outcome.conflicts > 0 or (outcome.told is not None and bool(outcome.told.troubles))


def _joined(lines: Sequence[Line], vocabulary: Vocabulary) -> list[Line]:
    """ "swivel heels R (5), L (6)": a piece of a line that has no verb of its own goes on with the piece before it."""
    joined: list[Line] = []
    for line in lines:
        before = joined[-1] if joined else None
        if before is not None and before.number == line.number and not _says_what(line, vocabulary):
            first, more = read_counts(before.text), read_counts(line.text)
            if first is not None and more is not None and _says_what(before, vocabulary):
                counts = f"{before.text[: first.end].strip(' :.)')},{line.text[: more.end].strip(' :.)')}"
                words = f"{before.text[first.end :].rstrip(' ,;.')}, {line.text[more.end :]}"
                joined[-1] = replace(before, text=f"{counts}  {words}", exact=False)
                continue
        joined.append(line)
    return joined


def _says_what(line: Line, vocabulary: Vocabulary) -> bool:
    counts = read_counts(line.text)
    lexemes = lexed(line.text[counts.end :], vocabulary) if counts else ()
    return any(x.kind not in (Kind.FEET, Kind.LIST, Kind.NOISE, Kind.SEPARATOR, Kind.CLAIM, Kind.NOTE) for x in lexemes)


def _counts(number: int) -> str:
    return "1 count" if number == 1 else f"{number} counts"


def _beyond_doubt(specs: Sequence[Spec], text: str) -> bool:
    """Whether only the counts can be wrong: each piece of the line is one figure, or one movement of a named foot,
    and nothing stands beside it."""
    pieces = [piece for piece in re.split(r"[,;.]|\bthen\b|\band\b", text) if piece.strip()]
    plain = all(
        spec.figure is not None or (spec.verb is not None and (bool(spec.feet) or spec.verb.footless)) for spec in specs
    )
    return plain and len(specs) <= len(pieces) and not re.search(r"[(\[]|\bwith\b|\bwhile\b|\bas\b|ing\b", text)


def _clip(text: str, most: int = _MOST_SHOWN) -> str:
    return text if len(text) <= most else text[: most - 1] + "\u2026"
