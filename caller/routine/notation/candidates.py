"""The ways in which one description can be read, likeliest first.

What an author writes round the steps (a name before a colon, a heading in capitals, the steps in brackets behind a
figure's name, words that nobody knows) is passed over only where what is left fits; whoever asks weighs each way by how
it fits the counts and the feet, and stops at the first that fits without doubt.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from caller.routine.figures import Figure
from caller.routine.notation.fitting import ON_BOTH, Fitting, fit, fits_plainly
from caller.routine.notation.grammar import read_specs
from caller.routine.notation.lexeme import Kind, Lexeme
from caller.routine.notation.nearest import correction
from caller.routine.notation.spec import Reading, Spec, Trouble
from caller.routine.notation.words import lexed
from caller.routine.vocabulary import Vocabulary

_MOST_UNKNOWN = 6  # words nobody knows, more of which make a line unread
_MOST_TEXT = 400  # characters: longer lines are read in the plain way only
_LABEL, _DASHED, _CAPITALS, _INLINE, _INSIDE = 1.0, 2.0, 2.0, 2.0, 3.0
_CORRECTED, _DROPPED = 2.0, 3.0
_EXPLAINED, _GROUP, _LONG, _BALL, _PARTED, _ENDING = 1.5, 1.5, 2.0, 1.5, 2.5, 0.6
_AND_LAST = re.compile(r"(?:&|\band|\+)\s*[.,;]?\s*$", re.IGNORECASE)
_AND_FIRST = re.compile(r"\s*(?:&|and\b|\+)", re.IGNORECASE)

_COLON = re.compile(r":(?!\d)")
# "step R forward and across L" is one movement where the counts say so.
_AND_WHERE = re.compile(
    r"\s(?:and|&)(?=\s+(?:slightly\s+)?(?:across|over|forward|fwd|back|behind|out|right|left|in front)\b)",
    re.IGNORECASE,
)
_ONE_MOVEMENT = 1.5
_DASH = re.compile(r"\s[-\u2010-\u2015=]+\s|(?<=[A-Za-z])[\u2013\u2014](?=\s)")
_CAPITALS_FIRST = re.compile(r"^\s*(?=[^a-z]*[A-Z]{3})(?:[A-Z0-9½¼¾&/,+.'-]+\s+)+?(?=[A-Z]?[a-z]+\b)")
_STANCE = re.compile(r"^\s*(?:with\s+)?(?:your\s+)?feet\b[^,;.]*[,;.]", re.IGNORECASE)
_STANCE_COST = 2.0
_BRACKETS = re.compile(r"[(\[]([^()\[\]]*[A-Za-z]{2}[^()\[\]]*)[)\]]")
_BIG = re.compile(r"\b(?:big|long|large|slow|slowly|huge|giant)\b", re.IGNORECASE)
_UNWILLING = 5.0  # a fitting with more give than this may be bettered by another reading
_BIG_STEPS = frozenset(("step", "slide", "cross", "walk", "lunge", "press"))


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
    unknown = tuple(x for x in lexemes if x.kind is Kind.UNKNOWN)
    last = max((x.column for x in lexemes if x.kind is Kind.SEPARATOR), default=0) if unknown else 0
    return Plain(read_specs(lexemes, vocabulary), unknown, bool(unknown) and unknown[-1].column > last)


def candidates(text: str, plain: Plain, beats: int, vocabulary: Vocabulary, effort: Effort) -> Iterator[Candidate]:
    """Every reading that fits the beats; columns from the text's own start."""
    if not plain.reading.troubles:
        lowest = _UNWILLING
        for one in _fitted(plain.reading, beats, vocabulary, 0.0, text):
            lowest = min(lowest, *(fitting.give for fitting in one.fittings))
            yield one
        if lowest < _UNWILLING:
            return  # what the words plainly say stands, whatever is wrong with it
    if len(text) > _MOST_TEXT or not effort.spend(2 + len(plain.unknown)):
        return
    for cost, variant in _variants(text):
        yield from _of_text(variant, beats, vocabulary, cost)


def _variants(text: str) -> Iterator[tuple[float, str]]:
    """The text with what may be no steps blanked out, columns kept."""
    yield 0.0, text
    if _AND_WHERE.search(text):
        yield _ONE_MOVEMENT, _AND_WHERE.sub(lambda found: " " * len(found.group()), text)
    colon = _COLON.search(text)
    if colon is not None and text[colon.end() :].strip():
        yield _LABEL, _blank(text, 0, colon.end())
    dash = _DASH.search(text)
    if dash is not None:
        yield _DASHED, _blank(text, 0, dash.end())
        yield _DASHED, text[: dash.start()]
    stance = _STANCE.match(text)
    if stance is not None and text[stance.end() :].strip():
        yield _STANCE_COST, _blank(text, 0, stance.end())
    capitals = _CAPITALS_FIRST.match(text)
    if capitals is not None:
        yield _CAPITALS, _blank(text, 0, capitals.end())
    brackets = list(_BRACKETS.finditer(text))
    if brackets:
        inline = list(text)
        for found in brackets:
            inline[found.start()] = inline[found.end() - 1] = " "
        yield _INLINE, "".join(inline)
        inside = [" "] * len(text)
        for found in brackets:
            inside[found.start(1) : found.end(1)] = found[1]
        yield _INSIDE, "".join(inside)


def _blank(text: str, start: int, end: int) -> str:
    return text[:start] + " " * (end - start) + text[end:]


def _of_text(text: str, beats: int, vocabulary: Vocabulary, cost: float) -> Iterator[Candidate]:
    lexemes = lexed(text, vocabulary)
    unknown = [x for x in lexemes if x.kind is Kind.UNKNOWN]
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
    rest = [x.text for x in lexemes if x.kind is Kind.UNKNOWN]
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
    kept = [x for x in lexemes if x.kind is not Kind.UNKNOWN]
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
    for cost, shaped in _shapes(reading, text, beats, vocabulary):
        if shaped and (fittings := fit(shaped, beats, vocabulary)):
            yield Candidate(cost, reading, shaped, fittings)


def _shapes(reading: Reading, text: str, beats: int, vocabulary: Vocabulary) -> Iterator[tuple[float, list[Spec]]]:
    specs = reading.specs
    if reading.labelled:
        yield _LABEL, specs[reading.labelled :]
    for n, spec in enumerate(specs[:8]):
        others = specs[:n] + specs[n + 1 :]
        if spec.figure is not None and len(others) >= len(spec.figure.each):
            yield _EXPLAINED, others
    last = specs[-1]
    if last.times > 1 and len(specs) > 1 and len(specs) * last.times <= 32:
        once = [*specs[:-1], replace(last, times=1)]
        yield _GROUP, once * last.times
    if _BIG.search(text):
        yield _LONG, [replace(s, held=True) if s.verb is not None and s.verb.name in _BIG_STEPS else s for s in specs]
    for balls in _with_balls(specs, text, vocabulary):
        yield _BALL, balls
    for n, spec in enumerate(specs[1:9], 1):
        figure = specs[n - 1].figure
        if figure is not None and spec.verb is not None and (cut := _cut(figure)) is not None:
            yield (
                _ENDING,
                [*specs[: n - 1], replace(specs[n - 1], figure=cut), replace(spec, beside=False), *specs[n + 1 :]],
            )
    if (parted := _parted(specs, vocabulary)) is not None:
        yield _PARTED, parted


@lru_cache(maxsize=64)
def _cut(figure: Figure) -> Figure | None:
    """ "jazz box, touch": the figure without the close that it ends with, None where it ends otherwise."""
    moves = figure.ways[figure.plain_way]
    if len(moves) < 3 or moves[-1].where != "beside" or moves[-1].verb.bears != "foot":
        return None
    ways = {way: told[:-1] for way, told in figure.ways.items()}
    turns = tuple(turn for turn in figure.turns if turn < len(moves))
    return replace(
        figure, name=f"{figure.name}, cut", ways=ways, turns=turns, each=figure.each[:-1], counts=(), or_verb=""
    )


def _with_balls(specs: Sequence[Spec], text: str, vocabulary: Vocabulary) -> Iterator[list[Spec]]:
    """ "heel & heel &": the "&" is the foot coming home."""
    inner = _inner_balls(specs, vocabulary)
    ball = vocabulary.verbs["ball"]
    trailing = [Spec(specs[-1].column, verb=ball)] if _AND_LAST.search(text) else []
    leading = [Spec(specs[0].column, verb=ball)] if _AND_FIRST.match(text) else []
    if len(inner) > len(specs):
        yield inner
    if trailing:
        yield [*inner, *trailing]
    if leading:
        yield [*leading, *inner]
        yield [*leading, *specs]


def _inner_balls(specs: Sequence[Spec], vocabulary: Vocabulary) -> list[Spec]:
    shaped: list[Spec] = []
    for n, spec in enumerate(specs):
        before = specs[n - 1].verb if n else None
        if spec.joined and before is not None and before.bears == "none" and not before.footless:
            shaped.append(Spec(spec.column, verb=vocabulary.verbs["ball"], feet=list(specs[n - 1].feet[:1])))
        elif spec.joined and before is not None and before.name in ("rock", "lunge", "press"):
            shaped.append(Spec(spec.column, verb=vocabulary.verbs["recover"]))
        shaped.append(spec)
    return shaped


def _parted(specs: Sequence[Spec], vocabulary: Vocabulary) -> list[Spec] | None:
    """ "step together" on two counts."""
    shaped: list[Spec] = []
    for spec in specs:
        wheres = list(spec.wheres)
        if (
            spec.verb is not None
            and spec.verb.name in ("step", "walk")
            and wheres[-1:] == ["beside"]
            and spec.past is None
        ):
            shaped.append(replace(spec, wheres=wheres[:-1], stated=[]))
            shaped.append(Spec(spec.column, verb=vocabulary.verbs["close"], stated=spec.stated))
        elif spec.verb is not None and spec.verb.name == "step" and spec.turn and not wheres and len(spec.feet) <= 1:
            shaped.append(replace(spec, turn=None, way=None, stated=[]))  # "step half turn left"
            shaped.append(
                Spec(spec.column, verb=vocabulary.verbs["pivot"], turn=spec.turn, way=spec.way, stated=spec.stated)
            )
        else:
            shaped.append(spec)
    return shaped if len(shaped) > len(specs) else None
