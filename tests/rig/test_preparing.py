"""The voice made ready in the background: what is asked for, when it is done, and when the lexicon is closed."""

from __future__ import annotations

import threading
from collections.abc import Iterable

import pytest

from caller.rig.speech.lexicon import Phrase, Prepared, Progress, SilentLexicon
from caller.rig.speech.preparing import RenderQueue

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
    preparing = RenderQueue(lexicon, [FIRST])
    preparing.wait()
    assert (lexicon.asked, lexicon.closed) == (FIRST, 1)
    assert (preparing.done, preparing.progress) == (True, (2, 2))


def test_what_is_asked_later_is_made_too_where_the_lexicon_stays_open() -> None:
    lexicon = AskedLexicon()
    preparing = RenderQueue(lexicon, [FIRST], more_later=True)
    preparing.also(LATER)
    preparing.wait()
    assert (lexicon.asked, lexicon.closed) == (FIRST + LATER, 0)
    assert preparing.progress == (2, 2)


def test_a_closed_lexicon_is_asked_nothing_more() -> None:
    lexicon = AskedLexicon()
    preparing = RenderQueue(lexicon, [FIRST])
    preparing.wait()
    preparing.also(LATER)
    preparing.wait()
    assert (lexicon.asked, lexicon.closed) == (FIRST, 1)


class OrderedMeanwhile(AskedLexicon):
    """Something is ordered while the first batch is made. seen: batches ready, all done, phrases ready at each call."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[int, bool, tuple[int, int]]] = []
        self.preparing: RenderQueue | None = None
        self.started = threading.Event()

    def prepare(self, phrases: Iterable[Phrase], progress: Progress | None = None) -> Prepared:
        assert self.started.wait(10)
        assert self.preparing is not None
        self.seen.append((self.preparing.batches, self.preparing.done, self.preparing.progress))
        if len(self.seen) == 1:
            self.preparing.also(LATER)
        return super().prepare(phrases, progress)


def test_what_is_said_first_is_made_first_and_what_is_ordered_meanwhile_comes_next() -> None:
    lexicon = OrderedMeanwhile()
    lexicon.preparing = RenderQueue(lexicon, [FIRST, [("kick", 1.0)], [("sway", 1.0), ("sway", 1.2)]])
    lexicon.started.set()
    lexicon.preparing.wait()
    assert lexicon.asked == [*FIRST, *LATER, ("kick", 1.0), ("sway", 1.0), ("sway", 1.2)]
    assert lexicon.seen == [
        (0, False, (0, 5)),
        (1, False, (2, 5)),
        (1, False, (2, 5)),
        (2, False, (3, 5)),
    ]
    assert (lexicon.preparing.batches, lexicon.preparing.done) == (3, True)


def test_the_rest_is_worked_out_when_what_is_said_first_is_ready_and_the_class_has_begun() -> None:
    lexicon, seen = AskedLexicon(), list[tuple[int, bool, tuple[int, int], list[Phrase]]]()

    def rest() -> list[list[Phrase]]:
        seen.append((preparing.batches, preparing.done, preparing.progress, [*lexicon.asked]))
        return [[("kick", 1.0)], [("sway", 1.0)]]

    preparing = RenderQueue(lexicon, [FIRST], rest)
    preparing.also(LATER)
    preparing.wait()
    assert [told[:3] for told in seen] == [(1, False, (2, 2))]
    assert set(seen[0][3]) == {*FIRST, *LATER}
    assert (preparing.batches, preparing.done, preparing.progress) == (3, True, (4, 4))
    assert lexicon.asked[-2:] == [("kick", 1.0), ("sway", 1.0)]
    assert lexicon.closed == 1


def test_the_rest_is_made_for_a_class_that_does_not_begin(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("caller.rig.speech.preparing.GRACE_SECONDS", 0.0)
    lexicon = AskedLexicon()
    preparing = RenderQueue(lexicon, [FIRST], lambda: [LATER])
    preparing.wait()
    assert (lexicon.asked, preparing.done) == (FIRST + LATER, True)


def test_phrases_that_are_there_already_count_as_ready() -> None:
    class Kept(AskedLexicon):
        """Has the first of each batch."""

        def prepare(self, phrases: Iterable[Phrase], progress: Progress | None = None) -> Prepared:
            return super().prepare(list(phrases)[1:], progress)

    preparing = RenderQueue(Kept(), [FIRST, FIRST])
    preparing.wait()
    assert preparing.progress == (4, 4)


def test_with_nothing_to_be_made_it_is_done() -> None:
    preparing = RenderQueue(AskedLexicon(), [])
    preparing.wait()
    assert (preparing.done, preparing.batches) == (True, 0)


def test_nothing_asked_later_is_nothing_done() -> None:
    lexicon = AskedLexicon()
    preparing = RenderQueue(lexicon, [FIRST], more_later=True)
    preparing.also(())
    preparing.wait()
    assert lexicon.asked == FIRST
