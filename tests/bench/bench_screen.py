"""What the class screen costs, against an empty Textual app that does 20 updates a second.

``python -m tests.bench.bench_screen [--seconds N] [--paints N]``. Each runs in a process of its own, in a
pseudo-terminal of 100 x 30 that is read as fast as it writes. Printed: processor time a second of both and their ratio,
growth in memory, and the time from the start of the process to the first paint of both, of the whole command too, and
their ratios (medians, taken in turn; the processor time beside it tells more on a busy machine). An hour's growth is
measured by ``bench_screen_hour``.
"""

from __future__ import annotations

import argparse
import fcntl
import os
import pty
import select
import signal
import socket
import statistics
import struct
import subprocess
import sys
import tempfile
import termios
import time
import urllib.parse
from dataclasses import dataclass

COLUMNS, ROWS = 100, 30
OWN_FOLDER = tempfile.mkdtemp(prefix="caller-bench-")
EMPTY = """
from textual.app import App
from textual.widgets import Static
class Empty(App):
    def compose(self):
        self.shown = Static()
        yield self.shown
    def on_mount(self):
        self.count = 0
        self.update()
        self.set_interval(1 / 20, self.update)
    def update(self):
        self.count += 1
        self.shown.update(f"PAINTED {self.count}")
Empty().run(mouse=False)
"""
OURS = """
from caller.screen.app import run_screen_with
def make():
    from tests.bench.class_at_hand import running_class
    return running_class()
run_screen_with(make)
"""


# The whole command, from the shell's start of it on: the sheet, the voice and the pedal included.
COMMAND = """
import sys
sys.argv = ["caller", "dance", "Lantern Row", "--sound", "none", "--pedal", "none"]
from caller.__main__ import program
program()
"""
VIEWERS, VIEWED_SECONDS = 10, 8
# A page that changes eight times a second, twice for each count at a tempo that is fast.
PAGE = """
import sys, time
from dataclasses import replace
from caller.screen.board import board_of
from caller.screen.page.server import opened_page
from tests.fakes.room import view_of
page = opened_page(":0")
print(page.url, flush=True)
for count in range(10_000):
    page.publish(board_of(view_of(count=count)))
    time.sleep(1 / 8)
"""


@dataclass(frozen=True, slots=True)
class Cost:
    """share: of a core. grown: kilobytes of memory from half way on."""

    share: float
    grown: int


class Terminal:
    """A program in a pseudo-terminal."""

    def __init__(self, program: str) -> None:
        self.began = time.perf_counter()
        self.process, self._end = pty.fork()
        if not self.process:
            fcntl.ioctl(0, termios.TIOCSWINSZ, struct.pack("HHHH", ROWS, COLUMNS, 0, 0))
            os.environ.update(TERM="xterm-256color", COLORTERM="truecolor")
            os.environ.update(
                {f"XDG_{kind}_HOME": f"{OWN_FOLDER}/{kind}" for kind in ("CONFIG", "CACHE", "DATA", "STATE")}
            )
            os.execv(sys.executable, [sys.executable, "-c", program])

    def read_until(self, seconds: float, word: bytes = b"") -> float:
        """Reads for so long, or until ``word`` was written; returns the seconds since the start."""
        seen, over = b"", time.perf_counter() + seconds
        while (left := over - time.perf_counter()) > 0 and not (word and word in seen):
            if select.select([self._end], [], [], left)[0]:
                seen = seen[-200:] + os.read(self._end, 65536)
        return time.perf_counter() - self.began

    def write(self, keys: bytes) -> None:
        os.write(self._end, keys)

    def processor_seconds(self) -> float:
        return _processor_seconds(self.process)

    def kilobytes(self) -> int:
        with open(f"/proc/{self.process}/statm") as statm:
            return int(statm.read().split()[1]) * os.sysconf("SC_PAGE_SIZE") // 1024

    def close(self) -> None:
        os.kill(self.process, signal.SIGKILL)
        os.close(self._end)
        os.waitpid(self.process, 0)


def first_paint(program: str, word: bytes) -> tuple[float, float]:
    """Seconds from the start of the process, and of its processor time."""
    terminal = Terminal(program)
    seconds, processor = terminal.read_until(30, word), terminal.processor_seconds()
    terminal.close()
    return seconds, processor


def cost(program: str, seconds: float, word: bytes) -> Cost:
    """While it runs, warmed up for as long as it takes to show ``word`` and two seconds more."""
    terminal = Terminal(program)
    terminal.read_until(30, word)
    terminal.read_until(2)
    terminal.write(b" ")  # starts a class
    terminal.read_until(3)
    before, began = terminal.processor_seconds(), time.perf_counter()
    terminal.read_until(seconds / 2)
    half_way = terminal.kilobytes()
    terminal.read_until(seconds / 2)
    share = (terminal.processor_seconds() - before) / (time.perf_counter() - began)
    grown = terminal.kilobytes() - half_way
    terminal.close()
    return Cost(share, grown)


def page_share(viewers: int) -> float:
    """Of a core, with so many viewers."""
    serving = subprocess.Popen([sys.executable, "-c", PAGE], stdout=subprocess.PIPE, text=True)
    assert serving.stdout is not None
    url = urllib.parse.urlsplit(serving.stdout.readline().strip())
    watching = [socket.create_connection((url.hostname or "", url.port or 0)) for _ in range(viewers)]
    for one in watching:
        one.sendall(f"GET /events HTTP/1.1\r\nHost: {url.netloc}\r\n\r\n".encode())
    before, began, told = _processor_seconds(serving.pid), time.perf_counter(), 0
    while time.perf_counter() - began < VIEWED_SECONDS:
        for one in select.select(watching, [], [], 0.1)[0]:
            told += one.recv(65536).count(b"data: {")
    share = (_processor_seconds(serving.pid) - before) / (time.perf_counter() - began)
    assert told >= viewers * 7 * VIEWED_SECONDS, "everybody was told of every change"
    for one in watching:
        one.close()
    serving.kill()
    serving.wait()
    return share


def _processor_seconds(process: int) -> float:
    with open(f"/proc/{process}/stat") as stat:
        fields = stat.read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seconds", type=float, default=20)
    asked.add_argument("--paints", type=int, default=5)
    seconds, paints = asked.parse_args().seconds, asked.parse_args().paints
    # A block letter's cell is the first thing that only a painted class screen writes.
    shown = ((EMPTY, b"PAINTED"), (OURS, "█".encode()), (COMMAND, "█".encode()))
    turns = [[first_paint(*one) for one in shown] for _ in range(paints)]
    empty, *ours = ([statistics.median(of) for of in zip(*side, strict=True)] for side in zip(*turns, strict=True))
    print(f"first paint of an empty app: {1000 * empty[0]:.0f} ms, {1000 * empty[1]:.0f} ms of processor time")
    for name, (paint, processor) in zip(("the class screen", "caller dance"), ours, strict=True):
        ratios = f"{paint / empty[0]:.2f} and {processor / empty[1]:.2f} times"
        print(f"first paint of {name}: {1000 * paint:.0f} ms, {1000 * processor:.0f} ms of it: {ratios}")
    idle, class_screen = cost(EMPTY, seconds, b"PAINTED"), cost(OURS, seconds, b"Lantern Row")
    ratio = class_screen.share / idle.share
    shares = f"{100 * class_screen.share:.1f} % of a core, an empty app {100 * idle.share:.1f} %"
    print(f"20 looks a second: {shares}: {ratio:.2f} times")
    none, ten = page_share(0), page_share(VIEWERS)
    print(f"a page with {VIEWERS} viewers: {100 * ten:.1f} % of a core, with none {100 * none:.1f} %")
    print(f"memory grown in {seconds / 2:.0f} s: {class_screen.grown} kB, an empty app {idle.grown} kB")


if __name__ == "__main__":
    main()
