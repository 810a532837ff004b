"""The screen's and the plain mode's common wordings: pure functions from values to short English phrases.

Conventions: phrases are in sentence case without a full stop; all text that comes from a sheet has gone through
:func:`~caller.screen.plain_text.plain_text`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING

from caller.routine.facing import EIGHTHS, Facing, Turn
from caller.routine.short_heading import short_heading
from caller.routine.step import Foot
from caller.screen.letters import CUT
from caller.screen.plain_text import plain_text
from caller.transport.order import ORDERS, Order
from caller.transport.state import GoOn

if TYPE_CHECKING:  # what is only named here would be slow to bring in before the first paint
    from caller.calls.glance import Coming, Glance
    from caller.session import View

_TURNED = ("", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
_SPEEDS = {Fraction(1): "", Fraction(1, 2): "half"}
_COMING = {"tag": "tag", "restart": "restart", "change": "steps change", "ending": "ending", "wall": "new wall"}
_FIGURES = {
    "one and a quarter": "1 1/4",
    "one and a half": "1 1/2",
    "three quarters": "3/4",
    "three eighths": "3/8",
    "five eighths": "5/8",
    "seven eighths": "7/8",
    "an eighth": "1/8",
    "a quarter": "1/4",
    "a half": "1/2",
    "eighth": "1/8",
    "quarter": "1/4",
    "half": "1/2",
}
_HOURS = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]
_CLOCK = re.compile(rf"\b({'|'.join(_HOURS)}) o'clock\b", re.IGNORECASE)
_HALF_PAST = re.compile(rf"\bhalf past ({'|'.join(_HOURS)})\b", re.IGNORECASE)
_FRACTION = re.compile(rf"\b(?:{'|'.join(_FIGURES)})\b", re.IGNORECASE)
# Textual's key names that are not what is printed on the key.
_KEYS = {
    "space": "Space",
    "enter": "Enter",
    "escape": "Esc",
    "pagedown": "Page Down",
    "pageup": "Page Up",
    "plus": "+",
    "minus": "-",
    "equals_sign": "=",
    "underscore": "_",
    "question_mark": "?",
    "full_stop": ".",
    "comma": ",",
    "slash": "/",
    "left_square_bracket": "[",
    "right_square_bracket": "]",
}


def key_word(key: str) -> str:
    """A key as people call it: "pagedown" is "Page Down", "ctrl+q" is "Ctrl+Q"."""
    if key in _KEYS:
        return _KEYS[key]
    return "+".join(part.upper() if len(part) == 1 else part.capitalize() for part in key.split("+"))


def typed_word(order: Order) -> str:
    """What is typed for an order, "" where nothing is."""
    return next((entry.typed[0] for entry in ORDERS if entry.order is order and entry.typed), "")


def first_key(order: Order) -> str:
    keys = next(entry.keys for entry in ORDERS if entry.order is order)
    return key_word(keys[0]) if keys else ""


def number(value: Fraction) -> str:
    """A tempo as read out: whole, or to one decimal."""
    return str(value.numerator) if value.denominator == 1 else f"{float(value):.1f}"


def speed_words(speed: Fraction) -> str:
    """ "" at full speed; "half", else whole per cents."""
    return _SPEEDS.get(speed, f"{round(speed * 100)}%")


def tempo_wordings(tempo: Fraction, speed: Fraction) -> tuple[str, ...]:
    """What is danced, and which share of the full tempo that is, shorter and shorter."""
    if speed == 1:
        return (number(tempo),)
    danced = number(tempo * speed)
    return f"{danced}, {speed_words(speed)} of {number(tempo)}", f"{danced} of {number(tempo)}"


def tempo_words(view: View) -> str:
    """ "56 a minute, half of 112"."""
    share = speed_words(view.speed)
    return f"{number(view.tempo * view.speed)} a minute" + (f", {share} of {number(view.tempo)}" if share else "")


def turn_words(turn: Turn) -> str:
    """ "1/4 left", "1 1/2 right", "full turn left"; "" for none."""
    if not turn:
        return ""
    whole, rest = divmod(abs(turn.eighths), EIGHTHS)
    way = "right" if turn.eighths > 0 else "left"
    if not rest:
        return f"full turn {way}" if whole == 1 else f"{whole} full turns {way}"
    return " ".join(part for part in (str(whole) if whole else "", _TURNED[rest], way) if part)


# What is told with steps, and goes without saying where letters would else get too small.
_TOLD = re.compile(r"\bturning |\bto the (?=side\b)")
_WAY_OF_TURN = re.compile(r"(\d/\d) (left|right)\b")
_FEET = re.compile(r"\b(?:left|right) (?=(?:forward|back|side|over|behind|together|beside)\b)")


def call_wordings(call: str, shorter: Iterable[str] = ()) -> tuple[str, ...]:
    """A call as it is said, and with its fractions in figures, for where letters would else get too small; then the
    same of each of its shorter forms."""
    words = (plain_text(form) for form in (call, *shorter))
    return tuple(dict.fromkeys(form for word in words for form in (word, _FRACTION.sub(_figure, word))))


def step_wordings(steps: str) -> tuple[str, ...]:
    """Steps as they are told, as short as they are called, without their feet, and without the way of their turns where
    all go one way: "forward 1/4, side 1/4"."""
    called = _TOLD.sub("", steps)
    *told, shortest = call_wordings(steps, (called, _FEET.sub("", called)))
    return (*told, shortest, *((_WAY_OF_TURN.sub(r"\1", shortest),) if way_of_turns(steps) else ()))


def way_of_turns(steps: str) -> str:
    """ "turning right", of steps whose turns all go that way; else ""."""
    ways = {way for _, way in _WAY_OF_TURN.findall(call_wordings(steps)[-1])}
    return f"turning {ways.pop()}" if len(ways) == 1 else ""


def _figure(found: re.Match[str]) -> str:
    return _FIGURES[found.group().lower()]


def in_words(counts: Fraction) -> str:
    """ "in 2", whole counts, never sooner than told; "now"."""
    whole = math.ceil(counts)
    return f"in {whole}" if whole > 0 else "now"


def wall_words(glance: Glance) -> str:
    return f"Wall {glance.wall} of {glance.walls}"


# The way that everybody faces, and the free foot, as far as they are known.
Stance = tuple[Facing | None, Foot | None]


def stands_wordings(facing: Facing | None, free: Foot | None, else_words: str = "") -> tuple[str, ...]:
    """ "facing 9:00, left foot free, weight on the right", and shorter; ``else_words`` where nothing is known."""
    faces = f"facing {facing}" if facing else ""
    foot = f"{free.word} foot free" if free else ""
    weight = f"weight on the {free.other.word}" if free else ""
    fuller, full = (", ".join(filter(None, words)) for words in ((faces, foot, weight), (faces, foot)))
    return tuple(dict.fromkeys((fuller, full))) if full else (else_words,)


def large_stands(facing: Facing | None, free: Foot | None, else_words: str = "") -> tuple[str, ...]:
    """The same for block letters, and as short as it can be said in them: "9:00, left foot free"."""
    short = (f"{facing}, {free.word} foot free",) if facing and free else ()
    return (*stands_wordings(facing, free, else_words), *short)


def told_wordings(sentence: str) -> tuple[str, ...]:
    """A sentence that is told, and what of it is shown where it has no room in block letters: what it tells of, or the
    beginning of that."""
    head = sentence.partition(":")[0].split(", ")
    cut = (", ".join(head[:n]) for n in range(len(head), 0, -1))
    return (*whole_wordings(sentence), *(f"{words}{CUT}" for words in cut if words != sentence))


def whole_wordings(sentence: str) -> tuple[str, ...]:
    """A sentence that is told, and the same with turns and facings in figures, which need less room."""
    short = _FRACTION.sub(lambda found: _FIGURES[found[0].lower()], _clock_figures(sentence))
    return tuple(dict.fromkeys((sentence, short)))


def _clock_figures(sentence: str) -> str:
    """ "facing 9:00, then 10:30", of "facing nine o'clock, then half past ten"."""
    hours = _CLOCK.sub(lambda found: f"{_HOURS.index(found[1].lower()) + 1}:00", sentence)
    return _HALF_PAST.sub(lambda found: f"{_HOURS.index(found[1].lower()) + 1}:30", hours)


def now_and_then(now: Stance, then: Stance) -> str:
    """ "now facing 6:00, right foot free; then facing 12:00, left foot free"; once where all stay as they stand."""
    later = stands_wordings(*then)
    if now == (None, None) or now == then or not later[-1]:
        return later[0]
    return f"now {stands_wordings(*now)[-1]}; then {later[-1]}"


def section_words(glance: Glance) -> str:
    """ "Section 2: Rock back", "Part B, section 2"; a tag or ending, which is no section, by its name alone."""
    name, place = short_heading(plain_text(glance.section_name)), section_place(glance)
    return f"{place}: {name}" if glance.section and name else place


def section_place(glance: Glance) -> str:
    """ "Section 2", "Part B, section 2"; a tag or ending by its name."""
    if not glance.section:
        name = short_heading(plain_text(glance.section_name)) or "tag"
        return f"{name[0].upper()}{name[1:]}"
    part = plain_text(glance.part)
    return f"Part {part}, section {glance.section}" if part else f"Section {glance.section}"


def going_on_words(glance: Glance, go_on: GoOn) -> str:
    """ "Goes on from this bar of section 2", "Goes on from the start of wall 3"."""
    if go_on is GoOn.WALL:
        return f"Goes on from the start of wall {glance.wall}"
    where = section_place(glance) or "this passage"
    return f"Goes on from {'this bar' if go_on is GoOn.BAR else 'the start'} of {where[0].lower()}{where[1:]}"


def coming_words(coming: Coming) -> str:
    """ "tag in 8", "restart now"."""
    kind = _COMING.get(coming.kind, plain_text(coming.kind))
    return f"{kind} {in_words(Fraction(coming.in_counts))}"


# What the back row has to read of an announcement, whatever else it says.
_EVENT = re.compile(r"(?:tag|restart|change|step change|ending|last wall)\b")


def announced_wordings(words: str, coming: str = "") -> tuple[str, ...]:
    """An announcement as it is said, then cut from its end, to the one word that matters: "restart, cross rock",
    "restart". coming: what is coming, and in how many counts, which says as much in few words."""
    pieces = words.split(", ")
    cut = (", ".join(pieces[:n]) for n in range(len(pieces), 0, -1))
    event = _EVENT.match(words)
    found = (*cut, event.group() if event and not coming else "", coming)
    return tuple(dict.fromkeys(one for one in found if one)) or ("",)


def nearest(coming: Iterable[Coming], within: int) -> Coming | None:
    """What the class must be warned of first: the soonest within so many counts that is more than a new wall."""
    ahead = [c for c in coming if c.kind != "wall" and c.in_counts <= within]
    return min(ahead, key=lambda c: c.in_counts, default=None)


def new_notices(before: tuple[str, ...], now: tuple[str, ...]) -> tuple[str, ...]:
    """What ``now`` says that ``before`` had not, where old ones may have gone from the front."""
    for kept in range(min(len(before), len(now)), 0, -1):
        if before[-kept:] == now[:kept]:
            return now[kept:]
    return now


def sound_words(says: str) -> str:
    """The line of the sound, "Sound: ..." """
    return says.rstrip(".") if says.startswith("Sound") else f"Sound: {says}"


def promise_words(fastest: int | None) -> str:
    """What stands above what will be called; fastest: counts a minute, None where not all can be."""
    return "Will be called:" if fastest is None else f"Will be called, every step up to {fastest} counts a minute:"
