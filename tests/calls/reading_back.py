"""Calls read back by the notation's own reader, as the words of a step line.

Conventions: a call is read with the weight and for the movements that it is called for. It may leave out feet,
directions, recovers, and the side of a turn; whatever it says has to be what is danced, in its order, to the last
movement. What is a caller's and no sheet's ("and left", "twice", "again") is put into a sheet's words first.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from caller.calls.chain import mirrored
from caller.routine.layout.lines import Line
from caller.routine.meter import Feel
from caller.routine.notation.passage import Context, read_passage
from caller.routine.step import Movement, Weight
from caller.routine.vocabulary import shipped

_PLAIN = {
    "side": "step side",
    "back": "step back",
    "back diagonal": "step back diagonal",
    "together": "step beside",
    "and": "step beside",
    "out": "step out",
    "in": "step in",
    "place": "step in place",
    "in place": "step in place",
}
_TIMES = {" twice": 2, " three times": 3, " four times": 4}
NOTICE = re.compile(
    r"^(?:(?:tag(?: [A-Z0-9]\w*(?=,))?|restart|change|ending)(?:, and (?:tag|restart|change|ending))*,? )"
    r"(?:(?:wall [a-z-]+|last wall|part \w+), )?"
)
_FOOT = re.compile(r"^(right|left) foot(?:, |$)")
_AGAIN = re.compile(r", (\w+ )?again\b")
_PARTS = r"(?:three |five |seven )?(?:eighths?|quarters?)|half|full turn|and an? (?:half|quarter|eighth)"
_AMOUNT = re.compile(rf"\b({_PARTS})\b(?! (?:left|right))")
_TURNED = re.compile(rf"^(side|back|together) (?=(?:one )?(?:{_PARTS})\b)")
# Figures as the floor knows them, by what each step may be: its action, and where it may go. Common practice.
_FLOOR: dict[str, tuple[tuple[str, str], ...]] = {
    "vine": (("step", "side"), ("cross", "behind"), ("step", "side forward place -")),
    "chasse": (("step", "side"), ("step", "beside place"), ("step", "side forward")),
    "side shuffle": (("step", "side"), ("step", "beside place"), ("step", "side forward")),
    "shuffle": (("step", "forward side back"), ("step", "beside place"), ("step", "forward side back")),
    "sailor": (("cross", "behind"), ("step", "side beside place back"), ("step", "side forward place in")),
    "jazz box": (("cross", "over"), ("step", "back"), ("step", "side back"), ("step", "beside forward place in")),
    "v step": (("step", "forward out"),) * 2 + (("step", "in back place"), ("step", "beside in place")),
    "full turn": (("step", "forward back"), ("step", "forward back")),
    "mambo forward": (("rock", "forward"), ("recover", "-"), ("step", "beside place back")),
    "mambo back": (("rock", "back"), ("recover", "-"), ("step", "beside place forward")),
    "basic forward": (("step", "forward"), ("step", "beside place"), ("step", "beside place")),
    "basic back": (("step", "back"), ("step", "beside place"), ("step", "beside place")),
}
_SPELT = {"sailor step": "sailor", "basic waltz forward": "basic forward", "basic waltz back": "basic back"}
_SPELT |= {"waltz forward": "basic forward", "waltz back": "basic back"}
_AMOUNTS = {"eighth": 1, "quarter": 2, "three eighths": 3, "half": 4, "three quarters": 6, "full turn": 8}
_TOLD = re.compile(rf"^(?:(right|left) )?(.+?)(?: (right|left))?(?: ({'|'.join(_AMOUNTS)})(?: (right|left))?)?$")
_BARE_TURNS = ("turn", "pivot", "unwind", "spin", "paddle", "spiral")


def read_back(words: str, movements: Sequence[Movement], before: Weight, previous: Sequence[Movement] = ()) -> str:
    """ "" where the words mean these movements, else what is wrong. previous: of the call before."""
    text, wanted = NOTICE.sub("", words), tuple(movements)
    if (likeness := re.fullmatch(r"and (left|right)", text)) is not None:
        like = [mirrored(one) for one in previous] == list(wanted)
        right = like and any(m.foot and m.foot.word == likeness[1] for m in wanted)
        return "" if right else f"{words!r} is not like {_told(previous)}"
    if text.startswith("and ") and not _closes(wanted[0]):  # it falls between two counts
        text = text.removeprefix("and ")
    text, foot = _foot_told(text)
    if foot and (wanted[0].foot is None or wanted[0].foot.word != foot):
        return f"{words!r}: the {foot} foot is not the first"
    if not text:
        return f"{words!r}: nothing but a foot"
    text, times = _times_told(text)
    once = len(wanted) // times
    if wanted != wanted[:once] * times:
        return f"{words!r}: it is not the same {times} times"
    if _reads(tuple(text.split(", ")), wanted[:once], before) or _is_pivot_alone(text, wanted[:once]):
        return ""
    return f"{words!r} does not read as {_told(wanted)}"


def _is_pivot_alone(text: str, wanted: Sequence[Movement]) -> bool:
    """Whether a pivot is called by its turn with its side: "half left" with the right foot free. Common practice."""
    told = re.fullmatch(r"(.+) (left|right)", text)
    if told is None or told[1] not in _AMOUNTS or [one.action for one in wanted] != ["step", "pivot"]:
        return False
    step, turn = wanted[0], wanted[1].turn.eighths
    away = -1 if step.foot is not None and step.foot.word == "right" else 1
    sided = (turn > 0) == (told[2] == "right") and turn * away > 0
    return step.where == "forward" and not step.turn and sided and abs(turn) == _AMOUNTS[told[1]]


def _closes(movement: Movement) -> bool:
    return movement.action == "step" and movement.where in ("beside", "place", "in")


def _foot_told(text: str) -> tuple[str, str]:
    """The rest, and the foot that it says on its own: "right foot, two shuffles", "four sways from the left"."""
    if (found := _FOOT.match(text)) is not None:
        return text[found.end() :], found[1]
    if (found := re.search(r"^\w+ \w+s(?: from the|,) (left|right)$", text)) is not None:
        return " ".join(text.split()[:2]).rstrip(","), found[1]
    return text, ""


def _times_told(text: str) -> tuple[str, int]:
    """The rest, and how often it is danced: "twice", "again"."""
    if again := _AGAIN.findall(text):
        once = _AGAIN.sub("", text)
        named = {word.strip() for word in again} - {""}
        return once if all(once.startswith(word) for word in named) else text, len(again) + 1
    for suffix, times in _TIMES.items():
        if text.endswith(suffix):
            return text.removesuffix(suffix).rstrip(","), times
    return text, 1


def _told(movements: Sequence[Movement]) -> str:
    return ", ".join(
        f"{m.action} {m.foot.value if m.foot else '-'} {m.where} {m.turn.eighths or ''}".strip() for m in movements
    )


@lru_cache(maxsize=50_000)
def _reads(segments: tuple[str, ...], wanted: tuple[Movement, ...], weight: Weight) -> bool:
    """Whether the segments say all that is wanted, in its order."""
    if not segments:
        return all(m.action == "recover" and not m.turn for m in wanted)
    if not wanted:
        return False
    if (
        wanted[0].action == "recover"
        and not wanted[0].turn
        and _reads(segments, wanted[1:], wanted[0].weight or weight)
    ):
        return True
    for count in range(len(segments), 0, -1):  # "rock, recover" is one figure's name
        if _head(", ".join(segments[:count]), segments[count:], wanted, weight):
            return True
    tokens = segments[0].split()
    return any(
        _head(" ".join(tokens[:n]), (" ".join(tokens[n:]), *segments[1:]), wanted, weight)
        for n in range(len(tokens) - 1, 0, -1)
    )


def _head(text: str, rest: tuple[str, ...], wanted: tuple[Movement, ...], weight: Weight) -> bool:
    for count in range(len(wanted), 0, -1):
        own = wanted[:count]
        if _is(text, own, weight):
            after = next((m.weight for m in reversed(own) if m.weight), weight)
            if _reads(rest, wanted[count:], after):
                return True
    return False


def _is(text: str, wanted: tuple[Movement, ...], weight: Weight) -> bool:
    if _is_floors(text, wanted):
        return True
    if text == "heel grind" and len(wanted) == 1 and wanted[0].action == "heel":
        return wanted[0].weight is not None
    if text == "and" and len(wanted) == 1:
        return _closes(wanted[0]) or (wanted[0].action == "recover" and not wanted[0].turn)
    amount, _, way = text.rpartition(" ") if text.endswith((" left", " right")) else (text, "", "")
    own = wanted[0]
    told = own.action in ("step", "recover") if way else own.action != "pivot"  # "half left" alone may be a turn
    if amount in _AMOUNTS and len(wanted) == 1 and told:
        sided = not way or (own.turn.eighths > 0) == (way == "right")
        forward = own.action == "step" and own.where in ("forward", "")
        return sided and (forward or own.action == "recover") and abs(own.turn.eighths) == _AMOUNTS[amount]
    side = next((("right" if m.turn.eighths > 0 else "left") for m in wanted if m.turn), "")
    plain = _PLAIN.get(text, text)
    plain = re.sub(r"^(right|left) (side|back|together|in place)$", r"step \1 \2", plain)
    plain = _TURNED.sub(r"step \1 ", plain)
    if side:
        plain = _AMOUNT.sub(rf"\1 {side}", plain)
    read = _read(plain, len(wanted), weight)
    if read is not None and len(read) == len(wanted):
        if all(_same(r, w) for r, w in zip(read, wanted, strict=True)):
            return True
        moved = sum(abs(w.turn.eighths) for w in wanted)
        turned = sum(abs(r.turn.eighths) for r in read) == moved and moved > 0
        return turned and all(_same(r, w, turns=False) for r, w in zip(read, wanted, strict=True)) and len(wanted) > 1
    return False


def _is_floors(text: str, wanted: tuple[Movement, ...]) -> bool:
    """Whether it is a figure that the floor knows, and these movements are one of its ways."""
    if (quarters := re.fullmatch(r"two quarters(?: (left|right))?", text)) is not None:
        turns = [one.turn.eighths for one in wanted]
        feet = [one.foot for one in wanted]
        way = -2 if quarters[1] == "left" else 2 if quarters[1] else turns[0]
        steps = [one.action for one in wanted] == ["step", "step"] and turns in ([2, 2], [-2, -2])
        return steps and turns[0] == way and feet[0] is not feet[1]
    if text == "heel split":
        return [one.action for one in wanted] == ["heel split"] * 2
    found = _TOLD.match(text.lower().replace(",", ""))
    if found is None:
        return False
    foot, name, travels, amount, side = found.groups()
    if name == "full turn" and not amount:  # it is its own amount
        amount, side, travels = name, travels, None
    shape = _FLOOR.get(_SPELT.get(name, name), ())
    if len(shape) != len(wanted) or (travels and name not in ("vine", "chasse")):
        return False
    lead = wanted[0].foot
    told = foot or travels
    if lead is None or (told and told != lead.word):
        return False
    feet = [lead if n % 2 == 0 else lead.other for n in range(len(wanted))]
    turns = [one.turn.eighths for one in wanted if one.turn]
    sided = not side or all((turn > 0) == (side == "right") for turn in turns)
    alike = all(
        one.action == action and (_straight(one.where) or "-") in where.split() and one.foot is its
        for one, (action, where), its in zip(wanted, shape, feet, strict=True)
    )
    return alike and sided and abs(sum(turns)) == (_AMOUNTS[amount] if amount else 0)


@lru_cache(maxsize=50_000)
def _read(text: str, count: int, weight: Weight) -> tuple[Movement, ...] | None:
    counts = "1" if count == 1 else f"1-{count}"
    read = read_passage([Line(1, 1, f"{counts}  {text}")], Context(Feel.STRAIGHT, shipped()), weight)
    if read.findings and any(finding.severity.value == "error" for finding in read.findings):
        return None
    return tuple(step.movement for step in read.passage.steps)


def _same(read: Movement, wanted: Movement, *, turns: bool = True) -> bool:
    actions = {read.action, wanted.action}
    alike = len(actions) == 1 or (actions <= set(_BARE_TURNS) and read.action in ("turn", "pivot"))
    alike = alike or (actions == {"walk", "step"} and wanted.where in ("forward", "back"))
    feet = read.foot is None or wanted.foot is None or read.foot is wanted.foot
    where = not read.where or _straight(read.where) == _straight(wanted.where) or actions <= set(_BARE_TURNS)
    return alike and feet and where and (not turns or read.turn == wanted.turn)


def _straight(where: str) -> str:
    return where.removesuffix(" diagonal")
