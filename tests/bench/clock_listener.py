"""A player that follows MIDI clock, in a process of its own: opens a JACK input of the name given and writes down when
each message came (``time.perf_counter``), one a line, until its stdin ends."""

from __future__ import annotations

import sys
import threading
import time

import mido

LOOK_SECONDS = 0.0005


def main() -> None:
    came: list[tuple[float, str]] = []
    port = mido.Backend("caller.rig.midi/UNIX_JACK").open_input(sys.argv[1], virtual=True, client_name=sys.argv[1])
    over = threading.Event()

    def listen() -> None:
        while not over.wait(LOOK_SECONDS):
            came.extend((time.perf_counter(), message.type) for message in port.iter_pending())

    thread = threading.Thread(target=listen)
    thread.start()
    print("open", flush=True)
    sys.stdin.read()
    over.set()
    thread.join()
    port.close()
    for at, kind in came:
        print(at, kind)


if __name__ == "__main__":
    main()
