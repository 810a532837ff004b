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
    """moves: f = the free foot takes the weight, t = it moves and stays free, b = both or neither. offsets: counts after
    the first; in threes one a count where ``waltzed``."""

    moves: str
    offsets: tuple[Fraction, ...]
    waltzed: bool = True


def _figures() -> dict[str, _Figure]:
    table = {
        "fff:0 1/2 1": "shuffle triple polka coaster sailor mambo samba whisk chasse;cha cha;cross cha;lock step;coaster step;"
        "step lock step;sailor step;lock shuffle;back lock step;coaster cross;sailor cross;mambo cross;triple step;anchor;"
        "anchor step;shuffle step;forward coaster;back coaster;scissor step;scissor;crossing shuffle;running mambo;"
        "side rock cross;cross rock side;balance step;balance;step lock step",
        "tff:0 1/2 1": "kick ball change;kick ball step;kick ball cross;kick ball side;heel ball step;heel ball cross;"
        "hitch ball cross;heel ball change",
        "tft:0 1/2 1": "kick ball touch;kick ball point;kick and point;kick and touch;heel and touch",
        "fft:0 1/2 1": "sailor heel;sailor touch",
        "fftf:0 1/2 1 3/2": "vaudeville;heel jack",
        "fftt:0 1 2 3": "",
        "ffff:0 1 2 3": "rocking chair;back rocking chair;jazz box;jazz box cross;jazz box forward;V step;weave;jazz square",
        "ffft:0 1 2 3": "jazz box touch",
        "fff:0 1 2": "vine;grapevine;rolling vine;rolling;twinkle;basic;basic waltz;waltz basic;rolling turn;waltz;rolling full turn",
        "tf:0 1": "toe strut;heel strut;strut;side strut;cross strut",
        "tftftftf:0 1 2 3 4 5 6 7": "jazz box struts",
        "tftf:0 1 2 3": "monterey;monterey turn;heel switches slow",
        "tftf:0 1/2 1 3/2": "heel switches;toe switches;heel switch;toe switch",
        "ftftftft:0 1 2 3 4 5 6 7": "K step",
        "ffffff:0 1 2 4 5 6": "rumba box;rumba box forward;rumba box back",
        "ffffff:0 1/2 1 2 5/2 3": "quick rumba box",
        "ftft:0 1 2 3": "charleston;charleston kick;charleston step",
        "fffff:0 1/2 1 2 3": "lindy;lindy step;chasse back rock;side shuffle back rock;side shuffle rock back",
        "fff:0 1 3/2": "dorothy;wizard;dorothy step;wizard step;nightclub basic",
        "ff:0 1": "full turn;paddle;paddle turn;stomp stomp;side rock;cross rock;rock forward;rock back;rock behind;"
        "rock diagonal;rock;forward rock;back rock;rock across",
        "ff:0 1/2": "ball change;ball cross;ball step;ball side;ball point;ball touch",
        "bb:0 1": "heel split;toe split",
        "f:0": "step side back cross behind walk run together out in place close recover drop stomp stamp skate lock ball and;"
        "in place;walk back;heel grind;stomp forward;run back;hop;jump;right home;home",
        "t:0": "touch point heel kick scuff brush hitch hook flick sweep drag slide dig tap ronde;stomp up;"
        "touch side;touch back;touch across;touch behind;touch forward;kick side;kick forward;point forward;point back;"
        "hook behind;hook forward;heel side;toe;touch out;touch in;sweep back;drag in;point behind;brush back",
        "b:0": "bump;swivel;lean;unwind;knee pop;hip roll;heel bounce;body roll;swivel in;swivel out;swivet",
        ":": "hold clap snap slap look;click",
    }
    found: dict[str, _Figure] = {}
    for told, names in table.items():
        moves, offsets = told.split(":")
        figure = _Figure(moves, tuple(Fraction(one) for one in offsets.split()))
        for group in names.split(";"):
            known = group.split() if len(group.split()) > 5 or group in ("hold clap snap slap look",) else [group]
            found.update((one.lower(), figure) for one in known if one)
    return found


_FIGURES = _figures()
_MOST_WORDS = max(len(name.split()) for name in _FIGURES)
_AMOUNT = re.compile(r"^(?:(?:three|five|seven) )?(?:eighths?|quarters?|half|halves|full turn)\b")
_TIMES = {"twice": 2, "three times": 3, "four times": 4}
_NUMBERS = {"two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_NOTICE = re.compile(r"^(?:tag(?: [a-z])?|restart|change|ending)(?:, and (?:tag|restart|change|ending))*, ")
_NOTHING = {
    "forward",
    "diagonal",
    "across",
    "turning",
    "foot",
    "from",
    "the",
    "to",
    "front",
    "over",
    "twice",
    "up",
    "turn",
}
_WAYS = frozenset(("forward", "back", "side", "place", "diagonal", "step"))
_SIDES = {"right": "R", "left": "L"}


class _Said(NamedTuple):
    """What a call means. moves: one a word or figure, with its offsets where it has its own rhythm; foot: told for its
    first move; after: the move's place is between two counts."""

    moves: tuple[tuple[str, str, tuple[Fraction, ...], str], ...]  # letters, foot, offsets, word
    alike: str = ""
    again: bool = False
    late_turn: bool = False


def understood(words: str) -> _Said:
    text = _NOTICE.sub("", words.lower())
    if (found := re.fullmatch(r"and (right|left)", text)) is not None:
        return _Said((), alike=_SIDES[found[1]])
    if text in ("again", "and again"):
        return _Said((), again=True)
    if (found := re.fullmatch(r"(?:(right|left) )?(\w+) (\w+?)(?:e?s)(?: from the (right|left))?", text)) is not None:
        if found[2] in _NUMBERS and (one := _FIGURES.get(found[3])) is not None:
            foot = _SIDES.get(found[4] or found[1] or "", "")
            moves = tuple((one.moves, foot if n == 0 else "", (), found[3]) for n in range(_NUMBERS[found[2]]))
            return _Said(moves)
    times = 1
    for told, number in _TIMES.items():
        if re.search(rf",? {told}$", text):
            text, times = re.sub(rf",? {told}$", "", text), number
    moves = tuple(_moves(text))
    if not moves:
        return _Said((), late_turn=bool(_AMOUNT.match(text)))
    return _Said(moves * times)


def _moves(text: str) -> Iterator[tuple[str, str, tuple[Fraction, ...], str]]:
    tokens = re.findall(r"[a-z']+|,", text.lower())
    foot, swaying, paused = "", False, False
    at, any_yet, rocked = 0, False, False
    while at < len(tokens):
        rest = " ".join(tokens[at:]).replace(" ,", ",")
        if (turn := _AMOUNT.match(rest)) is not None and not (turn[0] == "full turn" and not any_yet):
            at += len(turn[0].split())
            own_side = at < len(tokens) and tokens[at] in _SIDES
            at += own_side
            if paused and any_yet and not rocked:  # "step, half": a pivot; "behind, quarter": a step
                yield "f", "", (), "pivot"
            paused = False
            continue
        token = tokens[at]
        if token == ",":
            paused, at = True, at + 1
            continue
        if token in _SIDES:
            if swaying:
                yield "s", _SIDES[token], (), "sway"
            else:
                foot = _SIDES[token]
            at += 1
            continue
        if token in ("sway", "bump") and at + 1 < len(tokens) and tokens[at + 1] in _SIDES:
            yield "s", _SIDES[tokens[at + 1]], (), token
            swaying, at, any_yet = True, at + 2, True
            continue
        for length in range(min(_MOST_WORDS, len(tokens) - at), 0, -1):
            name = " ".join(tokens[at : at + length])
            figure = _FIGURES.get(name)
            if figure is None and (name.startswith(("side ", "cross ", "behind ", "left ", "right "))):
                figure = (
                    _FIGURES.get(name.split(" ", 1)[1])
                    if len(name.split()) > 1 and len(_FIGURES.get(name.split(" ", 1)[1], _Figure("", ())).moves) > 2
                    else None
                )
            if figure is not None:
                # A vine's side is its foot: "vine left".
                side = tokens[at + length] if at + length < len(tokens) and len(figure.moves) > 2 else ""
                if side in _SIDES and foot in ("", _SIDES[side]):
                    foot, length = _SIDES[side], length + 1
                yield figure.moves, foot, figure.offsets if len(figure.moves) > 1 else (), name
                foot, any_yet, swaying, rocked = "", True, False, "rock" in name and "cross rock side" not in name
                at += length
                while len(figure.moves) > 1 and at < len(tokens) and tokens[at] in _WAYS:
                    at += 1
                break
        else:
            if token in ("pivot", "spin"):
                yield "f", "", (), "pivot"
                any_yet = True
            at += 1
        paused = False


def danced(heard: Sequence[Heard], threes: bool, counts: Fraction) -> list[Moved]:
    """The moves of a take's first ``counts``."""
    free, at = "", Fraction(0)
    found: list[Moved] = []
    before: list[tuple[str, str, tuple[Fraction, ...], str]] = []
    opened = [one for one in heard if one.ends < _COUNTED_IN]
    calls = [*_opening(opened, heard), *(one for one in heard if one not in opened)]
    for index, call in enumerate(calls):
        said = understood(call.words)
        target = max(at, Fraction(ceil(call.ends + _OVER)))
        if said.moves and said.moves[0][3] in ("and", "ball", "ball step", "ball cross", "ball change") and index:
            target = max(at - _HALF, _next_half(call.ends))
        if said.late_turn and target < at:
            continue
        moves = list(said.moves)
        if said.late_turn:
            moves = [("f", "", (), "pivot")]
        if said.again:
            moves = list(before)
        if said.alike:
            moves = [
                (letters, said.alike if n == 0 else "", offsets, word)
                for n, (letters, _, offsets, word) in enumerate(before)
            ]
        before = [*before, *moves] if said.again else moves
        until = _next_target(calls, index, target)
        placed = _placed(moves, target, until, threes)
        for moment, letter, foot in placed:
            free = foot or free
            if letter == "b":
                found.append(Moved(moment, "B"))
            elif letter == "s":
                found.append(Moved(moment, foot))
                free = _OTHER[foot]
            else:
                found.append(Moved(moment, free))
                free = _OTHER[free] if letter == "f" else free
        if not placed and not moves:
            free = _SIDES.get(call.words, free)
            continue
        at = Fraction(ceil(max([moment for moment, _, _ in placed] or [target]) + Fraction(1, 10)))
        at += (
            sum(1 for letters, _, _, word in moves if not letters and word == "hold")
            if moves and not moves[-1][0]
            else 0
        )
    return [one for one in found if one.at < counts]


def _next_half(ends: Fraction) -> Fraction:
    return ceil(ends + _OVER - _HALF) + _HALF


def _opening(opened: Sequence[Heard], heard: Sequence[Heard]) -> Iterator[Heard]:
    """The call before the count-in, where nothing is called again for the first step."""
    again = any(_COUNTED_IN <= one.ends <= 0 for one in heard)
    for one in opened:
        foot = re.match(r"(right|left) foot", one.words)
        if not again or foot is None:
            words = re.sub(r"^(right|left) foot, ", r"\1 ", one.words)
            yield Heard(words, one.begins, -_HALF)
        else:
            yield Heard(foot[1], one.begins, -_HALF)


def _next_target(calls: Sequence[Heard], index: int, target: Fraction) -> Fraction | None:
    for later in calls[index + 1 :]:
        words = understood(later.words)
        if words.late_turn and not words.moves:
            continue
        upbeat = bool(words.moves) and words.moves[0][3] in ("and", "ball", "ball step", "ball cross", "ball change")
        after = _next_half(later.ends) if upbeat else Fraction(ceil(later.ends + _OVER))
        return max(after, target + _HALF)
    return None


def _placed(
    moves: Sequence[tuple[str, str, tuple[Fraction, ...], str]], target: Fraction, until: Fraction | None, threes: bool
) -> list[tuple[Fraction, str, str]]:
    """When each letter is danced: a count each, or in the figure's own rhythm; quicker where there is no room."""
    plain: list[tuple[Fraction, str, str]] = []
    at = target
    for letters, foot, offsets, word in moves:
        if not letters:
            at += 1 if word == "hold" else 0
            continue
        own = offsets or tuple(Fraction(n) for n in range(len(letters)))
        if threes and len(letters) == 3:
            own = (Fraction(0), Fraction(1), Fraction(2))
        begin = at - _HALF if word in ("and", "ball") and plain else at
        plain += [
            (begin + off, letter, foot if n == 0 else "")
            for n, (letter, off) in enumerate(zip(letters, own, strict=False))
        ]
        at = Fraction(ceil(begin + own[-1] + Fraction(1, 10)))
    if until is None or not plain or at <= until:
        return plain
    room = until - target
    singles = [(letter, foot) for _, letter, foot in plain]
    if len(singles) > 2 * room or any(offsets and len(letters) > 2 for letters, _, offsets, _ in moves):
        return plain
    squeezed: list[tuple[Fraction, str, str]] = []
    lacking = len(singles) - int(room)
    rocks_later = any("rock" in word for _, _, _, word in moves[1:]) or moves[0][3] in ("side", "back")
    halves_first = 2 * lacking if not rocks_later else 0
    at = target
    for n, (letter, foot) in enumerate(singles):
        squeezed.append((at, letter, foot))
        quick = n < halves_first if not rocks_later else n >= len(singles) - 2 * lacking
        at += _HALF if quick else 1
    return squeezed
