"""A sound card without hardware: a PulseAudio server of its own with one null sink, and a capture of what it plays.

As measured: a null sink that nobody reads stalls at its start, so a reader hangs on it for as long as it lives.
"""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import time
from pathlib import Path

import numpy as np
import numpy.typing as npt

SINK = "ci"
RATE = 48_000
RAW = ("--raw", "--format=s16le", f"--rate={RATE}", "--channels=2")


def missing() -> str:
    """What keeps the server from being started, in one sentence, or ""."""
    lacks = [name for name in ("pulseaudio", "pactl", "parec") if shutil.which(name) is None]
    return f"{', '.join(lacks)} not found: apt install pulseaudio pulseaudio-utils libasound2-plugins" if lacks else ""


class Capture:
    """Records all that the sink plays, from now until ``stop``."""

    def __init__(self, environment: dict[str, str], file: Path, of: str = SINK) -> None:
        self._file = file
        with file.open("wb") as sink:
            self._parec = subprocess.Popen(
                ["parec", "-d", f"{of}.monitor", "--latency-msec=10", *RAW], stdout=sink, env=environment
            )

    def frames(self) -> npt.NDArray[np.float32]:
        """What has been captured so far, shape (n, 2), in -1..1."""
        raw = self._file.read_bytes()
        whole = np.frombuffer(raw[: len(raw) // 4 * 4], dtype="<i2").reshape(-1, 2)
        return whole.astype(np.float32) / 32768

    def frames_so_far(self) -> int:
        """How many have been captured."""
        return self._file.stat().st_size // 4

    def stop(self) -> npt.NDArray[np.float32]:
        _end(self._parec)
        return self.frames()


class PulseServer:
    """One server in a folder of its own. ``environment`` is what a program needs to find it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._runtime = folder / "rt"
        self._runtime.mkdir(mode=0o700)
        self._socket = folder / "pulse.sock"
        self.environment = {
            **os.environ,
            "PULSE_RUNTIME_PATH": str(self._runtime),
            "PULSE_SERVER": f"unix:{self._socket}",
        }
        self._captures = 0
        self.start()

    def start(self) -> None:
        """Back when the sink is being read and runs evenly."""
        self._server = subprocess.Popen(
            [
                *("pulseaudio", "-n", "--daemonize=no", "--use-pid-file=no", "--exit-idle-time=-1"),
                *("--realtime=no", "--high-priority=no"),
                f"--log-target=file:{self.folder / 'pulse.log'}",
                *("-L", f"module-native-protocol-unix socket={self._socket} auth-anonymous=1"),
                *("-L", f"module-null-sink sink_name={SINK} rate={RATE} channels=2 format=s16le"),
            ],
            env=self.environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        self._wait_until_up()
        self._holder = subprocess.Popen(
            ["parec", "-d", f"{SINK}.monitor", "--latency-msec=10", "--raw"],
            env=self.environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        time.sleep(2.2)

    def kill(self) -> None:
        """As a sound card pulled out: gone at once."""
        self._server.send_signal(signal.SIGKILL)
        self._server.wait()
        _end(self._holder)
        self._socket.unlink(missing_ok=True)

    def stop(self) -> None:
        if self._server.poll() is None:
            self.kill()

    def ensure_up(self) -> None:
        if self._server.poll() is not None:
            self.start()

    def freeze(self) -> None:
        self._server.send_signal(signal.SIGSTOP)

    def thaw(self) -> None:
        self._server.send_signal(signal.SIGCONT)

    def capture(self, of: str = SINK) -> Capture:
        self._captures += 1
        return Capture(self.environment, self.folder / f"capture{self._captures}.raw", of)

    def add_sink(self, name: str) -> None:
        """One more sink, beside what there is."""
        self._control(
            "load-module", "module-null-sink", f"sink_name={name}", f"rate={RATE}", "channels=2", "format=s16le"
        )

    def make_default(self, name: str) -> None:
        self._control("set-default-sink", name)

    def remove_first_sink(self) -> None:
        """As the device that plays is pulled out while another is there."""
        modules = self._control("list", "short", "modules").splitlines()
        self._control("unload-module", next(line.split()[0] for line in modules if f"sink_name={SINK} " in line))

    def _control(self, *words: str) -> str:
        return subprocess.run(
            ["pactl", *words], env=self.environment, check=True, capture_output=True, text=True
        ).stdout

    def _wait_until_up(self) -> None:
        for _ in range(200):
            answer = subprocess.run(["pactl", "info"], env=self.environment, capture_output=True)
            if answer.returncode == 0:
                return
            time.sleep(0.05)
        raise RuntimeError(f"the PulseAudio server did not start: see {self.folder / 'pulse.log'}")


def _end(process: subprocess.Popen[bytes]) -> None:
    process.terminate()
    process.wait(5)
