"""The segment that is being read: what it says so far, and what its last words leave waiting for the next."""

from __future__ import annotations

from caller.routine.notation.lexeme import Lexeme
from caller.routine.notation.segments import completed
from caller.routine.notation.spec import Reading, Spec
from caller.routine.vocabulary import Vocabulary


class OpenSegment:
    """out: the specifications of the segments before, and what stands beside them; spec: of this one, None where it
    says nothing yet."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.vocabulary = vocabulary
        self.out = Reading()
        self.spec: Spec | None = None
        self.pending_turn = False  # a fraction waits for its left or right
        self.after_to = False
        self.after_turn_word = False
        self.previous: Lexeme | None = None
        self.following: Lexeme | None = None  # the next one that is no noise
        self.joining = False  # the last separator joins ("and") rather than divides
        self.joined = False  # a dash stands between this lexeme and the one before
        self.past_said = False  # the last foot named is the one gone past

    def open(self, lexeme: Lexeme) -> Spec:
        """What it says so far, begun by this lexeme where that is nothing yet."""
        if self.spec is None:
            self.spec = Spec(lexeme.column, joined=self.joining and bool(self.out.specs))
        return self.spec

    def close(self) -> None:
        """Puts what it says among the specifications; what comes next begins another."""
        spec, self.spec = self.spec, None
        self.pending_turn = self.after_to = self.after_turn_word = self.past_said = False
        if spec is not None and not spec.empty:
            last = self.out.specs[-1] if self.out.specs else None
            self.out.specs += completed(spec, last, self.vocabulary)

    def spoken_of(self) -> Spec | None:
        """The specification that a claim or a weight belongs to."""
        if self.spec is not None and not self.spec.empty:
            return self.spec
        return self.out.specs[-1] if self.out.specs else None
