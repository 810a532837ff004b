"""How many counts the steps of an event take, and so many of them, or so often."""

from __future__ import annotations

import re
from dataclasses import replace
from math import ceil

from caller.routine.count import label_again
from caller.routine.layout.happening import Event
from caller.routine.passages import Passage, Phrase, Step

_SLOW = re.compile(r"\b(?:hold|slow|drag|slide|pose|pause|wait|unwind|over|for)\b|\d", re.IGNORECASE)


def counts_taken(event: Event, passage: Passage) -> int:
    """The counts that an event's steps take: of steps told without counts those that they fill, one after another."""
    ends = max((step.at for step in passage.steps), default=passage.counts) + 1
    even = len(passage.steps) > 0 and passage.counts % len(passage.steps) == 0
    if not event.words or even or _SLOW.search(event.words) is not None or ends > passage.counts - 1:
        return passage.counts
    return ceil(ends)


def sized(passage: Passage, first: int | None, times: int) -> Passage:
    """The first so many counts of a passage, or all of it so many times."""
    if first is not None and first < passage.counts:
        steps = tuple(step for step in passage.steps if step.at < first)
        phrases = tuple(phrase for phrase in passage.phrases if phrase.last < len(steps))
        words = tuple(one for one in passage.words if one.last < len(steps))
        kept = {step.place.line for step in steps}
        notes = [n for n in zip(passage.notes, passage.note_lines, strict=True) if n[1] in kept]
        told, lines = tuple(note for note, _ in notes), tuple(line for _, line in notes)
        return Passage(first, steps, phrases, (), told, lines, words)
    if times < 2:
        return passage
    steps_: list[Step] = []
    phrases_, words_ = [], []
    for time in range(times):
        shift, moved = passage.counts * time, len(passage.steps) * time
        steps_ += [
            replace(step, at=step.at + shift, count=label_again(step.count, step.at + shift)) for step in passage.steps
        ]
        phrases_ += [_moved(phrase, moved) for phrase in passage.phrases]
        words_ += [replace(w, first=w.first + moved, last=w.last + moved) for w in passage.words]
    counts, steps, phrases, words = passage.counts * times, tuple(steps_), tuple(phrases_), tuple(words_)
    return replace(passage, counts=counts, steps=steps, phrases=phrases, claims=(), words=words)


def _moved(phrase: Phrase, by: int) -> Phrase:
    """The phrase of steps so many indices further on, with the words of its figures."""
    figures = tuple(replace(words, first=words.first + by, last=words.last + by) for words in phrase.figures)
    return replace(phrase, first=phrase.first + by, last=phrase.last + by, figures=figures)
