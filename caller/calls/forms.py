"""What a group of movements may be called, fullest first, and what each shorter form loses.

Conventions: every form says the first movement, each action and how far it turns; what may go is a foot or a direction
that can only be that one, a recover, the side of a turn, a pause between words. ``lost`` is in per cent of a call's
worth. A form may come in parts, each over before its own movement.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from caller.calls.chain import MovementWords, PlacedMovement, counted, joined, pieces_of
from caller.calls.plan import UNTOLD, Part
from caller.calls.read_aloud import read_aloud
from caller.calls.spelling import spoken
from caller.calls.words import FOOT, TURN, words_of_turn
from caller.routine.facing import NO_TURN, Turn
from caller.routine.step import Foot, Movement

# What forms lose, in per cent.
_NO_FOOT, _NO_FOOT_FIRST, _NO_FOOT_MARKED, _NO_WAY, _BETWEEN = 2, 7, 20, 15, 14
_SHORTER, _RUN_TOGETHER, _UNDERSTOOD, _UNSIDED, _IN_PARTS = 3, 3, 1, 12, 5
# "and left" holds to what has just been danced: less so where that took longer.
_LIKE, _LIKE_FAR, _NEAR_COUNTS = 1, 14, 3
# Half counts between whole ones that nothing tells, neither a pause nor a part's moment.
_RHYTHM_UNTOLD = 15
# "again" alone, where it may mean the last of several words.
_WHAT_AGAIN = 30
# The side that a turn can only have goes rather than the utmost pace, yet after the voice's second.
_SIDE_KNOWN = 22
# What the class has not been told yet goes only where nothing else helps, not even a quicker voice: the side of a turn,
# and a recover among movements that have no name together.
_SIDE_UNTOLD, _RECOVER_UNTOLD, _LAST_RECOVER = UNTOLD + 40, UNTOLD, 25
_OTHER_THAN_QUOTED = 12
# "right shuffle half left" holds two sides, of which one is the foot's.
_FOOT_AND_SIDE = 3
# From the second time on the fuller words are no better than the short ones.
_TOO_FULL = 10
_AT_ONCE = Fraction(0)
# A figure's turn is called by itself where it comes so many counts after its first step.
_LATE_COUNTS = 2
# What a comma's pause takes, in letters (0.2 s by the standard voice).
_PAUSE_LETTERS = 3
TIMES = {2: "twice", 3: "three times", 4: "four times"}
# Words of a line that could not be read, at most.
_MOST_WORDS, _WORD_LOST = 8, 3
_NO_LAST_WORDS = frozenset("a an the and & or to of on in with your from round".split())  # noqa: SIM905 - words
_FOOT_WORDS = frozenset(("right", "left", "foot"))
_FILLERS = frozenset("a an the to of on onto with your foot by next slightly then".split())  # noqa: SIM905 - words
_TURNING = re.compile(r"\b(pivot|turn|unwind|paddle|spin|around)\b")
_AMOUNT = re.compile(r"\b(eighths?|quarters?|half|halves|full)\b")


@dataclass(frozen=True, slots=True)
class Forms:
    """wordings: fullest first, each said at once; lost: by each. in_parts: the same in parts, with what is lost."""

    wordings: tuple[str, ...]
    lost: tuple[int, ...]
    in_parts: tuple[tuple[tuple[Part, ...], int], ...] = ()


class Called(NamedTuple):
    """What forms hang on. ends: movements after the figure. names: of the figure it is, "{foot}" where its foot stands.
    turn: the figure's. foot: of its first movement. call: quoted by the sheet. own: words of the author that nobody
    could read. times: danced so often in a row. like: it is the one before it with the other foot. marked: its foot
    must be heard. thin: the second time or later."""

    placed: tuple[PlacedMovement, ...]
    ends: int
    names: tuple[str, ...]
    turn: Turn
    foot: str
    foot_open: bool
    call: str
    own: str
    times: int
    like: bool
    marked: bool
    thin: bool
    sided: bool = False  # whether the side that it turns to has been told
    length: Fraction = Fraction(0)  # of one time, where there are more
    upbeat: bool = False  # whether it begins between two counts
    first: bool = False  # whether a figure comes the first time, or the first time on that foot

    @property
    def unsided(self) -> int:
        """What leaving out the side of its turn loses."""
        if self.thin:
            return 0
        return _UNSIDED if self.sided else _SIDE_KNOWN if self.one_way else _SIDE_UNTOLD

    @property
    def one_way(self) -> bool:
        """Whether all that turns can turn but that way: a pivot, away from the foot that has stepped; a monterey, to
        the side of the foot that points."""
        if self.names:
            return "monterey" in self.names[-1] and words_of_turn(self.turn).full.endswith(self.foot)
        turning = [n for n, one in enumerate(self.placed) if one.movement.turn]
        return all(n > 0 and _pivots(self.placed[n - 1].movement, self.placed[n].movement) for n in turning)

    @property
    def uneven(self) -> bool:
        """Whether whole and half counts stand in it beside each other: "1 2&"."""
        return len({after.offset - before.offset for before, after in pairwise(self.placed)}) > 1


def _pivots(step: Movement, turn: Movement) -> bool:
    """Whether a pivot goes away from the foot that has stepped forward."""
    away = -1 if step.foot is Foot.RIGHT else 1
    forward = step.action == "step" and step.where == "forward" and step.foot is not None
    return forward and turn.action == "pivot" and turn.turn.eighths * away > 0


class _Form(NamedTuple):
    words: str
    lost: int


@lru_cache(maxsize=4096)
def forms_of(called: Called) -> Forms:
    found = list(_forms(called))
    best: dict[str, int] = {}
    for words, lost in found:
        said = spoken(words)
        if said and lost < best.get(said, 1000):
            best[said] = lost
    # The best first; where two are as good, the longer; none that is no shorter than a better one.
    order: list[str] = []
    for words in sorted(best, key=lambda words: (best[words], -_length(words))):
        if not order or _length(words) < _length(order[-1]):
            order.append(words)
    parts = tuple(_worth_having(one for one in _parts(called) if len(one[0]) > 1)) if not called.own else ()
    return Forms(tuple(order), tuple(best[words] for words in order), parts)


def _length(words: str) -> int:
    """About how long it takes to say, in letters."""
    return len(words) + _PAUSE_LETTERS * words.count(",")


def _worth_having(parts: Iterable[tuple[tuple[Part, ...], int]]) -> Iterator[tuple[tuple[Part, ...], int]]:
    """Those, best first, that are said sooner, at the longest of their parts or at all of them, than any better one."""
    kept: list[tuple[int, int]] = []
    for one in sorted(parts, key=lambda one: one[1]):
        lengths = [_length(part.words) for part in one[0]]
        if not any(longest <= max(lengths) and all_ <= sum(lengths) for longest, all_ in kept):
            kept.append((max(lengths), sum(lengths)))
            yield one


def _forms(called: Called) -> Iterator[_Form]:
    if called.own:
        yield from _own_words(called.own)
        return
    base = 0
    if called.call:
        foot = _NO_FOOT_MARKED if called.marked and called.foot else 0
        yield from (_Form(words, lost + foot) for words, lost in _quoted(called))
        if foot:
            yield from (_Form(f"{called.foot} foot, {words}", lost) for words, lost in _quoted(called))
        base = _OTHER_THAN_QUOTED
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    own = _named(called, called.names) if called.names else _chained(called)
    ending = f", {_ending(called)}" if called.names and called.ends else ""
    yield from (_Form(words + ending + times, lost + base) for words, lost in own)
    if not called.names:
        yield from (_Form(words, lost + base) for words, lost in (*_the_same(called), *_counted(called)))
    if called.like and not called.turn and not times:
        near = called.placed[-1].offset < _NEAR_COUNTS
        yield _Form(f"and {called.foot}", base + (_LIKE if near else _LIKE_FAR))


def _own_words(text: str) -> Iterator[_Form]:
    """The author's words as they are read aloud, cut at a word's end; and without what can be done without."""
    words = read_aloud(re.sub(r"[(\[].*?[)\]]", " ", text)).split()
    for most in range(min(_MOST_WORDS, len(words)), 0, -1):
        head = words[:most]
        while len(head) > 1 and head[-1].lower() in _NO_LAST_WORDS:
            head.pop()
        if all(word.strip(",") in _FOOT_WORDS for word in head):
            return  # a foot without what it does
        lost = _WORD_LOST * (_MOST_WORDS - len(head))
        yield _Form(" ".join(head).rstrip(",.-"), lost)
        few = [word for word in head if word.lower() not in _FILLERS]
        yield _Form(" ".join(few).rstrip(",.-"), lost + 1)


def _quoted(called: Called) -> Iterator[_Form]:
    """The sheet's own call; how far it turns is told where it leaves that out. Then cut by its numbers."""
    words, turn = called.call, called.turn if called.names else _whole_turn(called)
    if turn and not _AMOUNT.search(spoken(words)):
        for told, lost in ((words_of_turn(turn).full, 0), (words_of_turn(turn).amount, called.unsided)):
            turned = _TURNING.sub(rf"\1 {told}", words, count=1)
            yield _Form(turned if turned != words else f"{words}, {told}", lost)
        return
    yield _Form(words, 0)
    tight = spoken(words).replace(",", "")
    if not turn and all(" " not in piece.strip() for piece in words.split(",")):
        yield _Form(tight, _RUN_TOGETHER)
    numbers = re.sub(r"(,? (two|three|four))+$", "", spoken(words))
    if numbers != spoken(words):
        yield _Form(numbers, _SHORTER)


def _whole_turn(called: Called) -> Turn:
    eighths = sum(one.movement.turn.eighths for one in called.placed)
    return Turn(eighths)


def _named(called: Called, names: tuple[str, ...]) -> Iterator[_Form]:
    turn = words_of_turn(called.turn)
    footless = _NO_FOOT_MARKED if called.marked or called.foot_open else _NO_FOOT_FIRST if called.first else _NO_FOOT
    for index, name in enumerate(names):
        travels = not name.startswith(FOOT)
        full = name.replace(FOOT, called.foot).strip()
        bare = full if travels else name.replace(FOOT, "").strip()
        fuller = (_TOO_FULL if called.thin else 0) if index == 0 and len(names) > 1 else 0
        fuller += _SHORTER * index
        # A figure that travels to the side that it turns to has told it.
        unsided = 0 if travels and turn.full.endswith(f" {called.foot}") else called.unsided
        told = [(turn.full, 0), (turn.amount, unsided)] if turn.full else [("", 0)]
        for turned, less in told:
            if not travels:
                footed = 0 if called.marked else _TOO_FULL if called.thin else _FOOT_AND_SIDE if turned else 0
                yield _Form(_turned(full, turned), fuller + less + footed)
            yield _Form(_turned(bare, turned), fuller + less + (0 if travels else footless))
            if travels and not called.marked:  # the free foot goes but one way
                untold = called.unsided if turned == turn.amount != "" else less
                yield _Form(_turned(name.replace(FOOT, "").strip(), turned), fuller + untold + _NO_WAY)


def _turned(name: str, turn: str) -> str:
    return name.replace(TURN, turn) if TURN in name else f"{name} {turn}".rstrip()


def _chained(called: Called) -> Iterator[_Form]:
    pieces = pieces_of(called.placed, upbeat=called.upbeat)
    understood = [piece for piece in pieces if not piece.understood]
    recovers = len(pieces) > len(understood)
    less = _UNDERSTOOD if not _needs_recover(called) else _recovers_untold(pieces)
    foot = called.foot if called.foot and pieces[0].full.split()[-1] != called.foot else ""
    footless = (_NO_FOOT_MARKED if called.marked or called.foot_open else _NO_FOOT) if foot else 0
    # A foot is said where it must be heard, and before few words.
    footed = 0 if called.marked or called.foot_open else _TOO_FULL if called.thin else _SHORTER
    unsided = called.unsided if any(one.movement.turn for one in called.placed) else 0
    syncopated = any(one.offset.denominator != 1 for one in called.placed)
    fuller = _TOO_FULL if called.thin and recovers else 0
    ways: list[tuple[Sequence[MovementWords], str, bool, int]] = [(pieces, "full", False, fuller)]
    said: list[tuple[Sequence[MovementWords], int]] = (
        [(pieces, fuller), (understood, less)] if recovers else [(pieces, 0)]
    )
    for told, lost in said:
        ways += [
            (told, "short", False, lost + _SHORTER),
            (told, "short", True, lost + _RUN_TOGETHER + _SHORTER),
            (_sided_once(told), "short", True, lost + _RUN_TOGETHER + 2 * _SHORTER),
            (told, "unsided", True, lost + _RUN_TOGETHER + _SHORTER + unsided),
            (told, "brief", True, lost + _RUN_TOGETHER + 2 * _SHORTER + unsided),
        ]
    for told, words, tight, less in ways:
        lost = less + (_RHYTHM_UNTOLD if tight and syncopated and called.uneven else 0)
        text = joined(told, words, tight=tight or syncopated, beats=not tight)
        between = called.upbeat and not text.startswith("and")
        yield _Form(text, lost + footless + (_BETWEEN if between else 0))
        if between:
            yield _Form(f"and {text}", lost + footless)
        if foot:
            yield _Form(f"{foot} {text}", lost + footed + (_BETWEEN if between else 0))


def _sided_once(pieces: Sequence[MovementWords]) -> Sequence[MovementWords]:
    """ "back quarter left, side quarter": where all turns go one way, the first tells which."""
    turning = [n for n, piece in enumerate(pieces) if piece.short != piece.unsided]
    ways = {pieces[n].short.rpartition(" ")[2] for n in turning}
    if len(turning) < 2 or len(ways) > 1:
        return pieces
    return [piece._replace(short=piece.unsided) if n in turning[1:] else piece for n, piece in enumerate(pieces)]


def _needs_recover(called: Called) -> bool:
    """Whether a recover has to be heard: the first time, among movements that have no name together. A rock by itself
    is known by its name."""
    return not called.thin and len(called.placed) > 2


def _recovers_untold(pieces: Sequence[MovementWords]) -> int:
    """What leaving out the recovers loses: one that comes last can be nothing else."""
    among = any(piece.understood for piece in pieces[:-1])
    return _RECOVER_UNTOLD if among else _LAST_RECOVER


def _the_same(called: Called) -> Iterator[_Form]:
    """ "touch back twice": one movement of the same foot over and over."""
    times = len(called.placed) * called.times
    first, *others = (one.movement for one in called.placed)
    if not others or any(other != first for other in others) or first.turn or times not in TIMES:
        return
    words = pieces_of(called.placed[:1])[0].short
    foot = called.foot if called.foot and called.foot not in words else ""
    marked = called.marked or called.foot_open
    yield _Form(f"{words} {TIMES[times]}", _NO_FOOT_MARKED if foot and marked else _NO_FOOT if foot else 0)
    if foot:
        yield _Form(f"{foot} {words} {TIMES[times]}", 0 if marked else _SHORTER)


def _counted(called: Called) -> Iterator[_Form]:
    """ "four sways": alike movements by their number."""
    offsets = [one.offset for one in called.placed]
    even = offsets == list(range(len(offsets))) and called.length in (0, len(offsets))
    if not even or not (together := counted(called.placed * called.times)):
        return  # "three steps" in two counts would leave their rhythm untold
    marked = called.marked or called.foot_open
    yield _Form(together, _NO_FOOT_MARKED if marked else 0)
    if marked:
        yield _Form(f"{together} from the {called.foot}", _UNDERSTOOD)


def _ending(called: Called) -> str:
    """The movements after a figure."""
    return joined(pieces_of(called.placed)[-called.ends :], "short", tight=True)


def _parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    """The same in parts, each over before its own movement."""
    if called.names:
        yield from _figure_in_parts(called)
    else:
        yield from _chain_in_parts(called)


def _figure_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    """A figure, and how it ends; a figure, and how far it turns late in it; or a figure, and "again"."""
    times = f" {TIMES[called.times]}" if called.times > 1 else ""
    end = called.placed[-called.ends].offset if called.ends else _AT_ONCE
    ending = (Part(spoken(_ending(called) + times), end),) if called.ends else ()
    for words, lost in _named(called, called.names):
        said = spoken(words)
        if called.ends:
            yield (Part(said, _AT_ONCE), *ending), lost + _IN_PARTS
        elif called.times > 1:
            yield from _again(called, (Part(said, _AT_ONCE),), lost + _IN_PARTS + _SHORTER, "")
    late = [one.offset for one in called.placed if one.movement.turn]
    if called.turn and len(late) == 1 and late[0] >= _LATE_COUNTS and not times:
        turn = words_of_turn(called.turn)
        for words, lost in _named(called._replace(turn=NO_TURN), called.names[-1:]):
            for told, less in ((turn.full, 0), (turn.amount, called.unsided)):
                parts = (Part(spoken(words), _AT_ONCE), Part(told, late[0]))
                yield (*parts, *ending), lost + less + _IN_PARTS * (len(ending) + 2)


def _again(called: Called, parts: tuple[Part, ...], lost: int, first: str) -> Iterator[tuple[tuple[Part, ...], int]]:
    """With "again" before each further time; first: the word of what is danced again, where that might mean several
    things: "swivel again"."""
    times = [called.length * n for n in range(1, called.times)]
    if first:
        yield (*parts, *(Part(f"{first} again", after) for after in times)), lost
    yield (*parts, *(Part("again", after) for after in times)), lost + (_WHAT_AGAIN if first else 0)


def _chain_in_parts(called: Called) -> Iterator[tuple[tuple[Part, ...], int]]:
    every = pieces_of(called.placed, upbeat=called.upbeat)
    pieces = [piece for piece in every if not piece.understood or _needs_recover(called)]
    unsided = called.unsided
    once = _sided_once(pieces)
    for words, less in (("short", 0), ("once", _SHORTER), ("unsided", unsided), ("brief", unsided + _SHORTER)):
        if words != "short" and not any(one.movement.turn for one in called.placed):
            continue
        for cuts in _partings(called.placed, pieces):
            own = once if words == "once" else pieces
            runs = [list(own[a:b]) for a, b in zip((0, *cuts), (*cuts, len(own)), strict=True)]
            # "quarter" alone is no step.
            runs = [[run[0]._replace(brief=run[0].unsided), *run[1:]] for run in runs]
            said = [spoken(joined(run, "short" if words == "once" else words, tight=True)) for run in runs]
            offsets = [_AT_ONCE, *(called.placed[run[0].movement].offset for run in runs[1:])]
            lost = _IN_PARTS * len(cuts) + _SHORTER + less
            parts = tuple(Part(one, after) for one, after in zip(said, offsets, strict=True))
            if called.times == 1:
                yield parts, lost
            else:
                # A step with its turn is one thing.
                what = "" if any(piece.alone for piece in pieces) or len(own) == 1 else own[0].short.split()[0]
                yield from _again(called, parts, lost + _IN_PARTS, what)


def _partings(placed: Sequence[PlacedMovement], pieces: Sequence[MovementWords]) -> Iterator[tuple[int, ...]]:
    """Where a chain may be parted, once or twice, a count or more apart; and not at all."""
    yield ()
    places = [placed[piece.movement].offset for piece in pieces]
    begins = [n for n in range(1, len(pieces)) if places[n] >= 1 and not pieces[n].understood]
    for first in begins:
        yield (first,)
        yield from ((first, n) for n in begins if places[n] - places[first] >= 1)
