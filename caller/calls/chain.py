"""Movements called one by one, in their order: "side, hook, side, flick".

Conventions: a chain never begins after its first movement and never leaves one out of its middle. Where time is short
its words get shorter, and run together without a comma's pause; a recover between two counts is an "and" then.
Indices are those of the movements called.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from caller.calls.wording import spoken_number
from caller.calls.words import is_turn_alone, movement_words, words_of_turn
from caller.routine.step import Foot, Movement, Weight

# Movements that either foot may do whatever bears the weight: which, has to be heard.
EITHER_FOOT = frozenset(("sway", "bump", "hop", "scoot", "knee pop", "lean"))
# Words that say where after those; words that are a step by themselves.
_GESTURES = frozenset(("touch", "kick", "point", "hook", "sweep", "brush"))
_STEP_WORDS = frozenset(("side", "back", "behind", "together", "in", "out"))
_COUNTED = 3  # so many alike are called by their number
_QUARTER = 2  # eighths


class PlacedMovement(NamedTuple):
    """A movement, and how many counts after the first of those called with it. slow: it lasts two counts or more."""

    movement: Movement
    offset: Fraction
    slow: bool = False


class MovementWords(NamedTuple):
    """One movement's words. full: the fullest; short: the shortest that says where and how far it turns; unsided:
    without the side of the turn; brief: a step forward by its turn alone ("behind, quarter step"), without its side;
    curt: that with its side. understood: after a rock by itself nobody needs it. alone: it is a turn and no step;
    turned: a step with a turn. on_count: the whole count that it falls on or after."""

    movement: int
    full: str
    short: str
    unsided: str
    brief: str
    curt: str
    understood: bool = False
    alone: bool = False
    turned: bool = False
    on_count: int = 0


def pieces_of(placed: Sequence[PlacedMovement], *, upbeat: bool = False) -> tuple[MovementWords, ...]:
    """upbeat: the first falls between two counts."""
    begins = Fraction(1, 2) if upbeat else Fraction(0)
    pieces = (_piece(index, placed, upbeat) for index in range(len(placed)))
    return tuple(piece._replace(on_count=int(begins + one.offset)) for piece, one in zip(pieces, placed, strict=True))


def _piece(index: int, placed: Sequence[PlacedMovement], upbeat: bool) -> MovementWords:
    movement = placed[index].movement
    turn = words_of_turn(movement.turn)
    if is_turn_alone(movement):
        # After a step nothing else can be meant; by itself "half left" is a step that turns.
        verb = "" if index and placed[index - 1].movement.action == "step" else f"{movement.action} "
        amount = f"{verb}{turn.amount}"
        sided = f"{verb}{turn.full}"
        return MovementWords(index, sided, sided, amount, amount, sided, alone=True)
    full, short = _words(index, placed, upbeat)
    full = f"slow {full}" if placed[index].slow else full
    understood = movement.action == "recover" and not movement.turn and index > 0
    sided, unsided = f"{short} {turn.full}".strip(), f"{short} {turn.amount}".strip()
    itself = _is_its_turn(index, placed)
    return MovementWords(
        index,
        f"{full} {turn.full}".strip(),
        sided,
        unsided,
        turn.amount if itself else unsided,
        turn.full if itself else sided,
        understood,
        turned=bool(movement.turn),
    )


def two_quarters(placed: Sequence[PlacedMovement], pieces: Sequence[MovementWords]) -> Sequence[MovementWords]:
    """ "Two quarters right": the first two steps one after the other that turn alike, as one piece; the feet and the
    turn tell where they go. The same pieces where there are none."""
    for n, (before, after) in enumerate(pairwise(pieces)):
        first, second = placed[before.movement].movement, placed[after.movement].movement
        steps = first.action == second.action == "step" and first.foot is not second.foot
        if steps and first.turn == second.turn and abs(first.turn.eighths) == _QUARTER:
            amount = "two quarters"
            full = f"{amount} {words_of_turn(first.turn).full.rpartition(' ')[2]}"
            piece = MovementWords(before.movement, full, full, amount, amount, full, alone=True)
            return [*pieces[:n], piece._replace(on_count=before.on_count), *pieces[n + 2 :]]
    return pieces


def _is_its_turn(index: int, placed: Sequence[PlacedMovement]) -> bool:
    """Whether a step is known by how far it turns: forward, after a step that no pivot can follow; or back after a
    rock."""
    movement, before = placed[index].movement, placed[index - 1].movement
    if index and movement.action == "recover" and before.action == "rock":
        return bool(movement.turn)
    steps = movement.action == "step" and movement.where in ("forward", "") and movement.turn
    after = before.action == "cross" or (before.action == "step" and before.where in ("side", "beside", "back"))
    return bool(steps and index and after and before.foot is not movement.foot and not before.turn)


def _words(index: int, placed: Sequence[PlacedMovement], upbeat: bool) -> tuple[str, str]:
    movement, offset, _ = placed[index]
    before = placed[index - 1].movement if index else None
    if movement.action in EITHER_FOOT and movement.foot:
        again = before is not None and before.action == movement.action
        words = movement.foot.word if again else f"{movement.action} {movement.foot.word}"
        return words, words
    if movement.action == "heel" and movement.foot and movement.weight is Weight.on(movement.foot):
        return "heel grind", "heel grind"  # it bears the dancer
    own = movement_words(movement.action, movement.where)
    if _is_lock(movement, before):
        return "lock", "lock"
    if _is_and(index, placed):
        return "recover", "and"
    if own[-1] == "step" and _would_go_with_next(index, placed):
        return "forward", "forward"
    closing = movement.action == "step" and movement.where in ("beside", "place")
    between = upbeat if index == 0 else offset.denominator != 1 and (index + 1 < len(placed) or offset > 1)
    if closing and between and len(placed) > 1:
        return own[0], "and"
    return own[0], own[-1]


def _is_and(index: int, placed: Sequence[PlacedMovement]) -> bool:
    """ "side rock and cross": a recover between two counts, before another movement."""
    movement, offset, _ = placed[index]
    recovers = movement.action == "recover" and not movement.turn and index > 0
    return (
        recovers and placed[index - 1].movement.action == "rock" and offset.denominator != 1 and index + 1 < len(placed)
    )


def _would_go_with_next(index: int, placed: Sequence[PlacedMovement]) -> bool:
    """Whether "step" would be heard as a step the way that the next one goes: "step, back half left"."""
    movement, following = placed[index].movement, placed[index + 1 : index + 2]
    goes = movement.action == "step" and movement.where == "forward" and not movement.turn
    return goes and any(one.movement.action == "step" and one.movement.where in ("back", "side") for one in following)


def _is_lock(movement: Movement, before: Movement | None) -> bool:
    if before is None or before.action != "step" or before.foot is movement.foot:
        return False
    return (before.where, movement.action, movement.where) == ("forward", "cross", "behind")


def joined(pieces: Sequence[MovementWords], words: str, *, tight: bool, beats: bool = False) -> str:
    """The pieces as one call. words: which of theirs, by name. tight: without a comma's pause, but round a turn that
    is no step ("step, half right"), and after words that could be taken for the next piece's ("touch back, step").
    beats: with one before each new count too, so that the pauses tell the rhythm: "cross side, behind"."""
    text = getattr(pieces[0], words)
    for before, piece in pairwise(pieces):
        said = getattr(before, words)
        own = getattr(piece, words)
        closed = " " not in said or (before.turned and words in ("unsided", "brief"))
        # Nor is "touch, side" "touch side".
        closed = closed and not (said.split()[-1] in _GESTURES and own.split()[0] in _STEP_WORDS - {"in", "out"})
        # Nor is "left, hold" a hold of the left.
        closed = closed and not (said in ("left", "right") and own not in ("left", "right"))
        # "back, step half left" is no step back.
        closed = closed and not (own.split()[0] == "step" and said.split()[-1] in ("back", "side"))
        # "behind quarter" would turn on the step behind.
        closed = closed and not (words in ("brief", "curt") and piece.brief != piece.unsided)
        # "kick, kick side" is no "kick, kick, side".
        closed = closed and not (" " in own and not piece.turned and own.split()[-1] in _STEP_WORDS)
        closed = (closed or (piece.understood and own == "and")) and not (beats and piece.on_count != before.on_count)
        text += (" " if tight and closed and not (piece.alone or before.alone) else ", ") + own
    return str(text)


def counted(placed: Sequence[PlacedMovement]) -> str:
    """ "four sways": what movements are called that are alike and change feet; "" where they are not."""
    first = placed[0].movement
    feet = [one.movement.foot for one in placed]
    alike = all(_plain(one.movement) == _plain(first) for one in placed)
    changing = all(b is (a.other if a else None) for a, b in pairwise(feet))
    words = movement_words(first.action, first.where)[-1]
    if len(placed) < _COUNTED or not alike or not changing or " " in words or first.turn:
        return ""
    if words in ("back", "side", "behind", "cross", "out", "in"):
        return ""
    return f"{spoken_number(len(placed))} {_plural(words)}"


def _plain(movement: Movement) -> tuple[str, str, int]:
    return movement.action, movement.where, movement.turn.eighths


def _plural(word: str) -> str:
    return f"{word}es" if word.endswith(("ch", "sh", "s", "x")) else f"{word}s"


def mirrored(movement: Movement) -> Movement:
    """The same with the other foot; a turn goes the other way."""
    weight = movement.weight
    other = type(weight).on(Foot(weight.value).other) if weight and weight.value != "both" else weight
    foot = movement.foot.other if movement.foot else None
    return Movement(movement.action, foot, movement.where, -movement.turn, other)
