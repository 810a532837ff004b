"""A busy interpreter: threads of plain Python that never let go of the GIL by themselves."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def busy(threads: int) -> Iterator[None]:
    """That many busy threads while it lasts."""
    over = threading.Event()

    def work() -> None:
        while not over.is_set():
            sum(number * number for number in range(1_000))

    workers = [threading.Thread(target=work, daemon=True) for _ in range(threads)]
    for worker in workers:
        worker.start()
    try:
        yield
    finally:
        over.set()
        for worker in workers:
            worker.join()
