"""Idioms: what a word may begin beyond the vocabulary's phrases ("ball of L", "ending on R", "like a cowboy").

Conventions: each reader is handed the run of words that begins where the cursor stands; it steps over those it takes,
and gives None, the cursor unmoved, where they say something else.
"""

from __future__ import annotations

from collections.abc import Callable

from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.scanning import ARTICLES, FEET, Cursor, Token
from caller.routine.notation.stated import read_weight, says_no_weight
from caller.routine.step import Foot

_TURN_WAYS = {
    ("clockwise",): Foot.RIGHT,
    ("cw",): Foot.RIGHT,
    ("anticlockwise",): Foot.LEFT,
    ("counterclockwise",): Foot.LEFT,
    ("anti", "clockwise"): Foot.LEFT,
    ("counter", "clockwise"): Foot.LEFT,
    ("ccw",): Foot.LEFT,
}
_ROUND = frozenset((("front", "back"), ("back", "front")))
# fmt: off
_STEPPERS = frozenset((
    "step", "stepping", "steps", "place", "placing", "rock", "rocking", "press", "pressing", "touch", "touching",
    "cross", "crossing", "lock", "locking", "walk", "run", "close", "recover", "heel", "toe", "kick", "point", "stomp",
))
_ORDINALS = frozenset(("first", "last", "final", "second", "third", "fourth", "1st", "2nd", "3rd"))
_TURNERS = frozenset(("turn", "turning", "pivot", "pivoting", "spin", "spinning", "spiral", "swivel", "unwind"))
_WEIGHT_OPENERS = (
    "taking", "takes", "take", "transferring", "shifting", "keep", "keeping", "ending",
    "end", "all", "the", "your", "finish", "finishing", "leaving",
    "weight's", "putting", "put", "ends", "finishes", "changing",
)
# fmt: on


def idiom(cursor: Cursor, token: Token) -> Lexeme | None:
    """The idiom that begins with this token, where the cursor stands; None where there is none."""
    opens = _OPENING.get(token.word)
    return opens(cursor, cursor.words()) if opens else None


def _weight(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    said = [w.word for w in words]
    for length in range(len(words), 1, -1):
        text = " ".join(said[:length])
        ends = "weight" not in said[:length]  # "ending on L", but not "ending with L heel"
        if (weight := read_weight(text)) is not None and not (ends and length < len(words)):
            return cursor.phrase(LexemeKind.WEIGHT, weight, words[:length])
        if says_no_weight(text):
            return cursor.phrase(LexemeKind.NO_WEIGHT, None, words[:length])
    plain = [w for w in words if w.word not in ("the", "your", "full", "all")]
    if [w.word for w in plain[1:2]] == ["weight"] and plain[0].word in ("taking", "take", "with", "takes"):
        value = True if plain[0].word != "with" else None
        return cursor.phrase(
            LexemeKind.NOISE if value is None else LexemeKind.WEIGHT, value, words[: words.index(plain[1]) + 1]
        )
    return None


def _ball_of(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "on ball of R turn": the foot turned on, which bears the weight already; "step ball of R": the foot that
    steps."""
    said = [w for w in words[:5] if w.word not in ("the", "your", "both")]
    if len(said) < 2 or said[0].word not in ("ball", "balls") or said[1].word != "of":
        return (
            cursor.phrase(LexemeKind.NOISE, None, words[:1]) if cursor.after("on") or words[0].word == "balls" else None
        )
    if len(said) < 3 or said[2].word not in (*FEET, "foot", "feet"):
        return cursor.phrase(LexemeKind.NOISE, None, words[: words.index(said[1]) + 1])
    if said[2].word in FEET and _steps_so_far(cursor):
        return cursor.phrase(LexemeKind.NOISE, None, words[: words.index(said[1]) + 1])
    on = FEET.get(said[2].word)
    return cursor.phrase(LexemeKind.ON if on else LexemeKind.NOISE, on, words[: words.index(said[2]) + 1])


def _steps_so_far(cursor: Cursor) -> bool:
    """Whether the words since the last separator tell of a step and of no turn."""
    stepped = False
    for token in reversed(cursor.tokens[: cursor.at]):
        if token.kind == "separator" or token.word in ("and", "then"):
            break
        if token.kind == "turn" or token.word in _TURNERS:
            return False
        stepped = stepped or token.word in _STEPPERS
    return stepped


def _wants_foot(cursor: Cursor) -> bool:
    """Whether the step told so far has no foot yet: "step fwd on L turning 1/4 left"."""
    if not _steps_so_far(cursor):
        return False
    for token in reversed(cursor.tokens[: cursor.at]):
        if token.word in FEET:
            return False
        if token.word in _STEPPERS:
            return True
    return False


def _turn_way(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    said = tuple(w.word for w in words[:4])
    for phrase, way in _TURN_WAYS.items():
        if said[: len(phrase)] == phrase:
            return cursor.phrase(LexemeKind.TURN_WAY, way, words[: len(phrase)])
    if len(said) >= 3 and said[0] == "over" and "shoulder" in said[2:]:
        end = said.index("shoulder")
        if said[end - 1] in FEET:
            return cursor.phrase(LexemeKind.TURN_WAY, FEET[said[end - 1]], words[: end + 1])
    return None


def _leading(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "leading with the left": the foot is what counts."""
    said = 1
    while said < len(words) and words[said].word in ("with", "on", "the", "your"):
        said += 1
    rest = [w.word for w in words[said:]]
    if len(rest) >= 2 and rest[0] in FEET and rest[1] in ("over", "across", "behind"):  # "starting with L over R"
        said += 3 if len(rest) >= 3 and rest[2] in FEET else 2
    return cursor.phrase(LexemeKind.NOISE, None, words[:said])


def _facing(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "now facing" before a clock time: the claim is the clock's own lexeme."""
    return cursor.phrase(LexemeKind.NOISE, None, words[:1])


def _on(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "on last step": where in a figure it turns, which the figure knows; "on heel"; "on L make 1/2 turn"."""
    plain = [w for w in words[1:4] if w.word not in ARTICLES]
    if plain and plain[0].word in ("heel", "toe"):
        return cursor.phrase(LexemeKind.NOISE, None, words[: words.index(plain[0]) + 1])
    if plain and plain[0].word in FEET and _turns_next(cursor, plain[0]) and not _wants_foot(cursor):
        return cursor.phrase(LexemeKind.ON, FEET[plain[0].word], words[: words.index(plain[0]) + 1])
    said = [w for w in words[1:4] if w.word not in ARTICLES]
    if len(said) == 2 and said[0].word in _ORDINALS and said[1].word in ("step", "count", "beat", "steps", "counts"):
        return cursor.phrase(LexemeKind.NOISE, None, words[: words.index(said[1]) + 1])
    return None


def _turns_next(cursor: Cursor, foot: Token) -> bool:
    """Whether what follows the foot is a turn, not a movement."""
    at = next(n for n in range(cursor.at, len(cursor.tokens)) if cursor.tokens[n] is foot) + 1
    for token in cursor.tokens[at : at + 3]:
        if token.kind == "turn" or token.word in _TURNERS:
            return True
        if token.word not in ("foot", "make", "making", "a", "and", "do"):
            return False
    return False


def _arms(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "raise R arm": no foot moves."""
    for word in words[1:5]:
        if word.word in ("arm", "hand", "hands", "fist", "fists"):
            return cursor.phrase(LexemeKind.VERB, cursor.vocabulary.verbs["arms"], words[: words.index(word) + 1])
    return None


def _circle(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "in a half circle": how a walk goes round."""
    around = cursor.tokens[cursor.at : cursor.at + 6]
    if any(t.word in ("circle", "arc", "semicircle") for t in around):
        return cursor.phrase(LexemeKind.NOISE, None, words[:1])
    return None


def _like(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "like a cowboy", "as if on ice": how it looks."""
    if words[0].word == "as" and [w.word for w in words[1:2]] != ["if"]:
        return None
    end = 1
    while end < len(words) and end < 5 and words[end].word not in _STEPPERS | set(FEET) | {"and", "then"}:
        end += 1
    return cursor.phrase(LexemeKind.NOISE, None, words[:end]) if end > 1 else None


def _with_foot(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "step back with R": the foot that steps."""
    said = [w for w in words[1:4] if w.word not in ARTICLES]
    alone = bool(said) and said[0].word in FEET and (len(said) == 1 or said[1].word in ("foot", "and", "then"))
    if len(said) >= 2 and said[0].word in FEET and said[1].word in ("hand", "hands", "arm", "arms", "finger"):
        return cursor.phrase(LexemeKind.NOISE, None, words[: words.index(said[1]) + 1])
    weight = _weight(cursor, words)
    if weight is not None or not alone:
        return weight
    return cursor.phrase(LexemeKind.NOISE, None, words[:1])


def _from_to(cursor: Cursor, words: list[Token]) -> Lexeme | None:
    """ "from front to back": how a sweep goes round, not a direction of its own."""
    said = [w for w in words[:5] if w.word not in ("the", "from")]
    if len(said) >= 3 and said[1].word == "to" and (said[0].word, said[2].word) in _ROUND:
        return cursor.phrase(LexemeKind.NOISE, None, words[: words.index(said[2]) + 1])
    return None


# By the word that they begin with.
_OPENING: dict[str, Callable[[Cursor, list[Token]], Lexeme | None]] = {
    **dict.fromkeys((*_WEIGHT_OPENERS, "weight", "no", "without", "weightless"), _weight),
    **{phrase[0]: _turn_way for phrase in _TURN_WAYS},
    "over": _turn_way,
    **dict.fromkeys(("ball", "balls"), _ball_of),
    **dict.fromkeys(("like", "as"), _like),
    "with": _with_foot,
    "in": _circle,
    **dict.fromkeys(("raise", "raising", "lift", "throw", "throwing", "wave", "waving"), _arms),
    **dict.fromkeys(("on", "during"), _on),
    **dict.fromkeys(("leading", "starting", "beginning"), _leading),
    "facing": _facing,
    "face": _facing,
    **dict.fromkeys(("from", "front", "back"), _from_to),
}
