"""A description cut into lexemes: verbs, figures, directions, feet, fractions, separators, claims.

Conventions: columns count from 1 in the sheet's line. Nothing here knows about weight; a lexeme says only what the
words can be. What a word may begin is found by that word (tables), so the time is linear in the words.
"""

from __future__ import annotations

import re
from functools import lru_cache

from caller.routine.figures import Figure, Verb
from caller.routine.notation.dialect import plain_words
from caller.routine.notation.idioms import idiom
from caller.routine.notation.lexeme import Lexeme, LexemeKind
from caller.routine.notation.scanning import ARTICLES, FEET, Cursor, Token
from caller.routine.notation.signs import NUMBER_WORDS, signs
from caller.routine.step import Foot
from caller.routine.vocabulary import Vocabulary

_LIST_OF_FEET = re.compile(r"[rl]{2,8}")
_FRACTION_WORDS = {"quarter": 2, "half": 4, "eighth": 1, "full": 8}
# What one word is, where no longer phrase begins with it.
_SINGLE: dict[str, tuple[LexemeKind, object]] = {
    **{word: (LexemeKind.FEET, (foot,)) for word, foot in FEET.items()},
    **dict.fromkeys(("and", "then"), (LexemeKind.SEPARATOR, None)),
    **dict.fromkeys(("to", "toward", "towards"), (LexemeKind.TO, None)),
    "with": (LexemeKind.WITH, None),
}
_KINDS: dict[type, LexemeKind] = {Figure: LexemeKind.FIGURE, Verb: LexemeKind.VERB, str: LexemeKind.WHERE}
_ON_COUNTS = re.compile(
    r"\b(?:on\s+|for\s+|during\s+)?(?:counts?|cts?|beats?)\.?\s+\d+(?:\s*(?:[-\u2010-\u2015&,]|and|to)\s*\d+)*\b",
    re.IGNORECASE,
)
_AGAIN_AT_END = re.compile(r"[,;.]?\s+(?:and\s+|then\s+)?repeat\s*\.?\s*$", re.IGNORECASE)
_FACING_COLUMN = re.compile(r"\s{2,}(12|3|6|9)\s*$")
# A full stop after an abbreviation ends nothing: "R. heel fwd. on L". One before a capital ends a sentence ("cross R
# over L. Step back"), but where nothing stands before the foot ("R. Shuffle").
_ABBREVIATED = re.compile(
    r"\b(?:[RL](?=\.\s*(?-i:[a-z(]))|(?:(?<=^)|(?<=[.;:] ))[RL](?=\.\s*[A-Z])|"
    r"(?:wt|fwd|bk|tog|ft|ct|cts|beh|bhd|bwd|diag|rec|"
    r"xf|xb|sd|tch|stp|mod|approx|lt|rt|lf|rf|w)"
    r"(?=\.(?:\s*[a-z(,;]|\s+[RL]\b|$)))\.|\bi\.p\.",
    re.IGNORECASE,
)


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
    return tuple(_run(Cursor(plain, vocabulary)))


def _plain_dots(text: str) -> str:
    """Of the same length, so that columns stay."""
    if "." not in text:
        return text
    return _ABBREVIATED.sub(lambda found: "ip  " if found.group().lower() == "i.p." else found.group()[:-1] + " ", text)


def _run(cursor: Cursor) -> list[Lexeme]:
    found: list[Lexeme] = []
    while cursor.at < len(cursor.tokens):
        token = cursor.tokens[cursor.at]
        if token.kind == "word":
            found.append(idiom(cursor, token) or _known(cursor) or _single(cursor, token))
        else:
            cursor.at += 1
            found += signs(cursor, token)
    return found


def _known(cursor: Cursor) -> Lexeme | None:
    """The longest phrase of the vocabulary that begins here; articles and dashes between its words left out."""
    tokens, first = cursor.tokens, cursor.tokens[cursor.at]
    branch = cursor.vocabulary.tree.branches.get(first.word)
    if branch is None:
        return None
    value, end = branch.value, cursor.at + 1
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
            elif token.word not in ARTICLES:
                break
        elif token.kind != "dash" and token.text != "/":
            break
    if value is None:
        return None
    text = first.text
    if end > cursor.at + 1:
        text = " ".join([token.text for token in tokens[cursor.at : end] if token.kind == "word"])
    cursor.at = end
    return Lexeme(_KINDS[type(value)], value, text, first.column)


def _single(cursor: Cursor, token: Token) -> Lexeme:
    cursor.at += 1
    word = token.word
    if word in _FRACTION_WORDS:
        return token.lexeme(LexemeKind.TURN, _FRACTION_WORDS[word])
    if word == "hip" and cursor.at < len(cursor.tokens) and cursor.tokens[cursor.at].word in FEET:
        return token.lexeme(LexemeKind.VERB, cursor.vocabulary.verbs["bump"])
    if (
        word == "knee"
        and cursor.at < len(cursor.tokens)
        and cursor.tokens[cursor.at].word in ("in", "out", "inward", "outward")
    ):
        return token.lexeme(LexemeKind.VERB, cursor.vocabulary.verbs["knee pop"])
    if word == "one":
        return token.lexeme(LexemeKind.NOISE, None)
    if word in NUMBER_WORDS:
        following = cursor.tokens[cursor.at].word if cursor.at < len(cursor.tokens) else ""
        if following in _FRACTION_WORDS and word != "two":  # "two quarter pivots" are two
            cursor.at += 1
            return token.lexeme(LexemeKind.TURN, NUMBER_WORDS[word] * _FRACTION_WORDS[following])
        return token.lexeme(LexemeKind.NUMBER, NUMBER_WORDS[word])
    if _LIST_OF_FEET.fullmatch(token.text):
        return token.lexeme(LexemeKind.FEET, tuple(Foot(letter) for letter in token.text.upper()))
    known = word in cursor.vocabulary.noise or (word.endswith("ly") and len(word) > 4)
    other = LexemeKind.NOISE if known else LexemeKind.UNKNOWN
    kind, value = _SINGLE.get(word, (other, None))
    return token.lexeme(kind, value)
