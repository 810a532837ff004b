"""A description cut into lexemes: verbs, figures, directions, feet, fractions, separators, claims.

Conventions: columns count from 1 in the sheet's line. Nothing here knows about weight; a lexeme says only what the
words can be. What a word may begin is found by that word (tables), so the time is linear in the words.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import NamedTuple

from caller.routine.notation.dialect import plain_words
from caller.routine.notation.lexeme import Kind, Lexeme
from caller.routine.notation.stated import (
    NO_WEIGHT_SAID,
    eighths_of,
    read_stated,
    read_weight,
    says_no_weight,
)
from caller.routine.step import Foot
from caller.routine.vocabulary import Figure, Verb, Vocabulary


class _Token(NamedTuple):
    kind: str  # the group of _TOKEN that it matched
    text: str  # as written, lower case
    word: str  # plain form
    column: int
    written: str


FEET = {"right": Foot.RIGHT, "left": Foot.LEFT}

_LETTER = r"[^\W\d_½¼¾⅛⅜⅝⅞]"
_NUMBERS = r"\d+|one|two|three|four|five|six|seven|eight"
_SPAN = (
    r"\b(?:over|for|across|during|through)\s+(?:the\s+)?(?:next\s+|whole\s+)?"
    rf"(?:{_NUMBERS})\s+(?:counts?|beats?|cts?)\b"
)
_TOKEN = re.compile(
    # Words first, as most are; but for "x2", "twice" and "over 4 counts".
    rf"(?P<word>w/(?:out|o)?(?![a-z])|w/|(?!(?:x\s?\d|(?:twice|thrice)\b|{_SPAN}))"
    rf"{_LETTER}+(?:['\u2019]{_LETTER}+)?|&)"
    r"|(?P<note>\([^()]*\)|\[[^\[\]]*\])"
    rf"|(?P<span>{_SPAN})"
    r"|(?P<clock>\d{1,2}(?::|\.)\d\d|\d{1,2}\s*o['\u2019]?\s?clock)"
    r"|(?P<turn>\d+\s*[½¼¾⅛⅜⅝⅞]|[½¼¾⅛⅜⅝⅞]|\d+\s+(?:&\s+|and\s+)?\d/\d|\d+/\d+(?:st|nd|th)?"
    r"|\d{2,3}\s?(?:degrees?\b|\u00b0))"
    r"|(?P<times>[x\u00d7]\s?\d+\b|\b\d+\s?[x\u00d7]\b|\b\d+\s+times\b|\btwice\b|\bthrice\b)"
    r"|(?P<number>\d+)"
    r"|(?P<dash>[-\u2010-\u2015])"
    r"|(?P<separator>[,;.+/:|])"
    r"|(?P<other>[^\s*!\"\u201c\u201d]+)",
    re.IGNORECASE,
)
_LIST_OF_FEET = re.compile(r"[rl]{2,8}")
# "R, L, R" in brackets, and how it may be said.
_FEET_IN_BRACKETS = re.compile(
    r"(?:step(?:ping|s)?|lead(?:ing|s)?|start(?:ing|s)?|with|on|using|feet:?|going|dancing|walking)?\s*"
    r"(?:(?:r|l|rt|lt|rf|lf|right|left)(?:\s*(?:foot|first))?[\s,./&+-]*(?:and\s+)?)+|[rl]{2,8}",
    re.IGNORECASE,
)
_FOOT_WORD = re.compile(r"\b(right|left|rf|lf|rt|lt|[rl])\b|\b([rl]{2,8})\b", re.IGNORECASE)
_COUNT_NOTE = re.compile(
    r"(?:on\s+)?(?:(?:counts?|cts?|beats?)\.?\s*)?[\d&,\s\u2010-\u2015-]*(?:counts?|cts?|beats?)?(?:[\d&]|counts?)",
    re.IGNORECASE,
)
_TIMES_NOTE = re.compile(r"(?:x\s?\d|\d\s?x|twice|\d times)", re.IGNORECASE)
_BARE_CLOCK = re.compile(r"(?:12|3|6|9)")
_STRAY = re.compile(r"[()\[\]{}<>*='~^_#`\u2018\u2019\u00b4?\u2605\u2606\\@$%]+")
_ARROWS = re.compile(r"[\u2190-\u21ff\u25b6\u25ba\u27a4>]+")

_ARTICLES = frozenset(("the", "a", "your", "both", "an"))
_NUMBER_WORDS = {"double": 2, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
_SPANS = {"one": 1, **_NUMBER_WORDS}
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
_ROUND = frozenset((("front", "back"), ("back", "front")))
# What one word is, where no longer phrase begins with it.
_SINGLE: dict[str, tuple[Kind, object]] = {
    **{word: (Kind.FEET, (foot,)) for word, foot in FEET.items()},
    **dict.fromkeys(("and", "then"), (Kind.SEPARATOR, None)),
    **dict.fromkeys(("to", "toward", "towards"), (Kind.TO, None)),
    "with": (Kind.WITH, None),
}
_KINDS: dict[type, Kind] = {Figure: Kind.FIGURE, Verb: Kind.VERB, str: Kind.WHERE}
_DIAGONAL = 45  # degrees, said without the word
_MOST_WORDS = 8  # that one phrase may have


def lex(text: str, vocabulary: Vocabulary, column: int = 1) -> list[Lexeme]:
    """The lexemes of a description that begins at ``column`` of its line."""
    before = column - 1
    return [Lexeme(kind, value, words, at + before) for kind, value, words, at in lexed(text, vocabulary)]


@lru_cache(maxsize=2048)
def lexed(text: str, vocabulary: Vocabulary) -> tuple[Lexeme, ...]:
    """The lexemes of a description, columns from its own start. Kept: sheets repeat themselves, and are read again and
    again while they are being written."""
    plain = _ON_COUNTS.sub(lambda found: " " * len(found.group()), _plain_dots(plain_words(text)))
    plain = _AGAIN_AT_END.sub(" x2", plain)
    column = _FACING_COLUMN.search(plain)
    if column is not None:  # a table's last column
        plain = f"{plain[: column.start()]} ({column[1]}:00)"
    return tuple(_Lexer(plain, vocabulary, 1).run())


_ON_COUNTS = re.compile(
    r"\b(?:on\s+|for\s+|during\s+)?(?:counts?|cts?|beats?)\.?\s+\d+(?:\s*(?:[-\u2010-\u2015&,]|and|to)\s*\d+)*\b",
    re.IGNORECASE,
)
_AGAIN_AT_END = re.compile(r"[,;.]?\s+(?:and\s+|then\s+)?repeat\s*\.?\s*$", re.IGNORECASE)
_FACING_COLUMN = re.compile(r"\s{2,}(12|3|6|9)\s*$")
# A full stop after an abbreviation ends nothing: "R. heel fwd. on L".
_ABBREVIATED = re.compile(
    r"\b(?:[RL](?=\.\s*[a-z(])|(?:wt|fwd|bk|tog|ft|ct|cts|beh|bhd|bwd|diag|rec|"
    r"xf|xb|sd|tch|stp|mod|approx|lt|rt|lf|rf|w)"
    r"(?=\.(?:\s*[a-z(,;]|\s+[RL]\b|$)))\.|\bi\.p\.",
    re.IGNORECASE,
)


def _plain_dots(text: str) -> str:
    """Of the same length, so that columns stay."""
    if "." not in text:
        return text
    return _ABBREVIATED.sub(lambda found: "ip  " if found.group().lower() == "i.p." else found.group()[:-1] + " ", text)


def _tokens(text: str, vocabulary: Vocabulary, column: int) -> list[_Token]:
    plain = vocabulary.words
    found = []
    for match in _TOKEN.finditer(text):
        written, kind = match.group(), match.lastgroup or ""
        word = lowered = written.lower()
        if kind == "word":
            word = "and" if word == "&" else "without" if word in ("w/out", "w/o") else _unaccented(word)
            word = plain.get(word, word)
        found.append(_Token(kind, lowered, word, column + match.start(), written))
    return found


def _unaccented(word: str) -> str:
    """ "chassé" as "chasse"; curly apostrophes straight."""
    if word.isascii():
        return word
    word = word.replace("\u2019", "'")
    return "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))


class _Lexer:
    def __init__(self, text: str, vocabulary: Vocabulary, column: int) -> None:
        self.vocabulary = vocabulary
        self.tokens = _tokens(text, vocabulary, column)
        self.at = 0
        self.turned = False  # whether a fraction of a turn is told so far

    def run(self) -> list[Lexeme]:
        found: list[Lexeme] = []
        while self.at < len(self.tokens):
            token = self.tokens[self.at]
            if token.kind == "word":
                found.append(self._words(token))
            else:
                self.at += 1
                found += _OF_KIND[token.kind](self, token)
        return found

    # -- what is no word

    def _note(self, token: _Token) -> Iterator[Lexeme]:
        inside = token.written[1:-1]
        stated = read_stated(inside)
        if stated is None:
            yield self._other_note(inside.strip(), token)
            return
        for one in stated:
            yield _lexeme(Kind.NO_WEIGHT if one.text == NO_WEIGHT_SAID else Kind.CLAIM, one, token)

    def _other_note(self, inside: str, token: _Token) -> Lexeme:
        """Feet listed in brackets, how often, which count, a facing by its hour alone; else a note."""
        if _FEET_IN_BRACKETS.fullmatch(inside):
            feet = tuple(Foot(letter) for one in _FOOT_WORD.finditer(inside) for letter in _letters(one))
            return _lexeme(Kind.LIST if len(feet) > 1 else Kind.FEET, feet, token)
        if _TIMES_NOTE.fullmatch(inside):
            digits = re.sub(r"\D", "", inside)
            return _lexeme(Kind.TIMES, int(digits) if digits else 2, token)
        if _BARE_CLOCK.fullmatch(inside) and self.turned:
            stated = read_stated(f"facing {inside}:00")
            return _lexeme(Kind.CLAIM, stated[0] if stated else None, token)
        if (span := re.fullmatch(_SPAN[2:], inside, re.IGNORECASE)) is not None:
            return next(self._span(_Token("span", span.group().lower(), "", token.column, span.group())))
        if _COUNT_NOTE.fullmatch(inside):
            return _lexeme(Kind.NOISE, None, token)
        return _lexeme(Kind.NOTE, inside, token)

    def _clock(self, token: _Token) -> Iterator[Lexeme]:
        """A clock time outside brackets: after "towards" the way to travel, else a claim."""
        before = [t.word for t in self.tokens[max(0, self.at - 4) : self.at - 1]]
        if "toward" in before or "towards" in before:
            yield _lexeme(Kind.NOISE, None, token)
            return
        stated = read_stated(f"facing {token.text}")
        yield _lexeme(Kind.CLAIM, stated[0] if stated else None, token)

    def _span(self, token: _Token) -> Iterator[Lexeme]:
        """ "over 4 counts" """
        number = re.search(_NUMBERS, token.text)
        assert number is not None
        said = number.group()
        yield _lexeme(Kind.LASTS, int(said[:3]) if said.isdigit() else _SPANS[said], token)

    def _turn(self, token: _Token) -> Iterator[Lexeme]:
        if self.at >= 2 and self.tokens[self.at - 2].word == "at":  # "at 45 degrees": a way to travel
            yield _lexeme(Kind.WHERE, "diagonal", token)
            return
        eighths = eighths_of(token.text)
        self.turned = self.turned or bool(eighths)
        yield _lexeme(Kind.TURN if eighths else Kind.UNKNOWN, eighths, token)

    def _times(self, token: _Token) -> Iterator[Lexeme]:
        digits = re.sub(r"\D", "", token.text)
        yield _lexeme(Kind.TIMES, int(digits[:3]) if digits else 3 if token.word == "thrice" else 2, token)

    def _number(self, token: _Token) -> Iterator[Lexeme]:
        number = int(token.text[:3])
        if number == _DIAGONAL:
            yield _lexeme(Kind.WHERE, "diagonal", token)
        else:
            yield _lexeme(Kind.NUMBER, number, token)

    def _mark(self, token: _Token) -> Iterator[Lexeme]:
        yield _lexeme(Kind(token.kind), None, token)

    def _other(self, token: _Token) -> Iterator[Lexeme]:
        kind = Kind.NOISE if _STRAY.fullmatch(token.text) and self.tokens[1:] else Kind.UNKNOWN
        yield _lexeme(Kind.SEPARATOR if _ARROWS.fullmatch(token.text) else kind, None, token)

    # -- words

    def _words(self, token: _Token) -> Lexeme:
        opens = _OPENING.get(token.word)
        lexeme = opens(self, self._run_of_words()) if opens else None
        return lexeme or self._known() or self._single(token)

    def _run_of_words(self) -> list[_Token]:
        """The coming tokens that are words, dashes between words left out."""
        words: list[_Token] = []
        for token in self.tokens[self.at : self.at + 2 * _MOST_WORDS]:
            if token.kind == "word":
                words.append(token)
            elif token.kind != "dash":
                break
        return words[:_MOST_WORDS]

    def _phrase(self, kind: Kind, value: object, words: list[_Token]) -> Lexeme:
        """Steps over these words."""
        last = words[-1]
        while self.tokens[self.at] is not last:
            self.at += 1
        self.at += 1
        return Lexeme(kind, value, " ".join(w.text for w in words), words[0].column)

    def _weight(self, words: list[_Token]) -> Lexeme | None:
        said = [w.word for w in words]
        for length in range(len(words), 1, -1):
            text = " ".join(said[:length])
            ends = "weight" not in said[:length]  # "ending on L", but not "ending with L heel"
            if (weight := read_weight(text)) is not None and not (ends and length < len(words)):
                return self._phrase(Kind.WEIGHT, weight, words[:length])
            if says_no_weight(text):
                return self._phrase(Kind.NO_WEIGHT, None, words[:length])
        plain = [w for w in words if w.word not in ("the", "your", "full", "all")]
        if [w.word for w in plain[1:2]] == ["weight"] and plain[0].word in ("taking", "take", "with", "takes"):
            value = True if plain[0].word != "with" else None
            return self._phrase(Kind.NOISE if value is None else Kind.WEIGHT, value, words[: words.index(plain[1]) + 1])
        return None

    def _ball_of(self, words: list[_Token]) -> Lexeme | None:
        """ "on ball of R turn": the foot turned on, which bears the weight already; "step ball of R": the foot that
        steps."""
        said = [w for w in words[:5] if w.word not in ("the", "your", "both")]
        if len(said) < 2 or said[0].word not in ("ball", "balls") or said[1].word != "of":
            return self._phrase(Kind.NOISE, None, words[:1]) if self._after("on") or words[0].word == "balls" else None
        if len(said) < 3 or said[2].word not in (*FEET, "foot", "feet"):
            return self._phrase(Kind.NOISE, None, words[: words.index(said[1]) + 1])
        if said[2].word in FEET and self._steps_so_far():
            return self._phrase(Kind.NOISE, None, words[: words.index(said[1]) + 1])
        on = FEET.get(said[2].word)
        return self._phrase(Kind.ON if on else Kind.NOISE, on, words[: words.index(said[2]) + 1])

    def _after(self, word: str) -> bool:
        before = [t.word for t in self.tokens[max(0, self.at - 2) : self.at]]
        return word in before and all(w in (word, "the", "your") for w in before[-1:])

    def _steps_so_far(self) -> bool:
        """Whether the words since the last separator tell of a step and of no turn."""
        stepped = False
        for token in reversed(self.tokens[: self.at]):
            if token.kind == "separator" or token.word in ("and", "then"):
                break
            if token.kind == "turn" or token.word in _TURNERS:
                return False
            stepped = stepped or token.word in _STEPPERS
        return stepped

    def _turn_way(self, words: list[_Token]) -> Lexeme | None:
        said = tuple(w.word for w in words[:4])
        for phrase, way in _TURN_WAYS.items():
            if said[: len(phrase)] == phrase:
                return self._phrase(Kind.TURN_WAY, way, words[: len(phrase)])
        if len(said) >= 3 and said[0] == "over" and "shoulder" in said[2:]:
            end = said.index("shoulder")
            if said[end - 1] in FEET:
                return self._phrase(Kind.TURN_WAY, FEET[said[end - 1]], words[: end + 1])
        return None

    def _leading(self, words: list[_Token]) -> Lexeme | None:
        """ "leading with the left": the foot is what counts."""
        said = 1
        while said < len(words) and words[said].word in ("with", "on", "the", "your"):
            said += 1
        rest = [w.word for w in words[said:]]
        if len(rest) >= 2 and rest[0] in FEET and rest[1] in ("over", "across", "behind"):  # "starting with L over R"
            said += 3 if len(rest) >= 3 and rest[2] in FEET else 2
        return self._phrase(Kind.NOISE, None, words[:said])

    def _facing(self, words: list[_Token]) -> Lexeme | None:
        """ "now facing" before a clock time: the claim is the clock's own lexeme."""
        return self._phrase(Kind.NOISE, None, words[:1])

    def _on(self, words: list[_Token]) -> Lexeme | None:
        """ "on last step": where in a figure it turns, which the figure knows; "on heel"; "on L make 1/2 turn"."""
        plain = [w for w in words[1:4] if w.word not in _ARTICLES]
        if plain and plain[0].word in ("heel", "toe"):
            return self._phrase(Kind.NOISE, None, words[: words.index(plain[0]) + 1])
        if plain and plain[0].word in FEET and self._turns_next(plain[0]):
            return self._phrase(Kind.ON, FEET[plain[0].word], words[: words.index(plain[0]) + 1])
        said = [w for w in words[1:4] if w.word not in _ARTICLES]
        if (
            len(said) == 2
            and said[0].word in _ORDINALS
            and said[1].word in ("step", "count", "beat", "steps", "counts")
        ):
            return self._phrase(Kind.NOISE, None, words[: words.index(said[1]) + 1])
        return None

    def _turns_next(self, foot: _Token) -> bool:
        """Whether what follows the foot is a turn, not a movement."""
        at = next(n for n in range(self.at, len(self.tokens)) if self.tokens[n] is foot) + 1
        for token in self.tokens[at : at + 3]:
            if token.kind == "turn" or token.word in _TURNERS:
                return True
            if token.word not in ("foot", "make", "making", "a", "and", "do"):
                return False
        return False

    def _arms(self, words: list[_Token]) -> Lexeme | None:
        """ "raise R arm": no foot moves."""
        for word in words[1:5]:
            if word.word in ("arm", "hand", "hands", "fist", "fists"):
                return self._phrase(Kind.VERB, self.vocabulary.verbs["arms"], words[: words.index(word) + 1])
        return None

    def _circle(self, words: list[_Token]) -> Lexeme | None:
        """ "in a half circle": how a walk goes round."""
        around = self.tokens[self.at : self.at + 6]
        if any(t.word in ("circle", "arc", "semicircle") for t in around):
            return self._phrase(Kind.NOISE, None, words[:1])
        return None

    def _like(self, words: list[_Token]) -> Lexeme | None:
        """ "like a cowboy", "as if on ice": how it looks."""
        if words[0].word == "as" and [w.word for w in words[1:2]] != ["if"]:
            return None
        end = 1
        while end < len(words) and end < 5 and words[end].word not in _STEPPERS | set(FEET) | {"and", "then"}:
            end += 1
        return self._phrase(Kind.NOISE, None, words[:end]) if end > 1 else None

    def _with_foot(self, words: list[_Token]) -> Lexeme | None:
        """ "step back with R": the foot that steps."""
        said = [w for w in words[1:4] if w.word not in _ARTICLES]
        alone = bool(said) and said[0].word in FEET and (len(said) == 1 or said[1].word in ("foot", "and", "then"))
        if len(said) >= 2 and said[0].word in FEET and said[1].word in ("hand", "hands", "arm", "arms", "finger"):
            return self._phrase(Kind.NOISE, None, words[: words.index(said[1]) + 1])
        weight = self._weight(words)
        if weight is not None or not alone:
            return weight
        return self._phrase(Kind.NOISE, None, words[:1])

    def _from_to(self, words: list[_Token]) -> Lexeme | None:
        """ "from front to back": how a sweep goes round, not a direction of its own."""
        said = [w for w in words[:5] if w.word not in ("the", "from")]
        if len(said) >= 3 and said[1].word == "to" and (said[0].word, said[2].word) in _ROUND:
            return self._phrase(Kind.NOISE, None, words[: words.index(said[2]) + 1])
        return None

    def _known(self) -> Lexeme | None:
        """The longest phrase of the vocabulary that begins here; articles and dashes between its words left out."""
        tokens, first = self.tokens, self.tokens[self.at]
        branch = self.vocabulary.tree.branches.get(first.word)
        if branch is None:
            return None
        value, end = branch.value, self.at + 1
        at = end
        while branch.branches and at < len(tokens):
            token = tokens[at]
            at += 1
            if token.kind == "word":
                further = branch.branches.get(token.word)
                if further is not None:
                    branch = further
                    if branch.value is not None:
                        value, end = branch.value, at
                elif token.word not in _ARTICLES:
                    break
            elif token.kind != "dash" and token.text != "/":
                break
        if value is None:
            return None
        text = first.text
        if end > self.at + 1:
            text = " ".join([token.text for token in tokens[self.at : end] if token.kind == "word"])
        self.at = end
        return Lexeme(_KINDS[type(value)], value, text, first.column)

    def _single(self, token: _Token) -> Lexeme:
        self.at += 1
        word = token.word
        if word in _FRACTION_WORDS:
            return _lexeme(Kind.TURN, _FRACTION_WORDS[word], token)
        if word == "hip" and self.at < len(self.tokens) and self.tokens[self.at].word in FEET:
            return _lexeme(Kind.VERB, self.vocabulary.verbs["bump"], token)
        if (
            word == "knee"
            and self.at < len(self.tokens)
            and self.tokens[self.at].word in ("in", "out", "inward", "outward")
        ):
            return _lexeme(Kind.VERB, self.vocabulary.verbs["knee pop"], token)
        if word == "one":
            return _lexeme(Kind.NOISE, None, token)
        if word in _NUMBER_WORDS:
            following = self.tokens[self.at].word if self.at < len(self.tokens) else ""
            if following in _FRACTION_WORDS and word != "two":  # "two quarter pivots" are two
                self.at += 1
                return _lexeme(Kind.TURN, _NUMBER_WORDS[word] * _FRACTION_WORDS[following], token)
            return _lexeme(Kind.NUMBER, _NUMBER_WORDS[word], token)
        if _LIST_OF_FEET.fullmatch(token.text):
            return _lexeme(Kind.FEET, tuple(Foot(letter) for letter in token.text.upper()), token)
        known = word in self.vocabulary.noise or (word.endswith("ly") and len(word) > 4)
        other = Kind.NOISE if known else Kind.UNKNOWN
        kind, value = _SINGLE.get(word, (other, None))
        return _lexeme(kind, value, token)


def _letters(found: re.Match[str]) -> str:
    return (found[1] or "")[:1].upper() or (found[2] or "").upper()


def _lexeme(kind: Kind, value: object, token: _Token) -> Lexeme:
    return Lexeme(kind, value, token.text, token.column)


_OF_KIND: dict[str, Callable[[_Lexer, _Token], Iterator[Lexeme]]] = {
    "note": _Lexer._note,
    "span": _Lexer._span,
    "clock": _Lexer._clock,
    "turn": _Lexer._turn,
    "times": _Lexer._times,
    "number": _Lexer._number,
    "dash": _Lexer._mark,
    "separator": _Lexer._mark,
    "other": _Lexer._other,
}
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
    "weight's", "putting", "put", "ends", "finishes",
)
# fmt: on
# Readers of more than the vocabulary's phrases, by the word that they begin with.
_OPENING: dict[str, Callable[[_Lexer, list[_Token]], Lexeme | None]] = {
    **dict.fromkeys((*_WEIGHT_OPENERS, "weight", "no", "without", "weightless"), _Lexer._weight),
    **{phrase[0]: _Lexer._turn_way for phrase in _TURN_WAYS},
    "over": _Lexer._turn_way,
    **dict.fromkeys(("ball", "balls"), _Lexer._ball_of),
    **dict.fromkeys(("like", "as"), _Lexer._like),
    "with": _Lexer._with_foot,
    "in": _Lexer._circle,
    **dict.fromkeys(("raise", "raising", "lift", "throw", "throwing", "wave", "waving"), _Lexer._arms),
    **dict.fromkeys(("on", "during"), _Lexer._on),
    **dict.fromkeys(("leading", "starting", "beginning"), _Lexer._leading),
    "facing": _Lexer._facing,
    "face": _Lexer._facing,
    **dict.fromkeys(("from", "front", "back"), _Lexer._from_to),
}
