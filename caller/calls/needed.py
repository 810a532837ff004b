"""All that a voice must have ready, so that any stretch of a dance can be called.

Conventions: a stretch may begin with any bar, and a section may be danced the first time or the tenth: what is said
then may be fuller, shorter, or with the foot. A group of phrases is called together only where all of it is danced, so
each phrase has its own words too.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from fractions import Fraction

from caller.calls.cues import cues_for
from caller.calls.forms import Forms
from caller.calls.group import Group, group_forms
from caller.calls.groups import groups_of, sheet_of
from caller.calls.opening import opening_cue
from caller.calls.places import phrases_between
from caller.calls.plan import CallKind, CountIn, Cue, Fading, Manner
from caller.calls.sayings import SPEEDS, sayings
from caller.calls.wording import LAST_WALL, sheet_counts, spoken_number
from caller.dance.walls import Dance


def phrases_needed(dance: Dance, manner: Manner) -> set[tuple[str, float]]:
    """All (words, speed) that a voice must have ready to call any stretch of the dance in that manner."""
    bars = 2 * dance.routine.header.meter.counts
    end = Fraction(dance.counts)
    cues: set[Cue] = set()
    for fading in (Fading.ALL, Fading.USUAL) if manner is Manner.AHEAD else (Fading.ALL,):
        for how in (CountIn.NUMBERS, CountIn.CALL):
            cues |= set(cues_for(dance, manner, Fraction(0), end, bars, fading, how))
    if manner is Manner.AHEAD:
        cues |= set(_anywhere(dance))
    needed = {(part.words, saying.speed) for cue in cues for saying in sayings(cue) for part in saying.parts}
    if manner is Manner.AHEAD and any(LAST_WALL in words for words, _ in needed):
        needed |= {(LAST_WALL, speed) for speed in SPEEDS[:2]}  # told within it
    if manner is not Manner.QUIET:
        numbers = range(1, sheet_counts(dance.routine.header.meter) + 1)
        needed |= {(spoken_number(number), speed) for number in numbers for speed in (1.0, 1.15, 1.35)}
    return needed


def phrases_in_turn(dance: Dance, manner: Manner, until: Fraction | None = None) -> tuple[tuple[str, float], ...]:
    """The same, each once: first what is called from the top on, in the order in which it may first be said, then what
    else may be. until: only what is called from the top to before that count."""
    bars = 2 * dance.routine.header.meter.counts
    cues = cues_for(dance, manner, Fraction(0), Fraction(dance.counts), bars)
    soon = [cue for cue in cues if until is None or cue.at < until]
    called = ((part.words, saying.speed) for cue in soon for saying in sayings(cue) for part in saying.parts)
    rest = sorted(phrases_needed(dance, manner)) if until is None else ()
    return tuple(dict.fromkeys([*called, *rest]))


def _anywhere(dance: Dance) -> Iterator[Cue]:
    """What is called of each group wherever a take begins and whenever it comes."""
    sheet = sheet_of(dance.routine)
    phrases = list(phrases_between(dance, Fraction(0), Fraction(dance.counts)))
    alone = [group for phrase in phrases for group in groups_of([phrase], sheet)]
    for group in _distinct([*groups_of(phrases, sheet), *alone]):
        for thin in (False, True):
            for marked in (False, True):
                yield _said(group_forms(group, thin=thin, marked=marked))
        yield _said(group_forms(group, thin=False, marked=False, swaps=True))
        if group.place.denominator == 1 and group.place % sheet.meter.counts == 0:
            yield from _opening(dance, group)


def _opening(dance: Dance, group: Group) -> Iterator[Cue]:
    cue = opening_cue([group], dance, group.at, CountIn.NUMBERS, 2 * dance.routine.header.meter.counts)
    if cue is not None:
        yield cue


def _said(forms: Forms) -> Cue:
    told = (forms.wordings, forms.lost, forms.in_parts)
    return Cue(CallKind.STEP, 0, Fraction(0), "", told[0], lost=told[1], in_parts=told[2], steps=True)


def _distinct(groups: Iterable[Group]) -> Iterator[Group]:
    """Each of those that are called alike once, with and without its likeness to the one before it."""
    seen = set()
    for group in groups:
        for like in {group.like, False}:
            one = replace(group, like=like)
            key = (
                one.placed,
                one.names,
                one.figure,
                one.call,
                one.own,
                one.times,
                like,
                one.ends,
                one.length,
                one.at % 1,
            )
            if key not in seen:
                seen.add(key)
                yield one
