"""A document read in a process of its own, with bounds on its time and memory: whatever is in the file, its reader can
take no more than these, and dies alone.

Conventions: the file on standard input (see ``caller.children.boot`` for how the child starts), one JSON document on
standard output: what was found, or {"fault": one sentence}.
"""

from __future__ import annotations

import contextlib
import sys
from dataclasses import asdict

from caller.children.starting import environment, python
from caller.intake.found import MOST_SECONDS, SheetText, UnreadableFile
from caller.intake.kinds import FileKind, kind_of
from caller.intake.take import take_in

MOST_MEMORY_BYTES = 3_000_000_000  # of addresses, which the system's own libraries take most of
_TOO_LONG = f"reading this file was given up after {MOST_SECONDS:.0f} seconds; print the sheet's own pages to PDF"
_BROKEN = "this file can't be read, it seems to be damaged; open it in the program that made it and save it as PDF"


def read_apart(raw: bytes, most_seconds: float = MOST_SECONDS) -> SheetText:
    """What a file holds. Raises UnreadableFile, and nothing else. Plain text is read here and now."""
    kind = kind_of(raw)
    if kind is FileKind.TEXT or not raw.strip():
        return take_in(raw)
    import json
    import subprocess

    try:
        ran = subprocess.run(
            python("caller.intake.apart", memory_bytes=MOST_MEMORY_BYTES),
            env=environment(),
            input=raw,
            capture_output=True,
            timeout=most_seconds,
            check=False,
        )
        told = json.loads(ran.stdout)
    except subprocess.TimeoutExpired:
        raise UnreadableFile(_TOO_LONG) from None
    except ValueError:
        raise UnreadableFile(_BROKEN) from None
    except OSError as error:
        raise UnreadableFile(
            f"no process can be started to read this file ({error.strerror or error}); close other programs"
        ) from None
    if "fault" in told:
        raise UnreadableFile(told["fault"])
    return SheetText(told["text"], told["kind"], tuple(told["left_out"]), tuple(told["told"]))


def _bound() -> None:
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource

        seconds = round(MOST_SECONDS)
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))


def main() -> None:
    import json

    _bound()
    try:
        told = asdict(take_in(sys.stdin.buffer.read()))
    except UnreadableFile as fault:
        told = {"fault": str(fault)}
    sys.stdout.write(json.dumps(told))


if __name__ == "__main__":
    main()
