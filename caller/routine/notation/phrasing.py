"""Steps to phrases: what is called together. Quoted lines and named figures as they stand, figures recognised in the
rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from caller.routine.named_figures import FigureWords
from caller.routine.notation.standard import figure_written
from caller.routine.notation.told import Named
from caller.routine.passages import Phrase, Step
from caller.routine.recognise import Found, figure_phrase, group
from caller.routine.vocabulary import Vocabulary


@dataclass(slots=True)
class Span:
    """The steps of one line (indices, both included), what it calls them, and the figures it names. unread: its words,
    where nobody can tell what they mean."""

    first: int
    last: int
    call: str
    named: list[Named]
    unread: str = ""


def phrases_of(
    steps: Sequence[Step], lines: Sequence[int], spans: Sequence[Span], vocabulary: Vocabulary
) -> tuple[Phrase, ...]:
    """Phrases over all steps, in order. lines: the sheet's line of each step."""
    phrases: list[Phrase] = []
    loose = 0  # first step not in a phrase yet
    for phrase in _fixed(steps, spans, vocabulary):
        phrases += group(steps, loose, phrase.first, vocabulary, lines)
        phrases.append(phrase)
        loose = phrase.last + 1
    return (*phrases, *group(steps, loose, len(steps), vocabulary, lines))


def _fixed(steps: Sequence[Step], spans: Sequence[Span], vocabulary: Vocabulary) -> list[Phrase]:
    fixed: list[Phrase] = []
    for span in spans:
        if span.call and span.last >= span.first:
            fixed.append(_quoted(steps, span, vocabulary))
        elif span.unread and span.last >= span.first:
            fixed.append(_as_it_stands(steps, span))
        else:
            fixed += [_named(n, steps) for n in span.named if n.last > n.first]
    return fixed


def _as_it_stands(steps: Sequence[Step], span: Span) -> Phrase:
    """A line that can't be read is called in its author's words."""
    each = (span.unread, *("" for _ in range(span.last - span.first)))
    return Phrase(span.first, span.last, span.unread, (span.unread,), each)


def _named(n: Named, steps: Sequence[Step]) -> Phrase:
    words = FigureWords(n.first, n.last, figure_written(n.figure, n.way, n.lead, n.turn))
    return figure_phrase(Found(n.first, n.last, n.figure, n.way, n.lead, n.turn), steps, (words,))


def _quoted(steps: Sequence[Step], span: Span, vocabulary: Vocabulary) -> Phrase:
    """The sheet's own call first, then what the movements would be called."""
    one_line = (0,) * (span.last + 1)
    own: list[Phrase] = []
    at = span.first
    for n in span.named:
        own += group(steps, at, n.first, vocabulary, one_line)
        own.append(_named(n, steps))
        at = n.last + 1
    own += group(steps, at, span.last + 1, vocabulary, one_line)
    pieces = [piece.strip() for piece in span.call.split(",")]
    each = tuple(pieces) if len(pieces) == span.last - span.first + 1 else tuple(w for p in own for w in p.each)
    short = ", ".join(p.wordings[-1] for p in own)
    wordings = (span.call, short) if len(short) < len(span.call) else (span.call,)
    name = ", ".join(p.name for p in own)
    figures, alone = tuple(f for p in own for f in p.figures), own[0].figure if len(own) == 1 else None
    return Phrase(span.first, span.last, name, wordings, each, span.call, figures, alone)
