"""The deck: the reel as it plays. Orders go in at a block's edge, blocks come out.

Conventions: stream frames (see ``caller.sound.speaker``); blocks are float32 of shape (frames, 2). No I/O: the player's
process and the tests' device double play from the same deck.
"""

from __future__ import annotations

from caller.sound.reel import CROSSING_FRAMES, Reel, Splice, render_reel
from caller.sound.score import Samples, Score


class Deck:
    """written: the next frame to come out. late: splices that came after their frame. hushed_at: see ``Heard``."""

    def __init__(self, written: int = 0) -> None:
        self.reel = Reel()
        self.written = written
        self.late = 0
        self.hushed_at: int | None = None

    def splice(self, score: Score | None, score_frame: int, at: int) -> None:
        """Play ``score`` from ``at`` on; too late, it is joined where it would have got to by now."""
        lateness = max(0, self.written - at)
        self.late += lateness > 0
        self._join(Splice(at + lateness, score, score_frame + lateness))

    def hush(self) -> None:
        """Silence from the next block on."""
        self._join(Splice(self.written, None, 0))
        self.hushed_at = self.written

    def cut(self, frame: int) -> None:
        """Silence from a frame on that was written but is not heard, and on from there; without a crossing, since what
        it would cross over from has stopped already."""
        self.written = min(self.written, max(frame, 0))
        self._join(Splice(self.written - CROSSING_FRAMES, None, 0))
        self.hushed_at = self.written

    def block(self, frames: int) -> Samples:
        """The next ``frames`` frames."""
        first = self.written
        self.written = first + frames
        return render_reel(self.reel, first, self.written)

    def skip_to(self, frame: int) -> None:
        """Go on at ``frame``, unheard; never back."""
        self.written = max(self.written, frame)

    def prune(self, played: int | None = None) -> None:
        """Forget splices that no frame from ``played`` (None: what is written) on can need."""
        self.reel = self.reel.forget_before(self.written if played is None else played)

    def _join(self, splice: Splice) -> None:
        self.reel = self.reel.with_splice(splice)
