"""Step lines to a passage: counts, movements, phrases to call, and what is wrong with them.

Lines are read in order, each starting with the weight that the one before left. A line that can't be read leaves an
"unread" movement behind, so that its one fault is told once and nothing is guessed after it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from caller.routine.count import Beat, Counts, read_counts
from caller.routine.facing import Facing
from caller.routine.findings import Finding, Place
from caller.routine.naming import movement_name
from caller.routine.notation.feet import UNREAD, Named, Told, settle
from caller.routine.notation.fitting import fit, merge_turns, movements_of
from caller.routine.notation.grammar import Spec, Trouble, read_specs
from caller.routine.notation.nearest import nearest
from caller.routine.notation.words import lex
from caller.routine.parts import Claim, Feel, Passage, Phrase, Step
from caller.routine.recognise import Found, figure_phrase, group
from caller.routine.step import Foot, Movement, Weight
from caller.routine.vocabulary import Vocabulary

_CALL = re.compile(r"[\"\u201c\u201d\u201f]([^\"\u201c\u201d\u201f]*)[\"\u201c\u201d\u201f]\s*$")
_REPEAT = re.compile(
    r"^(?:repeat|rpt|same as)\s+(?:(?:the\s+)?(?:counts?|steps?)\s+)?(?:(?P<first>\d+)\s*(?:-|\u2010|\u2013|\u2014|to)\s*(?P<last>\d+)|(?P<what>section|sec|s)\s*(?P<section>\d+)|(?P<above>above))"
    r"(?P<rest>.*)$",
    re.IGNORECASE,
)
_MIRROR = re.compile(
    r"(?:leading|starting|start|lead|beginning)\s+(?:with\s+|on\s+)?(?:the\s+)?(?P<foot>left|right|l|r)\b|(?P<other>(?:on|with|to|using)\s+(?:the\s+)?(?:other|opposite)\s+(?:foot|feet|side)|mirrored|mirror image|reversed)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Line:
    """One step line as it stands. text: from its first character on; column: of that character."""

    number: int
    column: int
    text: str


@dataclass(slots=True)
class Context:
    """What a line is read with. earlier: sections read so far, by number (for "repeat section 1")."""

    feel: Feel
    vocabulary: Vocabulary
    base: int = 0
    length: int | None = None  # counts that a replacement or option must fill
    short: tuple[str, Place] | None = None  # code and place of the finding where it does not; None: counts-gap, last line
    first_count: int = 1
    earlier: Mapping[int, Passage] = field(default_factory=dict)


@dataclass(slots=True)
class ReadPassage:
    passage: Passage
    findings: list[Finding]
    weight: Weight | None  # after it
    lines: list[int]  # the line of each step


@dataclass(slots=True)
class _Span:
    """The steps of one line, and what it calls them."""

    first: int
    last: int
    call: str
    named: list[Named]
    groups: list[Phrase] | None = None  # those of a repeat


class PassageReader:
    def __init__(self, context: Context, weight: Weight | None) -> None:
        self.context = context
        self.weight = weight
        self.steps: list[Step] = []
        self.lines: list[int] = []
        self.claims: list[Claim] = []
        self.notes: list[str] = []
        self.findings: list[Finding] = []
        self.spans: list[_Span] = []
        self.taken: set[Fraction] = set()
        self.highest: Fraction = Fraction(context.first_count - 2)
        self.whole = context.first_count - 1  # highest whole count seen
        self.gaps_told = False
        self.gap: tuple[Finding, range] | None = None  # the last gap told, and the counts it misses

    def read(self, lines: Sequence[Line]) -> ReadPassage:
        for line in lines:
            self._line(line)
        counts = max(self.whole, 0)
        self._check_length(lines)
        return ReadPassage(
            Passage(counts, tuple(self.steps), tuple(self._phrases()), tuple(self.claims), tuple(self.notes)), self.findings, self.weight, self.lines
        )

    def _check_length(self, lines: Sequence[Line]) -> None:
        """A replacement or option fills just the counts that its heading gives."""
        wanted, first = self.context.length, self.context.first_count
        if wanted is None or not lines or self.gaps_told or self.whole == first + wanted - 1:
            return
        base = self.context.base
        code, place = self.context.short or ("counts-gap", Place(lines[-1].number, lines[-1].column))
        until = first + wanted - 1
        self.findings.append(Finding(place, code, f"the lines here must fill counts {first + base} to {until + base}; they end on count {self.whole + base}"))

    # -- one line

    def _line(self, line: Line) -> None:
        counts = read_counts(line.text, self.context.feel, self.context.base, self.whole + self.context.base)
        if counts is None:
            self._find(line, 1, "unreadable", f"this line does not begin with counts (such as 1-2 or 3&4): {_clip(line.text)!r}")
            self._unread(line, None)
            return
        self._check_counts(line, counts)
        text = line.text[counts.end :]
        call = ""
        if (quoted := _CALL.search(text)) is not None:
            call, text = quoted.group(1).strip(), text[: quoted.start()]
        column = line.column + counts.end
        if not text.strip():
            self._find(line, counts.end + 1, "unreadable", "nothing is danced on these counts; say what, or 'hold'")
            self._unread(line, counts)
        elif (repeat := _REPEAT.match(text.strip())) is not None:
            self._repeat(line, counts, repeat, call)
        else:
            self._description(line, counts, text, column, call)

    def _description(self, line: Line, counts: Counts, text: str, column: int, call: str) -> None:
        reading = read_specs(lex(text, self.context.vocabulary, column), self.context.vocabulary)
        self.notes += reading.notes
        for stated, at in reading.before:
            self._claim(len(self.steps) - 1, stated.facing, stated.weight, line, at, stated.text)
        if reading.troubles:
            self._tell_unreadable(line, reading.troubles)
            self._unread(line, counts)
            return
        if not reading.specs:
            self._find(line, column - line.column + 1, "unreadable", f"nothing here says what to dance: {_clip(text.strip())!r}")
            self._unread(line, counts)
            return
        fits = fit(reading.specs, len(counts.beats))
        if fits is None:
            self._mismatch(line, counts, reading.specs, text, column)
            return
        fitted = merge_turns(reading.specs, fits, self.context.vocabulary)
        told = settle(fitted, self.weight)
        for trouble in told.troubles:
            self._find(line, trouble.column - line.column + 1, trouble.code, trouble.message)
        beats = _beats_of([f for _, f in fitted], counts.beats)
        self._add(line, told, beats, call)

    def _mismatch(self, line: Line, counts: Counts, specs: list[Spec], text: str, column: int) -> None:
        count = movements_of(specs)
        beats = " ".join(beat.label for beat in counts.beats)
        asks = next((s.figure.asks for s in specs if s.figure is not None and s.figure.asks), "") if count < len(counts.beats) else ""
        mend = f"; say {asks}" if asks else "; give each movement a count of its own, or write 'hold' for those left over"
        one = "1 movement" if count == 1 else f"{count} movements"
        self._find(line, column - line.column + 1, "counts-mismatch", f"{one} told for {len(counts.beats)} counts ({beats}): {_clip(text.strip())!r}{mend}")
        self._unread(line, counts)

    def _tell_unreadable(self, line: Line, troubles: list[Trouble]) -> None:
        unknown = [t for t in troubles if " " not in t.message and t.code == "unreadable"]
        for trouble in troubles:
            if trouble not in unknown:
                self._find(line, trouble.column - line.column + 1, trouble.code, trouble.message)
        if unknown:
            words = ", ".join(repr(t.message) for t in unknown[:4])
            near = nearest(unknown[0].message, self.context.vocabulary)
            hint = f" (near: {', '.join(near)})" if near else ""
            self._find(line, unknown[0].column - line.column + 1, "unreadable", f"can't read {words}{hint}")

    def _unread(self, line: Line, counts: Counts | None) -> None:
        """Leaves a mark on each of the line's counts: something is danced there, nobody knows what."""
        beats = counts.beats if counts else ()
        first = len(self.steps)
        for beat in beats:
            self.steps.append(Step(beat.at, beat.label, UNREAD, Place(line.number, line.column)))
            self.lines.append(line.number)
        if beats:
            self.spans.append(_Span(first, len(self.steps) - 1, "", []))
        self.weight = None

    def _add(self, line: Line, told: Told, beats: list[Beat], call: str) -> None:
        first = len(self.steps)
        for movement, column, beat in zip(told.movements, told.columns, beats, strict=True):
            self.steps.append(Step(beat.at, beat.label, movement, Place(line.number, column)))
            self.lines.append(line.number)
        for index, stated, column in told.stated:
            self._claim(first + index, stated.facing, stated.weight, line, column, stated.text)
        named = [replace(n, first=n.first + first, last=n.last + first) for n in told.named]
        self.spans.append(_Span(first, len(self.steps) - 1, call, named))
        self.weight = None if any(m.action == "unread" or (m.foot is None and m.weight is None and m.action in _BEARING) for m in told.movements) else told.weight

    def _claim(self, after: int, facing: Facing | None, weight: Weight | None, line: Line, column: int, text: str) -> None:
        if facing is None and weight is None:
            self._find(line, column - line.column + 1, "facing", f"{text!r} is no facing: say one of 12:00, 1:30, 3:00, 4:30, 6:00, 7:30, 9:00, 10:30")
            return
        self.claims.append(Claim(after, facing, weight, Place(line.number, column)))

    # -- counts

    def _check_counts(self, line: Line, counts: Counts) -> None:
        told = counts.backward
        if told:
            self._find(line, 1, "counts-order", "these counts run backwards")
        for beat in counts.beats:
            whole_before = self.whole
            if beat.at in self.taken:
                if not told:
                    self._find(line, 1, "counts-overlap", f"count {beat.label} is danced already")
                told = True
            elif beat.at < self.highest:
                self._not_missing(beat.number)
                if not told:
                    self._find(line, 1, "counts-order", f"count {beat.label} stands after a later one; put the lines in order")
                told = True
            elif not beat.part and beat.number > whole_before + 1:
                if not told:
                    missing = _span_words(whole_before + 1, beat.number - 1)
                    self._find(line, 1, "counts-gap", f"nothing is danced on {missing}, before count {beat.number}")
                    self.gaps_told = True
                    self.gap = (self.findings[-1], range(whole_before + 1, beat.number))
                told = True
            self.taken.add(beat.at)
            self.highest = max(self.highest, beat.at)
            self.whole = max(self.whole, beat.number if not beat.part else self.whole)

    def _not_missing(self, number: int) -> None:
        """Counts that stand later are out of order, not missing: one fault, told once."""
        if self.gap is not None and number in self.gap[1]:
            self.findings.remove(self.gap[0])
            self.gap = None

    # -- repeats

    def _repeat(self, line: Line, counts: Counts, match: re.Match[str], call: str) -> None:
        column = counts.end + 1
        source = self._source(line, match, column)
        if source is None:
            self._unread(line, counts)
            return
        steps, origin, length = source
        mirrored = self._mirrored(match["rest"], steps)
        if mirrored is None:
            self._find(line, column, "unreadable", f"can't read {match['rest'].strip()!r} after 'repeat' (say 'leading left' or 'on the other foot')")
            self._unread(line, counts)
            return
        start = counts.beats[0].at
        wanted = int(counts.beats[-1].at - start // 1) + 1 if counts.beats else 0
        times = wanted // length if length and wanted % length == 0 else 0
        asked = re.search(r"x\s?(\d)|(\d)\s?x|(twice)", match["rest"], re.IGNORECASE)
        if times == 0 or (asked and times != int(asked[1] or asked[2] or 2)):
            self._find(line, 1, "counts-mismatch", f"what is repeated lasts {length} counts, and {wanted} are given for it")
            self._unread(line, counts)
            return
        first = len(self.steps)
        for time in range(times):
            flip = mirrored and time % 2 == 0
            for step in steps:
                movement = _mirror(step.movement) if flip else step.movement
                at = step.at - origin + start + time * length
                self.steps.append(Step(at, _label(at, step.count), movement, Place(line.number, line.column + counts.end)))
                self.lines.append(line.number)
                self.weight = movement.weight or self.weight
                self.taken.add(at)
        self.spans.append(_Span(first, len(self.steps) - 1, call, []))
        self._trailing_claims(line, match["rest"])

    def _trailing_claims(self, line: Line, rest: str) -> None:
        at = line.text.rfind(rest) if rest else 0
        reading = read_specs(lex(" ".join(re.findall(r"\([^)]*\)|\[[^\]]*\]", rest)), self.context.vocabulary, line.column + max(at, 0)), self.context.vocabulary)
        self.notes += reading.notes
        for stated, column in reading.before:
            self._claim(len(self.steps) - 1, stated.facing, stated.weight, line, column, stated.text)

    def _source(self, line: Line, match: re.Match[str], column: int) -> tuple[list[Step], Fraction, int] | None:
        """The steps to do again, where they began, and their length in counts."""
        if match["section"]:
            passage = self.context.earlier.get(int(match["section"]))
            if passage is None:
                self._find(line, column, "unreadable", f"there is no section {match['section']} before this line to repeat")
                return None
            return list(passage.steps), Fraction(0), passage.counts
        if match["above"]:
            return list(self.steps), Fraction(self.context.first_count - 1), self.whole - self.context.first_count + 1
        first, last = int(match["first"]) - self.context.base, int(match["last"]) - self.context.base
        steps = [s for s in self.steps if first - 1 <= s.at < last or (s.at == Fraction(first - 1) - Fraction(1, 2) and s.count.endswith("&") and first == 1)]
        if not steps or first > last or last > self.whole:
            self._find(line, column, "unreadable", f"counts {match['first']}-{match['last']} are not danced before this line, so can't be repeated")
            return None
        return steps, Fraction(first - 1), last - first + 1

    @staticmethod
    def _mirrored(rest: str, steps: list[Step]) -> bool | None:
        """Whether the steps are done on the other foot; None where the words can't be read."""
        plain = re.sub(r"\([^)]*\)|\[[^\]]*\]|x\s?\d|\d\s?x|twice|again|[\s,;.]", "", _MIRROR.sub("", rest), flags=re.IGNORECASE)
        if plain:
            return None
        found = _MIRROR.search(rest)
        if found is None:
            return False
        if found["other"]:
            return True
        lead = next((s.movement.foot for s in steps if s.movement.foot is not None), None)
        return lead is not None and lead is not Foot(found["foot"][0].upper())

    # -- phrases

    def _phrases(self) -> list[Phrase]:
        """Phrases over all steps: quoted lines and named figures as they stand, figures recognised in the rest."""
        line_of = dict(enumerate(self.lines))
        phrases: list[Phrase] = []
        loose = 0  # first step not in a phrase yet
        for phrase in self._fixed():
            phrases += group(self.steps, loose, phrase.first, self.context.vocabulary, line_of)
            phrases.append(phrase)
            loose = phrase.last + 1
        return phrases + group(self.steps, loose, len(self.steps), self.context.vocabulary, line_of)

    def _fixed(self) -> list[Phrase]:
        fixed: list[Phrase] = []
        for span in self.spans:
            if span.call and span.last >= span.first:
                fixed.append(self._quoted(span))
            else:
                fixed += [figure_phrase(Found(n.first, n.last, n.figure, n.way, n.lead, n.turn), self.steps) for n in span.named if n.last > n.first]
        return fixed

    def _quoted(self, span: _Span) -> Phrase:
        """The sheet's own call first, then what the movements would be called."""
        line_of = dict.fromkeys(range(span.first, span.last + 1), 0)
        own: list[Phrase] = []
        at = span.first
        for n in span.named:
            own += group(self.steps, at, n.first, self.context.vocabulary, line_of)
            own.append(figure_phrase(Found(n.first, n.last, n.figure, n.way, n.lead, n.turn), self.steps))
            at = n.last + 1
        own += group(self.steps, at, span.last + 1, self.context.vocabulary, line_of)
        pieces = [piece.strip() for piece in span.call.split(",")]
        each = tuple(pieces) if len(pieces) == span.last - span.first + 1 else tuple(w for p in own for w in p.each)
        short = ", ".join(p.wordings[-1] for p in own)
        wordings = (span.call, short) if len(short) < len(span.call) else (span.call,)
        return Phrase(span.first, span.last, ", ".join(p.name for p in own), wordings, each)

    def _find(self, line: Line, column: int, code: str, message: str) -> None:
        self.findings.append(Finding(Place(line.number, max(1, line.column + column - 1)), code, message))


_BEARING = frozenset({"step", "walk", "run", "cross", "rock", "recover", "stomp", "stamp", "lunge", "press", "slide", "skate", "push", "drop", "leap", "pivot"})


def _beats_of(fits: list, beats: tuple[Beat, ...]) -> list[Beat]:  # type: ignore[type-arg]
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


def _mirror(movement: Movement) -> Movement:
    weight = {Weight.LEFT: Weight.RIGHT, Weight.RIGHT: Weight.LEFT}.get(movement.weight, movement.weight) if movement.weight else None
    return Movement(movement.action, movement.foot.other if movement.foot else None, movement.where, -movement.turn, weight)


def _label(at: Fraction, count: str) -> str:
    part = count.lstrip("0123456789")
    whole = at.numerator // at.denominator + 1
    return f"{whole if whole > 0 else ''}{part}"


def _span_words(first: int, last: int) -> str:
    return f"count {first}" if first == last else f"counts {first} to {last}"


def _clip(text: str, most: int = 60) -> str:
    return text if len(text) <= most else text[: most - 1] + "\u2026"


def names_of(passage: Passage) -> str:
    return ", ".join(movement_name(step.movement) for step in passage.steps)
