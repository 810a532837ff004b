"""A pedal in a process of its own: opens a MIDI output and sends what it is told, a line at a time.

Its argument is ``jack:NAME``, a JACK port of that name, or ``socket:NUMBER``, the TCP port of a mido server on this
machine. On stdin "down" and "up" (of controller 64, or "down N"), "taps N" (as a foot makes them, no two for a double
one), "rock" (an expression pedal from heel to toe within a second), "flood N" (presses and releases in turn, far faster
than a foot, N in all), "nod" (something that no pedal is known by) or "go". Answers each line with the time at which it
began to send, in ``time.perf_counter``'s seconds.
"""

from __future__ import annotations

import sys
import time
from typing import Any

import mido
import mido.sockets

DOWN_SECONDS, UP_SECONDS = 0.09, 0.5
ROCK_SECONDS = 1.0
# A cycle of JACK's that comes late, on a busy machine, spoils what was to be handed over in it: few messages a cycle.
FLOOD_SECONDS = 0.003


def opened(where: str) -> Any:
    kind, _, rest = where.partition(":")
    if kind == "socket":
        return mido.sockets.connect("127.0.0.1", int(rest))
    return mido.Backend("caller.rig.midi/UNIX_JACK").open_output(rest, virtual=True, client_name=rest)


def send(port: Any, down: bool, control: int = 64) -> None:
    port.send(mido.Message("control_change", control=control, value=127 if down else 0))


def tap(port: Any) -> None:
    send(port, True)
    time.sleep(DOWN_SECONDS)
    send(port, False)
    time.sleep(UP_SECONDS)


def rock(port: Any) -> None:
    for value in range(128):
        port.send(mido.Message("control_change", control=11, value=value))
        time.sleep(ROCK_SECONDS / 128)


def flood(port: Any, count: int) -> None:
    for n in range(count):
        send(port, n % 2 == 0)
        time.sleep(FLOOD_SECONDS)


def main() -> None:
    port = opened(sys.argv[1])
    print("open", flush=True)
    for line in sys.stdin:
        word, _, number = line.strip().partition(" ")
        if word == "go":
            break
        print(time.perf_counter(), flush=True)
        match word:
            case "flood":
                flood(port, int(number))
            case "taps":
                for _ in range(int(number)):
                    tap(port)
            case "nod":
                send(port, True, control=3)
            case "rock":
                rock(port)
            case _:
                send(port, word == "down", int(number or 64))
    port.close()


if __name__ == "__main__":
    main()
