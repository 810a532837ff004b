"""Two verbs in one segment: which of them are one movement ("touch heel", "cross rock", "turn 1/4 left stepping")."""

from __future__ import annotations

from caller.routine.figures import Verb
from caller.routine.notation.lexeme import Lexeme
from caller.routine.notation.spec import Spec
from caller.routine.vocabulary import Vocabulary

# Two verbs that are one movement: "touch" and then "heel".
_MERGED = {
    ("touch", "heel"): "heel",
    ("heel", "heel"): "heel",
    ("heel", "touch"): "heel",
    ("touch", "touch"): "touch",
    ("point", "touch"): "point",
    ("touch", "point"): "point",
    ("heel", "scuff"): "scuff",
    ("hook", "heel"): "hook",
    ("lift", "heel"): "lift",
    ("kick", "heel"): "kick",
    ("drop", "heel"): "drop",
    ("drop", "touch"): "drop",
    ("scuff", "heel"): "scuff",
    ("stomp", "heel"): "stomp",
    ("swivel", "heel"): "swivel",
    ("swivel", "touch"): "swivel",
    ("twist", "heel"): "twist",
    ("bounce", "heel"): "bounce",
    ("close", "heel"): "heel",
    ("place", "heel"): "heel",
    ("place", "touch"): "touch",
    ("place", "point"): "point",
    ("heel", "grind"): "grind",
    ("grind", "heel"): "grind",
    ("fan", "touch"): "fan",
    ("fan", "heel"): "fan",
    ("touch", "fan"): "fan",
    ("heel", "fan"): "fan",
    ("heel", "swivel"): "swivel",
    ("touch", "swivel"): "swivel",
    ("heel", "split"): "heel split",
    ("heel", "bounce"): "bounce",
    ("heel", "drop"): "drop",
    ("touch", "drop"): "drop",
    ("lift", "hitch"): "hitch",
    ("hitch", "lift"): "hitch",
    ("stomp", "stomp up"): "stomp up",
}
_CROSSED = frozenset(
    ("heel", "flick", "hook", "rock", "touch", "point", "kick", "hitch", "lunge", "step", "walk", "stomp")
)
_MAY_CROSS = frozenset(("step", "touch", "point", "kick", "stomp", "walk"))
# The second says nothing that the first does not.
_AS_ONE = frozenset(
    (
        ("recover", "recover"),
        ("close", "step"),
        ("slide", "step"),
        ("walk", "step"),
        ("run", "step"),
        ("step", "slide"),
        ("step", "walk"),
        ("step", "lunge"),
        ("stomp", "step"),
        ("recover", "step"),
        ("lock", "step"),
        ("skate", "step"),
        ("press", "step"),
        ("step", "ball"),
        ("rock", "step"),
        ("lunge", "step"),
        ("point", "drag"),
    )
)
_HIPS = ("sway", "bump", "push")  # "step R to side swaying hips": said of the step


def says_hips(lexeme: Lexeme, verb: Verb) -> bool:
    return lexeme.goes_on and verb.name in _HIPS


def join_verbs(spec: Spec, first: Verb, verb: Verb, lexeme: Lexeme, vocabulary: Vocabulary) -> bool:
    """Whether a second verb goes with the first; if so the specification says what both mean."""
    if first.name == "turn" or (first.turns and lexeme.goes_on):  # "turn 1/4 left stepping L forward"
        spec.verb, spec.beside = verb, False
    elif first.name == "cross" and verb.name in _CROSSED:
        spec.verb = verb
        spec.wheres.insert(0, first.where)
    elif (first.name, verb.name) in _MERGED:
        spec.verb = vocabulary.verbs[_MERGED[first.name, verb.name]]
    elif (
        (first.name == "step" and lexeme.text == "toe")
        or (first.name in _HIPS and verb.name == "step" and lexeme.goes_on)
        or ((first.name, verb.name) == ("rock", "recover") and lexeme.text.startswith("weight"))
        or (first.name, verb.name) == ("grind", "step")
    ):  # "step R toe forward, drop heel"
        spec.verb = verb
    elif (first.name, verb.name) == ("step", "close") or (verb.name == "close" and first.bears == "none"):
        spec.wheres.append("beside")
    elif verb.name == "cross" and first.name in _MAY_CROSS:
        spec.wheres.append("over")
    else:
        return _says_nothing_new(spec, first, verb, lexeme)
    return True


def _says_nothing_new(spec: Spec, first: Verb, verb: Verb, lexeme: Lexeme) -> bool:
    if (first.name, verb.name) in _AS_ONE:
        return True
    again = first is verb and bool(spec.feet) and not spec.wheres  # "step R small step forward"
    return again or (first.name, verb.name) == ("step", "recover") or says_hips(lexeme, verb)
