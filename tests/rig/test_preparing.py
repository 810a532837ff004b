"""The voice made ready in the background: what is asked for, when it is done, and when the lexicon is closed."""

from __future__ import annotations

from collections.abc import Iterable

from caller.rig.speech.lexicon import Phrase, Prepared, Progress, SilentLexicon
from caller.rig.speech.preparing import Preparing

FIRST, LATER = [("walk", 1.0), ("rock", 1.0)], [("one go.", 1.0)]


class AskedLexicon(SilentLexicon):
    """Keeps what it was asked to prepare, and whether it is closed."""

    def __init__(self) -> None:
        super().__init__("")
        self.asked: list[Phrase] = []
        self.closed = 0

    def prepare(self, phrases: Iterable[Phrase], progress: Progress | None = None) -> Prepared:
        listed = list(phrases)
        self.asked += listed
        for done in range(len(listed) if progress else 0):
            assert progress is not None
            progress(done + 1, len(listed))
        return Prepared(len(listed), 0, {})

    def close(self) -> None:
        self.closed += 1


def test_all_is_made_then_the_lexicon_is_closed() -> None:
    lexicon = AskedLexicon()
    preparing = Preparing(lexicon, FIRST)
    preparing.wait()
    assert (lexicon.asked, lexicon.closed) == (FIRST, 1)
    assert (preparing.done, preparing.progress) == (True, (2, 2))


def test_what_is_asked_later_is_made_too_where_the_lexicon_stays_open() -> None:
    lexicon = AskedLexicon()
    preparing = Preparing(lexicon, FIRST, more_later=True)
    preparing.also(LATER)
    preparing.wait()
    assert (lexicon.asked, lexicon.closed) == (FIRST + LATER, 0)
    assert preparing.progress == (2, 2)


def test_a_closed_lexicon_is_asked_nothing_more() -> None:
    lexicon = AskedLexicon()
    preparing = Preparing(lexicon, FIRST)
    preparing.also(LATER)
    preparing.wait()
    assert lexicon.asked == FIRST


def test_nothing_asked_later_is_nothing_done() -> None:
    lexicon = AskedLexicon()
    preparing = Preparing(lexicon, FIRST, more_later=True)
    preparing.also(())
    preparing.wait()
    assert lexicon.asked == FIRST
