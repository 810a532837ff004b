"""Lessons of an evening that were left before their end, and what of the plan hangs on them: a dance that is not taught
whole is not run, nor is a place drilled that nobody has been shown. Pure.

Conventions: nothing is taken out here: it is proposed, and the teacher decides.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from caller.evening.plan import Kind, long_words
from caller.session.slots import Inner, Slot
from caller.session.so_far import had, numbers_of
from caller.session.taught import TaughtProgramme
from caller.teaching.reach import KNOWN_BY_THEN
from caller.teaching.stage import Stage

if TYPE_CHECKING:
    from caller.session.evening import Evening


def with_half(evening: Evening) -> Evening:
    """The evening whose lesson under way is being left, or has come to its end."""
    own = evening.own
    if evening.slot.item.kind is not Kind.LESSON or not isinstance(own, TaughtProgramme):
        return evening
    others = tuple(half for half in evening.halves if half.stages.title != own.stages.title)
    taught_whole = all(stage.kind in KNOWN_BY_THEN for stage in _to_come(own))
    return replace(evening, halves=others if taught_whole else (*others, own))


def hanging(evening: Evening) -> tuple[Slot, ...]:
    """What is to come of dances that were left half taught, unless it is to be kept or the lesson goes on before it."""
    halves = {half.stages.title: half for half in evening.halves}
    found: list[Slot] = []
    for slot in evening.later:
        if slot.item.kind is Kind.LESSON:
            halves.pop(slot.title, None)
        elif slot.title in halves and not slot.item.keep and _hangs(slot, halves[slot.title]):
            found.append(slot)
    return tuple(found)


def hanging_words(slots: tuple[Slot, ...]) -> str:
    """ "Lantern Row is not taught whole: X takes out its drill and its run (7 min)", X being the key."""
    titles = dict.fromkeys(slot.title for slot in slots)
    minutes, are = sum(slot.item.minutes for slot in slots), "are" if len(titles) > 1 else "is"
    return f"{' and '.join(titles)} {are} not taught whole: X takes out {kinds_words(slots)} ({minutes} min)"


def kinds_words(slots: tuple[Slot, ...]) -> str:
    """ "its drill and its runs"."""
    kinds = [slot.item.kind.value for slot in slots]
    return " and ".join(f"its {kind}{'s' * (kinds.count(kind) > 1)}" for kind in dict.fromkeys(kinds))


def offered_words(evening: Evening) -> str:
    """What might be done with the minutes that are in hand: "; 9 minutes are in hand: P goes back into the lesson,
    /request asks for a dance"; "" where there are none."""
    minutes, at_lesson = -evening.over_by, evening.slot.item.kind is Kind.LESSON and evening.ahead is not None
    offers = ["P goes back into the lesson"] if at_lesson else []
    offers += ["/request asks for a dance"] if evening.catalogue else []
    if minutes <= 0 or not offers:
        return ""
    return f"; {long_words(minutes)} {'is' if minutes == 1 else 'are'} in hand: {', '.join(offers)}"


def stopped(own: Inner) -> bool:
    """Whether a lesson has come as far as it was planned to, and stands there."""
    return isinstance(own, TaughtProgramme) and own.stopped


def ended(evening: Evening) -> Evening:
    """The evening whose item has come to its end; of a lesson that stopped where it was planned to, that is told, and
    how it goes on."""
    own, there = evening.own, with_half(evening)
    if not isinstance(own, TaughtProgramme) or not own.stopped:
        return there
    on = own.running.programme.stages[own.running.index + 1].name
    return there.saying(f"{own.stages.title}: taught as far as planned; P goes on with it: {on[0].lower()}{on[1:]}.")


def _to_come(own: TaughtProgramme) -> tuple[Stage, ...]:
    """Stages that have not been danced, or told."""
    stages = own.running.programme.stages
    return tuple(stage for stage in stages[len(had(own.running)) :] if not stage.beside)


def _hangs(slot: Slot, half: TaughtProgramme) -> bool:
    danced = [stage for stage in had(half.running) if stage.danced]
    if slot.item.kind is Kind.RUN:
        return slot.item.sections is None or not numbers_of(danced).issuperset(range(1, slot.item.sections + 1))
    if slot.item.kind is not Kind.DRILL or not isinstance(slot.programme, TaughtProgramme):
        return False
    return not all(any(_within(stage, one) for one in danced) for stage in slot.programme.stages.stages)


def _within(stage: Stage, other: Stage) -> bool:
    return other.start <= stage.start and stage.end <= other.end
