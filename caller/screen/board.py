"""What stands where on the screen: a pure function of a view, one row of a table for each running state.

Conventions: strings are one line of plain text each; "" leaves its place empty. A place for block letters takes
wordings, longest first, of which the first that fits is shown. ``large`` are the two places whose letters fill much of
the screen (see :mod:`caller.screen.pace`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from caller.screen.both_ways import easier_shown
from caller.screen.captions import NO_CAPTION, Caption, unshown
from caller.screen.heading import COUNT_IN, section_line, title_line, wall_wordings
from caller.screen.plain_text import plain_text, plain_title
from caller.screen.side import Side, side_of
from caller.screen.splash import STARTS
from caller.screen.words import (
    call_wordings,
    coming_words,
    first_key,
    going_on_words,
    large_stands,
    nearest,
    now_and_then,
    number,
    promise_words,
    sound_words,
    tempo_wordings,
    tempo_words,
    told_wordings,
    typed_word,
    whole_wordings,
)
from caller.transport.order import Order
from caller.transport.state import State

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Coming, Glance
    from caller.screen.course import Course, Floor, OrderWall, Strip
    from caller.session import View

# Two sections of eight: far enough ahead to be told, near enough to be counted down.
WARNED_COUNTS = 16


@dataclass(frozen=True, slots=True)
class Large:
    """call: what is danced now, or the state in a word. label: what ``next`` is, in small letters. easier: what half
    the hall dances in its place, () where nothing. All large ones in wordings, longest first."""

    call: tuple[str, ...]
    label: str
    next: tuple[str, ...]
    easier: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Board:
    """All places. state: the running state's word; moving: the class is dancing or being counted in. caption: what is
    spoken and stands nowhere else. listed: sentences below the large words, headings end in a colon; marked: the one of
    them that is now, -1 = none; strip, order: the wall and the running order, None and () where they are not known;
    order_now: the number of the wall danced now, 0 = none; holds: what holds besides (muted, looping, the easier way).
    status: tempo, sound, voice, pedal, what holds, what is worth most first. floor: where the feet go, for a page;
    beside: the dance on the same floor."""

    state: str
    moving: bool
    title: str
    section: str
    wall: tuple[str, ...]
    tempo: tuple[str, ...]
    holds: tuple[str, ...]
    large: Large
    side: Side
    coming: str
    caption: Caption
    listed: tuple[str, ...]
    marked: int
    strip: Strip | None
    order: tuple[OrderWall, ...]
    order_now: int
    status: tuple[str, ...]
    notices: tuple[str, ...] = ()
    floor: Floor | None = None
    beside: str = ""


def board_of(view: View, course: Course | None = None, facing_class: bool = False) -> Board:
    """The board of a view. course: of the dance that is shown, where it is known."""
    glance = view.glance
    danced = glance is not None and view.state in _DANCED
    ahead = nearest(glance.coming, WARNED_COUNTS) if glance and view.state in _MOVING else None
    return Board(
        state=view.state.value,
        moving=view.state in _MOVING,
        title=title_line(view),
        section=section_line(view),
        wall=wall_wordings(view, glance) if glance and danced else ("",),
        tempo=tempo_wordings(view.tempo, view.speed),
        holds=tuple(map(plain_text, view.holds)),
        large=_LARGE[view.state](view, course),
        side=side_of(view, course, facing_class),
        coming=coming_words(ahead) if ahead else "",
        caption=_caption(glance, ahead, course) if glance and view.state in _MOVING else NO_CAPTION,
        listed=_LISTED.get(view.state, _planned)(view, course),
        marked=view.line + 1 if view.state is State.TELLING and len(view.lines) > 1 else -1,
        strip=course.strip(glance, view.until) if course and glance and danced else None,
        order=course.order_of_the_sheet(view.turned) if course else (),
        order_now=glance.wall if glance and danced else 0,
        floor=course.floor(glance) if course and glance and not view.by_heart else None,
        beside=plain_text(view.beside) if danced else "",
        status=(
            tempo_words(view),
            *(("Seen facing the class",) if facing_class else ()),
            sound_words(plain_text(view.sound)),
            f"Voice: {plain_text(view.voice)}",
            f"Pedal: {plain_text(view.pedal)}",
            *map(plain_text, view.holds),
        ),
    )


def _caption(glance: Glance, ahead: Coming | None, course: Course | None) -> Caption:
    return Caption(unshown(glance, ahead), course is not None and glance.saying in course.calls)


def _listed(view: View, course: Course | None) -> tuple[str, ...]:
    """What can't be said, then what was checked, then what will be said."""
    cannot = tuple(map(plain_text, view.cannot))
    said = tuple(map(plain_text, course.said)) if course else ()
    return (
        *((f"Can't be called in time at {number(view.tempo)}:", *cannot) if cannot else ()),
        *((promise_words(view.fastest), *said) if said and not (view.programme or view.plan) else ()),
        *(("Will be taught:", *map(plain_text, view.programme)) if view.programme and not view.plan else ()),
        *_planned(view),
    )


def _told(view: View, course: Course | None) -> tuple[str, ...]:
    """What is being told, as lines."""
    heading = plain_text(view.stage) or "Told"
    return (f"{heading}:", *map(plain_text, view.lines)) if len(view.lines) > 1 else ()


def _planned(view: View, course: Course | None = None) -> tuple[str, ...]:
    heading = "This evening goes on:" if view.resumed else "This evening:"
    return (heading, *map(plain_text, view.plan)) if view.plan else ()


def _getting_ready(view: View, course: Course | None) -> Large:
    waits = (STARTS,) if view.starts else ("the calls are being prepared", "one moment")
    return Large(("getting ready",), f"voice: {plain_text(view.voice)}", waits)


def _ready(view: View, course: Course | None) -> Large:
    key, keys = first_key(Order.GO), f"{first_key(Order.HELP)} shows every key"
    label, does = (f"Goes on where it was cut short; {keys}", "goes on") if view.resumed else (keys, "starts")
    return Large(("ready",), label, (f"{key} or the pedal {does}", f"{key} {does}"))


def _telling(view: View, course: Course | None) -> Large:
    """The sentence that is spoken, and how everybody stands meanwhile."""
    stands, told = large_stands(view.facing, view.free), told_wordings(plain_text(view.telling))
    then = f"then: {plain_text(view.told_next)}" if view.told_next and len(view.lines) < 2 else ""
    # What is cut stands whole among the lines.
    words = told if len(view.lines) > 1 else whole_wordings(plain_text(view.telling))
    return Large(words, then or ("stand" if any(stands) else ""), stands)


def _waiting(view: View, course: Course | None) -> Large:
    stands = now_and_then(view.stood, (view.facing, view.free))
    key, again = first_key(Order.GO), first_key(Order.SECTION_AGAIN)
    keys = f"{first_key(Order.LEARNT)} learnt, {first_key(Order.SHAKY)} shaky, {first_key(Order.NOT_DONE)} not done"
    by_name = f", /{typed_word(Order.LEARNT)} {plain_text(view.beside_to_mark)}" if view.beside_to_mark else ""
    marks = f"{keys}: {plain_title(view.to_mark)}{by_name}" if view.to_mark else ""
    if view.rest:
        label = "; ".join(filter(None, (marks, f"{key} or the pedal goes on with")))
        return Large((plain_text(view.rest),), label, (plain_text(view.told_next),))
    if view.alone:
        well = f"{key} or {first_key(Order.WELL)}: that went well; {again}: again with calls; next"
        return Large(("did it go well?",), well, (plain_text(view.told_next),))
    label = "; ".join(filter(None, (f"{again} does it again", marks, stands, "next" * bool(view.told_next))))
    return Large((f"{key} or the pedal goes on", "tap to go on"), label, (plain_text(view.told_next),))


def _count_in(view: View, course: Course | None) -> Large:
    if view.glance is None or not (view.glance.now or view.by_heart):
        return Large(_wordings(view.glance.next if view.glance else "ready", course), *_then(view, course, ""))
    running = _running(view, course)
    return replace(running, label=" · ".join(filter(None, (COUNT_IN, running.label))))


def _running(view: View, course: Course | None) -> Large:
    if view.glance is None:
        return Large(("",), "", ("",))
    if view.by_heart:
        return Large((str(view.glance.count),), "by the counts alone", ("",))
    return Large(_wordings(view.glance.now, course), *_then(view, course, view.glance.next))


def _then(view: View, course: Course | None, call: str) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """What follows, and beside it what half the hall dances there."""
    where, easier = easier_shown(view, course)
    return " · ".join(filter(None, ("then" if call else "", where))), _wordings(call, course), easier


def _wordings(call: str, course: Course | None) -> tuple[str, ...]:
    return call_wordings(call, course.forms.get(call, ()) if course else ())


def _finishing(view: View, course: Course | None) -> Large:
    """Still danced as before; only the label tells."""
    return replace(_running(view, course), label="pauses after this eight")


def _paused(view: View, course: Course | None) -> Large:
    """How all stand, and what is danced in the next four counts, as large as can be; between them how to go on."""
    key, glance = first_key(Order.GO), view.glance
    if view.telling:
        stands, label = large_stands(view.facing, view.free, "paused"), f"Paused: {key} or the pedal goes on with"
        return Large(stands, label, whole_wordings(plain_text(view.telling)))
    resumed = course.resumes(glance, view.go_on) if glance and course else None
    if glance is None or resumed is None or not resumed.call:
        return Large(("paused",), "", (f"{key} or the pedal goes on, counted in", f"{key} goes on, counted in"))
    weight = f", weight on the {resumed.free.other.word}" if resumed.free else ""
    label = f"Paused{weight}. {going_on_words(glance, view.go_on)}: {key} or the pedal, counted in, with"
    counts = [form for words in resumed.counts for form in call_wordings(words)] or [*_wordings(resumed.call, course)]
    large = ("",) if view.by_heart else tuple(counts)
    return Large(large_stands(resumed.facing, resumed.free, "paused"), label, large)


def _finished(view: View, course: Course | None) -> Large:
    key = first_key(Order.GO)
    if view.item:
        return Large(("the evening is over",), f"{first_key(Order.STOP_OR_LEAVE)} leaves", ("",))
    glance = view.glance if not view.lesson and view.whole else None
    danced = f"{glance.walls} walls danced; " if glance and glance.walls > 1 else ""
    # All still stand as the ending has it: that stays to be seen.
    posed = course is not None and course.dance.ended and glance is not None and bool(glance.now)
    words, over = (_wordings(glance.now, course), "finished; ") if posed and glance else (("finished",), "")
    label = f"{over}{danced}{first_key(Order.STOP_OR_LEAVE)} leaves"
    return Large(words, label, (f"{key} or the pedal dances it again", f"{key} dances it again"))


_LARGE: dict[State, Callable[[View, Course | None], Large]] = {
    State.GETTING_READY: _getting_ready,
    State.READY: _ready,
    State.TELLING: _telling,
    State.COUNT_IN: _count_in,
    State.RUNNING: _running,
    State.FINISHING: _finishing,
    State.PAUSED: _paused,
    State.WAITING: _waiting,
    State.FINISHED: _finished,
}
_LISTED: dict[State, Callable[[View, Course | None], tuple[str, ...]]] = {State.READY: _listed, State.TELLING: _told}
_MOVING = frozenset({State.COUNT_IN, State.RUNNING, State.FINISHING})
_DANCED = _MOVING | {State.PAUSED}
