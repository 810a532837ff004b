"""A player that follows MIDI clock, in a process of its own: opens a JACK input of the name given and writes down when
each message came (``time.perf_counter``), one a line, until its stdin ends."""

from __future__ import annotations

import sys
import time
from collections import deque

import mido


def main() -> None:
    came: deque[tuple[float, str]] = deque()
    backend = mido.Backend("mido.backends.rtmidi/UNIX_JACK")
    port = backend.open_input(
        sys.argv[1],
        virtual=True,
        client_name=sys.argv[1],
        callback=lambda message: came.append((time.perf_counter(), message.type)),
    )
    print("open", flush=True)
    sys.stdin.read()
    port.close()
    for at, kind in came:
        print(at, kind)


if __name__ == "__main__":
    main()
