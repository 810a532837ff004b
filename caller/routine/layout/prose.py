"""Steps told in whole sentences: "Right foot to the side on 1, and on 2 close the left to it. Stomp (3), hold for count 4."

Counts stand before their steps ("on 5 rock forward"), behind them ("recover on 6", "touch (8)"), or in turns. A
paragraph is read only where its counts run on without a gap from 1 to its end.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from caller.routine.layout.behind import once_more
from caller.routine.layout.kinds import STEP_WORD
from caller.routine.layout.lines import Line
from caller.routine.layout.numbers import NUMBER, number_of
from caller.routine.notation.facing_clauses import facings_told

_DASH = r"[\-\u2010-\u2015]"
_ONE = r"(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\b"
_HALF = r"(?:&(?!\s?\d))?"
_LIST = rf"{_ONE}{_HALF}(?:(?:\s*(?:,\s*(?:and\s+)?|and\s+|&\s*|to\s+|{_DASH}\s*)|\s(?=\d)){_ONE}{_HALF})*"
_MARK = re.compile(
    rf"\(\s*(?:on\s+|for\s+)?(?:counts?\s+|beats?\s+)?(?P<inner>&?\s?{_LIST}|&)\s*\)"
    rf"|\b(?:(?P<word>on|for|over|with)\s+(?:the\s+)?(?P<counts>counts?\s+|beats?\s+)?|(?P<named>counts?|beats?)\s+(?={_LIST}\s*[:,]))"
    rf"(?P<list>{_LIST})(?!\s*(?:counts|beats|o['\u2019]?clock|times|walls?|steps)|[:/]\d)",
    re.IGNORECASE,
)
_CLAUSE = re.compile(
    r"[,;.:!]\s+(?:and\s+|then\s+|now\s+)*|\s+(?:and|then)\s+(?:then\s+)?|^\s*(?:and\s+|then\s+|now\s+)*", re.IGNORECASE
)
_OPENS = re.compile(r"(?:^|[,;.:!()]|\b(?:and|then|now|next|so|but))\s*$", re.IGNORECASE)
_CLOSES = re.compile(r"\s*(?:[,;.:!)(]|$|(?:and|then|but|while|with|so|as)\b)", re.IGNORECASE)
_TALK = re.compile(
    r",?\s*\bso\s+(?:that\s+)?you(?:['\u2019]re|\s)[^.;()]*|\b(?:now|then)?\s*(?:do\s+|dance\s+)?the\s+same\s+(?:again\s+)?(?:to|on|with)\s+the\s+(?:left|right|other)(?:\s+(?:side|foot))?\s*:|\bthat\s+is,?\s+to\s+say\b,?|^.*\bthat\s+is\s*[,:]\s*",
    re.IGNORECASE,
)
# "This is a K-step."; "Follow it with a Charleston: step right forward ..."
_NAMES = re.compile(r"(?:this|that|it|here|these|those)(?:['\u2019]s|\s+is|\s+are|\s+comes?)\s+", re.IGNORECASE)
_LEADS_ON = re.compile(
    r"^(?:follow|finish|end|start|begin|continue|carry\s+on|go\s+on|close)(?:\s+(?:it|this|that|on|off|up|all))*\s+(?:with|by)\s+(?:(?:doing|dancing)\s+)?",
    re.IGNORECASE,
)
# "weight on the left (9:00)", behind the counts of the step
_STATED = re.compile(
    r"\(?\b(?:taking\s+|with\s+|your\s+|the\s+)*weight\s+(?:is\s+)?on(?:to)?\s+(?:the\s+)?(?:left|right|L|R)\b\)?(?:\s+foot)?|\((?:1[0-2]|[1-9]):\d\d\)",
    re.IGNORECASE,
)
_TWO_OF = re.compile(r"(?:\bcomes?\s+|\bdo\s+)?\b(?:two|both|2)\s+", re.IGNORECASE)
_LEAST = 2  # marks of counts
_MOST_COUNTS = 128  # of a wall


@dataclass(slots=True)
class _Mark:
    """start, end: in the text; counts: as a step line writes them; first, last: whole numbers; before: its steps follow."""

    start: int
    end: int
    counts: str
    first: int
    last: int
    before: bool = False


def has_counts(text: str) -> bool:
    return _MARK.search(text) is not None


def told_in_prose(text: str, line: Line) -> tuple[list[Line], list[str]]:
    """The step lines of a paragraph, and the sentences in it that tell no steps; none where its counts are not whole."""
    text = facings_told(text)
    marks = _marks(text)
    if len(marks) < _LEAST or not _run_on(marks):
        return [], []
    told, talk = _Told(), []
    at = 0
    for n, mark in enumerate(marks):
        following = marks[n + 1] if n + 1 < len(marks) else None
        if mark.before:
            rest = text[mark.end : following.start if following else len(text)]
            until = mark.end + _until(rest, following)
            label = text[at : mark.start] if text.startswith(":", mark.end) else ""
            told.add(mark.counts, label + text[mark.end : until], mark.start)
            at = until
        else:
            told.add(mark.counts, text[at : mark.start], mark.start)
            at = mark.end
    told.once_each()
    talk = [*told.talk, *told.behind(text[at:])]
    if not all(words for _, words, _ in told.pieces):
        return [], []
    return [
        Line(line.at(begins).number, line.column, f"{counts}  {once_more(words, counts)}", False)
        for counts, words, begins in told.pieces
    ], talk


class _Told:
    """Pieces of a paragraph so far: their counts and words, and where those stand; talk: the sentences among them that
    tell no steps."""

    def __init__(self) -> None:
        self.pieces: list[tuple[str, str, int]] = []
        self.talk: list[str] = []

    def add(self, counts: str, told: str, begins: int) -> None:
        sentences = _sentences(told)
        while len(sentences) > 1 and (STEP_WORD.search(sentences[0]) is None or _NAMES.match(sentences[0])):
            self.talk += self._of_the_last(sentences.pop(0))
        self.pieces.append((counts, _plain(" ".join(sentences)), begins))

    def once_each(self) -> None:
        """ "Two kick ball changes, on 5&6 and on 7&8": one on each."""
        for n in range(1, len(self.pieces)):
            (before, words, begins), (counts, own, at) = self.pieces[n - 1], self.pieces[n]
            if own in ("", "and") and (two := _TWO_OF.search(words)) is not None:
                one = _plain(words[: two.start()] + words[two.end() :])
                self.pieces[n - 1 : n + 1] = [(before, one, begins), (counts, one, at)]

    def behind(self, rest: str) -> list[str]:
        return [talk for sentence in _sentences(rest) for talk in self._of_the_last(sentence)]

    def _of_the_last(self, sentence: str) -> list[str]:
        """What a sentence states of the step before it goes there; what it says else is talk."""
        while self.pieces and (stated := _STATED.search(sentence)) is not None:
            counts, words, begins = self.pieces[-1]
            self.pieces[-1] = counts, f"{words} {stated[0]}", begins
            sentence = (sentence[: stated.start()] + sentence[stated.end() :]).strip(" ,;.")
        return [sentence] if re.search(r"[A-Za-z]{3}", sentence) else []


def _sentences(text: str) -> list[str]:
    text = re.sub(r"^[\s,;.:!)]+", "", text)
    return [one for one in re.split(r"(?<=[.!])\s+", text) if one.strip(" .,;!")]


def _marks(text: str) -> list[_Mark]:
    found = []
    for one in _MARK.finditer(text):
        said = one["inner"] or one["list"]
        counts = _counts(said)
        if counts is None:
            continue
        numbers = [int(n) for n in re.findall(r"\d+", counts)]
        mark = _Mark(one.start(), one.end(), counts, numbers[0] if numbers else 0, numbers[-1] if numbers else 0)
        if one["named"] is not None:
            mark.before = True
        elif one["word"] is not None:
            opens = _OPENS.search(text, max(0, one.start() - 12), one.start()) is not None
            closes = _CLOSES.match(text, one.end()) is not None
            comma = text.startswith(",", one.end())
            if not opens and not closes:
                continue  # "step on one foot"
            mark.before = text.startswith(":", one.end()) or (opens and (not closes or comma))
        found.append(mark)
    return found


def _counts(said: str) -> str | None:
    """ "5, 6 and 7" as "5-7", "three & four" as "3&4"; None where they don't run on."""
    if said.strip() == "&":
        return "&"
    plain = re.sub(NUMBER, lambda found: str(number_of(found[0])), said, flags=re.IGNORECASE).strip()
    if "&" in plain:
        return (
            re.sub(r"\s+", "", plain)
            if re.fullmatch(r"&?\s?\d+(?:\s*&\s*\d*)*(?:\s*,\s*\d+(?:\s*&\s*\d*)*)*", plain)
            else None
        )
    numbers = [int(n) for n in re.findall(r"\d+", plain)]
    if numbers != sorted(numbers) or not numbers or numbers[-1] > _MOST_COUNTS:
        return None
    return f"{numbers[0]}-{numbers[-1]}" if len(numbers) > 1 else str(numbers[0])


def _run_on(marks: list[_Mark]) -> bool:
    at = 0
    for mark in marks:
        if mark.first == 0 and mark.counts == "&":
            continue
        if mark.first != at + 1:
            return False
        at = mark.last
    return at in (4, 6, 8, 12, 16) and marks[0].first == 1


def _until(rest: str, following: _Mark | None) -> int:
    """Where the steps of a mark that stands before them end: at the next such mark, or before the clause that the next
    mark closes."""
    if following is None:
        end = re.search(r"[.!](?:\s|$)", rest)
        return end.start() if end is not None else len(rest)
    if following.before:
        return len(rest)
    sentence = re.search(r"[.!]\s+(?=[A-Z])", rest)
    if sentence is not None and STEP_WORD.search(rest[: sentence.start()]):
        return sentence.start()
    cuts = [found for found in _CLAUSE.finditer(rest) if found.start() > 0 and STEP_WORD.search(rest[: found.start()])]
    return cuts[-1].start() if cuts else len(rest)


def _plain(told: str) -> str:
    """The words of the steps, without talk round them."""
    told = _TALK.sub(" ", told)
    told = re.sub(r"^(?:\s*(?:and|then|now|next|but|finally)\b\s*,?)+", "", told.strip(" ,;.:!"), flags=re.IGNORECASE)
    return _LEADS_ON.sub("", told).strip(" ,;.:!")
