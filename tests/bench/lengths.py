"""How long the standard voice takes for words, without keeping how they sound: for benches over hundreds of sheets.

Conventions: a phrase is words and a speed. Lengths are kept in a file of the user's cache, for as long as the voice and
what shapes its sound stay the same.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable
from fractions import Fraction
from pathlib import Path

from caller.calls.cues import cues_for
from caller.calls.plan import Manner, Utterance
from caller.calls.weigh import sayings
from caller.cli.running import open_voice
from caller.dance.walls import Dance
from caller.rig.speech.lexicon import SilentLexicon, cache_folder
from caller.sound.score import Clip

Phrase = tuple[str, float]
# So many are rendered, measured and forgotten at a time.
_AT_ONCE = 2_000


class Lengths:
    """A Lexicon of lengths alone. Raises RuntimeError where there is no voice to measure."""

    def __init__(self, name: str = "standard") -> None:
        self._name = name
        self._file = cache_folder().with_name("bench-lengths.json")
        self._known: dict[Phrase, Utterance | None] = {}

    def utterance(self, words: str, speed: float) -> Utterance | None:
        return self._known[words, speed]

    def clip(self, words: str, speed: float) -> Clip | None:
        """No sound."""
        return None

    def measure(self, phrases: Iterable[Phrase]) -> None:
        """These too, those that are not known yet."""
        wanted = sorted(set(phrases) - set(self._known))
        keys = dict(zip(wanted, self._keys(wanted), strict=True))
        kept = self._read()
        lacking = [phrase for phrase in wanted if keys[phrase] not in kept]
        for n in range(0, len(lacking), _AT_ONCE):
            kept |= self._rendered(lacking[n : n + _AT_ONCE], keys)
            self._file.parent.mkdir(parents=True, exist_ok=True)
            Path(self._file).write_text(json.dumps(kept), encoding="utf-8")
        for words, speed in wanted:
            frames, beat = kept[keys[words, speed]]
            self._known[words, speed] = Utterance(words, speed, frames, beat) if frames else None

    def _keys(self, phrases: Collection[Phrase]) -> list[str]:
        voice = open_voice(self._name)
        if isinstance(voice, SilentLexicon):
            raise RuntimeError(voice.why)
        return [voice.key_of(phrase) for phrase in phrases]

    def _rendered(self, phrases: Collection[Phrase], keys: dict[Phrase, str]) -> dict[str, tuple[int, int]]:
        voice = open_voice(self._name)
        voice.prepare(phrases)
        voice.close()
        said = {phrase: voice.utterance(*phrase) for phrase in phrases}
        if not any(said.values()):
            raise RuntimeError(voice.why or "the voice says nothing")
        return {keys[phrase]: (one.frames, one.beat) if one else (0, 0) for phrase, one in said.items()}

    def _read(self) -> dict[str, tuple[int, int]]:
        try:
            found: dict[str, tuple[int, int]] = json.loads(self._file.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return found


def called_from_the_top(dance: Dance) -> set[Phrase]:
    """All that may be said in the whole dance, called ahead, counted in by its level."""
    bars = 2 * dance.routine.header.meter.counts
    cues = cues_for(dance, Manner.AHEAD, Fraction(0), Fraction(dance.counts), bars)
    return {(part.words, saying.speed) for cue in cues for saying in sayings(cue) for part in saying.parts}
