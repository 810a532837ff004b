"""A description's text cut into tokens, and where the lexer stands among them.

Conventions: columns count from 1 in the text. A token keeps what is written beside the plain form of its word.
"""

from __future__ import annotations

import re
import unicodedata
from typing import NamedTuple

from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.step import Foot
from caller.routine.vocabulary import Vocabulary

FEET = {"right": Foot.RIGHT, "left": Foot.LEFT}
ARTICLES = frozenset(("the", "a", "your", "both", "an"))
_MOST_WORDS = 8  # that one phrase may have

_LETTER = r"[^\W\d_½¼¾⅛⅜⅝⅞]"
NUMBERS = r"\d+|one|two|three|four|five|six|seven|eight"
SPAN = (
    r"\b(?:over|for|across|during|through)\s+(?:the\s+)?(?:next\s+|whole\s+)?"
    rf"(?:{NUMBERS})\s+(?:extra\s+|more\s+|slow\s+)?(?:counts?|beats?|cts?)\b"
)
_TOKEN = re.compile(
    # Words first, as most are; but for "x2", "twice" and "over 4 counts".
    rf"(?P<word>w/(?:out|o)?(?![a-z])|w/|(?!(?:x\s?\d|(?:twice|thrice)\b|{SPAN}))"
    rf"{_LETTER}+(?:['\u2019]{_LETTER}+)?|&)"
    r"|(?P<note>\([^()]*\)|\[[^\[\]]*\])"
    rf"|(?P<span>{SPAN})"
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


class Token(NamedTuple):
    kind: str  # word, note, span, clock, turn, times, number, dash, separator or other
    text: str  # as written, lower case
    word: str  # plain form
    column: int
    written: str

    def lexeme(self, kind: LexemeKind, value: object) -> Lexeme:
        return Lexeme(kind, value, self.text, self.column)


class Cursor:
    """The tokens of a description, read from the first to the last. at: the one that is read next; turned: whether a
    fraction of a turn is told so far."""

    def __init__(self, text: str, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.tokens = _tokens(text, vocabulary)
        self.at = 0
        self.turned = False

    def words(self) -> list[Token]:
        """The coming tokens that are words, dashes between words left out."""
        words: list[Token] = []
        for token in self.tokens[self.at : self.at + 2 * _MOST_WORDS]:
            if token.kind == "word":
                words.append(token)
            elif token.kind != "dash":
                break
        return words[:_MOST_WORDS]

    def phrase(self, kind: LexemeKind, value: object, words: list[Token]) -> Lexeme:
        """Steps over these words."""
        last = words[-1]
        while self.tokens[self.at] is not last:
            self.at += 1
        self.at += 1
        return Lexeme(kind, value, " ".join(w.text for w in words), words[0].column)

    def after(self, word: str) -> bool:
        """Whether the token before is this word, or an article behind it."""
        before = [t.word for t in self.tokens[max(0, self.at - 2) : self.at]]
        return word in before and all(w in (word, "the", "your") for w in before[-1:])


def _tokens(text: str, vocabulary: Vocabulary) -> list[Token]:
    plain = vocabulary.words
    found = []
    for match in _TOKEN.finditer(text):
        written, kind = match.group(), match.lastgroup or ""
        word = lowered = written.lower()
        if kind == "word":
            word = "and" if word == "&" else "without" if word in ("w/out", "w/o") else _unaccented(word)
            word = plain.get(word, word)
        found.append(Token(kind, lowered, word, 1 + match.start(), written))
    return found


def _unaccented(word: str) -> str:
    """ "chassé" as "chasse"; curly apostrophes straight."""
    if word.isascii():
        return word
    word = word.replace("\u2019", "'")
    return "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))
