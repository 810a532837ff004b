"""The voice made ready in the background, while the screen is up already."""

from __future__ import annotations

import threading
from collections.abc import Iterable

from caller.rig.speech.lexicon import Phrase, SilentLexicon, SpokenLexicon


class Preparing:
    """Starts to render at once, in a thread that ends with the program. ``done`` and ``progress`` may be read from
    any thread and never wait; whatever goes wrong is told by the lexicon's ``why``."""

    def __init__(self, lexicon: SpokenLexicon | SilentLexicon, phrases: Iterable[Phrase]) -> None:
        self._lexicon = lexicon
        self._phrases = tuple(phrases)
        self._progress = (0, len(self._phrases))
        self._thread = threading.Thread(target=self._run, name="speech", daemon=True)
        self._thread.start()

    @property
    def done(self) -> bool:
        return not self._thread.is_alive()

    @property
    def progress(self) -> tuple[int, int]:
        """(phrases ready, of how many)"""
        return self._progress

    def _run(self) -> None:
        self._lexicon.prepare(self._phrases, self._tell)
        self._lexicon.close()

    def _tell(self, done: int, of: int) -> None:
        self._progress = (done, of)
