"""Danced blind: from the calls of a take and their moments alone, which foot moves on which count.

Conventions: the dancer knows figures by name (common practice on the floor, written down here and not taken from the
caller's vocabulary) and nothing of the sheet. Moments are counts since the first step. A call is danced where what was
called before ends, but never before the call is over; what fills more counts than there are to the next call is danced
quicker. A foot is "R", "L", or "B" where both or neither moves.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from math import ceil
from typing import NamedTuple

_HALF = Fraction(1, 2)
# A call is over at least so many counts before its movement.
_OVER = Fraction(1, 8)
# What is over sooner was said before the count-in.
_COUNTED_IN = Fraction(-2)
_OTHER = {"R": "L", "L": "R", "": ""}


class Heard(NamedTuple):
    """One call, and when it begins and ends."""

    words: str
    begins: Fraction
    ends: Fraction


class Moved(NamedTuple):
    at: Fraction
    foot: str


class _Figure(NamedTuple):
    """moves: f = the free foot takes the weight, t = it moves and stays free, b = both or neither. offsets: counts
    after the first."""

    moves: str
    offsets: tuple[Fraction, ...]


# Moves and counts, to the names, with commas between them.
_TABLE = {
    "fff:0 1/2 1": "shuffle, triple, polka, coaster, sailor, mambo, samba, whisk, chasse, cha cha, cha, cross cha,"
    "lock step, coaster step, step lock step, sailor step, lock shuffle, back lock step, coaster cross, sailor cross,"
    "mambo cross, triple step, anchor, anchor step, shuffle step, forward coaster, back coaster, scissor step, scissor,"
    "balance, crossing shuffle, running mambo, side rock cross, cross rock side, balance step",
    "tff:0 1/2 1": "kick ball change, kick ball step, kick ball cross, kick ball side, heel ball step, heel ball cross,"
    "hitch ball cross, heel ball change",
    "tft:0 1/2 1": "kick ball touch, kick ball point, kick and point, kick and touch, heel and touch",
    "fft:0 1/2 1": "sailor heel, sailor touch",
    "fftf:0 1/2 1 3/2": "vaudeville, heel jack",
    "ffff:0 1 2 3": "rocking chair, back rocking chair, jazz box, jazz box cross, jazz box forward, v step, weave,"
    "jazz square",
    "ffft:0 1 2 3": "jazz box touch",
    "fff:0 1 2": "vine, grapevine, rolling vine, rolling, twinkle, basic, basic waltz, waltz basic, rolling turn,"
    "waltz, rolling full turn",
    "tf:0 1": "toe strut, heel strut, strut, side strut, cross strut",
    "tftftftf:0 1 2 3 4 5 6 7": "jazz box struts",
    "tftf:0 1 2 3": "monterey, monterey turn",
    "tftf:0 1/2 1 3/2": "heel switches, toe switches, heel switch, toe switch",
    "ftftftft:0 1 2 3 4 5 6 7": "k step",
    "ffffff:0 1 2 4 5 6": "rumba box, rumba box forward, rumba box back",
    "ffffff:0 1/2 1 2 5/2 3": "quick rumba box",
    "ftft:0 1 2 3": "charleston, charleston kick, charleston step",
    "fffff:0 1/2 1 2 3": "lindy, lindy step, chasse back rock, side shuffle back rock, side shuffle rock back",
    "fff:0 1 3/2": "dorothy, wizard, dorothy step, wizard step, nightclub basic",
    "ff:0 1": "full turn, paddle, paddle turn, stomp stomp, side rock, cross rock, rock forward, rock back,"
    "rock behind, rock diagonal, rock, forward rock, back rock, rock across",
    "ff:0 1/2": "ball change, ball cross, ball step, ball side, ball point, ball touch",
    "bb:0 1": "heel split, toe split",
    "f:0": "step, side, back, cross, behind, walk, run, together, out, in, place, close, recover, drop, stomp, stamp,"
    "skate, lock, ball, and, in place, walk back, heel grind, stomp forward, stomp side, run back, hop, jump, home",
    "t:0": "touch, point, heel, kick, scuff, brush, hitch, hook, flick, sweep, drag, slide, dig, tap, ronde, stomp up,"
    "touch side, touch back, touch across, touch behind, touch forward, kick side, kick forward, point forward,"
    "point back, hook behind, hook forward, heel side, toe, touch out, touch in, sweep back, drag in, point behind,"
    "brush back",
    "b:0": "bump, swivel, lean, unwind, knee pop, hip roll, heel bounce, body roll, swivel in, swivel out, swivet",
    ":": "hold, clap, snap, slap, look, click",
}


def _figures() -> dict[str, _Figure]:
    found: dict[str, _Figure] = {}
    for told, names in _TABLE.items():
        moves, offsets = told.split(":")
        figure = _Figure(moves, tuple(Fraction(one) for one in offsets.split()))
        found.update((name.strip(), figure) for name in names.split(","))
    return found


_FIGURES = _figures()
_MOST_WORDS = max(len(name.split()) for name in _FIGURES)
_AMOUNT = re.compile(r"^(?:(?:two|three|five|seven) )?(?:eighths?|quarters?|half|halves|full turn)\b")
_TIMES = {"twice": 2, "three times": 3, "four times": 4}
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_NOTICE = re.compile(r"^(?:tag(?: [a-z](?=,))?|restart|change|ending)(?:, and (?:tag|restart|change|ending))*,? ")
_WAYS = frozenset(("forward", "back", "side", "place", "diagonal", "step"))
_SIDES = {"right": "R", "left": "L"}


class _Word(NamedTuple):
    """One movement's word, or a figure's name. moves: as in :class:`_Figure`, or s = the hips go to ``foot``. foot:
    told for its first move. offsets: empty where it has no rhythm of its own. paused: after a pause."""

    moves: str
    foot: str
    offsets: tuple[Fraction, ...]
    name: str
    paused: bool = False


class Meant(NamedTuple):
    """What a call means. alike: the call before with that foot; again: the one before; late_turn: how far what is being
    danced turns, or a pivot."""

    words: tuple[_Word, ...]
    alike: str = ""
    again: bool = False
    late_turn: bool = False


def understood(call: str) -> Meant:
    text = _NOTICE.sub("", call.lower())
    if (found := re.fullmatch(r"and (right|left)", text)) is not None:
        return Meant((), alike=_SIDES[found[1]])
    if re.fullmatch(r"(?:\w+ )?again", text):
        return Meant((), again=True)
    if (counted := _counted(text)) is not None:
        return counted
    times = 1
    for told, number in _TIMES.items():
        if text.endswith(f" {told}"):
            text, times = text.removesuffix(f" {told}").rstrip(","), number
    words = tuple(_Ear(text).words())
    return Meant(words * times) if words else Meant((), late_turn=bool(_AMOUNT.match(text)))


def _counted(text: str) -> Meant | None:
    """ "four sways from the left"."""
    found = re.fullmatch(r"(?:(right|left) )?(\w+) (\w+?)(?:e?s)(?: from the (right|left))?", text)
    if found is None or found[2] not in _NUMBERS or found[3] not in _FIGURES:
        return None
    foot = _SIDES.get(found[4] or found[1] or "", "")
    moves = _FIGURES[found[3]].moves
    return Meant(tuple(_Word(moves, foot if n == 0 else "", (), found[3]) for n in range(_NUMBERS[found[2]])))


class _Ear:
    """Hears a call word by word."""

    def __init__(self, text: str) -> None:
        self.tokens = re.findall(r"[a-z']+|,", text.lower())
        self.at = 0
        self.foot = ""  # told for what comes next
        self.paused = self.begun = self.rocked = self.swaying = False

    def words(self) -> Iterator[_Word]:
        slow = False
        while self.at < len(self.tokens):
            token = self.tokens[self.at]
            if token == ",":
                self.paused, self.at = True, self.at + 1
                continue
            if token == "slow":
                slow, self.at = True, self.at + 1
                continue
            found = self._turn() if self._is_amount() else self._side() if token in _SIDES else self._named()
            if found is not None:
                yield found._replace(paused=self.paused and self.begun and found.name != "pivot")
                self.begun, self.paused = True, False
                if slow:  # it takes a second count
                    yield _Word("", "", (), "hold")
                slow = False

    def _rest(self) -> str:
        return " ".join(self.tokens[self.at :]).replace(" ,", ",")

    def _is_amount(self) -> bool:
        found = _AMOUNT.match(self._rest())
        return found is not None and (found[0] != "full turn" or self.begun)

    def _turn(self) -> _Word | None:
        """ "step, half": a pivot; "behind, quarter": a step; "side rock, quarter" and "back half": how far; "two
        quarters": two steps."""
        found = _AMOUNT.match(self._rest())
        self.at += len(found[0].split()) if found else 1
        self.at += self.at < len(self.tokens) and self.tokens[self.at] in _SIDES
        if found is not None and found[0] == "two quarters":
            return _Word("ff", "", (Fraction(0), Fraction(1)), "two quarters")
        return _Word("f", "", (), "pivot") if self.paused and self.begun and not self.rocked else None

    def _side(self) -> _Word | None:
        foot = _SIDES[self.tokens[self.at]]
        self.at += 1
        if self.swaying:
            return _Word("s", foot, (), "sway")
        self.foot = foot
        return None

    def _named(self) -> _Word | None:
        token, after = self.tokens[self.at], self.tokens[self.at + 1 : self.at + 2]
        if token in ("sway", "bump") and after and after[0] in _SIDES:
            self.swaying, self.at = True, self.at + 2
            return _Word("s", _SIDES[after[0]], (), token)
        for length in range(min(_MOST_WORDS, len(self.tokens) - self.at), 0, -1):
            name = " ".join(self.tokens[self.at : self.at + length])
            if (figure := _figure(name)) is not None:
                self.at += length
                return self._as_danced(name, figure)
        self.at += 1
        return _Word("f", "", (), "pivot") if token in ("pivot", "spin") else None

    def _as_danced(self, name: str, figure: _Figure) -> _Word:
        several = len(figure.moves) > 1
        after = self.tokens[self.at : self.at + 1]
        # A vine's side is its foot: "vine left".
        travels = name.endswith(("vine", "chasse", "shuffle", "rolling", "weave", "polka"))
        if travels and after and after[0] in _SIDES and self.foot in ("", _SIDES[after[0]]):
            self.foot, self.at = _SIDES[after[0]], self.at + 1
        while several and self.tokens[self.at : self.at + 1] and self.tokens[self.at] in _WAYS:
            self.at += 1
        foot, self.foot, self.swaying = self.foot, "", False
        if name == "recover" and self.rocked:  # a rock has told it
            return _Word("", "", (), name)
        self.rocked = "rock" in name and not name.endswith(("cross", "side"))
        if self.rocked and self.tokens[self.at : self.at + 1] == ["and"] and self.at + 1 < len(self.tokens):
            self.at += 1  # "rock and cross": it recovers between two counts
            return _Word(figure.moves, foot, (Fraction(0), _HALF), name)
        return _Word(figure.moves, foot, figure.offsets if several else (), name)


def _figure(name: str) -> _Figure | None:
    """By its name, or by that with where it goes before it: "cross shuffle"."""
    way, _, plain = name.partition(" ")
    found = _FIGURES.get(name)
    if found is None and way in ("side", "cross", "behind") and (own := _FIGURES.get(plain)) and len(own.moves) > 1:
        return own
    return found


def danced(heard: Sequence[Heard], threes: bool, counts: Fraction) -> list[Moved]:
    """The moves of a take's first ``counts``. threes: three counts a bar."""
    opened = [one for one in heard if one.ends < _COUNTED_IN]
    calls = [*_opening(opened, heard), *(one for one in heard if one not in opened)]
    dancer = _Dancer(threes)
    for index, call in enumerate(calls):
        dancer.hears(call, calls[index + 1 :])
    return [one for one in dancer.moved if one.at < counts]


class _Dancer:
    """at: where what was called last ends; free: the foot that can move; called, rhythm: the words of the last call,
    and how its moves were danced."""

    def __init__(self, threes: bool) -> None:
        self.threes = threes
        self.at = Fraction(0)
        self.free = ""
        self.called: tuple[_Word, ...] = ()
        self.rhythm: list[tuple[Fraction, str]] = []
        self.moved: list[Moved] = []

    def hears(self, call: Heard, later: Sequence[Heard]) -> None:
        meant = understood(call.words)
        target = max(self.at, Fraction(ceil(call.ends + _OVER)))
        if _is_upbeat(meant):
            target = max(self.at - _HALF, _next_half(call.ends))
        if meant.late_turn and ceil(call.ends + _OVER) < self.at:  # how far the figure under way turns
            return
        words = self._words(meant)
        if not words:
            self.free = _SIDES.get(call.words, self.free)
            return
        placed = _placed(words, target, _next_target(later, target), self.threes)
        if meant.alike or meant.again:  # in the same rhythm
            placed = [(target + at, move, meant.alike if n == 0 else "") for n, (at, move) in enumerate(self.rhythm)]
        self.called = words
        self.rhythm = [(moment - target, move) for moment, move, _ in placed]
        for moment, move, foot in placed:
            self._moves(moment, move, foot)
        self.at = Fraction(ceil(max([moment for moment, _, _ in placed] or [target]) + Fraction(1, 10)))
        self.at += words[-1].name == "hold"

    def _words(self, meant: Meant) -> tuple[_Word, ...]:
        if meant.late_turn:
            return (_Word("f", "", (), "pivot"),)
        if meant.alike:
            return tuple(word._replace(foot=meant.alike if n == 0 else "") for n, word in enumerate(self.called))
        return self.called if meant.again else meant.words

    def _moves(self, at: Fraction, move: str, foot: str) -> None:
        self.free = foot or self.free
        self.moved.append(Moved(at, "B" if move == "b" else self.free))
        if move in "fs":
            self.free = _OTHER[self.free]


def _is_upbeat(meant: Meant) -> bool:
    """Whether it begins between two counts."""
    return bool(meant.words) and meant.words[0].name in ("and", "ball", "ball step", "ball cross", "ball change")


def _next_half(ends: Fraction) -> Fraction:
    return ceil(ends + _OVER - _HALF) + _HALF


def _opening(opened: Sequence[Heard], heard: Sequence[Heard]) -> Iterator[Heard]:
    """The call before the count-in: danced, but where the first movement is called again after it."""
    again = any(_COUNTED_IN <= one.ends <= 0 for one in heard)
    for one in opened:
        foot = re.match(r"(right|left) foot", one.words)
        words = foot[1] if again and foot else re.sub(r"^(right|left) foot, ", r"\1 ", one.words)
        yield Heard(words, one.begins, -_HALF)


def _next_target(later: Sequence[Heard], target: Fraction) -> Fraction | None:
    """When what is called next is danced, at the soonest."""
    for call in later:
        meant = understood(call.words)
        if meant.words or meant.alike or meant.again:
            after = _next_half(call.ends) if _is_upbeat(meant) else Fraction(ceil(call.ends + _OVER))
            return max(after, target + _HALF)
    return None


_Placed = tuple[Fraction, str, str]


def _placed(words: Sequence[_Word], target: Fraction, until: Fraction | None, threes: bool) -> list[_Placed]:
    """When each move is danced, and with which foot where it is told: a count each, or in the figure's own rhythm;
    quicker where there is no room."""
    plain: list[_Placed] = []
    at = target
    for word in words:
        if not word.moves:
            at += word.name == "hold"
            continue
        own = word.offsets or tuple(Fraction(n) for n in range(len(word.moves)))
        if threes and len(word.moves) == 3:
            own = (Fraction(0), Fraction(1), Fraction(2))
        begin = at - _HALF if word.name in ("and", "ball") and plain else at
        feet = (word.foot, *[""] * len(word.moves))
        plain += [(begin + off, move, foot) for move, off, foot in zip(word.moves, own, feet, strict=False)]
        at = Fraction(ceil(begin + own[-1] + Fraction(1, 10)))
    room = until - target if until is not None else at - target
    slow = sum(len(word.moves) or word.name == "hold" for word in words)
    if len(words) > 1 and slow == room:  # "side rock cross, hold" over four counts
        return [(target + n, move, foot) for n, (_, move, foot) in enumerate(plain)]
    fixed = any(word.offsets and len(word.moves) > 2 for word in words)
    if not plain or at <= target + room or len(plain) > 2 * room or fixed:
        return plain
    beats = _by_beats(words)
    if 1 < len(beats) < len(words) and len(beats) <= room:
        return _phrased(beats, target)
    return _quicker(plain, target, len(plain) - int(room), _late(words))


def _by_beats(words: Sequence[_Word]) -> list[list[_Word]]:
    """The words between two pauses fall on one count: "cross side, behind"."""
    beats: list[list[_Word]] = []
    for word in words:
        if word.paused or not beats:
            beats.append([])
        beats[-1].append(word)
    return beats


def _phrased(beats: Sequence[Sequence[_Word]], target: Fraction) -> list[_Placed]:
    found: list[_Placed] = []
    for count, beat in enumerate(beats):
        moves = [(move, word.foot if n == 0 else "") for word in beat for n, move in enumerate(word.moves)]
        found += [(target + count + Fraction(n, len(moves)), move, foot) for n, (move, foot) in enumerate(moves)]
    return found


def _late(words: Sequence[_Word]) -> bool:
    """Whether the quick steps come last: "side, rock behind" is 1, 2 and, "rock forward, back" 1 and 2."""
    return any("rock" in word.name for word in words[1:]) or words[0].name in ("side", "back")


def _quicker(plain: Sequence[_Placed], target: Fraction, lacking: int, late: bool) -> list[_Placed]:
    found: list[_Placed] = []
    at = target
    for n, (_, move, foot) in enumerate(plain):
        found.append((at, move, foot))
        quick = n >= len(plain) - 2 * lacking if late else n < 2 * lacking
        at += _HALF if quick else 1
    return found
