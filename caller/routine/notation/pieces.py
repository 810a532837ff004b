"""A line that is written in pieces: one without a verb of its own goes on with the piece before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from caller.routine.count import read_counts
from caller.routine.layout.lines import Line
from caller.routine.notation.lexeme import LexemeKind
from caller.routine.notation.words import lexed
from caller.routine.vocabulary import Vocabulary


def pieces_joined(lines: Sequence[Line], vocabulary: Vocabulary) -> list[Line]:
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
    return any(
        x.kind
        not in (
            LexemeKind.FEET,
            LexemeKind.LIST,
            LexemeKind.NOISE,
            LexemeKind.SEPARATOR,
            LexemeKind.CLAIM,
            LexemeKind.WEIGHT,
            LexemeKind.NOTE,
        )
        for x in lexemes
    )
