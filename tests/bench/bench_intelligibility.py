"""How well an offline recogniser makes out our calls over noise, by source of speech, voice and pace, before and after
they are shaped to carry.

Run: ``python -m tests.bench.bench_intelligibility`` with pocketsphinx installed (its model is in its package; BSD) and,
besides pyttsx3, whichever of the other sources are to be compared. What a machine makes out is no measure of what a
hall does, only of which voice is plainer than which.

The words: all calls of the shipped routines in every manner, as they are played: trimmed, levelled, at 16 kHz; "as
made" without, "shaped" with :mod:`caller.sound.shaping`, both as loud and within the same true peak. Two settings, the
same for all: ``list`` (one of our calls, the nearest), in pink noise 40 LU below the speech, then over pink noise, the
talk of a class and music (:mod:`tests.bench.maskers`), each 10, 5 and 0 LU below; and with ``--free``, at the usual
pace, ``free`` (any English, by the model's own trigrams; a minute or two a voice), 40 LU. Never without any noise: this
recogniser goes astray in digital silence. Words that sound alike count as the same ("two", "to"). Arguments are the
sources to compare, all where there are none; ``--usual`` leaves out the quickest pace. Last: how far shaping moved the
syllables' beats, at most and in how many of a thousand by more than 10 ms, and what it takes a phrase.
"""

from __future__ import annotations

import re
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from caller.calls.plan import Manner
from caller.calls.score import phrases_needed
from caller.cli.sheets import load, shipped_folder
from caller.dance.unroll import unroll
from caller.rig.speech.polish import polish
from caller.rig.speech.recording import Recording
from caller.rig.speech.sources import missing
from caller.rig.speech.synthesiser import Request, WorkerSynthesiser
from caller.rig.speech.voicing import Unspoken
from caller.sound.beat import beat_shifts, syllable_beats
from caller.sound.loudness import SPEECH_LUFS, loudness
from caller.sound.score import RATE, Samples
from caller.sound.shaping import shaped
from tests.bench.maskers import MASKERS

HEARD_RATE = 16_000
QUIET_LU = 40.0
OVER_LU = (10.0, 5.0, 0.0)
SILENCE_SECONDS = 0.25
USUAL, QUICKEST = 175, round(175 * 1.35)

# Source, voice, pitch.
VOICES = (
    ("pyttsx3", "gmw/en-us", 50),
    ("pyttsx3", "gmw/en-us+m3", 38),
    ("pyttsx3", "gmw/en-gb-x-rp", 58),
    ("nanotts", "en-GB", 50),
    ("nanotts", "en-US", 50),
    ("hibari", "heart", 50),
    ("piper", "en_US-joe-medium", 50),
)


@dataclass(frozen=True)
class Told:
    """right: phrases made out wholly. words: share of words right."""

    right: int
    of: int
    words: float


def call_words() -> list[str]:
    """The words of every call of the shipped routines."""
    said: set[str] = set()
    for path in sorted(shipped_folder("routines").glob("*.txt")):
        dance = unroll(load(path).read.routine, None)
        said |= {words for manner in Manner for words, _ in phrases_needed(dance, manner)}
    return sorted(said)


def plain(words: str) -> list[str]:
    return re.findall(r"[a-z']+", words.casefold())


class Ear:
    """pocketsphinx with one setting for all."""

    def __init__(self, phrases: list[str] | None) -> None:
        from pocketsphinx import Decoder, get_model_path

        model = Path(get_model_path("en-us"))
        shared = {"hmm": str(model / "en-us"), "dict": str(model / "cmudict-en-us.dict"), "cmn": "batch"}
        shared["loglevel"] = "FATAL"
        self._decoder: Any
        if phrases is None:
            self._decoder = Decoder(lm=str(model / "en-us.lm.bin"), **shared)
        else:
            with tempfile.NamedTemporaryFile("w", suffix=".gram") as grammar:
                choices = " | ".join(" ".join(plain(words)) for words in phrases)
                grammar.write(f"#JSGF V1.0;\ngrammar calls;\npublic <call> = {choices};\n")
                grammar.flush()
                self._decoder = Decoder(jsgf=grammar.name, **shared)

    def knows(self, words: str) -> bool:
        return all(self._decoder.lookup_word(word) for word in plain(words))

    def heard(self, sound: Samples) -> list[str]:
        self._decoder.start_utt()
        self._decoder.process_raw((sound * 32_767).astype("<i2").tobytes(), full_utt=True)
        self._decoder.end_utt()
        made_out = self._decoder.hyp()
        return [self._sound_of(word) for word in plain(made_out.hypstr if made_out else "")]

    def wanted(self, words: str) -> list[str]:
        return [self._sound_of(word) for word in plain(words)]

    def _sound_of(self, word: str) -> str:
        return self._decoder.lookup_word(word) or word


def in_the_room(sound: Samples, masker: Samples, below_lu: float, seed: int) -> Samples:
    """At the recogniser's rate, with a little time round it, over a stretch of noise so far below the loudness that all
    speech has."""
    import soxr

    padded = np.pad(sound, round(SILENCE_SECONDS * RATE))
    start = int(np.random.default_rng(seed).integers(len(masker) - len(padded)))
    noise = masker[start : start + len(padded)]
    noisy = padded + noise * np.float32(10 ** ((SPEECH_LUFS - below_lu - loudness(noise)) / 20))
    return np.clip(soxr.resample(noisy, RATE, HEARD_RATE), -1, 1).astype(np.float32)


def wrong_words(wanted: list[str], heard: list[str]) -> int:
    """The fewest words to change, add or take away (Levenshtein's distance)."""
    row = list(range(len(heard) + 1))
    for place, word in enumerate(wanted, 1):
        before, row[0] = row[0], place
        for n, other in enumerate(heard, 1):
            before, row[n] = row[n], min(row[n] + 1, row[n - 1] + 1, before + (word != other))
    return row[-1]


def told(ear: Ear, spoken: Iterable[tuple[str, Samples]]) -> Told:
    right = of = words = wrong = 0
    for phrase, sound in spoken:
        wanted, heard = ear.wanted(phrase), ear.heard(sound)
        missed = wrong_words(wanted, heard)
        right, of = right + (missed == 0), of + 1
        words, wrong = words + len(wanted), wrong + min(missed, len(wanted))
    return Told(right, of, 1 - wrong / max(words, 1))


def spoken_by(source: str, voice: str, pitch: int, rate: int, phrases: list[str]) -> list[tuple[str, Recording]]:
    said = []
    with WorkerSynthesiser(source=source) as synthesiser:
        for words in phrases:
            try:
                said.append((words, synthesiser.render(Request(words, voice, rate, pitch))[0]))
            except Unspoken as fault:
                print(f"{source}: {words!r}: {fault}", file=sys.stderr)
    return said


def conditions(listed: Ear, free: Ear | None) -> list[tuple[str, Ear, str, float]]:
    """Each column: its name, who listens, over what, how far below the speech."""
    over = [(f"{masker} {below:.0f}", listed, masker, below) for masker in MASKERS for below in OVER_LU]
    return [("quiet", listed, "pink", QUIET_LU), *over, *([("free", free, "pink", QUIET_LU)] if free else [])]


def row(columns: list[tuple[str, Ear, str, float]], said: list[tuple[str, Samples]]) -> Iterator[Told]:
    for _, ear, masker, below in columns:
        noise = MASKERS[masker]()
        yield told(ear, ((words, in_the_room(sound, noise, below, n)) for n, (words, sound) in enumerate(said)))


def beats_moved(said: list[tuple[str, Recording]]) -> str:
    shifts: list[int] = []
    seconds = 0.0
    for _, recording in said:
        as_made = polish(recording, over_noise=False).samples
        began = time.process_time()
        after = shaped(as_made)
        seconds += time.process_time() - began
        shifts += map(abs, beat_shifts(syllable_beats(as_made), after))
    late = 1000 * sum(shift > RATE // 100 for shift in shifts) / max(len(shifts), 1)
    most = max(shifts, default=0) / RATE * 1000
    return (
        f"beats moved by {most:.1f} ms at most, {late:.0f} of 1000 by more than 10; {seconds / len(said) * 1000:.0f} ms"
    )


def main() -> None:
    asked = [word for word in sys.argv[1:] if not word.startswith("--")]
    free = Ear(None)
    phrases = [words for words in call_words() if free.knows(words)]
    columns = conditions(Ear(phrases), free if "--free" in sys.argv else None)
    print(f"{len(phrases)} calls; phrases right")
    print(f"{'source':8} {'voice':17} {'rate':>4}  {'':7} " + " ".join(f"{name:>9}" for name, *_ in columns))
    for source, voice, pitch in VOICES:
        if missing(source) or (asked and source not in asked):
            continue
        for rate in (USUAL,) if "--usual" in sys.argv else (USUAL, QUICKEST):
            said = spoken_by(source, voice, pitch, rate, phrases)
            for name, over_noise in (("as made", False), ("shaped", True)):
                print(f"{source:8} {voice:17} {rate:4}  {name:7} ", end="", flush=True)
                played = [(words, polish(recording, over_noise=over_noise).samples) for words, recording in said]
                for result in row(columns, played):
                    print(f"{result.right:9}", end=" ", flush=True)
                print()
            print(f"{'':32}{beats_moved(said)}", flush=True)


if __name__ == "__main__":
    main()
