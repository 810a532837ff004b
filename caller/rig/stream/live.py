"""The speaker that is a sound device: the parent's side of the player's process.

Conventions: see ``caller.sound.speaker``. Orders go to the keeper's thread, positions are read off the board: no method
waits.
"""

from __future__ import annotations

import math
import os
import time
from pathlib import Path

import platformdirs

from caller.children.starting import python
from caller.rig.devices import sound_missing
from caller.rig.speaker import SilentSpeaker, check_rate
from caller.rig.stream.board import BoardReading, SharedBoard
from caller.rig.stream.keeper import Keeper
from caller.rig.stream.player import BLOCK
from caller.rig.stream.wire import HushOrder, SpliceOrder
from caller.sound.score import RATE, Score
from caller.sound.speaker import Heard, Speaker

# Asked of the device: enough that a loaded machine keeps up, and most of what a pause takes to be heard. With all cores
# busy for 4 minutes, two streams had 4 gaps between them at 0.06 (a pause is heard within 80 ms), 1 at 0.08, none at
# 0.1 (120 ms) or 0.15 (200 ms); with twice as much to do as cores, in 7 minutes, 17, 9, 6 and 4.
LATENCY_SECONDS = 0.1
# Devices take several blocks at a time (30 ms here), and beside a busy interpreter an order takes some 10 ms to leave:
# with 2 blocks a quarter of such orders came late, with 4 none. A hush has no margin: it holds when it arrives.
MARGIN_BLOCKS = 4
STARTING = "The sound is starting."
NO_SOUND_ASKED = "Sound is off, as asked."


class DeviceSpeaker:
    """wish: "" for the best device, a number, a name or a part of one. log: a file that the player's process may print
    to (sound libraries do); emptied here."""

    def __init__(self, wish: str, log: Path, rate: int = RATE, latency_seconds: float = LATENCY_SECONDS) -> None:
        self.rate = rate
        self._latency_frames = math.ceil(latency_seconds * rate)
        self._hushes = 0
        self._heard = 0
        self._last: Heard | None = None  # once closed
        self._board = SharedBoard.create()
        self._board.write(BoardReading(fault=STARTING))
        log.write_bytes(b"")
        player = python("caller.rig.stream", str(self._board.path), str(rate), str(latency_seconds), wish)
        self._keeper = Keeper(player, self._board, log)

    def earliest(self, after_seconds: float = 0.0) -> int:
        heard = self.heard()
        # A device that opens is filled at one go, so until then that much more is as good as written.
        filling = 2 * self._latency_frames if heard.fault else 0
        return heard.written + filling + MARGIN_BLOCKS * BLOCK + math.ceil(after_seconds * self.rate)

    def splice(self, score: Score | None, score_frame: int = 0, at: int | None = None) -> int:
        check_rate(score, self.rate)
        frame = self.earliest() if at is None else at
        self._keeper.give(SpliceOrder(score, score_frame, frame))
        return frame

    def hush(self) -> None:
        self._hushes += 1
        self._board.ask_hush(self._hushes)
        self._keeper.give(HushOrder(self._hushes))

    def heard(self) -> Heard:
        if self._last is not None:
            return self._last
        now = time.perf_counter()
        told = self._board.read()
        by_clock = told.heard_by(now, self.rate)
        # Between two readings the clock carries on, but never past what has been written, unless the clock is all there
        # is.
        at_ear = by_clock if told.fault else min(by_clock, told.written)
        self._heard = max(self._heard, at_ear)
        return Heard(
            written=max(told.written, self._heard),
            heard=self._heard,
            at_seconds=now,
            underruns=told.underruns,
            late=told.late,
            hushed_at=told.hushed_at if self._hushes and told.hush == self._hushes else None,
            device=told.device,
            fault=told.fault,
            starting=told.fault == STARTING,
        )

    def close(self) -> None:
        if self._last is None:
            self._last = self.heard()
            self._keeper.close()
            self._board.discard()


def log_path() -> Path:
    """Where the player's process prints: the user's folder for logs, or nowhere if that can't be written to."""
    folder = platformdirs.user_log_path("caller")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return Path(os.devnull)
    return folder / "sound.log" if os.access(folder, os.W_OK) else Path(os.devnull)


def open_speaker(wish: str, missing: str | None = None) -> tuple[Speaker, str]:
    """The speaker for ``wish``: "none", "" (the best there is), or a device's name or number. Doesn't wait for it.
    missing: what sound lacks, in one sentence, or "" (None: look).

    Returns it with one sentence: why there is no sound, or "" where a device is being opened; ``Heard.fault`` and
    ``Heard.device`` tell the rest (no card, an unknown name), and sound comes by itself once there is one.
    """
    why = NO_SOUND_ASKED if wish == "none" else sound_missing() if missing is None else missing
    return (SilentSpeaker(why), why) if why else (DeviceSpeaker(wish, log_path()), "")
