"""A description cut into lexemes: verbs, figures, directions, feet, fractions, separators, claims.

Conventions: columns count from 1 in the sheet's line. Nothing here knows about weight; a lexeme says only what the words
can be.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from caller.routine.facing import CLOCK, Facing
from caller.routine.step import Foot, Weight
from caller.routine.vocabulary import Vocabulary


class Kind(Enum):
    VERB = "verb"
    FIGURE = "figure"
    WHERE = "where"
    FEET = "feet"
    TURN = "turn"  # a fraction of a turn, in eighths
    TURN_WAY = "turn way"  # clockwise, anticlockwise
    NUMBER = "number"
    TIMES = "times"
    SEPARATOR = "separator"
    DASH = "dash"
    TO = "to"
    WITH = "with"
    CLAIM = "claim"
    WEIGHT = "weight"  # moves the weight
    NO_WEIGHT = "no weight"
    NOTE = "note"
    NOISE = "noise"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Stated:
    """A facing (None where it is no eighth of the clock) or a weight that the sheet states."""

    facing: Facing | None = None
    weight: Weight | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Lexeme:
    kind: Kind
    value: object
    text: str
    column: int

    @property
    def goes_on(self) -> bool:
        """Told as going on beside another movement ("dragging", "sweeping")."""
        return self.text.split(" ")[0].endswith("ing")


@dataclass(frozen=True, slots=True)
class _Token:
    text: str  # as written
    word: str  # plain form, lower case
    column: int
    end: int


FEET = {"right": Foot.RIGHT, "left": Foot.LEFT}

_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_TOKEN = re.compile(
    r"(?P<note>\([^()]*\)|\[[^\[\]]*\])"
    r"|(?P<clock>\d{1,2}(?::|\.)\d\d|\d{1,2}\s*o['\u2019]?\s?clock)"
    r"|(?P<turn>\d+\s*[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\d+\s+(?:&\s+|and\s+)?\d/\d|\d+/\d+(?:st|nd|th)?)"
    r"|(?P<times>[x\u00d7]\s?\d+\b|\b\d+\s?[x\u00d7]\b|\btwice\b|\bthrice\b)"
    r"|(?P<number>\d+)"
    r"|(?P<word>w/|[^\W\d_]+(?:['\u2019][^\W\d_]+)?|&)"
    r"|(?P<dash>[-\u2010-\u2015])"
    r"|(?P<separator>[,;.+/:|])"
    r"|(?P<other>[^\s*!\"\u201c\u201d]+)",
    re.IGNORECASE,
)

_NOISE = frozenset(
    "a an the on onto of your you as make making made do doing big large small long short slightly slight up down foot "
    "feet taking take while now into for at same time leg hand hands finger fingers shoulder shoulders knee hip body both "
    "travelling traveling moving ready angling angled angle transfer shift keeping keep putting put ending end ends "
    "straightening straighten square squaring still quick quickly slow slowly low high wall".split()
)
_NUMBER_WORDS = {"two": 2, "three": 3, "four": 4, "six": 6, "eight": 8}
_FRACTION_WORDS = {"quarter": 2, "half": 4, "eighth": 1, "full": 8}
_TURN_WAYS = {
    ("clockwise",): Foot.RIGHT,
    ("cw",): Foot.RIGHT,
    ("anticlockwise",): Foot.LEFT,
    ("counterclockwise",): Foot.LEFT,
    ("anti", "clockwise"): Foot.LEFT,
    ("counter", "clockwise"): Foot.LEFT,
    ("ccw",): Foot.LEFT,
}
_CLOCK = r"(?P<hour>\d{1,2})(?:[:.](?P<minute>\d\d))?\s*(?:o['\u2019]?\s?clock)?"
_FACING = re.compile(
    r"^(?:you(?:'re| are)? |now |still |ending |end |finish |finishing |to |back )*(?P<faces>fac(?:e|es|ing)\s+)?(?:the\s+|to\s+)*"
    + _CLOCK
    + r"(?:\s*wall)?$",
    re.IGNORECASE,
)
_WEIGHT = re.compile(
    r"^(?:with |taking |take |keep |keeping |transfer |ending |end )?(?:all )?(?:the |your )?weight (?:now |is |ends |end |stays |remains |should be )*(?:on |onto |to |over |in )*(?:the |your )?"
    r"(?P<foot>r|l|rf|lf|right|left|both)(?: foot| feet)?$",
    re.IGNORECASE,
)
_NO_WEIGHT = re.compile(r"^(?:no weight|without weight|no wt|weightless)$", re.IGNORECASE)
_PAIR = {
    "front back": "from front to back",
    "back front": "from back to front",
}


def facing_of(hour: str, minute: str | None) -> Facing | None:
    """The facing that a clock time names, None where it is no eighth."""
    clock = f"{int(hour)}:{minute or '00'}"
    return Facing(CLOCK.index(clock)) if clock in CLOCK else None


def read_stated(text: str) -> list[Stated] | None:
    """What stands in brackets, if all of it states facings or weights; None where it is a note."""
    found: list[Stated] = []
    for part in re.split(r"\s*[,;]\s*|\s+and\s+(?=weight|fac)", text.strip().strip(".").strip()):
        facing, weight = _FACING.match(part), _WEIGHT.match(part)
        if facing and (facing["faces"] or facing["minute"] or "clock" in part.lower()):
            found.append(Stated(facing=facing_of(facing["hour"], facing["minute"]), text=part))
        elif weight:
            found.append(Stated(weight=_weight_of(weight["foot"]), text=part))
        elif _NO_WEIGHT.match(part):
            found.append(Stated(text="no weight"))
        else:
            return None
    return found


def _weight_of(word: str) -> Weight:
    return Weight.BOTH if word.lower() == "both" else Weight(word[0].upper())


def eighths_of(text: str) -> int | None:
    """A written fraction of a turn in eighths: "1 1/4" is 10; None where it is no whole number of eighths."""
    for mark, plain in _VULGAR.items():
        text = text.replace(mark, f" {plain}")
    total = Fraction(0)
    for piece in re.sub(r"&|and|st|nd|th", " ", text).split():
        top, _, bottom = piece.partition("/")
        if bottom and int(bottom) == 0:
            return None
        total += Fraction(int(top), int(bottom or 1))
    eighths = total * 8
    return int(eighths) if eighths.denominator == 1 and 0 < eighths <= 32 else None


def lex(text: str, vocabulary: Vocabulary, column: int = 1) -> list[Lexeme]:
    """The lexemes of a description that begins at ``column`` of its line."""
    return list(_Lexer(text, vocabulary, column).run())


class _Lexer:
    def __init__(self, text: str, vocabulary: Vocabulary, column: int) -> None:
        self.vocabulary = vocabulary
        self.column = column
        self.found = list(_TOKEN.finditer(text))
        self.tokens = [self._token(m) for m in self.found]
        self.at = 0

    def _token(self, match: re.Match[str]) -> _Token:
        word = _unaccented(match.group().lower().replace("\u2019", "'"))
        word = "and" if word == "&" else word
        return _Token(match.group(), self.vocabulary.plain(word), self.column + match.start(), match.end())

    def run(self) -> Iterator[Lexeme]:
        while self.at < len(self.tokens):
            yield from self._next()

    def _next(self) -> Iterator[Lexeme]:
        token, kind = self.tokens[self.at], str(self.found[self.at].lastgroup)
        if kind == "word":
            yield self._words(token)
            return
        self.at += 1
        if kind == "note":
            yield from self._note(token)
        elif kind == "clock":
            yield self._clock(token)
        elif kind == "turn":
            eighths = eighths_of(token.text.lower())
            yield self._lexeme(Kind.TURN if eighths else Kind.UNKNOWN, eighths, token)
        elif kind == "times":
            digits = re.sub(r"\D", "", token.text)
            yield self._lexeme(Kind.TIMES, int(digits) if digits else 3 if token.word == "thrice" else 2, token)
        elif kind == "number":
            yield self._lexeme(Kind.NUMBER, int(token.text), token)
        elif kind in ("dash", "separator"):
            yield self._lexeme(Kind.DASH if kind == "dash" else Kind.SEPARATOR, None, token)
        else:
            yield self._lexeme(Kind.UNKNOWN, None, token)

    @staticmethod
    def _lexeme(kind: Kind, value: object, token: _Token) -> Lexeme:
        return Lexeme(kind, value, token.text.lower(), token.column)

    def _note(self, token: _Token) -> Iterator[Lexeme]:
        inside = token.text[1:-1]
        stated = read_stated(inside)
        if stated is None:
            yield self._lexeme(Kind.NOTE, inside.strip(), token)
            return
        for one in stated:
            kind = Kind.NO_WEIGHT if one.text == "no weight" else Kind.CLAIM
            yield self._lexeme(kind, one, token)

    def _clock(self, token: _Token) -> Lexeme:
        """A clock time outside brackets: after "facing" a claim, after "towards" the way to travel, alone a claim."""
        before = [t.word for t in self.tokens[max(0, self.at - 4) : self.at - 1]]
        if "toward" in before or "towards" in before:
            return self._lexeme(Kind.NOISE, None, token)
        stated = read_stated(f"facing {token.text}")
        return self._lexeme(Kind.CLAIM, stated[0] if stated else None, token)

    def _words(self, token: _Token) -> Lexeme:
        for reader in (self._ball_of, self._weight, self._turn_way, self._facing, self._from_to, self._known, self._plain_word):
            lexeme = reader(token)
            if lexeme is not None:
                return lexeme
        self.at += 1
        return self._lexeme(Kind.UNKNOWN, None, token)

    def _run_of_words(self, most: int) -> list[_Token]:
        """The coming tokens that are words, dashes between words left out."""
        words: list[_Token] = []
        at = self.at
        while at < len(self.tokens) and len(words) < most:
            kind = self.found[at].lastgroup
            if kind == "word":
                words.append(self.tokens[at])
            elif not (kind == "dash" and words):
                break
            at += 1
        return words

    def _take(self, words: list[_Token]) -> str:
        """Steps over these words; their text."""
        last = words[-1]
        while self.tokens[self.at] is not last:
            self.at += 1
        self.at += 1
        return " ".join(w.text.lower() for w in words)

    def _phrase(self, kind: Kind, value: object, words: list[_Token]) -> Lexeme:
        column = words[0].column
        return Lexeme(kind, value, self._take(words), column)

    def _weight(self, token: _Token) -> Lexeme | None:
        words = self._run_of_words(8)
        said = [w.text.lower() for w in words]
        for length in range(len(words), 1, -1):
            text = " ".join(said[:length])
            if (found := _WEIGHT.match(text)) is not None:
                return self._phrase(Kind.WEIGHT, _weight_of(found["foot"]), words[:length])
            if _NO_WEIGHT.match(text):
                return self._phrase(Kind.NO_WEIGHT, None, words[:length])
        if said[:2] in (["taking", "weight"], ["take", "weight"], ["with", "weight"]):
            return self._phrase(Kind.NOISE, None, words[:2])
        return None

    def _ball_of(self, token: _Token) -> Lexeme | None:
        """ "on ball of R turn": the foot turned on, which bears the weight already."""
        words = self._run_of_words(4)
        said = [w.word for w in words if w.word != "the"]
        if said[:2] == ["ball", "of"] and len(said) >= 3 and said[2] in FEET:
            return self._phrase(Kind.NOISE, None, words[: [w.word for w in words].index(said[2]) + 1])
        return None

    def _turn_way(self, token: _Token) -> Lexeme | None:
        words = self._run_of_words(4)
        said = tuple(w.word for w in words)
        for phrase, way in _TURN_WAYS.items():
            if said[: len(phrase)] == phrase:
                return self._phrase(Kind.TURN_WAY, way, words[: len(phrase)])
        if len(said) >= 3 and said[0] == "over" and said[-1] == "shoulder" and said[-2] in FEET:
            return self._phrase(Kind.TURN_WAY, FEET[said[-2]], words)
        return None

    def _facing(self, token: _Token) -> Lexeme | None:
        """ "now facing" before a clock time: the claim is the clock's own lexeme."""
        if token.word in ("facing", "face"):
            self.at += 1
            return self._lexeme(Kind.NOISE, None, token)
        return None

    def _from_to(self, token: _Token) -> Lexeme | None:
        """ "from front to back": how a sweep goes round, not a direction of its own."""
        words = self._run_of_words(5)
        said = [w.word for w in words if w.word != "the"]
        if said[:1] == ["from"]:
            said = said[1:]
        elif not (len(said) >= 3 and said[1] == "to" and said[0] in ("front", "back")):
            return None
        if len(said) >= 3 and said[1] == "to" and f"{said[0]} {said[2]}" in _PAIR:
            return self._phrase(Kind.NOISE, None, words[: [w.word for w in words].index(said[2], 1) + 1])
        return None

    def _known(self, token: _Token) -> Lexeme | None:
        """The longest phrase of the vocabulary that begins here."""
        words = self._run_of_words(6)
        said = tuple(w.word for w in words)
        raw = tuple(_unaccented(w.text.lower()) for w in words)
        book = self.vocabulary
        for length in range(len(words), 0, -1):
            for spoken in dict.fromkeys((raw[:length], said[:length], _without_articles(said[:length]))):
                if len(spoken) < 1 or (length > 1 and said[length - 1] in ("the", "a")):
                    continue
                if length == 1 and spoken[0] in FEET:
                    continue
                if (figure := book.figure_phrases.get(spoken)) is not None:
                    return self._phrase(Kind.FIGURE, figure, words[:length])
                if (verb := book.verb_phrases.get(spoken)) is not None:
                    return self._phrase(Kind.VERB, verb, words[:length])
                if (where := book.where_phrases.get(spoken)) is not None:
                    return self._phrase(Kind.WHERE, where, words[:length])
        return None

    def _plain_word(self, token: _Token) -> Lexeme | None:
        word = token.word
        kind_value: tuple[Kind, object] | None = None
        if word in FEET:
            kind_value = Kind.FEET, (FEET[word],)
        elif re.fullmatch(r"[rl]{2,8}", token.text.lower()):
            kind_value = Kind.FEET, tuple(Foot(letter) for letter in token.text.upper())
        elif word in _FRACTION_WORDS:
            return self._fraction(token)
        elif word in _NUMBER_WORDS:
            following = self.tokens[self.at + 1].word if self.at + 1 < len(self.tokens) else ""
            if following in _FRACTION_WORDS:
                return self._fraction(token)
            kind_value = Kind.NUMBER, _NUMBER_WORDS[word]
        elif word in ("and", "then"):
            kind_value = Kind.SEPARATOR, None
        elif word in ("to", "toward", "towards"):
            kind_value = Kind.TO, None
        elif word == "with":
            kind_value = Kind.WITH, None
        elif word in _NOISE or word == "rest":
            kind_value = Kind.NOISE, None
        if kind_value is None:
            return None
        self.at += 1
        return self._lexeme(*kind_value, token)

    def _fraction(self, token: _Token) -> Lexeme:
        """ "quarter", "three quarters", "full"; an article before it is noise already."""
        times = _NUMBER_WORDS.get(token.word, 1)
        words = self._run_of_words(2)[: 2 if token.word in _NUMBER_WORDS else 1]
        return self._phrase(Kind.TURN, times * _FRACTION_WORDS[words[-1].word], words)


def _unaccented(word: str) -> str:
    """ "chassé" as "chasse"; fractions keep their marks."""
    return word if word.isascii() else "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))


def _without_articles(words: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(w for w in words if w not in ("the", "a", "your"))
