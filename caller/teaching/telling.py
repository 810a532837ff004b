"""What is told without a beat: the routine's facts, a section figure by figure, an event.

Conventions: sentences as they are spoken, numbers and signs in words, one to a breath. Before a section's figures comes
what is hard in it, after them which way the class then faces and where its weight is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil

from caller.calls.losses import TIMES
from caller.calls.read_aloud import read_aloud
from caller.calls.wording import spoken_count, spoken_counts, spoken_facing, spoken_number, tag_name
from caller.calls.words import in_own_words
from caller.dance.walls import Dance, DancedStep, Stretch, Wall, WallEvent
from caller.routine.count import label_of
from caller.routine.parts import Header, Routine
from caller.routine.short_heading import short_heading
from caller.teaching.figures_told import FigureTold, figures_told
from caller.teaching.standing import facing_at

_EVENT_NAMES = {"restart": "the restart", "change": "the step change", "ending": "the ending"}
_SHOWN_AFTER_CUT = 8  # counts in which the figure after a cut begins
_KINDS = {"tag": "tag", "restart": "restart", "change": "step change", "ending": "ending"}
_ARTICLES = {"tag": "a ", "restart": "a ", "step change": "a ", "ending": "an "}
# A turn of so many eighths is told of beforehand.
_HALF_TURN = 4


def introduction(dance: Dance) -> tuple[str, ...]:
    """What there is, in one breath each: more would keep the class from its first step."""
    header = dance.routine.header
    counts = spoken_counts(min(header.counts or dance.routine.counts, 999))
    walls = f", {_walls(header.walls)}" if header.walls else ""
    events = _events_ahead(dance)
    waltz = "a waltz, " if str(header.meter) == "3/4" else ""
    return (
        f"{read_aloud(header.title) or header.title}: {waltz}{counts}{walls}.",
        *((f"{events}.",) if events else ()),
    )


def _walls(walls: int) -> str:
    return f"{spoken_number(walls)} wall{'' if walls == 1 else 's'}"


def _events_ahead(dance: Dance) -> str:
    """ "a tag, twice, and two restarts, later"; "" for none."""
    events = [event for wall in dance.walls for event in wall.events]
    told: list[str] = []
    for kind in dict.fromkeys(event.kind for event in events):
        own, word = [event.name for event in events if event.kind == kind], _KINDS[kind]
        number = min(len({*own}) if kind == "tag" else len(own), 999)
        article = "" if told else _ARTICLES.get(word, "")
        often = f", {TIMES.get(len(own), 'again and again')}," if number == 1 < len(own) else ""
        told.append(f"{article}{word}{often}" if number == 1 else f"{spoken_number(number)} {word}s")
    return f"{listed(told).removesuffix(',')}, later".replace(",,", ",") if told else ""


def intro_told(header: Header) -> tuple[str, ...]:
    """How long the music plays before the first step; nothing where the sheet doesn't say."""
    return (f"the intro is {spoken_counts(min(header.intro, 999))}.",) if header.intro else ()


def event_name(event: WallEvent) -> str:
    """ "the tag", "the restart"."""
    return _EVENT_NAMES.get(event.kind, f"the {tag_name(event.name)}")


def stretch_name(stretch: Stretch, part: str) -> str:
    """ "section two"; "part B section one"; a tag by its name."""
    if not stretch.section:
        return read_aloud(stretch.name)
    own = f"section {spoken_number(stretch.section)}"
    return f"part {part} {own}" if part else own


def section_opened(routine: Routine, wall: Wall, stretch: Stretch) -> str:
    """ "section two, rock back."."""
    heading = in_own_words(read_aloud(short_heading(stretch.name)), routine.own_words)
    return f"{stretch_name(stretch, wall.part)}{f', {heading}' if stretch.section and heading else ''}."


def figures_between(
    wall: Wall, stretch: Stretch, routine: Routine, first: Fraction, last: Fraction
) -> tuple[FigureTold, ...]:
    """The figures of a stretch that begin from one of its counts to before another."""
    return tuple(one for one in figures_told(wall, stretch, routine) if first <= one.at < last)


def mind_told(
    wall: Wall, stretch: Stretch, routine: Routine, first: Fraction = Fraction(0), last: Fraction | None = None
) -> tuple[str, ...]:
    """What is hard in a section, if that lies within some of its counts: where it turns most, else where it is quicker
    than the count."""
    return tuple(
        f"{words} {counts}."
        for at, words, counts in _hard(wall, stretch, routine)
        if first <= at < (stretch.counts if last is None else last)
    )


def _hard(wall: Wall, stretch: Stretch, routine: Routine) -> Iterator[tuple[Fraction, str, str]]:
    """Where the hard figure begins, what to mind in it, and on which of the section's counts that is."""
    figures = figures_told(wall, stretch, routine)
    turning = max(figures, key=lambda one: _turned(wall, stretch, one), default=None)
    if turning is not None and _turned(wall, stretch, turning) >= _HALF_TURN:
        turns = [danced.at for danced in _own(wall, stretch, turning) if danced.step.movement.turn]
        yield turning.at, "mind the turn", _on_counts(stretch, routine.header, turns[0], turns[-1])
        return
    for figure in figures:
        if quick := [danced.at for danced in _own(wall, stretch, figure) if danced.at.denominator != 1]:
            yield figure.at, "quick steps", _quick_counts(stretch, routine.header, figure, quick)
            return


def _quick_counts(stretch: Stretch, header: Header, figure: FigureTold, quick: Sequence[Fraction]) -> str:
    """ "on three and four", of 3&4; "into one", of &1."""
    if figure.at.denominator != 1:
        return f"into {_count(Fraction(ceil(figure.at)), header)}"
    return _on_counts(stretch, header, quick[0], quick[-1] + 1)


def _on_counts(stretch: Stretch, header: Header, first: Fraction, last: Fraction) -> str:
    """The whole counts of a section, one after another or the first and the last of them."""
    begins, ends = (int(at - stretch.at) for at in (first, min(last, stretch.at + stretch.counts - 1)))
    words = [_count(Fraction(at), header) for at in dict.fromkeys((begins, max(begins, ends)))]
    return f"on {(' and ' if ends - begins == 1 else ' to ').join(words)}"


def _count(place: Fraction, header: Header) -> str:
    return spoken_count(label_of(place, header.feel), place, header.meter)


def _own(wall: Wall, stretch: Stretch, figure: FigureTold) -> list[DancedStep]:
    first, last = stretch.at + figure.at, stretch.at + figure.ends
    return [danced for danced in wall.movements if first <= danced.at < last]


def _turned(wall: Wall, stretch: Stretch, figure: FigureTold) -> int:
    """How far it turns, in eighths."""
    return sum(abs(danced.step.movement.turn.eighths) for danced in _own(wall, stretch, figure))


def section_ended(wall: Wall, stretch: Stretch) -> tuple[str, ...]:
    """Where the body stays while the feet go askew; which way the class then faces, told as before each go, and where
    its weight is."""
    own = [danced for danced in wall.movements if _of(danced, stretch)]
    if not own:
        return ()
    turns = any(danced.step.movement.turn for danced in own)
    askew = not turns and any(danced.step.movement.where.endswith("diagonal") for danced in own)
    after = own[-1].after
    free = after.weight.free_foot
    weight = f"weight on the {free.other.word}, {free.word} foot free" if free else "weight on both feet"
    return (
        *(("the feet go to the diagonal, the body stays square.",) if askew else ()),
        f"you now face {spoken_facing(after.facing)}, {weight}." if turns else f"{weight}.",
    )


def _of(danced: DancedStep, stretch: Stretch) -> bool:
    return danced.section == stretch.section and stretch.at <= danced.at < stretch.at + stretch.counts


def section_told(dance: Dance, wall: Wall, stretch: Stretch) -> tuple[str, ...]:
    """All of a section: its name, what is hard in it, its figures, how the class stands after them."""
    return (
        section_opened(dance.routine, wall, stretch),
        *mind_told(wall, stretch, dance.routine),
        *_figures(wall, stretch, dance.routine),
        *section_ended(wall, stretch),
    )


def _figures(wall: Wall, stretch: Stretch, routine: Routine) -> tuple[str, ...]:
    return tuple(one.words for one in figures_told(wall, stretch, routine) if one.words)


def event_told(dance: Dance, wall: Wall, event: WallEvent) -> tuple[str, ...]:
    """An event: where it comes and which way that faces, and the steps that are its own."""
    routine = dance.routine
    at = wall.at + event.after
    facing = spoken_facing(facing_at(dance, at))
    place, name = _place_of(wall, event, routine.header), event_name(event).removeprefix("the ")
    if event.kind == "restart":
        return (f"{place}, facing {facing}, we start again.",)
    if event.kind == "change" and not event.counts:
        goes_on = list(_danced_from(wall, event, routine, _SHOWN_AFTER_CUT))[:1]
        return (f"{place}, facing {facing}, steps are left out; we go straight on.", *goes_on)
    if event.kind == "change":
        return (f"{place}, facing {facing}, the steps change.", *_danced_from(wall, event, routine, event.counts))
    own = [s for s in wall.stretches if s.at == at and s.section == 0]
    counts = f", {spoken_counts(min(event.counts, 999))}" if event.counts else ""
    steps = (one for stretch in own for one in _figures(wall, stretch, routine))
    return (f"{place}, facing {facing}, {'the ' if event.kind == 'ending' else 'a '}{name}{counts}.", *steps)


def restart_told(dance: Dance, wall: Wall, event: WallEvent) -> str:
    """A restart that comes with what was told before it."""
    return f"then we start again, facing {spoken_facing(facing_at(dance, wall.at + event.after))}."


def _place_of(wall: Wall, event: WallEvent, header: Header) -> str:
    """ "at the end of wall two"; "in wall six, after twenty counts"; of a change, "in wall three, section two, on
    eight"."""
    number = spoken_number(wall.number)
    if event.kind == "change" and event.counts:
        return f"in wall {number}, {_counts_of(wall, event, header)}"
    sections = sum(stretch.counts for stretch in wall.stretches if stretch.section and stretch.counts)
    if event.kind == "tag" and event.after >= sections:
        return f"at the end of wall {number}"
    return f"in wall {number}, after {spoken_counts(event.after)}" if event.after else f"as wall {number} begins"


def _counts_of(wall: Wall, event: WallEvent, header: Header) -> str:
    """The section, and the counts of it as they are counted and shown."""
    at = wall.at + event.after
    stretch = max((s for s in wall.stretches if s.counts and s.at <= at), key=lambda s: s.at)
    first, last = (_count(place - stretch.at, header) for place in (at, at + event.counts - 1))
    until = stretch.at + stretch.counts
    to = "on" if event.counts > 1 and at + event.counts > until else last
    counts = f"from {first} on" if to == "on" else f"on {first}" if event.counts == 1 else f"on {first} to {last}"
    return f"{stretch_name(stretch, wall.part)}, {counts}"


def _danced_from(wall: Wall, event: WallEvent, routine: Routine, counts: int) -> Iterator[str]:
    """The figures that are danced in that wall in so many counts from the event on, whole."""
    first, last = wall.at + event.after, wall.at + event.after + counts
    for stretch in wall.stretches:
        for figure in figures_told(wall, stretch, routine):
            if stretch.at + figure.at < last and stretch.at + figure.ends > first:
                yield figure.alone


def figure_told_at(wall: Wall, stretch: Stretch, routine: Routine, count: Fraction) -> str:
    """The sentence of the figure that a count of the dance is in; "" where there is none."""
    begun = [one for one in figures_told(wall, stretch, routine) if stretch.at + one.at <= count]
    return begun[-1].alone if begun else ""


def figures_alone(dance: Dance) -> Iterator[str]:
    """The sentences of all figures, each by itself, in the order danced."""
    for wall in dance.walls:
        for stretch in wall.stretches:
            yield from (one.alone for one in figures_told(wall, stretch, dance.routine))


def listed(words: Sequence[str]) -> str:
    """ "one, two and three"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
