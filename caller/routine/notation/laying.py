"""A passage laid out as step lines: which steps stand on one line, its counts, its words, its call.

A line keeps its author's words, with tidy counts before them, where those read as the same steps; else it is told in
standard words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from itertools import groupby, pairwise
from math import ceil

from caller.routine.facing import Facing
from caller.routine.layout.counted import steps_on
from caller.routine.layout.lines import Line
from caller.routine.meter import Feel
from caller.routine.notation.dialect import plain_words
from caller.routine.notation.passage import Context, read_passage
from caller.routine.notation.rows import Row, rows_of
from caller.routine.notation.standard import movements_written
from caller.routine.passages import Claim, LineWords, Passage, Step
from caller.routine.step import Weight
from caller.routine.vocabulary import Vocabulary

_COUNTS_WIDTH = 7
_CALL_COLUMN = 60
NOTE = "Note: "
_BETWEEN = (", ", ". ")  # pieces of one line
_WORD = re.compile(r"\w+")


@dataclass(frozen=True, slots=True)
class Written:
    """source: the sheet's line that it comes from, 0 = none of its own."""

    text: str
    source: int = 0


class _Same(Enum):
    """How far words read back as what they are written for: not the steps, the steps, and what is called for them."""

    NOT = 0
    DANCED = 1
    CALLED = 2


def passage_lines(passage: Passage, feel: Feel, vocabulary: Vocabulary, prefix: str = "") -> list[Written]:
    """The step lines, and the notes near them. prefix: stands before the counts."""
    laying = _Laying(passage, feel, vocabulary, prefix)
    lines = [laying.line(row) for row in rows_of(passage, feel, laying.own)]
    for n, (note, line) in enumerate(zip(passage.notes, passage.note_lines, strict=True)):
        if n not in laying.inline_notes:  # below the last line that stands above it in the sheet
            at = max((m for m, before in enumerate(lines, 1) if before.source <= line), default=0)
            lines.insert(at, Written(f"{NOTE}{note}", line))
    return lines


class _Laying:
    def __init__(self, passage: Passage, feel: Feel, vocabulary: Vocabulary, prefix: str) -> None:
        self.passage = passage
        self.feel = feel
        self.vocabulary = vocabulary
        self.prefix = prefix
        self.inline_notes: set[int] = set()  # by index
        self.own = list(self._own_lines())

    def line(self, row: Row) -> Written:
        steps = self.passage.steps[row.first : row.last + 1]
        counts = self._counts(steps, row)
        head = self.prefix + counts
        head = head.ljust(_COUNTS_WIDTH) if len(head) < _COUNTS_WIDTH else f"{head}  "
        own = self._own_words(row, counts)
        words = own or self._words(row, counts)
        notes = list(self._notes(steps, row, own))
        text = head + own if own else head + words[0].upper() + words[1:] + "".join(f" ({note})" for note in notes)
        if call := self._call(row):
            text = f'{text.ljust(_CALL_COLUMN - 2)}  "{call}"'
        return Written(text, steps[0].place.line)

    def _call(self, row: Row) -> str:
        return next((p.call for p in self.passage.phrases if p.first == row.first and p.call), "")

    def _notes(self, steps: Sequence[Step], row: Row, own: str) -> Iterator[str]:
        """Notes of this line of the sheet, on the last line that it is written as. own: the author's words for it; what
        stands in none of the words of that line is a note of its own."""
        told = " ".join(words.text for words in self.own if words.line == steps[0].place.line)
        known = set(_WORD.findall(f"{told} {plain_words(told)}".lower()))
        lines = {step.place.line for step in steps}
        after = self.passage.steps[row.last + 1 : row.last + 2]
        going_on = {step.place.line for step in after} & lines
        for n, (note, line) in enumerate(zip(self.passage.notes, self.passage.note_lines, strict=True)):
            if line in lines - going_on and not (own and set(_WORD.findall(note.lower())) - known):
                self.inline_notes.add(n)
                yield note

    # -- counts

    def _counts(self, steps: Sequence[Step], row: Row) -> str:
        """ "1-2", "3&4", "&5": the beats of the steps, and the whole counts that a lasting movement fills."""
        marks: dict[Fraction, str] = {step.at: step.count.lstrip("0123456789") for step in steps}
        begin = ceil(steps[0].at)
        marks |= {Fraction(n): "" for n in range(begin, row.until) if Fraction(n) not in marks}
        counts = self.passage.counts
        within = _counts_written(sorted((at, part) for at, part in marks.items() if at < counts))
        over = _counts_written(sorted((at - counts, part) for at, part in marks.items() if at >= counts))
        return f"{within},{over}" if over and within[-1:].isdigit() else within + over

    # -- words

    def _own_lines(self) -> Iterator[LineWords]:
        """The author's words line by line: the pieces of one line together again, as many as read as the same."""
        for _, of_line in groupby(self.passage.words, key=lambda words: words.line):
            pieces = list(of_line)
            while pieces:
                several = range(len(pieces), 1, -1)
                joined = ((n, whole) for n in several if (whole := self._joined(pieces[:n])) is not None)
                taken, whole = next(joined, (1, pieces[0]))
                pieces = pieces[taken:]
                yield whole

    def _joined(self, pieces: Sequence[LineWords]) -> LineWords | None:
        first, last = pieces[0].first, pieces[-1].last
        steps = self.passage.steps
        if any(after.first != before.last + 1 for before, after in pairwise(pieces)):
            return None
        until = ceil(steps[last + 1].at) if last + 1 < len(steps) else self.passage.counts
        row = Row(first, last, until)
        counts = self._counts(steps[first : last + 1], row)
        for mark in _BETWEEN:
            text = mark.join(piece.text.rstrip(" ,;.") for piece in pieces)
            line = Line(1, 1, f"{counts}  {text}")
            alone = [one.text for one in steps_on(line)] == [line.text]
            if alone and self._reads(text, row, counts) is _Same.CALLED:
                return LineWords(first, last, pieces[0].line, text)
        return None

    def _own_words(self, row: Row, counts: str) -> str:
        """The author's words for just these steps, "" where there are none that read as them. What nobody can read has
        no other words than these."""
        steps = self.passage.steps[row.first : row.last + 1]
        unread = all(step.movement.action == "unread" for step in steps)
        for own in self.own:
            if (own.first, own.last) != (row.first, row.last):
                continue
            if unread or self._reads(own.text, row, counts) is not _Same.NOT:
                return own.text
        return ""

    def _words(self, row: Row, counts: str) -> str:
        """The first way to write the row that reads as the same steps, called the same where one does."""
        ways = list(self._ways(row))
        found = {words: self._reads(words, row, counts, guessing=False) for words in ways}
        same = [words for words in ways if found[words] is _Same.CALLED]
        return next(iter(same or [words for words in ways if found[words] is _Same.DANCED]), ways[-1])

    def _ways(self, row: Row) -> Iterator[str]:
        named = [f for phrase in self.passage.phrases for f in phrase.figures]
        figures = {f.first: f for f in named if row.first <= f.first <= f.last <= row.last}
        if figures:
            for after in ("", " diagonally"):
                yield self._told(row, {n: (f.last, f.words + after) for n, f in figures.items()})
        yield self._told(row, {})

    def _told(self, row: Row, figures: dict[int, tuple[int, str]]) -> str:
        """The row's words: figures by name, the rest by movements, each with what is stated after it."""
        pieces: list[str] = [self._claims(-1)] if row.first == 0 and self._claims(-1) else []
        n = row.first
        while n <= row.last:
            if n in figures:
                last, words = figures[n]
                pieces.append(words + self._stated(last))
                n = last + 1
                continue
            until = next((m for m in range(n, row.last + 1) if m in figures), row.last + 1)
            pieces += self._movements(n, until)
            n = until
        return ", ".join(pieces).replace("), with ", ") with ").replace(", with ", " with ").replace(" ,", ",")

    def _movements(self, first: int, until: int) -> list[str]:
        steps = self.passage.steps
        shared = [n > 0 and steps[n].at == steps[n - 1].at for n in range(first, until)]
        written = movements_written([s.movement for s in steps[first:until]], shared, self.vocabulary)
        return [words + self._stated(first + n) for n, words in enumerate(written)]

    def _stated(self, after: int) -> str:
        said = self._claims(after)
        return f" {said}" if said else ""

    def _claims(self, after: int) -> str:
        return " ".join(f"({_claim(c)})" for c in self.passage.claims if c.after == after)

    def _reads(self, words: str, row: Row, counts: str, guessing: bool = True) -> _Same:
        """Whether these words on these counts read as the row's steps and claims. guessing: though with a guess, or as
        what nobody can read."""
        wanted = self.passage.steps[row.first : row.last + 1]
        context = Context(self.feel, self.vocabulary, first_count=ceil(wanted[0].at) + 1)
        call = self._call(row)
        line = Line(1, 1, f"{counts}  {words}" + (f'  "{call}"' if call else ""))
        before = self._weight_before(row.first)
        claims = [
            replace(c, after=c.after - row.first)
            for c in self.passage.claims
            if row.first <= c.after <= row.last or (c.after == -1 and row.first == 0)
        ]
        phrases = tuple(
            replace(p, first=p.first - row.first, last=p.last - row.first)
            for p in self.passage.phrases
            if row.first <= p.first <= row.last
        )
        allowed = ("guess", "unread") if guessing else ()
        same = _Same.NOT
        for weight in [before] if before else list(Weight):
            read = read_passage([line], context, weight)
            if any(f.code not in allowed for f in read.findings) or read.passage.steps != wanted:
                continue
            if list(read.passage.claims) == claims:
                if read.passage.phrases == phrases:
                    return _Same.CALLED
                same = _Same.DANCED
        return same

    def _weight_before(self, first: int) -> Weight | None:
        """None where the passage does not say: at its head."""
        before = (s.movement.weight for s in reversed(self.passage.steps[:first]) if s.movement.weight)
        return next(before, None)


def _counts_written(marks: Sequence[tuple[Fraction, str]]) -> str:
    """ "1-2,3&4": whole counts in runs, each part with the counts on both sides of it."""
    tokens: list[str] = []
    token = ""  # ends with a part that waits for its next count
    run: list[int] = []
    for at, part in marks:
        if not part:
            run.append(int(at) + 1)
            continue
        if token and len(run) > 1:
            tokens.append(f"{token}{run.pop(0)}")
            token = ""
        if len(run) > 2 or (tokens and not token and len(run) > 1):
            tokens.append(_run(run[:-1]))
            run = run[-1:]
        token, run = f"{token}{_run(run)}{part}", []
    if token and len(run) > 2:
        tokens.append(f"{token}{run.pop(0)}")
        token = ""
    return ",".join([*tokens, *([f"{token}{_run(run)}"] if token or run else [])])


def _run(numbers: list[int]) -> str:
    """ "1-4" """
    if len(numbers) < 2:
        return "".join(map(str, numbers))
    return f"{numbers[0]}-{numbers[-1]}"


def _claim(claim: Claim) -> str:
    if claim.facing is not None:
        return str(Facing(claim.facing.eighths))
    assert claim.weight is not None
    return f"weight on {'both feet' if claim.weight is Weight.BOTH else claim.weight.value}"
