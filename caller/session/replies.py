"""What is answered to an order: one sentence at least on each, as soon as it is given. Pure.

Conventions: sentences, as notices are. What could not be obeyed has been said otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from caller.session.changes import Calling, told
from caller.session.programme import ProgrammeFacts
from caller.transport.context import Effect, Response
from caller.transport.levels import Levels
from caller.transport.order import Order

# What is said of an order that has no amount and no place to tell, by what it does; {title} is what it is called.
_PLAIN = {
    Effect.WHEN_READY: "Starts by itself as soon as it can.",
    Effect.START: "Begins.",
    Effect.HUSH: "Paused.",
    Effect.RESUME: "Goes on.",
    Effect.TO_EIGHT: "{title}.",
    Effect.RUN_ON: "Dances on after all.",
    Effect.LEVEL: "{title}: no further.",
    Effect.CHANGE: "{title}: nothing changes.",
}


@dataclass(frozen=True, slots=True)
class AskedState:
    """All that an order may change and that is worth a sentence. tempo: danced, counts a minute."""

    facts: ProgrammeFacts
    levels: Levels
    tempo: Fraction


def replies(order: Order, response: Response, before: AskedState, after: AskedState) -> Iterator[str]:
    """The answer to an order that was carried out, the last sentence the one that matters most."""
    if response.effect in (Effect.SHOW, Effect.LEAVE):
        return
    if response.effect is Effect.BEGIN:
        yield from _led(response, before, after)
        return
    said = [*_set(before, after), *_paced(response, before, after)]
    if response.answer and response.answer not in said:
        said.append(response.answer)
    if not said and after.facts.news != before.facts.news:
        return  # the programme has said itself what came of it
    if not said and order is Order.HALF:
        said = [f"{float(after.tempo):g} counts a minute is not halved: steps can't be danced much slower."]
    if not said and order is Order.TAP_TEMPO:
        said = ["Tapped: on each count, from the third on it holds."]
    yield from said or [_PLAIN[response.effect].format(title=response.title)]


def _led(response: Response, before: AskedState, after: AskedState) -> Iterator[str]:
    """Where an order has led; another stage has its own way of being called, which is no news. What is answered where
    it led no further stands in the place of that."""
    if not after.facts.lesson:
        yield from _set(before, after)
    stage, item = after.facts.stage, after.facts.item
    if response.answer and (item, after.facts.place) == (before.facts.item, before.facts.place):
        yield f"{response.title}: {response.answer[0].lower()}{response.answer[1:]}"
        return
    where = stage if stage and stage != before.facts.stage else ""
    if response.gives is Order.WELL:  # of what is left, which is what went well
        yield f"{response.title}: {before.facts.stage}."
        return
    if after.facts.between:
        where = after.facts.after
    elif item != before.facts.item:
        where = after.facts.title
    if response.gives is Order.TO_WALL and where and after.facts.lesson:
        number = after.facts.place.partition(" ")[0]
        yield f"That wall comes in stage {number}: {where}."
        return
    if response.gives is Order.TOP and after.facts.lesson and before.facts.place and where:
        back = f"/stage {before.facts.place.partition(' ')[0]} goes back to where it was"
        yield f"{response.title}: {where}; {back}."
        return
    told = where if where.startswith(response.title) else f"{response.title}: {where}"
    yield f"{told}." if where else f"{response.title}."


def _set(before: AskedState, after: AskedState) -> Iterator[str]:
    was: tuple[Calling, Levels] = (before.facts.calling, before.levels)
    return told(was, (after.facts.calling, after.levels), after.facts.part)


def _paced(response: Response, before: AskedState, after: AskedState) -> Iterator[str]:
    if before.tempo != after.tempo and before.facts.item == after.facts.item:  # another item has its own, no news
        full = response.gives is Order.HALF and after.tempo > before.tempo
        title, tempo = "Full speed again" if full else response.title, f"{round(float(after.tempo), 1):g}"
        told = after.facts.lesson and not (after.facts.danced or full)  # as fast as what is danced next, it isn't
        yield f"{title}: {f'full speed is {tempo} now' if told else f'{tempo} counts a minute'}."
