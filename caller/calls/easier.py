"""The easier way: a routine with its options danced in the place of what they ease.

Conventions: an easier way is another routine, so that all that follows from one (facing, calls, what shows) follows
it too. An option's steps stand at positions of their section and fill the same counts, so every count keeps its
place and a take can change over at any frame. Claims are left out: they were stated of the way that is eased.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from caller.routine.parts import Option, Routine, Section
from caller.routine.passages import Passage, Phrase, Step
from caller.routine.recognise import plain_phrase


class Way(NamedTuple):
    """An option of a routine: its section's part and number, and which of the section's options, from 0."""

    part: str
    section: int
    option: int


class _PhrasedStep(NamedTuple):
    """A step with the phrase it is called in; passage: 0 the section's, 1 up its options'."""

    step: Step
    phrase: Phrase
    passage: int


def ways(routine: Routine) -> tuple[Way, ...]:
    """Every easier way there is, in the order of the sheet."""
    return tuple(
        Way(section.part, section.number, index)
        for section in routine.sections
        for index in range(len(section.options))
    )


def eased(routine: Routine, on: Collection[Way] | None = None) -> Routine:
    """The routine danced the easier way. on: which ways (None: all; of two for the same counts, the first)."""
    return replace(routine, sections=tuple(_eased(section, on) for section in routine.sections))


def _eased(section: Section, on: Collection[Way] | None) -> Section:
    chosen: list[Option] = []
    for index, option in enumerate(section.options):
        wanted = on is None or Way(section.part, section.number, index) in on
        if wanted and all(option.last < other.first or option.first > other.last for other in chosen):
            chosen.append(option)
    if not chosen:
        return section
    bound = _bound(section.passage, 0)
    for number, option in enumerate(chosen, 1):
        own = _bound(option.passage, number)
        begins = min([Fraction(option.first - 1), *(one.step.at for one in own[:1])])  # a pick-up goes before it
        bound = [one for one in bound if one.passage or not begins <= one.step.at < option.last] + own
    bound.sort(key=lambda one: one.step.at)
    steps = tuple(one.step for one in bound)
    passage = replace(section.passage, steps=steps, phrases=_phrases(bound), claims=())
    return replace(section, passage=passage)


def _bound(passage: Passage, number: int) -> list[_PhrasedStep]:
    return [
        _PhrasedStep(passage.steps[index], phrase, number)
        for phrase in passage.phrases
        for index in range(phrase.first, phrase.last + 1)
    ]


def _phrases(bound: list[_PhrasedStep]) -> tuple[Phrase, ...]:
    """The phrases over the steps as they now stand; what is left of one that an option cuts is called by its own
    movements."""
    steps = [one.step for one in bound]
    found: list[Phrase] = []
    for _, run in groupby(enumerate(bound), key=lambda pair: (pair[1].passage, pair[1].phrase.first)):
        indices = [index for index, _ in run]
        first, last, phrase = indices[0], indices[-1], bound[indices[0]].phrase
        whole = last - first == phrase.last - phrase.first
        found.append(replace(phrase, first=first, last=last, figures=()) if whole else plain_phrase(first, last, steps))
    return tuple(found)
