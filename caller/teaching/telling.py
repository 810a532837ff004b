"""What is told without a beat: a section movement by movement, an option, an event.

Conventions: sentences as they are spoken, numbers and signs in words, one to a breath. A section is told by figure,
each by the name that it is called and with its movements on their counts, in their author's words where those say more;
before them what is hard in it, after them which way the class then faces and where the weight is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from caller.calls.group import Group
from caller.calls.groups import groups_of, sheet_of, shown_words
from caller.calls.read_aloud import read_aloud
from caller.calls.spelling import spoken
from caller.calls.wording import spoken_count, spoken_number
from caller.dance.walls import Dance, Danced, DancedPhrase, Event, Stretch, Wall
from caller.routine.count import label_of
from caller.routine.facing import Turn
from caller.routine.naming import movement_name, turn_words
from caller.routine.parts import Header, Option, Passage, Phrase, Routine
from caller.teaching.authors import lines_that_say_more
from caller.teaching.facts import event_name, event_place, stretch_name, turned_in

# A turn of so many eighths is told of beforehand.
_HALF_TURN = 4
# Which way the class faces, from how it began the wall, in eighths.
_SIDES = {0: "the way you began", 2: "the right side wall", -2: "the left side wall", 4: "the back wall"}


def section_told(dance: Dance, wall: Wall, stretch: Stretch) -> tuple[str, ...]:
    """A stretch of a wall, figure by figure and movement by movement, on which count each."""
    name = stretch_name(stretch, wall.part)
    heading = read_aloud(stretch.name)
    title = f", {heading}" if stretch.section and heading else ""
    opening = f"{name}{title}."
    own = [(wall, phrase) for phrase in wall.phrases if _within(phrase, wall, stretch)]
    groups = groups_of(own, sheet_of(dance.routine))
    told = _groups_told(groups, stretch, dance.routine)
    return (opening, *_mind(groups, stretch, dance.routine.header), *told, *_ends(wall, stretch))


def _mind(groups: Sequence[Group], stretch: Stretch, header: Header) -> Iterator[str]:
    """What is hard in a section, before it is told: where it turns most, and where it is quicker than the count."""
    turning = max(groups, key=turned_in, default=None)
    if turning is not None and turned_in(turning) >= _HALF_TURN:
        count = spoken_count(label_of(turning.at - stretch.at, header.feel), turning.at - stretch.at, header.meter)
        yield f"mind the turn from {count} on: {spoken(shown_words(turning))}."
    elif quick := [group for group in groups if group.syncopated]:
        yield f"listen for what comes between the counts: {spoken(shown_words(quick[0]))}."


def _ends(wall: Wall, stretch: Stretch) -> Iterator[str]:
    """Which way the class faces after a section that turns, where the body stays while the feet go askew, where the
    weight is then, and the foot that it begins with, which the count-in follows."""
    own = [danced for danced in wall.movements if _of(danced, stretch)]
    if not own:
        return
    turns = any(danced.step.movement.turn for danced in own)
    if not turns and any(danced.step.movement.where.endswith("diagonal") for danced in own):
        yield "the feet go to the diagonal, the body stays square."
    if turns:
        yield f"you now face {_SIDES.get((own[-1].after.facing - wall.starts).eighths, 'a corner')}."
    free = own[-1].after.weight.free_foot
    yield f"weight on the {free.other.word}, {free.word} foot free." if free else "weight on both feet."
    first = next((danced.step.movement.foot for danced in own), None)
    if first is not None:
        yield f"on the count, {first.word} foot."


def _of(danced: Danced, stretch: Stretch) -> bool:
    return danced.section == stretch.section and stretch.at <= danced.at < stretch.at + stretch.counts


def _within(phrase: DancedPhrase, wall: Wall, stretch: Stretch) -> bool:
    """A pick-up before the stretch's first count belongs to it."""
    at = phrase.at
    before = at < stretch.at and stretch.at - at < 1 and phrase.section == stretch.section
    return before or stretch.at <= at < stretch.at + stretch.counts


def _groups_told(groups: Sequence[Group], stretch: Stretch, routine: Routine) -> Iterator[str]:
    """Each group by its name and its movements; where their author says more, in those words."""
    authors = dict(lines_that_say_more(routine))
    lasts = {danced.step.place.line: danced for group in groups for danced in _movements(group)}
    for group in groups:
        parts: list[str] = []
        for danced in _movements(group)[: group.once - group.first + 1]:
            line = danced.step.place.line
            if line not in authors:
                parts.append(_on_count(danced, stretch, routine.header))
            elif authors[line]:
                from_on = _count(danced, stretch, routine.header)
                counts = from_on if lasts[line] is danced else f"from {from_on} on"
                parts.append(f"{counts}: {authors[line]}")
                authors[line] = ""  # it has been told
        if parts:
            named = f"{spoken(shown_words(group))}. " if group.names or group.call else ""
            yield f"{named}{'; '.join(parts)}.{_again(group, stretch, routine.header)}"


def _movements(group: Group) -> Sequence[Danced]:
    return group.wall.movements[group.first : group.last + 1]


def _again(group: Group, stretch: Stretch, header: Header) -> str:
    """ " and the same again from three on." """
    if group.times == 1:
        return ""
    often = "again" if group.times == 2 else "again and again"
    return f" and the same {often} from {_count(group.wall.movements[group.once + 1], stretch, header)} on."


def _on_count(danced: Danced, stretch: Stretch, header: Header) -> str:
    return f"{_count(danced, stretch, header)}: {movement_name(danced.step.movement)}"


def _count(danced: Danced, stretch: Stretch, header: Header) -> str:
    place = danced.at - stretch.at
    return spoken_count(label_of(place, header.feel) if place >= 0 else danced.step.count, place, header.meter)


def option_told(option: Option, header: Header, passage: Passage | None = None) -> tuple[str, ...]:
    """An option: for which counts it is, what it spares of the section's own ``passage``, and its movements."""
    first, last = spoken_number(option.first), spoken_number(option.last)
    counts = f"count {first}" if option.first == option.last else f"counts {first} to {last}"
    name = f": {spoken(option.name)}" if option.name else ""
    opening = f"an easier way for {counts}{name}."
    return (opening, *(_spared(option, passage) if passage else ()), *_passage_told(option.passage, header))


def _spared(option: Option, passage: Passage) -> Iterator[str]:
    """ "the same without the full turn.": how far it turns less, and whether it has no half counts left."""
    own = [step for step in passage.steps if option.first - 1 <= step.at < option.last]
    turned, left = (sum(abs(s.movement.turn.eighths) for s in steps) for steps in (own, option.passage.steps))
    found = []
    if turned > left:
        amount = turn_words(Turn(turned - left)).rpartition(" ")[0]
        found.append(
            f"the {amount if amount.endswith('turn') else f'{amount} turn'}" if left == 0 else "some of the turn"
        )
    between = [any(step.at.denominator != 1 for step in steps) for steps in (own, option.passage.steps)]
    if between == [True, False]:
        found.append("the steps between the counts")
    if found:
        yield f"the same without {' and '.join(found)}."


def _passage_told(passage: Passage, header: Header) -> Iterator[str]:
    for phrase in passage.phrases:
        yield f"{_steps_told(passage, phrase, header)}."


def _steps_told(passage: Passage, phrase: Phrase, header: Header) -> str:
    steps = passage.steps[phrase.first : phrase.last + 1]
    return "; ".join(
        f"{spoken_count(step.count, step.at, header.meter)}: {movement_name(step.movement)}" for step in steps
    )


def event_told(dance: Dance, wall: Wall, event: Event) -> tuple[str, ...]:
    """An event: where it comes, the way everybody faces then, and the steps of a tag, a change or an ending."""
    own = [s for s in wall.stretches if s.at == wall.at + event.after and s.section == 0]
    own = own if event.kind in ("tag", "ending") else []
    told = [sentence for stretch in own for sentence in section_told(dance, wall, stretch)[1:]]
    changed = tuple(_change_told(dance, wall, event)) if event.kind == "change" else ()
    return (f"now {event_name(event)}: {event_place(dance, wall, event)}.", *told, *changed)


def _change_told(dance: Dance, wall: Wall, event: Event) -> Iterator[str]:
    """What the change covers, as it is danced in that wall."""
    first, last = wall.at + event.after, wall.at + event.after + event.counts
    for stretch in wall.stretches:
        phrases = (phrase for phrase in wall.phrases if first <= phrase.at < last)
        own = [(wall, p) for p in phrases if stretch.at <= p.at < stretch.at + stretch.counts]
        yield from _groups_told(groups_of(own, sheet_of(dance.routine)), stretch, dance.routine)


def listed(words: Sequence[str]) -> str:
    """ "one, two and three"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def section_options(routine: Routine, part: str, number: int) -> tuple[Option, ...]:
    return next((s.options for s in routine.sections if (s.part, s.number) == (part, number)), ())


def section_passage(routine: Routine, part: str, number: int) -> Passage | None:
    return next((s.passage for s in routine.sections if (s.part, s.number) == (part, number)), None)


def percent(share: Fraction) -> str:
    """A speed in words: "half speed", "three-quarter speed", "full speed", else in per cent."""
    named = {Fraction(1, 2): "half speed", Fraction(3, 4): "three-quarter speed", Fraction(1): "full speed"}
    return named.get(share, f"{spoken_number(round(100 * share))} per cent of full speed")
