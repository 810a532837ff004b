"""The voice made ready in the background, while the screen is up and the class may have begun already."""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable, Iterable

from caller.rig.speech.lexicon import Phrase, SilentLexicon, SpokenLexicon

# What is made later waits so long for the class to begin: working it out would take turns with making the first piece.
GRACE_SECONDS = 1.0


class RenderQueue:
    """Renders batch by batch, in a thread that ends with the program: what is said first comes first, and what is asked
    for meanwhile comes before all that still waits. ``done``, ``batches`` and ``progress`` may be read from any thread
    and never wait; whatever goes wrong is told by the lexicon's ``why``.

    batches: of phrases, in the order in which they are wanted. rest: the batches after those, worked out in the thread
    once those have been made, and the class has begun or does not for a while; None where there are none. more_later:
    the lexicon stays open for what :meth:`also` asks once all is made; whoever opened it closes it.
    """

    def __init__(
        self,
        lexicon: SpokenLexicon | SilentLexicon,
        batches: Iterable[Iterable[Phrase]],
        rest: Callable[[], Iterable[Iterable[Phrase]]] | None = None,
        more_later: bool = False,
    ) -> None:
        self._lexicon, self._rest, self._more_later = lexicon, rest, more_later
        self._batches_left = deque(tuple(batch) for batch in batches)
        self._asked: deque[Phrase] = deque()
        self._ready, self._due = 0, len(self._batches_left)
        self._phrases_ready, self._phrases = 0, sum(map(len, self._batches_left))
        self._begun = threading.Event()
        # Held while it is settled whether the thread still takes what is asked for.
        self._settling, self._takes = threading.Lock(), True
        self._thread = self._started()

    def wait(self) -> None:
        """Until all that was asked for so far has been made, or can't be. Any thread but the screen's."""
        self._thread.join()

    @property
    def done(self) -> bool:
        """Every batch has been made, or can't be."""
        return self._rest is None and self._ready >= self._due

    @property
    def batches(self) -> int:
        """How many batches have been made, or can't be."""
        return self._ready

    @property
    def progress(self) -> tuple[int, int]:
        """(phrases ready, of how many so far as is worked out)"""
        return self._phrases_ready, self._phrases

    def also(self, phrases: Iterable[Phrase]) -> None:
        """These too, next; ``done`` stays as it is. A class asks when it has begun, and wherever it has come to. Any
        one thread; doesn't wait."""
        self._begun.set()
        asked = tuple(phrases)
        with self._settling:
            self._asked.extend(asked)
            if asked and not self._takes and self._more_later:
                self._takes = True
                self._thread = self._started()

    def _started(self) -> threading.Thread:
        thread = threading.Thread(target=self._run, name="speech", daemon=True)
        thread.start()
        return thread

    def _run(self) -> None:
        while self._goes_on():
            if self._asked:
                self._lexicon.prepare([self._asked.popleft() for _ in range(len(self._asked))])
            elif self._batches_left:
                self._make(self._batches_left.popleft())
            elif self._rest is not None:
                self._work_out(self._rest)
        if not self._more_later:
            self._lexicon.close()

    def _goes_on(self) -> bool:
        with self._settling:
            self._takes = bool(self._asked or self._batches_left or self._rest)
            return self._takes

    def _work_out(self, rest: Callable[[], Iterable[Iterable[Phrase]]]) -> None:
        self._begun.wait(GRACE_SECONDS)
        if self._asked:  # meanwhile: that first
            return
        self._batches_left.extend(tuple(batch) for batch in rest())
        self._due += len(self._batches_left)
        self._phrases += sum(map(len, self._batches_left))
        self._rest = None  # last: until then it isn't done

    def _make(self, batch: tuple[Phrase, ...]) -> None:
        before = self._phrases_ready

        def tell(done: int, of: int) -> None:
            # Those that were there already are not among the ones told of.
            self._phrases_ready = before + len(batch) - of + done

        self._lexicon.prepare(batch, tell)
        self._phrases_ready = before + len(batch)
        self._ready += 1
