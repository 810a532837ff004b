"""Lexemes to specifications: what a description asks for, movement by movement, before feet and counts are settled.

A segment runs from one separator to the next. Left and right are told apart by what stands around them: after a
fraction they are the way of the turn, after "to" the way of travel, after "over", "behind" or "beside" the foot gone
past; else the foot that moves.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from caller.routine.notation.words import Kind, Lexeme, Stated
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Figure, Verb, Vocabulary


@dataclass(slots=True)
class Spec:
    """What one verb or figure asks for.

    verb, figure: one of both is set. feet: as named, in order. wheres: plain directions, in order. turn: eighths, unsigned;
    way: which way round. travel: the side travelled to. times: said "x2". beside: told as going on beside the one
    before. stated: facings and weights that stand after it. weight: moved there by words; unweighted: said "no weight".
    """

    column: int
    verb: Verb | None = None
    figure: Figure | None = None
    feet: list[Foot] = field(default_factory=list)
    wheres: list[str] = field(default_factory=list)
    turn: int | None = None
    way: Foot | None = None
    travel: Foot | None = None
    times: int = 1
    beside: bool = False
    listing: bool = False
    past: Foot | None = None
    stated: list[tuple[Stated, int]] = field(default_factory=list)
    weight: Weight | None = None
    unweighted: bool = False

    @property
    def empty(self) -> bool:
        return not (self.verb or self.figure or self.feet or self.wheres or self.turn or self.way)


@dataclass(frozen=True, slots=True)
class Trouble:
    """Words that can't be read, and why."""

    column: int
    message: str
    code: str = "unreadable"


@dataclass(slots=True)
class Reading:
    specs: list[Spec] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    before: list[tuple[Stated, int]] = field(default_factory=list)  # stated before the first movement


# "touch" and then "heel" are one movement; so are "cross" and "rock".
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
}
_PAST = ("over", "behind", "beside", "front")


def read_specs(lexemes: list[Lexeme], vocabulary: Vocabulary) -> Reading:
    """The specifications of one description. Never raises: what can't be read is among the troubles."""
    return _Grammar(vocabulary).read(lexemes)


class _Grammar:
    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.out = Reading()
        self.spec: Spec | None = None
        self.pending_turn = False  # a fraction waits for its left or right
        self.after_to = False
        self.after_turn_word = False
        self.previous: Lexeme | None = None
        self.joining = False  # the last separator joins ("and") rather than divides
        self.joined = False  # a dash stands between this lexeme and the one before
        self.unknown: list[Lexeme] = []

    def read(self, lexemes: list[Lexeme]) -> Reading:
        for at, lexeme in enumerate(lexemes):
            following = next((x for x in lexemes[at + 1 :] if x.kind is not Kind.NOISE), None)
            self._take(lexeme, following)
            if lexeme.kind is not Kind.NOISE:
                self.previous = lexeme
        self._close()
        self._tell_unknown()
        return self.out

    def _take(self, lexeme: Lexeme, following: Lexeme | None) -> None:
        if self.joined and lexeme.kind is not Kind.DASH:
            self.joined = False
            self._after_dash(lexeme)
        match lexeme.kind:
            case Kind.SEPARATOR:
                self._close()
                self.joining = lexeme.text in ("and", "&", "+", "/")
            case Kind.WITH:
                self._close()
                self._open(lexeme).beside = True
            case Kind.DASH:
                self.joined = True
            case Kind.VERB:
                self._verb(lexeme)
            case Kind.FIGURE:
                self._figure(lexeme)
            case Kind.WHERE:
                self._where(lexeme, str(lexeme.value))
            case Kind.FEET:
                self._feet(lexeme, following)
            case Kind.TURN:
                self._turn(lexeme)
            case Kind.TURN_WAY:
                self._open(lexeme).way = lexeme.value  # type: ignore[assignment]
            case Kind.NUMBER | Kind.TIMES:
                self._times(lexeme)
            case Kind.TO:
                self.after_to = True
            case Kind.CLAIM | Kind.WEIGHT | Kind.NO_WEIGHT | Kind.NOTE:
                self._aside(lexeme)
            case Kind.UNKNOWN:
                self.unknown.append(lexeme)
            case Kind.NOISE:
                pass

    # -- segments

    def _open(self, lexeme: Lexeme) -> Spec:
        if self.spec is None:
            self.spec = Spec(lexeme.column)
        return self.spec

    def _close(self) -> None:
        spec, self.spec = self.spec, None
        self.pending_turn = self.after_to = self.after_turn_word = False
        if spec is None or spec.empty:
            if spec is not None and spec.beside:
                self.spec = None
            return
        for one in self._completed(spec):
            self.out.specs.append(one)

    def _completed(self, spec: Spec) -> list[Spec]:
        """A closed segment as whole specifications: feet alone repeat the verb before, or list a figure's steps."""
        last = self.out.specs[-1] if self.out.specs else None
        if spec.verb is None and spec.figure is None:
            only_feet = spec.feet and not spec.wheres and spec.turn is None
            if only_feet and last is not None and last.figure is not None and last.feet:
                if len(last.feet) + len(spec.feet) <= len(last.figure.each):
                    last.feet += spec.feet
                    last.stated += spec.stated
                    return []
            if only_feet and last is not None and last.verb is not None:
                spec.verb, spec.wheres = last.verb, list(last.wheres)
            elif spec.turn is not None and not spec.feet and not spec.wheres:
                spec.verb = self.vocabulary.verbs["turn"]
            elif last is not None and last.verb is not None and _goes_on(last.verb) and spec.wheres and not spec.feet:
                spec.verb = last.verb  # "touch R forward, side", "swivel heels right, centre": the same foot or feet go on
                spec.feet = list(last.feet)
            else:
                spec.verb = self.vocabulary.verbs["step"]
        if spec.verb is not None and len(spec.feet) > 1 and not spec.listing:
            return [self._one_foot(spec, n) for n in range(len(spec.feet))]
        return [spec]

    @staticmethod
    def _one_foot(spec: Spec, n: int) -> Spec:
        """ "walk RLR": one specification a foot; what turns or is stated belongs to the last."""
        last = n == len(spec.feet) - 1
        return Spec(
            spec.column,
            verb=spec.verb,
            feet=[spec.feet[n]],
            wheres=list(spec.wheres),
            turn=spec.turn if last else None,
            way=spec.way if last else None,
            travel=spec.travel,
            stated=spec.stated if last else [],
            weight=spec.weight if last else None,
            unweighted=spec.unweighted and last,
        )

    def _after_dash(self, lexeme: Lexeme) -> None:
        """A dash joins feet in a list ("R-L-R") and otherwise divides ("behind-side-cross")."""
        feet = self.previous is not None and self.previous.kind is Kind.FEET and lexeme.kind is Kind.FEET
        moves = lexeme.kind in (Kind.VERB, Kind.FIGURE, Kind.WHERE)
        if not feet and moves and self.spec is not None and (self.spec.verb or self.spec.figure or self.spec.wheres):
            self._close()

    # -- words

    def _verb(self, lexeme: Lexeme) -> None:
        verb: Verb = lexeme.value  # type: ignore[assignment]
        spec = self.spec
        if verb.name == "turn":
            self._turn_word(lexeme, verb)
            return
        if spec is None or (spec.verb is None and spec.figure is None):
            spec = self._open(lexeme)
            spec.verb = verb
            going_on = verb.bears == "none" and (lexeme.goes_on or (verb.folds and self.joining))
            spec.beside = spec.beside or (going_on and bool(self.out.specs))
        elif spec.figure is not None:
            self._verb_after_figure(lexeme, verb, spec)
        else:
            self._second_verb(lexeme, verb, spec)
        self.pending_turn = self.pending_turn and verb.turns
        self.after_turn_word = verb.turns

    def _turn_word(self, lexeme: Lexeme, verb: Verb) -> None:
        self.after_turn_word = True
        if self.spec is None or (self.spec.empty and not self.spec.beside) or (self.spec.verb is None and self.spec.figure is None and not self.spec.feet and not self.spec.wheres):
            self._open(lexeme).verb = verb

    def _verb_after_figure(self, lexeme: Lexeme, verb: Verb, spec: Spec) -> None:
        if verb.name == "step":  # "shuffle 1/2 turn left stepping R, L, R"
            spec.listing = True
        elif verb.name == "cross" and "over" in (spec.figure.ways if spec.figure else ()):
            spec.wheres.append("over")
        else:
            self._close()
            self._verb(lexeme)

    def _second_verb(self, lexeme: Lexeme, verb: Verb, spec: Spec) -> None:
        first = spec.verb
        assert first is not None
        if first.name == "turn":  # "turn 1/4 left stepping L forward": one movement
            spec.verb = verb
            spec.beside = False
            return
        if first.name == "cross" and verb.name in ("rock", "touch", "point", "kick", "hitch", "lunge", "unwind", "step", "walk", "stomp"):
            spec.verb = verb
            spec.wheres.insert(0, first.where)
            return
        if (merged := _MERGED.get((first.name, verb.name))) is not None:
            spec.verb = self.vocabulary.verbs[merged]
            return
        if verb.name in ("recover",) and first.name == "step":
            return
        if verb.name == "close" and first.bears == "none":
            spec.wheres.append("beside")
            return
        if verb.name == "cross" and first.name in ("step", "touch", "point", "kick", "stomp", "walk"):
            spec.wheres.append("over")
            return
        if verb.name == "step" and lexeme.goes_on and first.name != "step":
            self._close()
            self._verb(lexeme)
            return
        going_on = lexeme.goes_on
        self._close()
        new = self._open(lexeme)
        new.verb = verb
        new.beside = going_on and verb.bears == "none"

    def _figure(self, lexeme: Lexeme) -> None:
        figure: Figure = lexeme.value  # type: ignore[assignment]
        spec = self.spec
        if spec is not None and spec.verb is not None:
            if spec.verb.name == "cross" and "over" in figure.ways:
                spec.verb, spec.figure = None, figure
                spec.wheres.insert(0, "over")
                return
            if spec.verb.name == "turn" or (spec.verb.name == "step" and not spec.feet and not spec.wheres):
                spec.verb, spec.figure = None, figure
                return
            self._close()
            spec = None
        elif spec is not None and spec.figure is not None:
            if spec.figure is figure:
                return
            self._close()
            spec = None
        self._open(lexeme).figure = figure

    def _where(self, lexeme: Lexeme, where: str) -> None:
        self.after_turn_word = False
        spec = self._open(lexeme)
        self.after_to = False
        if where == "front":
            verb = spec.verb.name if spec.verb else ""
            where = "forward" if verb and verb not in ("cross", "step") else "over"
        if spec.wheres and not _goes_with(spec.wheres[-1], where) and spec.verb is None and spec.figure is None:
            self._close()
            spec = self._open(lexeme)
        spec.wheres.append(where)

    def _feet(self, lexeme: Lexeme, following: Lexeme | None) -> None:
        feet: tuple[Foot, ...] = lexeme.value  # type: ignore[assignment]
        spec = self._open(lexeme)
        after_to, self.after_to = self.after_to, False
        after_turn, self.after_turn_word = self.after_turn_word, False
        before = self.previous
        side_next = following is not None and following.kind is Kind.WHERE and following.value in ("side", "diagonal")
        if len(feet) > 1:
            spec.feet += feet
            return
        foot = feet[0]
        if self.pending_turn and spec.way is None:
            spec.way, self.pending_turn = foot, False
        elif after_turn and spec.way is None and not (following is not None and following.kind is Kind.FEET):
            spec.way = foot
        elif following is not None and following.kind is Kind.TURN and self._turning(spec):
            spec.way = foot
        elif after_to:
            self._after_to(spec, foot, side_next)
        elif following is not None and following.kind is Kind.WHERE and following.value == "diagonal":
            spec.travel = foot
        elif "diagonal" in spec.wheres and spec.feet:
            spec.travel = foot
        elif spec.wheres and spec.wheres[-1] in _PAST and before is not None and before.kind is Kind.WHERE and (spec.feet or self._pastable(spec, before)):
            spec.past = foot
        elif spec.wheres and spec.feet and not spec.listing and before is not None and before.kind is Kind.WHERE and spec.figure is None:
            spec.travel = foot  # "step R side right"
        else:
            spec.feet.append(foot)

    @staticmethod
    def _pastable(spec: Spec, before: Lexeme) -> bool:
        """ "touch next to L" tells the foot gone past by its own words; "behind L" alone names the foot that moves."""
        return before.text in ("next to", "in front of", "across in front of", "alongside", "in back of")

    @staticmethod
    def _turning(spec: Spec) -> bool:
        return spec.verb is not None and spec.verb.turns

    @staticmethod
    def _after_to(spec: Spec, foot: Foot, side_next: bool) -> None:
        if spec.feet and spec.feet[-1] is not foot and not side_next:
            spec.past = foot  # "drag L to R"
            if spec.verb is not None and not spec.wheres and spec.verb.where == "":
                spec.wheres.append("beside")
        else:
            spec.travel = foot
            if not side_next and not spec.wheres and not (spec.figure and spec.figure.by_direction):
                spec.wheres.append("side")

    def _turn(self, lexeme: Lexeme) -> None:
        spec = self._open(lexeme)
        if spec.turn is not None:
            self.out.troubles.append(Trouble(lexeme.column, f"{lexeme.text!r}: two turns on one movement; write each turn on a movement of its own"))
            return
        spec.turn = lexeme.value  # type: ignore[assignment]
        self.pending_turn = spec.way is None

    def _times(self, lexeme: Lexeme) -> None:
        number: int = lexeme.value  # type: ignore[assignment]
        spec = self.spec
        if spec is None and lexeme.kind is Kind.TIMES and self.out.specs:
            spec = self.out.specs[-1]
        if spec is None:
            spec = self._open(lexeme)
        if 1 <= number <= 16:
            spec.times = number
        else:
            self.out.troubles.append(Trouble(lexeme.column, f"{lexeme.text!r}: can't do that so many times"))

    def _aside(self, lexeme: Lexeme) -> None:
        if lexeme.kind is Kind.NOTE:
            if lexeme.value:
                self.out.notes.append(str(lexeme.value))
            return
        spec = self.spec if self.spec is not None and not self.spec.empty else (self.out.specs[-1] if self.out.specs else None)
        if lexeme.kind is Kind.CLAIM:
            if not isinstance(lexeme.value, Stated):
                self.unknown.append(lexeme)
            elif spec is None:
                self.out.before.append((lexeme.value, lexeme.column))
            else:
                spec.stated.append((lexeme.value, lexeme.column))
        elif spec is not None:
            if lexeme.kind is Kind.NO_WEIGHT:
                spec.unweighted = True
            else:
                spec.weight = lexeme.value  # type: ignore[assignment]

    def _tell_unknown(self) -> None:
        for lexeme in self.unknown:
            self.out.troubles.append(Trouble(lexeme.column, lexeme.text))


def _goes_on(verb: Verb) -> bool:
    """Whether a direction alone after it means the same again."""
    return verb.bears == "none" and not (verb.turns or verb.folds or verb.name == "hold")


_TOGETHER = {("diagonal", "forward"), ("diagonal", "back"), ("forward", "diagonal"), ("back", "diagonal"), ("out", "side"), ("side", "out"), ("out", "diagonal"), ("side", "diagonal"), ("diagonal", "side")}


def _goes_with(first: str, second: str) -> bool:
    return first == second or (first, second) in _TOGETHER


_COMBINED = {
    ("diagonal",): "forward diagonal",
    ("side", "diagonal"): "forward diagonal",
    ("forward", "over"): "over",
    ("back", "behind"): "behind",
    ("back", "over"): "over",
    ("side", "out"): "side",
    ("forward", "out"): "forward diagonal",
    ("back", "out"): "back diagonal",
    ("forward", "diagonal", "out"): "forward diagonal",
    ("beside", "place"): "beside",
    ("in", "beside"): "beside",
    ("in", "place"): "place",
    ("forward", "front"): "forward",
    ("over", "front"): "over",
    ("diagonal", "out"): "forward diagonal",
}


def combined(wheres: list[str]) -> str | None:
    """One direction from the words used ("diagonal", "forward" is "forward diagonal"); None where they contradict."""
    unique = tuple(dict.fromkeys(wheres))
    if len(unique) <= 1 and unique != ("diagonal",):
        return unique[0] if unique else ""
    if set(unique) == {"forward", "diagonal"} or set(unique) == {"back", "diagonal"}:
        return f"{'forward' if 'forward' in unique else 'back'} diagonal"
    for parts, whole in _COMBINED.items():
        if set(parts) == set(unique):
            return whole
    return None
