"""A speech worker that misbehaves on request: a script, run as ``python speech_worker.py MODE FOLDER``.

It keeps the worker's protocol with the standard library alone, so that it starts in a moment. Modes:

    well      a quarter-second tone for each phrase, as WAVE; two voices
    hangs     never answers
    dies      ends at the first phrase
    rubbish   answers with a line that is no JSON
    stranger  answers another request than the one asked
    empty     writes a file of no bytes
    frameless writes a WAVE file of no frames
    text      writes a file that is no sound
    nothing   tells of a file that is not there
    unspoken  says that the phrase can't be said
    voiceless says that there is no speech
    poison    hangs at the word "poison", does well at all else
"""

from __future__ import annotations

import json
import math
import struct
import sys
import threading
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any

Request = dict[str, Any]
RATE = 16_000
FRAMES = RATE // 4


def hang(request: Request, folder: Path) -> Request:
    threading.Event().wait()
    return {}


def tone(file: Path, frames: int = FRAMES) -> None:
    with wave.open(str(file), "wb") as out:
        out.setparams((1, 2, RATE, 0, "NONE", ""))
        out.writeframes(b"".join(struct.pack("<h", round(9000 * math.sin(n * 0.2))) for n in range(frames)))


def well(request: Request, folder: Path) -> Request:
    if request.get("hello"):
        return {"version": "pretend 1"}
    if request.get("voices"):
        voices = [{"id": "hill", "name": "Hill", "languages": ["en"]}, {"id": "dale", "name": "Dale", "languages": []}]
        return {"version": "pretend 1", "voices": voices}
    file = folder / f"{request['id']}.wav"
    tone(file)
    return {"file": str(file)}


def wrote(contents: bytes | None) -> Callable[[Request, Path], Request]:
    def answer(request: Request, folder: Path) -> Request:
        file = folder / f"{request['id']}.wav"
        if contents is not None:
            file.write_bytes(contents)
        return {"file": str(file)}

    return answer


def frameless(request: Request, folder: Path) -> Request:
    file = folder / f"{request['id']}.wav"
    tone(file, 0)
    return {"file": str(file)}


def poison(request: Request, folder: Path) -> Request:
    if request.get("say") == "poison":
        return hang(request, folder)
    return well(request, folder)


MODES: dict[str, Callable[[Request, Path], Request | str]] = {
    "well": well,
    "hangs": hang,
    "dies": lambda request, folder: sys.exit(3),
    "rubbish": lambda request, folder: "Audio saved to nowhere",
    "stranger": lambda request, folder: {"id": request["id"] + 1, "file": "x"},
    "empty": wrote(b""),
    "frameless": frameless,
    "text": wrote(b"no sound at all, but long enough to be looked at"),
    "nothing": wrote(None),
    "unspoken": lambda request, folder: {"unspoken": "Not this one."},
    "voiceless": lambda request, folder: {"voiceless": "No speech here: install some."},
    "poison": poison,
}


# Those that misbehave from the first; the others begin well.
AT_ONCE = (MODES["hangs"], MODES["voiceless"])


def main() -> None:
    mode, folder = MODES[sys.argv[1]], Path(sys.argv[2])
    for line in sys.stdin:
        request = json.loads(line)
        answer = (well if request.get("hello") and mode not in AT_ONCE else mode)(request, folder)
        print(answer if isinstance(answer, str) else json.dumps({"id": request["id"], **answer}), flush=True)


if __name__ == "__main__":
    main()
