"""What is remarked on a line: why it is left unread, and what was taken for granted where it is read.

Conventions: the columns of troubles and guesses count from the beginning of the line's words.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from caller.routine.findings import Finding
from caller.routine.notation.candidates import Effort
from caller.routine.notation.fitting import movements_of
from caller.routine.notation.nearest import nearest
from caller.routine.notation.paths import Described
from caller.routine.notation.spec import Spec
from caller.routine.notation.standard import movements_written
from caller.routine.notation.weighing import Outcome
from caller.routine.vocabulary import Vocabulary

_MOST_SHOWN = 60  # characters of a line in a finding
_WORDS_TOLD = 4


def why_unread(one: Described, vocabulary: Vocabulary, effort: Effort) -> list[Finding]:
    """Why no way to read this line fits. effort: near words are told as long as some is left."""
    reading, unknown = one.plain.reading, one.plain.unknown
    column = one.column
    if one.plain.grave:
        return [one.line.finding(column + t.column, t.code, t.message) for t in one.plain.grave]
    if unknown:
        words = ", ".join(repr(x.text) for x in unknown[:_WORDS_TOLD])
        near = nearest(unknown[0].text, vocabulary) if effort.spend(10) else ()
        hint = f" (near: {', '.join(near)})" if near else ""
        told = f"can't read {words}{hint}; the line is called as it stands and not checked"
        return [one.line.finding(column + unknown[0].column, "unread", f"{told}: say what the feet do")]
    if not reading.specs:
        message = f"nothing here says what the feet do, so it is called as it stands: {clipped(one.text.strip())!r}"
        return [one.line.finding(column + 1, "unread", message)]
    return [_mismatch(one, reading.specs)]


def _mismatch(one: Described, specs: Sequence[Spec]) -> Finding:
    count, beats = movements_of(specs), len(one.counts.beats)
    labels = " ".join(beat.label for beat in one.counts.beats)
    mend = "give each movement a count of its own (1&2 has three), or take one out"
    if count < beats:
        usual = "say what is danced on the others, or write 'hold'"
        mend = next((f"say {s.figure.asks}" for s in specs if s.figure is not None and s.figure.asks), usual)
    told = f"{'1 movement' if count == 1 else f'{count} movements'} told for {_counts(beats)} ({labels})"
    if not _beyond_doubt(specs, one.text):
        told = f"{told}, as far as it can be read"
        message = f"{told}: {clipped(one.text.strip())!r}; it is called as it stands and not checked"
        return one.line.finding(one.column + 1, "unread", message)
    message = f"{told}: {clipped(one.text.strip())!r}; {mend}"
    return one.line.finding(one.column + 1, "counts-mismatch", message)


def guessed(one: Described, outcome: Outcome, vocabulary: Vocabulary) -> list[Finding]:
    """What this way to read the line takes for granted."""
    told, candidate = outcome.told, outcome.candidate
    assert told is not None
    assert candidate is not None
    found = [
        one.line.finding(one.column + column, "guess", message)
        for column, message in [*candidate.guesses, *told.guesses]
    ]
    if candidate.dropped:
        shared = [n > 0 and beat is outcome.beats[n - 1] for n, beat in enumerate(outcome.beats)]
        read = ", ".join(movements_written(told.movements, shared, vocabulary))
        words = ", ".join(repr(word) for word in candidate.dropped[:_WORDS_TOLD])
        verb = "is" if len(candidate.dropped) == 1 else "are"
        message = f"{words} {verb} not known here and passed over; read as {clipped(read, 90)!r}: write that to be sure"
        column = one.plain.unknown[0].column if one.plain.unknown else 1
        found.append(one.line.finding(one.column + column, "guess", message))
    return found


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


def clipped(text: str, most: int = _MOST_SHOWN) -> str:
    """Of a line, as much as a finding shows."""
    return text if len(text) <= most else text[: most - 1] + "\u2026"
