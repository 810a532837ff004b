"""The words of a routine, shown one after another to be spoken.

Conventions: Enter records the words shown; ``s`` passes over them, ``q`` ends. A phrase that won't do is asked for
again, with the reason, for as long as the teacher likes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from caller.rig.recorder import Recorder
    from caller.rig.speech.voices import Voice

PASS, END = "s", "q"


def walk_through(voice: Voice, phrases: Sequence[str], recorder: Recorder, orders: TextIO, shown: TextIO) -> int:
    """Record phrases in turn into the voice's folder; returns how many were kept. Raises RecorderLost; an OSError where
    nothing can be written."""
    from caller.rig.speech.listening import room_level

    _show(shown, f"Recording {len(phrases)} phrases with {recorder.device}.")
    _show(shown, f"Enter records, {PASS} passes over, {END} ends. First the room: Enter, then a second of quiet.")
    if _order(orders) == END:
        return 0
    room_db = room_level(recorder.blocks())
    _show(shown, f"The room is at {room_db:.0f} dB of full scale.")
    kept = 0
    for number, words in enumerate(phrases, 1):
        order = _until_kept(voice, words, f"{number}/{len(phrases)}", recorder, room_db, orders, shown)
        if order == END:
            break
        kept += order != PASS
    return kept


def _until_kept(
    voice: Voice, words: str, place: str, recorder: Recorder, room_db: float, orders: TextIO, shown: TextIO
) -> str:
    """Ask until the words are recorded well, passed over or all is ended; returns the last order."""
    from caller.rig.speech.listening import catch
    from caller.rig.speech.recorded import folder_of, keep_words

    while True:
        _show(shown, f"{place}  {words}")
        order = _order(orders)
        if order in (PASS, END):
            return order
        caught = catch(recorder.blocks(), room_db)
        if not caught.fault:
            keep_words(folder_of(voice), words, caught.samples)
            _show(shown, f"    kept, {caught.over_room_db:.0f} dB over the room")
            return order
        _show(shown, f"    {caught.fault}")


def _order(orders: TextIO) -> str:
    """The next order; the end of all input ends."""
    line = orders.readline()
    return line.strip().lower() if line else END


def _show(shown: TextIO, line: str) -> None:
    print(line, file=shown, flush=True)
