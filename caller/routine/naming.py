"""Plain words for movements and figures: names as shown, and what is called, fullest first."""

from __future__ import annotations

from functools import lru_cache

from caller.routine.facing import Turn
from caller.routine.figures import Figure
from caller.routine.step import Foot, Movement

_AMOUNTS = {
    1: "eighth",
    2: "quarter",
    3: "three eighths",
    4: "half",
    5: "five eighths",
    6: "three quarters",
    7: "seven eighths",
    8: "full turn",
}

# How a direction is said; what is not here is said as it stands.
_WHERE = {"side": "to the side", "beside": "together", "over": "over", "place": "in place"}
_SHORT_WHERE = {"beside": "together", "place": "", "forward diagonal": "diagonal", "back diagonal": "diagonal"}

# The one word for a movement: by its action and direction, else its action.
_ONE_WORD = {
    ("step", "beside"): "together",
    ("step", "side"): "side",
    ("step", "back"): "back",
    ("walk", "back"): "back",
    ("run", "back"): "back",
    ("step", "out"): "out",
    ("step", "in"): "in",
    ("cross", "behind"): "behind",
    ("swivel", "right"): "right",
    ("swivel", "left"): "left",
    ("swivel", "in"): "centre",
}

# Where a step goes, by its direction, where its figure calls it a step only.
_STEPS_TO = {
    ("step", "side"): "side",
    ("step", "back"): "back",
    ("step", "forward diagonal"): "forward",
    ("step", "back diagonal"): "back",
}


def turn_words(turn: Turn) -> str:
    """ "quarter left", "full turn right", "one and a quarter right"; "" for no turn."""
    if not turn:
        return ""
    side = "right" if turn.eighths > 0 else "left"
    rounds, rest = divmod(abs(turn.eighths), 8)
    if not rounds:
        return f"{_AMOUNTS[rest]} {side}"
    if not rest:
        return f"{'full turn' if rounds == 1 else f'{rounds} full turns'} {side}"
    part = _AMOUNTS[rest]
    article = "an " if part == "eighth" else "a " if " " not in part and part != "half" else ""
    return f"{'one' if rounds == 1 else rounds} and {'a half' if part == 'half' else article + part} {side}"


def movement_name(movement: Movement) -> str:
    """ "step right forward, quarter left"."""
    foot = movement.foot.word if movement.foot and movement.action != "pivot" else ""
    where = "" if (movement.action, movement.where) in (("walk", "forward"), ("heel", "forward")) else _where(movement)
    if movement.action == "pivot" and movement.turn:
        return f"pivot {turn_words(movement.turn)}"
    words = " ".join(filter(None, (movement.action, foot, where)))
    return f"{words}, {turn_words(movement.turn)}" if movement.turn else words


def _where(movement: Movement) -> str:
    """ "together" takes weight; a touch is beside."""
    gesture = movement.where == "beside" and movement.weight is None
    return "beside" if gesture else _WHERE.get(movement.where, movement.where)


def one_word(movement: Movement) -> str:
    """What is called on the count: "step", "together", "behind"."""
    return _ONE_WORD.get((movement.action, movement.where), movement.action)


def counted_word(movement: Movement, word: str = "") -> str:
    """What is called on the count of a movement, whose word that is in its figure, or of itself: a "step" that goes
    anywhere but straight forward says where, and a sway says to which side, since neither is known by the foot."""
    word = word or one_word(movement)
    if word == "step":
        return _STEPS_TO.get((movement.action, movement.where), word)
    return f"{word} {movement.foot.word}" if word == "sway" and movement.foot else word


_CORNERS = {"forward diagonal": "back", "back diagonal": "forward"}


def way_home(out: Movement, touched: Movement, home: Movement) -> str:
    """ "back", of a step home from a corner that was stepped to and touched at, as in a K step: by itself it would be
    no more than "in" or "step"; "" where that is not what three movements are."""
    way = _CORNERS.get(out.where, "")
    steps = out.action == home.action == "step" and home.where in ("in", way)
    same_foot = touched.foot is not None and home.foot is touched.foot and out.foot is not touched.foot
    return way if steps and same_foot and touched.weight is None else ""


def short_words(movement: Movement) -> str:
    """One word, with the turn where there is one: "step, quarter left"."""
    word = one_word(movement)
    return f"{word} {turn_words(movement.turn)}" if movement.turn else word


@lru_cache(maxsize=1024)
def figure_name(figure: Figure, way: str, lead: Foot, turn: Turn) -> str:
    """ "right shuffle forward turning half left"."""
    where = "" if len(figure.ways) == 1 or way == "" else f" {_WHERE.get(way, way)}"
    turning = f"{'' if figure.name.endswith('turn') else ' turning'} {turn_words(turn)}" if turn else ""
    if figure.by_direction:
        return f"{figure.name} {lead.word}{turning}"
    return f"{lead.word} {figure.name}{where}{turning}"


def _phrases(figure: Figure, way: str) -> tuple[str, ...]:
    """A figure's phrase with the way it goes, and shorter: "rock back, recover", "rock back", since which way a rock
    goes has to be heard; but "walk, walk" for walks that go the plain way."""
    if not way or len(figure.ways) == 1:
        return (figure.phrase,)
    first, *rest = figure.phrase.split(", ")
    going = f"side {first}" if way == "side" else f"{first} {_WHERE.get(way, way)}"
    again = way == figure.plain_way and set(rest) == {first}
    return ", ".join((going, *rest)), figure.phrase if again else going


@lru_cache(maxsize=1024)
def figure_wordings(figure: Figure, way: str, lead: Foot, turn: Turn) -> tuple[str, ...]:
    """What may be called, fullest first: the whole name, the name with its turn, the name alone."""
    turning = f", {turn_words(turn)}" if turn else ""
    if figure.phrase:
        turned = f" {turn_words(turn)}" if turn else ""
        phrases = _phrases(figure, way)
        return tuple(dict.fromkeys((*(f"{words}{turned}" for words in phrases), phrases[-1])))
    plain = f"{figure.name} {lead.word}" if figure.by_direction else f"{lead.word} {figure.name}"
    where = "" if len(figure.ways) == 1 or way == "" or figure.by_direction else f" {_SHORT_WHERE.get(way, way)}"
    return tuple(
        dict.fromkeys((f"{plain}{where}{turning}", f"{plain}{turning}", f"{figure.name}{turning}", figure.name))
    )
