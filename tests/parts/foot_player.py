"""A pedal in a process of its own: opens a MIDI output and sends what it is told, a line at a time.

``NAME`` as its argument; on stdin "down", "up", "flood N" (presses and releases in turn, N in all) or "go". Answers
each line with the time at which it was sent, in ``time.perf_counter``'s seconds.
"""

from __future__ import annotations

import sys
import time

import mido


def main() -> None:
    backend = mido.Backend("mido.backends.rtmidi/UNIX_JACK")
    port = backend.open_output(sys.argv[1], virtual=True, client_name=sys.argv[1])
    print("open", flush=True)
    for line in sys.stdin:
        word, _, number = line.strip().partition(" ")
        if word == "go":
            break
        began = time.perf_counter()
        if word == "flood":
            for n in range(int(number)):
                port.send(mido.Message("control_change", control=64, value=127 if n % 2 == 0 else 0))
        else:
            port.send(mido.Message("control_change", control=64, value=127 if word == "down" else 0))
        print(began, flush=True)
    port.close()


if __name__ == "__main__":
    main()
