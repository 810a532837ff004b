"""The speech worker: a process of its own that does nothing but synthesise, one phrase at a time.

    python -m caller.rig.speech.worker SOURCE FOLDER

Conventions: a request is one line of JSON on standard input, its reply one line of JSON on what was standard output.

    {"id": 7, "say": "walk, walk", "voice": "gmw/en-us", "rate": 175, "pitch": 50}
        -> {"id": 7, "file": "FOLDER/7.wav"} | {"id": 7, "unspoken": "..."} | {"id": 7, "voiceless": "..."}
         | {"id": 7, "unspoken": "...", "voice_missing": "gmw/en-us"}
    {"id": 0, "hello": true}
        -> {"id": 0, "version": "..."} | {"id": 0, "voiceless": "..."}
    {"id": 8, "voices": true}
        -> {"id": 8, "version": "...", "voices": [{"id", "name", "languages"}]} | {"id": 8, "voiceless": "..."}

The synthesisers print on 1 and 2, and are not safe for threads: the replies therefore go through a duplicate of 1
that nobody else knows, 1 and 2 lead nowhere, and the main thread alone drives them. A second thread only reads, so
that the process ends with its parent even while a synthesiser hangs. It is spawned, never forked.
"""

from __future__ import annotations

import json
import os
import queue
import signal
import sys
import threading
from pathlib import Path
from typing import IO, Any

from caller.rig.speech.drivers import found_as_table, open_driver
from caller.rig.speech.speakable import speakable
from caller.rig.speech.voicing import Driver, Unspoken, Voiceless, VoiceMissing


def take_over_streams() -> tuple[IO[str], IO[str]]:
    """Requests and replies on descriptors of their own; 0, 1 and 2 lead nowhere from here on."""
    requests = os.fdopen(os.dup(0), "r", encoding="utf-8")
    replies = os.fdopen(os.dup(1), "w", encoding="utf-8", buffering=1)
    nowhere = os.open(os.devnull, os.O_RDWR)
    for descriptor in (0, 1, 2):
        os.dup2(nowhere, descriptor)
    return requests, replies


class WorkerDesk:
    """Answers requests; opens the synthesiser with the first of them."""

    def __init__(self, folder: Path, source: str) -> None:
        self._folder = folder
        self._source = source
        self._driver: Driver | None = None

    def answer(self, request: dict[str, Any]) -> dict[str, Any]:
        try:
            driver = self._opened()
            told = {"version": driver.version}
            if "say" in request:
                return self._said(driver, request)
            return {**told, **self._voices(driver)} if "voices" in request else told
        except Voiceless as fault:
            return {"voiceless": str(fault)}
        except VoiceMissing as fault:
            return {"unspoken": str(fault), "voice_missing": fault.voice}
        except Unspoken as fault:
            return {"unspoken": str(fault)}

    def _opened(self) -> Driver:
        self._driver = self._driver or open_driver(self._folder, self._source)
        return self._driver

    def _voices(self, driver: Driver) -> dict[str, Any]:
        return {"voices": [found_as_table(voice) for voice in driver.voices()]}

    def _said(self, driver: Driver, request: dict[str, Any]) -> dict[str, Any]:
        text = speakable(str(request["say"]))
        if not text:
            raise Unspoken("There is nothing in it that can be said.")
        file = self._folder / f"{request['id']}.wav"
        driver.save(text, str(request["voice"]), int(request["rate"]), int(request["pitch"]), file)
        return {"file": str(file)}


def _read(requests: IO[str], waiting: queue.SimpleQueue[str]) -> None:
    """Hand on each line; end the process where there are no more: the parent has gone, or wants no more."""
    for line in requests:
        waiting.put(line)
    os._exit(0)


def main() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C in the terminal is the parent's to answer
    requests, replies = take_over_streams()
    waiting: queue.SimpleQueue[str] = queue.SimpleQueue()
    threading.Thread(target=_read, args=(requests, waiting), daemon=True).start()
    desk = WorkerDesk(Path(sys.argv[2]), sys.argv[1])
    while True:
        request = json.loads(waiting.get())
        replies.write(json.dumps({"id": request["id"], **desk.answer(request)}) + "\n")


if __name__ == "__main__":
    main()
