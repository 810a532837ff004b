"""What there is of speech on this machine, as plain values, for whoever shows it."""

from __future__ import annotations

import sys
from dataclasses import dataclass

from caller.rig.speech.sources import installed_version
from caller.rig.speech.synthesiser import WorkerSynthesiser
from caller.rig.speech.voices import VoiceFile, voices_on_hand
from caller.rig.speech.voicing import Unspoken, VoiceFound, Voiceless


@dataclass(frozen=True, slots=True)
class SpeechFound:
    """engine: the library that speaks is reached through. version: of the synthesiser itself, "" where it does not
    start; installed: of the packages. voices: the synthesiser's own. files: the voices written down. fault: "" or one
    sentence with what to do.
    """

    engine: str
    version: str
    installed: str
    voices: tuple[VoiceFound, ...]
    files: tuple[VoiceFile, ...]
    fault: str


def survey_speech(
    synthesiser: WorkerSynthesiser | None = None, files: tuple[VoiceFile, ...] | None = None
) -> SpeechFound:
    """Start the synthesiser, ask, and end it. Waits, 15 s at most for each of three tries; never raises."""
    on_hand = voices_on_hand() if files is None else files
    version, fault = "", ""
    voices: tuple[VoiceFound, ...] = ()
    with synthesiser or WorkerSynthesiser() as asked:
        try:
            version, voices = asked.voices()
        except (Unspoken, Voiceless) as met:
            fault = str(met)
    return SpeechFound(asked.source, version, installed_version(asked.source), voices, on_hand, fault)


def silent_voices(found: SpeechFound, platform: str = sys.platform) -> dict[str, str]:
    """Voices written down whose id the synthesiser does not have, each with the id. A variant ("+m3") is not looked
    for."""
    known = {word.lower() for voice in found.voices for word in (voice.id, *voice.languages)}
    of_source = (file.voice for file in found.files if file.voice and file.voice.engine == found.engine)
    wanted = {voice.name: voice.id_on(platform) for voice in of_source}
    return {
        name: id
        for name, id in wanted.items()
        if id and not any(word == id.split("+")[0].lower() or word.startswith(f"{id.lower()}-") for word in known)
    }
