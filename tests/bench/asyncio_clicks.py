"""The baseline for live sound: clicks on time with asyncio and ``sounddevice.play``, each due at an absolute moment.

``python -m tests.bench.asyncio_clicks SECONDS TEMPO BUSY``: BUSY threads of plain Python run beside it, as a program's
own work would. On a machine with too much to do, opening a stream for a click may fail (PortAudio's "wait timed out"):
that click is then lost, which is what is counted.
"""

from __future__ import annotations

import asyncio
import sys
import time
from contextlib import suppress

from tests.bench.load import busy
from tests.bench.sounds import RATE, click


async def play(seconds: float, tempo: float) -> None:
    import sounddevice as sd

    sd.default.device, sd.default.latency = "pulse", 0.1
    samples = click()
    interval = 60 / tempo
    began = time.perf_counter() + 0.5
    for number in range(int(seconds / interval)):
        await asyncio.sleep(max(0.0, began + number * interval - time.perf_counter()))
        with suppress(sd.PortAudioError):
            sd.play(samples, RATE)
    await asyncio.sleep(0.5)


if __name__ == "__main__":
    with busy(int(sys.argv[3])):
        asyncio.run(play(float(sys.argv[1]), float(sys.argv[2])))
