"""Who speaks where a voice can't: a voice backed by others, in turn, down to the system's own.

Conventions: a stand-in says the same words at the same share of its own rate, by its own name for its voice. A voice
whose synthesiser fails for good, or does not have it, is passed over from then on, and one sentence says so; a
recorded voice that lacks some words is stood in for at those words alone.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from caller.rig.speech.recorded import NotRecorded, RecordedWords
from caller.rig.speech.recording import Recording
from caller.rig.speech.sources import RECORDED, missing
from caller.rig.speech.synthesiser import Request, Synthesiser, WorkerSynthesiser
from caller.rig.speech.voices import STANDARD, NoSuchVoice, Voice, find_voice
from caller.rig.speech.voicing import Voiceless, VoiceMissing

# The last resort: whatever the usual synthesiser says by itself.
SYSTEM = Voice("system", "The system's own")


class Backed:
    """A voice's synthesiser, with the one that stands in for it (None: nobody does)."""

    def __init__(self, voice: Voice, first: Synthesiser, then: Backed | None, platform: str = sys.platform) -> None:
        self.voice = voice
        self._first, self._then = first, then
        self._platform = platform
        self._passed_over = ""
        self._closed = False

    @property
    def note(self) -> str:
        return self._passed_over or self._first.note

    def identity(self, request: Request) -> str:
        if self._then is None:
            return self._first.identity(request)
        try:
            if not self._passed_over:
                return self._first.identity(request)
        except NotRecorded:
            pass
        return self._then.identity(self._handed_on(request, self._then.voice))

    def wake(self) -> None:
        self._first.wake()

    def render(self, request: Request) -> tuple[Recording, str]:
        if self._then is None:
            return self._first.render(request)
        try:
            if not self._passed_over:
                return self._first.render(request)
        except NotRecorded:
            pass
        except (Voiceless, VoiceMissing) as fault:
            then = self._next(fault)
            if self._closed or then is None:
                raise
            self._then, self._passed_over = then, instead(str(fault), then.voice)
        return self._then.render(self._handed_on(request, self._then.voice))

    def close(self) -> None:
        self._closed = True
        self._first.close()
        if self._then is not None:
            self._then.close()

    def _next(self, fault: Exception) -> Backed | None:
        """Who stands in; where the synthesiser has failed for good, nobody who speaks by the same one."""
        then = self._then
        while then is not None and isinstance(fault, Voiceless) and then._first is self._first:
            then = then._then
        return then

    def _handed_on(self, request: Request, other: Voice) -> Request:
        rate = round(other.rate * request.rate / self.voice.rate)
        return Request(other.spoken(request.text), other.id_on(self._platform), rate, other.pitch)


@dataclass(frozen=True, slots=True)
class Cast:
    """Who speaks. speaker: None where nobody can. note: "" or one sentence on who stands in, or why nobody does."""

    speaker: Backed | None
    note: str


def cast_of(
    voice: Voice, folders: Iterable[Path] | None = None, start: Callable[[str], Synthesiser] | None = None
) -> Cast:
    """A voice on this machine with those that stand in for it. start: makes a source's synthesiser, once for each."""
    starts = start or (lambda source: WorkerSynthesiser(source=source))
    line = in_line(voice, folders)
    lacks = {each.name: missing(each.engine) for each in line}
    able = [each for each in line if not lacks[each.name]]
    sources = {name: starts(name) for name in dict.fromkeys(each.engine for each in able) if name != RECORDED}
    if not sources:
        return Cast(None, next(filter(None, lacks.values()), "There is no voice that can speak."))
    speaker: Backed | None = None
    for each in reversed(able):
        first = RecordedWords(each) if each.engine == RECORDED else sources[each.engine]
        speaker = Backed(each, first, speaker)
    assert speaker is not None
    return Cast(speaker, instead(lacks[voice.name], speaker.voice) if lacks[voice.name] else "")


def in_line(voice: Voice, folders: Iterable[Path] | None = None) -> tuple[Voice, ...]:
    """A voice and who stands in for it, in turn, each once; a stand-in that is not there or faulty is left out."""
    found = {voice.name: voice}
    folders = None if folders is None else tuple(folders)
    waiting = [voice.otherwise, STANDARD]
    while waiting:
        name = waiting.pop(0)
        if name and name not in found:
            try:
                found[name] = find_voice(name, folders)
            except NoSuchVoice:
                continue
            waiting.insert(0, found[name].otherwise)
    # It says the words as the first does: a stand-in's own list would be looked up in what is spoken already.
    return (*found.values(), replace(SYSTEM, rate=voice.rate))


def voice_or_stand_in(name: str, folders: Iterable[Path] | None = None) -> tuple[Voice, str]:
    """The voice of that name; where there is none, or its file has faults, the standard one and a sentence."""
    folders = None if folders is None else tuple(folders)
    try:
        return find_voice(name, folders), ""
    except NoSuchVoice as fault:
        why = str(fault)
    try:
        stand_in = find_voice(STANDARD, folders)
    except NoSuchVoice:
        stand_in = SYSTEM
    return stand_in, instead(why, stand_in)


def instead(why: str, other: Voice) -> str:
    """One sentence: what is wrong, and who speaks."""
    return f'{why.rstrip(".")}; the voice "{other.name}" speaks instead.'
