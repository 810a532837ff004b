"""Whether all of a recording is there, or its end is missing: a copy that broke off, a download that didn't finish.

Conventions: seconds of sound. Only what a file says exactly is gone by; a length that is reckoned from a bit rate, or
one that was left open when it was written, says nothing. Of an Ogg file it is known only that its last page is missing.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

# Less than this is not missed.
MISSED_SECONDS = 1.0
# What the library tells of a file's chunk of samples: how many bytes it says, and how many are there.
_CHUNK = re.compile(r"^ ?(?:data|SSND) : (\d+) \(should be (\d+)\)", re.MULTILINE)
# From this on a length was left open.
_OPEN_BYTES = 0x7FFF_0000
_LACKS_ITS_END = "Last page lacks an end-of-stream bit"
# An MP3 file's first frame, where it tells of the whole, is no longer.
_FRAME_BYTES = 2_048
_HAS_FRAMES, _HAS_BYTES = 1, 2


def cut_off(file: Path, source: Any, frames: int) -> str:
    """What is missing of a file that ``soundfile`` has read so many frames of, one sentence; "" where nothing is."""
    there = told = frames / source.samplerate
    if source.format == "FLAC":
        told = source.frames / source.samplerate
    elif source.format == "MP3":
        told = source.frames / source.samplerate
        there = told * min(_share_of_mp3(file), 1.0)
    elif found := _CHUNK.search(source.extra_info):
        says, is_there = (int(word) for word in found.groups())
        told = there * says / is_there if 0 < is_there < says < _OPEN_BYTES else there
    elif source.format == "OGG" and _LACKS_ITS_END in source.extra_info:
        return f"{file} breaks off after {_clock(there)}, its end is missing: copy or save it anew."
    return missing(file, there, told)


def missing(file: Path, there: float, told: float) -> str:
    """One sentence where much less is there than is told; "" where it isn't."""
    if told - there <= MISSED_SECONDS:
        return ""
    return (
        f"{file} breaks off: it says that it lasts {_clock(told)}, and {_clock(there)} of it is there; copy or save it "
        "anew."
    )


def _clock(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02}"


def _share_of_mp3(file: Path) -> float:
    """How much is there of the bytes that its first frame tells of; 1 where it tells of none."""
    with file.open("rb") as opened:
        head = opened.read(10)
        # Seven bits in each of four bytes say how long an ID3 tag before it is.
        tag = 10 + sum(byte << 7 * n for n, byte in enumerate(reversed(head[6:10]))) if head[:3] == b"ID3" else 0
        opened.seek(tag)
        frame = opened.read(_FRAME_BYTES)
    at = max(frame.find(b"Xing"), frame.find(b"Info"))
    flags = int.from_bytes(frame[at + 4 : at + 8], "big") if at >= 0 else 0
    if not flags & _HAS_BYTES:
        return 1.0
    at += 12 if flags & _HAS_FRAMES else 8
    told = int.from_bytes(frame[at : at + 4], "big")
    return (file.stat().st_size - tag) / told if told else 1.0
