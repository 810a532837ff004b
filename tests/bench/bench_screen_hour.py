"""Whether the class screen grows over an hour of class, beside an empty Textual app that does as much.

``python -m tests.bench.bench_screen_hour [--minutes N]``. The hour is danced by a hand clock, as fast as can be: all
72,000 looks of it are taken and what changes is painted, one dance after another, with pauses, tempi, loops, ways of
calling, help and looks; a page and a file for other screens are fed as in a class. Each app runs in a process of its
own, without a terminal. Printed: memory (resident set), objects that Python's collector knows, items held in
containers, blocks allocated and the size of the spool file, each as it grew from the tenth minute on, for an hour; the
kinds of objects of which there are more; and what one look costs.
"""

from __future__ import annotations

import argparse
import asyncio
import gc
import inspect
import json
import os
import subprocess
import sys
import tempfile
import time
from collections import Counter, deque
from collections.abc import Callable
from pathlib import Path
from typing import Any

from textual.app import App, ComposeResult
from textual.widgets import Static

from caller.screen.app import LOOKS_A_SECOND, ClassScreen
from caller.screen.page.server import opened_page
from caller.screen.page.spool import Spool
from caller.transport.order import Order
from caller.transport.state import State
from tests.bench.class_at_hand import running_class

SIZE = (100, 30)
# Caches are full by then, and every order has been given.
WARM_MINUTES = 10
HELD = (list, dict, set, deque, tuple, frozenset)
MEASURES = {
    "memory": "kB",
    "objects": "objects",
    "held": "items in containers",
    "blocks": "allocated blocks",
    "spool": "bytes of spool file",
}
# What a lively class orders, one every seven seconds; keys stand for what is the screen's own.
ORDERS: tuple[Order | str, ...] = (
    Order.FASTER,
    Order.GO,
    Order.GO,
    "question_mark",
    "escape",
    Order.LOOP,
    Order.SLOWER,
    Order.LOOP,
    "d",
    Order.MANNER,
    Order.EASIER,
    Order.HALF,
    Order.HALF,
    "v",
    Order.MUTE,
    Order.MUTE,
    Order.SECTION_AGAIN,
    Order.NEXT,
    Order.STOP_AT_EIGHT,
    Order.GO,
    Order.COUNT_LOUDER,
    Order.COUNT_SOFTER,
)
ORDER_SECONDS = 7


class HandClock:
    """Seconds that go on by one look at a time."""

    def __init__(self) -> None:
        self.seconds = 0.0

    def __call__(self) -> float:
        return self.seconds


class Counting:
    """How often something was painted."""

    paints = 0

    def _display(self, *words: Any) -> None:
        self.paints += 1
        super()._display(*words)  # type: ignore[misc]


class Empty(Counting, App[None]):
    def compose(self) -> ComposeResult:
        self.shown = Static()
        yield self.shown


class Ours(Counting, ClassScreen):
    CSS_PATH = str(Path(inspect.getfile(ClassScreen)).with_name(ClassScreen.CSS_PATH))


async def painted(app: App[Any]) -> None:
    """What a look has changed is painted: its messages arrive, then the timer that paints is not waited for."""
    for _ in range(4):
        await asyncio.sleep(0)
    app.screen._on_timer_update()


async def run_empty(minutes: float) -> None:
    app, samples = Empty(), Samples()
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        for number in range(round(minutes * 60 * LOOKS_A_SECOND)):
            app.shown.update(f"PAINTED {number}")
            await painted(app)
            samples.take(number, app.paints)


async def run_ours(minutes: float) -> None:
    clock, samples = HandClock(), Samples()
    session = running_class(now=clock)
    path = Path(tempfile.mkdtemp()) / "now"
    spool, page = Spool(path), opened_page(":0")
    samples.file = path
    app = Ours(session, clock, shown=[spool.publish, page.publish])
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        for number in range(round(minutes * 60 * LOOKS_A_SECOND)):
            clock.seconds += 1 / LOOKS_A_SECOND
            if session.state in (State.READY, State.FINISHED):
                session.obey(Order.GO)
            elif number % (ORDER_SECONDS * LOOKS_A_SECOND) == 0:
                order = ORDERS[number // (ORDER_SECONDS * LOOKS_A_SECOND) % len(ORDERS)]
                if isinstance(order, Order):
                    session.obey(order)
                else:
                    await pilot.press(order)
            app.look()
            await painted(app)
            samples.take(number, app.paints)
    page.close()
    spool.close()


class Samples:
    """How large the process is, once a minute of class, written down at once so that nothing is held. file: whose size
    is told as well."""

    def __init__(self) -> None:
        self.file: Path | None = None
        self._began = time.process_time()

    def take(self, look: int, paints: int) -> None:
        if look % (60 * LOOKS_A_SECOND):
            return
        gc.collect()
        objects = gc.get_objects()
        sample = {
            "minute": look / 60 / LOOKS_A_SECOND,
            "memory": _kilobytes(),
            "objects": len(objects),
            "held": sum(len(one) for one in objects if isinstance(one, HELD)),
            "blocks": sys.getallocatedblocks(),
            "spool": self.file.stat().st_size if self.file else 0,
            "kinds": Counter(map(_kind, objects)).most_common(400),
            "paints": paints,
            "looks": look,
            "processor": time.process_time() - self._began,
        }
        print(json.dumps(sample), flush=True)


def _kind(one: object) -> str:
    return f"{type(one).__module__}.{type(one).__qualname__}"


def _kilobytes() -> int:
    return int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") // 1024


def sampled(which: str, minutes: float) -> list[dict[str, Any]]:
    words = [sys.executable, "-m", "tests.bench.bench_screen_hour", "--minutes", str(minutes), "--only", which]
    return [json.loads(line) for line in subprocess.run(words, check=True, capture_output=True).stdout.splitlines()]


def told(name: str, samples: list[dict[str, Any]]) -> None:
    warm = [sample for sample in samples if sample["minute"] >= min(WARM_MINUTES, samples[-1]["minute"] / 2)]
    first, last = warm[0], warm[-1]
    tens = [str(sample["memory"]) for sample in samples if sample["minute"] % WARM_MINUTES == 0]
    hours = (last["minute"] - first["minute"]) / 60
    print(
        f"{name}: {last['minute']:.0f} minutes, {last['looks']} looks, {last['paints']} paints, "
        f"{1000 * last['processor'] / last['looks']:.2f} ms of processor time a look"
    )
    for measure, unit in MEASURES.items():
        grown = (last[measure] - first[measure]) / hours
        print(f"  {grown:+.0f} {unit} an hour (from {first[measure]} to {last[measure]})")
    print(f"  memory every {WARM_MINUTES} minutes, kB: {' '.join(tens)}")
    before = dict(first["kinds"])
    more = Counter({kind: count - before.get(kind, 0) for kind, count in last["kinds"]}).most_common(5)
    print("  more of: " + ", ".join(f"{kind} {count:+d}" for kind, count in more if count > 0))


def main() -> None:
    options = argparse.ArgumentParser(description="An hour of class on the screen, by a hand clock.")
    options.add_argument("--minutes", type=float, default=61)
    options.add_argument("--only", choices=("ours", "empty"))
    asked = options.parse_args()
    runs: dict[str, Callable[[float], Any]] = {"empty": run_empty, "ours": run_ours}
    if asked.only:
        asyncio.run(runs[asked.only](asked.minutes))
        return
    for name, which in (("an empty app", "empty"), ("the class screen", "ours")):
        told(name, sampled(which, asked.minutes))


if __name__ == "__main__":
    main()
