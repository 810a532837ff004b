"""Waiting for real parts, with a limit."""

from __future__ import annotations

import time
from collections.abc import Callable


def until(true: Callable[[], bool], seconds: float, what: str) -> float:
    """Wait until ``true()``; returns how long it took. Raises TimeoutError after ``seconds``."""
    began = time.perf_counter()
    while not true():
        if time.perf_counter() - began > seconds:
            raise TimeoutError(f"not within {seconds} s: {what}")
        time.sleep(0.002)
    return time.perf_counter() - began
