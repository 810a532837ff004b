"""The teacher's own voice: words recorded beforehand, one WAVE file each in the voice's folder.

Conventions: a file is named by its words ("rock-back-recover.wav"), so that it can be found, replaced or thrown away by
hand; case and signs between the words make no difference. A quicker phrase is squeezed with its pitch kept, by
python-stretch; soundfile and python_stretch are imported when first needed.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import numpy as np

from caller.rig.speech.recording import NoRecording, Recording, read_recording
from caller.rig.speech.synthesiser import Request
from caller.rig.speech.voices import Voice
from caller.rig.speech.voicing import Unspoken
from caller.sound.score import RATE, Samples
from caller.storage.whole import own_folder, write_whole

# Beyond this a name is cut and told apart by its digest: file systems bear some 255 bytes.
LONGEST_NAME = 60
_DIGEST_SIGNS = 16
# Silence put round a phrase before it is squeezed, so that its edges are squeezed like the rest.
_EDGE_FRAMES = RATE // 10


class NotRecorded(Unspoken):
    """These words are not among those recorded."""


class RecordedWords:
    """Speech from a voice's own folder. note: one sentence once a file was met that can't be played."""

    def __init__(self, voice: Voice) -> None:
        self.note = ""
        self._voice = voice

    def identity(self, request: Request) -> str:
        content = self._content(request)
        return json.dumps(["recorded", hashlib.sha256(content).hexdigest(), self._speed(request)])

    def render(self, request: Request) -> tuple[Recording, str]:
        identity = self.identity(request)
        file = self._file(request)
        try:
            recording = read_recording(file)
        except NoRecording as fault:
            self.note = f"{file} holds {fault}: record these words again, or throw the file away."
            raise NotRecorded(self.note) from fault
        return squeezed(recording, self._speed(request)), identity

    def wake(self) -> None: ...

    def close(self) -> None:
        """Nothing to end."""

    def _file(self, request: Request) -> Path:
        return words_file(folder_of(self._voice), request.text)

    def _content(self, request: Request) -> bytes:
        try:
            return self._file(request).read_bytes()
        except OSError as fault:
            raise NotRecorded(f'"{request.text}" is not recorded.') from fault

    def _speed(self, request: Request) -> float:
        return round(request.rate / self._voice.rate, 3)


def folder_of(voice: Voice) -> Path:
    """Where a recorded voice's words are. Raises NotRecorded for a voice that has no such place."""
    if voice.recordings is None:
        raise NotRecorded(f'The voice "{voice.name}" has no folder of recordings.')
    return voice.recordings


def words_file(folder: Path, words: str) -> Path:
    """The file of spoken words."""
    plain = "".join(sign if sign.isalnum() else " " for sign in words.casefold())
    name = "-".join(plain.split())
    written = name.encode("utf-8", "replace")
    if len(written) > LONGEST_NAME:
        start = written[: LONGEST_NAME - _DIGEST_SIGNS - 1].decode("utf-8", "ignore")
        name = f"{start}-{hashlib.sha256(written).hexdigest()[:_DIGEST_SIGNS]}"
    return folder / f"{name}.wav"


def recorded_files(voice: Voice) -> tuple[Path, ...]:
    """A voice's recordings, by name; () where it has none."""
    return tuple(sorted(voice.recordings.glob("*.wav"))) if voice.recordings else ()


def keep_words(folder: Path, words: str, samples: Samples) -> Path:
    """Write recorded words (mono, at RATE) to their file, whole or not at all. Raises OSError."""
    import soundfile

    own_folder(folder)
    path = words_file(folder, words)

    def write(part: Path) -> None:
        try:
            soundfile.write(part, samples, RATE, subtype="PCM_16", format="WAV")
        except soundfile.SoundFileError as fault:
            raise OSError(f"{path} can't be written; the disk may be full") from fault

    write_whole(path, write, private=True)
    return path


def squeezed(recording: Recording, speed: float) -> Recording:
    """The recording ``speed`` times as fast, at the same pitch. Raises Unspoken without python-stretch."""
    if speed == 1:
        return recording
    try:
        from python_stretch import Signalsmith
    except ImportError as fault:
        raise Unspoken("A recorded voice speaks quicker with python-stretch: pip install python-stretch") from fault
    stretch = Signalsmith.Stretch(1)  # seeded: the same each time
    stretch.preset(1, recording.rate)
    stretch.setTimeFactor(speed)
    heard = np.asarray(stretch.process(np.pad(recording.samples, _EDGE_FRAMES)[np.newaxis, :]), np.float32)[0]
    return Recording(heard, recording.rate)
