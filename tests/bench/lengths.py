"""How long the standard voice takes for words, without keeping how they sound: for benches over hundreds of sheets.

Conventions: a phrase is words and a speed. Lengths are kept in a file of the user's cache. Speech is trimmed as for a
class but not shaped to carry over noise, which leaves its length as it is.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable
from dataclasses import astuple
from fractions import Fraction

import numpy as np
import soxr

from caller.calls.cues import cues_for
from caller.calls.plan import Manner, Utterance
from caller.calls.sayings import sayings
from caller.dance.walls import Dance
from caller.rig.speech.lexicon import cache_folder
from caller.rig.speech.stand_ins import voice_or_stand_in
from caller.rig.speech.synthesiser import Request, WorkerSynthesiser
from caller.rig.speech.voices import STANDARD
from caller.rig.speech.voicing import Unspoken
from caller.sound.beat import beat_of
from caller.sound.score import RATE, Clip
from caller.sound.trim import trimmed

Phrase = tuple[str, float]
# After so many the file is written again.
_AT_ONCE = 2_000


class Lengths:
    """A Lexicon of lengths alone. Raises Voiceless where there is no voice to measure."""

    def __init__(self) -> None:
        self._voice, _ = voice_or_stand_in(STANDARD)
        self._file = cache_folder().with_name("bench-lengths.json")
        self._known: dict[Phrase, Utterance | None] = {}

    def utterance(self, words: str, speed: float) -> Utterance | None:
        return self._known[words, speed]

    def clip(self, words: str, speed: float) -> Clip | None:
        """No sound."""
        return None

    def measure(self, phrases: Iterable[Phrase]) -> None:
        """These too, those that are not known yet."""
        kept = self._read()
        wanted = {phrase: self._request(phrase) for phrase in phrases if phrase not in self._known}
        lacking = {_key(request): request for request in wanted.values() if _key(request) not in kept}
        print(f"speech: {len(wanted)} phrases, {len(lacking)} to measure", file=sys.stderr)
        with WorkerSynthesiser(source=self._voice.engine) as synthesiser:
            for n, (key, request) in enumerate(lacking.items(), 1):
                kept[key] = _measured(synthesiser, request)
                if n % _AT_ONCE == 0 or n == len(lacking):
                    self._file.parent.mkdir(parents=True, exist_ok=True)
                    self._file.write_text(json.dumps(kept), encoding="utf-8")
        for (words, speed), request in wanted.items():
            frames, beat = kept[_key(request)]
            self._known[words, speed] = Utterance(words, speed, frames, beat) if frames else None

    def _request(self, phrase: Phrase) -> Request:
        words, speed = phrase
        voice = self._voice
        return Request(voice.spoken(words), voice.id_on(sys.platform), round(voice.rate * speed), voice.pitch)

    def _read(self) -> dict[str, tuple[int, int]]:
        try:
            found: dict[str, tuple[int, int]] = json.loads(self._file.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return found


def _key(request: Request) -> str:
    return json.dumps(astuple(request))


def _measured(synthesiser: WorkerSynthesiser, request: Request) -> tuple[int, int]:
    """Frames, and the frame of its beat; none where it can't be said."""
    try:
        recording, _ = synthesiser.render(request)
    except Unspoken:
        return 0, 0
    heard = trimmed(soxr.resample(recording.samples, recording.rate, RATE).astype(np.float32, copy=False))
    return len(heard), beat_of(heard) if len(heard) else 0


def called_from_the_top(dance: Dance) -> set[Phrase]:
    """All that may be said in the whole dance, called ahead, counted in by its level."""
    bars = 2 * dance.routine.header.meter.counts
    cues = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), bars)
    return {(part.words, saying.speed) for cue in cues for saying in sayings(cue) for part in saying.parts}
