"""The class in plain lines: what there is to tell between two views, and where it is, for whoever asks. Pure.

Conventions: a line an event, a whole sentence or a call with its count. A call's line says how it was said, where that
was otherwise than it reads, or not at all, so that a log tells what the class heard, and nothing has to be read twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.screen.both_ways import easier_line
from caller.screen.captions import only_counts, same_words
from caller.screen.plain_text import plain_text
from caller.screen.words import (
    going_on_words,
    in_words,
    new_notices,
    now_and_then,
    section_words,
    stands_wordings,
    tempo_words,
    typed_word,
    wall_words,
)
from caller.transport.order import Order
from caller.transport.state import GoOn, State

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Coming, Glance
    from caller.screen.course import Course
    from caller.session import View

# How far ahead something is told, and told again, in counts.
WARNINGS = (16, 8, 4)

_TOLD_STATES = {
    State.GETTING_READY: "Getting ready: the calls are being prepared.",
    State.READY: "Ready.",
    State.TELLING: "",  # the stage and the words are told
    State.COUNT_IN: "Counting in.",
    State.RUNNING: "Dancing.",
    State.FINISHING: "Dancing on to the end of the eight, then pausing.",
    State.PAUSED: 'Paused. Type "{go}", or press the pedal, to go on{where}.',
    State.WAITING: 'Done. Type "{go}", or press the pedal, to go on.',
    State.FINISHED: "Finished.",
}
_FROM = {
    GoOn.BAR: " from this bar",
    GoOn.SECTION: " from the start of this section",
    GoOn.WALL: " from the start of this wall",
}
# What is answered to an order, and told as a state already.
_TOLD_BY_STATE = ("Begins.", "Paused.", "Goes on.")
_MARKS = (Order.LEARNT, Order.SHAKY, Order.NOT_DONE)
_NOT_BEGUN = (State.GETTING_READY, State.READY)
_DANCED = frozenset({State.COUNT_IN, State.RUNNING, State.FINISHING})


def lines_between(before: View | None, now: View, course: Course | None = None) -> list[str]:
    """What there is to tell, given what had been told: in the order state, what can't be called, tempo, wall, section,
    warnings, call, the easier way, what is said besides, sound and the like, notices. before: None at first. course: of
    the dance that is shown; needed where half the hall dances the easier way."""
    if now == before:
        return []
    return [
        *_state(before, now),
        *_waits(before, now),
        *_tempo(before, now),
        *_danced(before, now),
        *_easier(before, now, course),
        *_spoken(before, now),
        *_parts(before, now),
        *_notices(before, now),
    ]


def place_lines(now: View, course: Course | None = None) -> list[str]:
    """Where the class is, all of it, however much has been told. course: of the dance that is shown."""
    glance = now.glance
    placed = glance is not None and now.state in (*_DANCED, State.PAUSED)
    return [
        *_state(None, now),
        *_waits(None, now),
        *_tempo(None, now),
        *(_danced(None, now) if now.state in _DANCED else _wall(None, glance) if glance and placed else ()),
        *([f"Then: {plain_text(glance.next)}."] if glance and glance.next and now.state in _DANCED else ()),
        *([f"Beside it {plain_text(now.beside)}."] if now.beside and placed else ()),
        *([f"Facing {glance.facing}."] if glance and now.state in _DANCED else ()),
        *([f'Said: "{plain_text(now.telling)}"'] if now.state is State.TELLING and now.telling else ()),
        *stands_lines(now, course),
        *([f"Set: {'; '.join(map(plain_text, now.holds))}."] if now.holds else ()),
        *([f"Time: {now.clock}."] if now.clock else ()),
    ]


def place_words(now: View, course: Course | None = None) -> str:
    """The same in a breath, without the title: for a screen that shows it."""
    return " ".join(line.strip() for line in place_lines(now, course)[1:])


def stands_lines(now: View, course: Course | None) -> Iterator[str]:
    """Of a class that is paused: how all stand, and what is danced first when it goes on. course: of the dance that is
    shown; None where it is not known."""
    resumed = course.resumes(now.glance, now.go_on) if now.glance and course else None
    if now.state is not State.PAUSED or now.glance is None or resumed is None or not resumed.call:
        return
    stands = stands_wordings(resumed.facing, resumed.free)[0]
    yield from [f"{stands[0].upper()}{stands[1:]}."] if stands else []
    counts = "" if now.by_heart else next(iter(resumed.counts), resumed.call)
    yield f"{going_on_words(now.glance, now.go_on)}" + (f", with {plain_text(counts)}." if counts else ".")


def _state(before: View | None, now: View) -> Iterator[str]:
    if before is None:
        yield f"{plain_text(now.title)}."
    yield from _item(before, now)
    yield from _stage(before, now)
    told = _TOLD_STATES[now.state]
    if told and (before is None or before.state is not now.state):
        yield told.format(go=typed_word(Order.GO_ON), where=_FROM[now.go_on])
    if now.state is State.READY:
        known = before.cannot if before and before.state is State.READY else ()
        yield from (f"Can't be called in time: {plain_text(one)}" for one in now.cannot if one not in known)


def _waits(before: View | None, now: View) -> Iterator[str]:
    """Where it waits: how everybody stands, what comes next, and which dance may be marked."""
    if now.state is not State.WAITING or (before is not None and before.state is State.WAITING):
        return
    stands = now_and_then(now.stood, (now.facing, now.free))
    yield from [f"{stands[0].upper()}{stands[1:]}."] if stands else []
    yield from [f"{plain_text(now.rest).capitalize()}."] if now.rest else []
    yield from [f"Next: {plain_text(now.told_next)}."] if now.told_next else []
    if now.alone:
        yield f'Type "{typed_word(Order.WELL)}", or "{typed_word(Order.SECTION_AGAIN)}" to have it again with calls.'
    if now.to_mark:
        words = [*map(typed_word, _MARKS)]
        other = plain_text(now.beside_to_mark)
        by_name = f"; the dance beside it: {', '.join(f'{word} {other}' for word in words)}" if other else ""
        yield f"To mark, {plain_text(now.to_mark)}: {', '.join(words)}{by_name}."


def _item(before: View | None, now: View) -> Iterator[str]:
    """Of an evening: the plan while it shows, which item is under way, and how late it is."""
    if now.plan and (before is None or before.state is not now.state):
        yield from map(plain_text, now.plan)
    if now.item and (before is None or (before.item, before.title) != (now.item, now.title)):
        yield f"{now.item.capitalize()}: {plain_text(now.title)}."


def _stage(before: View | None, now: View) -> Iterator[str]:
    """Of a programme: which stage has begun."""
    begun = now.state not in _NOT_BEGUN
    known = (before.stage_place, before.stage) if before and before.state not in _NOT_BEGUN else ("", "")
    if now.stage and begun and known != (now.stage_place, now.stage):
        yield f"Stage {now.stage_place}: {plain_text(now.stage)}." if now.stage_place else f"{plain_text(now.stage)}."


def _tempo(before: View | None, now: View) -> Iterator[str]:
    if before is None or (before.tempo, before.speed) != (now.tempo, now.speed):
        yield f"Tempo: {tempo_words(now)}."


def _danced(before: View | None, now: View) -> Iterator[str]:
    """Walls, sections, warnings and calls, while there is dancing. After a pause all are told anew."""
    if now.glance is None or now.state not in _DANCED:
        return
    going_on = before is not None and before.state in _DANCED
    was = before.glance if before is not None and going_on else None
    glance = now.glance
    yield from _wall(was, glance)
    yield from _warnings(was, glance)
    if (
        glance.now
        and not glance.counting_in
        and _phrase_began(was, glance, before is None or before.state is now.state)
    ):
        yield f"  {glance.count}: {plain_text(glance.now)}{_how_said(glance)}"


def _easier(before: View | None, now: View, course: Course | None) -> Iterator[str]:
    """What half the hall dances, where that comes."""
    words = _easier_words(now, course)
    if words and (before is None or _easier_words(before, course) != words):
        yield f"  {words}"


def _easier_words(view: View, course: Course | None) -> str:
    return easier_line(view, course) if view.state in _DANCED else ""


def _wall(was: Glance | None, glance: Glance) -> Iterator[str]:
    if was is None or was.wall != glance.wall:
        yield f"{wall_words(glance)}, starting at {glance.wall_starts}."
    section = section_words(glance)
    if section and (was is None or was.wall != glance.wall or section_words(was) != section):
        yield f"{section}."


def _how_said(glance: Glance) -> str:
    """Nothing where it was said as it reads, or no step is to be called."""
    if glance.said is None or same_words(glance.said, glance.now):
        return ""
    return f' (said "{plain_text(glance.said)}")' if glance.said else " (not said)"


def _phrase_began(was: Glance | None, glance: Glance, as_before: bool) -> bool:
    """as_before: it goes on as it was to; what is to pause has nothing that follows, and is the same call still."""

    def place(one: Glance) -> tuple[object, ...]:
        return one.wall, one.part, one.section, one.section_name, one.now, one.next if as_before else ""

    return was is None or was.counting_in or place(was) != place(glance)


def _warnings(was: Glance | None, glance: Glance) -> Iterator[str]:
    told = {(c.kind, c.words): _warned(c) for c in was.coming} if was else {}
    for coming in glance.coming:
        due = _warned(coming)
        if coming.kind != "wall" and due is not None and told.get((coming.kind, coming.words)) != due:
            words = plain_text(coming.words) or coming.kind
            yield f"{in_words(Fraction(coming.in_counts)).capitalize()}: {words}."


def _warned(coming: Coming) -> int | None:
    """The nearest warning that is due by now, None while it is too far ahead for any."""
    return min((at for at in WARNINGS if coming.in_counts <= at), default=None)


def _spoken(before: View | None, now: View) -> Iterator[str]:
    """What is said beyond the calls: how those are said is told with them, as they are danced."""
    if now.state is State.TELLING and now.telling and (before is None or _telling(before) != _telling(now)):
        yield f'Said: "{plain_text(now.telling)}"'
    if now.glance is None or now.state not in _DANCED or now.glance.with_step or only_counts(now.glance.saying):
        return
    if before is None or before.glance is None or before.glance.saying != now.glance.saying:
        yield f'Said: "{plain_text(now.glance.saying)}".'


def _telling(view: View) -> tuple[object, ...]:
    """A sentence that is told, apart from the same one told again."""
    return view.state is State.TELLING, view.telling, view.line, view.lines


def _parts(before: View | None, now: View) -> Iterator[str]:
    for name in ("sound", "voice", "pedal"):
        says = getattr(now, name)
        counting = name == "voice" and before is not None and _counting(before.voice) and _counting(says)
        if not counting and (before is None or getattr(before, name) != says):
            yield f"{name.capitalize()}: {plain_text(says)}".rstrip(".") + "."


def _counting(voice: str) -> bool:
    """Whether it is still being made ready; that is told once, however long the evening's words take."""
    return voice.startswith("getting ready")


def _notices(before: View | None, now: View) -> Iterator[str]:
    """What is new and no part has said on a line of its own."""
    said: tuple[str, ...] = (now.sound, now.voice, f"Pedal: {now.pedal}.")
    fresh = new_notices(before.notices if before else (), now.notices)
    if before is not None and before.state is not now.state:
        said += _TOLD_BY_STATE
    yield from (f"Note: {plain_text(notice)}" for notice in fresh if notice not in said)
