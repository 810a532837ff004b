"""The vocabulary: verbs, directions and figures, read from ``vocabulary.toml``, told for the right foot and mirrored.

Conventions: words are lower case and in their plain form (:meth:`Vocabulary.plain`); a figure's movements are told
with its leading foot right. Phrases are tuples of plain words; the longest known phrase wins.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any

from caller.routine.count import read_counts
from caller.routine.facing import NO_TURN, Turn
from caller.routine.step import Foot, Movement, Weight

Offsets = tuple[Any, ...]  # Fractions: each beat's distance from the figure's first


class VocabularyError(ValueError):
    """An entry that can't be used; the message names the entry, what is wrong and what is allowed."""


@dataclass(frozen=True, slots=True)
class Verb:
    """One movement's word. See the head of vocabulary.toml for the fields."""

    name: str
    reads: str
    bears: str
    where: str = ""
    free: bool = True
    footless: bool = False
    lasting: bool = False
    folds: bool = False
    turns: bool = False
    caution: bool = False
    needs_where: bool = False

    def movement(self, foot: Foot | None, where: str = "", turn: Turn = NO_TURN) -> Movement:
        """The movement of this verb with ``foot`` (None for the footless)."""
        return Movement(self.reads, foot, where or self.where, turn, self._weight(foot))

    def _weight(self, foot: Foot | None) -> Weight | None:
        if self.bears in ("both", "open"):
            return Weight.on(foot) if foot else Weight.BOTH
        if self.bears in ("foot", "swap", "stays on"):
            return Weight.on(foot) if foot else None
        return None


BEARS = ("foot", "none", "both", "swap", "open", "stays on")


@dataclass(frozen=True, slots=True)
class Move:
    """One movement of a figure, told from the leading foot: leading = it moves, None = footless."""

    verb: Verb
    leading: bool | None
    where: str
    turn: int

    def told(self, lead: Foot, turn: int) -> Movement:
        foot = None if self.leading is None else lead if self.leading else lead.other
        mine = self.turn if lead is Foot.RIGHT else -self.turn
        return self.verb.movement(foot, self.where, Turn(mine + turn))


@dataclass(frozen=True, slots=True)
class Figure:
    name: str
    phrase: str
    ways: Mapping[str, tuple[Move, ...]] = field(hash=False)
    counts: tuple[Offsets, ...]
    turns: tuple[int, ...]
    each: tuple[str, ...]
    by_direction: bool = False
    asks: str = ""
    needs_turn: bool = False
    recognise: bool = True
    or_verb: str = ""  # what the same words mean where only one movement fits

    @property
    def plain_way(self) -> str:
        return next(iter(self.ways))

    def movements(self, way: str, lead: Foot, turn: Turn = NO_TURN, diagonal: bool = False) -> tuple[Movement, ...]:
        """The figure's movements; ``turn`` is shared by its turning movements, the first taking what is odd."""
        moves = self.ways[way]
        shares = self._shares(turn.eighths, len(moves))
        told = tuple(move.told(lead, share) for move, share in zip(moves, shares, strict=True))
        if not diagonal:
            return told
        return tuple(
            Movement(m.action, m.foot, f"{m.where} diagonal" if m.where in ("forward", "back") else m.where, m.turn, m.weight)
            for m in told
        )

    def _shares(self, eighths: int, length: int) -> list[int]:
        shares = [0] * length
        places = [t - 1 for t in self.turns if t <= length] or [0]
        each, odd = divmod(abs(eighths), len(places))
        sign = 1 if eighths > 0 else -1
        for n, place in enumerate(places):
            shares[place] = sign * (each + (1 if n < odd else 0))
        return shares


@dataclass(frozen=True)
class Vocabulary:
    words: Mapping[str, str]
    verbs: Mapping[str, Verb]
    figures: Mapping[str, Figure]
    verb_phrases: Mapping[tuple[str, ...], Verb]
    figure_phrases: Mapping[tuple[str, ...], Figure]
    where_phrases: Mapping[tuple[str, ...], str]

    def plain(self, word: str) -> str:
        """The plain form of a word: "fwd" is "forward"."""
        return self.words.get(word, word)

    @property
    def known_words(self) -> frozenset[str]:
        spoken = {word for table in (self.verb_phrases, self.figure_phrases, self.where_phrases) for phrase in table for word in phrase}
        return frozenset(spoken | set(self.words))


def _read_move(text: str, verbs: Mapping[str, Verb], entry: str, previous: bool | None) -> Move:
    # "step L beside" and "pivot" alike: the longest verb that the words begin with.
    words = text.strip().split(" ")
    for length in range(min(3, len(words)), 0, -1):
        verb = verbs.get(" ".join(words[:length]))
        if verb:
            break
    else:
        raise VocabularyError(f"{entry}: no verb is called {words[0]!r} in {text.strip()!r}")
    rest = words[length:]
    foot = rest.pop(0) if rest and rest[0] in ("R", "L") else None
    turn = 0
    if len(rest) >= 2 and rest[-2] == "turn":
        turn = int(rest[-1])
        rest = rest[:-2]
    leading = None if foot is None else foot == "R"
    if verb.bears == "swap" and foot is None:
        leading = not previous if previous is not None else False
    if leading is None and not verb.footless:
        raise VocabularyError(f"{entry}: which foot does {text.strip()!r} move, R or L?")
    return Move(verb, leading, " ".join(rest), turn)


def _read_way(text: str, verbs: Mapping[str, Verb], entry: str) -> tuple[Move, ...]:
    moves: list[Move] = []
    for part in text.split(","):
        previous = moves[-1].leading if moves else None
        moves.append(_read_move(part, verbs, entry, previous))
    return tuple(moves)


def _offsets(pattern: str, entry: str) -> Offsets:
    read = read_counts(pattern)
    if read is None:
        raise VocabularyError(f"{entry}: can't read the count pattern {pattern!r}")
    return tuple(beat.at - read.beats[0].at for beat in read.beats)


def _read_verb(entry: Mapping[str, Any]) -> Verb:
    name = str(entry.get("name", ""))
    bears = entry.get("bears", "")
    if not name or bears not in BEARS:
        raise VocabularyError(f"verb {name!r}: 'bears' must be one of {', '.join(BEARS)}, not {bears!r}")
    flags = {k: bool(entry[k]) for k in ("free", "footless", "lasting", "folds", "turns", "caution", "needs_where") if k in entry}
    return Verb(name, str(entry.get("reads", name)), bears, str(entry.get("where", "")), **flags)


def _read_figure(entry: Mapping[str, Any], verbs: Mapping[str, Verb]) -> Figure:
    name = str(entry.get("name", ""))
    ways = {where: _read_way(text, verbs, f"figure {name!r}") for where, text in entry.get("ways", {}).items()}
    each = tuple(str(word) for word in entry.get("each", ()))
    if not name or not ways:
        raise VocabularyError(f"figure {name!r}: needs a name and at least one way")
    if any(len(moves) != len(each) for moves in ways.values()):
        raise VocabularyError(f"figure {name!r}: 'each' must have one word for each of its movements")
    return Figure(
        name=name,
        phrase=str(entry.get("phrase", "")),
        ways=ways,
        counts=tuple(_offsets(str(p), f"figure {name!r}") for p in entry.get("counts", ())),
        turns=tuple(int(t) for t in entry.get("turns", ())),
        each=each,
        by_direction=entry.get("leads") == "direction",
        asks=str(entry.get("asks", "")),
        needs_turn=bool(entry.get("needs_turn", False)),
        recognise=bool(entry.get("recognise", True)),
        or_verb=str(entry.get("or_verb", "")),
    )


def read_vocabulary(texts: Sequence[str]) -> Vocabulary:
    """A vocabulary from TOML texts, later ones adding to and overriding earlier ones. Raises VocabularyError."""
    words: dict[str, str] = {}
    verbs: dict[str, Verb] = {}
    figures: dict[str, Figure] = {}
    spellings: list[tuple[str, str, str]] = []  # table, spelling, name
    for text in texts:
        try:
            document = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            raise VocabularyError(f"the vocabulary can't be read: {error}") from error
        words |= {other: plain for plain, others in document.get("words", {}).items() for other in others}
        for where, others in document.get("where", {}).items():
            spellings += [("where", spelling, where) for spelling in (where, *others)]
        for entry in document.get("verb", ()):
            verb = _read_verb(entry)
            verbs[verb.name] = verb
            spellings += [("verb", spelling, verb.name) for spelling in (verb.name, *entry.get("also", ()))]
        for entry in document.get("figure", ()):
            figure = _read_figure(entry, verbs)
            figures[figure.name] = figure
            spellings += [("figure", spelling, figure.name) for spelling in (figure.name, *entry.get("also", ()))]

    def phrase(spelling: str) -> tuple[str, ...]:
        return tuple(words.get(word, word) for word in spelling.split())

    return Vocabulary(
        words,
        verbs,
        figures,
        {phrase(s): verbs[name] for table, s, name in spellings if table == "verb"},
        {phrase(s): figures[name] for table, s, name in spellings if table == "figure"},
        {phrase(s): name for table, s, name in spellings if table == "where"},
    )


def shipped_text() -> str:
    return files("caller.routine").joinpath("vocabulary.toml").read_text(encoding="utf-8")


@cache
def shipped() -> Vocabulary:
    """The vocabulary that ships with the caller."""
    return read_vocabulary([shipped_text()])
