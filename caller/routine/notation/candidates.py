"""The ways in which one description can be read, likeliest first.

What an author writes round the steps (a name before a colon, a heading in capitals, the steps in brackets behind a
figure's name, words that nobody knows) is passed over only where what is left fits; whoever asks weighs each way by how
it fits the counts and the feet, and stops at the first that fits without doubt.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from caller.routine.notation.fitting import ON_BOTH, Fitting, fit, fits_plainly
from caller.routine.notation.grammar import read_specs
from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.nearest import correction
from caller.routine.notation.shapes import shapes
from caller.routine.notation.spec import Reading, Spec, Trouble
from caller.routine.notation.variants import variants, with_claps
from caller.routine.notation.words import lexed
from caller.routine.vocabulary import Vocabulary

_MOST_UNKNOWN = 6  # words nobody knows, more of which make a line unread
_MOST_TEXT = 400  # characters: longer lines are read in the plain way only
_CORRECTED, _DROPPED = 2.0, 3.0
_UNWILLING = 5.0  # a fitting with more give than this may be bettered by another reading


@dataclass(slots=True)
class Effort:
    """How many readings beyond the plain ones may still be tried: text that is no sheet must not take for ever."""

    left: int = 3000

    def spend(self, much: int) -> bool:
        self.left -= much
        return self.left > 0


@dataclass(slots=True)
class Candidate:
    """One way to read a description. cost: what had to be taken for granted; guesses: that in words, with columns;
    dropped: words passed over."""

    cost: float
    reading: Reading
    specs: Sequence[Spec]
    fittings: Sequence[Fitting]
    guesses: list[tuple[int, str]] = field(default_factory=list)
    dropped: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Plain:
    """The plain reading of a description: whatever becomes of it, its notes and troubles are the line's."""

    reading: Reading
    unknown: tuple[Lexeme, ...]
    ends_unknown: bool = False  # a word that nobody knows stands in the last of its movements

    @property
    def grave(self) -> list[Trouble]:
        """Troubles that no other reading mends."""
        return [trouble for trouble in self.reading.troubles if not trouble.bare]


@lru_cache(maxsize=2048)  # nothing that is read from it is ever changed
def plain_reading(text: str, vocabulary: Vocabulary) -> Plain:
    lexemes = lexed(text, vocabulary)
    unknown = tuple(x for x in lexemes if x.kind is LexemeKind.UNKNOWN)
    last = max((x.column for x in lexemes if x.kind is LexemeKind.SEPARATOR), default=0) if unknown else 0
    return Plain(read_specs(lexemes, vocabulary), unknown, bool(unknown) and unknown[-1].column > last)


def candidates(text: str, plain: Plain, beats: int, vocabulary: Vocabulary, effort: Effort) -> Iterator[Candidate]:
    """Every reading that fits the beats; columns from the text's own start."""
    if (clapped := with_claps(text)) != text and (found := _plainly(clapped, beats, vocabulary)):
        yield from found
        return
    if not plain.reading.troubles:
        lowest = _UNWILLING
        for one in _fitted(plain.reading, beats, vocabulary, 0.0, text):
            lowest = min(lowest, *(fitting.give for fitting in one.fittings))
            yield one
        if lowest < _UNWILLING:
            return  # what the words plainly say stands, whatever is wrong with it
    if len(text) > _MOST_TEXT or not effort.spend(2 + len(plain.unknown)):
        return
    for cost, variant in variants(text):
        yield from _of_text(variant, beats, vocabulary, cost)


def _plainly(text: str, beats: int, vocabulary: Vocabulary) -> list[Candidate]:
    """What the words plainly say, where it fits the beats; else nothing."""
    plain = plain_reading(text, vocabulary)
    if plain.unknown or plain.reading.troubles:
        return []
    return [one for one in _fitted(plain.reading, beats, vocabulary, 0.0, text) if one.fittings]


def _of_text(text: str, beats: int, vocabulary: Vocabulary, cost: float) -> Iterator[Candidate]:
    lexemes = lexed(text, vocabulary)
    unknown = [x for x in lexemes if x.kind is LexemeKind.UNKNOWN]
    if not unknown:
        if cost:
            reading = read_specs(lexemes, vocabulary)
            if not reading.troubles:
                yield from _fitted(reading, beats, vocabulary, cost, text)
        elif not (reading := read_specs(lexemes, vocabulary)).troubles:
            yield from _reshaped(reading, beats, vocabulary, text)
        return
    if len(unknown) > _MOST_UNKNOWN or any("/" in x.text for x in unknown):
        return
    mended = [(x, near) for x in unknown if (near := correction(x.text, vocabulary))]
    if mended:
        yield from _corrected(text, mended, beats, vocabulary, cost)
    yield from _without(lexemes, [x.text for x in unknown], beats, vocabulary, cost, text)


def _corrected(
    text: str, mended: Sequence[tuple[Lexeme, str]], beats: int, vocabulary: Vocabulary, cost: float
) -> Iterator[Candidate]:
    """Words that are nearly known taken as those."""
    better = text
    for lexeme, near in reversed(mended):
        at = lexeme.column - 1
        better = better[:at] + near + better[at + len(lexeme.text) :]
    lexemes = lexed(better, vocabulary)
    told = [(x.column, f"{x.text!r} is taken as {near!r}; write that to be sure") for x, near in mended]
    rest = [x.text for x in lexemes if x.kind is LexemeKind.UNKNOWN]
    cost += _CORRECTED * len(mended)
    if rest:
        yield from _without(lexemes, rest, beats, vocabulary, cost, better, told)
        return
    reading = read_specs(lexemes, vocabulary)
    if not reading.troubles:
        for one in _fitted(reading, beats, vocabulary, cost, better):
            one.guesses += told
            yield one


def _without(
    lexemes: Sequence[Lexeme],
    words: Sequence[str],
    beats: int,
    vocabulary: Vocabulary,
    cost: float,
    text: str,
    told: Sequence[tuple[int, str]] = (),
) -> Iterator[Candidate]:
    """Words nobody knows passed over."""
    kept = [x for x in lexemes if x.kind is not LexemeKind.UNKNOWN]
    reading = read_specs(kept, vocabulary)
    if reading.troubles or not reading.specs:
        return
    for one in _fitted(reading, beats, vocabulary, cost + _DROPPED * len(words), text):
        one.guesses += told
        one.dropped = tuple(words)
        yield one


def _fitted(reading: Reading, beats: int, vocabulary: Vocabulary, cost: float, text: str) -> Iterator[Candidate]:
    if not reading.specs:
        return
    open_verbs = leaves_open(reading.specs)
    plainly = None if open_verbs else fits_plainly(reading.specs, beats)
    if plainly is not None:
        yield Candidate(cost, reading, reading.specs, (plainly,))
    fittings = fit(reading.specs, beats, vocabulary)
    if fittings:
        yield Candidate(cost, reading, reading.specs, fittings)
    if cost and plainly is None:
        for one in _reshaped(reading, beats, vocabulary, text):
            one.cost += cost
            yield one


def leaves_open(specs: Sequence[Spec]) -> bool:
    """Whether the words can be danced in more than one way, so that what comes after has to tell."""
    last = specs[-1].verb if specs else None
    return any(spec.other for spec in specs) or (last is not None and last.name in ON_BOTH)


def _reshaped(reading: Reading, beats: int, vocabulary: Vocabulary, text: str) -> Iterator[Candidate]:
    """Readings that take some of what is told as the name or the number of the rest."""
    specs = reading.specs
    if not specs:
        return
    for cost, shaped in shapes(reading, text, vocabulary):
        if shaped and (fittings := fit(shaped, beats, vocabulary)):
            yield Candidate(cost, reading, shaped, fittings)
