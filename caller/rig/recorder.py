"""A microphone: what it hears, block by block, from the moment it is listened to.

    WISH as the only word (see ``caller.children.boot``)

Conventions: blocks are float32, mono, shape (BLOCK,), at ``caller.sound.score.RATE``; limits in seconds. The device is
opened in a process of its own, which writes one line of JSON ({"device": NAME} or {"fault": SENTENCE}) and then raw
samples without end, so that nothing that PortAudio prints or hangs at reaches the terminal. A thread reads them, and
lets fall what nobody listens to.
"""

from __future__ import annotations

import contextlib
import json
import queue
import subprocess
import sys
import threading
from collections.abc import Iterator, Sequence
from typing import IO, Any, Protocol

import numpy as np

from caller.children.starting import creation_flags, environment, python
from caller.rig.devices import PORTAUDIO_MISSING, PREFERRED, portaudio_missing
from caller.sound.score import RATE, Samples

BLOCK = 480  # 10 ms
START_SECONDS = 10.0
STALLED_SECONDS = 2.0
LATENCY_SECONDS = 0.1
_BYTES = BLOCK * 4


class RecorderLost(Exception):
    """Nothing can be recorded: one sentence, with what to do."""


class Recorder(Protocol):
    """device: its name."""

    device: str

    def blocks(self) -> Iterator[Samples]:
        """What is heard from now on, without end. Raises RecorderLost where nothing comes any more."""
        ...

    def close(self) -> None: ...


class DeviceRecorder:
    """The microphone of this machine. wish: "" (the best), or a device's name or a part of it. command: what records.

    Waits until it is open. Raises RecorderLost.
    """

    def __init__(
        self, wish: str = "", command: Sequence[str] | None = None, stalled_seconds: float = STALLED_SECONDS
    ) -> None:
        lacks = portaudio_missing() if command is None else ""
        if lacks:
            raise RecorderLost(lacks)
        self._stalled_seconds = stalled_seconds
        self._blocks: queue.SimpleQueue[bytes] = queue.SimpleQueue()
        self._told: queue.SimpleQueue[bytes] = queue.SimpleQueue()
        self._listening = threading.Event()
        self._child = subprocess.Popen(
            list(command or python("caller.rig.recorder", wish)),
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=environment(),
            creationflags=creation_flags(),
        )
        assert self._child.stdout is not None
        threading.Thread(target=self._read, args=(self._child.stdout,), daemon=True).start()
        self.device = self._opened()

    def blocks(self) -> Iterator[Samples]:
        while not self._blocks.empty():
            if not self._blocks.get():  # it ended before anybody listened
                raise self._lost()
        self._listening.set()
        try:
            while True:
                yield np.frombuffer(self._next(), np.float32)
        finally:
            self._listening.clear()

    def close(self) -> None:
        """End it; may be called twice."""
        self._child.kill()
        self._child.wait()
        for pipe in (self._child.stdin, self._child.stdout):
            if pipe is not None:
                pipe.close()

    def _next(self) -> bytes:
        try:
            block = self._blocks.get(timeout=self._stalled_seconds)
        except queue.Empty:
            block = b""
        if not block:
            raise self._lost()
        return block

    def _lost(self) -> RecorderLost:
        return RecorderLost(f"Nothing comes from the microphone {self.device} any more: see that it is plugged in.")

    def _opened(self) -> str:
        try:
            told = json.loads(self._told.get(timeout=START_SECONDS) or b'{"fault": "It ended at once."}')
        except (queue.Empty, ValueError):
            told = {"fault": "The sound system doesn't answer: restart the sound server, or the machine."}
        if "device" not in told:
            self.close()
            raise RecorderLost(f"No microphone can be used: {told.get('fault', 'it says nothing')}")
        return str(told["device"])

    def _read(self, pipe: IO[bytes]) -> None:
        """Hand on the first line, then each block while somebody listens, then an empty one."""
        with contextlib.suppress(ValueError, OSError):  # closed meanwhile
            self._told.put(pipe.readline())
            while len(block := pipe.read(_BYTES)) == _BYTES:
                if self._listening.is_set():
                    self._blocks.put(block)
        self._blocks.put(b"")


def chosen(devices: Sequence[dict[str, Any]], default: int, wish: str, platform: str) -> int | None:
    """The number of the device to record from: by a part of its name, else the platform's usual ones in turn, else the
    system's own. None where none fits. devices: PortAudio's rows, by number."""
    able = {number: str(row["name"]) for number, row in enumerate(devices) if row["max_input_channels"] > 0}
    if wish:
        fits = [number for number, name in able.items() if wish.casefold() in name.casefold()]
        return min(fits, key=lambda number: able[number].casefold() != wish.casefold(), default=None)
    usual = PREFERRED.get(platform, ())
    named = [number for name in usual for number, found in able.items() if found == name]
    own = [number for number in able if number == default]
    return next(iter([*named, *own, *able]), None)


def _record(wish: str, out: IO[bytes]) -> None:
    """In the child: record until the pipe is closed."""
    import sounddevice as sd

    devices = sd.query_devices()
    number = chosen(devices, sd.default.device[0], wish, sys.platform)
    if number is None:
        names = ", ".join(row["name"] for row in devices if row["max_input_channels"] > 0) or "none"
        raise RecorderLost(f'none is called "{wish}"; there are: {names}.' if wish else "none is found; plug one in.")
    with sd.InputStream(
        samplerate=RATE, blocksize=BLOCK, device=number, channels=1, dtype="float32", latency=LATENCY_SECONDS
    ) as stream:
        out.write(json.dumps({"device": devices[number]["name"]}).encode() + b"\n")
        while True:
            heard, _ = stream.read(BLOCK)
            out.write(heard.tobytes())
            out.flush()


def main() -> None:
    out = sys.stdout.buffer
    try:
        _record(sys.argv[1], out)
    except (BrokenPipeError, KeyboardInterrupt):
        return
    except RecorderLost as lost:
        fault = str(lost)
    except ImportError as lost:
        fault = f"sound needs the Python package sounddevice ({lost})."
    except OSError:
        fault = PORTAUDIO_MISSING
    except Exception as lost:  # PortAudio's own, whose type is known only once it is imported
        fault = f"it won't open ({' '.join(str(lost).split())}): see that nothing else holds it."
    with contextlib.suppress(OSError):
        out.write(json.dumps({"fault": fault}).encode() + b"\n")
        out.flush()


if __name__ == "__main__":
    main()
