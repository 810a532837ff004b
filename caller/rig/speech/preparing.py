"""The voice made ready in the background, while the screen is up already."""

from __future__ import annotations

import queue
import threading
from collections.abc import Iterable

from caller.rig.speech.lexicon import Phrase, SilentLexicon, SpokenLexicon


class Preparing:
    """Starts to render at once, in a thread that ends with the program. ``done`` and ``progress`` may be read from
    any thread and never wait; whatever goes wrong is told by the lexicon's ``why``.

    more_later: the lexicon stays open for what :meth:`also` asks; whoever opened it closes it.
    """

    def __init__(
        self, lexicon: SpokenLexicon | SilentLexicon, phrases: Iterable[Phrase], more_later: bool = False
    ) -> None:
        self._lexicon, self._more_later = lexicon, more_later
        self._asked: queue.SimpleQueue[Phrase] = queue.SimpleQueue()
        self._phrases = tuple(phrases)
        self._progress = (0, len(self._phrases))
        self._thread = threading.Thread(target=self._run, name="speech", daemon=True)
        self._later = self._thread
        self._thread.start()

    def wait(self) -> None:
        """Until all that was asked for so far has been made, or can't be. Any thread but the screen's."""
        self._thread.join()
        self._later.join()

    @property
    def done(self) -> bool:
        return not self._thread.is_alive()

    def also(self, phrases: Iterable[Phrase]) -> None:
        """These too, in the background; ``done`` stays as it is. Any one thread; doesn't wait."""
        for phrase in phrases:
            self._asked.put(phrase)
        if not self._asked.empty():
            self._later = threading.Thread(target=self._run_more, name="more speech", daemon=True)
            self._later.start()

    @property
    def progress(self) -> tuple[int, int]:
        """(phrases ready, of how many)"""
        return self._progress

    def _run(self) -> None:
        self._lexicon.prepare(self._phrases, self._tell)
        if not self._more_later:
            self._lexicon.close()

    def _run_more(self) -> None:
        self._thread.join()
        asked = [self._asked.get_nowait() for _ in range(self._asked.qsize())]
        if self._more_later:
            self._lexicon.prepare(asked)

    def _tell(self, done: int, of: int) -> None:
        self._progress = (done, of)
