"""The forms of a call that are said at once: by a figure's name, by a chain of words, by number, in the sheet's."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from caller.calls.called import Called
from caller.calls.chain import EITHER_FOOT, MovementWords, counted, joined, pieces_of, two_quarters
from caller.calls.losses import (
    AMOUNT,
    BETWEEN,
    FILLERS,
    FOOT_AND_SIDE,
    FOOT_WORDS,
    LAST_RECOVER,
    LIKE,
    LIKE_FAR,
    MOST_WORDS,
    NEAR_COUNTS,
    NO_FOOT,
    NO_FOOT_FIRST,
    NO_FOOT_MARKED,
    NO_FOOT_SWAPPED,
    NO_LAST_WORDS,
    NO_WAY,
    OTHER_THAN_QUOTED,
    RECOVER_UNTOLD,
    RHYTHM_UNTOLD,
    RUN_TOGETHER,
    SHORTER,
    STEP_UNTOLD,
    TIMES,
    TOO_FULL,
    TURN_ALONE,
    TURNING,
    UNDERSTOOD,
    WHERE_UNTOLD,
    WORD_LOST,
)
from caller.calls.read_aloud import read_aloud
from caller.calls.spelling import spoken
from caller.calls.words import FOOT, TURN, words_of_turn
from caller.routine.facing import Turn


class FormAtOnce(NamedTuple):
    words: str
    lost: int


def forms_at_once(called: Called) -> Iterator[FormAtOnce]:
    if called.own:
        yield from _own_words(called.own)
        return
    base = 0
    if called.call:
        foot = NO_FOOT_MARKED if called.marked and called.foot else 0
        yield from (FormAtOnce(words, lost + foot) for words, lost in _quoted(called))
        if foot:
            yield from (FormAtOnce(f"{called.foot} foot, {words}", lost) for words, lost in _quoted(called))
        base = OTHER_THAN_QUOTED
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    own = named(called, called.names) if called.names else _chained(called)
    ending = f", {ending_of(called)}" if called.names and called.ends else ""
    yield from (FormAtOnce(words + ending + times, lost + base) for words, lost in own)
    if not called.names:
        yield from (FormAtOnce(words, lost + base) for words, lost in (*_the_same(called), *_counted(called)))
    if called.like and not called.turn and not times:
        near = called.placed[-1].offset < NEAR_COUNTS
        yield FormAtOnce(f"and {called.foot}", base + (LIKE if near else LIKE_FAR))


def _own_words(text: str) -> Iterator[FormAtOnce]:
    """The author's words as they are read aloud, cut at a word's end; and without what can be done without."""
    words = read_aloud(re.sub(r"[(\[].*?[)\]]", " ", text)).split()
    for most in range(min(MOST_WORDS, len(words)), 0, -1):
        head = words[:most]
        while len(head) > 1 and head[-1].lower() in NO_LAST_WORDS:
            head.pop()
        if all(word.strip(",") in FOOT_WORDS for word in head):
            return  # a foot without what it does
        lost = WORD_LOST * (MOST_WORDS - len(head))
        yield FormAtOnce(" ".join(head).rstrip(",.-"), lost)
        few = [word for word in head if word.lower() not in FILLERS]
        yield FormAtOnce(" ".join(few).rstrip(",.-"), lost + 1)


def _quoted(called: Called) -> Iterator[FormAtOnce]:
    """The sheet's own call; how far it turns is told where it leaves that out. Then cut by its numbers."""
    words, turn = called.call, called.turn if called.names else _whole_turn(called)
    if turn and not AMOUNT.search(spoken(words)):
        for told, lost in ((words_of_turn(turn).full, 0), (words_of_turn(turn).amount, called.unsided)):
            turned = TURNING.sub(rf"\1 {told}", words, count=1)
            yield FormAtOnce(turned if turned != words else f"{words}, {told}", lost)
        return
    yield FormAtOnce(words, 0)
    tight = spoken(words).replace(",", "")
    if not turn and all(" " not in piece.strip() for piece in words.split(",")):
        yield FormAtOnce(tight, RUN_TOGETHER)
    numbers = re.sub(r"(,? (two|three|four))+$", "", spoken(words))
    if numbers != spoken(words):
        yield FormAtOnce(numbers, SHORTER)


def _whole_turn(called: Called) -> Turn:
    eighths = sum(one.movement.turn.eighths for one in called.placed)
    return Turn(eighths)


def named(called: Called, names: tuple[str, ...]) -> Iterator[FormAtOnce]:
    turn = words_of_turn(called.turn)
    footless = NO_FOOT_MARKED if called.marked or called.foot_open else _footless(called)
    for index, name in enumerate(names):
        travels = not name.startswith(FOOT)
        full = name.replace(FOOT, called.foot).strip()
        bare = full if travels else name.replace(FOOT, "").strip()
        fuller = (TOO_FULL if called.thin else 0) if index == 0 and len(names) > 1 else 0
        fuller += SHORTER * index
        # A figure that travels to the side that it turns to has told it.
        unsided = 0 if travels and turn.full.endswith(f" {called.foot}") else called.unsided
        told = [(turn.full, 0), (turn.amount, unsided)] if turn.full else [("", 0)]
        for turned, less in told:
            if not travels:
                footed = 0 if called.marked else TOO_FULL if called.thin else FOOT_AND_SIDE if turned else 0
                yield FormAtOnce(_turned(full, turned), fuller + less + footed)
            yield FormAtOnce(_turned(bare, turned), fuller + less + (0 if travels else footless))
            if travels and not called.marked:  # the free foot goes but one way
                untold = called.unsided if turned == turn.amount != "" else less
                yield FormAtOnce(_turned(name.replace(FOOT, "").strip(), turned), fuller + untold + NO_WAY)


def _footless(called: Called) -> int:
    """What leaving out a foot loses that can only be that one."""
    return NO_FOOT_SWAPPED if called.swaps else NO_FOOT_FIRST if called.first else NO_FOOT


def _turned(name: str, turn: str) -> str:
    return name.replace(TURN, turn) if TURN in name else f"{name} {turn}".rstrip()


def _chained(called: Called) -> Iterator[FormAtOnce]:
    pieces = pieces_of(called.placed, upbeat=called.upbeat)
    understood = [piece for piece in pieces if not piece.understood]
    recovers = len(pieces) > len(understood)
    less = UNDERSTOOD if not needs_recover(called) else _recovers_untold(pieces)
    foot = called.foot if called.foot and pieces[0].full.split()[-1] != called.foot else ""
    footless = (NO_FOOT_MARKED if called.marked or called.foot_open else _footless(called)) if foot else 0
    # A foot is said where it must be heard, and before few words.
    footed = 0 if called.marked or called.foot_open or called.swaps else TOO_FULL if called.thin else SHORTER
    unsided = called.unsided if any(one.movement.turn for one in called.placed) else 0
    syncopated = any(one.offset.denominator != 1 for one in called.placed)
    fuller = TOO_FULL if called.thin and recovers else 0
    ways: list[tuple[Sequence[MovementWords], str, bool, int]] = [(pieces, "full", False, fuller)]
    said: list[tuple[Sequence[MovementWords], int]] = (
        [(pieces, fuller), (understood, less)] if recovers else [(pieces, 0)]
    )
    for told, lost in said:
        ways += [
            (told, "short", False, lost + SHORTER),
            (told, "short", True, lost + RUN_TOGETHER + SHORTER),
            (sided_once(told), "short", True, lost + RUN_TOGETHER + 2 * SHORTER),
            (told, "curt", True, lost + RUN_TOGETHER + SHORTER + TURN_ALONE),
            (told, "unsided", True, lost + RUN_TOGETHER + SHORTER + unsided),
            (told, "brief", True, lost + RUN_TOGETHER + 2 * SHORTER + unsided),
        ]
        if not called.uneven and (quarters := two_quarters(called.placed, told)) != told:
            ways.append((quarters, "short", True, lost + RUN_TOGETHER + SHORTER + WHERE_UNTOLD))
    if called.contrary and called.pivots and not called.thin:
        # The step that a pivot needs goes rather than the side, where it is another than that of the turn before; not
        # in a longer chain, whose next word would be taken for that step.
        yield FormAtOnce(joined(pieces[1:], "short", tight=True), STEP_UNTOLD + footless)
    for told, words, tight, less in ways:
        lost = less + (RHYTHM_UNTOLD if tight and syncopated and called.uneven else 0)
        text = joined(told, words, tight=tight or syncopated, beats=not tight)
        between = called.upbeat and not text.startswith("and")
        yield FormAtOnce(text, lost + footless + (BETWEEN if between else 0))
        if between:
            yield FormAtOnce(f"and {text}", lost + footless)
        if foot:
            yield FormAtOnce(f"{foot} {text}", lost + footed + (BETWEEN if between else 0))


def sided_once(pieces: Sequence[MovementWords]) -> Sequence[MovementWords]:
    """ "back quarter left, side quarter": where all turns go one way, the first tells which."""
    turning = [n for n, piece in enumerate(pieces) if piece.short != piece.unsided]
    ways = {pieces[n].short.rpartition(" ")[2] for n in turning}
    if len(turning) < 2 or len(ways) > 1:
        return pieces
    return [piece._replace(short=piece.unsided) if n in turning[1:] else piece for n, piece in enumerate(pieces)]


def needs_recover(called: Called) -> bool:
    """Whether a recover has to be heard: the first time, among movements that have no name together. A rock by itself
    is known by its name."""
    return not called.thin and len(called.placed) > 2


def _recovers_untold(pieces: Sequence[MovementWords]) -> int:
    """What leaving out the recovers loses: one that comes last can be nothing else."""
    among = any(piece.understood for piece in pieces[:-1])
    return RECOVER_UNTOLD if among else LAST_RECOVER


def _the_same(called: Called) -> Iterator[FormAtOnce]:
    """ "touch back twice": one movement of the same foot over and over."""
    times = len(called.placed) * called.times
    first, *others = (one.movement for one in called.placed)
    if not others or any(other != first for other in others) or first.turn or times not in TIMES:
        return
    words = pieces_of(called.placed[:1])[0].short
    foot = called.foot if called.foot and called.foot not in words else ""
    marked = called.marked or called.foot_open
    yield FormAtOnce(f"{words} {TIMES[times]}", NO_FOOT_MARKED if foot and marked else NO_FOOT if foot else 0)
    if foot:
        yield FormAtOnce(f"{foot} {words} {TIMES[times]}", 0 if marked else SHORTER)


def _counted(called: Called) -> Iterator[FormAtOnce]:
    """ "four sways": alike movements by their number."""
    offsets = [one.offset for one in called.placed]
    even = offsets == list(range(len(offsets))) and called.length in (0, len(offsets))
    if not even or not (together := counted(called.placed * called.times)):
        return  # "three steps" in two counts would leave their rhythm untold
    marked = called.marked or called.foot_open
    # Nobody knows by the free foot to which side a sway goes.
    sided = called.placed[0].movement.action in EITHER_FOOT and not called.thin
    if not sided:
        yield FormAtOnce(together, NO_FOOT_MARKED if marked else 0)
    if marked or sided:
        yield FormAtOnce(f"{together} from the {called.foot}", UNDERSTOOD)
        yield FormAtOnce(f"{together}, {called.foot}", UNDERSTOOD + SHORTER)


def ending_of(called: Called) -> str:
    """The movements after a figure."""
    return joined(pieces_of(called.placed)[-called.ends :], "short", tight=True)
