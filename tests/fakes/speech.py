"""Speech without a process: a synthesiser of tones whose length follows the letters and the rate, and workers by
script."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from caller.rig.speech.recording import Recording
from caller.rig.speech.synthesiser import Request
from caller.rig.speech.voicing import Unspoken, Voiceless, VoiceMissing

Act = Exception | str | dict[str, Any]

RATE = 22_050
LETTERS_A_WORD = 5
SILENCE_SECONDS = 0.1


@dataclass
class ToneSynthesiser:
    """asked: every request, in order. refuses: texts that can't be said, with the reason. ends_after: speech is over
    after so many requests. lacks: voices it does not have. closed: how often."""

    version: str = "tones 1"
    refuses: Mapping[str, str] = field(default_factory=dict)
    ends_after: int | None = None
    lacks: tuple[str, ...] = ()
    note: str = ""
    asked: list[Request] = field(default_factory=list)
    woken: int = 0
    closed: int = 0

    def identity(self, request: Request) -> str:
        return f"{self.version} {request}"

    def wake(self) -> None:
        self.woken += 1

    def render(self, request: Request) -> tuple[Recording, str]:
        if self.ends_after is not None and len(self.asked) >= self.ends_after:
            raise Voiceless("The tones have ended.")
        self.asked.append(request)
        if request.text in self.refuses:
            raise Unspoken(self.refuses[request.text])
        if request.voice in self.lacks:
            raise VoiceMissing(request.voice)
        return tone(len(request.text) / LETTERS_A_WORD * 60 / request.rate), self.identity(request)

    def close(self) -> None:
        self.closed += 1


def tone(seconds: float, rate: int = RATE, level: float = 0.3) -> Recording:
    """A 440 Hz tone with SILENCE_SECONDS of silence before and after."""
    silence = np.zeros(round(SILENCE_SECONDS * rate), np.float32)
    time = np.arange(round(seconds * rate)) / rate
    sound = (level * np.sin(2 * np.pi * 440 * time)).astype(np.float32)
    return Recording(np.concatenate([silence, sound, silence]), rate)


class ScriptedWorker:
    """A worker without a process: each ask is the next of ``acts``. An act is a reply's fields, an exception to
    raise, or a plain line. asked, limits: what was asked, and for how long; ended: "killed", "closed" or ""."""

    def __init__(self, acts: Iterator[Act]) -> None:
        self._acts = acts
        self.asked: list[dict[str, Any]] = []
        self.limits: list[float] = []
        self.ended = ""

    def ask(self, line: str, limit: float) -> str:
        assert not self.ended, "asked after its end"
        request = json.loads(line)
        self.asked.append(request)
        self.limits.append(limit)
        act = next(self._acts)
        if isinstance(act, Exception):
            raise act
        return act if isinstance(act, str) else json.dumps({"id": request["id"], **act})

    def kill(self) -> None:
        self.ended = "killed"

    def close(self) -> None:
        self.ended = self.ended or "closed"


class ScriptedWorkers:
    """Starts ScriptedWorkers, which share one list of acts. started: them, in order."""

    def __init__(self, *acts: Act) -> None:
        self._acts = iter(acts)
        self.started: list[ScriptedWorker] = []

    def __call__(self, command: Sequence[str]) -> ScriptedWorker:
        self.started.append(ScriptedWorker(self._acts))
        return self.started[-1]
