"""What the forms of a call lose, in per cent of its worth, and the words and lengths that they are told by."""

from __future__ import annotations

import re
from fractions import Fraction

from caller.calls.plan import UNTOLD

# What forms lose, in per cent.
NO_FOOT, NO_FOOT_FIRST, NO_FOOT_MARKED, NO_WAY, BETWEEN = 2, 7, 20, 15, 14
# The foot that goes to the side after the other one has led goes after some of the silence, before the voice's pace.
NO_FOOT_SWAPPED = 14
SHORTER, RUN_TOGETHER, UNDERSTOOD, UNSIDED, IN_PARTS = 3, 3, 1, 12, 5
# "and left" holds to what has just been danced: less so where that took longer.
LIKE, LIKE_FAR, NEAR_COUNTS = 1, 14, 3
# Half counts between whole ones that nothing tells, neither a pause nor a part's moment.
RHYTHM_UNTOLD = 15
# "again" alone, where it may mean the last of several words.
WHAT_AGAIN = 30
# The side that a turn can only have goes rather than the utmost pace, yet after the voice's second.
SIDE_KNOWN = 22
# A step or a recover that its turn tells goes before its side does, yet after some of the silence.
TURN_ALONE = 12
# The step before a pivot goes after the voice's second pace too, where the pivot's side can't go.
STEP_UNTOLD = 24
# What the class has not been told yet goes only where nothing else helps, not even a quicker voice: the side of a turn,
# and a recover among movements that have no name together.
SIDE_UNTOLD, RECOVER_UNTOLD, LAST_RECOVER = UNTOLD + 40, UNTOLD, 25
# Where two steps go that are called by their turns alone goes before the side that they turn to.
WHERE_UNTOLD = UNTOLD + 20
OTHER_THAN_QUOTED = 12
# "right shuffle half left" holds two sides, of which one is the foot's.
FOOT_AND_SIDE = 3
# From the second time on the fuller words are no better than the short ones.
TOO_FULL = 10
AT_ONCE = Fraction(0)
# A figure's turn is called by itself where it comes so many counts after its first step.
LATE_COUNTS = 2
# What a comma's pause takes, in letters (0.2 s by the standard voice).
PAUSE_LETTERS = 3
TIMES = {2: "twice", 3: "three times", 4: "four times"}
# Words of a line that could not be read, at most.
MOST_WORDS, WORD_LOST = 8, 3
NO_LAST_WORDS = frozenset("a an the and & or to of on in with your from round".split())  # noqa: SIM905 - words
FOOT_WORDS = frozenset(("right", "left", "foot"))
FILLERS = frozenset("a an the to of on onto with your foot by next slightly then".split())  # noqa: SIM905 - words
TURNING = re.compile(r"\b(pivot|turn|unwind|paddle|spin|around)\b")
AMOUNT = re.compile(r"\b(eighths?|quarters?|half|halves|full)\b")
