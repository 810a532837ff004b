"""Documents damaged at random, by the thousand, against the readers of files:

    python -m tests.fuzz.files [SECONDS] [SEED]

Bytes are changed, left out and put in twice, in the file as it stands and, for packed documents, within their parts.
What goes wrong in a reader (anything but a sentence for the user), and a file that takes over two seconds, stop it.
"""

from __future__ import annotations

import io
import random
import sys
import time
import zipfile

from caller.intake.found import UnreadableFile
from caller.intake.kinds import kind_of
from caller.intake.take import read_kind
from tests.intake.files_made import FOLDER

MOST_SECONDS = 2.0
SUFFIXES = (".docx", ".odt", ".rtf", ".html", ".pdf")


def damaged(raw: bytes, draw: random.Random) -> bytes:
    """Changed in one to twenty places."""
    changed = bytearray(raw)
    for _ in range(draw.randint(1, 20)):
        if not changed:
            break
        at, other = draw.randrange(len(changed)), draw.randrange(len(changed))
        match draw.randrange(3):
            case 0:
                changed[at] = draw.randrange(256)
            case 1:
                del changed[at : at + draw.randint(1, 60)]
            case _:
                changed[at:at] = changed[other : other + draw.randint(1, 300)]
    return bytes(changed)


def damaged_within(raw: bytes, draw: random.Random) -> bytes:
    """A packed document whose parts are damaged, and whose packing is sound."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as packed, zipfile.ZipFile(out, "w") as again:
        for name in packed.namelist():
            part = packed.read(name)
            again.writestr(name, damaged(part, draw) if name.endswith(".xml") and draw.random() < 0.5 else part)
    return out.getvalue()


def main(seconds: float = 60.0, seed: int = 0) -> None:
    draw = random.Random(seed)
    files = [path.read_bytes() for path in sorted(FOLDER.iterdir()) if path.suffix in SUFFIXES]
    until, inputs, read = time.monotonic() + seconds, 0, 0
    while time.monotonic() < until:
        raw = draw.choice(files)
        raw = damaged_within(raw, draw) if raw[:2] == b"PK" and draw.random() < 0.8 else damaged(raw, draw)
        begun = time.process_time()
        inputs += 1
        try:
            read_kind(raw, kind_of(raw))
            read += 1
        except UnreadableFile:
            pass
        assert time.process_time() - begun < MOST_SECONDS, "too slow"
    print(f"{inputs:,} damaged files: {read:,} read, {inputs - read:,} refused with a sentence")


if __name__ == "__main__":
    asked = dict(enumerate(sys.argv))
    main(float(asked.get(1, 60)), int(asked.get(2, 0)))
