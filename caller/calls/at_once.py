"""The forms of a call said at once: the author's words, a quoted call, a figure's names, or movement by movement.

Conventions: every form says the first movement, each action and how far it turns; what may go is a foot or a direction
that can only be that one, a recover, the side of a turn, a pause between words. ``lost`` is in per cent of a call's
worth.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from caller.calls.called import (
    NO_FOOT,
    NO_FOOT_MARKED,
    SHORTER,
    TIMES,
    TOO_FULL,
    Called,
    Form,
    ending_words,
    named,
    needs_recover,
    sided_once,
)
from caller.calls.chain import MovementWords, counted, joined, pieces_of
from caller.calls.plan import UNTOLD
from caller.calls.read_aloud import read_aloud
from caller.calls.spelling import spoken
from caller.calls.words import words_of_turn
from caller.routine.facing import Turn

# What forms lose, in per cent.
_BETWEEN, _RUN_TOGETHER, _UNDERSTOOD, _LIKE = 14, 3, 1, 1
# A recover among movements that have no name together, the first time, goes only where nothing else helps.
_RECOVER_UNTOLD, _LAST_RECOVER = UNTOLD, 25
_OTHER_THAN_QUOTED = 12
# Words of a line that could not be read, at most.
_MOST_WORDS, _WORD_LOST = 8, 3
_NO_LAST_WORDS = frozenset("a an the and & or to of on in with your from round".split())  # noqa: SIM905 - words
_FOOT_WORDS = frozenset(("right", "left", "foot"))
_FILLERS = frozenset("a an the to of on onto with your foot by next slightly then".split())  # noqa: SIM905 - words
_TURNING = re.compile(r"\b(pivot|turn|unwind|paddle|spin|around)\b")
_AMOUNT = re.compile(r"\b(eighths?|quarters?|half|halves|full)\b")


def forms_at_once(called: Called) -> Iterator[Form]:
    if called.own:
        yield from _own_words(called.own)
        return
    base = 0
    if called.call:
        foot = NO_FOOT_MARKED if called.marked and called.foot else 0
        yield from (Form(words, lost + foot) for words, lost in _quoted(called))
        if foot:
            yield from (Form(f"{called.foot} foot, {words}", lost) for words, lost in _quoted(called))
        base = _OTHER_THAN_QUOTED
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    own = named(called, called.names) if called.names else _chained(called)
    ending = f", {ending_words(called)}" if called.names and called.ends else ""
    yield from (Form(words + ending + times, lost + base) for words, lost in own)
    yield from (Form(words, lost + base) for words, lost in _counted(called))
    if called.like and not called.turn and not times:
        yield Form(f"and {called.foot}", base + _LIKE)


def _own_words(text: str) -> Iterator[Form]:
    """The author's words as they are read aloud, cut at a word's end; and without what can be done without."""
    words = read_aloud(re.sub(r"[(\[].*?[)\]]", " ", text)).split()
    for most in range(min(_MOST_WORDS, len(words)), 0, -1):
        head = words[:most]
        while len(head) > 1 and head[-1].lower() in _NO_LAST_WORDS:
            head.pop()
        if all(word.strip(",") in _FOOT_WORDS for word in head):
            return  # a foot without what it does
        lost = _WORD_LOST * (_MOST_WORDS - len(head))
        yield Form(" ".join(head).rstrip(",.-"), lost)
        few = [word for word in head if word.lower() not in _FILLERS]
        yield Form(" ".join(few).rstrip(",.-"), lost + 1)


def _quoted(called: Called) -> Iterator[Form]:
    """The sheet's own call; how far it turns is told where it leaves that out. Then cut by its numbers."""
    words, turn = called.call, called.turn if called.names else _whole_turn(called)
    if turn and not _AMOUNT.search(spoken(words)):
        for told, lost in ((words_of_turn(turn).full, 0), (words_of_turn(turn).amount, called.unsided)):
            turned = _TURNING.sub(rf"\1 {told}", words, count=1)
            yield Form(turned if turned != words else f"{words}, {told}", lost)
        return
    yield Form(words, 0)
    tight = spoken(words).replace(",", "")
    if not turn and all(" " not in piece.strip() for piece in words.split(",")):
        yield Form(tight, _RUN_TOGETHER)
    numbers = re.sub(r"(,? (two|three|four))+$", "", spoken(words))
    if numbers != spoken(words):
        yield Form(numbers, SHORTER)


def _whole_turn(called: Called) -> Turn:
    eighths = sum(one.movement.turn.eighths for one in called.placed)
    return Turn(eighths)


def _chained(called: Called) -> Iterator[Form]:
    pieces = pieces_of(called.placed, upbeat=called.upbeat)
    understood = [piece for piece in pieces if not piece.understood]
    recovers = len(pieces) > len(understood)
    less = _UNDERSTOOD if not needs_recover(called) else _recovers_untold(pieces)
    foot = called.foot if called.foot and pieces[0].full.split()[-1] != called.foot else ""
    footless = (NO_FOOT_MARKED if called.marked or called.foot_open else NO_FOOT) if foot else 0
    # A foot is said where it must be heard, and before few words.
    footed = 0 if called.marked or called.foot_open else TOO_FULL if called.thin else SHORTER
    unsided = called.unsided if any(one.movement.turn for one in called.placed) else 0
    yield from _the_same(called)
    syncopated = any(one.offset.denominator != 1 for one in called.placed)
    fuller = TOO_FULL if called.thin and recovers else 0
    ways: list[tuple[Sequence[MovementWords], str, bool, int]] = [(pieces, "full", False, fuller)]
    said: list[tuple[Sequence[MovementWords], int]] = (
        [(pieces, fuller), (understood, less)] if recovers else [(pieces, 0)]
    )
    for told, lost in said:
        ways += [
            (told, "short", False, lost + SHORTER),
            (told, "short", True, lost + _RUN_TOGETHER + SHORTER),
            (sided_once(told), "short", True, lost + _RUN_TOGETHER + 2 * SHORTER),
            (told, "unsided", True, lost + _RUN_TOGETHER + SHORTER + unsided),
            (told, "brief", True, lost + _RUN_TOGETHER + 2 * SHORTER + unsided),
        ]
    for told, words, tight, lost in ways:
        text = joined(told, words, tight=tight or syncopated, beats=not tight)
        between = called.upbeat and not text.startswith("and")
        yield Form(text, lost + footless + (_BETWEEN if between else 0))
        if between:
            yield Form(f"and {text}", lost + footless)
        if foot:
            yield Form(f"{foot} {text}", lost + footed + (_BETWEEN if between else 0))


def _recovers_untold(pieces: Sequence[MovementWords]) -> int:
    """What leaving out the recovers loses: one that comes last can be nothing else."""
    among = any(piece.understood for piece in pieces[:-1])
    return _RECOVER_UNTOLD if among else _LAST_RECOVER


def _the_same(called: Called) -> Iterator[Form]:
    """ "touch back twice": one movement of the same foot over and over."""
    times = len(called.placed) * called.times
    first, *others = (one.movement for one in called.placed)
    if not others or any(other != first for other in others) or first.turn or times not in TIMES:
        return
    words = pieces_of(called.placed[:1])[0].short
    foot = called.foot if called.foot and called.foot not in words else ""
    marked = called.marked or called.foot_open
    yield Form(f"{words} {TIMES[times]}", NO_FOOT_MARKED if foot and marked else NO_FOOT if foot else 0)
    if foot:
        yield Form(f"{foot} {words} {TIMES[times]}", 0 if marked else SHORTER)


def _counted(called: Called) -> Iterator[Form]:
    """ "four sways": alike movements by their number."""
    if called.names or not (together := counted(called.placed * called.times)):
        return
    marked = called.marked or called.foot_open
    yield Form(together, NO_FOOT_MARKED if marked else 0)
    if marked:
        yield Form(f"{together} from the {called.foot}", 0)
