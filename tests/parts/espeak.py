"""espeak-ng by itself, for its own account of what it says: samples, and where each phoneme begins.

The library is that of the espeakng-loader wheel; constants are those of its speak_lib.h.
"""

from __future__ import annotations

import ctypes
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

_SYNCHRONOUS, _PHONEME_EVENTS, _CHARS_UTF8 = 2, 1, 1
_EVENT_END_OF_LIST, _EVENT_PHONEME = 0, 7
_RATE_PARAMETER = 1


class _Identity(ctypes.Union):
    _fields_ = (("number", ctypes.c_int), ("name", ctypes.c_char_p), ("string", ctypes.c_char * 8))


class _Event(ctypes.Structure):
    _fields_ = (
        ("type", ctypes.c_int),
        ("unique_identifier", ctypes.c_uint),
        ("text_position", ctypes.c_int),
        ("length", ctypes.c_int),
        ("audio_position", ctypes.c_int),
        ("sample", ctypes.c_int),
        ("user_data", ctypes.c_void_p),
        ("id", _Identity),
    )


_Callback = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.POINTER(ctypes.c_short), ctypes.c_int, ctypes.POINTER(_Event))


@dataclass
class Said:
    """samples: -1..1 at ``rate``; phonemes: each with the seconds at which it begins."""

    rate: int
    samples: npt.NDArray[np.float32]
    phonemes: list[tuple[str, float]] = field(default_factory=list)


class Espeak:
    """One voice. The library keeps one state for the whole process: make one only, on one thread."""

    def __init__(self, voice: str, words_a_minute: int) -> None:
        import espeakng_loader

        self._library = ctypes.CDLL(espeakng_loader.get_library_path())
        data = espeakng_loader.get_data_path().encode()
        self._rate = self._library.espeak_Initialize(_SYNCHRONOUS, 0, data, _PHONEME_EVENTS)
        self._library.espeak_SetVoiceByName(voice.encode())
        self._library.espeak_SetParameter(_RATE_PARAMETER, words_a_minute, 0)
        self._blocks: list[npt.NDArray[np.int16]] = []
        self._phonemes: list[tuple[str, float]] = []
        self._callback = _Callback(self._take)  # kept, or it would be let go while the library holds it
        self._library.espeak_SetSynthCallback(self._callback)

    def say(self, words: str) -> Said:
        self._blocks, self._phonemes = [], []
        text = words.encode()
        self._library.espeak_Synth(text, len(text) + 1, 0, 0, 0, _CHARS_UTF8, None, None)
        self._library.espeak_Synchronize()
        samples = np.concatenate(self._blocks).astype(np.float32) / 32768
        return Said(self._rate, samples, self._phonemes)

    def _take(self, block: object, frames: int, events: object) -> int:
        if block and frames > 0:
            self._blocks.append(np.ctypeslib.as_array(block, (frames,)).copy())  # type: ignore[arg-type, call-overload]
        index = 0
        while events[index].type != _EVENT_END_OF_LIST:  # type: ignore[index]
            event = events[index]  # type: ignore[index]
            if event.type == _EVENT_PHONEME:
                self._phonemes.append((event.id.string.decode(), event.audio_position / 1000))
            index += 1
        return 0
