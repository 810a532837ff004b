"""A loudspeaker's offset set in plain lines: numbers typed, one a line.

Conventions: the loop looks, says and waits; what is typed is handed in.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TextIO

from caller.screen.lateness import Lateness, Offset, ms_words
from caller.screen.plain_text import plain_text

LOOK_SECONDS = 0.01
MARK = "  *"
KEEP, MARKS, LEAVE = "keep", "marks", "leave"
TOLD = (
    "A click each second. Type how many milliseconds later than told it is heard, a number a line; "
    f'"{MARKS}" writes a line when each click should be heard, or no longer; "{KEEP}" keeps the number, '
    f'"{LEAVE}" leaves without.'
)


def set_in_lines(
    late: Lateness,
    devices: Sequence[str],
    out: TextIO,
    typed: Callable[[], Sequence[str]],
    pause: Callable[[float], object],
) -> Offset | None:
    """What is to be kept, None where it was left. typed: the lines typed since last asked; it must not wait. pause:
    waits so many seconds."""

    def say(line: str) -> None:
        print(line, file=out, flush=True)

    say(f"Sound devices: {', '.join(map(plain_text, devices))}.")
    say(TOLD)
    told, marks, lit = "", False, False
    while True:
        late.look()
        if late.sound != told:
            told = late.sound
            say(f"Heard on {plain_text(told)}: {ms_words(late.ms)}." if late.offset else plain_text(told))
        if marks and late.lit and not lit:
            say(MARK)
        lit = late.lit
        for word in (line.strip().lower() for line in typed()):
            if word == LEAVE:
                return None
            if word == KEEP and late.offset is not None:
                return late.offset
            if word == MARKS:
                marks = not marks
                say(f"Marks {'on' if marks else 'off'}.")
            else:
                say(_answer(word, late))
        pause(LOOK_SECONDS)


def _answer(word: str, late: Lateness) -> str:
    """What is said to any other line; a number is set."""
    if word == KEEP:
        return "Nothing plays yet that it could be kept for."
    try:
        ms = float(word)
    except ValueError:
        return TOLD
    if not late.reaches(ms):  # nor does what is no number at all, "nan"
        return late.reach_words
    late.set(ms)
    return f"{ms_words(ms)}."
