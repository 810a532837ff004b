"""The parent's side of speech: phrases to recordings, by a worker that may hang, die or babble.

Conventions: limits in seconds; rates in words a minute. Call from one thread at a time (``close`` from any);
``render`` waits, up to its limit for each try.

The worker starts with the first phrase. A phrase that gets no proper answer in time ends it; a new one is started and
the phrase tried once more. After three failures in a row (two restarts) speech is given up: one sentence, and every
later phrase fails at once.
"""

from __future__ import annotations

import contextlib
import json
import shutil
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from caller.children.lines import Child, Gone, Hung
from caller.children.starting import python
from caller.rig.speech.recording import NoRecording, Recording, read_recording
from caller.rig.speech.sources import USUAL, installed_version
from caller.rig.speech.voicing import Unspoken, VoiceFound, Voiceless, VoiceMissing
from caller.storage.passing import PassingFolder

PHRASE_SECONDS = 5.0
START_SECONDS = 15.0
RESTARTS = 2
PHRASE_BYTES = 500_000  # five seconds at the highest rate that a synthesiser has
_TRIES_A_PHRASE = 2


@dataclass(frozen=True, slots=True)
class Request:
    """text: plain words. voice: the synthesiser's own name for it, or "". pitch: 0 to 99."""

    text: str
    voice: str = ""
    rate: int = 175
    pitch: int = 50


class Synthesiser(Protocol):
    """Speech by request. note: one sentence on who speaks in whose place, or ""."""

    @property
    def note(self) -> str: ...

    def identity(self, request: Request) -> str:
        """All that shapes the sound of a request as it would be rendered now: equal identities sound alike."""
        ...

    def wake(self) -> None:
        """Gets ready for the first request, which then need not wait for that; what fails is told by that request."""
        ...

    def render(self, request: Request) -> tuple[Recording, str]:
        """The sound, and the identity that it was made under. Raises Unspoken (this phrase can't be said; where no
        phrase can, VoiceMissing) or Voiceless (nothing can, from now on)."""
        ...

    def close(self) -> None: ...


class Answers(Protocol):
    """A worker's process, as :class:`caller.children.lines.Child` is one."""

    def ask(self, line: str, limit: float) -> str: ...

    def kill(self) -> None: ...

    def close(self) -> None: ...


class WorkerSynthesiser:
    """Renders in a worker. command: starts it; the folder for its files is added as the last argument. source: what
    speaks there, as a voice's ``engine`` names it.

    workers_started: how many so far. folder: where the running worker writes, None before the first.
    """

    note = ""

    def __init__(
        self,
        command: Sequence[str] | None = None,
        phrase_seconds: float = PHRASE_SECONDS,
        start_seconds: float = START_SECONDS,
        start: Callable[[Sequence[str]], Answers] = Child,
        source: str = USUAL,
    ) -> None:
        self.source = source
        self.version = installed_version(source)
        self.workers_started = 0
        self.folder: Path | None = None
        self._command = tuple(command or python("caller.rig.speech.worker", source))
        self._phrase_seconds, self._start_seconds = phrase_seconds, start_seconds
        self._start_child = start
        self._passing: PassingFolder | None = None
        self._child: Answers | None = None
        self._asked = 0
        self._failures = 0
        self._given_up = ""

    def identity(self, request: Request) -> str:
        asked = (request.voice, request.rate, request.pitch, request.text)
        return json.dumps([self.source, self.version, *asked])

    def wake(self) -> None:
        if self._child is None and not self._given_up:
            try:
                self._start()
            except (Hung, Gone) as fault:
                self._fail(fault)
            except Voiceless:
                return

    def render(self, request: Request) -> tuple[Recording, str]:
        asked = {"say": request.text, "voice": request.voice, "rate": request.rate, "pitch": request.pitch}
        file = Path(str(self._ask(asked, "file")["file"]))
        try:
            recording = read_recording(file)
        except NoRecording as fault:
            if self._passing is not None and is_full(self._passing.path):
                self._give_up(f"There is no room in {self._passing.path.parent}, where speech is made: free some.")
            raise Unspoken(f'The synthesiser made {fault} of "{request.text}".') from fault
        finally:
            with contextlib.suppress(OSError):
                file.unlink()
        self._failures = 0
        return recording, self.identity(request)

    def voices(self) -> tuple[str, tuple[VoiceFound, ...]]:
        """The synthesiser's own version, and its voices. Raises Unspoken or Voiceless."""
        told = self._ask({"voices": True}, "voices")
        found = (VoiceFound(voice["id"], voice["name"], tuple(voice["languages"])) for voice in told["voices"])
        return str(told["version"]), tuple(found)

    def close(self) -> None:
        """End the worker and clear its files away; a phrase under way, and any later one, is Voiceless. Any thread."""
        self._given_up = self._given_up or "Speech has been closed."
        self._end(lambda child: child.close())
        if self._passing is not None:
            self._passing.close()
            self._passing = self.folder = None

    def __enter__(self) -> WorkerSynthesiser:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _ask(self, asked: dict[str, Any], wanted: str) -> dict[str, Any]:
        """The reply to a request, tried twice. Raises Unspoken or Voiceless."""
        for _ in range(_TRIES_A_PHRASE):
            if self._given_up:
                break
            try:
                child = self._child or self._start()
                reply = self._reply(child, asked, wanted, self._phrase_seconds)
            except (Hung, Gone) as fault:
                self._fail(fault)
            else:
                if wanted != "file":  # a file may hold nothing: that is known once it is read
                    self._failures = 0
                if "voice_missing" in reply:
                    raise VoiceMissing(str(reply["voice_missing"]))
                if "unspoken" in reply:
                    raise Unspoken(str(reply["unspoken"]))
                return reply
        if self._given_up:
            raise Voiceless(self._given_up)
        raise Unspoken(f'The synthesiser fails at "{asked.get("say", "its voices")}", twice; it is left out.')

    def _start(self) -> Answers:
        """A new worker with its synthesiser open. Raises Hung, Gone or Voiceless."""
        try:
            if self._passing is None:
                self._passing = PassingFolder("caller-speech-")
                self.folder = self._passing.path
            child = self._start_child((*self._command, str(self._passing.path)))
        except OSError as fault:
            self._give_up(f"The speech worker can't be started ({fault}): calls are shown, not spoken.")
            raise Voiceless(self._given_up) from fault
        self._child = child
        self.workers_started += 1
        if self._given_up:  # closed meanwhile, by another thread
            self._give_up(self._given_up)
            raise Voiceless(self._given_up)
        self._reply(child, {"hello": True}, "version", self._start_seconds)
        return child

    def _reply(self, child: Answers, asked: dict[str, Any], wanted: str, limit: float) -> dict[str, Any]:
        """The reply to one request, which holds ``wanted`` or "unspoken". Raises Hung, Gone where it is no proper
        one, Voiceless."""
        self._asked += 1
        reply = _parsed(child.ask(json.dumps({"id": self._asked, **asked}), limit), self._asked)
        if "voiceless" in reply:
            self._give_up(str(reply["voiceless"]))
            raise Voiceless(self._given_up)
        if wanted not in reply and "unspoken" not in reply:
            raise Gone
        return reply

    def _fail(self, fault: Exception) -> None:
        self._failures += 1
        self._end(lambda child: child.kill())
        if self._failures > RESTARTS:
            what = "does not answer" if isinstance(fault, Hung) else "keeps failing"
            self._given_up = f"The speech synthesiser {what}: calls are shown, not spoken; `caller doctor` says more."

    def _give_up(self, why: str) -> None:
        self._given_up = why
        self._end(lambda child: child.kill())

    def _end(self, how: Callable[[Answers], None]) -> None:
        child, self._child = self._child, None
        if child is not None:
            how(child)


def is_full(folder: Path) -> bool:
    """Whether a phrase would find no room there."""
    try:
        return shutil.disk_usage(folder).free < PHRASE_BYTES
    except OSError:
        return False


def _parsed(line: str, number: int) -> dict[str, Any]:
    """A reply to request ``number``. Anything else means that the worker can't be trusted any more: raises Gone."""
    try:
        reply = json.loads(line)
    except ValueError as fault:
        raise Gone from fault
    if not isinstance(reply, dict) or reply.get("id") != number:
        raise Gone
    return reply
