"""What is told without a beat: the routine's facts, a section movement by movement, an option, an event.

Conventions: sentences as they are spoken, numbers and signs in words, one to a breath. A section is told by figure,
each with its movements on their counts; before them what is hard in it, after them which way the class then faces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from caller.calls.read_aloud import read_aloud
from caller.calls.spelling import spoken
from caller.calls.wording import (
    spoken_count,
    spoken_counts,
    spoken_facing,
    spoken_number,
    tag_name,
)
from caller.dance.walls import Dance, Danced, DancedPhrase, Event, Stretch, Wall
from caller.routine.count import label_of
from caller.routine.facing import Turn
from caller.routine.naming import movement_name, turn_words
from caller.routine.parts import Header, Option, Passage, Phrase, Routine
from caller.teaching.standing import facing_at

# Where events stand, in words, by kind.
_EVENT_FACTS = {
    "tag": "{name} in wall {wall}, {counts}",
    "restart": "a restart in wall {wall}, after {after}",
    "change": "a step change in wall {wall}",
    "ending": "an ending in wall {wall}, after {after}",
}
_EVENT_NAMES = {"restart": "the restart", "change": "the step change", "ending": "the ending"}
# A turn of so many eighths is told of beforehand.
_HALF_TURN = 4
# Which way the class faces, from how it began the wall, in eighths.
_SIDES = {0: "the way you began", 2: "the right side wall", -2: "the left side wall", 4: "the back wall"}
# More events than this are not listed before anybody has danced a step.
_MOST_EVENTS = 4


def introduction(dance: Dance) -> tuple[str, ...]:
    """Title, counts, walls, level, start foot, tags and restarts, as facts."""
    return tuple(_introduction(dance))


def _introduction(dance: Dance) -> Iterator[str]:
    routine = dance.routine
    header = routine.header
    yield f"{read_aloud(header.title) or header.title}."
    counts = spoken_counts(min(header.counts or routine.counts, 999))
    walls = f", {_walls(header.walls)}" if header.walls else ""
    level = f", {header.level}" if header.level else ""
    yield f"{counts}{walls}{level}."
    if header.intro:
        yield f"the intro is {spoken_counts(min(header.intro, 999))}."
    if hard := _hardest(dance.walls[0]):
        stretch, phrase = hard
        yield f"the one to watch is in {stretch_name(stretch, dance.walls[0].part)}: {_named(phrase)}."
    events = [(wall, event) for wall in dance.walls for event in wall.events]
    if not events:
        yield "no tags and no restarts."
    for wall, event in events[:_MOST_EVENTS]:
        yield f"there is {_article(event_fact(wall, event))}."
    if len(events) > _MOST_EVENTS:
        yield f"and {spoken_number(len(events) - _MOST_EVENTS)} more, which we'll come to."


def _walls(walls: int) -> str:
    return f"{spoken_number(min(walls, 999))} wall{'' if walls == 1 else 's'}"


def _article(words: str) -> str:
    return words if words.startswith(("a ", "an ")) else f"a {words}"


def event_fact(wall: Wall, event: Event) -> str:
    """ "tag in wall two, four counts"."""
    return _EVENT_FACTS[event.kind].format(
        name=tag_name(event.name),
        wall=spoken_number(wall.number),
        counts=spoken_counts(event.counts),
        after=spoken_counts(event.after),
    )


def event_name(event: Event) -> str:
    """ "the tag", "the restart"."""
    return _EVENT_NAMES.get(event.kind, f"the {tag_name(event.name)}")


def stretch_name(stretch: Stretch, part: str) -> str:
    """ "section two, rock back"; "part B section one"."""
    if not stretch.section:
        return read_aloud(stretch.name)
    own = f"section {spoken_number(stretch.section)}"
    return f"part {part} {own}" if part else own


def section_told(wall: Wall, stretch: Stretch, header: Header) -> tuple[str, ...]:
    """A section of a wall, figure by figure and movement by movement, on which count each; then the foot that the
    count-in is for."""
    return (*stretch_told(wall, stretch, header), *_counted_in(wall, stretch))


def stretch_told(wall: Wall, stretch: Stretch, header: Header) -> tuple[str, ...]:
    """A stretch of a wall, figure by figure; which foot it begins with is said where it is danced from."""
    name = stretch_name(stretch, wall.part)
    heading = read_aloud(stretch.name)
    title = f", {heading}" if stretch.section and heading else ""
    opening = f"{name}{title}."
    phrases = [p for p in wall.phrases if _within(p, wall, stretch)]
    told = [_phrase_told(phrase, wall, stretch, header) for phrase in phrases]
    return (opening, *_mind(wall, stretch, phrases, header), *told, *_ends(wall, stretch))


def _hardness(phrase: DancedPhrase, wall: Wall) -> tuple[int, bool]:
    """How far it turns, in eighths, and whether it has movements between the counts."""
    movements = wall.movements[phrase.first : phrase.last + 1]
    turned = sum(abs(danced.step.movement.turn.eighths) for danced in movements)
    return turned, any(danced.at.denominator != 1 for danced in movements)


def _hardest(wall: Wall) -> tuple[Stretch, DancedPhrase] | None:
    """Where a wall turns most, a half or more; None where it doesn't."""
    turning = [(_hardness(phrase, wall)[0], phrase) for phrase in wall.phrases]
    most, phrase = max(turning, key=lambda one: one[0], default=(0, None))
    if phrase is None or most < _HALF_TURN:
        return None
    return next((stretch, phrase) for stretch in wall.stretches[::-1] if stretch.at <= max(phrase.at, wall.at))


def _mind(wall: Wall, stretch: Stretch, phrases: Sequence[DancedPhrase], header: Header) -> Iterator[str]:
    """What is hard in a section, before it is told: where it turns most, and where it is quicker than the count."""
    turning = max(phrases, key=lambda phrase: _hardness(phrase, wall)[0], default=None)
    if turning is not None and _hardness(turning, wall)[0] >= _HALF_TURN:
        count = spoken_count(label_of(turning.at - stretch.at, header.feel), turning.at - stretch.at, header.meter)
        yield f"mind the turn from {count} on: {_named(turning)}."
    elif quick := [phrase for phrase in phrases if _hardness(phrase, wall)[1]]:
        yield f"listen for what comes between the counts: {_named(quick[0])}."


def _named(phrase: DancedPhrase) -> str:
    return spoken(phrase.call or phrase.name)


def _ends(wall: Wall, stretch: Stretch) -> Iterator[str]:
    """Which way the class faces after a section that turns, and where the body stays while the feet go askew."""
    own = [danced for danced in wall.movements if _of(danced, stretch)]
    if not own:
        return
    askew = any(danced.step.movement.where.endswith("diagonal") for danced in own)
    if askew and not any(danced.step.movement.turn for danced in own):
        yield "the feet go to the diagonal, the body stays square."
    turned = own[-1].after.facing - wall.starts
    if any(danced.step.movement.turn for danced in own):
        yield f"you now face {_SIDES.get(turned.eighths, 'a corner')}."


def _of(danced: Danced, stretch: Stretch) -> bool:
    return danced.section == stretch.section and stretch.at <= danced.at < stretch.at + stretch.counts


def _counted_in(wall: Wall, stretch: Stretch) -> Iterator[str]:
    """The foot that it begins with, which the count-in follows."""
    first = next((danced.step.movement.foot for danced in wall.movements if _of(danced, stretch)), None)
    if first is not None:
        yield f"on the count, {first.word} foot."


def _within(phrase: DancedPhrase, wall: Wall, stretch: Stretch) -> bool:
    """A pick-up before the stretch's first count belongs to it."""
    at = phrase.at
    before = at < stretch.at and stretch.at - at < 1 and phrase.section == stretch.section
    return before or stretch.at <= at < stretch.at + stretch.counts


def _phrase_told(phrase: DancedPhrase, wall: Wall, stretch: Stretch, header: Header) -> str:
    movements = wall.movements[phrase.first : phrase.last + 1]
    told = "; ".join(_on_count(danced, stretch, header) for danced in movements)
    # A figure is named first; a movement that is its own phrase is its own name.
    alone = len(movements) == 1 or phrase.name == ", ".join(movement_name(d.step.movement) for d in movements)
    return f"{told}." if alone else f"{spoken(phrase.name)}. {told}."


def _on_count(danced: Danced, stretch: Stretch, header: Header) -> str:
    place = danced.at - stretch.at
    label = label_of(place, header.feel) if place >= 0 else danced.step.count
    return f"{spoken_count(label, place, header.meter)}: {movement_name(danced.step.movement)}"


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
    """An event: where it comes, and the steps of a tag or an ending."""
    header = dance.routine.header
    at = wall.at + event.after
    facing = spoken_facing(facing_at(dance, at))
    opening = f"now {event_name(event)}: {event_fact(wall, event)}; it comes facing {facing}."
    own = [s for s in wall.stretches if s.at == at and s.section == 0 and event.kind in ("tag", "ending")]
    told = [sentence for stretch in own for sentence in stretch_told(wall, stretch, header)[1:]]
    changed = tuple(_change_told(dance, wall, event)) if event.kind == "change" else ()
    return (opening, *told, *changed)


def _change_told(dance: Dance, wall: Wall, event: Event) -> Iterator[str]:
    """The phrases that the change covers, as they are danced in that wall."""
    first, last = wall.at + event.after, wall.at + event.after + event.counts
    for stretch in wall.stretches:
        for phrase in wall.phrases:
            if first <= phrase.at < last and stretch.at <= phrase.at < stretch.at + stretch.counts:
                yield _phrase_told(phrase, wall, stretch, dance.routine.header)


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
